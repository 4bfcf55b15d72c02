package org.fairturn.finding;

/**
 * What one uncertain dimension of a machine does to a result.
 *
 * @param name of the dimension
 * @param standardUncertainty of the dimension (m, or rad for an angle)
 * @param effect change of the result for that much (m)
 * @param angle whether the dimension is an angle
 */
public record Contribution(String name, double standardUncertainty, double effect, boolean angle) {
    /** Of a length. */
    Contribution(String name, double standardUncertainty, double effect) {
        this(name, standardUncertainty, effect, false);
    }

    /** What the same dimension does to another result. */
    Contribution withEffect(double other) {
        return new Contribution(name, standardUncertainty, other, angle);
    }
}
