package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class DriftChartTest {
    private static final LocalDate DAY = LocalDate.of(2026, 4, 1);
    private static final DriftChart.Limits LIMITS = new DriftChart.Limits(0.005, 0.01, 0.02);

    private static DriftChart.Point point(int day, double value) {
        return new DriftChart.Point(DAY.plusDays(day), value, day < 2 ? Optional.empty() : Optional.of(LIMITS));
    }

    private static SvgPage page(LengthUnit unit, DriftChart.Point... points) {
        return SvgPage.read(DriftChart.draw(
                        List.of(
                                new DriftChart.Panel("Circle <to> circle", List.of(points)),
                                new DriftChart.Panel("Reading to reading", List.of())),
                        "What was found.",
                        unit)
                .orElseThrow()
                .svg());
    }

    private static List<Element> parts(SvgPage page, String element, String part) {
        return page.all(element).stream()
                .filter(e -> e.getAttribute("data-part").equals(part))
                .toList();
    }

    @Test
    void whatLiesOutsideItsLimits_hasAnotherShape() {
        SvgPage page = page(
                LengthUnit.MILLIMETRE,
                point(0, 0.03),
                point(1, 0.01),
                point(2, 0.01),
                point(3, 0.021),
                point(4, 0.004));
        assertThat(parts(page, "circle", "inside")).hasSize(3);
        assertThat(parts(page, "path", "outside")).hasSize(2);
        assertThat(parts(page, "rect", "limits")).hasSize(3);
    }

    @Test
    void halfAndDouble_lieEquallyFar() {
        SvgPage page = page(LengthUnit.MILLIMETRE, point(0, 0.005), point(10, 0.01), point(20, 0.02));
        List<Element> points = parts(page, "circle", "inside");
        double low = SvgPage.number(points.get(0), "cy");
        double middle = SvgPage.number(points.get(1), "cy");
        double high = SvgPage.number(points.get(2), "cy");
        assertThat(low - middle).isCloseTo(middle - high, within(0.02)).isPositive();
        double x0 = SvgPage.number(points.get(0), "cx");
        double x1 = SvgPage.number(points.get(1), "cx");
        assertThat(SvgPage.number(points.get(2), "cx") - x1).isCloseTo(x1 - x0, within(0.02));
        Element limits = parts(page, "rect", "limits").get(0);
        assertThat(SvgPage.number(limits, "y")).isCloseTo(high, within(0.02));
        assertThat(SvgPage.number(limits, "y") + SvgPage.number(limits, "height"))
                .isCloseTo(low, within(0.02));
    }

    /** Where only some trials tell of a panel its dates stood at the ends of the axis, which is that of all panels. */
    @Test
    void datesStandBelowTheirTrials_alsoWhereAPanelBeginsLaterThanAnother() {
        SvgPage page = SvgPage.read(DriftChart.draw(
                        List.of(
                                new DriftChart.Panel("Circle to circle", List.of(point(0, 0.01), point(40, 0.01))),
                                new DriftChart.Panel("Reading to reading", List.of(point(10, 0.01), point(39, 0.01)))),
                        "What was found.",
                        LengthUnit.MILLIMETRE)
                .orElseThrow()
                .svg());
        for (int day : List.of(0, 10, 39, 40)) {
            Element trial =
                    parts(page, "circle", "inside").get(List.of(0, 40, 10, 39).indexOf(day));
            Element date = page.all("text").stream()
                    .filter(t -> t.getTextContent().equals(DAY.plusDays(day).toString()))
                    .findFirst()
                    .orElseThrow();
            assertThat(SvgPage.number(date, "x"))
                    .as("day %d", day)
                    .isCloseTo(SvgPage.number(trial, "cx"), within(10.01));
        }
    }

    @Test
    void oneTrial_orOnesThatAgreeToTheDigit_areDrawn_andNoneAreNot() {
        assertThat(parts(page(LengthUnit.INCH, point(0, 0)), "circle", "inside"))
                .hasSize(1);
        assertThat(parts(page(LengthUnit.INCH, point(0, 0), point(0, 0.3)), "circle", "inside"))
                .hasSize(2);
        assertThat(DriftChart.draw(List.of(new DriftChart.Panel("none", List.of())), "", LengthUnit.INCH))
                .isEmpty();
    }
}
