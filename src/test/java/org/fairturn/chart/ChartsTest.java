package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class ChartsTest {
    private static final CirclePoint UNORDERED = new CirclePoint("A", 1.55, OptionalInt.empty());

    private static Drawing diameters(CellColumn... cells) {
        return Charts.diameters(List.of(cells), LengthUnit.MILLIMETRE).orElseThrow();
    }

    private static List<Drawing> samples() {
        return List.of(
                Charts.diameters(Samples.twoMachines(), LengthUnit.INCH).orElseThrow(),
                Charts.leftRight(Samples.decompositions(), 0.05, LengthUnit.FOOT)
                        .orElseThrow(),
                Charts.runOrder(Samples.twoMachines(), LengthUnit.METRE).orElseThrow(),
                PlanView.draw(Samples.scene()));
    }

    @Test
    void everyDrawing_standsInAPage_namedDescribedAndWithIdsOfItsOwn() {
        List<String> ids = new ArrayList<>();
        for (Drawing drawing : samples()) {
            assertThat(drawing.svg()).startsWith("<svg").doesNotContain("<!DOCTYPE", "<?xml", "<!--");
            assertThat(drawing.svgFile()).startsWith("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg");
            SvgPage page = SvgPage.read(drawing.svgFile());
            assertThat(page.root().getLocalName()).isEqualTo("svg");
            assertThat(page.root().getAttribute("role")).isEqualTo("img");
            assertThat(page.root().getAttribute("viewBox")).matches("0 0 480 \\d+(\\.\\d+)?");
            assertThat(page.root().hasAttribute("width")).isFalse();
            assertThat(page.root().hasAttribute("height")).isFalse();
            assertThat(page.text("title")).isEqualTo(drawing.title());
            assertThat(page.text("desc")).isEqualTo(drawing.description());
            assertThat(page.ids()).containsAll(SvgPage.words(page.root(), "aria-labelledby"));
            ids.addAll(page.ids());
        }
        assertThat(ids).hasSizeGreaterThanOrEqualTo(8).doesNotHaveDuplicates();
    }

    @Test
    void sameData_givesTheSameBytes_whateverTheLocale() {
        List<Drawing> first = samples();
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.forLanguageTag("ar-EG-u-nu-arab"));
            List<Drawing> second = samples();
            for (int i = 0; i < first.size(); i++) {
                assertThat(second.get(i).svg()).isEqualTo(first.get(i).svg());
                assertThat(second.get(i).description()).isEqualTo(first.get(i).description());
                assertThat(second.get(i).png().isPresent())
                        .isEqualTo(first.get(i).png().isPresent());
                if (first.get(i).png().isPresent()) {
                    assertThat(second.get(i).png().get())
                            .isEqualTo(first.get(i).png().get());
                }
            }
        } finally {
            Locale.setDefault(before);
        }
    }

    /** Only XChart's own numbers along an axis are outlines of letters. */
    @Test
    void words_areText_thatCanBeSearchedAndRead() {
        List<CellColumn> cells = Samples.twoMachines();
        SvgPage diameters = SvgPage.read(
                Charts.diameters(cells, LengthUnit.METRE).orElseThrow().svg());
        SvgPage order = SvgPage.read(
                Charts.runOrder(cells, LengthUnit.METRE).orElseThrow().svg());
        List<String> written =
                diameters.all("text").stream().map(Element::getTextContent).toList();
        assertThat(written).contains("Uncut diameter, cell by cell");
        assertThat(order.all("text").stream().map(Element::getTextContent)).contains("Circles in run order");
        for (CellColumn cell : cells) {
            assertThat(written).contains(cell.machine(), cell.name());
            assertThat(order.all("text").stream().map(Element::getTextContent))
                    .contains(cell.machine() + ", " + cell.name());
        }
    }

    /** Whoever looks at a chart may have wider letters than whoever drew it. */
    @Test
    void aLineThatFillsItsRoom_isHeldToItsLength_inAnyFont() {
        CellColumn cell = Samples.cell("Alder 22 " + "long ".repeat(20), "left 2WD", 1, 1, 61, 62);
        Element heading =
                SvgPage.read(Charts.diameters(List.of(cell), LengthUnit.INCH)
                                .orElseThrow()
                                .svg())
                        .all("text")
                        .stream()
                        .filter(text -> text.getTextContent().startsWith("Alder 22"))
                        .findFirst()
                        .orElseThrow();
        assertThat(heading.getTextContent()).endsWith("…");
        assertThat(SvgPage.number(heading, "textLength")).isBetween(300.0, 480.0 - SvgPage.number(heading, "x"));
        assertThat(heading.getAttribute("lengthAdjust")).isEqualTo("spacingAndGlyphs");
    }

    @Test
    void png_isTheSamePictureAtTwiceTheSize() throws IOException {
        for (Drawing drawing : samples().subList(0, 3)) {
            BufferedImage image =
                    ImageIO.read(new ByteArrayInputStream(drawing.png().orElseThrow()));
            List<String> box = SvgPage.words(SvgPage.read(drawing.svg()).root(), "viewBox");
            assertThat(image.getWidth()).isEqualTo(2 * Integer.parseInt(box.get(2)));
            assertThat(image.getHeight()).isEqualTo(2 * Integer.parseInt(box.get(3)));
            assertThat(image.getRGB(0, 0)).isEqualTo(0xFFFFFFFF);
            long inked = Stream.iterate(0, i -> i + 1)
                    .limit(image.getWidth())
                    .filter(x -> image.getRGB(x, 50) != 0xFFFFFFFF)
                    .count();
            assertThat(inked).as("pixels of the title").isGreaterThan(100);
        }
    }

    @Test
    void diameters_saysWhatWasFound() {
        CellColumn left = new CellColumn(
                "Alder 22",
                "left 2WD",
                1.5494,
                1.4503,
                1.6485,
                List.of(
                        new CirclePoint("A", 1.5392, OptionalInt.of(1)),
                        new CirclePoint("B", 1.5596, OptionalInt.of(2))));
        CellColumn right = new CellColumn("Alder 22", "right 2WD", 1.5, 1.4, 1.6, List.of(UNORDERED));
        CellColumn none = new CellColumn("Birch 25", "left 4WD", 1.7, 1.6, 1.8, List.of());
        List<CellColumn> cells = List.of(left, right, none);
        assertThat(Charts.diameters(cells, LengthUnit.INCH).orElseThrow().description())
                .isEqualTo("Estimate and interval of each cell, and every circle."
                        + " Alder 22, left 2WD: 61.0 in, between 57.1 and 64.9 in; 2 circles: 60.6 in, 61.4 in."
                        + " Alder 22, right 2WD: 59.1 in, between 55.1 and 63.0 in; one circle: 61.0 in."
                        + " Birch 25, left 4WD: 66.9 in, between 63.0 and 70.9 in; no circle.");
        assertThat(Charts.diameters(cells, LengthUnit.METRE).orElseThrow().description())
                .contains("Alder 22, left 2WD: 1549 mm, between 1450 and 1649 mm; 2 circles: 1539 mm, 1560 mm.");
    }

    @Test
    void leftRight_saysWhatExplainsWhat_andWhereTheRemainderLies() {
        List<Decomposition> subjects = List.of(
                new Decomposition(
                        "Alder 22, 2WD",
                        -0.080,
                        0.055,
                        OptionalDouble.of(-0.012),
                        -0.062,
                        0.018,
                        -0.006,
                        -0.046,
                        0.034),
                new Decomposition("Alder 22, 4WD", -0.080, 0.055, OptionalDouble.empty(), -0.02, 0, -0.06, -0.12, 0.01),
                new Decomposition("Birch 25, 2WD", 0.131, 0.055, OptionalDouble.empty(), 0, 0.018, 0.131, 0.07, 0.19));
        assertThat(Charts.leftRight(subjects, 0.05, LengthUnit.MILLIMETRE)
                        .orElseThrow()
                        .description())
                .isEqualTo("Uncut diameter in the right turn minus that in the left turn, and what explains it;"
                        + " the practical margin is ±50 mm."
                        + " Alder 22, 2WD: measured −80 ± 55 mm; the designed lock angles explain −12 mm, the deck offset"
                        + " explains −62 ± 18 mm; −6 mm remains unexplained, between −46 and 34 mm, inside the practical"
                        + " margin."
                        + " Alder 22, 4WD: measured −80 ± 55 mm; the deck offset explains −20 mm; −60 mm remains"
                        + " unexplained, between −120 and 10 mm, partly outside the practical margin."
                        + " Birch 25, 2WD: measured 131 ± 55 mm; the deck offset explains 0 ± 18 mm; 131 mm remains"
                        + " unexplained, between 70 and 190 mm, outside the practical margin.");
    }

    @Test
    void runOrder_listsCirclesAsTheyWereMowed_andLeavesOutThoseWithoutAnOrder() {
        CellColumn cell = new CellColumn(
                "Alder 22",
                "left 2WD",
                1.55,
                1.5,
                1.6,
                List.of(
                        new CirclePoint("B", 1.56, OptionalInt.of(7)),
                        UNORDERED,
                        new CirclePoint("A", 1.54, OptionalInt.of(3))));
        CellColumn other = new CellColumn("Alder 22", "right 2WD", 1.55, 1.5, 1.6, List.of(UNORDERED));
        assertThat(Charts.runOrder(List.of(cell, other), LengthUnit.MILLIMETRE)
                        .orElseThrow()
                        .description())
                .isEqualTo("Diameter of each circle in the order they were mowed."
                        + " Alder 22, left 2WD: 1540 mm (run 3), 1560 mm (run 7).");
    }

    @Test
    void nothingToShow_givesNoChart() {
        assertThat(Charts.diameters(List.of(), LengthUnit.INCH)).isEmpty();
        assertThat(Charts.leftRight(List.of(), 0.05, LengthUnit.INCH)).isEmpty();
        assertThat(Charts.runOrder(List.of(), LengthUnit.INCH)).isEmpty();
        CellColumn one = Samples.cell("Alder 22", "left 2WD", 1, 1, 61);
        CellColumn unordered = new CellColumn("Alder 22", "right 2WD", 1.5, 1.4, 1.6, List.of(UNORDERED));
        assertThat(Charts.runOrder(List.of(one, unordered), LengthUnit.INCH)).isEmpty();
    }

    @Test
    void circlesOfOneRun_orOneDiameter_areDrawn() {
        CirclePoint twin = new CirclePoint("A", 1.5, OptionalInt.of(4));
        CellColumn cell = new CellColumn("Alder 22", "left 2WD", 1.5, 1.5, 1.5, List.of(twin, twin));
        assertThat(Charts.runOrder(List.of(cell), LengthUnit.INCH)).isPresent();
        assertThat(diameters(cell).description()).contains("1500 mm, between 1500 and 1500 mm");
    }

    @Test
    void everyCircleAndEveryCell_leavesItsMark() {
        CellColumn bare = new CellColumn("Alder 22", "left 2WD", 1.5, 1.4, 1.6, List.of());
        CellColumn full = new CellColumn(
                "Alder 22",
                "left 2WD",
                1.5,
                1.4,
                1.6,
                List.of(
                        new CirclePoint("A", 1.45, OptionalInt.empty()),
                        new CirclePoint("B", 1.55, OptionalInt.empty())));
        // a hollow circle is painted twice, white and outlined; the estimate is one filled circle
        assertThat(SvgPage.read(diameters(bare).svg()).all("circle")).hasSize(1);
        assertThat(SvgPage.read(diameters(full).svg()).all("circle")).hasSize(1 + 2 * 2);
    }

    @Test
    void fromOneCellToTwelve_fromAHandsBreadthToAField_everyChartIsDrawn() {
        for (double diameter : new double[] {0.2, 1.5, 200}) {
            for (int count : new int[] {1, 12}) {
                List<CellColumn> cells = new ArrayList<>();
                List<Decomposition> parts = new ArrayList<>();
                for (int i = 0; i < count; i++) {
                    double d = diameter * (1 + 0.01 * i);
                    cells.add(new CellColumn(
                            "machine " + i / 4,
                            "cell " + i,
                            d,
                            d * 0.9,
                            d * 1.2,
                            List.of(
                                    new CirclePoint("a", d, OptionalInt.of(i + 1)),
                                    new CirclePoint("b", d * 1.01, OptionalInt.of(40 - i)))));
                    parts.add(new Decomposition("machine " + i, d, 0, OptionalDouble.of(d), 0, 0, 0, 0, 0));
                }
                LengthUnit unit = count == 1 ? LengthUnit.INCH : LengthUnit.MILLIMETRE;
                List<Drawing> drawings = List.of(
                        Charts.diameters(cells, unit).orElseThrow(),
                        Charts.leftRight(parts, count == 1 ? 0 : 0.05, unit).orElseThrow(),
                        Charts.runOrder(cells, unit).orElseThrow());
                for (Drawing drawing : drawings) {
                    SvgPage page = SvgPage.read(drawing.svg());
                    // title, axis title and tick labels at least
                    assertThat(page.all("path")).as(drawing.description()).hasSizeGreaterThan(8);
                    assertThat(drawing.svg()).doesNotContain("NaN", "Infinity");
                }
            }
        }
    }

    @Test
    void namesWithMarkup_andCharactersXmlCannotHold_comeThrough() {
        String machine = "<b>Ålder & \"Söhne\"</b> 🚜 " + "long ".repeat(20);
        CellColumn cell = Samples.cell(machine + "\u0007", "left \uD800 2WD", 1, 1, 61, 62);
        for (Drawing drawing : List.of(
                Charts.diameters(List.of(cell), LengthUnit.INCH).orElseThrow(),
                Charts.runOrder(List.of(cell), LengthUnit.INCH).orElseThrow())) {
            assertThat(SvgPage.read(drawing.svg()).text("desc")).contains(machine + "?, left ? 2WD: 6");
        }
    }

    @Test
    void whatIsNoNumber_isRefusedByName() {
        assertThatThrownBy(() -> new CirclePoint("A", Double.NaN, OptionalInt.empty()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("diameter is NaN m; must be finite");
        assertThatThrownBy(() -> new CellColumn("m", "c", 1, 2, 1, List.of()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("low is 2.0 m; must be in (−∞, 1.0] m, up to high");
        assertThatThrownBy(() -> Charts.leftRight(List.of(), -0.05, LengthUnit.INCH))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("practicalMargin is -0.05 m; must be in [0, ∞) m");
    }

    @Test
    void pngOfADrawing_cannotBeChangedFromOutside() {
        Drawing drawing = diameters(Samples.cell("Alder 22", "left 2WD", 1, 1, 61));
        drawing.png().orElseThrow()[0] = 0;
        assertThat(drawing.png().orElseThrow()[0]).isEqualTo((byte) 0x89);
    }
}
