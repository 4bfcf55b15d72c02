package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.finding.RunOrder;
import org.fairturn.folder.PlannedCircles;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CirclePagesTest {
    @TempDir
    Path above;

    @Test
    void circlesAreAdded_numberedOn_inTheOrderOfThePlan() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            HttpResponse<String> added = served.post(
                    "/trial/demo/circles",
                    Map.of("machine", "Alder 22", "turns", "both", "drives", "2WD", "each", "2", "seed", "4711"));
            assertThat(added.statusCode()).isEqualTo(303);
            List<String> turns = RunOrder.of(List.of("Alder 22"), List.of(Drive.TWO_WHEEL), 2, 4711).stream()
                    .map(cell -> cell.turn().word())
                    .toList();
            assertThat(Files.readString(demo.resolve("circles.csv")).replace("\r", ""))
                    .endsWith(String.format("""
                            A16,Alder 22,%s,2WD,25,,,,
                            A17,Alder 22,%s,2WD,26,,,,
                            A18,Alder 22,%s,2WD,27,,,,
                            A19,Alder 22,%s,2WD,28,,,,
                            """, turns.toArray()));
            String page = served.get("/trial/demo/circles").body();
            assertThat(page)
                    .contains("✓ Added: A16, A17, A18, A19. The order was drawn by lot with the seed 4711.")
                    .contains("Next: circle A16", "seat belt on and ROPS up", "href=\"/trial/demo/circle/A16\"");
        }
    }

    @Test
    void oneTurnAlone_isAddedInTheOrderItHasAmongBoth() {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            served.post(
                    "/trial/demo/circles",
                    Map.of("machine", "all of them", "turns", "right", "drives", "both", "each", "2", "seed", "5"));
        }
        assertThat(TrialEditor.of(demo).rows(TrialFile.CIRCLES).rows().stream()
                        .skip(24)
                        .map(row -> row.cell("machine") + row.cell("turn") + row.cell("drive")))
                .containsExactlyElementsOf(
                        RunOrder.of(List.of("Alder 22", "Basalt 25"), List.of(Drive.values()), 2, 5).stream()
                                .filter(cell -> cell.turn() == Turn.RIGHT)
                                .map(cell ->
                                        cell.machine() + "right" + cell.drive().word())
                                .toList());
    }

    @Test
    void theOrderOfAPlan_isTheOrderOfThePage_andTheNextCircleStandsBig() {
        Path meadow = above.resolve("demo");
        List<Cell> order = RunOrder.of(List.of("Alder 22", "Basalt 25"), List.of(Drive.values()), 1, 3);
        assertThat(PlannedCircles.create(
                                meadow,
                                Map.of("title", "Meadow", "date", "2026-05-14"),
                                List.of("Alder 22", "Basalt 25"),
                                order)
                        .problems())
                .isEmpty();
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/circles").body();
            Matcher listed = Pattern.compile(
                            "class=\"place\">(\\d+)</span>\\s*<span><strong>(\\d+)</strong>.*</span> (.*)")
                    .matcher(page);
            List<String> rows = new ArrayList<>();
            while (listed.find()) {
                rows.add(listed.group(1) + " " + listed.group(2) + " " + listed.group(3));
            }
            List<String> planned = new ArrayList<>();
            for (Cell cell : order) {
                int place = planned.size() + 1;
                planned.add(place + " " + place + " " + cell.machine() + ", "
                        + cell.turn().word() + ", " + cell.drive().word());
            }
            assertThat(rows).isEqualTo(planned);
            assertThat(page).contains(big(order.get(0)), "Next: circle 1", "seat belt on and ROPS up");
            served.post(
                    "/trial/demo/circle/1/readings",
                    Map.of("entry", "phone-one-0001", "kind", "across", "value", "1.58 m"));
            assertThat(served.get("/trial/demo/circles").body()).contains(big(order.get(1)), "Next: circle 2");
        }
    }

    private static String big(Cell cell) {
        return "<p class=\"huge\"><span aria-hidden=\"true\">" + (cell.turn() == Turn.LEFT ? "↺" : "↻") + "</span> "
                + cell.turn().word() + ", " + cell.drive().word() + "</p>\n<p>" + cell.machine() + ". Full lock first";
    }

    @Test
    void whatIsWrongWhenAddingCircles_standsBesideItsField() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            HttpResponse<String> answer = served.post(
                    "/trial/demo/circles",
                    Map.of("machine", "Alder 23", "turns", "both", "drives", "both", "each", "many", "seed", "x"));
            assertThat(answer.statusCode()).isEqualTo(422);
            assertThat(answer.body())
                    .contains("Read \"many\"; accepted: a whole number from 1 to 12.")
                    .contains("Read \"Alder 23\"; accepted: a machine of this trial. Add the machine first.")
                    .contains("value=\"many\"");
        }
    }

    @Test
    void aCircle_showsItsReadings_andIsTakenOutWithARemark() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/circle/B1").body();
            assertThat(page).contains("76 1/2", "1.935 m", ", M2</span>", "href=\"/trial/demo/circle/B2\"");
            Map<String, String> typed = new HashMap<>(Fields.of(page));
            typed.put("circle.use", "no");
            typed.put("circle.remark", "came off full lock");
            assertThat(served.post("/trial/demo/circle/B1", typed).statusCode()).isEqualTo(303);
            assertThat(Files.readString(demo.resolve("circles.csv")))
                    .contains("B1,Basalt 25,left,2WD,1,2,none,no,came off full lock");
            assertThat(served.get("/trial/demo/circles").body()).contains("taken out, 3 readings. came off full lock");
            typed.put("circle.laps", "two");
            typed.put(
                    "circle.seen",
                    TrialEditor.of(demo).rows(TrialFile.CIRCLES).rows().get(0).seen());
            assertThat(served.post("/trial/demo/circle/B1", typed).body())
                    .contains("Circle B1: Read \"two\"; accepted: a whole number from 1 to ");
        }
    }
}
