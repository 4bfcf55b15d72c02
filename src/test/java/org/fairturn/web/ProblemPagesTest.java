package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.folder.TrialFolder;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProblemPagesTest {
    @TempDir
    Path above;

    private void edit(String file, String text, String other) throws IOException {
        Path path = above.resolve("demo").resolve(file);
        String before = Files.readString(path);
        assertThat(before).contains(text);
        Files.writeString(path, before.replace(text, other));
    }

    private static List<String> links(String page) {
        return Pattern.compile("<a class=\"mend\" href=\"([^\"]*)\">([^<]*)</a>")
                .matcher(page)
                .results()
                .map(link -> link.group(2) + " " + link.group(1))
                .toList();
    }

    /** The circle's page sent people to a list on the overview, which has none, and that to a row no browser shows. */
    @Test
    void aFreshPlan_saysWhereToFillIn_inWordsOfTheBrowser() throws Exception {
        Path demo = Served.demoBelow(above);
        Files.writeString(demo.resolve("readings.csv"), "circle,kind,value\n");
        Files.writeString(demo.resolve("points.csv"), "circle,x,y\n");
        try (Served served = Served.on(above)) {
            String estimate = "";
            for (int i = 0; i < 200 && !estimate.contains("something to fill in"); i++) {
                estimate = served.get("/trial/demo/circle/A1/estimate").body();
                Thread.sleep(50);
            }
            assertThat(estimate)
                    .contains(
                            "The trial has something to fill in or mend before anything can be worked out. <a class=\"inline\""
                                    + " href=\"/trial/demo/problems\">What has to be filled in or mended</a>");
            assertThat(served.get("/trial/demo/problems").body())
                    .contains("Open a circle and enter what the tape shows.", "To the circles")
                    .doesNotContain("row 2");
        }
    }

    @Test
    void problemsStandWithWhereReadAcceptedAndHowToMend_eachWithAWayToItsForm() throws IOException {
        Served.demoBelow(above);
        edit("readings.csv", "B1,across,76 1/2", "B1,across,\"76,5 in\"");
        edit("trial.csv", "practical margin,2 in", "practical margin,2 yd");
        edit(
                "machines.csv",
                "Alder 22,Alder 22 with 54 in mid-mount deck,1450 mm",
                "Alder 22,Alder 22 with 54 in mid-mount deck,15 m");
        edit("claims.csv", "C4,owner,80 in", "C4,owner,eighty");
        edit("circles.csv", "B2,Basalt 25,right", "B2,Basalt 25,rihgt");
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/problems").body();
            assertThat(page)
                    .contains(
                            "5 things have to be mended before there are findings",
                            "<strong>readings.csv, row 2, column &#34;value&#34;</strong>".replace("&#34;", "\""),
                            "<p>Read \"76,5 in\".</p>",
                            "<p>Accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in.</p>",
                            "<p>How to mend it: If the comma is a decimal sign, write a point.</p>",
                            "76,5 in\n  ^");
            assertThat(links(page))
                    .containsExactly(
                            "To this fact /trial/demo/facts#f-practical-margin",
                            "To this machine /trial/demo/machine/" + Slug.of("Alder 22") + "#f-machine-wheelbase",
                            "To this row /trial/demo/row/circles/3#f-cell-turn",
                            "To this row /trial/demo/row/readings/2#f-cell-value",
                            "To this row /trial/demo/row/claims/5#f-cell-value");
            for (String link : links(page)) {
                String address = link.substring(link.indexOf('/'));
                String form = served.get(address.replaceAll("#.*", "")).body();
                assertThat(form).contains("id=\"" + address.replaceAll(".*#", "") + "\"");
            }
            assertThat(links(served.get("/trial/demo").body())).isEqualTo(links(page));
        }
    }

    @Test
    void whatStandsOut_isListedWithTheWayToItsRowOrCircle() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/problems").body();
            assertThat(page).contains("✓ Every row can be read.", "If two digits of 1.985 m were swapped");
            assertThat(links(page))
                    .contains("To this row /trial/demo/row/readings/10", "To this circle /trial/demo/circle/A12");
        }
    }

    /** Millimetres among the demo's bare inches, too far from the other readings of their circles to be explained by them. */
    @Test
    void whatStandsInSeveralRows_hasItsWayToAllCircles() throws IOException {
        Served.demoBelow(above);
        edit("readings.csv", "A3,across,67 3/4", "A3,across,1610");
        edit("readings.csv", "B1,across,76 1/2", "B1,across,2100");
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/problems").body();
            assertThat(page).contains("2 readings, read in inches because no unit stands behind the numbers, make ");
            assertThat(links(page)).contains("To the circles /trial/demo/circles");
        }
    }

    @Test
    void anEmptyTrial_isShownTheWayIn() {
        TrialFolder.create(above.resolve("empty"));
        try (Served served = Served.on(above)) {
            assertThat(links(served.get("/trial/empty/problems").body()))
                    .contains(
                            "To this fact /trial/empty/facts#f-title",
                            "To the machines /trial/empty/machines",
                            "To the circles /trial/empty/circles");
        }
    }

    private Map<String, String> form(Served served, String address) {
        Map<String, String> fields = new LinkedHashMap<>();
        Matcher input = Pattern.compile("name=\"(key|seen|cell\\.[^\"]*)\" value=\"([^\"]*)\"")
                .matcher(served.get(address).body());
        while (input.find()) {
            fields.put(input.group(1), input.group(2));
        }
        return fields;
    }

    @Test
    void aRowIsMended_andNothingElseInItsFile() throws IOException {
        Served.demoBelow(above);
        Path readings = above.resolve("demo/readings.csv");
        String sound = Files.readString(readings);
        edit("readings.csv", "B1,across,76 1/2", "B1,across,76 1/2 yd");
        try (Served served = Served.on(above)) {
            String address = "/trial/demo/row/readings/2";
            Map<String, String> fields = form(served, address);
            fields.put("cell.value", "76 1/2 ya");
            HttpResponse<String> refused = served.post(address, fields);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("Read \"76 1/2 ya\"; accepted: ", "value=\"76 1/2 ya\"");
            fields.put("cell.value", "76 1/2");
            HttpResponse<String> saved = served.post(address, fields);
            assertThat(saved.headers().firstValue("Location")).hasValue("/trial/demo/problems");
            assertThat(served.get("/trial/demo/problems").body()).contains("readings.csv: the row is saved.");
        }
        assertThat(Files.readString(readings)).isEqualTo(sound);
    }

    @Test
    void aRowThatSomebodyElseChanged_isLeftAlone_andBothTextsAreShown() throws IOException {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String address = "/trial/demo/row/readings/2";
            Map<String, String> fields = form(served, address);
            edit("readings.csv", "B1,across,76 1/2", "B1,across,77");
            fields.put("cell.value", "75");
            HttpResponse<String> page = served.post(address, fields);
            assertThat(page.statusCode()).isEqualTo(422);
            assertThat(page.body()).contains("Somebody else changed this row", "There now: \"77\"", "value=\"75\"");
            assertThat(Files.readString(above.resolve("demo/readings.csv"))).contains("B1,across,77");
            fields = new LinkedHashMap<>();
            Matcher input = Pattern.compile("name=\"(key|seen|cell\\.[^\"]*)\" value=\"([^\"]*)\"")
                    .matcher(page.body());
            while (input.find()) {
                fields.put(input.group(1), input.group(2));
            }
            assertThat(served.post(address, fields).statusCode()).isEqualTo(303);
            assertThat(Files.readString(above.resolve("demo/readings.csv"))).contains("B1,across,75");
        }
    }

    /** The page must not come back with the row that has moved into its place. */
    @Test
    void aRowThatSomebodyElseTookOut_doesNotLeadToTheOneBelowIt() throws IOException {
        Served.demoBelow(above);
        Path claims = above.resolve("demo/claims.csv");
        try (Served served = Served.on(above)) {
            String address = "/trial/demo/row/claims/3";
            Map<String, String> fields = form(served, address);
            List<String> lines = new ArrayList<>(Files.readAllLines(claims));
            lines.remove(2);
            Files.write(claims, lines);
            fields.put("cell.value", "15 ft");
            HttpResponse<String> page = served.post(address, fields);
            assertThat(page.statusCode()).isEqualTo(409);
            assertThat(page.body())
                    .contains("This row is not there any more", "15 ft")
                    .doesNotContain("name=\"key\"");
            fields.put("cell.value", "15 yd of nonsense");
            assertThat(served.post(address, fields).body()).doesNotContain("name=\"key\"");
            assertThat(Files.readAllLines(claims)).isEqualTo(lines);
        }
    }

    @Test
    void aRowCanBeTakenOut_andIsKept() throws IOException {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String address = "/trial/demo/row/claims/3";
            Map<String, String> fields = form(served, address);
            fields.put("out", "out");
            assertThat(served.post(address, fields).statusCode()).isEqualTo(303);
            assertThat(Files.readString(above.resolve("demo/claims.csv"))).doesNotContain("C2,brochure");
            assertThat(Files.readString(above.resolve("demo/removed.csv"))).contains("C2", "15 ft 2 in");
        }
    }

    @Test
    void rowsThatAreNotThere_areRefused() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            for (String path :
                    List.of("readings/1", "readings/999", "readings/x", "removed/2", "notes/2", "..%2Ftrial/2")) {
                assertThat(served.get("/trial/demo/row/" + path).statusCode())
                        .as(path)
                        .isBetween(400, 404);
            }
        }
    }
}
