package org.fairturn.finding;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.uncertainty.RepeatabilityPosterior;

/**
 * What further circles would probably do for a question that could not be decided.
 *
 * @param furtherCircles the smallest number of further circles by cell that settles it with a chance of 80 %; empty where
 *     none does
 * @param chance the chance with those circles; where there are none, with the most that were looked at
 * @param obstacle where none settles it, why not
 */
public record Outlook(Map<Cell, Integer> furtherCircles, double chance, Obstacle obstacle) {
    /** What keeps further circles from settling a question. */
    public enum Obstacle {
        /** Nothing does. */
        NONE,
        /** Most of the uncertainty left after them would be geometry's, which no circle makes better. */
        GEOMETRY,
        /** The answer lies so near the practical margin that even then it could not be told from it. */
        NEAR_MARGIN,
        /** Today's answer is so uncertain that it may yet turn out to lie near the margin. */
        UNCERTAIN_TODAY
    }

    /** Where only verdicts are wanted. */
    static final Outlook NOT_LOOKED_FOR = new Outlook(Map.of(), 0, Obstacle.NONE);

    private static final int MAX_STEPS = 50;
    /** Part of a standard deviation. */
    private static final double CLOSE = 1e-9;

    /** Standard deviations beyond which a tail is nothing to a double. */
    private static final double NOTHING = 9;

    /** Practical margins: an estimate with a larger standard uncertainty may lie on either side of one, and well beyond. */
    private static final double TOO_WIDE = 1.5;

    private static final double ENOUGH = 0.8;
    /** More than this nobody drives. */
    static final int MOST_CIRCLES = 24;

    /**
     * Keeps its own copy of the map.
     *
     * @param furtherCircles the smallest number of further circles by cell that settles it with a chance of 80 %; empty
     *     where none does
     * @param chance the chance with those circles; where there are none, with the most that were looked at
     * @param obstacle where none settles it, why not
     */
    public Outlook {
        furtherCircles = Collections.unmodifiableMap(new LinkedHashMap<>(furtherCircles));
    }

    /**
     * Looks ahead at each level of repeatability the trial leaves open: after n more circles the estimate will lie somewhere
     * around today's, with the variance that is won, and the rule is applied there. The repeatability is taken as known by
     * then, which is a little hopeful.
     *
     * @param cells the cells, in the order of the contrast
     * @param c contrast
     * @param mean today's estimate (m)
     * @param fixedVariance variance that circles do not reduce (m²)
     */
    static Outlook of(
            List<Cell> cells,
            double[] c,
            double mean,
            double fixedVariance,
            List<RepeatabilityPosterior.Level> levels,
            DecisionRule rule) {
        Ahead ahead = Ahead.of(c, levels);
        int[] further = new int[ahead.cells.length];
        for (int n = 1; n <= MOST_CIRCLES; n++) {
            further[ahead.mostUseful(further)]++;
            double chance = chance(ahead, further, mean, fixedVariance, rule);
            if (chance >= ENOUGH) {
                Map<Cell, Integer> byCell = new LinkedHashMap<>();
                for (int k = 0; k < further.length; k++) {
                    if (further[k] > 0) {
                        byCell.put(cells.get(ahead.cells[k]), further[k]);
                    }
                }
                return new Outlook(byCell, chance, Obstacle.NONE);
            }
        }
        // the middle level: the mean over levels would be that of the few large ones
        double readings = ahead.variance(further, levels.size() / 2);
        double today = ahead.variance(new int[further.length], levels.size() / 2) + fixedVariance;
        double chance = chance(ahead, further, mean, fixedVariance, rule);
        return new Outlook(Map.of(), chance, obstacle(mean, today, readings, fixedVariance, rule));
    }

    private static Obstacle obstacle(
            double mean, double today, double readings, double fixedVariance, DecisionRule rule) {
        if (fixedVariance > readings) {
            return Obstacle.GEOMETRY;
        }
        if (Math.sqrt(today) > TOO_WIDE * rule.margin()) { // nobody can tell yet that it lies near the margin
            return Obstacle.UNCERTAIN_TODAY;
        }
        // two standard deviations: what a verdict at the usual confidence needs, and a little more
        double room = 2 * Math.sqrt(readings + fixedVariance);
        // nearer to the margin than to nothing
        double near = Math.min(room, rule.margin() / 2);
        return room < rule.margin() && Math.abs(Math.abs(mean) - rule.margin()) < near
                ? Obstacle.NEAR_MARGIN
                : Obstacle.UNCERTAIN_TODAY;
    }

    /** The cells that are in a contrast, at each level of repeatability, in plain arrays: they are asked for thousands of times. */
    private static final class Ahead {
        /** Their places among all cells. */
        private final int[] cells;

        private final double[] squares;
        private final double[] weights;
        /** [level][cell]: precision of a cell today, and what one further circle adds to it. */
        private final double[][] today;

        private final double[][] perCircle;

        private Ahead(int[] cells, double[] squares, double[] weights, double[][] today, double[][] perCircle) {
            this.cells = cells;
            this.squares = squares;
            this.weights = weights;
            this.today = today;
            this.perCircle = perCircle;
        }

        static Ahead of(double[] c, List<RepeatabilityPosterior.Level> levels) {
            int[] cells = IntStream.range(0, c.length).filter(k -> c[k] != 0).toArray();
            double[][] today = new double[levels.size()][cells.length];
            double[][] perCircle = new double[levels.size()][cells.length];
            for (int l = 0; l < today.length; l++) {
                for (int k = 0; k < cells.length; k++) {
                    today[l][k] = 1 / levels.get(l).cellVariances().get(cells[k]);
                    perCircle[l][k] = 1 / levels.get(l).newCircleVariances().get(cells[k]);
                }
            }
            return new Ahead(
                    cells,
                    IntStream.of(cells).mapToDouble(k -> c[k] * c[k]).toArray(),
                    levels.stream()
                            .mapToDouble(RepeatabilityPosterior.Level::weight)
                            .toArray(),
                    today,
                    perCircle);
        }

        double variance(int[] further, int level) {
            double sum = 0;
            for (int k = 0; k < squares.length; k++) {
                sum += variance(k, further[k], level);
            }
            return sum;
        }

        /** Of one cell after so many further circles. */
        private double variance(int k, int circles, int level) {
            // without scatter a circle's precision is infinite, and no circle of it is none
            return squares[k] / (circles == 0 ? today[level][k] : today[level][k] + circles * perCircle[level][k]);
        }

        int mostUseful(int[] further) {
            int best = -1;
            double most = Double.NEGATIVE_INFINITY;
            for (int k = 0; k < squares.length; k++) {
                double won = 0;
                for (int l = 0; l < weights.length; l++) {
                    won += weights[l] * (variance(k, further[k], l) - variance(k, further[k] + 1, l));
                }
                if (won > most) {
                    most = won;
                    best = k;
                }
            }
            return best;
        }
    }

    /** Chance of a verdict after further circles. */
    private static double chance(Ahead ahead, int[] further, double mean, double fixedVariance, DecisionRule rule) {
        double oneSided = Quantiles.normal(rule.confidence());
        int[] none = new int[further.length];
        double sum = 0;
        double total = 0;
        for (int l = 0; l < ahead.weights.length; l++) {
            double today = ahead.variance(none, l);
            double then = ahead.variance(further, l);
            double spread = Math.sqrt(Math.max(0, today - then));
            double s = Math.sqrt(then + fixedVariance);
            double beyond = rule.margin() + oneSided * s;
            double within = mostWithin(s, oneSided, rule);
            double settled = normal((-beyond - mean) / spread) + normal((mean - beyond) / spread);
            if (within >= 0) {
                settled += normal((within - mean) / spread) - normal((-within - mean) / spread);
            }
            sum += ahead.weights[l] * settled;
            total += ahead.weights[l];
        }
        return sum / total;
    }

    /**
     * The largest estimate at which a quantity with a normal uncertainty s is found within the margin.
     *
     * @return 0 or more; −1 where not even an estimate of zero would be within it
     */
    private static double mostWithin(double s, double oneSided, DecisionRule rule) {
        double nearTail = rule.margin() - oneSided * s;
        if (nearTail > 0 && rule.margin() + nearTail > NOTHING * s) {
            return nearTail; // the quick way, and the only one where s is 0
        }
        if (probabilityWithin(0, s, rule) < rule.confidence()) {
            return -1;
        }
        // with the near tail alone it would lie at nearTail, and the far tail takes something off that
        return new BrentSolver(CLOSE * s).solve(MAX_STEPS, new ToSpare(s, rule), 0, nearTail);
    }

    /**
     * What a mean has more probability within the margin than is asked for. A class, not a lambda, which would keep the
     * library's classes out of the archive that makes a start quick.
     */
    private record ToSpare(double s, DecisionRule rule) implements UnivariateFunction {
        @Override
        public double value(double mean) {
            return probabilityWithin(mean, s, rule) - rule.confidence();
        }
    }

    private static double probabilityWithin(double mean, double s, DecisionRule rule) {
        return normal((rule.margin() - mean) / s) - normal((-rule.margin() - mean) / s);
    }

    private static double normal(double z) {
        return Double.isNaN(z) ? 0.5 : Quantiles.normalProbability(z);
    }

    /** All further circles together. */
    int total() {
        return furtherCircles.values().stream().mapToInt(Integer::intValue).sum();
    }
}
