package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * A mixture of normal distributions: what is known of a contrast once the repeatability is averaged over.
 *
 * <p>Probabilities are exact sums; quantiles are solved by Newton's method inside a shrinking bracket until a step is below
 * 1e-10 of the mixture's own spread (at most 200 steps, each of which halves the bracket at worst).
 */
public final class NormalMixture {
    private static final int MAX_STEPS = 200;
    private static final double SETTLED = 1e-10;
    /** How far parts that are drawn together may differ, in ln variance and in standard deviations of the mean. */
    private static final double ALIKE = 0.02;

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

    double leastDeviation() {
        return Arrays.stream(deviations).min().orElseThrow();
    }

    double mostDeviation() {
        return Arrays.stream(deviations).max().orElseThrow();
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

    double density(double x) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            double z = (x - means[i]) / deviations[i];
            sum += deviations[i] > 0 ? weights[i] * Math.exp(-z * z / 2) / deviations[i] : 0;
        }
        return sum / Math.sqrt(2 * Math.PI);
    }

    /**
     * The sum of this and an independent quantity. Every pair of parts makes a part of the sum; beforehand and afterwards
     * parts that are nearly alike are drawn together to one with their weight, mean and variance: those whose variances lie
     * within 2 % of each other and whose means within 2 % of a standard deviation.
     *
     * @return the sum, whose mean and variance are exact and whose probabilities are at most 1e-4 off. With ν the variance
     *     about the bin's own, the second-order terms left are ½E[ν²]·|∂²Φ/∂v²| ≤ 0.07·E[ν²]/v² ≤ 7e-6 and
     *     |E[μν]|·|∂²Φ/∂m∂v| ≤ 0.2·0.01·0.01 = 2e-5 a bin, in each of three rounds; on the posteriors of trials it is less
     *     than a hundredth of that, because a smooth grid errs to both sides
     * @see "Own derivation: Taylor's series of Φ((x − m)/√v); the term in the variance of the means is taken up exactly by
     *     the variance that is kept, since ∂²Φ/∂m² = 2·∂Φ/∂v"
     */
    public NormalMixture plus(NormalMixture independent) {
        NormalMixture a = drawnTogether(stream());
        NormalMixture b = drawnTogether(independent.stream());
        return drawnTogether(a.stream().flatMap(p -> b.stream().map(q -> new Normal(p.w * q.w, p.m + q.m, p.v + q.v))));
    }

    /** The same with parts that are nearly alike drawn together, as in {@link #plus}. */
    public NormalMixture condensed() {
        return drawnTogether(stream());
    }

    /** One part: weight, mean, variance. */
    private record Normal(double w, double m, double v) {}

    /** Where a part belongs: its variance and mean in steps. */
    private record Bin(long variance, long mean) {}

    /** What has come together in a bin; means are counted from the bin's own, so that nothing cancels. */
    private static final class Together {
        private final double origin;
        private double weight;
        private double shift;
        private double square;
        private double variance;

        Together(double origin) {
            this.origin = origin;
        }

        void add(Normal part) {
            double d = part.m - origin;
            weight += part.w;
            shift += part.w * d;
            square += part.w * d * d;
            variance += part.w * part.v;
        }

        Normal part() {
            double d = shift / weight;
            return new Normal(weight, origin + d, Math.max(0, variance / weight + square / weight - d * d));
        }
    }

    private Stream<Normal> stream() {
        return IntStream.range(0, weights.length)
                .filter(i -> weights[i] > 0)
                .mapToObj(i -> new Normal(weights[i], means[i], deviations[i] * deviations[i]));
    }

    private static NormalMixture drawnTogether(Stream<Normal> parts) {
        Map<Bin, Together> bins = new LinkedHashMap<>();
        double[] origin = {Double.NaN};
        parts.forEach(part -> {
            if (Double.isNaN(origin[0])) {
                origin[0] = part.m;
            }
            long variance = (long) Math.floor(Math.log(part.v) / ALIKE);
            // parts without variance are steps, which are alike only where they are the same
            long mean = part.v > 0
                    ? Math.round((part.m - origin[0]) / (ALIKE * Math.exp(variance * ALIKE / 2)))
                    : Double.doubleToLongBits(part.m);
            bins.computeIfAbsent(new Bin(variance, mean), k -> new Together(part.m))
                    .add(part);
        });
        List<Normal> all = bins.values().stream().map(Together::part).toList();
        return new NormalMixture(
                all.stream().mapToDouble(Normal::w).toArray(),
                all.stream().mapToDouble(Normal::m).toArray(),
                all.stream().mapToDouble(Normal::v).toArray());
    }

    /** Mean, standard deviation and the interval that leaves out equal tails. */
    public Estimate estimate(double level) {
        return new Estimate(mean, standardDeviation(), quantile((1 - level) / 2), quantile((1 + level) / 2), level);
    }
}
