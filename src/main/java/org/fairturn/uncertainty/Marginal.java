package org.fairturn.uncertainty;

import java.util.Arrays;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.analysis.polynomials.PolynomialSplineFunction;

/**
 * The density of one standard deviation, known at evenly spaced points of its logarithm; not scaled. A spline lies between
 * the points, so that quantiles are good to about 0.2 %, the last figure anyone would show of a standard deviation.
 */
final class Marginal {
    private final double start;
    private final double step;
    /** Integral from 0 up to each fine point. */
    private final double[] sum;

    /**
     * Between the points.
     *
     * @param parts into how many parts the step between two points is divided, 1 or more
     */
    Marginal(double[] axis, double[] density, int parts) {
        double[] logs = Arrays.stream(density)
                .map(d -> Math.log(Math.max(d, Double.MIN_NORMAL)))
                .toArray();
        PolynomialSplineFunction curve = new SplineInterpolator().interpolate(axis, logs);
        double end = axis[axis.length - 1];
        int n = parts * (axis.length - 1);
        start = axis[0];
        step = (end - start) / n;
        sum = new double[n + 1];
        // below the axis the density over the log falls as the standard deviation does: the rest of the integral
        // equals the value at the end
        sum[0] = density[0];
        for (int i = 1; i <= n; i++) {
            sum[i] = sum[i - 1] + Math.exp(curve.value(Math.min(start + (i - 0.5) * step, end))) * step;
        }
    }

    /** The standard deviation below which it lies with a probability in (0, 1). */
    double quantile(double probability) {
        int n = sum.length - 1;
        double target = probability * sum[n];
        if (target <= sum[0]) {
            return Math.exp(start) * target / sum[0];
        }
        int i = 1;
        while (i < n && sum[i] < target) {
            i++;
        }
        return Math.exp(start + step * (i - (sum[i] - target) / (sum[i] - sum[i - 1])));
    }

    /** Median and interval. */
    Estimate summary(double level) {
        double median = quantile(0.5);
        double low = quantile((1 - level) / 2);
        double high = quantile((1 + level) / 2);
        // on the log scale an interval of ±z standard deviations; back to σ to first order
        double relative = Math.log(high / low) / 2 / Quantiles.normal((1 + level) / 2);
        return new Estimate(median, median * relative, low, high, level);
    }
}
