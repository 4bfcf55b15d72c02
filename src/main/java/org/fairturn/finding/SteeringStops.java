package org.fairturn.finding;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.units.Angle;
import org.fairturn.units.Length;

/**
 * What the steering stops of a machine make of its turns by standing off their specification.
 *
 * <p>A stop that protrudes Δb more over an arm a takes Δδ ≈ Δb/a off the angle of its wheel, which widens the turn by
 * dR = −L·dδ/sin²δ; worked out exactly through the ideal steering, about the designed lock angle. Where that is not given, the
 * circles tell it: the turn radius they show is the one with the stop as driven. Circles in 2WD come first, since in 4WD the
 * skid of the front axle widens the path beyond what the angle makes of it. Specifications that differ
 * left and right by design are no deviation: each stop is held against its own. Where two stops limit the same turn, the one
 * that leaves the wider turn governs.
 */
final class SteeringStops {
    /** Standard uncertainties where the folder has no column for them or states none. Our own choices. */
    static final Length PROTRUSION = Length.mm(0.1); // a calliper, read to 0.01 in

    static final Length ARM = Length.mm(2);
    static final Length WHEELBASE = Length.mm(5);
    /** Of the front track as the distance between the king-pins, which it only stands in for. */
    static final Length KING_PINS = Length.mm(50);
    /** Of the designed lock angle as the angle the machine was built to (rad). */
    static final double LOCK = Math.toRadians(1);

    private static final Length MOST_OFF = Length.mm(25);

    private static final String IMPOSSIBLE =
            "protrusions and arms that leave a lock angle between 0° and 90° (stops.csv)";

    /** How far a real linkage strays from the ideal steering by which circles tell a lock angle (rad). Our own choice. */
    static final double LINKAGE = Math.toRadians(1);

    /** Of a standard uncertainty, by which a dimension is moved at the least: 5 m become less than 1 µm. */
    private static final double SMALLEST_STEP = 1e-7;

    private final Machine machine;
    /** Turn radii where no lock angle is designed. */
    private final Map<Turn, Shown> shown = new EnumMap<>(Turn.class);

    SteeringStops(Machine machine) {
        this(machine, Optional.empty());
    }

    /** The stops of a machine; its circles, where they count, stand in for lock angles that are not given. */
    SteeringStops(Machine machine, Optional<MachineEstimate> circles) {
        this.machine = machine;
        if (!machine.stops().isEmpty()) {
            for (Turn turn : Turn.values()) {
                if (machine.lock(turn).isEmpty()) {
                    circles.flatMap(c -> shown(c, turn)).ifPresent(s -> shown.put(turn, s));
                }
            }
        }
    }

    /** A turn radius circles show (m), and the drive they were driven in. */
    private record Shown(Drive drive, double radius, double standardUncertainty) {}

    private static Optional<Shown> shown(MachineEstimate circles, Turn turn) {
        for (Drive drive : Drive.values()) {
            Cell cell = new Cell(circles.machine().id(), turn, drive, Brakes.NONE);
            Optional<Shown> radius = circles.has(cell)
                    ? DeckModel.of(circles.machine(), drive)
                            .flatMap(model -> Propagation.of(
                                    circles, List.of(cell), model, (d, deck) -> deck.turnRadius(d[0], turn.sign())))
                            .map(r -> new Shown(drive, r.value(), r.standardUncertainty()))
                    : Optional.empty();
            if (radius.isPresent()) {
                return radius;
            }
        }
        return Optional.empty();
    }

    private boolean lockKnown(Turn turn) {
        return machine.lock(turn).isPresent() || shown.containsKey(turn);
    }

    /** How far it protruded while the trial was driven, where that was noted and is to be believed. */
    static Optional<Length> driven(SteeringStop stop) {
        return stop.set().or(stop::found).filter(protrusion -> isBelievable(stop, protrusion));
    }

    /**
     * A stop's bolt has an inch or so to be turned by: common practice, no source. What is written to be farther off its
     * specification is a slip of the pen, and advice that rests on it could hurt somebody.
     */
    private static boolean isBelievable(SteeringStop stop, Length protrusion) {
        return stop.specified()
                .map(specified -> Math.abs(protrusion.metres() - specified.metres()) <= MOST_OFF.metres())
                .orElse(true);
    }

    /** What is to be said of stops that cannot protrude as written. */
    static List<Warning> unlikely(Machine machine, Wording wording) {
        List<Warning> warnings = new ArrayList<>();
        for (SteeringStop stop : machine.stops()) {
            stop.found()
                    .ifPresent(p -> unlikely(machine, stop, "found", p, wording).ifPresent(warnings::add));
            stop.set().ifPresent(p -> unlikely(machine, stop, "set", p, wording).ifPresent(warnings::add));
        }
        return warnings;
    }

    private static Optional<Warning> unlikely(
            Machine machine, SteeringStop stop, String column, Length protrusion, Wording wording) {
        if (isBelievable(stop, protrusion)) {
            return Optional.empty();
        }
        double specified = stop.specified().orElseThrow().metres();
        return Optional.of(new Warning(
                "stopUnlikely",
                machine.id() + ", " + name(stop),
                "The protrusion in column " + column + ", " + wording.fine(protrusion.metres()) + ", is "
                        + wording.fine(Math.abs(protrusion.metres() - specified)) + " off the specified "
                        + wording.fine(specified)
                        + ". No stop can be turned so far, so nothing is made of it and nobody is told to set it by that."
                        + " Look for a slipped decimal point, another unit or digits exchanged in stops.csv, the specified"
                        + " figure too, or measure the stop again."));
    }

    /** A dimension that goes into a stop's effect: its value and standard uncertainty (m or rad). */
    private record Dimension(String name, double value, double standardUncertainty, boolean angle) {}

    /** All dimensions of one machine's steering, one of them moved. */
    private final class Dimensions {
        private final Map<String, Dimension> all = new LinkedHashMap<>();

        private void add(String name, double value, double standardUncertainty) {
            all.put(name, new Dimension(name, value, standardUncertainty, false));
        }

        private void addAngle(String name, double radians, double standardUncertainty) {
            all.put(name, new Dimension(name, radians, standardUncertainty, true));
        }

        private double of(String name) {
            return all.get(name).value();
        }

        /** Half the change of a result for each dimension ± its standard uncertainty (JCGM 100:2008, 5.1.3, note 2). */
        private List<Contribution> contributions(ToDoubleFunction<Dimensions> result) {
            double here = result.applyAsDouble(this);
            return all.values().stream()
                    .map(d -> new Contribution(d.name(), d.standardUncertainty(), effect(d, here, result), d.angle()))
                    .toList();
        }

        /** Where a dimension is hardly known no machine may have it moved so far: smaller steps, and one side, then tell it. */
        private double effect(Dimension d, double here, ToDoubleFunction<Dimensions> result) {
            for (double times = 1; times > SMALLEST_STEP; times /= 2) {
                double up = moved(d, times).result(result) - here;
                double down = here - moved(d, -times).result(result);
                if (Double.isFinite(up) || Double.isFinite(down)) {
                    double change = !Double.isFinite(down) ? up : !Double.isFinite(up) ? down : (up + down) / 2;
                    return change / times;
                }
            }
            return 0;
        }

        /** NaN where no machine has such dimensions. */
        private double result(ToDoubleFunction<Dimensions> of) {
            boolean possible = all.entrySet().stream()
                    .allMatch(e -> e.getValue().value() > 0
                            || !(e.getKey().equals("wheelbase") || e.getKey().endsWith(", arm")));
            return possible ? of.applyAsDouble(this) : Double.NaN;
        }

        private Dimensions moved(Dimension dimension, double times) {
            Dimensions copy = new Dimensions();
            copy.all.putAll(all);
            copy.all.put(
                    dimension.name(),
                    new Dimension(
                            dimension.name(),
                            dimension.value() + times * dimension.standardUncertainty(),
                            dimension.standardUncertainty(),
                            dimension.angle()));
            return copy;
        }

        private StopEffect.Amount amount(ToDoubleFunction<Dimensions> result) {
            double variance = contributions(result).stream()
                    .mapToDouble(c -> c.effect() * c.effect())
                    .sum();
            return new StopEffect.Amount(result.applyAsDouble(this), Math.sqrt(variance));
        }
    }

    private static String lockName(Turn turn) {
        return "designed lock angle, " + turn.word();
    }

    private static String radiusName(Turn turn) {
        return "turn radius of the " + turn.word() + " circles";
    }

    private static String linkageName(Turn turn) {
        return "linkage against ideal steering, " + turn.word();
    }

    static String name(SteeringStop stop) {
        return name(stop.side(), stop.limits());
    }

    static String name(Turn side, Turn limits) {
        return side == limits ? side.word() + " stop" : side.word() + " stop in the " + limits.word() + " turn";
    }

    private Optional<Dimensions> steering() {
        if (machine.wheelbase().isEmpty() || machine.frontTrack().isEmpty()) {
            return Optional.empty();
        }
        Dimensions dimensions = new Dimensions();
        dimensions.add(
                "wheelbase",
                machine.wheelbase().get().value().metres(),
                machine.wheelbase().get().uncertaintyOr(WHEELBASE).metres());
        dimensions.add("king-pin distance", machine.frontTrack().get().value().metres(), KING_PINS.metres());
        for (Turn turn : Turn.values()) {
            machine.lock(turn).ifPresent(lock -> dimensions.addAngle(lockName(turn), lock.radians(), LOCK));
            if (shown.containsKey(turn)) {
                Shown radius = shown.get(turn);
                dimensions.add(radiusName(turn), radius.radius(), radius.standardUncertainty());
                dimensions.addAngle(linkageName(turn), 0, LINKAGE);
            }
        }
        return Optional.of(dimensions);
    }

    private static Dimensions with(Dimensions dimensions, SteeringStop stop, double deviation) {
        dimensions.add(name(stop) + ", arm", stop.arm().orElseThrow().metres(), ARM.metres());
        dimensions.add(name(stop) + ", protrusion", deviation, PROTRUSION.metres());
        return dimensions;
    }

    private static double lockChange(SteeringStop stop, Dimensions d) {
        return -d.of(name(stop) + ", protrusion") / d.of(name(stop) + ", arm");
    }

    /** Angle of the stop's own wheel with the stop at its specification (rad). */
    private double specifiedLock(SteeringStop stop, Dimensions d) {
        Ackermann steering = steering(d);
        boolean onTheInside = stop.side() == stop.limits();
        if (machine.lock(stop.limits()).isPresent()) {
            double inner = d.of(lockName(stop.limits()));
            if (!(inner > 0 && inner < Math.PI / 2)) {
                return Double.NaN;
            }
            return onTheInside ? inner : steering.outerLock(steering.turnRadius(inner));
        }
        double radius = d.of(radiusName(stop.limits()));
        double driven = (onTheInside ? steering.innerLock(radius) : steering.outerLock(radius))
                + d.of(linkageName(stop.limits()));
        return driven + deviation(stop).orElseThrow() / d.of(name(stop) + ", arm");
    }

    private static Ackermann steering(Dimensions d) {
        return new Ackermann(d.of("wheelbase"), d.of("king-pin distance"));
    }

    /** R at an angle of the stop's own wheel (m); NaN outside (0°, 90°). */
    private static double radius(SteeringStop stop, double lock, Dimensions d) {
        if (!(lock > 0 && lock < Math.PI / 2)) {
            return Double.NaN;
        }
        return stop.side() == stop.limits()
                ? steering(d).turnRadius(lock)
                : steering(d).turnRadiusByOuter(lock);
    }

    /** R with the stop less R with it at its specification (m); NaN where an angle leaves (0°, 90°). */
    private double radiusChange(SteeringStop stop, Dimensions d) {
        double lock = specifiedLock(stop, d);
        return radius(stop, lock + lockChange(stop, d), d) - radius(stop, lock, d);
    }

    /** Every stop that was noted, left wheel before right, with what it does. */
    List<StopEffect> effects() {
        return stops().stream().map(this::effect).toList();
    }

    private List<SteeringStop> stops() {
        return machine.stops().stream().sorted(SteeringStops::order).toList();
    }

    /** Protrusion beyond the specification as driven (m); empty where one of the two was not noted. */
    static Optional<Double> deviation(SteeringStop stop) {
        return driven(stop).flatMap(now -> stop.specified().map(specified -> now.metres() - specified.metres()));
    }

    /** The lock angle of the inner wheel the circles of a turn show; empty where one is designed or none can be told. */
    private Optional<StopEffect.Lock> fromCircles(Turn turn) {
        return Optional.ofNullable(shown.get(turn))
                .flatMap(s -> steering().map(d -> {
                    StopEffect.Amount lock =
                            d.amount(x -> steering(x).innerLock(x.of(radiusName(turn))) + x.of(linkageName(turn)));
                    return new StopEffect.Lock(s.drive(), s.radius(), lock);
                }));
    }

    /** What is said where circles stand in for designed lock angles; empty where they do not. */
    String lockRemark() {
        List<String> angles = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            fromCircles(turn)
                    .ifPresent(lock -> angles.add(turn.word() + " "
                            + new Angle(lock.angle().value()).asDegrees(1) + ", shown in "
                            + lock.drive().word()));
        }
        return angles.isEmpty()
                ? ""
                : " What the stops make of it is worked out about the lock angles the circles show by ideal steering ("
                        + String.join("; ", angles) + "), because machines.csv gives no designed ones.";
    }

    private static int order(SteeringStop a, SteeringStop b) {
        int bySide = a.side().compareTo(b.side());
        return bySide != 0 ? bySide : a.limits().compareTo(b.limits());
    }

    private StopEffect effect(SteeringStop stop) {
        List<String> missing = missing(stop);
        if (missing.isEmpty()
                && driven(stop).flatMap(length -> change(stop, length)).isEmpty()) {
            missing.add(IMPOSSIBLE);
        }
        return new StopEffect(
                machine.id(),
                stop,
                stop.found().flatMap(p -> change(stop, p)),
                stop.set().flatMap(p -> change(stop, p)),
                fromCircles(stop.limits()),
                String.join("; ", missing));
    }

    private Optional<StopEffect.Change> change(SteeringStop stop, Length protrusion) {
        if (stop.specified().isEmpty()
                || stop.arm().isEmpty()
                || !lockKnown(stop.limits())
                || !isBelievable(stop, protrusion)) {
            return Optional.empty();
        }
        double deviation = protrusion.metres() - stop.specified().get().metres();
        return steering()
                .map(s -> with(s, stop, deviation))
                .filter(d -> Double.isFinite(radiusChange(stop, d)))
                .map(d -> new StopEffect.Change(
                        deviation,
                        d.amount(x -> lockChange(stop, x)),
                        d.amount(x -> radiusChange(stop, x)),
                        DeckModel.of(machine, Drive.TWO_WHEEL)
                                .map(model -> d.amount(x -> diameterChange(stop, x, model.deck())))));
    }

    private double diameterChange(SteeringStop stop, Dimensions d, Deck deck) {
        double specified = radius(stop, specifiedLock(stop, d), d);
        int side = stop.limits().sign();
        return deck.uncutDiameter(specified + radiusChange(stop, d), side) - deck.uncutDiameter(specified, side);
    }

    private List<String> missing(SteeringStop stop) {
        List<String> missing = new ArrayList<>();
        if (stop.specified().isEmpty()) {
            missing.add("the specified protrusion of the " + name(stop) + " (stops.csv)");
        }
        if (driven(stop).isEmpty()) {
            missing.add((stop.set().or(stop::found).isEmpty() ? "the protrusion" : "a protrusion that can be")
                    + " of the " + name(stop) + " (stops.csv)");
        }
        if (stop.arm().isEmpty()) {
            missing.add("the arm of the " + name(stop) + " (stops.csv)");
        }
        if (!lockKnown(stop.limits())) {
            missing.add("the designed " + stop.limits().word() + " lock angle (machines.csv), or the blade positions"
                    + " (blades.csv), by which " + stop.limits().word() + " circles without brakes tell it");
        }
        if (machine.wheelbase().isEmpty() || machine.frontTrack().isEmpty()) {
            missing.add("wheelbase and front track (machines.csv)");
        }
        return missing;
    }

    /**
     * What the stops as driven make of R_right − R_left.
     *
     * @param radiusDifference (m); empty where it cannot be said
     * @param contributions what each uncertain dimension of the steering puts on it
     * @param missing why it cannot be said, in words; empty where it can, and where no stop was noted at all
     */
    record Driven(OptionalDouble radiusDifference, List<Contribution> contributions, List<String> missing) {
        private static final Driven NOTHING_NOTED = new Driven(OptionalDouble.empty(), List.of(), List.of());

        Driven {
            contributions = List.copyOf(contributions);
            missing = List.copyOf(missing);
        }

        double difference() {
            return radiusDifference.orElse(0);
        }
    }

    Driven driven() {
        if (machine.stops().isEmpty()) {
            return Driven.NOTHING_NOTED;
        }
        List<String> missing = new ArrayList<>();
        List<SteeringStop> limiting = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            List<SteeringStop> stops = machine.stops().stream()
                    .filter(s -> s.limits() == turn)
                    .sorted(SteeringStops::order)
                    .toList();
            List<SteeringStop> touching =
                    stops.stream().filter(s -> !s.lacksContact()).toList();
            if (stops.isEmpty()) {
                missing.add("the stop that limits the " + turn.word() + " turn (stops.csv)");
            } else if (touching.isEmpty()) {
                missing.add("what limits the " + turn.word() + " turn, since the stop does not touch the axle");
            }
            limiting.addAll(touching);
        }
        limiting.forEach(
                stop -> missing(stop).stream().filter(m -> !missing.contains(m)).forEach(missing::add));
        if (!missing.isEmpty()) {
            return new Driven(OptionalDouble.empty(), List.of(), missing);
        }
        Dimensions dimensions = steering().orElseThrow();
        for (SteeringStop stop : limiting) {
            with(dimensions, stop, deviation(stop).orElseThrow());
        }
        double difference = difference(limiting, dimensions);
        return Double.isFinite(difference)
                ? new Driven(
                        OptionalDouble.of(difference),
                        dimensions.contributions(d -> difference(limiting, d)),
                        List.of())
                : new Driven(OptionalDouble.empty(), List.of(), List.of(IMPOSSIBLE));
    }

    private double difference(List<SteeringStop> limiting, Dimensions d) {
        return widest(Turn.RIGHT, limiting, d) - widest(Turn.LEFT, limiting, d);
    }

    private double widest(Turn turn, List<SteeringStop> limiting, Dimensions d) {
        return limiting.stream()
                .filter(stop -> stop.limits() == turn)
                .mapToDouble(stop -> radiusChange(stop, d))
                .max()
                .orElseThrow();
    }

    /** What to do about stops that stand off their specification, in plain words; empty where none does. */
    String advice(Wording wording) {
        return advice(wording, stop -> true);
    }

    /** The same for some of the stops. */
    String advice(Wording wording, Predicate<SteeringStop> of) {
        List<String> steps = new ArrayList<>();
        for (SteeringStop stop : stops().stream().filter(of).toList()) {
            double deviation = deviation(stop).orElse(0.0);
            if (!atSpecification(deviation) && !stop.lacksContact()) {
                steps.add("set the " + name(stop) + (deviation > 0 ? " in by " : " out by ")
                        + wording.fine(deviation) + " to its specified "
                        + wording.fine(stop.specified().orElseThrow().metres()));
            }
        }
        if (steps.isEmpty()) {
            return "";
        }
        return "See that each stop touches the axle at full lock; then " + String.join(", and ", steps)
                + ", and see again that it touches; where it does not, turn it out until it does. Contact comes first, and a"
                + " stop is never turned in past the specification."
                + " Chocks and rated stands first; the service manual and a qualified technician have the last word.";
    }

    /**
     * How far a stop may be off its specification and still agree with it: what a rule at the axle can tell. Our own choice;
     * the one tolerance for all that is said and advised of stops.
     */
    private static final Length AGREES = Length.mm(0.5);

    private static final double ROUNDED = 1e-9;

    /** Whether a protrusion beyond the specification (m) is too small to be told from none. */
    static boolean atSpecification(double deviation) {
        return Math.abs(deviation) <= AGREES.metres() + ROUNDED;
    }

    /** A finding for each stop that was seen not to touch the axle: until it does, no turn of the machine is what it seems. */
    List<Finding> withoutContact(DecisionRule rule) {
        return withoutContact().stream().map(stop -> noContact(stop, rule)).toList();
    }

    /** The stops themselves. */
    List<NoContact> withoutContact() {
        return stops().stream()
                .filter(SteeringStop::lacksContact)
                .map(stop -> new NoContact(machine.id(), stop.side(), stop.limits()))
                .toList();
    }

    private static Finding noContact(NoContact stop, DecisionRule rule) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", stop.machine());
        subject.put("stop", stop.side().word());
        subject.put("turn", stop.limits().word());
        return Finding.notPossible(
                Question.LEFT_RIGHT,
                subject,
                List.of("contact of the " + stop.stop() + " with the axle at full lock"),
                rule,
                List.of(),
                false,
                stop.why() + " This comes before every other result: the "
                        + stop.limits().word() + " circles show whatever limits the turn, not the stop.",
                NoContact.leave() + " Then mow the circles again.");
    }
}
