package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;

/**
 * A claimed figure as the uncut diameter the machine of the trial would leave in a cell.
 *
 * @param diameter D (m)
 * @param slope dD per metre of the figure
 * @param geometryVariance what the machine's dimensions put on D (m²)
 */
record ClaimConversion(double diameter, double slope, double geometryVariance) {
    /** What the conversion of a quantity lacks on a machine, in words; empty where it lacks nothing. */
    static List<String> missing(Claim.Quantity quantity, Machine machine) {
        return CircleConversion.missing(quantity, Claim.Quantity.UNCUT_DIAMETER, machine, Optional.empty());
    }

    /** The conversion; empty where something is missing or the machine leaves no disc at so small a figure. */
    static Optional<ClaimConversion> of(double value, Claim.Quantity quantity, Machine machine, Cell cell) {
        return CircleConversion.of(
                        value,
                        quantity,
                        Claim.Quantity.UNCUT_DIAMETER,
                        machine,
                        Optional.empty(),
                        cell.turn(),
                        cell.drive())
                .map(c -> new ClaimConversion(c.figure(), c.slope(), c.geometryVariance()));
    }
}
