package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import org.apache.commons.math3.analysis.interpolation.SplineInterpolator;
import org.apache.commons.math3.analysis.polynomials.PolynomialSplineFunction;

/**
 * The density of one standard deviation, known at evenly spaced points of an axis; not scaled. A spline lies between
 * the points, so that quantiles are good to about 0.2 %, the last figure anyone would show of a standard deviation.
 */
final class Marginal {
    /** Into how many parts the step between two points is divided. */
    private static final int PARTS = 20;

    private final double start;
    private final double step;
    private final DoubleUnaryOperator logSigma;
    /** Integral up to each fine point. */
    private final double[] sum;

    /**
     * Between the points.
     *
     * @param density from the low to the high end of the axis
     * @param logSigma ln σ at a place on the axis
     */
    Marginal(double low, double high, double[] density, DoubleUnaryOperator logSigma) {
        this.logSigma = logSigma;
        double[] logs = Arrays.stream(density)
                .map(d -> Math.log(Math.max(d, Double.MIN_NORMAL)))
                .toArray();
        double[] axis = IntStream.range(0, logs.length)
                .mapToDouble(i -> low + (high - low) * i / (logs.length - 1))
                .toArray();
        PolynomialSplineFunction curve = new SplineInterpolator().interpolate(axis, logs);
        int n = PARTS * (logs.length - 1);
        start = low;
        step = (high - low) / n;
        sum = new double[n + 1];
        for (int i = 1; i <= n; i++) {
            sum[i] = sum[i - 1] + Math.exp(curve.value(start + (i - 0.5) * step));
        }
    }

    /** The standard deviation below which it lies with a probability in (0, 1). */
    double quantile(double probability) {
        int n = sum.length - 1;
        double target = probability * sum[n];
        int i = 1;
        while (i < n && sum[i] < target) {
            i++;
        }
        return Math.exp(logSigma.applyAsDouble(start + step * (i - (sum[i] - target) / (sum[i] - sum[i - 1]))));
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
