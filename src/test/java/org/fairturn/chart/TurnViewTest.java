package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalDouble;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

class TurnViewTest {
    private static TurnView.Scene scene(int side) {
        return new TurnView.Scene(
                "Cedar <20>",
                side > 0 ? "left turn, 2WD" : "right turn, 2WD",
                side,
                1.5,
                false,
                0.1,
                OptionalDouble.of(1.6),
                OptionalDouble.of(1.0),
                List.of(new PlanView.BladeDisc("middle", 1.0, 0.3 * side, 0.5)),
                List.of(
                        new TurnView.Ring("uncut circle", 2, true, false),
                        new TurnView.Ring("turning circle", 5, false, true)),
                LengthUnit.MILLIMETRE);
    }

    private static Element part(SvgPage page, String element, String part, int index) {
        return page.all(element).stream()
                .filter(e -> e.getAttribute("data-part").equals(part))
                .toList()
                .get(index);
    }

    /** The triangles 3-4-5: what the numbers say must touch, touches. */
    @Test
    void wheelAndBladeTip_lieOnTheirCircles() {
        for (int side : new int[] {1, -1}) {
            SvgPage page = SvgPage.read(TurnView.draw(scene(side)).svg());
            Element ring = part(page, "circle", "ring", 0);
            Element disc = part(page, "circle", "disc", 0);
            double scale = SvgPage.number(ring, "r") / 2.5;
            double written = 0.03; // coordinates are written to a hundredth
            assertThat(SvgPage.number(disc, "r")).isCloseTo(scale, within(written));
            double cx = SvgPage.number(ring, "cx");
            double cy = SvgPage.number(ring, "cy");
            Element outer = part(page, "circle", "wheel", side > 0 ? 1 : 0);
            assertThat(Math.hypot(SvgPage.number(outer, "cx") - cx, SvgPage.number(outer, "cy") - cy))
                    .isCloseTo(2.5 * scale, within(written));
            Element blade = part(page, "circle", "blade", 0);
            assertThat(Math.hypot(SvgPage.number(blade, "cx") - cx, SvgPage.number(blade, "cy") - cy)
                            - SvgPage.number(blade, "r"))
                    .isCloseTo(scale, within(written));
            assertThat((SvgPage.number(blade, "cx") - cx) * side)
                    .as("the turn centre lies on the side the machine is steered to")
                    .isPositive();
        }
    }

    @Test
    void itSaysInWords_whatItShows() {
        Drawing drawing = TurnView.draw(scene(1));
        SvgPage page = SvgPage.read(drawing.svgFile());
        assertThat(drawing.name()).isEqualTo("turn-left");
        assertThat(page.text("title")).isEqualTo("Cedar <20>, left turn, 2WD: its circles");
        assertThat(page.text("desc"))
                .isEqualTo(
                        "Seen from above, to scale, around one turn centre: turn radius 1500 mm, uncut circle 2000 mm,"
                                + " turning circle 5000 mm. Converted from the turning circle. The outline of the machine is a"
                                + " sketch.");
        assertThat(page.root().getAttribute("role")).isEqualTo("img");
        assertThat(page.all("text"))
                .extracting(Element::getTextContent)
                .contains("a  uncut circle 2000 mm", "b  turning circle 5000 mm", "R  turn radius 1500 mm");
        assertThat(page.all("text").stream()
                        .filter(t -> t.getAttribute("font-weight").equals("bold"))
                        .map(Element::getTextContent))
                .contains("b  turning circle 5000 mm")
                .doesNotContain("a  uncut circle 2000 mm");
    }
}
