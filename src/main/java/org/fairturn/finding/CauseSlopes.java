package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Machine;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;

/**
 * How much a stop or the deck moves the uncut circles of a machine, linear about the reference. What the folder does not say of
 * the machine is taken as typical of a compact tractor.
 *
 * @param machine with the deck where the manual puts it
 * @param cells the compared cells
 * @param references uncut diameter by the reference in each (m)
 */
record CauseSlopes(Machine machine, List<Cell> cells, List<Double> references) {
    /** Typical dimensions of compact tractors (m, rad). Our own choices; common practice, no source. */
    private static final double ARM = 0.080;

    private static final double WHEELBASE = 1.5;
    private static final double LOCK = Math.toRadians(58);
    /** Cosine φ of {@link Deck#cosPhi} where the blades are not known. */
    private static final double COSINE = 0.85;

    CauseSlopes {
        cells = List.copyOf(cells);
        references = List.copyOf(references);
    }

    private Optional<Deck> deck(Cell cell) {
        return DeckModel.of(machine, cell.drive()).map(DeckModel::deck);
    }

    /** Turn radius (m) that leaves a diameter (m) in the k-th cell; empty where the blades are not known. */
    OptionalDouble turnRadius(int k, double diameter) {
        Cell cell = cells.get(k);
        return deck(cell).map(d -> d.turnRadius(diameter, cell.turn().sign())).orElse(OptionalDouble.empty());
    }

    /** Half of dD/dR of the k-th cell. */
    private double cosine(int k) {
        OptionalDouble radius = turnRadius(k, references.get(k));
        return radius.isPresent()
                ? deck(cells.get(k))
                        .orElseThrow()
                        .cosPhi(radius.getAsDouble(), cells.get(k).turn().sign())
                : COSINE;
    }

    /** dD of the k-th cell per metre the deck sits further to the left. */
    double deckToTheLeft(int k) {
        return -2 * cells.get(k).turn().sign() * cosine(k);
    }

    /**
     * The stop that limits a turn, as it was noted: one that touches the axle before one that does not; of those that do, the one
     * that leaves the wider turn; where that is not told, one that was not measured, then the inner wheel's.
     */
    Optional<SteeringStop> noted(Turn turn) {
        return machine.stops().stream()
                .filter(s -> s.limits() == turn)
                .min(Comparator.comparing(SteeringStop::lacksContact)
                        .thenComparing(s -> -widening(s))
                        .thenComparing(s -> SteeringStops.deviation(s).isPresent())
                        .thenComparing(s -> s.side() != turn));
    }

    /** By how much a stop off its specification makes the turn radius larger (m); 0 where that was not measured. */
    private double widening(SteeringStop stop) {
        double deviation = SteeringStops.deviation(stop).orElse(0.0);
        return SteeringStops.atSpecification(deviation)
                ? 0
                : deviation * radiusByProtrusion(stop.limits(), Optional.of(stop));
    }

    /** dR for each metre the stop of a turn protrudes further: a typical one of the inner wheel where none was noted. */
    private double radiusByProtrusion(Turn turn, Optional<SteeringStop> stop) {
        boolean outside = stop.map(s -> s.side() != turn).orElse(false);
        return -new Ackermann(wheelbase(), 0).slope(lock(turn, outside)) / arm(stop);
    }

    String name(Turn turn) {
        return noted(turn).map(SteeringStops::name).orElse(turn.word() + " stop");
    }

    double arm(Turn turn) {
        return arm(noted(turn));
    }

    private static double arm(Optional<SteeringStop> stop) {
        return stop.flatMap(SteeringStop::arm).map(a -> a.metres()).orElse(ARM);
    }

    private double wheelbase() {
        return machine.wheelbase().map(w -> w.value().metres()).orElse(WHEELBASE);
    }

    /** Angle (rad) at which a stop of a turn holds its wheel. */
    private double lock(Turn turn, boolean outside) {
        Ackermann steering = new Ackermann(
                wheelbase(), machine.frontTrack().map(t -> t.value().metres()).orElse(0.0));
        double inner = machine.lock(turn)
                .map(angle -> angle.radians())
                .or(() -> lockByReference(turn, steering))
                .filter(angle -> angle > 0 && angle < Math.PI / 2)
                .orElse(LOCK);
        return outside ? steering.outerLock(steering.turnRadius(inner)) : inner;
    }

    private Optional<Double> lockByReference(Turn turn, Ackermann steering) {
        if (machine.wheelbase().isEmpty() || machine.frontTrack().isEmpty()) {
            return Optional.empty();
        }
        for (int k = 0; k < cells.size(); k++) {
            OptionalDouble radius = turnRadius(k, references.get(k));
            if (cells.get(k).turn() == turn && radius.isPresent()) {
                return Optional.of(steering.innerLock(radius.getAsDouble()));
            }
        }
        return Optional.empty();
    }

    /** dD of the k-th cell per metre the stop that limits a turn protrudes further; 0 in the other turn. */
    double protrusion(Turn turn, int k) {
        if (cells.get(k).turn() != turn) {
            return 0;
        }
        return 2 * cosine(k) * radiusByProtrusion(turn, noted(turn));
    }

    /** What the protrusion of a turn's stop cannot be said without, in words; empty where nothing is missing. */
    List<String> missing(Turn turn) {
        List<String> missing = new ArrayList<>(missingArm(turn));
        missing.addAll(missingForLock(turn));
        return missing;
    }

    List<String> missingArm(Turn turn) {
        return noted(turn).flatMap(SteeringStop::arm).isPresent()
                ? List.of()
                : List.of("the arm of the " + name(turn) + " (stops.csv)");
    }

    /** The same for the angle. */
    List<String> missingForLock(Turn turn) {
        List<String> missing = new ArrayList<>();
        if (machine.wheelbase().isEmpty()) {
            missing.add("the wheelbase (machines.csv)");
        }
        if (machine.lock(turn).isEmpty()
                && (machine.frontTrack().isEmpty() || machine.blades().isEmpty())) {
            missing.add("the designed " + turn.word() + " lock angle (machines.csv)");
        }
        if (machine.blades().isEmpty()) {
            missing.add("the blade positions (blades.csv)");
        }
        return missing;
    }

    /**
     * By what share the front axle would have to roll further or less against the rear one for its path to fit a circle wider by
     * so much (m); empty where wheelbase or blades are not known.
     */
    OptionalDouble frontRolling(int k, double wider) {
        OptionalDouble before = turnRadius(k, references.get(k));
        OptionalDouble after = turnRadius(k, references.get(k) + wider);
        if (machine.wheelbase().isEmpty() || before.isEmpty() || after.isEmpty()) {
            return OptionalDouble.empty();
        }
        Ackermann steering = new Ackermann(wheelbase(), 0);
        return before.getAsDouble() > 0 && after.getAsDouble() > 0
                ? OptionalDouble.of(
                        steering.pathRatio(after.getAsDouble()) / steering.pathRatio(before.getAsDouble()) - 1)
                : OptionalDouble.empty();
    }
}
