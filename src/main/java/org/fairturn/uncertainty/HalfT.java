package org.fairturn.uncertainty;

/**
 * Prior for a standard deviation: half of a t distribution with 4 degrees of freedom, or flat.
 *
 * @param scale in (0, ∞]; infinite means flat
 * @see "A. Gelman, Prior distributions for variance parameters in hierarchical models, Bayesian Analysis 1 (2006)
 *     515–534, section 3.2"
 */
public record HalfT(double scale) {
    private static final double DEGREES_OF_FREEDOM = 4;

    /** Every standard deviation equally likely. Proper results then need several circles. */
    static final HalfT FLAT = new HalfT(Double.POSITIVE_INFINITY);

    public HalfT {
        if (!(scale > 0)) {
            throw new IllegalArgumentException("scale is " + scale + "; must be in (0, ∞]");
        }
    }

    /** ln of the density at σ, up to a constant that depends on the scale alone. */
    double logDensity(double sigma) {
        return -(DEGREES_OF_FREEDOM + 1) / 2 * Math.log1p(ratio(sigma));
    }

    /** ∂(ln density)/∂(ln scale): how much likelier σ becomes as the scale grows. 0 for the flat prior. */
    double slopeWithScale(double sigma) {
        return Double.isInfinite(scale) ? 0 : (DEGREES_OF_FREEDOM + 1) * ratio(sigma) / (1 + ratio(sigma)) - 1;
    }

    private double ratio(double sigma) {
        double x = sigma / scale;
        return x * x / DEGREES_OF_FREEDOM;
    }
}
