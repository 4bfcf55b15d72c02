package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Machine;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;

/**
 * How a machine would have to differ from the one measured, in one dimension alone, to leave another uncut circle: its
 * steering stop or its deck.
 */
final class MachineThatFits {
    /** As far as a stop is likely to be out of adjustment, and a deck to sit elsewhere. Our own choices. */
    static final double PLAUSIBLE_STOP = 0.020;

    static final double PLAUSIBLE_LOCK = Math.toRadians(10);

    static final double PLAUSIBLE_DECK = 0.100;

    private final Machine machine;
    private final Cell cell;
    private final Wording wording;

    MachineThatFits(Machine machine, Cell cell, Wording wording) {
        this.machine = machine;
        this.cell = cell;
        this.wording = wording;
    }

    /** One sentence part each, the stop first. */
    List<String> causes(double claimed, double measured) {
        List<String> list = new ArrayList<>();
        Optional<Deck> deck = DeckModel.of(machine, cell.drive()).map(DeckModel::deck);
        if (deck.isEmpty()) {
            return list;
        }
        int side = cell.turn().sign();
        OptionalDouble then = deck.get().turnRadius(claimed, side);
        OptionalDouble now = deck.get().turnRadius(measured, side);
        if (then.isPresent() && now.isPresent()) {
            double wider = then.getAsDouble() - now.getAsDouble();
            stop(wider).ifPresent(list::add);
            list.add(deck(-side * wider));
        }
        return list;
    }

    /**
     * Change of the inner wheel's lock angle (rad) that widens the turn by so much (m), about the angle it was driven at: the
     * designed one, less what its stop takes off it beyond the specification; empty where wheelbase, front track or designed
     * angle are not known, or no angle does it.
     */
    OptionalDouble lockChange(double wider) {
        Turn turn = cell.turn();
        if (machine.lock(turn).isEmpty()
                || machine.wheelbase().isEmpty()
                || machine.frontTrack().isEmpty()) {
            return OptionalDouble.empty();
        }
        double driven = machine.lock(turn).get().radians() - takenOff();
        if (!(driven > 0 && driven < Math.PI / 2)) {
            return OptionalDouble.empty();
        }
        Ackermann steering = new Ackermann(
                machine.wheelbase().get().value().metres(),
                machine.frontTrack().get().value().metres());
        double lock = steering.innerLock(steering.turnRadius(driven) + wider);
        return lock < Math.PI / 2 ? OptionalDouble.of(lock - driven) : OptionalDouble.empty();
    }

    private Optional<SteeringStop> innerStop() {
        return machine.stops().stream()
                .filter(s -> s.limits() == cell.turn() && s.side() == cell.turn())
                .findFirst();
    }

    /** What the stop of the inner wheel takes off its lock angle by protruding beyond its specification (rad), where noted. */
    private double takenOff() {
        return innerStop()
                .flatMap(stop -> SteeringStops.deviation(stop)
                        .flatMap(deviation -> stop.arm().map(arm -> deviation / arm.metres())))
                .orElse(0.0);
    }

    /** The arm of the stop on the inner wheel, where it was noted. */
    private Optional<Length> arm() {
        return innerStop().flatMap(SteeringStop::arm);
    }

    /** Whether a stop that protrudes so much more than this machine's would protrude less than specified. */
    private boolean pastSpecification(double more) {
        return innerStop()
                .flatMap(SteeringStops::deviation)
                .filter(deviation -> deviation + more < 0 && !SteeringStops.atSpecification(deviation + more))
                .isPresent();
    }

    private Optional<String> stop(double wider) {
        OptionalDouble change = lockChange(wider);
        if (change.isEmpty()) {
            return Optional.empty();
        }
        double lock = change.getAsDouble();
        String angle = Figures.fixed(Math.abs(Math.toDegrees(lock)), 1) + "° " + (lock < 0 ? "less" : "more") + " lock";
        String stop = "the " + cell.turn().word() + " stop of the machine the claim was made of ";
        return Optional.of(arm().map(arm -> {
                    double protrusion = -lock * arm.metres();
                    boolean plausible = Math.abs(protrusion) <= PLAUSIBLE_STOP && Math.abs(lock) <= PLAUSIBLE_LOCK;
                    return stop + "(it would protrude " + wording.fine(protrusion)
                            + (protrusion > 0 ? " more" : " less") + " than here, " + angle + ": "
                            + plausible(plausible)
                            + (pastSpecification(protrusion)
                                    ? (plausible ? ", but" : ", and")
                                            + " past the specification, to which no stop is ever turned in"
                                    : "")
                            + ")";
                })
                .orElse(stop + "(" + angle + ": " + plausible(Math.abs(lock) <= PLAUSIBLE_LOCK) + ")"));
    }

    private String deck(double toTheLeft) {
        return "where the deck sits (" + wording.amount(toTheLeft) + " further to the "
                + (toTheLeft > 0 ? "left" : "right") + ": " + plausible(Math.abs(toTheLeft) <= PLAUSIBLE_DECK) + ")";
    }

    private static String plausible(boolean plausible) {
        return plausible ? "a plausible amount" : "more than is plausible";
    }
}
