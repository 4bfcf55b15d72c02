package org.fairturn.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import org.fairturn.units.LengthUnit;

/**
 * Differences with their intervals on one axis, a line each, against the practical margin, which is a shaded band about zero:
 * an interval that lies in the band is no difference that matters, one that lies outside is one.
 */
public final class DifferenceAxis {
    private static final double WIDTH = 480;
    private static final double MARGIN = 16;
    private static final double HEAD = 70;
    private static final double HEADING = 34;
    private static final double ROW = 44;
    private static final double FOOT = 58;
    /** Letters that fit beside the numbers of a row. */
    private static final int NAME = 33;

    /** Text with a rim of paper, so that no line of the axis runs through it. */
    private static final String HALO = "text paint-order=stroke stroke=#ffffff stroke-width=4 stroke-linejoin=round";

    private static final String SINGLE = "#0060a0";
    private static final String WHOLE = "#b84300";

    /**
     * One line.
     *
     * @param name such as {@code left 2WD}
     * @param estimate difference (m), finite
     * @param low lower end of its interval (m), in (−∞, high]
     * @param high upper end (m)
     * @param whole whether it sums up others, which a diamond shows, or stands for itself
     */
    public record Row(String name, double estimate, double low, double high, boolean whole) {
        /**
         * Checks what it is given.
         *
         * @param name such as {@code left 2WD}
         * @param estimate difference (m), finite
         * @param low lower end of its interval (m), in (−∞, high]
         * @param high upper end (m)
         * @param whole whether it sums up others, which a diamond shows, or stands for itself
         * @throws IllegalArgumentException if a number is not finite or the interval upside down
         */
        public Row {
            Shown.finite(estimate, "estimate");
            Shown.interval(low, high);
        }
    }

    /**
     * Lines under a heading, such as {@code Basalt 25 less Alder 22}.
     *
     * @param heading what is taken from what
     * @param rows from top to bottom
     */
    public record Panel(String heading, List<Row> rows) {
        /**
         * Keeps its own copy of the list.
         *
         * @param heading what is taken from what
         * @param rows from top to bottom
         */
        public Panel {
            rows = List.copyOf(rows);
        }
    }

    /**
     * What the whole drawing is called.
     *
     * @param name short name, as in {@link Drawing}
     * @param title one line
     * @param axis what the axis shows, without its unit
     */
    public record Words(String name, String title, String axis) {}

    private final Words words;
    private final Shown shown;
    private final List<Panel> panels;
    private final double margin;
    private final SvgText out = new SvgText();
    private final double from;
    private final double to;

    private DifferenceAxis(Words words, List<Panel> panels, double margin, Shown shown) {
        this.words = words;
        this.panels = panels;
        this.margin = margin;
        this.shown = shown;
        double low = ends(panels).min().orElseThrow();
        double high = ends(panels).max().orElseThrow();
        from = Math.min(low, -margin) - 0.05 * (Math.max(high, margin) - Math.min(low, -margin));
        to = Math.max(high, margin) + 0.05 * (Math.max(high, margin) - Math.min(low, -margin));
    }

    private static DoubleStream ends(List<Panel> panels) {
        return panels.stream()
                .flatMap(p -> p.rows().stream())
                .flatMapToDouble(r -> DoubleStream.of(r.estimate(), r.low(), r.high()));
    }

    /**
     * Draws the panels that have a line, in the order given.
     *
     * @param words title and what the axis shows
     * @param panels those without a line are left out
     * @param margin practical margin (m), in (0, ∞)
     * @param unit the trial's length unit
     * @return empty where there is no line
     */
    public static Optional<Drawing> draw(Words words, List<Panel> panels, double margin, LengthUnit unit) {
        Shown.positive(margin, "margin");
        List<Panel> drawn = panels.stream().filter(p -> !p.rows().isEmpty()).toList();
        if (drawn.isEmpty()) {
            return Optional.empty();
        }
        Shown shown = Shown.in(unit);
        List<String> sentences = new ArrayList<>();
        sentences.add(words.axis() + ", with intervals, against the practical margin of " + shown.text(margin) + ".");
        for (Panel panel : drawn) {
            panel.rows().forEach(row -> sentences.add(sentence(panel, row, margin, shown)));
        }
        String description = String.join(" ", sentences);
        String svg = new DifferenceAxis(words, drawn, margin, shown).svg(description);
        return Optional.of(new Drawing(words.name(), words.title(), description, svg, Optional.empty()));
    }

    private static String sentence(Panel panel, Row row, double margin, Shown shown) {
        int decimals = shown.decimals((row.high() - row.low()) / 2);
        String where = row.low() > margin || row.high() < -margin
                ? "beyond the margin"
                : row.low() >= -margin && row.high() <= margin ? "within the margin" : "on both sides of a margin";
        return panel.heading() + ", " + row.name() + ": " + shown.text(row.estimate(), decimals) + ", between "
                + shown.pair(row.low(), " and ", row.high(), decimals) + ", " + where + ".";
    }

    private String svg(String description) {
        double rows = panels.stream()
                .mapToDouble(p -> HEADING + ROW * p.rows().size())
                .sum();
        double height = HEAD + rows + FOOT;
        String name = words.name();
        out.drawing(name, words.title(), description, WIDTH, height, 15);
        out.paper(WIDTH, height);
        out.holding(Drawing.cut(words.title(), 50), "text x={} y=31 font-size=18 font-weight=bold", MARGIN);
        out.leaf("rect x={} y=44 width=18 height=14 fill={} stroke={}", MARGIN, SvgText.BAND, SvgText.EDGE);
        out.holding("practical margin, ±" + shown.text(margin), "text x={} y=56 fill={}", MARGIN + 26, SvgText.QUIET);
        axis(HEAD, HEAD + rows);
        double y = HEAD;
        for (Panel panel : panels) {
            y = panel(panel, y);
        }
        return out.close("svg").toString();
    }

    private double x(double metres) {
        return MARGIN + (metres - from) / (to - from) * (WIDTH - 2 * MARGIN);
    }

    private void axis(double top, double bottom) {
        out.leaf(
                "rect data-part=band x={} y={} width={} height={} fill={}",
                x(-margin),
                top,
                x(margin) - x(-margin),
                bottom - top,
                SvgText.BAND);
        for (Shown.Tick tick : shown.ticks(from, to)) {
            double x = x(tick.metres());
            out.leaf(
                    "path d={} stroke={}",
                    SvgText.upright(x, top, bottom),
                    tick.isZero() ? SvgText.QUIET : SvgText.GRID);
            if (x > MARGIN + 14 && x < WIDTH - MARGIN - 14) {
                out.holding(tick.text(), "text x={} y={} text-anchor=middle", x, bottom + 20);
            }
        }
        for (double edge : new double[] {x(-margin), x(margin)}) {
            out.leaf("path d={} stroke={} stroke-width=1.3", SvgText.upright(edge, top, bottom), SvgText.EDGE);
        }
        out.holding(
                words.axis() + " (" + shown.unit().symbol() + ")",
                "text x={} y={} text-anchor=middle",
                WIDTH / 2,
                bottom + 43);
    }

    private double panel(Panel panel, double top) {
        out.open("g data-part=panel");
        out.holding(Drawing.cut(panel.heading(), 50), HALO + " x={} y={} font-weight=bold", MARGIN, top + 24);
        double y = top + HEADING;
        for (Row row : panel.rows()) {
            row(row, y);
            y += ROW;
        }
        out.close("g");
        return y;
    }

    private void row(Row row, double top) {
        int decimals = shown.decimals((row.high() - row.low()) / 2);
        String numbers = shown.pair(row.low(), " to ", row.high(), decimals);
        String colour = row.whole() ? WHOLE : SINGLE;
        out.open("g data-part={}", row.whole() ? "whole" : "single");
        out.holding(Drawing.cut(row.name(), NAME), HALO + " x={} y={}", MARGIN, top + 14);
        out.holding(numbers, HALO + " x={} y={} text-anchor=end", WIDTH - MARGIN, top + 14);
        double y = top + 29;
        double low = x(row.low());
        double high = x(row.high());
        out.leaf(
                "path data-part=interval d={} stroke={} stroke-width={} fill=none",
                "M" + SvgText.number(low) + " " + SvgText.number(y) + "H" + SvgText.number(high),
                colour,
                row.whole() ? 4.0 : 2.5);
        for (double end : new double[] {low, high}) {
            out.leaf("path d={} stroke={} stroke-width=1.8", SvgText.upright(end, y - 6, y + 6), colour);
        }
        double x = x(row.estimate());
        if (row.whole()) {
            out.leaf(
                    "path data-part=mark d={} fill={}",
                    "M" + SvgText.number(x - 8) + " " + SvgText.number(y) + "l8 -8l8 8l-8 8z",
                    colour);
        } else {
            out.leaf("circle data-part=mark cx={} cy={} r=5.5 fill={}", x, y, colour);
        }
        out.close("g");
    }
}
