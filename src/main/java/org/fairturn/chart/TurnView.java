package org.fairturn.chart;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.fairturn.units.LengthUnit;

/**
 * The circles of one turn of a machine seen from above, to scale, around one turn centre: which of them is the uncut disc, and
 * what wheel or corner draws the others. The outline of the machine is a sketch.
 */
public final class TurnView {
    private static final double WIDTH = 480;
    private static final double MARGIN = 16;
    private static final double TOP = 44;
    private static final double LINE = 26;
    private static final String ASKED = "#b84300";
    private static final String GRASS = "#00734f";
    private static final List<String> DASHES = List.of("none", "9 4", "2 4", "12 4 2 4");

    private final Scene scene;
    private final Shown shown;
    private final SvgText out = new SvgText();
    private final double scale;
    private final double centreX;
    private final double centreY;

    /**
     * A circle around the turn centre.
     *
     * @param label such as {@code turning circle}
     * @param diameter (m), in (0, ∞)
     * @param uncut whether it is the disc of standing grass
     * @param asked whether it is the figure that was converted
     */
    public record Ring(String label, double diameter, boolean uncut, boolean asked) {
        /**
         * Checks what it is given.
         *
         * @param label such as {@code turning circle}
         * @param diameter (m), in (0, ∞)
         * @param uncut whether it is the disc of standing grass
         * @param asked whether it is the figure that was converted
         * @throws IllegalArgumentException if the diameter is not above 0
         */
        public Ring {
            Shown.positive(diameter, "diameter");
        }
    }

    /**
     * What is drawn.
     *
     * @param machine its name
     * @param turn such as {@code left turn, 2WD}
     * @param side +1 left, −1 right
     * @param turnRadius R (m), in [0, ∞)
     * @param radiusAsked whether R is the figure that was converted
     * @param shift how far the turn centre lies ahead of the rear axle (m)
     * @param wheelbase (m), in (0, ∞), where known
     * @param frontTrack (m), in (0, ∞), where known
     * @param blades may be empty
     * @param rings those that are known
     * @param shown the length unit
     */
    public record Scene(
            String machine,
            String turn,
            int side,
            double turnRadius,
            boolean radiusAsked,
            double shift,
            OptionalDouble wheelbase,
            OptionalDouble frontTrack,
            List<PlanView.BladeDisc> blades,
            List<Ring> rings,
            LengthUnit shown) {
        /**
         * Keeps its own copy of the lists.
         *
         * @param machine its name
         * @param turn such as {@code left turn, 2WD}
         * @param side +1 left, −1 right
         * @param turnRadius R (m), in [0, ∞)
         * @param radiusAsked whether R is the figure that was converted
         * @param shift how far the turn centre lies ahead of the rear axle (m)
         * @param wheelbase (m), in (0, ∞), where known
         * @param frontTrack (m), in (0, ∞), where known
         * @param blades may be empty
         * @param rings those that are known
         * @param shown the length unit
         * @throws IllegalArgumentException if the turn radius is below 0 or the shift not finite
         */
        public Scene {
            Shown.notNegative(turnRadius, "turnRadius");
            Shown.finite(shift, "shift");
            blades = List.copyOf(blades);
            rings = List.copyOf(rings);
        }
    }

    private TurnView(Scene scene) {
        this.scene = scene;
        this.shown = Shown.in(scene.shown());
        double track = scene.frontTrack().orElse(1);
        double reach = scene.rings().stream()
                .mapToDouble(ring -> ring.diameter() / 2)
                .reduce(scene.turnRadius() + track, Math::max);
        scale = (WIDTH - 2 * MARGIN) / (2 * reach);
        centreX = WIDTH / 2;
        centreY = TOP + scale * reach;
    }

    /**
     * Draws the scene; the drawing's name is {@code turn-} and left or right.
     *
     * @param scene one turn and its circles
     * @return seen from above, to scale
     */
    public static Drawing draw(Scene scene) {
        String name = scene.side() > 0 ? "turn-left" : "turn-right";
        String title = scene.machine() + ", " + scene.turn() + ": its circles";
        Shown shown = Shown.in(scene.shown());
        String rings = scene.rings().stream()
                .map(ring -> ring.label() + " " + shown.text(ring.diameter()))
                .collect(Collectors.joining(", "));
        String asked = scene.rings().stream()
                .filter(Ring::asked)
                .map(Ring::label)
                .findFirst()
                .orElse("turn radius");
        String description = "Seen from above, to scale, around one turn centre: turn radius "
                + shown.text(scene.turnRadius()) + (rings.isEmpty() ? "" : ", " + rings) + ". Converted from the "
                + asked
                + ". The outline of the machine is a sketch.";
        return new Drawing(
                name, title, description, new TurnView(scene).svg(name, title, description), Optional.empty());
    }

    private String svg(String name, String title, String description) {
        double keyTop = 2 * centreY - TOP + 20;
        double height = keyTop + LINE * (scene.rings().size() + 1) + 12;
        out.drawing(name, title, description, WIDTH, height, 15);
        out.paper(WIDTH, height);
        out.holding(
                Drawing.cut(scene.machine(), 24) + ", " + scene.turn(),
                "text x={} y=28 font-size=18 font-weight=bold",
                MARGIN);
        for (int i = 0; i < scene.rings().size(); i++) {
            ring(i, scene.rings().get(i));
        }
        machine();
        radius();
        double y = keyTop + 10;
        for (int i = 0; i < scene.rings().size(); i++) {
            Ring ring = scene.rings().get(i);
            sample(i, ring, y);
            text(letter(i) + "  " + ring.label() + " " + shown.text(ring.diameter()), MARGIN + 40, y, ring.asked());
            y += LINE;
        }
        line(
                MARGIN,
                y - 5,
                MARGIN + 30,
                y - 5,
                scene.radiusAsked() ? ASKED : SvgText.INK,
                scene.radiusAsked() ? 3.5 : 2);
        text("R  turn radius " + shown.text(scene.turnRadius()), MARGIN + 40, y, scene.radiusAsked());
        return out.close("svg").toString();
    }

    private static String letter(int i) {
        return String.valueOf((char) ('a' + i));
    }

    private double x(double left) {
        return centreX + scale * (scene.side() * scene.turnRadius() - left);
    }

    private double y(double ahead) {
        return centreY + scale * (scene.shift() - ahead);
    }

    private static String colour(Ring ring) {
        return ring.asked() ? ASKED : ring.uncut() ? GRASS : SvgText.INK;
    }

    private void ring(int i, Ring ring) {
        double r = scale * ring.diameter() / 2;
        out.leaf(
                "circle data-part={} cx={} cy={} r={} fill={} stroke={} stroke-width={} stroke-dasharray={}",
                ring.uncut() ? "disc" : "ring",
                centreX,
                centreY,
                r,
                ring.uncut() ? "#e3f1ea" : "none",
                colour(ring),
                ring.asked() ? 3.5 : 2.0,
                DASHES.get(i % DASHES.size()));
        double angle = Math.toRadians(15 + 25 * i); // letters stand apart, on the side away from the machine
        words(letter(i), centreX - scene.side() * r * Math.cos(angle), centreY - r * Math.sin(angle) + 5, ring.asked());
    }

    private void sample(int i, Ring ring, double y) {
        out.leaf(
                "path d={} stroke={} stroke-width={} fill=none stroke-dasharray={}",
                "M" + SvgText.number(MARGIN) + " " + SvgText.number(y - 5) + "h30",
                colour(ring),
                ring.asked() ? 3.5 : 2.0,
                DASHES.get(i % DASHES.size()));
    }

    private void machine() {
        double half = scene.frontTrack().orElse(1) / 2;
        scene.wheelbase().ifPresent(wheelbase -> {
            out.leaf(
                    "rect data-part=body x={} y={} width={} height={} fill=#eceff2 stroke={}",
                    x(half / 2),
                    y(1.2 * wheelbase),
                    scale * half,
                    scale * 1.4 * wheelbase,
                    SvgText.QUIET);
            line(x(half), y(wheelbase), x(-half), y(wheelbase), SvgText.QUIET, 2);
            for (int wheel : new int[] {1, -1}) {
                out.leaf(
                        "circle data-part=wheel cx={} cy={} r=3.5 fill={}",
                        x(wheel * half),
                        y(wheelbase),
                        SvgText.QUIET);
            }
        });
        line(x(half), y(0), x(-half), y(0), SvgText.INK, 4);
        for (PlanView.BladeDisc blade : scene.blades()) {
            out.leaf(
                    "circle data-part=blade cx={} cy={} r={} fill=#ffffff fill-opacity=0.8 stroke={} stroke-width=1.6",
                    x(blade.left()),
                    y(blade.ahead()),
                    scale * blade.tipRadius(),
                    SvgText.QUIET);
        }
    }

    private void radius() {
        line(centreX, y(0), x(0), y(0), scene.radiusAsked() ? ASKED : SvgText.INK, scene.radiusAsked() ? 3.5 : 2);
        line(centreX - 8, centreY, centreX + 8, centreY, SvgText.INK, 2.5);
        line(centreX, centreY - 8, centreX, centreY + 8, SvgText.INK, 2.5);
        words("R", (centreX + x(0)) / 2, y(0) + 18, scene.radiusAsked());
    }

    private void line(double x1, double y1, double x2, double y2, String colour, double width) {
        out.leaf("line x1={} y1={} x2={} y2={} stroke={} stroke-width={}", x1, y1, x2, y2, colour, width);
    }

    private void text(String text, double x, double y, boolean bold) {
        out.holding(text, "text x={} y={} font-weight={}", x, y, bold ? "bold" : "normal");
    }

    private void words(String text, double x, double y, boolean bold) {
        out.holding(
                text,
                "text x={} y={} text-anchor=middle font-weight={} stroke=#ffffff stroke-width=4 stroke-linejoin=round paint-order=stroke",
                x,
                y,
                bold ? "bold" : "normal");
    }
}
