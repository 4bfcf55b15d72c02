package org.fairturn.chart;

import java.awt.Graphics2D;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.fairturn.units.LengthUnit;

/**
 * The charts of a report. Each comes as an SVG, a PNG and a description in whole sentences, or not at all: where there
 * is nothing to show, and on a machine without fonts, which {@link #unavailable()} puts in words.
 */
public final class Charts {
    private static final int SUBTITLE_LINE = 21;

    private Charts() {}

    /** {@return why no chart can be drawn on this machine, one line with what to install; empty where charts can be drawn} */
    public static Optional<String> unavailable() {
        return Fonts.missing();
    }

    /** Draws what nobody sees, so that all that drawing needs is at hand when something is to be seen. */
    public static void prepare() {
        List<CirclePoint> points =
                List.of(new CirclePoint("1", 1.7, OptionalInt.of(1)), new CirclePoint("2", 1.8, OptionalInt.of(2)));
        List<CellColumn> cells = List.of(new CellColumn("machine", "left 2WD", 1.75, 1.6, 1.9, points));
        diameters(cells, LengthUnit.INCH);
        runOrder(cells, LengthUnit.INCH);
    }

    /**
     * Every circle and every cell's estimate with its interval, grouped by machine.
     *
     * @param cells in the order they are to stand; a machine's cells are brought together
     * @param shown the trial's length unit
     * @return empty where charts cannot be drawn on this machine or there is no cell
     */
    public static Optional<Drawing> diameters(List<CellColumn> cells, LengthUnit shown) {
        if (cells.isEmpty() || unavailable().isPresent()) {
            return Optional.empty();
        }
        Shown in = Shown.in(shown);
        String axis = "uncut diameter (" + in.unit().symbol() + ")";
        Forest forest = new Forest(in, axis, OptionalDouble.empty());
        Map<String, List<Integer>> machines = new LinkedHashMap<>();
        for (int i = 0; i < cells.size(); i++) {
            machines.computeIfAbsent(cells.get(i).machine(), machine -> new ArrayList<>())
                    .add(i);
        }
        List<String> sentences = new ArrayList<>();
        sentences.add("Estimate and interval of each cell, and every circle.");
        machines.forEach((machine, members) -> {
            String heading = machine;
            for (int i : members) {
                CellColumn cell = cells.get(i);
                List<Double> points =
                        cell.circles().stream().map(CirclePoint::diameter).toList();
                forest.add(new Forest.Row(
                        heading,
                        cell.name(),
                        numbers(cell, in),
                        cell.estimate(),
                        cell.low(),
                        cell.high(),
                        points,
                        Look.Style.of(i),
                        false));
                sentences.add(sentence(cell, in));
                heading = "";
            }
        });
        return Optional.of(draw(
                "diameters",
                "Uncut diameter, cell by cell",
                List.of("filled: estimate with its interval; hollow: each circle"),
                sentences,
                forest.height(),
                g -> forest.chart().paint(g, Look.WIDTH, forest.height())));
    }

    private static String numbers(CellColumn cell, Shown in) {
        int decimals = in.decimals((cell.high() - cell.low()) / 2);
        return in.text(cell.estimate(), decimals) + "  (" + in.pair(cell.low(), " to ", cell.high(), decimals) + ")";
    }

    private static String sentence(CellColumn cell, Shown in) {
        int decimals = in.decimals((cell.high() - cell.low()) / 2);
        int count = cell.circles().size();
        String circles = cell.circles().stream()
                .map(circle -> in.text(circle.diameter()))
                .collect(Collectors.joining(", "));
        String from = count == 0 ? "no circle" : count == 1 ? "one circle: " + circles : count + " circles: " + circles;
        return cell.machine() + ", " + cell.name() + ": " + in.text(cell.estimate(), decimals) + ", between "
                + in.pair(cell.low(), " and ", cell.high(), decimals) + "; " + from + ".";
    }

    /**
     * The difference between right and left taken apart, with the practical margin as a band around zero.
     *
     * @param subjects in the order they are to stand
     * @param practicalMargin half-width of the band (m), in [0, ∞)
     * @param shown the trial's length unit
     * @return empty where charts cannot be drawn on this machine or there is no subject
     */
    public static Optional<Drawing> leftRight(List<Decomposition> subjects, double practicalMargin, LengthUnit shown) {
        Shown.notNegative(practicalMargin, "practicalMargin");
        if (subjects.isEmpty() || unavailable().isPresent()) {
            return Optional.empty();
        }
        Shown in = Shown.in(shown);
        Forest forest =
                new Forest(in, "right minus left (" + in.unit().symbol() + ")", OptionalDouble.of(practicalMargin));
        String margin = "±" + in.text(practicalMargin);
        List<String> sentences = new ArrayList<>();
        sentences.add(
                "Uncut diameter in the right turn minus that in the left turn, and what explains it; the practical"
                        + " margin is " + margin + ".");
        for (Decomposition subject : subjects) {
            rows(subject, in).forEach(forest::add);
            sentences.add(sentence(subject, practicalMargin, in));
        }
        return Optional.of(draw(
                "left-right",
                "Right turn against left turn",
                List.of("right of zero: the right-hand circle is wider", "shaded: practical margin " + margin),
                sentences,
                forest.height(),
                g -> forest.chart().paint(g, Look.WIDTH, forest.height())));
    }

    private static List<Forest.Row> rows(Decomposition subject, Shown in) {
        List<Forest.Row> rows = new ArrayList<>();
        rows.add(part(subject.subject(), "measured", subject.measured(), subject.measuredUncertainty(), 0, in));
        subject.lockAngles().ifPresent(value -> rows.add(part("", "designed lock angles explain", value, 0, 1, in)));
        rows.add(part("", "deck offset explains", subject.deck(), subject.deckHalf(), 2, in));
        subject.stops()
                .ifPresent(value -> rows.add(part("", "steering stops explain", value, subject.stopsHalf(), 4, in)));
        int decimals = in.decimals((subject.high() - subject.low()) / 2);
        rows.add(new Forest.Row(
                "",
                "unexplained remainder",
                in.text(subject.remainder(), decimals) + "  ("
                        + in.pair(subject.low(), " to ", subject.high(), decimals) + ")",
                subject.remainder(),
                subject.low(),
                subject.high(),
                List.of(),
                Look.Style.of(3),
                true));
        return rows;
    }

    private static Forest.Row part(String heading, String name, double value, double half, int style, Shown in) {
        return new Forest.Row(
                heading,
                name,
                withHalf(value, half, in),
                value,
                value - half,
                value + half,
                List.of(),
                Look.Style.of(style),
                false);
    }

    private static String withHalf(double value, double half, Shown in) {
        if (half == 0) {
            return in.text(value);
        }
        int decimals = in.decimals(half);
        return in.pair(value, " ± ", half, decimals);
    }

    private static String sentence(Decomposition subject, double margin, Shown in) {
        int decimals = in.decimals((subject.high() - subject.low()) / 2);
        String lock = subject.lockAngles().isPresent()
                ? " the designed lock angles explain "
                        + in.text(subject.lockAngles().getAsDouble()) + ","
                : "";
        String stops = subject.stops().isPresent()
                ? ", the steering stops explain " + withHalf(subject.stops().getAsDouble(), subject.stopsHalf(), in)
                : "";
        boolean inside = -margin <= subject.low() && subject.high() <= margin;
        boolean outside = subject.low() > margin || subject.high() < -margin;
        String where = inside ? "inside" : outside ? "outside" : "partly outside";
        return subject.subject() + ": measured " + withHalf(subject.measured(), subject.measuredUncertainty(), in) + ";"
                + lock + " the deck offset explains " + withHalf(subject.deck(), subject.deckHalf(), in) + stops + "; "
                + in.text(subject.remainder(), decimals) + " remains unexplained, between "
                + in.pair(subject.low(), " and ", subject.high(), decimals) + ", " + where + " the practical margin.";
    }

    /**
     * Circle diameter against run order, a line for each cell; circles without an order are left out.
     *
     * @param cells the same list as for {@link #diameters}, so that a cell keeps its colour and shape
     * @param shown the trial's length unit
     * @return empty where fewer than two circles have an order
     */
    public static Optional<Drawing> runOrder(List<CellColumn> cells, LengthUnit shown) {
        Shown in = Shown.in(shown);
        List<RunOrder.Line> lines = new ArrayList<>();
        for (int i = 0; i < cells.size(); i++) {
            CellColumn cell = cells.get(i);
            List<CirclePoint> ordered = cell.circles().stream()
                    .filter(point -> point.order().isPresent())
                    .sorted(Comparator.comparingInt(point -> point.order().getAsInt()))
                    .toList();
            if (!ordered.isEmpty()) {
                lines.add(new RunOrder.Line(cell.machine(), cell.name(), ordered, Look.Style.of(i)));
            }
        }
        if (lines.stream().mapToInt(line -> line.points().size()).sum() < 2
                || unavailable().isPresent()) {
            return Optional.empty();
        }
        List<String> sentences = new ArrayList<>();
        sentences.add("Diameter of each circle in the order they were mowed.");
        for (RunOrder.Line line : lines) {
            sentences.add(line.machine() + ", " + line.cell() + ": "
                    + line.points().stream()
                            .map(point -> in.text(point.diameter()) + " (run "
                                    + point.order().getAsInt() + ")")
                            .collect(Collectors.joining(", "))
                    + ".");
        }
        RunOrder chart = new RunOrder(in, lines);
        return Optional.of(draw(
                "run-order",
                "Circles in run order",
                List.of("diameter of each circle (" + in.unit().symbol() + ")"),
                sentences,
                chart.height(),
                chart::paint));
    }

    private static Drawing draw(
            String name,
            String title,
            List<String> subtitles,
            List<String> sentences,
            int height,
            Consumer<Graphics2D> body) {
        int head = 40 + SUBTITLE_LINE * subtitles.size();
        return Encoder.draw(name, title, String.join(" ", sentences), head + height, g -> {
            // first of all, since the chart paints its background
            g.translate(0, head);
            body.accept(g);
            g.translate(0, -head);
            double room = Look.WIDTH - 2 * Look.MARGIN;
            Look.text(g, title, Look.MARGIN, 31, room, Look.TITLE, Look.INK);
            for (int i = 0; i < subtitles.size(); i++) {
                double y = 55 + i * SUBTITLE_LINE;
                Look.text(g, subtitles.get(i), Look.MARGIN, y, room, Look.PLAIN, Look.QUIET);
            }
        });
    }
}
