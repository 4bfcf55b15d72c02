package org.fairturn.uncertainty;

import java.util.List;

/**
 * What one past trial says of its repeatability: two mean squares with their degrees of freedom, small enough to be kept for
 * thousands of trials.
 *
 * <pre>
 * S_w/(σ_w² + r²) ~ χ²(ν_w),   S_b/(σ_b² + (σ_w² + r²)/W) ~ χ²(ν_b)
 * </pre>
 *
 * <p>with S_b the sum of squares of circle means about the plain mean of their cell. Where all circles carry the same weight
 * this is the restricted likelihood of {@link RepeatabilityPosterior} itself. Where they do not, 1/W is chosen so that the
 * expectation of S_b is right, and its χ² is close.
 *
 * @param circleDegrees ν_b: circles beyond the first of each cell, 0 or more
 * @param circleSquares S_b (m²), 0 or more
 * @param circleWeight W: how many readings across a circle's readings are worth, in (0, ∞)
 * @param readingDegrees ν_w: readings beyond the first of each circle, 0 or more
 * @param readingSquares S_w (m²), 0 or more
 * @see "J. D. Thomas, R. A. Hultquist, Interval estimation for the unbalanced case of the one-way random effects model,
 *     Annals of Statistics 6 (1978) 582–587, from memory: plain means and the harmonic mean of the counts"
 */
public record PastScatter(
        int circleDegrees, double circleSquares, double circleWeight, int readingDegrees, double readingSquares) {
    /**
     * Checks what it is given.
     *
     * @param circleDegrees ν_b: circles beyond the first of each cell, 0 or more
     * @param circleSquares S_b (m²), 0 or more
     * @param circleWeight W: how many readings across a circle's readings are worth, in (0, ∞)
     * @param readingDegrees ν_w: readings beyond the first of each circle, 0 or more
     * @param readingSquares S_w (m²), 0 or more
     * @throws IllegalArgumentException if a number lies outside the ranges above
     */
    public PastScatter {
        if (circleDegrees < 0
                || !(circleSquares >= 0 && circleSquares < Double.POSITIVE_INFINITY)
                || !(circleWeight > 0 && circleWeight < Double.POSITIVE_INFINITY)
                || readingDegrees < 0
                || !(readingSquares >= 0 && readingSquares < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("degrees of freedom are " + circleDegrees + " and " + readingDegrees
                    + ", sums of squares " + circleSquares + " and " + readingSquares + " m², weight " + circleWeight
                    + "; must be 0 or more, [0, ∞) m² and (0, ∞)");
        }
    }

    /**
     * Of the circles of one trial that share a repeatability.
     *
     * @param data cells of one machine
     * @return sums of squares with their degrees of freedom
     */
    public static PastScatter of(CircleData data) {
        double squares = 0;
        double inverse = 0;
        for (List<CircleSummary> cell : data.cells()) {
            double first = cell.get(0).mean();
            double mean =
                    cell.stream().mapToDouble(c -> c.mean() - first).average().orElseThrow();
            for (CircleSummary circle : cell) {
                squares += Math.pow(circle.mean() - first - mean, 2);
                inverse += (1 - 1.0 / cell.size()) / circle.weight();
            }
        }
        int degrees = data.circleDegreesOfFreedom();
        return new PastScatter(
                degrees,
                degrees == 0 ? 0 : squares,
                degrees == 0 ? data.meanWeight() : degrees / inverse,
                data.readingDegreesOfFreedom(),
                data.withinSumOfSquares());
    }

    /**
     * {@return both together, where they share a repeatability}
     *
     * @param other of circles with the same σ_b and σ_w
     */
    public PastScatter plus(PastScatter other) {
        int degrees = circleDegrees + other.circleDegrees;
        double weight = degrees == 0
                ? Math.max(circleWeight, other.circleWeight)
                : degrees / (circleDegrees / circleWeight + other.circleDegrees / other.circleWeight);
        return new PastScatter(
                degrees,
                circleSquares + other.circleSquares,
                weight,
                readingDegrees + other.readingDegrees,
                readingSquares + other.readingSquares);
    }

    /** ln of the likelihood of (σ_b, σ_w), constants in both left out; r (m) is the finest anything was read. */
    double logLikelihood(double sigmaB, double sigmaW, double r) {
        return logOfReadings(sigmaW, r) + logOfCircles(sigmaB, sigmaW, r);
    }

    double logOfReadings(double sigmaW, double r) {
        return logChiSquared(readingDegrees, readingSquares, sigmaW * sigmaW + r * r);
    }

    double logOfCircles(double sigmaB, double sigmaW, double r) {
        return logChiSquared(circleDegrees, circleSquares, sigmaB * sigmaB + (sigmaW * sigmaW + r * r) / circleWeight);
    }

    private static double logChiSquared(int degrees, double squares, double variance) {
        return degrees == 0 ? 0 : -(degrees * Math.log(variance) + squares / variance) / 2;
    }
}
