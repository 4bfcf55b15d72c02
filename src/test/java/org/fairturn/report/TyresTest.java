package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.FairnessPoint;
import org.fairturn.finding.Warning;
import org.fairturn.folder.DataCode;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** From machines.csv to whatever shows tyres. */
class TyresTest {
    private static final String COLUMNS =
            ",front tyre size,rear tyre size,specified front pressure,specified rear pressure,"
                    + "front left pressure,front right pressure,rear left pressure,rear right pressure";
    private static final String AS_SPECIFIED = ",18x8.50-8,26x12-12,22 psi,18 psi,22 psi,1.5 bar,125 kPa,19 psi";

    @TempDir
    private Path folder;

    private static Trial trial(Path folder) {
        return TrialFolder.read(folder).fold(complete -> complete.trial(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    /** The demo with these cells behind its two machines. */
    private Trial demo(String alder, String basalt) throws IOException {
        try (Stream<Path> files = Files.list(Path.of("testdata/demo"))) {
            for (Path file : files.toList()) {
                Files.write(folder.resolve(file.getFileName()), Files.readAllBytes(file));
            }
        }
        List<String> lines = Files.readAllLines(folder.resolve("machines.csv"));
        Files.write(
                folder.resolve("machines.csv"),
                List.of(lines.get(0) + COLUMNS, lines.get(1) + alder, lines.get(2) + basalt));
        return trial(folder);
    }

    private static List<String> cautions(Analysis analysis) {
        return analysis.warnings().stream()
                .filter(w -> w.code().equals("tyrePressure"))
                .map(Warning::toString)
                .toList();
    }

    private static FairnessPoint fairness(Analysis analysis) {
        return analysis.sideBySide().orElseThrow().fairness().stream()
                .filter(point -> point.name().equals("tyres"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void pressuresOff_areACaution_andNotFair() throws IOException {
        Analysis analysis = Analysis.of(demo(
                ",18x8.50-8,26x12-12,22 psi,18 psi,22 psi,18 psi,18 psi,18 psi",
                ",,,,,1.2 bar,1.5 bar,1.1 bar,1.2 bar"));
        String after =
                ". That alone can make one turn wider than the other, and 4WD cost more. Set them as the manual states,"
                        + " and mow again what was mowed before.";
        assertThat(analysis.warnings())
                .filteredOn(w -> w.code().equals("tyrePressure"))
                .containsExactlyInAnyOrder(
                        new Warning(
                                "tyrePressure",
                                "Alder 22",
                                "Tyre pressures are off: front right 18 psi (1.24 bar), specified 22 psi (1.52 bar)"
                                        + after),
                        new Warning(
                                "tyrePressure",
                                "Basalt 25",
                                "Tyre pressures are off: front left 17 psi (1.20 bar), front right 22 psi (1.50 bar)"
                                        + after));
        assertThat(fairness(analysis).status()).isEqualTo(FairnessPoint.Status.NOT_MET);
        assertThat(fairness(analysis).detail())
                .isEqualTo(
                        "Alder 22: front right 18 psi (1.24 bar), specified 22 psi (1.52 bar); Basalt 25: front left 17 psi"
                                + " (1.20 bar), front right 22 psi (1.50 bar); Basalt 25: not all sizes and pressures are noted in"
                                + " machines.csv.");
    }

    @Test
    void pressuresWithinAGaugesMark_areFair_whateverTheirUnits() throws IOException {
        Analysis analysis = Analysis.of(demo(AS_SPECIFIED, AS_SPECIFIED));
        assertThat(cautions(analysis)).isEmpty();
        assertThat(fairness(analysis).status()).isEqualTo(FairnessPoint.Status.MET);
        assertThat(fairness(analysis).detail())
                .isEqualTo("Every tyre has the size and the pressure its manual states.");
    }

    @Test
    void whatIsKnown_standsInReportAndResults_andOnTheSheet() throws IOException {
        Trial trial = demo(AS_SPECIFIED, ",,,,,,,,1.2 bar");
        TrialReport report = TrialReport.of(Analysis.of(trial), List.of());
        JsonNode tyres = new ObjectMapper().readTree(report.resultsJson()).get("tyres");
        assertThat(tyres).hasSize(5);
        assertThat(tyres.get(2).toString())
                .isEqualTo(
                        "{\"machine\":\"Alder 22\",\"wheel\":\"rear left\",\"size\":\"26x12-12\",\"specified\":124.105626,"
                                + "\"found\":125}"); // 18 × 6.894757
        assertThat(tyres.get(4).toString())
                .isEqualTo("{\"machine\":\"Basalt 25\",\"wheel\":\"rear right\",\"size\":\"\",\"found\":120}");
        assertThat(Files.readString(report.write(folder.resolve("out"))).replaceAll("\\s*<[^>]+>\\s*", "|"))
                .contains("Tyres, as the machine check found them|")
                .containsPattern(
                        "Alder 22\\|+rear left\\|+26x12-12\\|+18 psi \\(1.24 bar\\)\\|+18 psi \\(1.25 bar\\)\\|");
        List<Cell> order = List.of(new Cell("Alder 22", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE));
        FieldSheet sheet = FieldSheet.of(trial.conditions(), trial.machines(), order, 2, FieldSheet.Paper.A4);
        try (PDDocument pdf = Loader.loadPDF(sheet.pdf())) {
            // what was found last time is not there, so that nobody copies it
            assertThat(new PDFTextStripper().getText(pdf).lines().map(String::strip))
                    .contains("front left 18x8.50-8 22 psi (1.52 bar)", "rear right 26x12-12 18 psi (1.24 bar)");
        }
    }

    @Test
    void columnsNobodyFilled_changeNothing() throws IOException {
        Trial plain = trial(Path.of("testdata/demo"));
        Trial blank = demo(",,,,,,,,", ",,,,,,,,");
        assertThat(DataCode.of(blank)).isEqualTo(DataCode.of(plain));
        assertThat(TrialReport.of(Analysis.of(blank), List.of()).resultsJson()).doesNotContain("\"tyres\" :");
    }
}
