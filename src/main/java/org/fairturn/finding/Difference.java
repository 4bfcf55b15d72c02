package org.fairturn.finding;

import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.CircleAnova;
import org.fairturn.uncertainty.Estimate;

/**
 * Uncut diameter of one cell less that of another.
 *
 * @param from the cell that is taken away
 * @param to the cell it is taken from
 * @param estimate D(to) − D(from) (m)
 * @param dataOnly the same from the data alone, where they suffice
 * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
 */
public record Difference(
        Cell from, Cell to, Estimate estimate, Optional<CircleAnova.DataOnly> dataOnly, boolean restsOnAssumption) {}
