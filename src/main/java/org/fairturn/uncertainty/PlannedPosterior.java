package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;

/**
 * What a balanced design will probably have come to know of the repeatability: K cells of n circles, each with r readings
 * across.
 *
 * <p>Such data enter the posterior of {@link RepeatabilityPosterior} through two sums of squares alone: between circles,
 * S_b = (σ_b² + σ_w²/r)·χ² with K(n − 1) degrees of freedom, and within circles, S_w = σ_w²·χ² with K·n(r − 1). Both are
 * stood for by their quantiles at the middles of as many equal parts of probability. For each pair the posterior of
 * v = σ_b² + σ_w²/r, the variance of a circle's mean, follows on a fixed grid of ln σ_b and ln σ_w; what lies within 10 %
 * of v is drawn together, which moves a probability by less than 1e-4 (the term 0.07·E[ν²]/v² of
 * {@link NormalMixture#plus}).
 *
 * @see "Own derivation: the restricted likelihood with every circle worth r readings"
 */
public final class PlannedPosterior {
    private static final double STEP = 0.05;
    private static final double BELOW = 9;
    private static final double ABOVE = 5;
    private static final double BIN = 0.1;
    /** ln of what is left out of the likelihood. */
    private static final double NEGLIGIBLE = 25;

    private final double circleVariance;
    private final double readingVariance;
    private final Grid grid;

    /**
     * What may be planned for.
     *
     * @param sigmaB circle-to-circle standard deviation expected (m), in (0, ∞)
     * @param sigmaW reading-to-reading standard deviation expected (m), in (0, ∞)
     * @param readings of each circle, 1 or more
     * @param circlePrior of σ_b, what the analysis will assume, with a finite scale
     * @param readingPrior of σ_w, with a finite scale
     * @param resolution standard uncertainty (m) no reading falls below, in [0, ∞)
     */
    public PlannedPosterior(
            double sigmaB,
            double sigmaW,
            int readings,
            ScatterPrior circlePrior,
            ScatterPrior readingPrior,
            double resolution) {
        if (!(sigmaB > 0 && sigmaB < Double.POSITIVE_INFINITY)
                || !(sigmaW > 0 && sigmaW < Double.POSITIVE_INFINITY)
                || readings < 1) {
            throw new IllegalArgumentException("σ_b is " + sigmaB + " m, σ_w " + sigmaW + " m, readings " + readings
                    + "; must be in (0, ∞) m, (0, ∞) m and [1, ∞)");
        }
        circleVariance = sigmaB * sigmaB;
        readingVariance = sigmaW * sigmaW;
        grid = new Grid(
                axis(sigmaB, circlePrior.scale()),
                axis(sigmaW, readingPrior.scale()),
                readings,
                circlePrior,
                readingPrior,
                resolution);
    }

    private static double[] axis(double expected, double scale) {
        double low = Math.log(Math.min(expected, scale)) - BELOW;
        int steps = (int) Math.ceil((Math.log(Math.max(expected, scale)) + ABOVE - low) / STEP);
        return IntStream.rangeClosed(0, steps).mapToDouble(i -> low + STEP * i).toArray();
    }

    /** {@return variance (m²) of a circle's mean as expected} */
    public double meanVariance() {
        return circleVariance + readingVariance / grid.readings;
    }

    /** {@return variance (m²) of one circle with one reading as expected} */
    public double newCircleVariance() {
        return circleVariance + readingVariance;
    }

    /**
     * {@return posteriors that stand for all the data may turn out to be}
     *
     * @param cells K, 1 or more
     * @param circles n of each cell, 1 or more
     * @param between how many values stand for S_b, 1 or more
     * @param within how many values stand for S_w, 1 or more
     */
    public List<Outcome> outcomes(int cells, int circles, int between, int within) {
        int degreesBetween = cells * (circles - 1);
        int degreesWithin = cells * circles * (grid.readings - 1);
        double[] squaresBetween = scaled(meanVariance(), degreesBetween, between);
        double[] squaresWithin = scaled(readingVariance, degreesWithin, within);
        List<Outcome> outcomes = new ArrayList<>();
        for (double sw : squaresWithin) {
            Outcome before = grid.knowing(sw, degreesWithin);
            for (double sb : squaresBetween) {
                outcomes.add(before.knowing(sb, degreesBetween, 1.0 / squaresBetween.length / squaresWithin.length));
            }
        }
        return List.copyOf(outcomes);
    }

    private static double[] scaled(double variance, int degrees, int parts) {
        if (degrees == 0) {
            return new double[] {0};
        }
        ChiSquaredDistribution chi = new ChiSquaredDistribution(null, degrees);
        return IntStream.range(0, parts)
                .mapToDouble(i -> variance * chi.inverseCumulativeProbability((i + 0.5) / parts))
                .toArray();
    }

    /** The posterior of v for one pair of sums of squares. */
    public static final class Outcome {
        private final double weight;
        private final double[] shares;
        private final double[] v;
        private final double[] newCircle;

        private Outcome(double weight, double[] shares, double[] v, double[] newCircle) {
            this.weight = weight;
            this.shares = shares;
            this.v = v;
            this.newCircle = newCircle;
        }

        /** {@return probability of what it stands for} */
        public double weight() {
            return weight;
        }

        private Outcome knowing(double squares, int degrees, double probability) {
            double[] logs = new double[v.length];
            for (int i = 0; i < v.length; i++) {
                logs[i] = Math.log(shares[i]) - degrees / 2.0 * Math.log(v[i]) - squares / v[i] / 2;
            }
            double peak = Arrays.stream(logs).max().orElseThrow();
            int[] kept = IntStream.range(0, v.length)
                    .filter(i -> logs[i] > peak - NEGLIGIBLE)
                    .toArray();
            double[] weights = Arrays.stream(kept)
                    .mapToDouble(i -> Math.exp(logs[i] - peak))
                    .toArray();
            double sum = Arrays.stream(weights).sum();
            return new Outcome(
                    probability,
                    Arrays.stream(weights).map(w -> w / sum).toArray(),
                    Arrays.stream(kept).mapToDouble(i -> v[i]).toArray(),
                    Arrays.stream(kept).mapToDouble(i -> newCircle[i]).toArray());
        }

        /**
         * {@return how far a quantity may lie from its estimate: a mixture about 0}
         *
         * @param factor of the variance of a circle's mean, in (0, ∞): Σc²/n for a contrast of cells with n circles each
         * @param fixedVariance variance (m²) that no circle makes smaller
         * @param newCircles how many times the variance of one new circle with one reading is added, in [0, ∞)
         */
        public NormalMixture contrast(double factor, double fixedVariance, double newCircles) {
            double[] variances = new double[v.length];
            for (int i = 0; i < v.length; i++) {
                variances[i] = factor * v[i] + fixedVariance + newCircles * newCircle[i];
            }
            return new NormalMixture(shares, new double[v.length], variances);
        }

        /**
         * {@return the same for the sum of such a quantity of this machine and one of another that shares nothing with it}
         *
         * @param factor of the variance of a circle's mean of this machine, in (0, ∞)
         * @param fixedVariance variance (m²) that no circle makes smaller
         * @param other of the other machine
         * @param otherFactor of the variance of a circle's mean of the other machine, in (0, ∞)
         */
        public NormalMixture contrast(double factor, double fixedVariance, Outcome other, double otherFactor) {
            VarianceBins bins = new VarianceBins();
            for (int i = 0; i < v.length; i++) {
                for (int j = 0; j < other.v.length; j++) {
                    double variance = factor * v[i] + otherFactor * other.v[j] + fixedVariance;
                    bins.add((int) Math.floor(Math.log(variance) / BIN), shares[i] * other.shares[j], variance, 0);
                }
            }
            Outcome sum = bins.outcome();
            return new NormalMixture(sum.shares, new double[sum.v.length], sum.v);
        }
    }

    /** Draws together what has nearly the same variance. */
    private static final class VarianceBins {
        private static final int MOST = 4000;
        private final double[] weight = new double[MOST];
        private final double[] v = new double[MOST];
        private final double[] newCircle = new double[MOST];

        void add(int bin, double w, double variance, double newCircleVariance) {
            int i = Math.floorMod(bin, MOST);
            weight[i] += w;
            v[i] += w * variance;
            newCircle[i] += w * newCircleVariance;
        }

        Outcome outcome() {
            int[] kept = IntStream.range(0, MOST).filter(i -> weight[i] > 0).toArray();
            return new Outcome(
                    1,
                    Arrays.stream(kept).mapToDouble(i -> weight[i]).toArray(),
                    Arrays.stream(kept).mapToDouble(i -> v[i] / weight[i]).toArray(),
                    Arrays.stream(kept)
                            .mapToDouble(i -> newCircle[i] / weight[i])
                            .toArray());
        }
    }

    /** The priors on their grid; what depends on neither sum of squares is worked out once. */
    private static final class Grid {
        private final int readings;
        private final double[] priorB;
        private final double[] sigmaBSquared;
        private final double[] priorW;
        private final double[] readingVariance;
        private final int[][] bin;

        Grid(
                double[] lnB,
                double[] lnW,
                int readings,
                ScatterPrior circlePrior,
                ScatterPrior readingPrior,
                double resolution) {
            this.readings = readings;
            // + ln σ: the density is over the logs
            priorB = Arrays.stream(lnB)
                    .map(x -> Math.exp(circlePrior.logDensity(Math.exp(x)) + x))
                    .toArray();
            sigmaBSquared = Arrays.stream(lnB).map(x -> Math.exp(2 * x)).toArray();
            priorW = Arrays.stream(lnW)
                    .map(x -> readingPrior.logDensity(Math.exp(x)) + x)
                    .toArray();
            readingVariance = Arrays.stream(lnW)
                    .map(x -> Math.exp(2 * x) + resolution * resolution)
                    .toArray();
            bin = new int[lnW.length][lnB.length];
            for (int j = 0; j < lnW.length; j++) {
                for (int i = 0; i < lnB.length; i++) {
                    bin[j][i] = (int) Math.floor(Math.log(sigmaBSquared[i] + readingVariance[j] / readings) / BIN);
                }
            }
        }

        /** What is known of v once the readings within circles are, and before the circles are. */
        Outcome knowing(double squaresWithin, int degreesWithin) {
            double[] logs = new double[priorW.length];
            for (int j = 0; j < logs.length; j++) {
                logs[j] = priorW[j]
                        - degreesWithin / 2.0 * Math.log(readingVariance[j])
                        - squaresWithin / readingVariance[j] / 2;
            }
            double peak = Arrays.stream(logs).max().orElseThrow();
            VarianceBins bins = new VarianceBins();
            for (int j = 0; j < logs.length; j++) {
                double w = Math.exp(logs[j] - peak);
                if (logs[j] < peak - NEGLIGIBLE) {
                    continue;
                }
                for (int i = 0; i < priorB.length; i++) {
                    bins.add(
                            bin[j][i],
                            w * priorB[i],
                            sigmaBSquared[i] + readingVariance[j] / readings,
                            sigmaBSquared[i] + readingVariance[j]);
                }
            }
            return bins.outcome();
        }
    }
}
