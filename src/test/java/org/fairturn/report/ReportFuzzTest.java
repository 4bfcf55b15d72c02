package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import org.fairturn.Fuzzing;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.PastTrial;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Drive;
import org.fairturn.uncertainty.PastScatter;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Results and archives from elsewhere, and reports of whatever a folder was understood to hold. */
class ReportFuzzTest {
    private static final Path SMALL = Path.of("testdata/tape-only");

    @TempDir
    Path folder;

    private TakenTrial taken;
    private TrialReport report;

    @BeforeEach
    void small() {
        taken = TrialFolder.take(SMALL);
        report = taken.read()
                .fold(
                        read -> TrialReport.of(Analysis.of(read.trial()), TrialReport.asWarnings(read.notes())),
                        faulty -> {
                            throw new AssertionError(faulty.problems());
                        });
    }

    @Test
    void resultsABundleBrought() {
        Fuzzing.texts(
                "results",
                input -> ReportTargets.results(taken, report, input),
                List.of(
                        "\"estimate\"",
                        "\"cells\"",
                        "\"trial\"",
                        "\"dataCode\"",
                        "null",
                        "1e999",
                        "-1",
                        "{}",
                        "[]",
                        "[[",
                        "\"\\u0000\"",
                        "\"\\n\""),
                List.of(report.resultsJson(), "{\"trial\": {\"dataCode\": \"7K3M-9QXT\"}, \"cells\": []}"));
    }

    @Test
    void resultsWithAHundredThousandEntriesAlike_areComparedAtOnce() {
        String many = "{\"cells\": [" + "{},".repeat(100_000) + "{}]}";
        String deep = "{\"cells\": " + "[".repeat(100_000) + "]".repeat(100_000) + "}";
        String wide = "{\"" + "x".repeat(100_000) + "\": \"" + "y".repeat(100_000) + "\"}";
        for (String text : List.of(many, deep, wide)) {
            Assertions.assertTimeoutPreemptively(
                    Duration.ofSeconds(60),
                    () -> assertThat(ReportTargets.results(taken, report, text.getBytes(StandardCharsets.UTF_8)))
                            .isFalse());
        }
    }

    @Test
    void archives() {
        String sound = ArchiveFile.write(List.of(
                new PastTrial(
                        "meadow",
                        LocalDate.of(2026, 5, 14),
                        "Alder 22",
                        Drive.FOUR_WHEEL,
                        "turf",
                        "Kit",
                        6,
                        13,
                        new PastScatter(4, 1e-3, 2, 7, 2.4e-4)),
                new PastTrial(
                        "=1+1",
                        LocalDate.of(2026, 5, 15),
                        "@x",
                        Drive.TWO_WHEEL,
                        "-",
                        "'",
                        2,
                        2,
                        new PastScatter(0, 0, 1, 0, 0))));
        Fuzzing.texts(
                "archives",
                input -> ReportTargets.archive(folder, input),
                List.of("1", "0", "2WD", "4WD", "2026-05-14", "1e300", "1e-300", "0x1p3", "1000000000", "version"),
                List.of(sound, "\uFEFF" + sound.replace("\n", "\r\n"), sound + sound));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "trial.csv",
                "machines.csv",
                "circles.csv",
                "readings.csv",
                "points.csv",
                "blades.csv",
                "stops.csv",
                "claims.csv"
            })
    void whatIsRead_isReported(String file) throws IOException {
        Path from = Files.exists(SMALL.resolve(file)) ? SMALL : Path.of("testdata/demo");
        for (Path one : List.of(
                Path.of("trial.csv"),
                Path.of("machines.csv"),
                Path.of("circles.csv"),
                Path.of("readings.csv"),
                Path.of(file))) {
            copy(from.resolve(one.toString()));
        }
        String sound = Files.readString(folder.resolve(file));
        Fuzzing.texts(
                "whole-" + file.replace(".csv", ""),
                input -> ReportTargets.whole(folder, file, input),
                List.of(
                        "0",
                        "1",
                        "5 mm",
                        "62 in",
                        "300 m",
                        "50 mm",
                        "0.1 mm",
                        "0 mm",
                        "1e-9",
                        "89.9",
                        "left",
                        "right",
                        "2WD",
                        "4WD",
                        "no",
                        "used",
                        "unstated",
                        "99.999999 %",
                        "51 %"),
                List.of(sound));
    }

    private void copy(Path file) {
        try {
            Files.copy(file, folder.resolve(file.getFileName()), java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
