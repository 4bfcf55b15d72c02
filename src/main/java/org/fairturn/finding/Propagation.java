package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;

/**
 * A result worked out from the diameters of some cells and the geometry of the deck, with both uncertainties in it.
 *
 * @param value the result at the estimates (m)
 * @param contrast the result as a contrast of the cells, linear about the estimates
 * @param contributions what each uncertain dimension of the deck does to it
 * @see "JCGM 100:2008, clause 5: first order, dimensions independent of each other and of the readings"
 */
record Propagation(double value, MachineEstimate.Contrast contrast, List<Contribution> contributions) {
    Propagation {
        contributions = List.copyOf(contributions);
    }

    /** Step for the slope against a diameter (m): small against any uncertainty, large against rounding. */
    private static final double STEP = 1e-3;

    /** A result (m) from diameters (m), in the order of the cells, and a deck; empty where the geometry has none. */
    interface Result {
        OptionalDouble of(double[] diameters, Deck deck);
    }

    /** The result with its uncertainty; empty where the geometry has no answer at or right beside the estimates. */
    static Optional<Propagation> of(MachineEstimate machine, List<Cell> cells, DeckModel model, Result result) {
        return of(machine, cells, model, result, List.of());
    }

    /** The same with further contributions to the result (m), independent of the deck's and of each other. */
    static Optional<Propagation> of(
            MachineEstimate machine, List<Cell> cells, DeckModel model, Result result, List<Contribution> further) {
        double[] d = cells.stream().mapToDouble(machine::mean).toArray();
        OptionalDouble value = result.of(d, model.deck());
        if (value.isEmpty()) {
            return Optional.empty();
        }
        double[] c = new double[machine.cells().size()];
        double offset = value.getAsDouble();
        for (int i = 0; i < d.length; i++) {
            double[] up = d.clone();
            double[] down = d.clone();
            up[i] += STEP;
            down[i] -= STEP;
            OptionalDouble above = result.of(up, model.deck());
            OptionalDouble below = result.of(down, model.deck());
            if (above.isEmpty() || below.isEmpty()) {
                return Optional.empty();
            }
            double slope = (above.getAsDouble() - below.getAsDouble()) / (2 * STEP);
            c[machine.cells().indexOf(cells.get(i))] = slope;
            offset -= slope * d[i];
        }
        List<Contribution> contributions = new ArrayList<>(model.contributions(deck -> result.of(d, deck)));
        contributions.addAll(further);
        double geometry =
                contributions.stream().mapToDouble(k -> k.effect() * k.effect()).sum();
        return Optional.of(new Propagation(value.getAsDouble(), machine.contrast(c, offset, geometry), contributions));
    }

    double standardUncertainty() {
        return contrast.standardUncertainty();
    }
}
