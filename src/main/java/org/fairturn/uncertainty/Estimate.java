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
    /** With the interval a normal distribution with these would have. */
    public static Estimate rough(double value, double standardUncertainty, double level) {
        double half = Quantiles.normal((1 + level) / 2) * standardUncertainty;
        return new Estimate(value, standardUncertainty, value - half, value + half, level);
    }

    /** The same interval about a value and standard uncertainty worked out apart. */
    public Estimate about(double otherValue, double otherUncertainty) {
        return new Estimate(otherValue, otherUncertainty, low, high, level);
    }

    /** Half the width of the interval. */
    public double halfWidth() {
        return (high - low) / 2;
    }
}
