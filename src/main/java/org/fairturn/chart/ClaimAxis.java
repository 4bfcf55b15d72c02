package org.fairturn.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.fairturn.units.LengthUnit;

/**
 * Claims and what was measured on one axis, a line each: filled squares are measured, hollow diamonds are claims, and a dotted
 * line leads down from each measured circle through the claims.
 */
public final class ClaimAxis {
    private static final double WIDTH = 480;
    private static final double MARGIN = 16;
    private static final double HEAD = 92;
    private static final double HEADING = 34;
    private static final double ROW = 44;
    private static final double FOOT = 58;
    /** Letters that fit beside the numbers of a row. */
    private static final int NAME = 33;

    /** Generous width of a letter. */
    private static final double LETTER = 8.2;

    private static final String MEASURED = "#00734f";
    private static final String CLAIMED = "#b84300";

    /**
     * One line.
     *
     * @param name such as {@code left 2WD}, or who claims it
     * @param estimate uncut diameter (m), finite
     * @param low lower end of its interval (m), in (−∞, high]
     * @param high upper end (m)
     */
    public record Row(String name, double estimate, double low, double high) {
        /**
         * Checks what it is given.
         *
         * @param name such as {@code left 2WD}, or who claims it
         * @param estimate uncut diameter (m), finite
         * @param low lower end of its interval (m), in (−∞, high]
         * @param high upper end (m)
         * @throws IllegalArgumentException if a number is not finite or the interval upside down
         */
        public Row {
            Shown.finite(estimate, "estimate");
            Shown.interval(low, high);
        }
    }

    /**
     * What was measured of one machine and what is claimed of it.
     *
     * @param machine heading of the panel
     * @param measured one row for each cell
     * @param claimed one row for each reading of a claim
     */
    public record Panel(String machine, List<Row> measured, List<Row> claimed) {
        /**
         * Keeps its own copy of each list.
         *
         * @param machine heading of the panel
         * @param measured one row for each cell
         * @param claimed one row for each reading of a claim
         */
        public Panel {
            measured = List.copyOf(measured);
            claimed = List.copyOf(claimed);
        }

        Stream<Row> rows() {
            return Stream.concat(measured.stream(), claimed.stream());
        }
    }

    private final Shown shown;
    private final List<Panel> panels;
    private final SvgText out = new SvgText();
    private final double from;
    private final double to;

    private ClaimAxis(List<Panel> panels, Shown shown) {
        this.panels = panels;
        this.shown = shown;
        double low = all(panels).map(Math::min).min().orElseThrow();
        double high = all(panels).map(Math::max).max().orElseThrow();
        double pad = Math.max(0.04 * (high - low), 0.02);
        from = low - pad;
        to = high + pad;
    }

    private interface Pair {
        double of(double a, double b);
    }

    /** The ends of all intervals, estimates included. */
    private static Ends all(List<Panel> panels) {
        return new Ends(panels.stream().flatMap(Panel::rows).toList());
    }

    private record Ends(List<Row> rows) {
        DoubleStream map(Pair pick) {
            return rows.stream().mapToDouble(r -> pick.of(r.estimate(), pick.of(r.low(), r.high())));
        }
    }

    /**
     * Draws the machines of which something is claimed, in the order given.
     *
     * @param panels machines
     * @param unit the trial's length unit
     * @return empty where no machine has both a measured and a claimed line
     */
    public static Optional<Drawing> draw(List<Panel> panels, LengthUnit unit) {
        List<Panel> drawn = panels.stream()
                .filter(p -> !p.measured().isEmpty() && !p.claimed().isEmpty())
                .toList();
        if (drawn.isEmpty()) {
            return Optional.empty();
        }
        Shown shown = Shown.in(unit);
        String title = "Claims against what was measured";
        List<String> sentences = new ArrayList<>();
        sentences.add("Uncut diameters with their intervals, measured and claimed.");
        for (Panel panel : drawn) {
            panel.measured().forEach(row -> sentences.add(sentence(panel, row, "measured", shown)));
            panel.claimed().forEach(row -> sentences.add(sentence(panel, row, "claimed", shown)));
        }
        String description = String.join(" ", sentences);
        return Optional.of(new Drawing(
                "claims", title, description, new ClaimAxis(drawn, shown).svg(title, description), Optional.empty()));
    }

    private static String sentence(Panel panel, Row row, String how, Shown shown) {
        int decimals = shown.decimals((row.high() - row.low()) / 2);
        return panel.machine() + ", " + how + ", " + row.name() + ": " + shown.text(row.estimate(), decimals)
                + ", between " + shown.pair(row.low(), " and ", row.high(), decimals) + ".";
    }

    private String svg(String title, String description) {
        double rows = panels.stream()
                .mapToDouble(p -> HEADING + ROW * p.rows().count())
                .sum();
        double height = HEAD + rows + FOOT;
        out.drawing("claims", title, description, WIDTH, height, 15);
        out.paper(WIDTH, height);
        out.holding(title, "text x={} y=31 font-size=18 font-weight=bold", MARGIN);
        square(MARGIN + 8, 51);
        out.holding("measured in this trial, with its interval", "text x={} y=56 fill={}", MARGIN + 22, SvgText.QUIET);
        diamond(MARGIN + 8, 74);
        out.holding("claimed, as the reading that fits best", "text x={} y=79 fill={}", MARGIN + 22, SvgText.QUIET);
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
        for (Shown.Tick tick : shown.ticks(from, to)) {
            double x = x(tick.metres());
            out.leaf("path d={} stroke={}", SvgText.upright(x, top, bottom), SvgText.GRID);
            if (x > MARGIN + 14 && x < WIDTH - MARGIN - 14) {
                out.holding(tick.text(), "text x={} y={} text-anchor=middle", x, bottom + 20);
            }
        }
        out.holding(
                "uncut diameter (" + shown.unit().symbol() + ")",
                "text x={} y={} text-anchor=middle",
                WIDTH / 2,
                bottom + 43);
    }

    private double panel(Panel panel, double top) {
        out.open("g data-part=panel");
        out.holding(Drawing.cut(panel.machine(), 50), "text x={} y={} font-weight=bold", MARGIN, top + 24);
        double bottom = top + HEADING + ROW * panel.rows().count();
        double y = top + HEADING;
        for (Row row : panel.measured()) {
            out.leaf(
                    "path data-part=lead d={} stroke={} stroke-width=1.3 stroke-dasharray={}",
                    SvgText.upright(x(row.estimate()), y + 29, bottom - 4),
                    MEASURED,
                    "2 4");
            y = row(row, y, true);
        }
        for (Row row : panel.claimed()) {
            y = row(row, y, false);
        }
        out.close("g");
        return y;
    }

    private double row(Row row, double top, boolean measured) {
        int decimals = shown.decimals((row.high() - row.low()) / 2);
        String numbers = shown.pair(row.low(), " to ", row.high(), decimals);
        out.open("g data-part={}", measured ? "measured" : "claimed");
        // behind the words a strip of paper, so that no dotted line runs through them
        double name = LETTER * Drawing.cut(row.name(), NAME).length();
        out.leaf("rect x={} y={} width={} height=19 fill=#ffffff", MARGIN, top, name);
        double count = LETTER * numbers.length();
        out.leaf("rect x={} y={} width={} height=19 fill=#ffffff", WIDTH - MARGIN - count, top, count);
        out.holding(Drawing.cut(row.name(), NAME), "text x={} y={}", MARGIN, top + 14);
        out.holding(numbers, "text x={} y={} text-anchor=end", WIDTH - MARGIN, top + 14);
        double y = top + 29;
        String colour = measured ? MEASURED : CLAIMED;
        double low = x(row.low());
        double high = x(row.high());
        out.leaf(
                "path data-part=interval d={} stroke={} stroke-width={} fill=none",
                "M" + SvgText.number(low) + " " + SvgText.number(y) + "H" + SvgText.number(high),
                colour,
                measured ? 4.0 : 1.8);
        for (double end : new double[] {low, high}) {
            out.leaf("path d={} stroke={} stroke-width=1.8", SvgText.upright(end, y - 6, y + 6), colour);
        }
        if (measured) {
            square(x(row.estimate()), y);
        } else {
            diamond(x(row.estimate()), y);
        }
        out.close("g");
        return top + ROW;
    }

    private void square(double x, double y) {
        out.leaf("rect data-part=mark x={} y={} width=11 height=11 fill={}", x - 5.5, y - 5.5, MEASURED);
    }

    private void diamond(double x, double y) {
        out.leaf(
                "path data-part=mark d={} fill=#ffffff stroke={} stroke-width=2",
                "M" + SvgText.number(x - 7) + " " + SvgText.number(y) + "l7 -7l7 7l-7 7z",
                CLAIMED);
    }
}
