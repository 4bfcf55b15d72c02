package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ArchiveCommandTest {
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    Path above;

    private Path trials;
    private Path out;

    @BeforeEach
    void places() {
        trials = above.resolve("trials");
        out = above.resolve("out");
    }

    private static double normal(SplittableRandom random) {
        return Math.sqrt(-2 * Math.log(1 - random.nextDouble())) * Math.cos(2 * Math.PI * random.nextDouble());
    }

    /** A folder of three circles to each side with two readings each, circles scattering by so many millimetres. */
    private static Given folder(Path folder, int number, String surface, String measurer, double sigma) {
        var random = new SplittableRandom(number);
        StringBuilder circles = new StringBuilder("circle,machine,turn,drive\n");
        StringBuilder readings = new StringBuilder("circle,kind,value,measurer\n");
        for (int i = 1; i <= 6; i++) {
            circles.append(i)
                    .append(",Alder 22,")
                    .append(i % 2 == 0 ? "left" : "right")
                    .append(",2WD\n");
            double d = 1600 + sigma * normal(random);
            for (int j = 0; j < 2; j++) {
                readings.append(String.format(Locale.ROOT, "%d,across,%.0f,%s%n", i, d + 5 * normal(random), measurer));
            }
        }
        return Given.soundFolder(folder)
                .with(
                        "trial.csv",
                        "field,value\ntitle,Trial " + number + "\ndate,2026-04-" + (10 + number)
                                + "\nlength unit,mm\ntape class,I\nedge definition,5\nsurface," + surface + "\n")
                .with("circles.csv", circles.toString())
                .with("readings.csv", readings.toString());
    }

    /** Ten calm trials, a rough one among the last, one that has to be mended, and one that holds no circle that counts. */
    private void archive() {
        for (int i = 0; i < 10; i++) {
            folder(
                    trials.resolve("t" + i),
                    i,
                    i < 7 ? "Short turf" : "pasture",
                    i < 5 ? "Kit" : "Robin",
                    i == 8 ? 150 : 12);
        }
        folder(trials.resolve("broken"), 11, "", "", 10).without("circles.csv");
        folder(trials.resolve("void"), 12, "", "", 10)
                .with("circles.csv", "circle,machine,turn,drive,use\n1,Alder 22,left,2WD,no\n")
                .with("readings.csv", "circle,kind,value\n1,across,1600\n");
    }

    private Ran run(String... more) {
        String[] arguments = new String[more.length + 4];
        arguments[0] = "archive";
        arguments[1] = trials.toString();
        arguments[2] = "--out";
        arguments[3] = out.toString();
        System.arraycopy(more, 0, arguments, 4, more.length);
        return Ran.here(arguments);
    }

    @Test
    void anArchive_saysWhatItTeaches_andWritesItsFiles() throws IOException {
        archive();
        var before = Given.everythingBelow(trials);
        Ran ran = run();
        assertThat(ran.code()).isZero();
        assertThat(ran.err()).isEqualTo("""
                1 folder was left out because something has to be mended: broken.
                1 folder was left out because no circle in it counts: void.
                """);
        List<String> lines = ran.out().lines().toList();
        assertThat(lines.get(0)).isEqualTo("10 past trials with 60 circles.");
        assertThat(lines.get(1))
                .matches(
                        "From circle to circle: as 10 trials show, circles driven alike scatter by typically 1\\d mm"
                                + " \\(0\\.\\d in\\) \\(standard deviation\\), between \\d+ and \\d+ mm \\(0\\.\\d and \\d\\.\\d in\\)"
                                + " with a probability of 95 %\\. Trials differ: in the next one it stays below \\d+ mm"
                                + " \\(\\d\\.\\d in\\) with that probability; without the archive that would be 139 mm \\(5\\.5 in\\)\\.");
        assertThat(lines.get(3))
                .matches("Scattered more from circle to circle than the trials before it suggest: t8 on"
                        + " 2026-04-18 \\(\\d+ mm \\(\\d\\.\\d in\\), limit \\d+ mm \\(\\d\\.\\d in\\)\\)\\. Look what was different:"
                        + " grass, ground, driver, full lock, or a slip in the readings\\.");
        assertThat(ran.out())
                .containsPattern("\nall +10 +60 +1\\d\\.\\d \\(\\d+\\.\\d to \\d+\\.\\d\\) ")
                .containsPattern("\non short turf in 2WD +7 +42 ")
                .containsPattern("\nmeasured by Robin +5 +30 ");
        assertThat(ran.lastLine()).isEqualTo(out.resolve("archive.html").toString());
        assertThat(Files.readString(out.resolve("archive.html")))
                .contains("<h1>trials: how much circles and readings scatter</h1>", "role=\"img\"", "above");
        assertThat(Files.readAllLines(out.resolve("repeatability.csv"))).hasSize(11);
        assertThat(Files.readString(out.resolve("charts/drift.svg"))).contains("data-part=\"outside\"");
        assertThat(Given.everythingBelow(trials)).isEqualTo(before);
    }

    @Test
    void json_holdsTheSame_andAFileTeachesWhatItsFoldersDid() throws IOException {
        archive();
        Ran ran = run("--json");
        JsonNode json = JSON.readTree(ran.out());
        assertThat(json).isEqualTo(JSON.readTree(out.resolve("results.json").toFile()));
        assertThat(json.get("archive").get("trials").asInt()).isEqualTo(10);
        assertThat(json.get("archive").get("toMend").get(0).asText()).isEqualTo("broken");
        JsonNode all = json.get("groups").get(0);
        assertThat(all.get("group").asText()).isEmpty();
        assertThat(all.get("circleToCircle").get("trials").asInt()).isEqualTo(10);
        assertThat(all.get("circleToCircle").get("next").get("below95").asDouble())
                .isGreaterThan(
                        all.get("circleToCircle").get("typical").get("estimate").asDouble());
        assertThat(json.get("drift").get("circleToCircle").get(8).get("outside").asBoolean())
                .isTrue();
        Path again = above.resolve("again");
        Ran file =
                Ran.here("archive", out.resolve("repeatability.csv").toString(), "--json", "--out", again.toString());
        assertThat(JSON.readTree(file.out()).get("groups")).isEqualTo(json.get("groups"));
        assertThat(JSON.readTree(file.out()).get("drift")).isEqualTo(json.get("drift"));
    }

    @Test
    void report_takesTheAssumptionFromFolderOrFile_andSaysSo() throws IOException {
        archive();
        run();
        Given meadow = Given.soundFolder(above.resolve("meadow"));
        Path report = above.resolve("report");
        Ran usual = Ran.here("report", meadow.argument(), "--out", report.toString(), "--json");
        Ran folders = Ran.here(
                "report", meadow.argument(), "--out", report.toString(), "--json", "--archive", trials.toString());
        Ran file = Ran.here(
                "report",
                meadow.argument(),
                "--out",
                report.toString(),
                "--json",
                "--archive",
                out.resolve("repeatability.csv").toString());
        assertThat(folders.code()).isZero();
        assertThat(file.out()).isEqualTo(folders.out());
        assertThat(folders.err())
                .contains("--archive " + trials + ": 1 folder was left out because something has to be mended: fairturn"
                        + " check " + trials.resolve("broken"))
                .containsPattern("\nAssumed circle repeatability: learnt from 10 past trials in 2WD, typically \\d+ mm"
                        + " \\(0\\.\\d in\\), in 95 % of trials below \\d+ mm \\(\\d\\.\\d in\\)\\.\n");
        JsonNode repeatability = JSON.readTree(folders.out()).get("repeatability");
        assertThat(repeatability.get("source").asText()).contains("learnt from 10 past trials in 2WD");
        assertThat(repeatability
                        .get("assumed")
                        .get("circleToCircle")
                        .get("from")
                        .asText())
                .isEqualTo("archive");
        assertThat(repeatability.get("assumed").get("reading").get("trials").asInt())
                .isEqualTo(10);
        assertThat(width(folders)).isLessThan(0.8 * width(usual));
        assertThat(JSON.readTree(usual.out()).get("repeatability").has("assumed"))
                .isFalse();
        assertThat(Files.readString(report.resolve("report.html"))).contains("learnt from 10 past trials in 2WD");
    }

    private static double width(Ran report) throws IOException {
        JsonNode cell = JSON.readTree(report.out()).get("cells").get(0);
        return cell.get("high").asDouble() - cell.get("low").asDouble();
    }

    @Test
    void whatTrialCsvStates_staysAsItIs() throws IOException {
        archive();
        Given meadow = Given.soundFolder(above.resolve("meadow")).with("trial.csv", """
                        field,value
                        title,Meadow
                        date,2026-05-14
                        length unit,mm
                        assumed circle repeatability,30
                        assumed reading repeatability,10
                        """);
        Path report = above.resolve("report");
        Ran usual = Ran.here("report", meadow.argument(), "--out", report.toString(), "--json");
        Ran taught = Ran.here(
                "report", meadow.argument(), "--out", report.toString(), "--json", "--archive", trials.toString());
        assertThat(JSON.readTree(taught.out()).get("cells"))
                .isEqualTo(JSON.readTree(usual.out()).get("cells"));
        assertThat(taught.err())
                .contains("Assumed circle repeatability: 30 mm (1.2 in), as trial.csv states it; that comes before what"
                        + " the archive teaches.\n");
    }

    @Test
    void batch_leavesEachTrialOutOfWhatItLearnsFrom() throws IOException {
        archive();
        Ran ran = Ran.here("batch", trials.toString(), "--json-lines", "--archive", trials.toString());
        assertThat(ran.err()).endsWith("12 folders: 11 analysed, 1 to mend.\n");
        List<String> lines = ran.out().lines().toList();
        JsonNode rough = JSON.readTree(lines.get(9));
        assertThat(rough.get("trial").get("folder").asText()).isEqualTo("t8");
        assertThat(rough.get("repeatability").get("source").asText())
                .contains("learnt from 9 past trials in 2WD")
                .endsWith("This trial is in the archive itself and was left out of it.");
    }

    @Test
    void plan_expectsWhatTheArchiveTeaches_andLeavesItToTheReport() throws IOException {
        archive();
        Ran ran = Ran.here(
                "plan",
                "Alder 22",
                "--ask",
                "claim",
                "--archive",
                trials.toString(),
                "--out",
                above.resolve("planned").toString(),
                "--date",
                "2026-06-01");
        assertThat(ran.code()).isZero();
        assertThat(ran.out())
                .containsPattern("circles driven alike scatter by 1\\d mm")
                .contains("Assumed circle repeatability: learnt from 10 past trials in 2WD");
        assertThat(Files.readAllLines(above.resolve("planned/trial.csv")))
                .contains("assumed circle repeatability,", "assumed reading repeatability,");
        Ran whatIf = Ran.here(
                "plan",
                "Alder 22",
                "--ask",
                "claim",
                "--archive",
                trials.toString(),
                "--circle-scatter",
                "40 mm",
                "--json");
        JsonNode plan = JSON.readTree(whatIf.out()).get("plan");
        assertThat(plan.get("circleScatter").asDouble()).isEqualTo(40);
        assertThat(plan.get("readingScatter").asDouble()).isBetween(4.0, 7.0);
        assertThat(plan.get("assumed")).hasSize(2);
    }

    @Test
    void anArchiveThatCannotBeRead_isSaid() throws IOException {
        assertThat(run())
                .isEqualTo(new Ran(
                        1,
                        "",
                        trials
                                + ": found nothing there; accepted: a folder with trial folders in it, or a repeatability.csv"
                                + " that fairturn archive wrote. Check the path.\n"));
        Files.createDirectories(trials);
        assertThat(run().err())
                .startsWith(trials + ": found no folder in it; accepted: a folder with trial folders in it");
        Given.soundFolder(trials.resolve("a")).without("circles.csv");
        assertThat(run().err())
                .isEqualTo("1 folder was left out because something has to be mended: a.\n" + trials
                        + ": found no circle that counts in any trial; accepted: at least one trial with readings. What has to"
                        + " be mended in a folder says fairturn check.\n");
        Given meadow = Given.soundFolder(above.resolve("meadow"));
        Ran report = Ran.here(
                "report", meadow.argument(), "--archive", above.resolve("gone").toString());
        assertThat(report)
                .isEqualTo(new Ran(
                        1,
                        "",
                        "--archive: " + above.resolve("gone")
                                + ": found nothing there; accepted: a folder with trial folders in it, or a repeatability.csv"
                                + " that fairturn archive wrote. Check the path.\n"));
        assertThat(run("--unit", "ell").code()).isEqualTo(2);
    }
}
