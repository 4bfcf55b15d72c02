package org.fairturn.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.function.ToIntFunction;
import org.fairturn.uncertainty.PastScatter;
import org.fairturn.uncertainty.Quantiles;

/**
 * A control chart of one standard deviation over past trials: the level is the pooled standard deviation of all trials on
 * earlier days, and the variance of a trial over the pooled one is held against F at 0.135 % and 99.865 %, the risks that
 * limits at three standard deviations have. Once five trials made the level, one outside its limits does not move it, unless
 * the next is outside on the same side.
 *
 * @param points by date and folder, one for each trial that shows anything
 * @see "ISO 7870-2 (Shewhart control charts), s chart, from memory; F in place of constants, because the level itself is
 *     only known from a few degrees of freedom"
 */
public record Drift(List<Point> points) {
    private static final double TAIL = 0.00135;
    /** Earlier trials that make a level. */
    private static final int ENOUGH = 2;
    /** Earlier trials after which a single one outside its limits no longer moves the level. Our own choice. */
    private static final int SETTLED = 5;

    /**
     * Keeps its own copy of the list.
     *
     * @param points by date and folder, one for each trial that shows anything
     */
    public Drift {
        points = List.copyOf(points);
    }

    /**
     * One trial.
     *
     * @param date its day
     * @param folder its folder, as a path below the archive
     * @param degrees of freedom behind it, 1 or more
     * @param value its standard deviation (m), 0 or more
     * @param expected what earlier days suggest; empty where fewer than two trials came before
     */
    public record Point(LocalDate date, String folder, int degrees, double value, Optional<Expected> expected) {
        /** {@return whether it lies above its upper limit} */
        public boolean above() {
            return expected.filter(e -> value > e.high()).isPresent();
        }

        /** {@return whether it lies below its lower limit} */
        public boolean below() {
            return expected.filter(e -> value < e.low()).isPresent();
        }
    }

    /**
     * Running level and control limits (m).
     *
     * @param level what the next trial is expected to show (m)
     * @param low lower limit (m)
     * @param high upper limit (m)
     */
    public record Expected(double level, double low, double high) {}

    /** {@return the trials outside their limits} */
    public List<Point> out() {
        return points.stream().filter(p -> p.above() || p.below()).toList();
    }

    /**
     * Of rows that are sorted by date.
     *
     * @param degrees of freedom of a trial; squares its sum of squares (m²)
     */
    static Drift of(List<PastTrial> rows, ToIntFunction<PastScatter> degrees, ToDoubleFunction<PastScatter> squares) {
        Map<String, PastScatter> trials = new LinkedHashMap<>();
        Map<String, PastTrial> first = new LinkedHashMap<>();
        for (PastTrial row : rows) {
            trials.merge(row.trial(), row.scatter(), PastScatter::plus);
            first.putIfAbsent(row.trial(), row);
        }
        List<Point> points = new ArrayList<>();
        List<Point> today = new ArrayList<>();
        Level level = new Level();
        for (Map.Entry<String, PastScatter> trial : trials.entrySet()) {
            int nu = degrees.applyAsInt(trial.getValue());
            if (nu == 0) {
                continue;
            }
            PastTrial row = first.get(trial.getKey());
            if (!today.isEmpty() && !today.get(0).date().equals(row.date())) {
                today.forEach(level::add); // trials of one day do not set each other's limits
                today.clear();
            }
            double value = Math.sqrt(squares.applyAsDouble(trial.getValue()) / nu);
            today.add(new Point(row.date(), row.folder(), nu, value, level.expected(nu)));
            points.add(today.get(today.size() - 1));
        }
        return new Drift(points);
    }

    /** The pooled variance so far. */
    private static final class Level {
        private double squares;
        private int degrees;
        private int trials;
        private Optional<Point> doubtful = Optional.empty();

        void add(Point point) {
            if (trials < SETTLED || !(point.above() || point.below())) {
                doubtful = Optional.empty();
                take(point);
            } else if (doubtful.filter(d -> d.above() == point.above()).isPresent()) {
                take(doubtful.get());
                doubtful = Optional.empty();
                take(point);
            } else {
                doubtful = Optional.of(point);
            }
        }

        private void take(Point point) {
            squares += point.degrees() * point.value() * point.value();
            degrees += point.degrees();
            trials++;
        }

        Optional<Expected> expected(int nu) {
            if (trials < ENOUGH || !(squares > 0)) {
                return Optional.empty();
            }
            double level = Math.sqrt(squares / degrees);
            return Optional.of(new Expected(
                    level,
                    level * Math.sqrt(Quantiles.f(TAIL, nu, degrees)),
                    level * Math.sqrt(Quantiles.f(1 - TAIL, nu, degrees))));
        }
    }
}
