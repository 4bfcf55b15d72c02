package org.fairturn.uncertainty;

import org.apache.commons.math3.distribution.TDistribution;

/**
 * Prior for a standard deviation: half of a t distribution with 4 degrees of freedom, or flat.
 *
 * @param scale in (0, ∞]; infinite means flat
 * @see "A. Gelman, Prior distributions for variance parameters in hierarchical models, Bayesian Analysis 1 (2006)
 *     515–534, section 3.2"
 */
public record HalfT(double scale) implements ScatterPrior {
    private static final double DEGREES_OF_FREEDOM = 4;

    /** Every standard deviation equally likely. Proper results then need several circles. */
    static final HalfT FLAT = new HalfT(Double.POSITIVE_INFINITY);

    /**
     * Checks what it is given.
     *
     * @param scale in (0, ∞]; infinite means flat
     * @throws IllegalArgumentException if the scale is not in (0, ∞]
     */
    public HalfT {
        if (!(scale > 0)) {
            throw new IllegalArgumentException("scale is " + scale + "; must be in (0, ∞]");
        }
    }

    /** ln of the density at σ, up to a constant that depends on the scale alone. */
    @Override
    public double logDensity(double sigma) {
        return -(DEGREES_OF_FREEDOM + 1) / 2 * Math.log1p(ratio(sigma));
    }

    /** ∂(ln density)/∂(ln scale): how much likelier σ becomes as the scale grows. 0 for the flat prior. */
    @Override
    public double slopeWithScale(double sigma) {
        return Double.isInfinite(scale) ? 0 : (DEGREES_OF_FREEDOM + 1) * ratio(sigma) / (1 + ratio(sigma)) - 1;
    }

    /** Density at σ (1/m), σ in [0, ∞), for a finite scale: the constant is 2·Γ(5/2)/(√(4π)·Γ(2)) = 3/4. */
    double density(double sigma) {
        return 0.75 / scale * Math.exp(logDensity(sigma));
    }

    /** Probability of a standard deviation up to σ, for a finite scale. */
    double probabilityBelow(double sigma) {
        return 2 * new TDistribution(null, DEGREES_OF_FREEDOM).cumulativeProbability(sigma / scale) - 1;
    }

    /**
     * {@return the standard deviation (m) below which it lies with a probability in (0, 1), for a finite scale}
     *
     * @param probability in (0, 1)
     */
    public double quantile(double probability) {
        return scale * Quantiles.student((1 + probability) / 2, DEGREES_OF_FREEDOM);
    }

    private double ratio(double sigma) {
        double x = sigma / scale;
        return x * x / DEGREES_OF_FREEDOM;
    }
}
