package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;

/**
 * A claimed figure as the uncut diameter the machine of the trial would leave in a cell.
 *
 * @param diameter D (m)
 * @param slope dD per metre of the figure
 * @param contributions what the machine's dimensions put on D
 */
record ClaimConversion(double diameter, double slope, List<Contribution> contributions) {
    ClaimConversion {
        contributions = List.copyOf(contributions);
    }

    /** What the machine's dimensions put on D (m²). */
    double geometryVariance() {
        return contributions.stream().mapToDouble(c -> c.effect() * c.effect()).sum();
    }

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
                .map(c -> new ClaimConversion(c.figure(), c.slope(), c.contributions()));
    }

    /** The diameter (m) under a deck; empty where it leaves no disc. Nothing may be missing. */
    static OptionalDouble diameter(double value, Claim.Quantity quantity, Machine machine, Deck deck, Cell cell) {
        return CircleConversion.figure(
                value, quantity, Claim.Quantity.UNCUT_DIAMETER, machine, Optional.empty(), deck, cell.turn());
    }
}
