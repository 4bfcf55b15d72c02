package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.ArchiveSource;
import org.fairturn.report.Cautions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PlanPagesTest {
    private static final String DRIVE = "machines=Alder+22&ask=drive&circle-scatter=15+mm&seed=7";
    private static final Pattern RUN = Pattern.compile("<li><span[^>]*>[↺↻]</span> (.*?)</li>");
    private static final Pattern HIDDEN = Pattern.compile("<input type=\"hidden\" name=\"(.*?)\" value=\"(.*?)\">");

    @TempDir
    Path above;

    @BeforeEach
    void copy() {
        Served.demoBelow(above);
    }

    private static String text(String html) {
        return html.replaceAll("<[^>]+>", " ")
                .replace("&#34;", "\"")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&")
                .replaceAll("\\s+", " ");
    }

    private static List<String> run(String html) {
        List<String> run = new ArrayList<>();
        RUN.matcher(html).results().forEach(match -> run.add(match.group(1)));
        return run;
    }

    /** What the button of a page sends, with what is typed beside it. */
    private static Map<String, String> sent(String html, Map<String, String> typed) {
        Map<String, String> fields = new LinkedHashMap<>();
        Matcher hidden = HIDDEN.matcher(html);
        while (hidden.find()) {
            fields.put(hidden.group(1), hidden.group(2));
        }
        fields.putAll(typed);
        return fields;
    }

    @Test
    void withoutAnythingAsked_itShowsTheForm_andNoAnswer() {
        try (Served served = Served.on(above)) {
            String page = served.get("/plan").body();
            assertThat(page)
                    .contains("name=\"machines\"", "value=\"50 mm\"", "name=\"minutes\"", "Work it out")
                    .doesNotContain("What to mow", "checked");
            assertThat(text(page)).contains("Empty: 50 mm (2.0 in), as the analysis assumes.");
        }
    }

    @Test
    void aPlanStandsAtItsAddress_sizesForEachChance_andTheRunOrderInItsBlocks() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/plan?" + DRIVE);
            assertThat(page.statusCode()).isEqualTo(200);
            String text = text(page.body());
            assertThat(text)
                    .contains(
                            "No quicker plan has 90 %.",
                            "80 %",
                            "95 %",
                            "What 4WD costs, each turn by itself (whether it costs both alike takes more circles): no difference is found"
                                    + " within the margin with a chance of",
                            "Drawn by lot with the seed 7;")
                    .contains(Cautions.ALL);
            List<String> order = run(page.body());
            assertThat(text).contains("(" + order.size() + " in all)");
            assertThat(order).containsOnly("Alder 22, left", "Alder 22, right");
            assertThat(page.body().split("<h3>"))
                    .as("three blocks of one drive")
                    .hasSize(4);
            assertThat(run(served.get("/plan?" + DRIVE).body())).isEqualTo(order);
        }
    }

    @Test
    void theTimeThereIs_saysWhatItCanShow() throws IOException {
        try (Served served = Served.on(above)) {
            assertThat(text(served.get("/plan?" + DRIVE + "&minutes=120").body()))
                    .contains("That is the most that 2 h can show.");
            // read once: 8·(5 + 2) + 2·3 = 62 min
            assertThat(text(served.get("/plan?" + DRIVE + "&minutes=62").body()))
                    .contains("Mow 2 circles", "with 1 reading each, about 1 h 2 min", "1 reading of each circle.");
            String hour = served.get("/plan?" + DRIVE + "&minutes=60").body();
            assertThat(text(hour))
                    .contains("No fair trial fits into 1 h: the smallest takes about 1 h 2 min, 2 circles")
                    .doesNotContain("Run order", "What the plan can tell", "Make this trial");
            assertThat(served.get("/plan/sheet.pdf?" + DRIVE + "&minutes=60").statusCode())
                    .isEqualTo(409);
            assertThat(served.post("/plan", Map.of("machines", "Alder 22", "ask", "drive", "minutes", "60"))
                            .statusCode())
                    .isNotEqualTo(303);
            try (var made = Files.list(above)) {
                assertThat(made).as("only what was there").hasSize(1);
            }
        }
    }

    @Test
    void nothingTicked_asksWhatIsUsual_forAsManyMachines() {
        try (Served served = Served.on(above)) {
            String one = text(served.get("/plan?machines=Alder+22").body());
            assertThat(one).contains("Left against right: no difference").doesNotContain("Side by side, on the whole");
            assertThat(text(served.get("/plan?machines=Alder+22,+Basalt+25").body()))
                    .contains(
                            "Left against right: no difference",
                            "Side by side, on the whole (single turns take more circles): no difference");
        }
    }

    @Test
    void aSeedThatIsNoWholeNumber_isNotReplacedInSilence() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/plan?machines=Alder+22&seed=12.5");
            assertThat(page.statusCode()).isEqualTo(422);
            assertThat(text(page.body()))
                    .contains("Seed of the lot: ", "accepted: a whole number of up to nine digits");
        }
    }

    @Test
    void whatCannotBeRead_isNamedAtItsField_allAtOnce() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get(
                    "/plan?machines=+,&margin=5+yd&find=20+m&minutes=soon&chance=40&seed=x&drives=6WD&ask=everything");
            assertThat(page.statusCode()).isEqualTo(422);
            assertThat(text(page.body()))
                    .contains(
                            "8 things have to be mended",
                            "Machines: this is empty; accepted: the names of 1 to 20 machines with commas between them, such"
                                    + " as Alder 22, Basalt 25.",
                            "Practical margin: read \"5 yd\"; accepted: a length such as 1.58 m,",
                            "Difference to find: read \"20 m\"; accepted: a length from 0.1 mm to 10 m.",
                            "Time there is, minutes: read \"soon\"; accepted: minutes, from 0.1 to 10000.",
                            "Chance wanted, %: read \"40\"; accepted: a percentage from 50 to 99.5.",
                            "Seed of the lot: read \"x\"; accepted: a whole number of up to nine digits.",
                            "Drive: read \"6WD\"; accepted: 2WD, 4WD.",
                            "What the trial is to answer: read \"everything\"; accepted: left-right, drive, claim,"
                                    + " side-by-side, complaint.")
                    .doesNotContain("What to mow");
            assertThat(text(served.get("/plan?machines=Alder+22&find=40+mm").body()))
                    .contains("The difference to be found is 40 mm (1.6 in); accepted: more than the"
                            + " practical margin of 50 mm (2.0 in)");
            assertThat(text(served.get("/plan?machines=Alder+22&ask=side-by-side")
                            .body()))
                    .contains("Side by side takes two machines or more, and 1 was named");
            assertThat(served.get("/plan/sheet.pdf?machines=&paper=a4").statusCode())
                    .isEqualTo(409);
            assertThat(served.get("/plan/sheet.pdf?" + DRIVE + "&paper=a5").statusCode())
                    .isEqualTo(400);
        }
    }

    @Test
    void pastTrials_sayWhatScatterToExpect_inWords() {
        Optional<org.fairturn.finding.Archive> past = ArchiveSource.read(Path.of("testdata/days"))
                .fold(found -> Optional.of(found.archive()), faulty -> Optional.empty());
        assertThat(past).isPresent();
        try (Served served = Served.on(new Settings(above, false, 0, past), InstantSource.system())) {
            String page = text(served.get("/plan?machines=Alder+22").body());
            assertThat(page)
                    .contains(", as past trials showed.", "Assumed circle repeatability: learnt from 3 past trials")
                    .doesNotContain("as the analysis assumes");
        }
    }

    @Test
    void aTrialIsMadeOfAPlan_withItsCirclesInOrder() throws IOException {
        try (Served served = Served.on(above)) {
            String page = served.get("/plan?" + DRIVE + "&margin=60+mm").body();
            Map<String, String> form = sent(page, Map.of("title", "Upper meadow", "date", "2026-05-14"));
            HttpResponse<String> made = served.post("/plan", form);
            assertThat(made.statusCode()).isEqualTo(303);
            assertThat(made.headers().firstValue("Location")).hasValue("/trial/upper-meadow");
            assertThat(text(served.get("/trial/upper-meadow").body()))
                    .contains("The trial is in the folder upper-meadow, with its ");
            Path folder = above.resolve("upper-meadow");
            assertThat(Files.readString(folder.resolve("trial.csv")))
                    .contains("title,Upper meadow\r\n", "date,2026-05-14\r\n", "practical margin,60 mm\r\n");
            assertThat(Files.readString(folder.resolve("machines.csv"))).contains("Alder 22");
            List<String> circles = TrialFolder.readPlanned(folder)
                    .fold(read -> read.trial().circles(), faulty -> List.<org.fairturn.trial.Circle>of())
                    .stream()
                    .map(circle -> circle.cell().machine() + ", "
                            + circle.cell().turn().word())
                    .toList();
            assertThat(circles).isNotEmpty().isEqualTo(run(page));
        }
    }

    @Test
    void aTrialWithoutADay_isNotMade_andWhatWasTypedStays() {
        try (Served served = Served.on(above)) {
            String page = served.get("/plan?" + DRIVE).body();
            HttpResponse<String> again =
                    served.post("/plan", sent(page, Map.of("title", "Upper meadow", "date", "14 May")));
            assertThat(again.statusCode()).isEqualTo(422);
            assertThat(again.body())
                    .contains("value=\"Upper meadow\"", "value=\"14 May\"", "What to mow")
                    .containsPattern("id=\"f-date\"[^>]*aria-invalid=\"true\"");
            assertThat(above.resolve("upper-meadow")).doesNotExist();
        }
    }

    @Test
    void circlesGoIntoATrialOnce_thoughTheButtonIsPressedTwice() throws IOException {
        Path circles = above.resolve("demo/circles.csv");
        String before = Files.readString(circles);
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/demo/plan?machine=Alder+22&ask=drive&circle-scatter=15+mm")
                    .body();
            assertThat(text(page))
                    .contains("Practical margin 2.0 in (51 mm) and confidence 95 %, as the trial states.");
            Map<String, String> form = sent(page, Map.of());
            HttpResponse<String> added = served.post("/trial/demo/plan", form);
            assertThat(added.headers().firstValue("Location")).hasValue("/trial/demo/circles");
            String after = Files.readString(circles);
            assertThat(after).startsWith(before);
            assertThat(after.lines().count() - before.lines().count())
                    .isEqualTo(run(page).size());
            HttpResponse<String> twice = served.post("/trial/demo/plan", form);
            assertThat(twice.statusCode()).isEqualTo(422);
            assertThat(text(twice.body())).contains("Circles were added or taken out while this page was open");
            assertThat(Files.readString(circles)).isEqualTo(after);
        }
    }

    @Test
    void aTrialWithoutMachines_pointsToThem() {
        TrialFolder.create(above.resolve("empty"));
        try (Served served = Served.on(above)) {
            assertThat(text(served.get("/trial/empty/plan").body()))
                    .contains("Nothing can be planned yet: the trial needs a machine", "To the machines");
            assertThat(served.get("/trial/empty/sheet.pdf").statusCode()).isEqualTo(409);
            assertThat(served.get("/trial/demo/sheet.pdf").body()).contains("Every circle has been measured");
        }
    }

    @Test
    void onASingleTrial_noOtherCanBeMade() {
        try (Served served = Served.on(above.resolve("demo"))) {
            assertThat(served.get("/plan?" + DRIVE).body())
                    .contains("What to mow")
                    .doesNotContain("Make this trial");
            assertThat(served.post("/plan", Map.of("machines", "Alder 22")).statusCode())
                    .isEqualTo(404);
        }
    }
}
