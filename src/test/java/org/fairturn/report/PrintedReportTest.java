package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.common.PDRectangle;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureNode;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Days;
import org.fairturn.finding.Finding;
import org.fairturn.folder.DataCode;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PrintedReportTest {
    private static final double INCH = 72;
    private static final double NARROWEST_MARGIN = 10 / 25.4 * INCH;

    @TempDir
    Path above;

    private static Trial trial(Path folder) {
        return TrialFolder.read(folder).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    private static TrialReport report(Trial trial) {
        return TrialReport.of(Analysis.of(trial), List.of());
    }

    /** A trial of testdata, analysed and printed once for all tests. */
    private record Printed(Analysis analysis, Supplier<byte[]> bytes) {
        private static final Map<String, Printed> ALL = new HashMap<>();

        static Printed of(String name) {
            return ALL.computeIfAbsent(name, n -> {
                Analysis analysis = Analysis.of(trial(Path.of("testdata", n)));
                byte[] pdf = TrialReport.of(analysis, List.of()).pdf();
                return new Printed(analysis, () -> pdf);
            });
        }

        byte[] pdf() {
            return bytes.get();
        }
    }

    /** Where the letters of a page lie, turned or not. */
    private static final class Letters extends PDFTextStripper {
        private double rightmost;
        private double lowest;
        private double smallest = Double.POSITIVE_INFINITY;

        @Override
        protected void processTextPosition(TextPosition text) {
            rightmost = Math.max(rightmost, text.getXDirAdj() + text.getWidthDirAdj());
            lowest = Math.max(lowest, text.getYDirAdj());
            smallest = Math.min(smallest, text.getFontSizeInPt());
            super.processTextPosition(text);
        }
    }

    /** Without blanks, since lines break anywhere. */
    private static String bare(String text) {
        return text.replaceAll("[\\s\\u00a0]+", "");
    }

    private static List<PDStructureElement> elements(PDStructureNode node) {
        List<PDStructureElement> found = new ArrayList<>();
        for (Object kid : node.getKids()) {
            if (kid instanceof PDStructureElement element) {
                found.add(element);
                found.addAll(elements(element));
            }
        }
        return found;
    }

    @ParameterizedTest
    @ValueSource(strings = {"demo", "complaint", "metric", "tape-only"})
    void everyFindingIsOnPaper_wholeAndWithinThePage(String name) throws IOException {
        Analysis analysis = Printed.of(name).analysis();
        Trial trial = analysis.trial();
        try (PDDocument pdf = Loader.loadPDF(Printed.of(name).pdf())) {
            String text = bare(new PDFTextStripper().getText(pdf));
            for (Finding finding : analysis.findings()) {
                // the foot of a page may stand in the middle of a sentence, never in the middle of its box
                assertThat(text).contains(bare(finding.sentence()));
            }
            Cautions.ALL.forEach(caution -> assertThat(text).contains(bare(caution)));
            analysis.warnings()
                    .forEach(w -> assertThat(text).contains(bare(w.message().substring(0, 40))));
            assertThat(text).contains(DataCode.of(trial));
            int pages = pdf.getNumberOfPages();
            for (int i = 0; i < pages; i++) {
                PDPage page = pdf.getPage(i);
                PDRectangle box = page.getMediaBox();
                assertThat(Math.min(box.getWidth(), box.getHeight()))
                        .isCloseTo(PDRectangle.A4.getWidth(), within(0.5f));
                assertThat(Math.max(box.getWidth(), box.getHeight()))
                        .isCloseTo(PDRectangle.A4.getHeight(), within(0.5f));
                Letters letters = new Letters();
                letters.setStartPage(i + 1);
                letters.setEndPage(i + 1);
                String shown = letters.getText(pdf);
                assertThat(shown).contains("page " + (i + 1) + " of " + pages);
                assertThat(bare(shown)).contains(bare("data " + DataCode.of(trial)));
                assertThat(letters.rightmost).isLessThan(box.getWidth() - NARROWEST_MARGIN);
                assertThat(letters.lowest).isLessThan(box.getHeight() - NARROWEST_MARGIN);
                for (COSName font : page.getResources().getFontNames()) {
                    assertThat(page.getResources().getFont(font).isEmbedded()).isTrue();
                }
            }
        }
    }

    @Test
    void firstPages_standAlone() throws IOException {
        Analysis analysis = Printed.of("demo").analysis();
        try (PDDocument pdf = Loader.loadPDF(Printed.of("demo").pdf())) {
            PDFTextStripper firstPages = new PDFTextStripper();
            firstPages.setEndPage(3);
            String text = bare(firstPages.getText(pdf));
            for (Brief brief : Brief.leading(analysis)) {
                assertThat(text).contains(bare(brief.about()), bare(brief.figure()));
                brief.reservations().forEach(r -> assertThat(text).contains(bare(r)));
            }
            Cautions.ALL.forEach(caution -> assertThat(text).contains(bare(caution)));
            analysis.sideBySide()
                    .orElseThrow()
                    .fairness()
                    .forEach(point -> assertThat(text).contains(bare(point.detail())));
            assertThat(text).contains("Practicalmargin", "Tobearinmind");
            assertThat(text.indexOf("Thefindingsinfull")).isGreaterThan(text.indexOf("Tobearinmind"));
        }
    }

    @Test
    void readersAloudAndBookmarks_findTheirWay() throws IOException {
        Analysis analysis = Printed.of("demo").analysis();
        Trial trial = analysis.trial();
        try (PDDocument pdf = Loader.loadPDF(Printed.of("demo").pdf())) {
            var catalog = pdf.getDocumentCatalog();
            assertThat(catalog.getMarkInfo().isMarked()).isTrue();
            assertThat(catalog.getLanguage()).isEqualTo("en");
            assertThat(pdf.getDocumentInformation().getTitle())
                    .isEqualTo(trial.conditions().title() + " – Fairturn report");
            List<PDStructureElement> all = elements(catalog.getStructureTreeRoot());
            List<String> alternatives = all.stream()
                    .filter(e -> e.getStructureType().equals("Figure"))
                    .map(PDStructureElement::getAlternateDescription)
                    .toList();
            List<Figure> figures = Drawings.of(analysis);
            assertThat(alternatives).hasSameSizeAs(figures);
            for (int i = 0; i < figures.size(); i++) {
                assertThat(alternatives.get(i))
                        .contains(figures.get(i).drawing().description().substring(0, 40));
            }
            assertThat(all.stream().map(PDStructureElement::getStructureType))
                    .contains("H1", "H2", "H3", "Table", "TH");
            List<String> bookmarks = new ArrayList<>();
            for (PDOutlineItem item : catalog.getDocumentOutline().children()) {
                bookmarks.add(item.getTitle());
                assertThat(item.findDestinationPage(pdf)).isNotNull();
            }
            assertThat(bookmarks)
                    .containsExactly(
                            "In short",
                            "Before anyone acts on this",
                            "To bear in mind",
                            "The findings in full",
                            "Drawings",
                            "Results in tables",
                            "Method",
                            "The working of each number",
                            "The data");
        }
    }

    @Test
    void sameTrial_givesTheSameBytes() {
        Trial trial = trial(Path.of("testdata/metric"));
        assertThat(report(trial).pdf()).isEqualTo(Printed.of("metric").pdf());
    }

    @Test
    void numbersStayWhole() throws IOException {
        try (PDDocument pdf = Loader.loadPDF(Printed.of("demo").pdf())) {
            assertThat(new PDFTextStripper().getText(pdf).lines().map(String::strip))
                    // "(−6." at the end of a line; whole sentences may well end in a number and a point, lists begin so
                    .noneMatch(line -> line.matches(".*−\\d+\\."))
                    .noneMatch(line -> line.endsWith("−") || line.endsWith("results."));
        }
    }

    @Test
    void whatPeopleTypeBreaksNothing() throws IOException {
        Path folder = Files.createDirectory(above.resolve("odd"));
        try (Stream<Path> files = Files.list(Path.of("testdata/metric"))) {
            for (Path file : files.toList()) {
                Files.copy(file, folder.resolve(file.getFileName()));
            }
        }
        String title = "A & B <b>\"x\"</b> } */ \u0001\u0007 " + "long ".repeat(60);
        String trial = Files.readString(folder.resolve("trial.csv"));
        Files.writeString(
                folder.resolve("trial.csv"),
                trial.replaceFirst("(?m)^title,.*$", "title,\"" + title.replace("\"", "\"\"") + "\""));
        try (PDDocument pdf = Loader.loadPDF(report(trial(folder)).pdf())) {
            assertThat(bare(new PDFTextStripper().getText(pdf))).contains("A&B<b>\"x\"</b>}*/");
        }
    }

    @Test
    void severalDays_areOnPaperToo() throws IOException {
        List<Days.Folder> folders = Stream.of("monday", "thursday", "saturday")
                .map(day -> new Days.Folder(day, trial(Path.of("testdata/days", day))))
                .toList();
        Days days = Days.of(folders);
        Path page = DaysReport.of(days, List.of()).write(above.resolve("days"), true);
        assertThat(page.getFileName()).hasToString("days.html");
        try (PDDocument pdf = Loader.loadPDF(page.resolveSibling("days.pdf").toFile())) {
            String text = bare(new PDFTextStripper().getText(pdf));
            days.findings().forEach(f -> assertThat(text).contains(bare(f.sentence())));
            // the heading above it stood alone on a page laid on its side, and the table was cut off on an upright one
            assertThat(text).contains("WeatherMachinesCirclesDatacode");
            for (int i = 0; i < pdf.getNumberOfPages(); i++) {
                Letters letters = new Letters();
                letters.setStartPage(i + 1);
                letters.setEndPage(i + 1);
                assertThat(letters.getText(pdf).lines()).as("page %d", i + 1).hasSizeGreaterThan(6);
                assertThat(letters.rightmost)
                        .as("page %d", i + 1)
                        .isLessThan(pdf.getPage(i).getMediaBox().getWidth() - NARROWEST_MARGIN);
            }
            folders.forEach(f -> assertThat(text).contains(DataCode.of(f.trial())));
            assertThat(pdf.getDocumentCatalog().getStructureTreeRoot()).isNotNull();
            assertThat(text).contains("page1of" + pdf.getNumberOfPages());
        }
    }
}
