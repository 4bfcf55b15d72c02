package org.fairturn.uncertainty;

import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.FDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/** Quantiles and probabilities of the distributions statistics tables print. Quantiles are good to about 1e-9. */
public final class Quantiles {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    private Quantiles() {}

    /**
     * {@return P(Z ≤ z) of the standard normal distribution}
     *
     * @param z any, infinite too
     */
    public static double normalProbability(double z) {
        return NormalTable.below(z);
    }

    /**
     * {@return density of the standard normal distribution at z}
     *
     * @param z any, infinite too
     */
    public static double normalDensity(double z) {
        return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
    }

    /**
     * {@return z with P(Z ≤ z) = probability, probability in (0, 1)}
     *
     * @param probability in (0, 1)
     */
    public static double normal(double probability) {
        double z = NORMAL.inverseCumulativeProbability(probability);
        // far out below it comes from 1 − 2·probability, whose digits are gone; one step of Newton's brings them back
        return probability < 0.5 ? z - (normalProbability(z) - probability) / normalDensity(z) : z;
    }

    /** From here on two terms of Student's t beyond the normal distribution leave less than 1e-11 up to z = 5. */
    private static final double NEARLY_NORMAL = 1e5;

    /**
     * Quantile of Student's t; with many degrees of freedom ν from the normal z by z + (z³ + z)/(4ν) + (5z⁵ + 16z³ + 3z)/(96ν²),
     * where the incomplete beta function loses digits from ν = 1e9 on, and all of them at 1e17.
     *
     * @param probability in (0, 1)
     * @param degreesOfFreedom in (0, ∞], whole or not
     * @return t with P(T ≤ t) = probability
     * @see "Abramowitz and Stegun 1964, Handbook of Mathematical Functions, 26.7.5"
     */
    public static double student(double probability, double degreesOfFreedom) {
        if (!(degreesOfFreedom >= NEARLY_NORMAL)) {
            return new TDistribution(null, degreesOfFreedom).inverseCumulativeProbability(probability);
        }
        double nu = degreesOfFreedom;
        double z = normal(probability);
        double cube = z * z * z;
        return z + (cube + z) / (4 * nu) + (5 * cube * z * z + 16 * cube + 3 * z) / (96 * nu) / nu;
    }

    /**
     * Quantile of F with the degrees of freedom of numerator and denominator, each in (0, ∞).
     *
     * @param probability in (0, 1)
     * @param numerator ν₁, whole or not
     * @param denominator ν₂, whole or not
     * @return in (0, ∞)
     */
    public static double f(double probability, double numerator, double denominator) {
        return new FDistribution(null, numerator, denominator).inverseCumulativeProbability(probability);
    }

    /** Quantile of χ², degrees of freedom in (0, ∞). */
    static double chiSquared(double probability, double degreesOfFreedom) {
        return new ChiSquaredDistribution(null, degreesOfFreedom).inverseCumulativeProbability(probability);
    }
}
