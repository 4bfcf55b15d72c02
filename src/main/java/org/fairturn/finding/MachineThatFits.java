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

    /**
     * What no machine has is not named at all: a lock angle above this, a stop that is turned farther or takes off more than
     * these, a deck moved by more than half of what it cuts. Common practice, no source.
     */
    static final double MOST_LOCK = Math.toRadians(80);

    static final double MOST_STOP = 0.050;

    static final double MOST_LOCK_CHANGE = Math.toRadians(20);

    /**
     * What changes of the machine would do.
     *
     * @param causes one sentence part each, the stop first
     * @param remedy what that leaves
     */
    record Changes(List<String> causes, ClaimCheck.Remedy remedy) {
        Changes {
            causes = List.copyOf(causes);
        }
    }

    private final Machine machine;
    private final Cell cell;
    private final Wording wording;

    MachineThatFits(Machine machine, Cell cell, Wording wording) {
        this.machine = machine;
        this.cell = cell;
        this.wording = wording;
    }

    /** What would make it leave the circle claimed instead of the one measured (m). */
    Changes changes(double claimed, double measured) {
        Optional<Deck> deck = DeckModel.of(machine, cell.drive()).map(DeckModel::deck);
        OptionalDouble now =
                deck.map(d -> d.turnRadius(measured, cell.turn().sign())).orElse(OptionalDouble.empty());
        if (now.isEmpty()) {
            return new Changes(List.of(), ClaimCheck.Remedy.STOP); // nothing is known that would exclude it
        }
        OptionalDouble then = deck.get().turnRadius(claimed, cell.turn().sign());
        if (then.isEmpty()) { // nowhere to the side does this deck leave so small a disc, at no lock
            return new Changes(List.of(), ClaimCheck.Remedy.NONE);
        }
        double wider = then.getAsDouble() - now.getAsDouble();
        List<String> causes = new ArrayList<>();
        stop(wider).ifPresent(causes::add);
        boolean stop = !causes.isEmpty() || mayBeAStop(now.getAsDouble(), wider);
        boolean elsewhere = Math.abs(wider) <= deck.get().cuttingWidth() / 2;
        if (elsewhere) {
            causes.add(deck(-cell.turn().sign() * wider));
        }
        return new Changes(
                causes,
                stop
                        ? ClaimCheck.Remedy.STOP
                        : Math.abs(wider) <= PLAUSIBLE_DECK ? ClaimCheck.Remedy.DECK : ClaimCheck.Remedy.NONE);
    }

    /**
     * Whether a stop is not excluded where its amount cannot be said: the lock angle of the turn that was measured stands in for
     * a designed one; without wheelbase and front track nothing is excluded.
     */
    private boolean mayBeAStop(double now, double wider) {
        if (machine.lock(cell.turn()).isPresent() && lockDriven().isPresent()) {
            return false; // it was worked out, and no machine has it
        }
        return steering()
                .map(s -> isOrdinary(s.innerLock(now), s.innerLock(now + wider) - s.innerLock(now)))
                .orElse(true);
    }

    private static boolean isOrdinary(double driven, double change) {
        return driven + change > 0 && driven + change <= MOST_LOCK && Math.abs(change) <= MOST_LOCK_CHANGE;
    }

    private Optional<Ackermann> steering() {
        return machine.wheelbase()
                .flatMap(wheelbase -> machine.frontTrack()
                        .map(track -> new Ackermann(
                                wheelbase.value().metres(), track.value().metres())));
    }

    /** The angle of the inner wheel (rad): the designed one, less what its stop takes off it; empty where that is none. */
    private OptionalDouble lockDriven() {
        double driven = machine.lock(cell.turn())
                .map(lock -> lock.radians() - takenOff())
                .orElse(Double.NaN);
        return steering().isPresent() && driven > 0 && driven < Math.PI / 2
                ? OptionalDouble.of(driven)
                : OptionalDouble.empty();
    }

    /**
     * Change of the inner wheel's lock angle (rad) that widens the turn by so much (m), about the angle it was driven at: the
     * designed one, less what its stop takes off it beyond the specification; empty where wheelbase, front track or designed
     * angle are not known, or no angle does it.
     */
    OptionalDouble lockChange(double wider) {
        OptionalDouble driven = lockDriven();
        if (driven.isEmpty()) {
            return OptionalDouble.empty();
        }
        Ackermann steering = steering().orElseThrow();
        double lock = steering.innerLock(steering.turnRadius(driven.getAsDouble()) + wider);
        return lock < Math.PI / 2 ? OptionalDouble.of(lock - driven.getAsDouble()) : OptionalDouble.empty();
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

    /** Whether a stop can protrude so much more than this machine's (m): there is an end to its bolt, and to its thread. */
    private boolean canBeTurned(double more) {
        return Math.abs(more) <= MOST_STOP
                && innerStop()
                        .flatMap(stop -> stop.set().or(stop::found))
                        .map(now -> now.metres() + more >= 0)
                        .orElse(true);
    }

    private Optional<String> stop(double wider) {
        OptionalDouble change = lockChange(wider);
        if (change.isEmpty() || !isOrdinary(lockDriven().orElseThrow(), change.getAsDouble())) {
            return Optional.empty();
        }
        double lock = change.getAsDouble();
        if (arm().filter(arm -> !canBeTurned(-lock * arm.metres())).isPresent()) {
            return Optional.empty();
        }
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
