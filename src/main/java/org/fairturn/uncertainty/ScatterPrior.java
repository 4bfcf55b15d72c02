package org.fairturn.uncertainty;

/** What is supposed of a standard deviation before the readings of a trial are looked at. */
public sealed interface ScatterPrior permits HalfT, LearntPrior {
    /** {@return about how large it may be (m), in (0, ∞]; infinite means that nothing is supposed} */
    double scale();

    /**
     * {@return ln of the density at σ, up to a constant that is the same at every σ}
     *
     * @param sigma σ (m), in (0, ∞)
     */
    double logDensity(double sigma);

    /**
     * {@return ∂(ln density)/∂(ln scale): how much likelier σ becomes as the whole prior is stretched} 0 for a flat one.
     *
     * @param sigma σ (m), in (0, ∞)
     */
    double slopeWithScale(double sigma);
}
