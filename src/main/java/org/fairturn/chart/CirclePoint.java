package org.fairturn.chart;

import java.util.OptionalInt;

/**
 * One circle of a cell.
 *
 * @param circle its id
 * @param diameter uncut diameter (m), finite
 * @param order its place in the run order, where known
 */
public record CirclePoint(String circle, double diameter, OptionalInt order) {
    /**
     * Checks what it is given.
     *
     * @param circle its id
     * @param diameter uncut diameter (m), finite
     * @param order its place in the run order, where known
     * @throws IllegalArgumentException if the diameter is not finite
     */
    public CirclePoint {
        Shown.finite(diameter, "diameter");
    }
}
