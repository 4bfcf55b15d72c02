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
    /** What probabilities may be off where parts are drawn together roughly; 2e-3 is what was found. */
    public static final double ROUGHLY = 8e-3;
    /** More parts than this are worth drawing together before anything is asked of them. */
    private static final int MANY = 60;
    /** −2·ln of what φ is next to nothing below. */
    private static final double NOTHING = 90;
    /** In deviations: a part has less than 1e-21 of its weight farther out. */
    private static final double FAR = Math.sqrt(NOTHING);

    private static final double FAR_TAILS_COUNT = 1e-9;

    private final double[] weights;
    /** Of each part the series it begins with its weight, where parts stand for several; null where none does. See {@link Bins}. */
    private final double[][] series;

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
        this(scaled(weights), null, means.clone(), roots(variances));
    }

    private static double[] roots(double[] variances) {
        double[] roots = new double[variances.length];
        for (int i = 0; i < roots.length; i++) {
            roots[i] = Math.sqrt(variances[i]);
        }
        return roots;
    }

    private static double[] scaled(double[] weights) {
        double total = 0;
        for (double w : weights) {
            total += w;
        }
        if (!(total > 0)) {
            throw new IllegalArgumentException("sum of weights is " + total + "; must be in (0, ∞)");
        }
        double[] scaled = new double[weights.length];
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] = weights[i] / total;
        }
        return scaled;
    }

    /** Takes the arrays as they are; the weights are those of a whole. */
    NormalMixture(double[] weights, double[][] series, double[] means, double[] deviations) {
        this.weights = weights;
        this.series = series;
        this.means = means;
        this.deviations = deviations;
        double first = means[0];
        double shift = 0;
        for (int i = 0; i < means.length; i++) {
            shift += weights[i] * (means[i] - first);
        }
        if (series != null) {
            for (int i = 0; i < means.length; i++) {
                shift += series[i].length > 1 ? series[i][1] * deviations[i] : 0;
            }
        }
        this.mean = first + shift;
        double spread = 0;
        for (int i = 0; i < means.length; i++) {
            double off = means[i] - mean;
            spread += weights[i] * (deviations[i] * deviations[i] + off * off);
        }
        if (series != null) {
            for (int i = 0; i < means.length; i++) {
                double[] c = series[i];
                spread += c.length > 2 ? 2 * deviations[i] * ((means[i] - mean) * c[1] + deviations[i] * c[2]) : 0;
            }
        }
        this.variance = spread;
    }

    private NormalMixture(NormalMixture from, double by) {
        weights = from.weights;
        series = from.series;
        means = from.means.clone();
        for (int i = 0; i < means.length; i++) {
            means[i] += by;
        }
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
        return tail(x, 1);
    }

    /**
     * {@return P(q > x), without the loss of digits that 1 − P(q ≤ x) would bring}
     *
     * @param x in the unit of the quantity
     */
    public double probabilityAbove(double x) {
        return tail(x, -1);
    }

    /** P(q ≤ x) where the side is 1, P(q > x) where it is −1. */
    private double tail(double x, int side) {
        double sum = 0;
        boolean far = false;
        for (int i = 0; i < means.length; i++) {
            if (!(deviations[i] > 0)) {
                sum += side > 0 == x >= means[i] ? weights[i] : 0;
                continue;
            }
            double z = (x - means[i]) / deviations[i];
            if (side * z < -FAR) {
                far = true;
            } else {
                sum += weights[i] * Quantiles.normalProbability(side * z) - side * correction(i, z);
            }
        }
        if (far && sum < FAR_TAILS_COUNT) {
            for (int i = 0; i < means.length; i++) {
                double z = side * (x - means[i]) / deviations[i];
                sum += deviations[i] > 0 && z < -FAR ? weights[i] * Quantiles.normalProbability(z) : 0;
            }
        }
        return Math.min(1, Math.max(0, sum));
    }

    /** φ(z)·Σ cₙ·Heₙ₋₁(z): what the terms beyond the first take from P(q ≤ x). */
    private double correction(int part, double z) {
        if (series == null || z * z > NOTHING) {
            return 0;
        }
        double[] c = series[part];
        double sum = 0;
        double before = 0;
        double hermite = 1;
        for (int n = 1; n < c.length; n++) {
            sum += c[n] * hermite;
            double next = z * hermite - (n - 1) * before;
            before = hermite;
            hermite = next;
        }
        return sum * Math.exp(-z * z / 2) / SQRT_2_PI;
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
        double spread = standardDeviation();
        return spread > 0 ? condensed().solve(probability, mean + Quantiles.normal(probability) * spread) : mean;
    }

    private double solve(double probability, double start) {
        double spread = standardDeviation();
        double low = Double.NEGATIVE_INFINITY;
        double high = Double.POSITIVE_INFINITY;
        double x = start;
        double before = Double.POSITIVE_INFINITY;
        double[] slopes = new double[4];
        for (int step = 0; step < MAX_STEPS; step++) {
            double excess = below(x, slopes) - probability;
            if (excess > 0) {
                high = x;
            } else {
                low = x;
            }
            double density = slopes[0];
            double newton = -excess * SQRT_2_PI / density;
            double next =
                    x + inverse(newton, slopes[1] / density / 2, slopes[2] / density / 6, slopes[3] / density / 24);
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

    /**
     * P(q ≤ x) with the density there and its first three derivatives, all four times √(2π).
     *
     * @param slopes of four, overwritten
     */
    private double below(double x, double[] slopes) {
        Arrays.fill(slopes, 0);
        double below = 0;
        for (int i = 0; i < means.length; i++) {
            if (!(deviations[i] > 0)) {
                below += x >= means[i] ? weights[i] : 0;
                continue;
            }
            double perDeviation = 1 / deviations[i];
            double z = (x - means[i]) * perDeviation;
            below += weights[i] * Quantiles.normalProbability(z);
            if (z * z > NOTHING) {
                continue;
            }
            double f = Math.exp(-z * z / 2);
            if (series == null) {
                f *= weights[i] * perDeviation;
                slopes[0] += f;
                f *= perDeviation;
                slopes[1] -= f * z;
                f *= perDeviation;
                slopes[2] += f * (z * z - 1);
                slopes[3] -= f * perDeviation * z * (z * z - 3);
                continue;
            }
            double[] c = series[i];
            double h0 = 0; // Heₙ₋₁(z) to Heₙ₊₃(z)
            double h1 = 1;
            double h2 = z;
            double h3 = z * z - 1;
            double h4 = z * (z * z - 3);
            double s0 = 0;
            double s1 = 0;
            double s2 = 0;
            double s3 = 0;
            double s4 = 0;
            for (int n = 0; n < c.length; n++) {
                s0 += c[n] * h0;
                s1 += c[n] * h1;
                s2 += c[n] * h2;
                s3 += c[n] * h3;
                s4 += c[n] * h4;
                h0 = h1;
                h1 = h2;
                h2 = h3;
                h3 = h4;
                h4 = z * h3 - (n + 3) * h2;
            }
            below -= f * s0 / SQRT_2_PI;
            f *= perDeviation;
            slopes[0] += f * s1;
            f *= perDeviation;
            slopes[1] -= f * s2;
            f *= perDeviation;
            slopes[2] += f * s3;
            slopes[3] -= f * perDeviation * s4;
        }
        return below;
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
        double[] slopes = new double[4];
        below(x, slopes);
        return Math.max(0, slopes[0]) / SQRT_2_PI;
    }

    /**
     * The sum of this and an independent quantity: every part of one with every part of the other, many of them drawn
     * together before and after.
     *
     * @param independent in the unit of this one
     * @return the sum; its probabilities are off by less than 1e-9
     */
    public NormalMixture plus(NormalMixture independent) {
        return plus(independent, Bins.Kind.WHOLE);
    }

    /**
     * The same many times faster, for verdicts only: its probabilities may be up to {@value #ROUGHLY} off.
     *
     * @param independent in the unit of this one
     * @return the sum, whose mean and variance are exact
     */
    public NormalMixture plusRoughly(NormalMixture independent) {
        return plus(independent, Bins.Kind.ROUGH);
    }

    private NormalMixture plus(NormalMixture independent, Bins.Kind kind) {
        NormalMixture a = condensed(kind);
        NormalMixture b = independent.condensed(kind);
        if (b.isNormal()) {
            return a.moved(b.mean, b.variance);
        }
        if (a.isNormal()) {
            return b.moved(a.mean, a.variance);
        }
        Bins bins = new Bins(kind);
        for (int i = 0; i < a.means.length; i++) {
            double v = a.deviations[i] * a.deviations[i];
            for (int j = 0; j < b.means.length; j++) {
                bins.add(
                        a.seriesOf(i),
                        a.deviations[i],
                        b.seriesOf(j),
                        b.deviations[j],
                        a.means[i] + b.means[j],
                        v + b.deviations[j] * b.deviations[j]);
            }
        }
        return bins.mixture();
    }

    private double[] seriesOf(int part) {
        return series == null ? new double[] {weights[part]} : series[part];
    }

    private boolean isNormal() {
        return means.length == 1 && (series == null || series[0].length == 1);
    }

    /**
     * {@return the same moved by a distance, with a further variance in every part}
     *
     * @param distance in the unit of the quantity, of either sign
     * @param furtherVariance its square, 0 or more
     */
    public NormalMixture moved(double distance, double furtherVariance) {
        double[] there = new double[means.length];
        double[] wider = new double[means.length];
        double[][] scaled = series == null ? null : new double[means.length][];
        for (int i = 0; i < means.length; i++) {
            there[i] = means[i] + distance;
            wider[i] = Math.sqrt(deviations[i] * deviations[i] + furtherVariance);
            if (series != null) {
                scaled[i] = new double[series[i].length];
                Bins.scale(series[i], wider[i] > 0 ? deviations[i] / wider[i] : 1, scaled[i]);
            }
        }
        return new NormalMixture(weights, scaled, there, wider);
    }

    /** {@return the same with parts that are nearly alike drawn together, where there are many; off by less than 1e-9} */
    public NormalMixture condensed() {
        return condensed(Bins.Kind.WHOLE);
    }

    /** {@return the same roughly, as in {@link #plusRoughly}} */
    public NormalMixture condensedRoughly() {
        return condensed(Bins.Kind.ROUGH);
    }

    private NormalMixture condensed(Bins.Kind kind) {
        if (means.length <= MANY || series != null) {
            return this;
        }
        Bins bins = new Bins(kind);
        for (int i = 0; i < means.length; i++) {
            bins.add(weights[i], means[i], deviations[i] * deviations[i]);
        }
        return bins.mixture();
    }

    /** One part: weight, mean, variance. */
    record Normal(double w, double m, double v) {}

    List<Normal> parts() {
        return IntStream.range(0, means.length)
                .filter(i -> weights[i] > 0)
                .mapToObj(i -> new Normal(weights[i], means[i], deviations[i] * deviations[i]))
                .toList();
    }

    /**
     * {@return mean, standard deviation and the interval that leaves out equal tails; made as wide as it takes to hold the
     * mean, which a lopsided mixture may have outside of it at levels not far above a half}
     *
     * @param level probability of the interval, in (0, 1)
     */
    public Estimate estimate(double level) {
        NormalMixture few = condensed();
        return new Estimate(
                mean,
                standardDeviation(),
                Math.min(mean, few.quantile((1 - level) / 2)),
                Math.max(mean, few.quantile((1 + level) / 2)),
                level);
    }
}
