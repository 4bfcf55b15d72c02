package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportCommandTest {
    @TempDir
    Path above;

    private static Trial trial(Path folder) {
        return TrialFolder.read(folder).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    private static Ran report(Path folder, Path out, String... more) {
        List<String> arguments = new ArrayList<>(List.of("report", folder.toString(), "--out", out.toString()));
        arguments.addAll(List.of(more));
        return Ran.here(arguments.toArray(String[]::new));
    }

    @Test
    void verdictsAndThePlaceOfTheReport_areResults_warningsAreNot() {
        Path out = above.resolve("out");
        Ran ran = report(Given.DEMO, out);
        Analysis analysis = Analysis.of(trial(Given.DEMO));
        List<String> verdicts =
                new ArrayList<>(TrialReport.of(analysis, List.of()).sentences());
        assertThat(verdicts).hasSizeGreaterThanOrEqualTo(analysis.findings().size());
        verdicts.add(out.resolve("report.html").toString());
        assertThat(verdicts.get(0)).isEqualTo("Every range, between … and …, holds with a probability of 95 %.");
        assertThat(ran.out().lines()).containsExactlyElementsOf(verdicts);
        assertThat(ran.err()).contains("driver came off full lock on the second lap", "Only one circle, B8");
        assertThat(ran.code()).isZero();
        assertThat(out.resolve("report.html")).isNotEmptyFile();
        assertThat(out.resolve("results.json")).isNotEmptyFile();
    }

    /** Two readings 1050 mm apart: the interval in results.json reaches below 0, but nobody is told of such a diameter. */
    @Test
    void noDiameter_isSaidToBeBelowNought() throws IOException {
        Given given = Given.soundFolder(above.resolve("meadow"))
                .with("readings.csv", "circle,kind,value\nA1,across,90 mm\nA1,across,1140 mm\n");
        Path out = above.resolve("out");
        Ran ran = report(given.path(), out);
        assertThat(ran.out().lines().filter(line -> line.contains(": uncut circle ")))
                .isNotEmpty()
                .noneMatch(line -> line.contains("−"))
                .anyMatch(line -> line.contains(", between 0 and "));
        assertThat(new ObjectMapper()
                        .readTree(out.resolve("results.json").toFile())
                        .get("cells")
                        .get(0)
                        .get("low")
                        .asDouble())
                .isNegative();
    }

    @Test
    void notesOfTheFolder_areAmongTheWarnings() {
        Given given = Given.soundFolder(above.resolve("meadow")).with("reading.csv", "");
        Ran ran = report(given.path(), above.resolve("out"));
        assertThat(ran.code()).isZero();
        assertThat(ran.err())
                .contains("reading.csv: This file is not known and not used. Did you mean \"readings.csv\"?");
        assertThat(TrialReport.of(Analysis.of(trial(given.path())), List.of(new Warning("folder", "x.csv", "Y.")))
                        .warnings())
                .anyMatch(line -> line.contains("x.csv") && line.contains("Y."));
    }

    @Test
    void json_isAllOfStandardOutput_andTheSameAsTheFile() throws IOException {
        Path out = above.resolve("out");
        Ran ran = report(Given.DEMO, out, "--json");
        assertThat(ran.code()).isZero();
        JsonNode json = new ObjectMapper().readTree(ran.out());
        assertThat(json)
                .isEqualTo(
                        new ObjectMapper().readTree(out.resolve("results.json").toFile()));
        assertThat(json.get("trial").get("folder").asText()).isEqualTo("demo");
        assertThat(ran.err())
                .contains(Analysis.of(trial(Given.DEMO)).findings().get(0).sentence())
                .endsWith(out.resolve("report.html") + "\n");
    }

    @Test
    void dataErrors_areListed_andNothingIsWritten() {
        Given given = Given.soundFolder(above.resolve("meadow"))
                .with("readings.csv", "circle,kind,value\nA1,across,1580\nA2,across,1590 nm\n");
        var before = Given.everythingBelow(above);
        assertThat(report(given.path(), above.resolve("out/deep")))
                .isEqualTo(new Ran(1, "", """
                                readings.csv, row 3, column "value": read "1590 nm"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8" or 5 ft 2 in. The units are mm, cm, m, in and ft.
                                    1590 nm
                                         ^
                                1 problem to mend in %s; no report was written.
                                """.formatted(given.argument())));
        assertThat(Given.everythingBelow(above)).isEqualTo(before);
    }

    @Test
    void dataErrors_asJson_areWhatCheckSays() {
        Given given = Given.soundFolder(above.resolve("meadow")).without("machines.csv");
        Ran ran = report(given.path(), above.resolve("out"), "--json");
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out())
                .contains("machines.csv")
                .isEqualTo(Ran.here("check", given.argument(), "--json").out());
        assertThat(above.resolve("out")).doesNotExist();
    }

    @Test
    void aPlaceThatCannotBeWrittenTo_isSaidInWords() throws IOException {
        Path file = Files.writeString(above.resolve("taken"), "mine");
        Ran ran = report(Given.DEMO, file);
        assertThat(ran)
                .isEqualTo(new Ran(
                        1,
                        "",
                        "--out " + file + ": found no way to write there, a file is in the way; accepted: a folder"
                                + " you may write to, with room on the disk. Choose another with --out.\n"));
        assertThat(file).hasContent("mine");
    }

    @Test
    void theTrialFolder_isNotChanged() {
        var before = Given.everythingBelow(Given.DEMO);
        assertThat(report(Given.DEMO, above.resolve("out")).code()).isZero();
        assertThat(Given.everythingBelow(Given.DEMO)).isEqualTo(before);
    }
}
