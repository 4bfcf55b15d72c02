package org.fairturn.uncertainty;

/**
 * What the readings of one circle say: all that the model needs of them (they enter only through these four).
 *
 * @param mean weighted mean ȳ = Σ(y/w)/Σ(1/w)
 * @param weight W = Σ(1/w): how many straight-across readings the readings are worth, in (0, ∞)
 * @param readings how many, 1 or more
 * @param withinSumOfSquares Σ(y − ȳ)²/w, 0 or more
 */
public record CircleSummary(double mean, double weight, int readings, double withinSumOfSquares) {
    /**
     * Checks what it is given.
     *
     * @param mean weighted mean ȳ = Σ(y/w)/Σ(1/w)
     * @param weight W = Σ(1/w): how many straight-across readings the readings are worth, in (0, ∞)
     * @param readings how many, 1 or more
     * @param withinSumOfSquares Σ(y − ȳ)²/w, 0 or more
     * @throws IllegalArgumentException if a number is not finite, the weight not above 0, or there is no reading
     */
    public CircleSummary {
        if (!Double.isFinite(mean)
                || !(weight > 0 && weight < Double.POSITIVE_INFINITY)
                || readings < 1
                || !(withinSumOfSquares >= 0 && withinSumOfSquares < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("circle with mean " + mean + ", weight " + weight + ", " + readings
                    + " readings, sum of squares " + withinSumOfSquares
                    + "; must be finite, (0, ∞), 1 or more, and [0, ∞)");
        }
    }

    /**
     * Sums up readings; values are shifted to the first one before they are added, so that large values with small
     * differences keep their digits.
     *
     * @param diameters y, one or more
     * @param varianceFactors w, as many, each in (0, ∞)
     * @return mean, weight Σ1/w and sum of squares of the readings
     */
    public static CircleSummary of(double[] diameters, double[] varianceFactors) {
        double weight = 0;
        double sum = 0;
        for (int j = 0; j < diameters.length; j++) {
            weight += 1 / varianceFactors[j];
            sum += (diameters[j] - diameters[0]) / varianceFactors[j];
        }
        double shift = sum / weight;
        double squares = 0;
        for (int j = 0; j < diameters.length; j++) {
            double residual = diameters[j] - diameters[0] - shift;
            squares += residual * residual / varianceFactors[j];
        }
        return new CircleSummary(diameters[0] + shift, weight, diameters.length, squares);
    }
}
