package org.fairturn.finding;

/**
 * One reading, or all perimeter points of a circle together, as a diameter.
 *
 * @param kind such as {@code across} or {@code perimeter points}
 * @param written what was written down, as typed
 * @param where file and row, such as {@code readings.csv, row 14}
 * @param diameter (m)
 * @param varianceFactor how much more variance it has than a tape laid straight across, in (0, ∞)
 * @param shared the parts that do not average
 * @param working the formula with the numbers put in, lengths in mm
 */
public record Observation(
        String kind,
        String written,
        String where,
        double diameter,
        double varianceFactor,
        SharedParts shared,
        String working) {}
