package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.List;

/**
 * What is known of one standard deviation σ after a least-squares fit left a sum of squares S with ν degrees of freedom: its
 * likelihood (σ² + r²)^(−ν/2)·exp(−S/(2(σ² + r²))) times a prior, on an even grid of ln σ, r being the finest anything was
 * read. A contrast of the fit, normal given σ, becomes a mixture of normals.
 *
 * <p>The trapezoidal rule on this axis converges geometrically: with n degrees of freedom, the prior's own included, the density
 * is about √(1/2n) wide, and a step of 0.6 of that leaves an error of e^(−2π²/0.36).
 */
public final class ScatterPosterior {
    /** Part of the density's width. */
    private static final double STEP = 0.6;
    /** Leaves e^(−2π²/1.44), a millionth. */
    private static final double ROUGH_STEP = 1.2;
    /** What a probability of {@link #roughly} may be off. */
    public static final double ROUGHLY = 1e-4;

    private static final double PRIORS_DEGREES = 4;
    private static final double LOW = 1e-3;
    private static final double HIGH = 1e3;

    private final double[] weights;
    private final double[] variances;
    private final double[] slopes;

    private ScatterPosterior(
            double sumOfSquares, int degrees, ScatterPrior prior, double resolution, double partOfWidth) {
        double low = Math.log(LOW * resolution);
        double high = Math.log(HIGH * Math.max(prior.scale(), Math.sqrt(sumOfSquares)));
        int steps = (int) Math.ceil((high - low) * Math.sqrt(2.0 * (degrees + PRIORS_DEGREES)) / partOfWidth);
        double[] logs = new double[steps + 1];
        weights = new double[steps + 1];
        variances = new double[steps + 1];
        slopes = new double[steps + 1];
        double peak = Double.NEGATIVE_INFINITY;
        for (int i = 0; i <= steps; i++) {
            double lnSigma = low + (high - low) * i / steps;
            double sigma = Math.exp(lnSigma);
            variances[i] = sigma * sigma + resolution * resolution;
            slopes[i] = prior.slopeWithScale(sigma);
            logs[i] = -degrees / 2.0 * Math.log(variances[i])
                    - sumOfSquares / (2 * variances[i])
                    + prior.logDensity(sigma)
                    + lnSigma;
            peak = Math.max(peak, logs[i]);
        }
        double sum = 0;
        for (int i = 0; i <= steps; i++) {
            weights[i] = Math.exp(logs[i] - peak);
            sum += weights[i];
        }
        for (int i = 0; i <= steps; i++) {
            weights[i] /= sum;
        }
    }

    /**
     * The posterior.
     *
     * @param sumOfSquares S, 0 or more
     * @param degrees ν, 0 or more
     * @param prior with a finite scale
     * @param resolution r, above 0: the standard uncertainty that no reading falls below
     * @return on a grid of points in ln σ
     */
    public static ScatterPosterior of(double sumOfSquares, int degrees, ScatterPrior prior, double resolution) {
        return of(sumOfSquares, degrees, prior, resolution, STEP);
    }

    /**
     * {@return the same with half the points, for verdicts that are not close}
     *
     * @param sumOfSquares S, 0 or more
     * @param degrees ν, 0 or more
     * @param prior with a finite scale
     * @param resolution r, above 0
     */
    public static ScatterPosterior roughly(double sumOfSquares, int degrees, ScatterPrior prior, double resolution) {
        return of(sumOfSquares, degrees, prior, resolution, ROUGH_STEP);
    }

    private static ScatterPosterior of(
            double sumOfSquares, int degrees, ScatterPrior prior, double resolution, double partOfWidth) {
        if (!(sumOfSquares >= 0) || degrees < 0 || !(resolution > 0) || Double.isInfinite(prior.scale())) {
            throw new IllegalArgumentException("S is " + sumOfSquares + ", ν " + degrees + ", r " + resolution
                    + ", prior scale " + prior.scale() + "; must be in [0, ∞), [0, ∞), (0, ∞) and (0, ∞)");
        }
        return new ScatterPosterior(sumOfSquares, degrees, prior, resolution, partOfWidth);
    }

    /**
     * A quantity with the estimate and, given σ, the variance factor·(σ² + r²).
     *
     * @param estimate in the unit of σ
     * @param factor above 0
     * @return its posterior, in the unit of σ
     */
    public NormalMixture contrast(double estimate, double factor) {
        double[] means = new double[weights.length];
        double[] v = new double[weights.length];
        for (int i = 0; i < weights.length; i++) {
            means[i] = estimate;
            v[i] = factor * variances[i];
        }
        return new NormalMixture(weights, means, v);
    }

    /** {@return mean of σ² + r², in the unit of σ squared} */
    public double variance() {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            sum += weights[i] * variances[i];
        }
        return sum;
    }

    /**
     * How much of a contrast's uncertainty is the prior's doing, ∂ln u/∂ln scale; the same for every contrast.
     *
     * @return dimensionless, 0 where the data alone speak
     */
    public double assumedShare() {
        double meanV = variance();
        double meanSlope = 0;
        double product = 0;
        for (int i = 0; i < weights.length; i++) {
            meanSlope += weights[i] * slopes[i];
            product += weights[i] * variances[i] * slopes[i];
        }
        return (product - meanV * meanSlope) / meanV / 2;
    }

    /**
     * Values of σ² + r² that stand for the whole posterior, for looking ahead: for each of as many levels of about the same
     * probability the probability and the mean.
     *
     * @param levels how many, 1 or more
     * @return of each the probability and the mean
     */
    public List<double[]> levels(int levels) {
        List<double[]> result = new ArrayList<>();
        double weight = 0;
        double variance = 0;
        for (int i = 0; i < weights.length; i++) {
            weight += weights[i];
            variance += weights[i] * variances[i];
            if (weight >= 1.0 / levels || i == weights.length - 1) {
                result.add(new double[] {weight, variance / weight});
                weight = 0;
                variance = 0;
            }
        }
        return List.copyOf(result);
    }
}
