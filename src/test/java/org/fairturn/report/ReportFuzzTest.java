package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.fairturn.Fuzzing;
import org.fairturn.ZipMaker;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.PastTrial;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
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
    /** What means something in a cell, and what would be more than a text in a page or drawing. */
    private static final List<String> WORDS = List.of(
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
            "51 %",
            "<zq1 x=\"y\">",
            "\" zq2=\"x",
            "'><zq3>",
            "</text><zq4/>",
            "]]><zq5>",
            "300 mm",
            "20 ft",
            "0.02 m",
            "yes",
            "none",
            "unknown",
            "turn radius",
            "turning circle diameter",
            "clearance circle diameter",
            "uncut diameter",
            "across",
            "chord and rise",
            "three stakes",
            "Alder 22",
            "Basalt 25",
            "Clover 18",
            "A1",
            "K1",
            "12",
            "practical margin",
            "assumed circle repeatability",
            "assumed reading repeatability",
            "confidence",
            "mowing speed",
            "0.001 km/h",
            "edge definition",
            "tape class",
            "III");

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
                "claims.csv",
                "references.csv"
            })
    void whatIsRead_isReported(String file) throws IOException {
        Path from = Files.exists(SMALL.resolve(file))
                ? SMALL
                : Path.of("testdata", file.equals("references.csv") ? "complaint" : "demo");
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
                WORDS,
                List.of(sound));
    }

    /** Several files of a folder changed at once. */
    @Test
    void aFolder() throws IOException {
        List<String> seeds = folders();
        Fuzzing.run(
                "folder",
                input -> ReportTargets.folder(folder, input),
                random -> new FolderMaker(random, seeds, WORDS).next());
    }

    @Test
    void aFolder_onPaperAndInPictures() throws IOException {
        List<String> seeds = folders();
        Fuzzing.run(
                "printed",
                input -> ReportTargets.printed(folder, input),
                random -> new FolderMaker(random, seeds, WORDS).next());
    }

    private static List<String> folders() throws IOException {
        List<String> folders = new ArrayList<>();
        for (String name :
                List.of("tape-only", "complaint", "demo", "metric", "days/monday", "tape-only", "complaint")) {
            folders.add(ReportTargets.joined(Path.of("testdata", name)));
        }
        return folders;
    }

    @Test
    void bundlesMadeByTheProgram() {
        List<byte[]> seeds = new ArrayList<>();
        for (String name : List.of("tape-only", "complaint", "demo", "days/monday")) {
            TakenTrial trial = TrialFolder.take(Path.of("testdata", name));
            TrialReport made = ReportTargets.reported((TrialRead.Complete) trial.read());
            seeds.add(made.bundle("meadow", trial, Map.of()));
        }
        Map<Integer, TrialReport> known = new LinkedHashMap<>();
        Fuzzing.run("handed-over", input -> ReportTargets.bundle(folder, known, input), random -> {
            if (known.size() > 20) {
                known.clear();
            }
            return new ZipMaker(random, seeds, WORDS).next();
        });
    }

    private void copy(Path file) {
        try {
            Files.copy(file, folder.resolve(file.getFileName()), java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
