package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.Estimate;

/**
 * What is known of one cell.
 *
 * @param cell machine, turn and drive
 * @param diameter uncut diameter (m), shared parts included
 * @param shared the parts of its uncertainty that do not average
 * @param circles the circles that count
 * @param weights weight of each of them in the mean, at the median repeatability; they sum to 1
 * @param typicalUncertainty standard uncertainty of that mean (m) at the median repeatability, without shared parts
 * @param turnRadius turn radius R (m), where the blades are known and the disc is possible with them
 * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
 */
public record CellEstimate(
        Cell cell,
        Estimate diameter,
        SharedParts shared,
        List<CircleResult> circles,
        List<Double> weights,
        double typicalUncertainty,
        Optional<Estimate> turnRadius,
        boolean restsOnAssumption) {
    /**
     * Keeps its own copy of each list.
     *
     * @param cell machine, turn and drive
     * @param diameter uncut diameter (m), shared parts included
     * @param shared the parts of its uncertainty that do not average
     * @param circles the circles that count
     * @param weights weight of each of them in the mean, at the median repeatability; they sum to 1
     * @param typicalUncertainty standard uncertainty of that mean (m) at the median repeatability, without shared parts
     * @param turnRadius turn radius R (m), where the blades are known and the disc is possible with them
     * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
     */
    public CellEstimate {
        circles = List.copyOf(circles);
        weights = List.copyOf(weights);
    }

    /** {@return how many readings its circles have, all together} */
    public int readings() {
        return circles.stream().mapToInt(c -> c.observations().size()).sum();
    }
}
