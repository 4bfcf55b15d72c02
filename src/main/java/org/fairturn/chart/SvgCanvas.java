package org.fairturn.chart;

import java.awt.Dimension;
import java.awt.Font;
import org.apache.batik.svggen.DOMGroupManager;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.w3c.dom.Element;

/** Writes what is painted as SVG; the words of {@link Look} as text, which can be searched, read aloud and marked. */
final class SvgCanvas extends SVGGraphics2D {
    SvgCanvas(SVGGeneratorContext context, int width, int height) {
        super(context, false);
        setSVGCanvasSize(new Dimension(width, height));
    }

    /**
     * A line of text in the colour that is set.
     *
     * @param advance its length in this machine's font
     * @param room that it may not outgrow in the font of whoever looks at it
     * @param anchor where x is: {@code start} or {@code end}
     */
    void words(String text, double x, double y, double advance, double room, Font font, String anchor) {
        setFont(font);
        Element element = getDOMFactory().createElementNS("http://www.w3.org/2000/svg", "text");
        element.setAttribute("x", SvgText.number(x));
        element.setAttribute("y", SvgText.number(y));
        element.setAttribute("text-anchor", anchor);
        element.setAttribute("xml:space", "preserve");
        if (advance > 0.9 * room) {
            element.setAttribute("textLength", SvgText.number(advance));
            element.setAttribute("lengthAdjust", "spacingAndGlyphs");
        }
        element.appendChild(getDOMFactory().createTextNode(SvgText.printable(text)));
        domGroupManager.addElement(element, DOMGroupManager.FILL);
    }
}
