package org.fairturn.chart;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.fairturn.units.LengthUnit;

/**
 * Standard deviations over the days they were seen on, with the level and the limits earlier days set: a control chart, a
 * panel below another. The axis is logarithmic, so that half and double lie equally far.
 */
public final class DriftChart {
    private static final double WIDTH = 480;
    private static final double LEFT = 62;
    private static final double RIGHT = 18;
    private static final double HEAD = 44;
    private static final double HEADING = 34;
    private static final double PLOT = 190;
    private static final double BELOW = 34;
    private static final double KEY = 84;
    private static final String INSIDE = "#0060a0";
    private static final String OUTSIDE = "#b84300";
    private static final double[] DIGITS = {1, 2, 5};

    private final Shown shown;
    private final LocalDate first;
    private final double days;
    private final SvgText out = new SvgText();

    /**
     * One trial.
     *
     * @param date of the trial
     * @param value its standard deviation (m), 0 or more
     * @param limits level and limits; empty where too few trials came before
     */
    public record Point(LocalDate date, double value, Optional<Limits> limits) {
        /**
         * Checks what it is given.
         *
         * @param date of the trial
         * @param value its standard deviation (m), 0 or more
         * @param limits level and limits; empty where too few trials came before
         * @throws IllegalArgumentException if the value is below 0 or not finite
         */
        public Point {
            Shown.notNegative(value, "value");
        }

        boolean out() {
            return limits.filter(l -> value < l.low() || value > l.high()).isPresent();
        }
    }

    /**
     * What earlier days set (m), low above 0.
     *
     * @param low lower limit (m), above 0
     * @param level what was expected (m)
     * @param high upper limit (m)
     */
    public record Limits(double low, double level, double high) {
        /**
         * Checks what it is given.
         *
         * @param low lower limit (m), above 0
         * @param level what was expected (m)
         * @param high upper limit (m)
         * @throws IllegalArgumentException if the limits are not above 0 and in order
         */
        public Limits {
            Shown.positive(low, "low");
            Shown.interval(low, high);
        }
    }

    /**
     * Points under a heading, sorted by date.
     *
     * @param heading what scatters
     * @param points one for each trial
     */
    public record Panel(String heading, List<Point> points) {
        /**
         * Keeps its own copy of the list.
         *
         * @param heading what scatters
         * @param points one for each trial
         */
        public Panel {
            points = List.copyOf(points);
        }
    }

    private DriftChart(Shown shown, LocalDate first, LocalDate last) {
        this.shown = shown;
        this.first = first;
        this.days = Math.max(1, last.toEpochDay() - first.toEpochDay());
    }

    /**
     * Draws it.
     *
     * @param all panels, of which those without a point are left out
     * @param words what was found, whole sentences
     * @param unit the one shown
     * @return empty where there is no point to draw
     */
    public static Optional<Drawing> draw(List<Panel> all, String words, LengthUnit unit) {
        List<Panel> panels = all.stream().filter(p -> !p.points().isEmpty()).toList();
        List<LocalDate> dates = panels.stream()
                .flatMap(p -> p.points().stream())
                .map(Point::date)
                .sorted()
                .toList();
        return dates.isEmpty()
                ? Optional.empty()
                : Optional.of(new DriftChart(Shown.in(unit), dates.get(0), dates.get(dates.size() - 1))
                        .drawing(panels, words));
    }

    private Drawing drawing(List<Panel> panels, String words) {
        String title = "Scatter from trial to trial";
        double height = HEAD + panels.size() * (HEADING + PLOT + BELOW) + KEY;
        out.drawing("drift", title, words, WIDTH, height, 15);
        out.paper(WIDTH, height);
        out.holding(title, "text x=16 y=28 font-size=18 font-weight=bold");
        double top = HEAD;
        for (Panel panel : panels) {
            out.holding(panel.heading(), "text x=16 y={} font-weight=bold", top + 20);
            panel(panel, top + HEADING);
            top += HEADING + PLOT + BELOW;
        }
        key(top);
        return new Drawing("drift", title, words, out.close("svg").toString(), Optional.empty());
    }

    private double x(LocalDate date) {
        double share = (date.toEpochDay() - first.toEpochDay()) / days;
        return LEFT + 10 + share * (WIDTH - LEFT - RIGHT - 20);
    }

    private void panel(Panel panel, double top) {
        OptionalDouble least = panel.points().stream()
                .flatMapToDouble(p ->
                        DoubleStream.of(p.value(), p.limits().map(Limits::low).orElse(p.value())))
                .filter(v -> v > 0)
                .min();
        double low = Math.max(1e-4, least.orElse(1e-3)) / 1.25;
        double high = 1.25
                * panel.points().stream()
                        .flatMapToDouble(p -> DoubleStream.of(
                                p.value(), p.limits().map(Limits::high).orElse(p.value())))
                        .max()
                        .orElseThrow();
        high = Math.max(high, 2 * low);
        Scale y = new Scale(top, Math.log(low), Math.log(high));
        grid(y, low, high);
        limits(panel, y);
        for (Point point : panel.points()) {
            double cx = x(point.date());
            double cy = y.at(point.value());
            if (point.out()) {
                out.leaf(
                        "path data-part=outside d={} fill={} stroke=#ffffff stroke-width=1.5",
                        "M" + SvgText.number(cx) + " " + SvgText.number(cy - 8) + "l8 8l-8 8l-8 -8z",
                        OUTSIDE);
            } else {
                out.leaf(
                        "circle data-part=inside cx={} cy={} r=4.5 fill={} stroke=#ffffff stroke-width=1.5",
                        cx,
                        cy,
                        INSIDE);
            }
        }
        double foot = top + PLOT + 22;
        LocalDate last = panel.points().get(panel.points().size() - 1).date();
        LocalDate begin = panel.points().get(0).date();
        double room = Math.min(x(begin) - 10, WIDTH - RIGHT - 90);
        out.holding(begin.toString(), "text x={} y={} text-anchor=start fill={}", room, foot, SvgText.QUIET);
        if (x(last) - x(begin) > 190) {
            out.holding(last.toString(), "text x={} y={} text-anchor=end fill={}", x(last) + 10, foot, SvgText.QUIET);
        }
    }

    /** From a length to its height on the paper; what lies below the panel is drawn at its foot. */
    private record Scale(double top, double low, double high) {
        double at(double metres) {
            double share = (Math.log(Math.max(metres, 1e-9)) - low) / (high - low);
            return top + PLOT * (1 - Math.max(0, Math.min(1, share)));
        }
    }

    private void grid(Scale y, double low, double high) {
        for (int power = -2; power <= 4; power++) {
            for (double digit : DIGITS) {
                double amount = digit * Math.pow(10, power);
                double metres = amount * shown.unit().metres();
                if (metres >= low && metres <= high) {
                    out.leaf(
                            "path d={} stroke={} stroke-width=1",
                            "M" + SvgText.number(LEFT) + " " + SvgText.number(y.at(metres)) + "H"
                                    + SvgText.number(WIDTH - RIGHT),
                            SvgText.GRID);
                    out.holding(
                            SvgText.number(amount) + " " + shown.unit().symbol(),
                            "text x={} y={} text-anchor=end fill={}",
                            LEFT - 6,
                            y.at(metres) + 5,
                            SvgText.QUIET);
                }
            }
        }
    }

    /** Limits differ from point to point, since each has its own degrees of freedom: a bar each, the level a line through. */
    private void limits(Panel panel, Scale y) {
        List<String> level = new ArrayList<>();
        for (Point point : panel.points()) {
            point.limits().ifPresent(l -> {
                double cx = x(point.date());
                out.leaf(
                        "rect data-part=limits x={} y={} width=8 height={} fill={} stroke={} stroke-width=0.8",
                        cx - 4,
                        y.at(l.high()),
                        y.at(l.low()) - y.at(l.high()),
                        SvgText.BAND,
                        SvgText.EDGE);
            });
        }
        for (Point point : panel.points()) {
            point.limits()
                    .ifPresent(l -> level.add(SvgText.number(x(point.date())) + " " + SvgText.number(y.at(l.level()))));
        }
        if (!level.isEmpty()) {
            out.leaf(
                    "path data-part=level d={} stroke={} stroke-width=2 fill=none",
                    "M" + String.join("L", level),
                    SvgText.QUIET);
        }
    }

    private void key(double top) {
        double y = top + 16;
        out.leaf("circle cx=28 cy={} r=4.5 fill={}", y - 5, INSIDE);
        out.holding("a trial", "text x=46 y={}", y);
        out.leaf("path d={} fill={}", "M150 " + SvgText.number(y - 13) + "l8 8l-8 8l-8 -8z", OUTSIDE);
        out.holding("a trial outside its limits", "text x=168 y={}", y);
        y += 28;
        out.leaf(
                "rect x=24 y={} width=8 height=18 fill={} stroke={} stroke-width=0.8",
                y - 14,
                SvgText.BAND,
                SvgText.EDGE);
        out.holding("its limits", "text x=46 y={}", y);
        out.leaf("path d={} stroke={} stroke-width=2", "M138 " + SvgText.number(y - 5) + "h24", SvgText.QUIET);
        out.holding("level of all trials on earlier days", "text x=168 y={}", y);
    }
}
