package org.fairturn.uncertainty;

/**
 * A value that never travels without its uncertainty, nor its interval without a level.
 *
 * @param value best estimate, in the unit of the quantity (m for lengths)
 * @param standardUncertainty in the same unit, 0 or more
 * @param low lower end of the interval
 * @param high upper end of the interval
 * @param level probability the interval holds, in (0, 1)
 */
public record Estimate(double value, double standardUncertainty, double low, double high, double level) {
    /**
     * {@return the same interval about a value and standard uncertainty worked out apart}
     *
     * @param otherValue in the unit of this one
     * @param otherUncertainty standard uncertainty in the same unit, 0 or more
     */
    public Estimate about(double otherValue, double otherUncertainty) {
        return new Estimate(otherValue, otherUncertainty, low, high, level);
    }

    /** {@return half the width of the interval} */
    public double halfWidth() {
        return (high - low) / 2;
    }
}
