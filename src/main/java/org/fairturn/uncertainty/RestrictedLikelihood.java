package org.fairturn.uncertainty;

/**
 * Restricted likelihood of (σ_b, σ_w), the cell means integrated out.
 *
 * <p>With v_ki = σ_b² + σ_w²/W_ki the variance of a circle mean and D̂_k = Σ(ȳ_ki/v_ki)/Σ(1/v_ki):
 *
 * <pre>
 * −2 ln L = (n − I)·ln σ_w² + S_w/σ_w² + Σ ln v_ki + Σ_k ln Σ_i(1/v_ki) + Σ(ȳ_ki − D̂_k)²/v_ki
 * </pre>
 *
 * with n readings, I circles and S_w the sum of squares within circles; constants are left out.
 *
 * @see "H. D. Patterson, R. Thompson, Recovery of inter-block information when block sizes are unequal, Biometrika 58
 *     (1971) 545–554; written here for circles nested in cells"
 */
final class RestrictedLikelihood {
    private final int cells;
    /** Cell of each circle, circles in one row so that the inner loop runs over plain arrays. */
    private final int[] cellOf;

    private final double[] mean;
    private final double[] weight;
    private final double origin;
    private final double withinSumOfSquares;
    private final int readingDegreesOfFreedom;
    private final double resolutionVariance;

    /** @param resolution standard uncertainty that no reading falls below, in [0, ∞); see RepeatabilityPosterior */
    RestrictedLikelihood(CircleData data, double resolution) {
        cells = data.cells().size();
        int circles = data.circles();
        cellOf = new int[circles];
        mean = new double[circles];
        weight = new double[circles];
        origin = data.cells().get(0).get(0).mean();
        int at = 0;
        for (int k = 0; k < cells; k++) {
            for (CircleSummary circle : data.cells().get(k)) {
                cellOf[at] = k;
                mean[at] = circle.mean() - origin;
                weight[at] = circle.weight();
                at++;
            }
        }
        withinSumOfSquares = data.withinSumOfSquares();
        readingDegreesOfFreedom = data.readingDegreesOfFreedom();
        resolutionVariance = resolution * resolution;
    }

    /** Means and variances of the cells at one pair of standard deviations, with the likelihood there. */
    static final class At {
        private final double logLikelihood;
        private final double[] cellMean;
        private final double[] cellVariance;

        private At(double logLikelihood, double[] cellMean, double[] cellVariance) {
            this.logLikelihood = logLikelihood;
            this.cellMean = cellMean;
            this.cellVariance = cellVariance;
        }

        double logLikelihood() {
            return logLikelihood;
        }

        double cellVariance(int k) {
            return cellVariance[k];
        }

        /** Σ c_k·D̂_k. */
        double mean(double[] c) {
            double sum = 0;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * cellMean[k];
            }
            return sum;
        }

        /** Σ c_k²·var D̂_k. */
        double variance(double[] c) {
            double sum = 0;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * c[k] * cellVariance[k];
            }
            return sum;
        }
    }

    int cells() {
        return cells;
    }

    /** Variance of the mean of a circle of that weight. */
    double circleVariance(double sigmaB, double sigmaW, double circleWeight) {
        return sigmaB * sigmaB + (sigmaW * sigmaW + resolutionVariance) / circleWeight;
    }

    At at(double sigmaB, double sigmaW) {
        double readingVariance = sigmaW * sigmaW + resolutionVariance;
        double[] precision = new double[cells];
        double[] weighted = new double[cells];
        double minusTwice = readingDegreesOfFreedom == 0
                ? 0
                : readingDegreesOfFreedom * Math.log(readingVariance) + withinSumOfSquares / readingVariance;
        for (int i = 0; i < mean.length; i++) {
            double v = circleVariance(sigmaB, sigmaW, weight[i]);
            minusTwice += Math.log(v);
            precision[cellOf[i]] += 1 / v;
            weighted[cellOf[i]] += mean[i] / v;
        }
        double[] cellMean = new double[cells];
        double[] cellVariance = new double[cells];
        for (int k = 0; k < cells; k++) {
            cellVariance[k] = 1 / precision[k];
            cellMean[k] = weighted[k] / precision[k];
            minusTwice += Math.log(precision[k]);
        }
        for (int i = 0; i < mean.length; i++) {
            double residual = mean[i] - cellMean[cellOf[i]];
            minusTwice += residual * residual / circleVariance(sigmaB, sigmaW, weight[i]);
        }
        for (int k = 0; k < cells; k++) {
            cellMean[k] += origin;
        }
        return new At(-minusTwice / 2, cellMean, cellVariance);
    }
}
