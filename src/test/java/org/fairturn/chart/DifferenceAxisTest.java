package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.fairturn.chart.DifferenceAxis.Panel;
import org.fairturn.chart.DifferenceAxis.Row;
import org.fairturn.chart.DifferenceAxis.Words;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class DifferenceAxisTest {
    private static final Words WORDS = new Words("pairs", "Side by side", "Difference");
    private static final Panel PANEL = new Panel(
            "Basalt <25> less \"Alder\"",
            List.of(
                    new Row("on the whole", 0.05, -0.05, 0.15, true),
                    new Row("left 2WD", 0.2, 0.1, 0.3, false),
                    new Row("right 2WD", -0.01, -0.04, 0.02, false)));

    private static Drawing drawn(Panel... panels) {
        return DifferenceAxis.draw(WORDS, List.of(panels), 0.05, LengthUnit.MILLIMETRE)
                .orElseThrow();
    }

    private static List<Element> parts(SvgPage page, String element, String part) {
        return page.all(element).stream()
                .filter(e -> e.getAttribute("data-part").equals(part))
                .toList();
    }

    @Test
    void theBandIsTheMargin_onTheAxisOfTheIntervals() {
        SvgPage page = SvgPage.read(drawn(PANEL).svg());
        Element band = parts(page, "rect", "band").get(0);
        double left = SvgPage.number(band, "x");
        double right = left + SvgPage.number(band, "width");
        // the first interval reaches from the lower edge of the margin to three times its upper one; two hundredths of
        // a unit are the last digits written
        String interval = parts(page, "path", "interval").get(0).getAttribute("d");
        assertThat(Double.parseDouble(interval.replaceFirst("^M([-\\d.]+) .*$", "$1")))
                .isCloseTo(left, within(0.02));
        assertThat(Double.parseDouble(interval.replaceFirst(".*H", "")))
                .isCloseTo(left + 2 * (right - left), within(0.04));
        double mark = SvgPage.number(parts(page, "circle", "mark").get(0), "cx");
        assertThat(mark).isCloseTo(left + 2.5 * (right - left), within(0.05));
    }

    /** Numbers were cut to a tenth whatever the distance of the ticks, so that several in a row were the same. */
    @Test
    void ticks_haveAsManyDecimalsAsTellThemApart() {
        Row small = new Row("left 2WD", 0.0001, -0.0002, 0.0004, false);
        Drawing drawing = DifferenceAxis.draw(
                        WORDS, List.of(new Panel("Basalt 25 less Alder 22", List.of(small))), 0.0002, LengthUnit.INCH)
                .orElseThrow();
        assertThat(SvgPage.read(drawing.svg()).all("text").stream().map(Element::getTextContent))
                .containsOnlyOnce("−0.005", "0.000", "0.005", "0.010", "0.015");
    }

    /** A margin of half a millimetre stood there as ±0.0 in, and as ±0 mm where it was smaller still. */
    @Test
    void aSmallMarginOrInterval_isNotRoundedToNothing() {
        Row small = new Row("left 2WD", 0.0003, -0.0001, 0.0007, false);
        Panel panel = new Panel("Basalt 25 less Alder 22", List.of(small));
        Drawing inches = DifferenceAxis.draw(WORDS, List.of(panel), 0.0005, LengthUnit.INCH)
                .orElseThrow();
        assertThat(inches.description())
                .isEqualTo(
                        "Difference, with intervals, against the practical margin of 0.02 in. Basalt 25 less Alder 22,"
                                + " left 2WD: 0.01 in, between 0.00 and 0.03 in, on both sides of a margin.");
        assertThat(inches.svg()).contains("practical margin, ±0.02 in");
        Drawing millimetres = DifferenceAxis.draw(WORDS, List.of(panel), 0.0001, LengthUnit.MILLIMETRE)
                .orElseThrow();
        assertThat(millimetres.description())
                .isEqualTo(
                        "Difference, with intervals, against the practical margin of 0.1 mm. Basalt 25 less Alder 22,"
                                + " left 2WD: 0.3 mm, between −0.1 and 0.7 mm, on both sides of a margin.");
    }

    /** Nothing remains nothing, and what computing leaves of it too. */
    @Test
    void nothing_hasNoFurtherDigits() {
        assertThat(Shown.in(LengthUnit.INCH).text(0)).isEqualTo("0.0 in");
        assertThat(Shown.in(LengthUnit.MILLIMETRE).text(-1e-17)).isEqualTo("0 mm");
    }

    @Test
    void words_areText_inTheDrawingAndItsDescription() {
        Drawing drawing = drawn(PANEL);
        SvgPage page = SvgPage.read(drawing.svg());
        assertThat(page.all("text").stream().map(Element::getTextContent))
                .contains(
                        "Side by side",
                        "practical margin, ±50 mm",
                        "Basalt <25> less \"Alder\"",
                        "on the whole",
                        "−40 to 20 mm",
                        "Difference (mm)",
                        "100",
                        "0");
        assertThat(page.root().getAttribute("role")).isEqualTo("img");
        assertThat(page.ids()).doesNotHaveDuplicates().contains("pairs-title", "pairs-desc");
        assertThat(drawing.description())
                .isEqualTo(
                        "Difference, with intervals, against the practical margin of 50 mm. Basalt <25> less \"Alder\", on"
                                + " the whole: 50 mm, between −50 and 150 mm, on both sides of a margin. Basalt <25> less"
                                + " \"Alder\", left 2WD: 200 mm, between 100 and 300 mm, beyond the margin. Basalt <25> less"
                                + " \"Alder\", right 2WD: −10 mm, between −40 and 20 mm, within the margin.");
    }

    @Test
    void whereThereIsNoLine_nothingIsDrawn() {
        assertThat(DifferenceAxis.draw(WORDS, List.of(new Panel("A", List.of())), 0.05, LengthUnit.INCH))
                .isEmpty();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> DifferenceAxis.draw(WORDS, List.of(PANEL), 0, LengthUnit.INCH));
    }

    @Test
    void extremes_stayOnTheSheet() {
        Panel extreme = new Panel(
                "A heading that is much too long for any sheet of paper and goes on for ever",
                List.of(new Row("a day whose title takes up more than the whole line", -300, -310, -290, false)));
        SvgPage page = SvgPage.read(drawn(PANEL, extreme).svg());
        for (Element text : page.all("text")) {
            assertThat(SvgPage.number(text, "x")).isBetween(0.0, 480.0);
            assertThat(text.getTextContent().length()).isLessThanOrEqualTo(50);
        }
        assertThat(page.all("text").size()).isLessThan(25);
    }
}
