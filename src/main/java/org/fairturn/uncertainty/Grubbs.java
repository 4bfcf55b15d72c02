package org.fairturn.uncertainty;

import java.util.Arrays;

/**
 * Grubbs' test for one value that lies far from the others of its sample.
 *
 * @see "F. E. Grubbs, Procedures for detecting outlying observations in samples, Technometrics 11 (1969) 1–21 (from memory);
 *     ISO 5725-2, clause 7.3.4 (from memory)"
 */
public final class Grubbs {
    private Grubbs() {}

    /**
     * G = max|x − x̄|/s.
     *
     * @param values three or more
     * @return in [0, (n − 1)/√n]; 0 where all values are equal
     */
    public static double statistic(double[] values) {
        if (values.length < 3) {
            throw new IllegalArgumentException("values are " + values.length + "; must be 3 or more");
        }
        double mean = Arrays.stream(values).map(x -> x - values[0]).average().orElseThrow();
        double squares = Arrays.stream(values)
                .map(x -> (x - values[0] - mean) * (x - values[0] - mean))
                .sum();
        double farthest = Arrays.stream(values)
                .map(x -> Math.abs(x - values[0] - mean))
                .max()
                .orElseThrow();
        return squares > 0 ? farthest / Math.sqrt(squares / (values.length - 1)) : 0;
    }

    /**
     * What G exceeds with a probability of at most α on one side where all values are alike:
     * (n − 1)/√n·√(t²/(n − 2 + t²)), t the upper α/n point of Student's t with n − 2 degrees of freedom.
     *
     * @param n how many values, 3 or more
     * @param alpha α of one side, in (0, 0.5); for both sides give half of what is meant
     * @return in (0, (n − 1)/√n)
     */
    public static double critical(int n, double alpha) {
        if (n < 3 || !(alpha > 0 && alpha < 0.5)) {
            throw new IllegalArgumentException(
                    "n is " + n + ", alpha " + alpha + "; must be 3 or more and in (0, 0.5)");
        }
        double t = Quantiles.student(1 - alpha / n, n - 2);
        return (n - 1) / Math.sqrt(n) * Math.sqrt(t * t / (n - 2 + t * t));
    }
}
