package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.apache.commons.math3.analysis.solvers.BrentSolver;

/**
 * A mixture of normal distributions: what is known of a contrast once the repeatability is averaged over.
 *
 * <p>Probabilities are exact sums; quantiles are solved to 1e-9 of the mixture's own spread.
 */
public final class NormalMixture {
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
        double z = Quantiles.normal(probability);
        double low = mean - spread;
        double high = mean + spread;
        for (int i = 0; i < weights.length; i++) {
            low = Math.min(low, means[i] + z * deviations[i]);
            high = Math.max(high, means[i] + z * deviations[i]);
        }
        while (probabilityBelow(low) > probability) {
            low -= high - low;
        }
        while (probabilityBelow(high) < probability) {
            high += high - low;
        }
        return new BrentSolver(1e-14, 1e-9 * spread).solve(200, x -> probabilityBelow(x) - probability, low, high);
    }

    /** Mean, standard deviation and the interval that leaves out equal tails. */
    public Estimate estimate(double level) {
        return new Estimate(mean, standardDeviation(), quantile((1 - level) / 2), quantile((1 + level) / 2), level);
    }
}
