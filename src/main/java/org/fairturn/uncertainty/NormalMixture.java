package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.stream.IntStream;

/**
 * A mixture of normal distributions: what is known of a contrast once the repeatability is averaged over.
 *
 * <p>Probabilities are exact sums; quantiles are solved by Newton's method inside a shrinking bracket until a step is below
 * 1e-10 of the mixture's own spread (at most 200 steps, each of which halves the bracket at worst).
 */
public final class NormalMixture {
    private static final int MAX_STEPS = 200;
    private static final double SETTLED = 1e-10;
    private final double[] weights;
    private final double[] means;
    private final double[] deviations;
    private final double mean;
    private final double variance;

    /**
     * A mixture of as many parts as there are weights.
     *
     * @param weights 0 or more, sum above 0; they are scaled to sum to 1
     * @param variances 0 or more
     */
    public NormalMixture(double[] weights, double[] means, double[] variances) {
        double total = Arrays.stream(weights).sum();
        if (!(total > 0)) {
            throw new IllegalArgumentException("sum of weights is " + total + "; must be in (0, ∞)");
        }
        this.weights = Arrays.stream(weights).map(w -> w / total).toArray();
        this.means = means.clone();
        this.deviations = Arrays.stream(variances).map(Math::sqrt).toArray();
        double first = means[0];
        this.mean = first
                + IntStream.range(0, means.length)
                        .mapToDouble(i -> this.weights[i] * (means[i] - first))
                        .sum();
        this.variance = IntStream.range(0, means.length)
                .mapToDouble(i -> this.weights[i] * (variances[i] + (means[i] - mean) * (means[i] - mean)))
                .sum();
    }

    public double mean() {
        return mean;
    }

    public double standardDeviation() {
        return Math.sqrt(variance);
    }

    /** P(q ≤ x). */
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

    /** P(q > x), without the loss of digits that 1 − P(q ≤ x) would bring. */
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

    /** q with P(q ≤ x) = probability, probability in (0, 1). */
    public double quantile(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability is " + probability + "; must be in (0, 1)");
        }
        double spread = standardDeviation();
        if (!(spread > 0)) {
            return mean;
        }
        double low = Double.NEGATIVE_INFINITY;
        double high = Double.POSITIVE_INFINITY;
        double x = mean + Quantiles.normal(probability) * spread;
        for (int step = 0; step < MAX_STEPS; step++) {
            double excess = probabilityBelow(x) - probability;
            if (excess > 0) {
                high = x;
            } else {
                low = x;
            }
            double next = x - excess / density(x);
            // asked before the bracket is: x is one of its ends, and a step too small to leave x would count as outside
            if (excess == 0 || Math.abs(next - x) < SETTLED * spread) {
                return excess == 0 ? x : next;
            }
            if (!(next > low && next < high)) { // Newton's step has left the bracket, or the density vanished
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

    private double density(double x) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            double z = (x - means[i]) / deviations[i];
            sum += deviations[i] > 0 ? weights[i] * Math.exp(-z * z / 2) / deviations[i] : 0;
        }
        return sum / Math.sqrt(2 * Math.PI);
    }

    /** Mean, standard deviation and the interval a normal distribution with these would have. */
    public Estimate roughEstimate(double level) {
        double half = Quantiles.normal((1 + level) / 2) * standardDeviation();
        return new Estimate(mean, standardDeviation(), mean - half, mean + half, level);
    }

    /** Mean, standard deviation and the interval that leaves out equal tails. */
    public Estimate estimate(double level) {
        return new Estimate(mean, standardDeviation(), quantile((1 - level) / 2), quantile((1 + level) / 2), level);
    }
}
