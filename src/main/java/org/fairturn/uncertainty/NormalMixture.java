package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/**
 * A mixture of normal distributions: what is known of a contrast once the repeatability is averaged over.
 *
 * <p>Probabilities are exact sums; quantiles are solved by the inverse of their Taylor series inside a shrinking bracket until a
 * step is below 4e-3 of the mixture's own spread and the probability within 1 % of the smaller tail, which leaves about the fifth
 * power of that, or the bracket below 1e-10 (at most 200 steps; one that does not halve what is left to the probability halves
 * the bracket).
 */
public final class NormalMixture {
    private static final int MAX_STEPS = 200;
    private static final double SETTLED = 1e-10;
    /** A step whose fifth power is negligible. */
    private static final double LAST_STEP = 4e-3;
    /** What is left to the probability by then, as a share of the smaller tail: the spread may be that of a few wide parts alone. */
    private static final double NEARLY = 1e-2;

    /** In spreads: where hardly anything is, the series leads far away. */
    private static final double MOST_STEP = 8;

    private static final double SQRT_2_PI = Math.sqrt(2 * Math.PI);
    /** How far parts that are drawn together may differ, in ln variance and in standard deviations of the mean. */
    private static final double ALIKE = 0.18;

    private static final double ROUGHLY_ALIKE = 0.8;
    /** What probabilities may be off where parts are drawn together roughly; 3e-4 is what was found. */
    public static final double ROUGHLY = 8e-3;
    /** More parts than this are worth drawing together before a quantile is looked for. */
    private static final int MANY = 150;

    private final double[] weights;
    private final double[] means;
    private final double[] deviations;
    private final double mean;
    private final double variance;

    /**
     * A mixture of as many parts as there are weights.
     *
     * @param weights 0 or more, sum above 0; they are scaled to sum to 1
     * @param means m of each part
     * @param variances 0 or more
     */
    public NormalMixture(double[] weights, double[] means, double[] variances) {
        int n = weights.length;
        double total = 0;
        for (double w : weights) {
            total += w;
        }
        if (!(total > 0)) {
            throw new IllegalArgumentException("sum of weights is " + total + "; must be in (0, ∞)");
        }
        this.weights = new double[n];
        this.means = means.clone();
        this.deviations = new double[n];
        double first = means[0];
        double shift = 0;
        for (int i = 0; i < n; i++) {
            this.weights[i] = weights[i] / total;
            this.deviations[i] = Math.sqrt(variances[i]);
            shift += this.weights[i] * (means[i] - first);
        }
        this.mean = first + shift;
        double spread = 0;
        for (int i = 0; i < n; i++) {
            spread += this.weights[i] * (variances[i] + (means[i] - mean) * (means[i] - mean));
        }
        this.variance = spread;
    }

    private NormalMixture(NormalMixture from, double by) {
        weights = from.weights;
        means = Arrays.stream(from.means).map(m -> m + by).toArray();
        deviations = from.deviations;
        mean = from.mean + by;
        variance = from.variance;
    }

    /**
     * {@return the same quantity with a known amount added}
     *
     * @param by in the unit of the quantity, of either sign
     */
    public NormalMixture moved(double by) {
        return new NormalMixture(this, by);
    }

    /** {@return E[q] = Σw·m} */
    public double mean() {
        return mean;
    }

    /** {@return √(E[q²] − E[q]²), 0 or more} */
    public double standardDeviation() {
        return Math.sqrt(variance);
    }

    double leastDeviation() {
        return Arrays.stream(deviations).min().orElseThrow();
    }

    double mostDeviation() {
        return Arrays.stream(deviations).max().orElseThrow();
    }

    /**
     * {@return P(q ≤ x)}
     *
     * @param x in the unit of the quantity
     */
    public double probabilityBelow(double x) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += weights[i]
                    * (deviations[i] > 0
                            ? Quantiles.normalProbability((x - means[i]) / deviations[i])
                            : (x >= means[i] ? 1 : 0));
        }
        return Math.min(1, sum);
    }

    /**
     * {@return P(q > x), without the loss of digits that 1 − P(q ≤ x) would bring}
     *
     * @param x in the unit of the quantity
     */
    public double probabilityAbove(double x) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += weights[i]
                    * (deviations[i] > 0
                            ? Quantiles.normalProbability((means[i] - x) / deviations[i])
                            : (x < means[i] ? 1 : 0));
        }
        return Math.min(1, sum);
    }

    /**
     * {@return q with P(q ≤ x) = probability, probability in (0, 1)}
     *
     * @param probability in (0, 1)
     */
    public double quantile(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability is " + probability + "; must be in (0, 1)");
        }
        return quantile(probability, nearby());
    }

    /** For many parts the few they draw together to, whose quantiles are a step or two away. */
    private NormalMixture nearby() {
        return weights.length > MANY ? condensed(ROUGHLY_ALIKE, false) : this;
    }

    private double quantile(double probability, NormalMixture nearby) {
        double spread = standardDeviation();
        if (!(spread > 0)) {
            return mean;
        }
        double start = mean + Quantiles.normal(probability) * spread;
        return solve(probability, nearby == this ? start : nearby.solve(probability, start));
    }

    private double solve(double probability, double start) {
        double spread = standardDeviation();
        double low = Double.NEGATIVE_INFINITY;
        double high = Double.POSITIVE_INFINITY;
        double x = start;
        double before = Double.POSITIVE_INFINITY;
        for (int step = 0; step < MAX_STEPS; step++) {
            double below = 0;
            double density = 0;
            double slope = 0;
            double bend = 0;
            double turn = 0;
            for (int i = 0; i < weights.length; i++) {
                if (deviations[i] > 0) {
                    double z = (x - means[i]) / deviations[i];
                    double f = weights[i] * Math.exp(-z * z / 2) / deviations[i];
                    below += weights[i] * Quantiles.normalProbability(z);
                    density += f;
                    f /= deviations[i];
                    slope -= f * z;
                    f /= deviations[i];
                    bend += f * (z * z - 1);
                    turn += f * z * (3 - z * z) / deviations[i];
                } else {
                    below += x >= means[i] ? weights[i] : 0;
                }
            }
            double excess = below - probability;
            if (excess > 0) {
                high = x;
            } else {
                low = x;
            }
            double newton = -excess * SQRT_2_PI / density;
            double next = x + inverse(newton, slope / density / 2, bend / density / 6, turn / density / 24);
            // asked before the bracket is: x is one of its ends, and a step too small to leave x would count as outside
            if (excess == 0) {
                return x;
            }
            if (Math.abs(next - x) < LAST_STEP * spread
                    && Math.abs(excess) < NEARLY * Math.min(probability, 1 - probability)) {
                return next;
            }
            boolean slow = Math.abs(excess) > before / 2; // far out in the tail of a narrow part steps are short
            before = Math.abs(excess);
            if (slow
                    || !(next > low
                            && next < high
                            && Math.abs(next - x) < MOST_STEP * spread)) { // or the density vanished
                next = Double.isInfinite(low) || Double.isInfinite(high)
                        ? x - Math.copySign(spread, excess)
                        : (low + high) / 2;
            }
            if (Math.abs(next - x) < SETTLED * spread) {
                return next;
            }
            x = next;
        }
        return x;
    }

    /** y with y + b·y² + c·y³ + d·y⁴ = h, to the fourth power of h. */
    private static double inverse(double h, double b, double c, double d) {
        return h * (1 + h * (-b + h * (2 * b * b - c + h * (5 * b * (c - b * b) - d))));
    }

    /**
     * Probability density at x.
     *
     * @param x in the unit of the quantity
     * @return per unit of the quantity, 0 or more; parts without variance add nothing
     */
    public double density(double x) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            double z = (x - means[i]) / deviations[i];
            sum += deviations[i] > 0 ? weights[i] * Math.exp(-z * z / 2) / deviations[i] : 0;
        }
        return sum / SQRT_2_PI;
    }

    /**
     * The sum of this and an independent quantity. Every pair of parts makes a part of the sum; beforehand and afterwards
     * parts that are nearly alike are drawn together, two parts standing for a bin: those whose variances lie within 18 % of
     * each other and whose means within 18 % of a standard deviation.
     *
     * @param independent in the unit of this one
     * @return the sum, whose mean and variance are exact. Of Taylor's series of its probabilities only terms of the third
     *     order are left, which are small because a smooth grid errs to both sides: on the posteriors of trials they
     *     were found to be below 3e-6, and no more than 1e-4 is promised
     * @see "Own derivation: Taylor's series of Φ((x − m)/√v); the term in E[μ²] is taken up by the variance that is kept,
     *     since ∂²Φ/∂m² = 2·∂Φ/∂v, those in E[ν²] and E[μν] by the two parts of a bin"
     */
    public NormalMixture plus(NormalMixture independent) {
        return plus(independent, ALIKE);
    }

    /**
     * The same many times faster, for verdicts only: parts that lie within 80 % of each other are drawn together, so that
     * its probabilities may be up to {@value #ROUGHLY} off.
     *
     * @param independent in the unit of this one
     * @return the sum, whose mean and variance are exact
     */
    public NormalMixture plusRoughly(NormalMixture independent) {
        return plus(independent, ROUGHLY_ALIKE);
    }

    private NormalMixture plus(NormalMixture independent, double alike) {
        NormalMixture a = condensed(alike, true);
        NormalMixture b = independent.condensed(alike, true);
        if (a.weights.length * b.weights.length == 1) {
            return new NormalMixture(
                    new double[] {1}, new double[] {a.mean + b.mean}, new double[] {a.variance + b.variance});
        }
        Bins bins = new Bins(alike);
        for (int i = 0; i < a.weights.length; i++) {
            double v = a.deviations[i] * a.deviations[i];
            for (int j = 0; j < b.weights.length; j++) {
                bins.add(a.weights[i] * b.weights[j], a.means[i] + b.means[j], v + b.deviations[j] * b.deviations[j]);
            }
        }
        return bins.mixture(false);
    }

    /**
     * {@return the same moved by a distance, with a further variance in every part}
     *
     * @param distance in the unit of the quantity, of either sign
     * @param furtherVariance its square, 0 or more
     */
    public NormalMixture moved(double distance, double furtherVariance) {
        double[] there = new double[means.length];
        double[] variances = new double[means.length];
        for (int i = 0; i < means.length; i++) {
            there[i] = means[i] + distance;
            variances[i] = deviations[i] * deviations[i] + furtherVariance;
        }
        return new NormalMixture(weights, there, variances);
    }

    /** {@return the same with parts that are nearly alike drawn together, as in {@link #plus}} */
    public NormalMixture condensed() {
        return condensed(ALIKE, false);
    }

    /** {@return the same roughly, as in {@link #plusRoughly}} */
    public NormalMixture condensedRoughly() {
        return condensed(ROUGHLY_ALIKE, true);
    }

    private NormalMixture condensed(double alike, boolean sorted) {
        if (weights.length == 1) {
            return this;
        }
        Bins bins = new Bins(alike);
        for (int i = 0; i < weights.length; i++) {
            if (weights[i] > 0) {
                bins.add(weights[i], means[i], deviations[i] * deviations[i]);
            }
        }
        return bins.mixture(sorted);
    }

    /** One part: weight, mean, variance. */
    record Normal(double w, double m, double v) {}

    List<Normal> parts() {
        return IntStream.range(0, weights.length)
                .filter(i -> weights[i] > 0)
                .mapToObj(i -> new Normal(weights[i], means[i], deviations[i] * deviations[i]))
                .toList();
    }

    /**
     * {@return mean, standard deviation and the interval a normal distribution with these would have}
     *
     * @param level probability of the interval, in (0, 1)
     */
    public Estimate roughEstimate(double level) {
        return Estimate.rough(mean, standardDeviation(), level);
    }

    /**
     * {@return mean, standard deviation and the interval that leaves out equal tails; made as wide as it takes to hold the
     * mean, which a lopsided mixture may have outside of it at levels not far above a half}
     *
     * @param level probability of the interval, in (0, 1)
     */
    public Estimate estimate(double level) {
        NormalMixture nearby = nearby();
        return new Estimate(
                mean,
                standardDeviation(),
                Math.min(mean, quantile((1 - level) / 2, nearby)),
                Math.max(mean, quantile((1 + level) / 2, nearby)),
                level);
    }
}
