package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.geometry.Deck;
import org.fairturn.geometry.TurningCircle;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;
import org.fairturn.units.Length;

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

    /** Standard uncertainties where machines.csv states none. Our own choices. */
    static final Length WHEELBASE = Length.mm(5);

    static final Length FRONT_TRACK = Length.mm(10);
    private static final double STEP = 1e-4;

    /** What the conversion of a quantity lacks on a machine, in words; empty where it lacks nothing. */
    static List<String> missing(Claim.Quantity quantity, Machine machine) {
        return switch (quantity) {
            case UNCUT_DIAMETER -> List.of();
            case TURN_RADIUS -> blades(machine);
            case TURNING_CIRCLE_DIAMETER ->
                !blades(machine).isEmpty()
                        ? blades(machine)
                        : machine.wheelbase().isEmpty() || machine.frontTrack().isEmpty()
                                ? List.of("wheelbase and front track (machines.csv)")
                                : List.of();
            case CLEARANCE_CIRCLE_DIAMETER ->
                List.of(
                        "where the machine's outermost point lies: how far ahead of the rear axle and from the centreline");
        };
    }

    private static List<String> blades(Machine machine) {
        return machine.blades().isEmpty() ? List.of("the blade positions (blades.csv)") : List.of();
    }

    /** The conversion; empty where something is missing or the machine leaves no disc at so small a figure. */
    static Optional<ClaimConversion> of(double value, Claim.Quantity quantity, Machine machine, Cell cell) {
        if (!missing(quantity, machine).isEmpty()) {
            return Optional.empty();
        }
        if (quantity == Claim.Quantity.UNCUT_DIAMETER) {
            return Optional.of(new ClaimConversion(value, 1, List.of()));
        }
        int side = cell.turn().sign();
        DeckModel model = DeckModel.of(machine, cell.drive()).orElseThrow();
        Steering steering = steering(quantity, machine);
        OptionalDouble diameter = steering.diameter(value, model.deck(), side);
        OptionalDouble above = steering.diameter(value + STEP, model.deck(), side);
        OptionalDouble below = steering.diameter(value - STEP, model.deck(), side);
        if (diameter.isEmpty() || above.isEmpty() || below.isEmpty()) {
            return Optional.empty();
        }
        List<Contribution> contributions =
                new ArrayList<>(model.contributions(deck -> steering.diameter(value, deck, side)));
        if (quantity == Claim.Quantity.TURNING_CIRCLE_DIAMETER) {
            double uL =
                    machine.wheelbase().orElseThrow().uncertaintyOr(WHEELBASE).metres();
            double uT = machine.frontTrack()
                    .orElseThrow()
                    .uncertaintyOr(FRONT_TRACK)
                    .metres();
            contributions.add(new Contribution("wheelbase", uL, steering.effect(value, model.deck(), side, uL, 0)));
            contributions.add(new Contribution("front track", uT, steering.effect(value, model.deck(), side, 0, uT)));
        }
        return Optional.of(new ClaimConversion(
                diameter.getAsDouble(), (above.getAsDouble() - below.getAsDouble()) / (2 * STEP), contributions));
    }

    /** The diameter (m) under a deck; empty where it leaves no disc. Nothing may be missing. */
    static OptionalDouble diameter(double value, Claim.Quantity quantity, Machine machine, Deck deck, Cell cell) {
        return quantity == Claim.Quantity.UNCUT_DIAMETER
                ? OptionalDouble.of(value)
                : steering(quantity, machine).diameter(value, deck, cell.turn().sign());
    }

    private static Steering steering(Claim.Quantity quantity, Machine machine) {
        return quantity == Claim.Quantity.TURN_RADIUS
                ? new Steering(Optional.empty())
                : new Steering(Optional.of(new Front(
                        machine.wheelbase().orElseThrow().value().metres(),
                        machine.frontTrack().orElseThrow().value().metres())));
    }

    private record Front(double wheelbase, double track) {}

    /** The way from a figure to the turn radius: none for a turn radius, through the front axle for a turning circle. */
    private record Steering(Optional<Front> front) {
        OptionalDouble diameter(double value, Deck deck, int side) {
            OptionalDouble radius = front.isEmpty()
                    ? OptionalDouble.of(value)
                    : new TurningCircle(
                                    front.get().wheelbase() - deck.c(),
                                    front.get().track())
                            .turnRadius(value);
            if (radius.isEmpty()) {
                return OptionalDouble.empty();
            }
            double d = deck.uncutDiameter(radius.getAsDouble(), side);
            return d > 0 ? OptionalDouble.of(d) : OptionalDouble.empty();
        }

        /** Half the change of D for wheelbase or track raised and lowered; 0 where one side is out of reach. */
        double effect(double value, Deck deck, int side, double byWheelbase, double byTrack) {
            OptionalDouble up = moved(byWheelbase, byTrack).diameter(value, deck, side);
            OptionalDouble down = moved(-byWheelbase, -byTrack).diameter(value, deck, side);
            return up.isPresent() && down.isPresent() ? (up.getAsDouble() - down.getAsDouble()) / 2 : 0;
        }

        private Steering moved(double byWheelbase, double byTrack) {
            return new Steering(front.map(f -> new Front(f.wheelbase() + byWheelbase, f.track() + byTrack)));
        }
    }
}
