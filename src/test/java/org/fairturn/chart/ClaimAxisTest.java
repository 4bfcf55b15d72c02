package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.fairturn.chart.ClaimAxis.Panel;
import org.fairturn.chart.ClaimAxis.Row;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class ClaimAxisTest {
    private static final Panel PANEL = new Panel(
            "Alder <22> & \"co\"",
            List.of(new Row("left 2WD", 1.6, 1.55, 1.65), new Row("right 2WD", 1.8, 1.75, 1.85)),
            List.of(new Row("C1 brochure, as right 2WD", 1.7, 1.6, 1.8)));

    private static Drawing drawn() {
        return ClaimAxis.draw(List.of(PANEL), LengthUnit.MILLIMETRE).orElseThrow();
    }

    @Test
    void leads_startAtTheMeasuredMarks_andTheClaimStandsBetweenThem() {
        SvgPage page = SvgPage.read(drawn().svg());
        List<Element> leads = page.all("path").stream()
                .filter(p -> p.getAttribute("data-part").equals("lead"))
                .toList();
        assertThat(leads).hasSize(2);
        double left = start(leads.get(0));
        double right = start(leads.get(1));
        Element claim = page.all("path").stream()
                .filter(p -> p.getAttribute("data-part").equals("interval"))
                .reduce((a, b) -> b)
                .orElseThrow();
        // its interval reaches from one measured diameter to the other; a hundredth of a unit is the last digit written
        assertThat(start(claim)).isCloseTo(left, within(0.02));
        assertThat(Double.parseDouble(claim.getAttribute("d").replaceFirst(".*H", "")))
                .isCloseTo(right, within(0.02));
    }

    private static double start(Element path) {
        return Double.parseDouble(path.getAttribute("d").replaceFirst("^M([-\\d.]+) .*$", "$1"));
    }

    @Test
    void words_areText_inTheDrawingAndItsDescription() {
        Drawing drawing = drawn();
        SvgPage page = SvgPage.read(drawing.svg());
        List<String> texts =
                page.all("text").stream().map(Element::getTextContent).toList();
        assertThat(texts).contains("Alder <22> & \"co\"", "left 2WD", "C1 brochure, as right 2WD", "1600 to 1800 mm");
        assertThat(page.ids()).doesNotHaveDuplicates();
        assertThat(drawing.description())
                .isEqualTo(
                        "Uncut diameters with their intervals, measured and claimed. Alder <22> & \"co\", measured, left 2WD: 1600"
                                + " mm, between 1550 and 1650 mm. Alder <22> & \"co\", measured, right 2WD: 1800 mm, between 1750"
                                + " and 1850 mm. Alder <22> & \"co\", claimed, C1 brochure, as right 2WD: 1700 mm, between 1600"
                                + " and 1800 mm.");
    }

    @Test
    void whereNothingIsClaimedOrMeasured_nothingIsDrawn() {
        assertThat(ClaimAxis.draw(List.of(), LengthUnit.INCH)).isEmpty();
        assertThat(ClaimAxis.draw(List.of(new Panel("A", PANEL.measured(), List.of())), LengthUnit.INCH))
                .isEmpty();
        assertThat(ClaimAxis.draw(List.of(new Panel("A", List.of(), PANEL.claimed())), LengthUnit.INCH))
                .isEmpty();
    }

    @Test
    void extremes_stayOnTheSheet() {
        Panel extreme = new Panel(
                "A name that is much too long for any sheet of paper and goes on for ever",
                List.of(new Row("left 2WD", 1.6, 1.6, 1.6)),
                List.of(new Row("a claimant whose name takes up the whole line, as left 2WD", 300, 290, 310)));
        SvgPage page = SvgPage.read(
                ClaimAxis.draw(List.of(extreme), LengthUnit.INCH).orElseThrow().svg());
        for (Element text : page.all("text")) {
            assertThat(SvgPage.number(text, "x")).isBetween(0.0, 480.0);
            assertThat(text.getTextContent().length()).isLessThanOrEqualTo(50);
        }
        assertThat(page.all("text").size()).isLessThan(25);
    }
}
