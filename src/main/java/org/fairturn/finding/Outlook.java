package org.fairturn.finding;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
        int[] further = new int[c.length];
        for (int n = 1; n <= MOST_CIRCLES; n++) {
            further[mostUseful(c, further, levels)]++;
            double chance = chance(c, further, mean, fixedVariance, levels, rule);
            if (chance >= ENOUGH) {
                Map<Cell, Integer> byCell = new LinkedHashMap<>();
                for (int k = 0; k < c.length; k++) {
                    if (further[k] > 0) {
                        byCell.put(cells.get(k), further[k]);
                    }
                }
                return new Outlook(byCell, chance, Obstacle.NONE);
            }
        }
        // the middle level: the mean over levels would be that of the few large ones
        double readings = variance(c, further, levels.get(levels.size() / 2));
        double chance = chance(c, further, mean, fixedVariance, levels, rule);
        return new Outlook(Map.of(), chance, obstacle(mean, readings, fixedVariance, rule));
    }

    private static Obstacle obstacle(double mean, double readings, double fixedVariance, DecisionRule rule) {
        if (fixedVariance > readings) {
            return Obstacle.GEOMETRY;
        }
        // two standard deviations: what a verdict at the usual confidence needs, and a little more
        double room = 2 * Math.sqrt(readings + fixedVariance);
        // nearer to the margin than to nothing
        double near = Math.min(room, rule.margin() / 2);
        return room < rule.margin() && Math.abs(Math.abs(mean) - rule.margin()) < near
                ? Obstacle.NEAR_MARGIN
                : Obstacle.UNCERTAIN_TODAY;
    }

    private static double variance(double[] c, int[] further, RepeatabilityPosterior.Level level) {
        double sum = 0;
        for (int k = 0; k < c.length; k++) {
            if (c[k] != 0) {
                sum += c[k]
                        * c[k]
                        / (1 / level.cellVariances().get(k)
                                + further[k] / level.newCircleVariances().get(k));
            }
        }
        return sum;
    }

    private static int mostUseful(double[] c, int[] further, List<RepeatabilityPosterior.Level> levels) {
        int best = -1;
        double least = Double.POSITIVE_INFINITY;
        for (int k = 0; k < c.length; k++) {
            if (c[k] == 0) {
                continue;
            }
            further[k]++;
            double after = 0;
            for (RepeatabilityPosterior.Level level : levels) {
                after += level.weight() * variance(c, further, level);
            }
            further[k]--;
            if (after < least) {
                least = after;
                best = k;
            }
        }
        return best;
    }

    /** Chance of a verdict after further circles. */
    private static double chance(
            double[] c,
            int[] further,
            double mean,
            double fixedVariance,
            List<RepeatabilityPosterior.Level> levels,
            DecisionRule rule) {
        double oneSided = Quantiles.normal(rule.confidence());
        int[] none = new int[c.length];
        double sum = 0;
        for (RepeatabilityPosterior.Level level : levels) {
            double today = variance(c, none, level);
            double then = variance(c, further, level);
            double spread = Math.sqrt(Math.max(0, today - then));
            double s = Math.sqrt(then + fixedVariance);
            double beyond = rule.margin() + oneSided * s;
            double within = mostWithin(s, oneSided, rule);
            double settled = normal((-beyond - mean) / spread) + normal((mean - beyond) / spread);
            if (within >= 0) {
                settled += normal((within - mean) / spread) - normal((-within - mean) / spread);
            }
            sum += level.weight() * settled;
        }
        return sum
                / levels.stream()
                        .mapToDouble(RepeatabilityPosterior.Level::weight)
                        .sum();
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
