package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CirclePagesTest {
    @TempDir
    Path above;

    @Test
    void circlesAreAdded_numberedOn_inTheOrderTheyAreDriven() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            HttpResponse<String> added = served.post(
                    "/trial/demo/circles",
                    Map.of(
                            "machine",
                            "Alder 22",
                            "turns",
                            "both",
                            "drives",
                            "2WD",
                            "each",
                            "2",
                            "order",
                            "alternating"));
            assertThat(added.statusCode()).isEqualTo(303);
            assertThat(Files.readString(demo.resolve("circles.csv")).replace("\r", ""))
                    .endsWith("""
                            A16,Alder 22,left,2WD,25,,,,
                            A17,Alder 22,right,2WD,26,,,,
                            A18,Alder 22,right,2WD,27,,,,
                            A19,Alder 22,left,2WD,28,,,,
                            """);
            String page = served.get("/trial/demo/circles").body();
            assertThat(page)
                    .contains("✓ Added: A16, A17, A18, A19.")
                    .contains("Next: circle A16", "seat belt on and ROPS up", "href=\"/trial/demo/circle/A16\"");
        }
    }

    @Test
    void aShuffledOrder_comesWithItsSeed_andComesAgainWithIt() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            served.post(
                    "/trial/demo/circles",
                    Map.of(
                            "machine",
                            "all of them",
                            "turns",
                            "both",
                            "drives",
                            "both",
                            "each",
                            "1",
                            "order",
                            "shuffled",
                            "seed",
                            "4711"));
            assertThat(served.get("/trial/demo/circles").body())
                    .contains("The order was drawn by lot with the seed 4711.");
        }
        List<Cell> once =
                DrivingOrder.shuffled(List.of("A", "B"), List.of(Drive.values()), List.of(Turn.values()), 3, 4711);
        assertThat(DrivingOrder.shuffled(List.of("A", "B"), List.of(Drive.values()), List.of(Turn.values()), 3, 4711))
                .isEqualTo(once);
        assertThat(once)
                .containsExactlyInAnyOrderElementsOf(DrivingOrder.alternating(
                        List.of("A", "B"), List.of(Drive.values()), List.of(Turn.values()), 3));
        assertThat(once.subList(0, 6)).allMatch(cell -> cell.toString().matches("A, (left|right), 2WD"));
    }

    @Test
    void everyOrderOfALot_comesEquallyOften() {
        // chi-squared with 5 degrees of freedom, 0.999 quantile 20.5 (tables, from memory); the seeds are fixed
        Map<String, Integer> counts = new HashMap<>();
        for (int seed = 0; seed < 6000; seed++) {
            List<Cell> order =
                    DrivingOrder.shuffled(List.of("A"), List.of(Drive.TWO_WHEEL), List.of(Turn.values()), 2, seed);
            counts.merge(order.toString(), 1, Integer::sum);
        }
        assertThat(counts).hasSize(6); // two lefts and two rights
        double chiSquared = counts.values().stream()
                .mapToDouble(n -> (n - 1000) * (n - 1000) / 1000.0)
                .sum();
        assertThat(chiSquared).isLessThan(20.5);
    }

    @Test
    void whatIsWrongWhenAddingCircles_standsBesideItsField() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            HttpResponse<String> answer = served.post(
                    "/trial/demo/circles",
                    Map.of(
                            "machine",
                            "Alder 23",
                            "turns",
                            "both",
                            "drives",
                            "both",
                            "each",
                            "many",
                            "order",
                            "alternating"));
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
            assertThat(page).contains("76 1/2", "1.935 m", "across, bearing 4, M2", "href=\"/trial/demo/circle/B2\"");
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
                    new SheetEditor(demo).rows("circles.csv").get(0).seen());
            assertThat(served.post("/trial/demo/circle/B1", typed).body())
                    .contains("Circle B1: Read \"two\"; accepted: a whole number from 1 to ");
        }
    }
}
