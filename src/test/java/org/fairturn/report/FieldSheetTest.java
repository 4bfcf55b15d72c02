package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.fairturn.finding.RunOrder;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class FieldSheetTest {
    private static final int CIRCLES = 7;

    private static Trial demo() {
        return TrialFolder.read(Path.of("testdata/demo")).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty);
        });
    }

    private static FieldSheet sheet(FieldSheet.Paper paper, int readings) {
        Trial demo = demo();
        List<Cell> order =
                RunOrder.of(demo.machines().stream().map(m -> m.id()).toList(), List.of(Drive.values()), CIRCLES, 1);
        return FieldSheet.of(demo.conditions(), demo.machines(), order, readings, paper);
    }

    /** Where every letter stands on its page. */
    private static final class Letters extends PDFTextStripper {
        private double rightmost;
        private double lowest;
        private double smallest = Double.POSITIVE_INFINITY;
        private final double width;
        private final double height;

        Letters(PDPage page) {
            width = page.getMediaBox().getWidth();
            height = page.getMediaBox().getHeight();
        }

        @Override
        protected void processTextPosition(TextPosition text) {
            rightmost = Math.max(rightmost, text.getXDirAdj() + text.getWidthDirAdj());
            lowest = Math.max(lowest, text.getYDirAdj());
            smallest = Math.min(smallest, text.getFontSizeInPt());
            super.processTextPosition(text);
        }
    }

    @ParameterizedTest
    @EnumSource
    void sheet_isOnThatPaper_taggedAndWhole(FieldSheet.Paper paper) throws IOException {
        PDRectangle expected = paper == FieldSheet.Paper.A4 ? PDRectangle.A4 : PDRectangle.LETTER;
        FieldSheet sheet = sheet(paper, 3);
        try (PDDocument pdf = Loader.loadPDF(sheet.pdf())) {
            assertThat(pdf.getDocumentCatalog().getMarkInfo().isMarked()).isTrue();
            assertThat(pdf.getDocumentCatalog().getStructureTreeRoot()).isNotNull();
            assertThat(pdf.getDocumentCatalog().getLanguage()).isEqualTo("en");
            int upright = 0;
            for (int i = 0; i < pdf.getNumberOfPages(); i++) {
                PDPage page = pdf.getPage(i);
                PDRectangle box = page.getMediaBox();
                boolean tall = box.getHeight() > box.getWidth();
                upright += tall ? 1 : 0;
                assertThat(tall ? box.getWidth() : box.getHeight()).isCloseTo(expected.getWidth(), within(0.5f));
                assertThat(tall ? box.getHeight() : box.getWidth()).isCloseTo(expected.getHeight(), within(0.5f));
                Letters letters = new Letters(page);
                letters.setStartPage(i + 1);
                letters.setEndPage(i + 1);
                letters.getText(pdf);
                assertThat(letters.rightmost).as("page %d", i + 1).isLessThan(letters.width - 20);
                assertThat(letters.lowest).as("page %d", i + 1).isLessThan(letters.height - 15);
                // page numbers are 9 pt, all else 11 pt and more
                assertThat(letters.smallest).isGreaterThanOrEqualTo(9);
            }
            // cautions and a machine, the other machine, the method
            assertThat(upright).isEqualTo(3);
            String text = new PDFTextStripper().getText(pdf);
            String flat = text.replaceAll("\\s+", " ");
            Cautions.ALL.forEach(caution -> assertThat(flat).contains(caution));
            assertThat(flat).contains("Alder 22", "Basalt 25", "touches axle", "How to mow and measure");
            long rows = text.lines()
                    .filter(line -> line.matches("\\d+ \\d+ (Alder|Basalt) \\d+ (left|right) [24]WD\\s*"))
                    .count();
            assertThat(rows).isEqualTo(CIRCLES * 8).isEqualTo(sheet.rows().size());
        }
    }

    /** The usual plan, two machines in both drives and turns with two circles each, is one page to carry. */
    @ParameterizedTest
    @EnumSource
    void sixteenCircles_fitOnOnePage(FieldSheet.Paper paper) throws IOException {
        Trial demo = demo();
        List<Cell> order =
                RunOrder.of(demo.machines().stream().map(m -> m.id()).toList(), List.of(Drive.values()), 2, 1);
        assertThat(order).hasSize(16);
        for (int readings = 1; readings <= 3; readings++) {
            byte[] sheet = FieldSheet.of(demo.conditions(), demo.machines(), order, readings, paper)
                    .pdf();
            try (PDDocument pdf = Loader.loadPDF(sheet)) {
                assertThat(pdf.getPages())
                        .filteredOn(page -> page.getMediaBox().getWidth()
                                > page.getMediaBox().getHeight())
                        .as("%d readings", readings)
                        .hasSize(1);
            }
        }
    }

    private static Trial withUnit(LengthUnit unit, String circles, String stops, Path folder) throws IOException {
        Files.writeString(
                folder.resolve("trial.csv"),
                "field,value\ntitle,Meadow\ndate,2026-05-14\nlength unit," + unit.symbol() + "\n");
        Files.writeString(folder.resolve("machines.csv"), "machine\nAlder 22\n");
        Files.writeString(folder.resolve("circles.csv"), "circle,machine,turn,drive,order\n" + circles);
        Files.writeString(folder.resolve("readings.csv"), "circle,kind,value\nA1,across,1.6 m\n");
        Files.writeString(folder.resolve("stops.csv"), "machine,side,limits,specified\n" + stops);
        return TrialFolder.readPlanned(folder).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    /** In a trial kept in metres a stop of 28 mm stood there as 0.0 m, and only the first that limits a turn was there. */
    @Test
    void everyStopIsThere_inAUnitThatShowsIt(@TempDir Path folder) throws IOException {
        String stops = "Alder 22,left,left,28 mm\nAlder 22,right,left,1.1 in\n";
        String circles = "A1,Alder 22,left,2WD,1\nA2,Alder 22,left,2WD,2\n";
        FieldSheet metres = FieldSheet.of(withUnit(LengthUnit.METRE, circles, stops, folder), 2, FieldSheet.Paper.A4);
        assertThat(metres.machines().get(0).stops())
                .containsExactly(
                        new FieldSheet.Stop("left stop (limits the left turn)", "28.0 mm", "", "", ""),
                        new FieldSheet.Stop("right stop (limits the left turn)", "27.9 mm", "", "", ""),
                        new FieldSheet.Stop("right stop (limits the right turn)", "", "", "", ""));
        try (PDDocument pdf = Loader.loadPDF(metres.pdf())) {
            assertThat(new PDFTextStripper().getText(pdf))
                    .contains("Steering stops, protrusion (mm)", "Unit of the readings: m");
        }
        FieldSheet feet = FieldSheet.of(withUnit(LengthUnit.FOOT, circles, stops, folder), 2, FieldSheet.Paper.A4);
        assertThat(feet.machines().get(0).stops())
                .extracting(FieldSheet.Stop::specified)
                .containsExactly("1.10 in", "1.10 in", "");
    }

    /** The box for "touches axle" stood empty, and what had been read was left out, where the folder said "no". */
    @Test
    void whatWasNotedOfAStop_standsBesideItsBox_andAMachineWithoutContactIsLeft(@TempDir Path folder)
            throws IOException {
        Trial trial = withUnit(LengthUnit.MILLIMETRE, "A1,Alder 22,left,2WD,1\nA2,Alder 22,left,2WD,2\n", "", folder);
        assertThat(FieldSheet.of(trial, 2, FieldSheet.Paper.A4).leave()).isEmpty();
        Files.writeString(
                folder.resolve("stops.csv"),
                "machine,side,specified,found,set,touches axle\nAlder 22,left,28,28,,yes\nAlder 22,right,28,31,29.5,no\n");
        FieldSheet sheet = FieldSheet.of(
                TrialFolder.readPlanned(folder).fold(TrialRead.Complete::trial, faulty -> {
                    throw new AssertionError(faulty.problems());
                }),
                2,
                FieldSheet.Paper.A4);
        assertThat(sheet.machines().get(0).stops())
                .containsExactly(
                        new FieldSheet.Stop("left stop (limits the left turn)", "28.0 mm", "28.0 mm", "", "yes"),
                        new FieldSheet.Stop(
                                "right stop (limits the right turn)", "28.0 mm", "31.0 mm", "29.5 mm", "no"));
        try (PDDocument pdf = Loader.loadPDF(sheet.pdf())) {
            String text = new PDFTextStripper().getText(pdf).replaceAll("\\s+", " ");
            assertThat(text)
                    .contains(
                            "noted: 31.0 mm",
                            "noted: 29.5 mm",
                            "yes / no noted: no",
                            "Alder 22: the right stop does not touch the axle at full lock",
                            "Leave the machine until this is mended: a qualified technician finds out what limits the turn and"
                                    + " sets the stop by the service manual so that it touches the axle at full lock.");
            assertThat(text.indexOf("Leave the machine")).isLessThan(text.indexOf("Before anyone starts"));
        }
    }

    /** A circle without a place was given one that another circle has. */
    @Test
    void circlesWithoutAPlace_areDrivenLast(@TempDir Path folder) throws IOException {
        String circles =
                "A1,Alder 22,left,2WD,1\nA2,Alder 22,left,2WD,\nA3,Alder 22,left,2WD,2\nA4,Alder 22,left,2WD,\n";
        Trial trial = withUnit(LengthUnit.METRE, circles, "", folder);
        assertThat(FieldSheet.of(trial, 2, FieldSheet.Paper.A4).rows())
                .extracting(row -> row.place() + " " + row.circle())
                .containsExactly("2 A3", "3 A2", "4 A4");
    }

    /** Circles that have been measured need no box; those still open keep their ids and their order. */
    @ParameterizedTest
    @EnumSource
    void measuredCircles_haveNoBox(FieldSheet.Paper paper) {
        Trial demo = demo();
        Trial open = new Trial(
                demo.folder(),
                demo.conditions(),
                demo.machines(),
                IntStream.range(0, demo.circles().size())
                        .mapToObj(i -> i < 3
                                ? demo.circles().get(i).withReadings(List.of())
                                : demo.circles().get(i))
                        .toList(),
                List.of());
        assertThat(FieldSheet.of(demo, 2, paper).rows()).isEmpty();
        assertThat(FieldSheet.of(open, 2, paper).rows())
                .extracting(FieldSheet.Row::circle)
                .containsExactlyInAnyOrderElementsOf(
                        demo.circles().stream().limit(3).map(c -> c.id()).toList());
    }
}
