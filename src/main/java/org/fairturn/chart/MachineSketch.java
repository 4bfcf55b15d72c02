package org.fairturn.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.fairturn.chart.PlanView.BladeDisc;
import org.fairturn.units.LengthUnit;

/**
 * What to measure on a machine: seen from above, forward up, with rear axle, centreline and spindles. What is known stands
 * where its numbers put it; the rest is a sketch.
 */
public final class MachineSketch {
    private static final double WIDTH = 480;
    private static final double MARGIN = 44;
    private static final double TALLEST = 430;
    private static final double LINE = 23;
    private static final String CUT = "#b84300";
    private static final String OFFSET = "#00734f";

    /** A deck of no machine in particular, so that there is something to point at. */
    private static final List<BladeDisc> EXAMPLE = List.of(
            new BladeDisc("1", 0.66, 0.5, 0.24),
            new BladeDisc("2", 0.86, 0.05, 0.24),
            new BladeDisc("3", 0.66, -0.4, 0.24));

    private static final double WHEELBASE = 1.5;
    private static final double TRACK = 0.95;

    private final Scene scene;
    private final Shown shown;
    private final SvgText out = new SvgText();
    private final List<BladeDisc> blades;
    private final double wheelbase;
    private final double track;
    private final double half;
    private final double front;
    private final double rear;
    private final double scale;

    /**
     * What is known of a machine.
     *
     * @param machine its name
     * @param wheelbase (m), in (0, ∞)
     * @param frontTrack (m), in (0, ∞)
     * @param deckOffset as stated (m), + to the left, finite
     * @param blades may be empty
     * @param shown the trial's length unit
     */
    public record Scene(
            String machine,
            OptionalDouble wheelbase,
            OptionalDouble frontTrack,
            OptionalDouble deckOffset,
            List<BladeDisc> blades,
            LengthUnit shown) {
        /**
         * Keeps its own copy of the list.
         *
         * @param machine its name
         * @param wheelbase (m), in (0, ∞)
         * @param frontTrack (m), in (0, ∞)
         * @param deckOffset as stated (m), + to the left, finite
         * @param blades may be empty
         * @param shown the trial's length unit
         * @throws IllegalArgumentException if wheelbase or track is not above 0, or the offset not finite
         */
        public Scene {
            wheelbase.ifPresent(value -> Shown.positive(value, "wheelbase"));
            frontTrack.ifPresent(value -> Shown.positive(value, "frontTrack"));
            deckOffset.ifPresent(value -> Shown.finite(value, "deckOffset"));
            blades = List.copyOf(blades);
        }
    }

    private MachineSketch(Scene scene) {
        this.scene = scene;
        this.shown = Shown.in(scene.shown());
        this.blades = scene.blades().isEmpty() ? EXAMPLE : scene.blades();
        this.wheelbase = scene.wheelbase().orElse(WHEELBASE);
        this.track = scene.frontTrack().orElse(TRACK);
        this.half = DoubleStream.concat(
                        DoubleStream.of(0.75 * track),
                        blades.stream().mapToDouble(blade -> Math.abs(blade.left()) + blade.tipRadius()))
                .max()
                .orElseThrow();
        this.front = DoubleStream.concat(
                        DoubleStream.of(wheelbase + 0.3 * track),
                        blades.stream().mapToDouble(blade -> blade.ahead() + blade.tipRadius()))
                .max()
                .orElseThrow();
        this.rear = DoubleStream.concat(
                        DoubleStream.of(-0.45 * track),
                        blades.stream().mapToDouble(blade -> blade.ahead() - blade.tipRadius()))
                .min()
                .orElseThrow();
        this.scale = Math.min((WIDTH - 2 * MARGIN) / (2 * half), TALLEST / (front - rear));
    }

    /**
     * Draws it; the drawing's name is {@code measure-} and the machine's name in letters fit for a file name.
     *
     * @param scene what is known of the machine
     * @return every dimension to measure, with its value or “not written yet”
     */
    public static Drawing draw(Scene scene) {
        String name = "measure-" + PlanView.slug(scene.machine());
        String title = scene.machine().isEmpty() ? "What to measure" : "What to measure on " + scene.machine();
        MachineSketch sketch = new MachineSketch(scene);
        List<String> key = sketch.key();
        String description = "The machine seen from above, forward up. " + String.join("; ", key) + ".";
        return new Drawing(name, title, description, sketch.svg(name, title, description, key), Optional.empty());
    }

    /** Middle between the outermost blade tips, + to the left (m). */
    private double centre() {
        return PlanView.deck(blades, 0).offset();
    }

    private List<String> key() {
        List<String> key = new ArrayList<>();
        key.add("L wheelbase: " + value(scene.wheelbase()));
        key.add("T front track, tyre middle to tyre middle: " + value(scene.frontTrack()));
        key.add("O deck offset: "
                + (scene.deckOffset().isPresent()
                        ? PlanView.offset(scene.deckOffset().getAsDouble(), shown)
                        : "not written yet"));
        if (scene.blades().isEmpty()) {
            key.add("of each blade: A spindle ahead of the rear axle,");
            key.add("B spindle left of the centreline, R tip radius");
        } else {
            key.add("by the blades, the deck lies " + PlanView.offset(centre(), shown));
            for (int i = 0; i < blades.size(); i++) {
                BladeDisc blade = blades.get(i);
                key.add((i + 1) + " " + blade.spindle() + ": A " + shown.text(blade.ahead()) + ", B "
                        + shown.text(blade.left()) + ", R " + shown.text(blade.tipRadius()));
            }
        }
        return key;
    }

    private String value(OptionalDouble metres) {
        return metres.isPresent() ? shown.text(metres.getAsDouble()) : "not written yet";
    }

    private double x(double left) {
        return WIDTH / 2 - scale * left;
    }

    private double y(double ahead) {
        return 58 + scale * (front - ahead);
    }

    private String svg(String name, String title, String description, List<String> key) {
        double bottom = y(rear) + 34;
        double height = bottom + LINE * key.size() + 14;
        out.drawing(name, title, description, WIDTH, height, 15);
        out.paper(WIDTH, height);
        out.holding("forward ↑", "text x={} y=22 text-anchor=middle fill={}", WIDTH / 2, SvgText.QUIET);
        chassis();
        deck();
        letters();
        for (int i = 0; i < key.size(); i++) {
            out.holding(Drawing.cut(key.get(i), 60), "text x=16 y={}", bottom + LINE * (i + 1));
        }
        return out.close("svg").toString();
    }

    private void line(double x1, double y1, double x2, double y2, String colour, double width, String dashes) {
        out.leaf(
                "path d={} stroke={} stroke-width={} stroke-dasharray={} fill=none",
                "M" + SvgText.number(x1) + " " + SvgText.number(y1) + "L" + SvgText.number(x2) + " "
                        + SvgText.number(y2),
                colour,
                width,
                dashes);
    }

    private void chassis() {
        line(x(0), y(front) - 12, x(0), y(rear) + 12, SvgText.QUIET, 1.4, "9 4 2 4");
        line(x(half), y(0), x(-half), y(0), SvgText.INK, 2.2, "none");
        line(x(track / 2), y(wheelbase), x(-track / 2), y(wheelbase), SvgText.QUIET, 1.6, "none");
        for (int side : List.of(1, -1)) {
            wheel(side * 0.5 * track, 0, 0.42 * track, 0.2 * track);
            wheel(side * 0.5 * track, wheelbase, 0.28 * track, 0.13 * track);
        }
        words("rear axle", Math.min(x(-half) + 6, WIDTH - 8), y(0) - 7, "end", SvgText.INK);
        words("centreline", x(0) + 6, y(rear) + 12, "start", SvgText.QUIET);
    }

    private void wheel(double left, double ahead, double halfLength, double width) {
        out.leaf(
                "rect x={} y={} width={} height={} rx=4 fill=#e4e9ee stroke={} stroke-width=1.4",
                x(left) - scale * width / 2,
                y(ahead) - scale * halfLength,
                scale * width,
                2 * scale * halfLength,
                SvgText.QUIET);
    }

    private void deck() {
        String dashes = scene.blades().isEmpty() ? "6 4" : "none";
        for (int i = 0; i < blades.size(); i++) {
            BladeDisc blade = blades.get(i);
            double cx = x(blade.left());
            double cy = y(blade.ahead());
            out.leaf(
                    "circle cx={} cy={} r={} fill=#b84300 fill-opacity=0.09 stroke={} stroke-width=1.8 stroke-dasharray={}",
                    cx,
                    cy,
                    scale * blade.tipRadius(),
                    CUT,
                    dashes);
            line(cx - 6, cy, cx + 6, cy, CUT, 1.8, "none");
            line(cx, cy - 6, cx, cy + 6, CUT, 1.8, "none");
            words(String.valueOf(i + 1), cx + 9, cy + 17, "start", CUT);
        }
        double middle = centre();
        double top = blades.stream()
                .mapToDouble(blade -> blade.ahead() + blade.tipRadius())
                .max()
                .orElseThrow();
        double bottom = blades.stream()
                .mapToDouble(blade -> blade.ahead() - blade.tipRadius())
                .min()
                .orElseThrow();
        line(x(middle), y(top) - 8, x(middle), y(bottom) + 8, OFFSET, 1.6, "3 3");
        words("O", x(middle) + (middle >= 0 ? -5 : 5), y(bottom) + 20, middle >= 0 ? "end" : "start", OFFSET);
    }

    /** Dimension lines of the blade farthest to the left, and of the chassis. */
    private void letters() {
        BladeDisc blade = blades.stream()
                .max((a, b) -> Double.compare(a.left(), b.left()))
                .orElseThrow();
        double cx = x(blade.left());
        double cy = y(blade.ahead());
        dimension(cx, y(0), cx, cy, "A");
        dimension(cx, cy, x(0), cy, "B");
        dimension(cx, cy, cx - 0.71 * scale * blade.tipRadius(), cy - 0.71 * scale * blade.tipRadius(), "R");
        double side = Math.min(x(-half) + 26, WIDTH - 18);
        dimension(side, y(0), side, y(wheelbase), "L");
        dimension(
                x(track / 2),
                y(wheelbase) - 0.3 * scale * track - 8,
                x(-track / 2),
                y(wheelbase) - 0.3 * scale * track - 8,
                "T");
    }

    private void dimension(double x1, double y1, double x2, double y2, String letter) {
        line(x1, y1, x2, y2, SvgText.INK, 1.2, "none");
        double length = Math.max(1, Math.hypot(x2 - x1, y2 - y1));
        double nx = 5 * (y2 - y1) / length;
        double ny = -5 * (x2 - x1) / length;
        line(x1 - nx, y1 - ny, x1 + nx, y1 + ny, SvgText.INK, 1.6, "none");
        line(x2 - nx, y2 - ny, x2 + nx, y2 + ny, SvgText.INK, 1.6, "none");
        words(letter, (x1 + x2) / 2 - 2.2 * Math.abs(nx), (y1 + y2) / 2 - 6, "middle", SvgText.INK);
    }

    private void words(String text, double x, double y, String anchor, String colour) {
        out.holding(
                text,
                "text x={} y={} text-anchor={} fill={} font-weight=bold stroke=#ffffff stroke-width=4 stroke-linejoin=round paint-order=stroke",
                x,
                y,
                anchor,
                colour);
    }
}
