package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialShelf;
import org.fairturn.trial.Conditions;
import org.fairturn.units.Length;
import org.fairturn.units.Speed;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TrialPagesTest {
    @TempDir
    Path above;

    @Test
    void theList_namesEveryTrialBelowTheFolder_andSaysWhatIsMissing() throws IOException {
        Served.demoBelow(above);
        Files.createDirectory(above.resolve("no trial"));
        TrialFolder.create(above.resolve("Lower meadow"));
        try (Served served = Served.on(above)) {
            String page = served.get("/").body();
            assertThat(page)
                    .contains("Alder 22 and Basalt 25, left and right, 2WD and 4WD")
                    .contains("2026-05-16, 2 machines, 24 circles, ")
                    .contains("Lower meadow", " things to fill in or mend")
                    .contains("href=\"/trial/Lower-meadow-")
                    .contains("href=\"/new\"")
                    .doesNotContain("no trial<");
        }
    }

    @Test
    void aSingleTrial_isListedAlone_withNoPlaceForAnother() {
        try (Served served = Served.on(Served.demoBelow(above))) {
            assertThat(served.get("/").body()).contains("href=\"/trial/demo\"").doesNotContain("/new");
            assertThat(served.get("/new").statusCode()).isEqualTo(404);
        }
    }

    @Test
    void aNewTrial_isMadeInAFolderNamedAfterItsTitle() throws IOException {
        try (Served served = Served.on(above)) {
            Map<String, String> typed = Map.of(
                    "title", "../../Wiese „oben\" & <b>", "date", "2026-05-14", "length unit", "in", "place", "a, b");
            HttpResponse<String> made = served.post("/new", typed);
            assertThat(made.statusCode()).isEqualTo(303);
            assertThat(above.resolve("wiese-oben-b").resolve("trial.csv")).exists();
            assertThat(Files.readString(above.resolve("wiese-oben-b/trial.csv")))
                    .contains("date,2026-05-14", "length unit,in", "place,\"a, b\"", "confidence,95 %");
            String page = served.get(made.headers().firstValue("Location").orElseThrow())
                    .body();
            assertThat(page)
                    .contains("✓ The trial is in the folder wiese-oben-b.")
                    .contains("Wiese „oben\" &amp; &lt;b&gt;")
                    .contains("none yet – next");
            served.post("/new", typed);
            assertThat(above.resolve("wiese-oben-b-2")).isDirectory();
        }
    }

    @Test
    void whatIsWrongInANewTrial_standsBesideItsField_andNothingTypedIsLost() throws IOException {
        try (Served served = Served.on(above)) {
            HttpResponse<String> answer = served.post(
                    "/new",
                    Map.of("title", "Meadow", "date", "14.5.2026", "length unit", "mm", "practical margin", "1,58m"));
            assertThat(answer.statusCode()).isEqualTo(422);
            assertThat(answer.body())
                    .contains("2 things have to be mended")
                    .contains("<a href=\"#f-date\">")
                    .contains("id=\"f-date-faults\">Read \"14.5.2026\"; accepted: for the field \"date\" a day"
                            + " written year-month-day, such as 2026-05-14. Write the year first; a spreadsheet may have"
                            + " rearranged it.")
                    .contains("id=\"f-practical-margin\" name=\"practical margin\" value=\"1,58m\"")
                    .contains(
                            "value=\"Meadow\"",
                            "value=\"14.5.2026\"",
                            "aria-describedby=\"f-date-help f-date-faults\"");
            try (var left = Files.list(above)) {
                assertThat(left).isEmpty();
            }
        }
    }

    @Test
    void theOverview_leadsToTheNextStep_andListsEveryProblem() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            assertThat(served.get("/trial/demo").body())
                    .contains("ready to read", "/trial/demo/report.html", "/trial/demo/file/results.json")
                    .contains("Before anyone acts", "seat belt on and ROPS up");
            Files.writeString(
                    demo.resolve("readings.csv"),
                    Files.readString(demo.resolve("readings.csv")).replace("1.935 m", "1;935 m"));
            assertThat(served.get("/trial/demo").body())
                    .contains(
                            "<strong>readings.csv, row 3, column \"value\"</strong>",
                            "<p>Read \"1;935 m\".</p>",
                            "<p>Accepted: a length such as ",
                            "/trial/demo/row/readings/3#f-cell-value")
                    .doesNotContain("report.html");
        }
    }

    /** Two stops of four made the step a done one, and so did one that does not touch the axle. */
    @Test
    void theStepOfTheStops_isDoneWhenAllAreNoted_andHaltsWhereOneDoesNotTouch() throws IOException {
        Path demo = Served.demoBelow(above);
        Path file = demo.resolve("stops.csv");
        String all = Files.readString(file);
        try (Served served = Served.on(above)) {
            assertThat(step(served)).isEqualTo("✓ Steering stops 4 stops noted");
            Files.writeString(file, all.replaceAll("(?m)^Basalt 25.*\\R", ""));
            assertThat(step(served)).isEqualTo("→ Steering stops 2 of 4 stops noted – next");
            Files.writeString(file, all.replace("32.4 mm,,unknown", "32.4 mm,,No"));
            assertThat(step(served))
                    .isEqualTo(
                            "⚠ Steering stops 4 stops noted; not touching the axle: the right stop of Basalt 25. Leave the"
                                    + " machine until this is mended – next");
        }
    }

    private static String step(Served served) {
        String page = served.get("/trial/demo").body();
        int from = page.lastIndexOf("class=\"mark\"", page.indexOf("<strong>Steering stops"));
        return page.substring(page.indexOf('>', from) + 1, page.indexOf("</a>", from))
                .replaceAll("<[^>]*>", "")
                .replaceAll("\\s+", " ")
                .strip();
    }

    /** Whatever else has to be mended: the words stand where someone is about to drive that machine, and nowhere else. */
    @Test
    void aStopThatDoesNotTouch_isSaidWhereverTheMachineIsDriven() throws IOException {
        Path demo = Served.demoBelow(above);
        String said =
                "<li>Alder 22: the right stop does not touch the axle at full lock, so something else limits the right"
                        + " turn, and linkage, cylinder or tyre take the load. Leave the machine until this is mended: a qualified"
                        + " technician finds out what limits the turn and sets the stop by the service manual so that it touches the"
                        + " axle at full lock. Contact comes first; a stop is never turned in past the specification. Chocks and rated"
                        + " stands first.</li>";
        Path stops = demo.resolve("stops.csv");
        Files.writeString(stops, Files.readString(stops).replace("1.05,yes,3 1/4,right", "1.05,no,3 1/4,right"));
        String alder = "/trial/demo/machine/" + Slug.of("Alder 22");
        try (Served served = Served.on(above)) {
            for (String page : List.of(
                    "/trial/demo",
                    "/trial/demo/machines",
                    alder,
                    "/trial/demo/circles",
                    "/trial/demo/circle/A1",
                    "/trial/demo/plan",
                    "/trial/demo/plan?ask=drive&machine=Alder+22&circle-scatter=15")) {
                assertThat(served.get(page).body()).as(page).containsOnlyOnce(said);
            }
            for (String page : List.of(
                    "/trial/demo/machine/" + Slug.of("Basalt 25"),
                    "/trial/demo/circle/B1",
                    "/trial/demo/plan?ask=drive&machine=Basalt+25&circle-scatter=15")) {
                assertThat(served.get(page).body()).as(page).doesNotContain("does not touch");
            }
            Files.writeString(demo.resolve("readings.csv"), "circle,kind,value\nA1,across,soon\n");
            assertThat(served.get("/trial/demo").body()).contains(said);
            assertThat(served.get("/trial/demo/circle/A1").body()).contains(said);
        }
    }

    @Test
    void theFactsOfATrial_areChangedInPlace_butNotOverSomebodyElsesChange() throws IOException {
        Path demo = Served.demoBelow(above);
        Path file = demo.resolve("trial.csv");
        try (Served served = Served.on(above)) {
            Map<String, String> typed = new java.util.HashMap<>(
                    Fields.of(served.get("/trial/demo/facts").body()));
            typed.put("place", "upper meadow");
            assertThat(served.post("/trial/demo/facts", typed).statusCode()).isEqualTo(303);
            assertThat(Files.readString(file)).contains("place,upper meadow");
            typed.put("place", "third meadow"); // shown before the second was saved
            typed.put("weather", "dry");
            HttpResponse<String> refused = served.post("/trial/demo/facts", typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body())
                    .contains("Somebody else wrote \"upper meadow\" while the page was open; you wrote"
                            + " \"third meadow\", which is not saved. Save again to put yours in the place of theirs.")
                    .contains("value=\"third meadow\"", "value=\"dry\"");
            assertThat(Files.readString(file)).contains("place,upper meadow", "weather,dry");
            assertThat(served.post("/trial/demo/facts", Fields.of(refused.body()))
                            .statusCode())
                    .isEqualTo(303);
            assertThat(Files.readString(file)).contains("place,third meadow");
        }
    }

    /** Every fact trial.csv knows has a field; what the hints say of empty ones is what is taken. */
    @Test
    void everyFactHasItsField_andEmptyOnesMeanWhatTheHintsSay() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed = new java.util.HashMap<>(
                    Fields.of(served.get("/trial/demo/facts").body()));
            Map<String, String> numbers = Map.of(
                    "confidence", "90 %",
                    "assumed circle repeatability", "30 mm",
                    "assumed reading repeatability", "8 mm",
                    "mowing speed", "4 mph");
            typed.putAll(numbers);
            assertThat(served.post("/trial/demo/facts", typed).statusCode()).isEqualTo(303);
            String file = Files.readString(demo.resolve("trial.csv"));
            numbers.forEach((field, value) -> assertThat(file).contains(field + "," + value));
            assertThat(served.get("/trial/demo/findings").body()).contains("90 %");
            typed = new java.util.HashMap<>(
                    Fields.of(served.get("/trial/demo/facts").body()));
            typed.put("confidence", "40 %");
            HttpResponse<String> refused = served.post("/trial/demo/facts", typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("Read \"40 %\"; accepted: ", "value=\"40 %\"");
        }
        assertThat(Conditions.DEFAULT_CONFIDENCE).isEqualTo(0.95);
        assertThat(Conditions.DEFAULT_CIRCLE_REPEATABILITY).isEqualTo(Length.mm(50));
        assertThat(Conditions.DEFAULT_READING_REPEATABILITY).isEqualTo(Length.mm(20));
        assertThat(Conditions.ASSUMED_MOWING_SPEED).isEqualTo(Speed.kilometresPerHour(5));
        assertThat(TrialForm.FIELDS)
                .extracting(Field::name)
                .containsExactlyInAnyOrderElementsOf(TrialEditor.of(
                                TrialShelf.create(above, Map.of("title", "A", "date", "2026-05-14"))
                                        .fold(made -> made.folder(), refused -> {
                                            throw new AssertionError(refused.problems());
                                        }))
                        .rows(TrialFile.TRIAL)
                        .rows()
                        .stream()
                        .map(row -> row.cell("field"))
                        .toList());
    }

    @Test
    void aFactNobodyTouched_isLeftAsSomebodyElseWroteIt() throws IOException {
        Path demo = Served.demoBelow(above);
        Path file = demo.resolve("trial.csv");
        Files.writeString(file, Files.readString(file).replace("under 1 %", "\"under\n1 %\""));
        try (Served served = Served.on(above)) {
            Map<String, String> typed = new java.util.HashMap<>(
                    Fields.of(served.get("/trial/demo/facts").body()));
            Files.writeString(file, Files.readString(file).replace("Quarry Meadow (invented)", "upper meadow"));
            typed.put("weather", "dry");
            assertThat(served.post("/trial/demo/facts", typed).statusCode()).isEqualTo(303);
            assertThat(Files.readString(file)).contains("place,upper meadow", "weather,dry", "slope,\"under\n1 %\"");
        }
    }
}
