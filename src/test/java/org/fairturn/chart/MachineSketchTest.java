package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.StringReader;
import java.util.List;
import java.util.OptionalDouble;
import javax.xml.parsers.DocumentBuilderFactory;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

class MachineSketchTest {
    private static Element svg(Drawing drawing) throws Exception {
        return DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(drawing.svg())))
                .getDocumentElement();
    }

    private static double number(Element element, String attribute) {
        return Double.parseDouble(element.getAttribute(attribute));
    }

    @Test
    void spindlesStandWhereTheirNumbersPutThem_atOneScale() throws Exception {
        Drawing drawing = MachineSketch.draw(new MachineSketch.Scene(
                "Alder <22>",
                OptionalDouble.of(1.45),
                OptionalDouble.empty(),
                OptionalDouble.of(-0.052),
                List.of(
                        new PlanView.BladeDisc("left", 0.6, 0.5, 0.25),
                        new PlanView.BladeDisc("right", 0.9, -0.3, 0.2)),
                LengthUnit.MILLIMETRE));
        NodeList circles = svg(drawing).getElementsByTagName("circle");
        assertThat(circles.getLength()).isEqualTo(2);
        Element left = (Element) circles.item(0);
        Element right = (Element) circles.item(1);
        double scale = number(left, "r") / 0.25;
        double hundredth = 0.02; // coordinates are written to a hundredth of a unit
        assertThat(number(right, "r")).isCloseTo(0.2 * scale, within(hundredth));
        assertThat(number(right, "cx") - number(left, "cx")).isCloseTo(0.8 * scale, within(hundredth));
        assertThat(number(left, "cy") - number(right, "cy")).isCloseTo(0.3 * scale, within(hundredth));
        // the outermost tips lie 0.75 m left and 0.5 m right: their middle 0.125 m left
        assertThat(drawing.description())
                .isEqualTo(
                        "The machine seen from above, forward up. L wheelbase: 1450 mm; T front track, tyre middle to"
                                + " tyre middle: not written yet; O deck offset: 52 mm right of the centreline; by the blades, the deck"
                                + " lies 125 mm left of the centreline; 1 left: A 600 mm, B 500 mm, R 250 mm; 2 right: A 900 mm,"
                                + " B −300 mm, R 200 mm.");
    }

    @Test
    void withoutNumbers_itStillShowsWhatToMeasure() throws Exception {
        MachineSketch.Scene blank = new MachineSketch.Scene(
                "", OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), List.of(), LengthUnit.INCH);
        assertThat(svg(MachineSketch.draw(blank)).getTextContent())
                .contains("rear axle", "centreline", "L wheelbase: not written yet");
        assertThat(svg(StopSketch.draw()).getTextContent()).contains("P protrusion", "king-pin axis");
    }
}
