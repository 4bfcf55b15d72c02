package org.fairturn.chart;

import java.util.List;

/**
 * What is shown of a cell: its estimate, its interval and its circles.
 *
 * @param machine the machine's name
 * @param name the cell's name within its machine, such as {@code left 2WD}
 * @param estimate uncut diameter (m), finite
 * @param low lower end of the interval (m), in (−∞, high]
 * @param high upper end of the interval (m)
 * @param circles the cell's circles; may be empty
 */
public record CellColumn(
        String machine, String name, double estimate, double low, double high, List<CirclePoint> circles) {
    /**
     * Keeps its own copy of the list.
     *
     * @param machine the machine's name
     * @param name the cell's name within its machine, such as {@code left 2WD}
     * @param estimate uncut diameter (m), finite
     * @param low lower end of the interval (m), in (−∞, high]
     * @param high upper end of the interval (m)
     * @param circles the cell's circles; may be empty
     * @throws IllegalArgumentException if a number is not finite or the interval upside down
     */
    public CellColumn {
        Shown.finite(estimate, "estimate");
        Shown.interval(low, high);
        circles = List.copyOf(circles);
    }
}
