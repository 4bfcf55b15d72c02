package org.fairturn.chart;

import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.fairturn.chart.PlanView.BladeDisc;
import org.fairturn.chart.PlanView.Scene;
import org.fairturn.chart.PlanView.Turning;

/**
 * The sheet of a plan view: two panels, left turn above right turn, laid out as mirror images of each other, so that
 * what differs between them is the machine's doing.
 */
final class Sheet {
    private static final double WIDTH = 480;
    private static final double MARGIN = 16;
    private static final double TALLEST = 460;
    private static final double HEADER = 52;
    private static final double ABOVE = 46;
    private static final double BELOW = 44;
    private static final double KEY = 112;
    private static final String CUT = "#b84300";
    private static final String GRASS = "#00734f";

    private final Scene scene;
    private final Shown shown;
    private final String name;
    private final SvgText out = new SvgText();
    /** User units per metre. */
    private final double scale;
    /** From the machine's centreline to the panel's edge on the side of the turn centre (m). */
    private final double inner;

    private final double outer;
    private final double front;
    private final double rear;

    Sheet(Scene scene, Shown shown, String name) {
        this.scene = scene;
        this.shown = shown;
        this.name = name;
        inner = extent(1);
        outer = extent(-1);
        front = DoubleStream.concat(
                        DoubleStream.of(
                                scene.nose(),
                                scene.left().turnCentreShift() + scene.left().uncutDiameter() / 2,
                                scene.right().turnCentreShift() + scene.right().uncutDiameter() / 2),
                        scene.blades().stream().mapToDouble(blade -> blade.ahead() + blade.tipRadius()))
                .max()
                .orElseThrow();
        rear = DoubleStream.concat(
                        DoubleStream.of(
                                -0.42 * scene.track(),
                                scene.left().turnCentreShift() - scene.left().uncutDiameter() / 2,
                                scene.right().turnCentreShift() - scene.right().uncutDiameter() / 2),
                        scene.blades().stream().mapToDouble(blade -> blade.ahead() - blade.tipRadius()))
                .min()
                .orElseThrow();
        scale = Math.min((WIDTH - 2 * MARGIN) / (inner + outer), TALLEST / (front - rear));
    }

    /** How far the drawing reaches towards the turn centre (1) or away from it (−1), over both turns (m). */
    private double extent(int towards) {
        return IntStream.of(1, -1)
                .mapToDouble(side -> {
                    Turning turning = side > 0 ? scene.left() : scene.right();
                    double machine = DoubleStream.concat(
                                    DoubleStream.of(0.68 * scene.track()),
                                    scene.blades().stream()
                                            .mapToDouble(blade -> towards * side * blade.left() + blade.tipRadius()))
                            .max()
                            .orElseThrow();
                    double disc = towards * turning.turnRadius() + turning.uncutDiameter() / 2;
                    return Math.max(machine, disc);
                })
                .max()
                .orElseThrow();
    }

    String svg(String title, String description) {
        double panel = HEADER + ABOVE + scale * (front - rear) + BELOW;
        double height = 2 * panel + KEY + 34;
        out.drawing(name, title, description, WIDTH, height, 15);
        out.open("defs");
        out.open(
                "pattern id={} width=9 height=9 patternUnits=userSpaceOnUse patternTransform=rotate(45)",
                name + "-hatch");
        out.leaf("rect width=9 height=9 fill=#eef6f2");
        line("M0 0V9", GRASS, 2, "");
        out.close("pattern").close("defs");
        out.paper(WIDTH, height);
        out.holding(Drawing.cut(title, 40), "text x={} y=28 font-size=18 font-weight=bold", MARGIN);
        new Panel(scene.left(), 1, 34).draw();
        new Panel(scene.right(), -1, 34 + panel).draw();
        key(34 + 2 * panel);
        return out.close("svg").toString();
    }

    private void line(String path, String colour, double width, String dashes) {
        if (dashes.isEmpty()) {
            out.leaf("path d={} stroke={} stroke-width={} fill=none", path, colour, width);
        } else {
            out.leaf("path d={} stroke={} stroke-width={} fill=none stroke-dasharray={}", path, colour, width, dashes);
        }
    }

    private static String path(double x1, double y1, double x2, double y2) {
        return "M" + SvgText.number(x1) + " " + SvgText.number(y1) + "L" + SvgText.number(x2) + " "
                + SvgText.number(y2);
    }

    private void words(String text, double x, double y, String anchor) {
        out.holding(
                text,
                "text x={} y={} text-anchor={} stroke=#ffffff stroke-width=4 stroke-linejoin=round paint-order=stroke",
                x,
                y,
                anchor);
    }

    /** A dimension line between two points at one height, with ticks at its ends and its text above, kept on the sheet. */
    private void dimension(double from, double to, double y, String text) {
        line(path(from, y, to, y), SvgText.INK, 1.2, "");
        line(path(from, y - 5, from, y + 5), SvgText.INK, 1.6, "");
        line(path(to, y - 5, to, y + 5), SvgText.INK, 1.6, "");
        double half = 4.6 * text.length();
        double middle = Math.max(MARGIN + half, Math.min(WIDTH - MARGIN - half, (from + to) / 2));
        words(text, middle, y - 7, "middle");
    }

    private void key(double top) {
        double x = MARGIN;
        double y = top + 22;
        out.leaf(
                "rect x={} y={} width=26 height=16 fill={} stroke={} stroke-width=2",
                x,
                y - 13,
                "url(#" + name + "-hatch)",
                GRASS);
        words("uncut grass", x + 36, y, "start");
        double right = 236;
        cross(right + 13, y - 5);
        words("turn centre", right + 36, y, "start");
        y += 27;
        out.leaf("circle cx={} cy={} r=9 fill=#ffd9c2 stroke={} stroke-width=3", x + 13, y - 5, CUT);
        words("cuts closest", x + 36, y, "start");
        line(path(right, y - 5, right + 26, y - 5), CUT, 3, "");
        words("centre to nearest tip", right + 36, y, "start");
        double bar = PlanView.roundLength(0.4 * (WIDTH - 2 * MARGIN) / scale, shown);
        y += 33;
        double end = x + bar * scale;
        line(
                "M" + SvgText.number(x) + " " + SvgText.number(y - 10) + "v10H" + SvgText.number(end) + "v-10",
                SvgText.INK,
                2,
                "");
        words(PlanView.scaleText(bar, shown), end + 10, y, "start");
    }

    private void cross(double x, double y) {
        line(path(x - 8, y, x + 8, y) + path(x, y - 8, x, y + 8), SvgText.INK, 2.5, "");
    }

    /** One turn. Screen x runs against the machine's y, screen y against its x. */
    private final class Panel {
        private final Turning turning;
        private final int side;
        private final double top;
        private final double x0;
        private final double y0;

        Panel(Turning turning, int side, double top) {
            this.turning = turning;
            this.side = side;
            this.top = top;
            double slack = (WIDTH - 2 * MARGIN - scale * (inner + outer)) / 2;
            double fromInnerEdge = MARGIN + slack + scale * inner;
            x0 = side > 0 ? fromInnerEdge : WIDTH - fromInnerEdge;
            y0 = top + HEADER + ABOVE + scale * front;
        }

        private double x(double left) {
            return x0 - scale * left;
        }

        private double y(double ahead) {
            return y0 - scale * ahead;
        }

        void draw() {
            Optional<BladeDisc> closest = scene.closest(turning, side);
            out.open("g data-part={}", side > 0 ? "left" : "right");
            out.holding(
                    Drawing.cut(turning.label(), 46), "text x={} y={} font-size=16 font-weight=bold", MARGIN, top + 24);
            scene.cuts(turning, side).ifPresent(cuts -> words(Drawing.cut(cuts, 54), MARGIN, top + 45, "start"));
            double centreX = x(side * turning.turnRadius());
            double centreY = y(turning.turnCentreShift());
            double radius = scale * turning.uncutDiameter() / 2;
            out.leaf(
                    "circle data-part=disc cx={} cy={} r={} fill={} stroke={} stroke-width=2.5",
                    centreX,
                    centreY,
                    radius,
                    "url(#" + name + "-hatch)",
                    GRASS);
            extensions(centreX, centreY, radius);
            machine(centreX, centreY);
            for (BladeDisc blade : scene.blades()) {
                boolean near = closest.isPresent() && closest.get().equals(blade);
                out.leaf(
                        "circle data-part={} cx={} cy={} r={} fill={} fill-opacity=0.85 stroke={} stroke-width={}",
                        near ? "blade closest" : "blade",
                        x(blade.left()),
                        y(blade.ahead()),
                        scale * blade.tipRadius(),
                        near ? "#ffd9c2" : "#ffffff",
                        near ? CUT : SvgText.QUIET,
                        near ? 3.0 : 1.6);
            }
            centreline();
            line(path(x(0), y(0), centreX, y(0)), SvgText.QUIET, 1.4, "6 4");
            closest.ifPresent(blade -> nearestTip(blade, centreX, centreY));
            cross(centreX, centreY);
            dimensions(centreX, centreY, radius);
            out.close("g");
        }

        private void nearestTip(BladeDisc blade, double centreX, double centreY) {
            double dx = centreX - x(blade.left());
            double dy = centreY - y(blade.ahead());
            double distance = Math.hypot(dx, dy);
            double share = distance > 0 ? Math.min(1, scale * blade.tipRadius() / distance) : 0;
            double tipX = x(blade.left()) + share * dx;
            double tipY = y(blade.ahead()) + share * dy;
            line(path(centreX, centreY, tipX, tipY), CUT, 3, "");
            out.leaf("circle data-part=tip cx={} cy={} r=4.5 fill={}", tipX, tipY, CUT);
        }

        private void machine(double centreX, double centreY) {
            double half = scene.track() / 2;
            if (scene.wheelbase().isPresent()) {
                double wheelbase = scene.wheelbase().getAsDouble();
                out.leaf(
                        "rect data-part=body x={} y={} width={} height={} rx={} fill=#eceff2 stroke={} stroke-width=1.4",
                        x(0.5 * half),
                        y(scene.nose()),
                        scale * half,
                        scale * (scene.nose() + 0.6 * half),
                        scale * 0.2 * half,
                        SvgText.QUIET);
                line(path(x(half), y(wheelbase), x(-half), y(wheelbase)), SvgText.QUIET, 2.5, "");
                for (int wheel : new int[] {1, -1}) {
                    // a wheel that rolls stands square to the line from the turn centre
                    double dx = x(wheel * half) - centreX;
                    double dy = y(wheelbase) - centreY;
                    double degrees = Math.toDegrees(Math.atan2(side * dy, side * dx));
                    tyre(x(wheel * half), y(wheelbase), 0.24 * scene.track(), 0.5 * scene.track(), degrees);
                }
            }
            line(path(x(half), y(0), x(-half), y(0)), SvgText.INK, 3, "");
            tyre(x(half), y(0), 0.3 * scene.track(), 0.8 * scene.track(), 0);
            tyre(x(-half), y(0), 0.3 * scene.track(), 0.8 * scene.track(), 0);
        }

        private void tyre(double x, double y, double width, double length, double degrees) {
            double w = scale * width;
            double l = scale * length;
            out.leaf(
                    "rect data-part=tyre x={} y={} width={} height={} rx={} fill=#9aa5b1 stroke={} stroke-width=1.2 transform={}",
                    x - w / 2,
                    y - l / 2,
                    w,
                    l,
                    w / 4,
                    SvgText.INK,
                    "rotate(" + SvgText.number(degrees) + " " + SvgText.number(x) + " " + SvgText.number(y) + ")");
        }

        private void centreline() {
            double top = y(scene.nose()) - 10;
            line(path(x(0), top, x(0), y(0)), SvgText.INK, 1.2, "10 3 2 3");
            scene.deckOffset().ifPresent(offset -> {
                double height = top - 2;
                line(path(x(offset), top - 4, x(offset), y(0)), CUT, 1.6, "4 3");
                line(path(x(0), height, x(offset), height), CUT, 3, "");
                String text = "deck " + PlanView.offset(offset, shown).replace(" of the centreline", "");
                double edge = side > 0 ? WIDTH - MARGIN : MARGIN;
                words(text, edge, height - 9, side > 0 ? "end" : "start");
            });
        }

        /** From what is measured to its dimension line, drawn before the machine so that it passes beneath. */
        private void extensions(double centreX, double centreY, double radius) {
            for (double edge : new double[] {centreX - radius, centreX + radius}) {
                line(path(edge, centreY, edge, above(centreY, radius)), SvgText.QUIET, 0.8, "");
            }
            line(path(centreX, centreY, centreX, below()), SvgText.QUIET, 0.8, "");
            line(path(x(0), y(0), x(0), below()), SvgText.QUIET, 0.8, "");
        }

        private void dimensions(double centreX, double centreY, double radius) {
            String across = "D " + shown.text(turning.uncutDiameter());
            dimension(centreX - radius, centreX + radius, above(centreY, radius), across);
            dimension(centreX, x(0), below(), "R " + shown.text(turning.turnRadius()));
        }

        private double above(double centreY, double radius) {
            return centreY - radius - 16;
        }

        private double below() {
            return y(rear) + 32;
        }
    }
}
