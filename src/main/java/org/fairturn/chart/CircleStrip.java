package org.fairturn.chart;

import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import org.fairturn.units.LengthUnit;

/** The readings of one circle on a line, with the circle's diameter and its interval below them. */
public final class CircleStrip {
    private static final double WIDTH = 480;
    private static final double EDGE = 40;
    private static final double HEIGHT = 112;
    private static final String READING = "#b84300";
    private static final String ESTIMATE = "#00734f";

    private CircleStrip() {}

    /**
     * Draws it.
     *
     * @param circle id
     * @param readings each as a diameter (m), one or more
     * @param estimate the circle's diameter (m), in [low, high]
     * @param low lower end of its interval (m)
     * @param high upper end (m)
     * @param unit the trial's
     * @return 480 units wide, for a phone
     */
    public static Drawing draw(
            String circle, List<Double> readings, double estimate, double low, double high, LengthUnit unit) {
        Shown.interval(low, high);
        double from = DoubleStream.concat(readings.stream().mapToDouble(d -> d), DoubleStream.of(low))
                .min()
                .orElseThrow();
        double to = DoubleStream.concat(readings.stream().mapToDouble(d -> d), DoubleStream.of(high))
                .max()
                .orElseThrow();
        double scale = (WIDTH - 2 * EDGE) / Math.max(to - from, 1e-6);
        Shown shown = Shown.in(unit);
        String title = "Readings of circle " + circle;
        String description = "Readings as diameters: "
                + String.join(", ", readings.stream().map(shown::text).toList()) + ". The circle: "
                + shown.text(estimate)
                + ", between " + shown.text(low) + " and " + shown.text(high) + ".";
        SvgText out = new SvgText();
        out.drawing("strip", title, description, WIDTH, HEIGHT, 19);
        out.paper(WIDTH, HEIGHT);
        out.holding("readings", "text x=8 y=19 fill={}", SvgText.QUIET);
        for (double reading : readings) {
            out.leaf(
                    "circle data-part=reading cx={} cy=38 r=7 fill={} fill-opacity=0.55 stroke={}",
                    EDGE + scale * (reading - from),
                    READING,
                    READING);
        }
        double left = EDGE + scale * (low - from);
        double right = EDGE + scale * (high - from);
        double middle = EDGE + scale * (estimate - from);
        out.leaf(
                "path data-part=interval d={} stroke={} stroke-width=3 fill=none",
                "M" + SvgText.number(left) + " 58v16m0 -8H" + SvgText.number(right) + "m0 -8v16",
                ESTIMATE);
        out.leaf("rect data-part=estimate x={} y=59 width=14 height=14 fill={}", middle - 7, ESTIMATE);
        out.holding(shown.text(low), "text x={} y=101 text-anchor=middle", held(left));
        if (right - left > 190) {
            out.holding(shown.text(high), "text x={} y=101 text-anchor=middle", held(right));
        }
        return new Drawing("strip", title, description, out.close("svg").toString(), Optional.empty());
    }

    /** So that a number never runs off the sheet. */
    private static double held(double x) {
        return Math.max(58, Math.min(WIDTH - 58, x));
    }
}
