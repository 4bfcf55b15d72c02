package org.fairturn.uncertainty;

import java.util.OptionalInt;
import java.util.function.IntToDoubleFunction;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.special.Gamma;

/**
 * The chance that a comparison whose standard deviation is learnt from its own values finds a difference that is there.
 *
 * <p>The test is Student's at level α to both sides. Found means found to the side where the difference is; a verdict to the
 * wrong side does not count.
 *
 * @see "P(T > t) of the noncentral t distribution with t = Student's quantile at 1 − α/2: any textbook of sample sizes, such
 *     as J. Cohen, Statistical Power Analysis for the Behavioral Sciences (1988), chapter 2; from memory"
 */
final class Power {
    private static final int NODES = 20;
    private static final int MOST_EVALUATIONS = 1_000_000;
    /** Of an integral that is a probability. */
    private static final double ACCURACY = 1e-12;
    /** How many standard deviations of √(χ²/ν) are integrated over to either side; what lies beyond is below 1e-17. */
    private static final double WIDTHS = 9;

    private Power() {}

    /**
     * Means of two samples against each other, pooled variance: ν = 2(n − 1), noncentrality Δ/σ·√(n/2).
     *
     * @param n values in each sample, in [2, ∞), whole or not
     * @param delta true difference Δ of the means, in [0, ∞)
     * @param sd standard deviation σ of the values, in (0, ∞), in the unit of Δ
     * @param alpha α, in (0, 1)
     * @return in [α/2, 1]
     */
    static double twoSample(double n, double delta, double sd, double alpha) {
        check(n, delta, sd, alpha);
        return found(2 * (n - 1), delta / sd * Math.sqrt(n / 2), alpha);
    }

    /**
     * Mean of one sample, or of the differences of pairs, against a fixed value: ν = n − 1, noncentrality Δ/σ·√n. Parameters as
     * in {@link #twoSample}.
     */
    static double oneSample(double n, double delta, double sd, double alpha) {
        check(n, delta, sd, alpha);
        return found(n - 1, delta / sd * Math.sqrt(n), alpha);
    }

    /**
     * The smallest n, from 2 up to a limit, at which a power that grows with n reaches what is wanted; empty where none does.
     */
    static OptionalInt smallest(IntToDoubleFunction power, double wanted, int most) {
        if (!(power.applyAsDouble(most) >= wanted)) {
            return OptionalInt.empty();
        }
        int low = 1; // too few
        int high = most;
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (power.applyAsDouble(middle) >= wanted) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return OptionalInt.of(high);
    }

    private static void check(double n, double delta, double sd, double alpha) {
        if (!(n >= 2 && n < Double.POSITIVE_INFINITY)
                || !(delta >= 0 && delta < Double.POSITIVE_INFINITY)
                || !(sd > 0 && sd < Double.POSITIVE_INFINITY)
                || !(alpha > 0 && alpha < 1)) {
            throw new IllegalArgumentException("n is " + n + ", difference " + delta + ", standard deviation " + sd
                    + ", alpha " + alpha + "; must be in [2, ∞), [0, ∞), (0, ∞) and (0, 1)");
        }
    }

    /** ∫ Φ(δ − t·s)·f(s) ds, f being the density of s = √(χ²/ν). */
    private static double found(double nu, double noncentrality, double alpha) {
        double t = Quantiles.student(1 - alpha / 2, nu);
        double logScale = Math.log(2) + nu / 2 * Math.log(nu / 2) - Gamma.logGamma(nu / 2);
        // s = v⁴: the s^(ν − 1) in the density would be too rough at 0 for the rule where ν is small and not whole
        UnivariateFunction integrand = v -> {
            double s = v * v * v * v;
            double logDensity = logScale + (nu - 1) * Math.log(s) - nu * s * s / 2;
            return Quantiles.normalProbability(noncentrality - t * s) * Math.exp(logDensity) * 4 * v * v * v;
        };
        double low = Math.max(0, 1 - WIDTHS / Math.sqrt(2 * nu));
        double high = 1 + WIDTHS / Math.sqrt(nu);
        return Math.min(
                1,
                new IterativeLegendreGaussIntegrator(NODES, ACCURACY, ACCURACY)
                        .integrate(MOST_EVALUATIONS, integrand, Math.pow(low, 0.25), Math.pow(high, 0.25)));
    }
}
