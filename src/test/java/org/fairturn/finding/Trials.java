package org.fairturn.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.GroundPoint;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Reference;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.TapeClass;
import org.fairturn.trial.TapeReading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Angle;
import org.fairturn.units.Bearing;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Speed;

/** Builds trials in memory. A blade, offset or lock goes to the machine added last, a reading to the circle added last. */
final class Trials {
    private final LengthUnit unit;
    private final List<Machine> machines = new ArrayList<>();
    private final List<Circle> circles = new ArrayList<>();
    private final List<Claim> claims = new ArrayList<>();
    private final List<Reference> references = new ArrayList<>();
    private Optional<TapeClass> tape = Optional.of(TapeClass.II);
    private Optional<Length> edge = Optional.of(Length.mm(5));
    private Length margin = Conditions.DEFAULT_PRACTICAL_MARGIN;
    private double confidence = Conditions.DEFAULT_CONFIDENCE;
    private Length readingRepeatability = Conditions.DEFAULT_READING_REPEATABILITY;
    private Optional<Speed> mowingSpeed = Optional.empty();
    private String place = "";
    private String measurer = "";
    private int row = 1;

    private Trials(LengthUnit unit) {
        this.unit = unit;
    }

    static Trials in(LengthUnit unit) {
        return new Trials(unit);
    }

    static Trials inMillimetres() {
        return in(LengthUnit.MILLIMETRE);
    }

    Trials margin(double amount) {
        margin = length(amount);
        return this;
    }

    Trials readingRepeatability(double assumed) {
        readingRepeatability = length(assumed);
        return this;
    }

    Trials confidence(double required) {
        confidence = required;
        return this;
    }

    Trials edge(double halfWidth) {
        edge = Optional.of(length(halfWidth));
        return this;
    }

    Trials mowingSpeed(Speed speed) {
        mowingSpeed = Optional.of(speed);
        return this;
    }

    Trials place(String name) {
        place = name;
        return this;
    }

    /** Who reads the tape from here on. */
    Trials measuredBy(String name) {
        measurer = name;
        return this;
    }

    /** The last circle's place in the run order. */
    Trials order(int at) {
        Circle c = lastCircle();
        return replace(new Circle(
                c.id(),
                c.cell(),
                OptionalInt.of(at),
                c.laps(),
                c.use(),
                c.remark(),
                c.row(),
                c.readings(),
                c.perimeter()));
    }

    /** The stop of the wheel on the inside of a turn. */
    Trials stop(Turn turn, double specified, double found, boolean touchesAxle) {
        Machine m = lastMachine();
        List<SteeringStop> stops = new ArrayList<>(m.stops());
        stops.add(new SteeringStop(
                turn,
                Optional.of(length(specified)),
                Optional.of(length(found)),
                Optional.empty(),
                Optional.of(touchesAxle),
                Optional.empty(),
                turn));
        return replace(new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                stops,
                m.tyres()));
    }

    Trials nothingStatedOfTapeAndEdge() {
        tape = Optional.empty();
        edge = Optional.empty();
        return this;
    }

    Trials machine(String id) {
        machines.add(Machine.named(id));
        return this;
    }

    /** Three circles each way in 2WD, a left and a right one read twice. */
    Trials threeEachWay(double left, double right) {
        return circle("1", Turn.LEFT, Drive.TWO_WHEEL, left, left - 4)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, right, right + 3)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, right - 5)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, left + 2)
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, left)
                .circle("6", Turn.RIGHT, Drive.TWO_WHEEL, right);
    }

    /** The circles of a trial as an analysis begins with them. */
    static List<CircleResult> circles(Trial trial) {
        Observations observations = new Observations(trial.conditions());
        return trial.circles().stream()
                .map(c -> CircleResult.of(c, observations))
                .toList();
    }

    /** The statistics of its machines that have a circle that counts. */
    static List<MachineEstimate> machines(Trial trial) {
        List<CircleResult> circles = circles(trial);
        return trial.machines().stream()
                .map(m -> MachineEstimate.of(m, trial.conditions(), circles))
                .flatMap(Optional::stream)
                .toList();
    }

    /** What an analysis puts its questions to. */
    static Asked asked(Trial trial) {
        return new Asked(trial, circles(trial), machines(trial));
    }

    /** A finding with nothing said of it but the verdict. */
    static Finding told(Question question, Map<String, String> subject, Verdict verdict, Estimate estimate) {
        return new Finding(
                question,
                subject,
                verdict,
                true,
                Optional.of(estimate),
                0.05,
                List.of(),
                OptionalDouble.empty(),
                false,
                "",
                "",
                Optional.empty());
    }

    Trials blade(double ahead, double left, double tipRadius) {
        List<Blade> blades = new ArrayList<>(lastMachine().blades());
        blades.add(new Blade("S" + (blades.size() + 1), unsaid(ahead), unsaid(left), unsaid(tipRadius)));
        return withBlades(blades);
    }

    private Trials withBlades(List<Blade> blades) {
        Machine m = lastMachine();
        return replace(new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                blades,
                m.stops(),
                m.tyres()));
    }

    /** Standard uncertainties of the blade added last; its place to the left is left unsaid. */
    Trials bladeKnownTo(double ahead, double tipRadius) {
        List<Blade> blades = new ArrayList<>(lastMachine().blades());
        Blade b = blades.remove(blades.size() - 1);
        blades.add(new Blade(
                b.spindle(),
                new Measured(b.ahead().value(), Optional.of(length(ahead))),
                b.left(),
                new Measured(b.tipRadius().value(), Optional.of(length(tipRadius)))));
        return withBlades(blades);
    }

    /** Three blades under a compact tractor, the middle one ahead, all moved to the left by an offset (mm). */
    Trials deckOfThree(double offset) {
        double mm = LengthUnit.MILLIMETRE.metres() / unit.metres();
        return blade(650 * mm, (440 + offset) * mm, 230 * mm)
                .blade(840 * mm, offset * mm, 230 * mm)
                .blade(650 * mm, (-440 + offset) * mm, 230 * mm);
    }

    Trials deckOffset(double left) {
        Machine m = lastMachine();
        return replace(new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                Optional.of(unsaid(left)),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                m.stops(),
                m.tyres()));
    }

    Trials steering(double wheelbase, double track, double leftLock, double rightLock) {
        Machine m = lastMachine();
        return replace(new Machine(
                m.id(),
                m.label(),
                Optional.of(unsaid(wheelbase)),
                Optional.of(unsaid(track)),
                Optional.of(Angle.degrees(leftLock)),
                Optional.of(Angle.degrees(rightLock)),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                m.stops(),
                m.tyres()));
    }

    /** Wheelbase and front track of the last machine, whose lock angles nobody knows. */
    Trials axles(double wheelbase, double track) {
        Machine m = lastMachine();
        return replace(new Machine(
                m.id(),
                m.label(),
                Optional.of(unsaid(wheelbase)),
                Optional.of(unsaid(track)),
                Optional.empty(),
                Optional.empty(),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                m.stops(),
                m.tyres()));
    }

    Trials circle(String id, Turn turn, Drive drive) {
        circles.add(new Circle(
                id,
                new Cell(lastMachine().id(), turn, drive, Brakes.NONE),
                OptionalInt.empty(),
                OptionalInt.empty(),
                true,
                "",
                circles.size() + 2,
                List.of(),
                List.of()));
        return this;
    }

    /** A circle with readings straight across it. */
    Trials circle(String id, Turn turn, Drive drive, double... across) {
        return circle(id, turn, drive).across(across);
    }

    Trials across(double... chords) {
        for (double chord : chords) {
            read(new TapeReading.Across(length(chord)));
        }
        return this;
    }

    /** A reading straight across as someone typed it, with its clock bearing, 0 where none was noted. */
    Trials typed(String chord, int clock) {
        read(new TapeReading.Across(Length.parse(chord, unit).orThrow()));
        return last(clock, chord);
    }

    /** Gives the last reading a bearing and the words it was typed in. */
    private Trials last(int clock, String written) {
        Circle c = lastCircle();
        List<Reading> readings = new ArrayList<>(c.readings());
        Reading r = readings.remove(readings.size() - 1);
        Optional<Bearing> bearing =
                clock == 0 ? Optional.empty() : Optional.of(new Bearing(Angle.degrees(clock % 12 * 30)));
        readings.add(new Reading(r.tape(), bearing, "", "", r.row(), written));
        return replace(c.withReadings(readings));
    }

    /** How the tape of the last reading lay, clockwise from the mark. */
    Trials lying(double degrees) {
        Circle c = lastCircle();
        List<Reading> readings = new ArrayList<>(c.readings());
        Reading r = readings.remove(readings.size() - 1);
        Bearing bearing = new Bearing(Angle.degrees(degrees));
        readings.add(new Reading(r.tape(), Optional.of(bearing), r.measurer(), r.remark(), r.row(), r.written()));
        return replace(c.withReadings(readings));
    }

    Trials typedChordAndRise(String chord, String rise) {
        read(new TapeReading.ChordAndRise(
                Length.parse(chord, unit).orThrow(), Length.parse(rise, unit).orThrow()));
        return last(0, chord + "; " + rise);
    }

    Trials chordAndRise(double chord, double rise) {
        return read(new TapeReading.ChordAndRise(length(chord), length(rise)));
    }

    Trials threeStakes(double first, double second, double third) {
        return read(new TapeReading.ThreeStakes(length(first), length(second), length(third)));
    }

    /** Points spread evenly around a circle of that diameter. */
    Trials points(int count, double diameter) {
        Circle c = lastCircle();
        List<GroundPoint> points = IntStream.range(0, count)
                .mapToObj(i -> new GroundPoint(
                        length(diameter / 2 * Math.cos(2 * Math.PI * i / count)),
                        length(diameter / 2 * Math.sin(2 * Math.PI * i / count))))
                .toList();
        return replace(
                new Circle(c.id(), c.cell(), c.order(), c.laps(), c.use(), c.remark(), c.row(), c.readings(), points));
    }

    Trials withBrakes() {
        Circle c = lastCircle();
        return replace(new Circle(
                c.id(),
                new Cell(c.cell().machine(), c.cell().turn(), c.cell().drive(), Brakes.USED),
                c.order(),
                c.laps(),
                c.use(),
                c.remark(),
                c.row(),
                c.readings(),
                c.perimeter()));
    }

    Trials takenOut(String remark) {
        Circle c = lastCircle();
        return replace(
                new Circle(c.id(), c.cell(), c.order(), c.laps(), false, remark, c.row(), c.readings(), c.perimeter()));
    }

    Trial trial() {
        return new Trial(
                "trial",
                new Conditions(
                        "A trial",
                        LocalDate.of(2026, 5, 20),
                        unit,
                        place,
                        "",
                        "",
                        "",
                        "",
                        "",
                        tape,
                        edge,
                        margin,
                        confidence,
                        Conditions.DEFAULT_CIRCLE_REPEATABILITY,
                        readingRepeatability,
                        mowingSpeed,
                        ""),
                machines,
                circles,
                claims,
                references);
    }

    Analysis analysed() {
        return Analysis.of(trial());
    }

    /** A stop of the last machine, with an arm; lengths in the trial's unit, NaN where not noted. */
    Trials stop(Turn side, double specified, double found, double set, double arm) {
        return stop(side, side, specified, found, set, arm, Optional.empty());
    }

    Trials stop(
            Turn side,
            Turn limits,
            double specified,
            double found,
            double set,
            double arm,
            Optional<Boolean> touchesAxle) {
        Machine m = lastMachine();
        List<SteeringStop> stops = new ArrayList<>(m.stops());
        stops.add(new SteeringStop(side, noted(specified), noted(found), noted(set), touchesAxle, noted(arm), limits));
        return replace(withStops(m, stops));
    }

    private Optional<Length> noted(double amount) {
        return Double.isNaN(amount) ? Optional.empty() : Optional.of(length(amount));
    }

    static Trial withoutStops(Trial trial) {
        return new Trial(
                trial.folder(),
                trial.conditions(),
                trial.machines().stream().map(m -> withStops(m, List.of())).toList(),
                trial.circles(),
                trial.claims());
    }

    private static Machine withStops(Machine m, List<SteeringStop> stops) {
        return new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                stops,
                m.tyres());
    }

    Trials claim(
            String id,
            double value,
            Claim.Quantity quantity,
            String machine,
            Optional<Turn> turn,
            Optional<Drive> drive,
            Optional<Brakes> brakes) {
        return claim(id, value, quantity, machine, turn, drive, brakes, Optional.empty(), OptionalInt.empty());
    }

    Trials claim(
            String id,
            double value,
            Claim.Quantity quantity,
            String machine,
            Optional<Turn> turn,
            Optional<Drive> drive,
            Optional<Brakes> brakes,
            Optional<Length> uncertainty,
            OptionalInt circles) {
        claims.add(new Claim(
                id,
                "brochure",
                length(value),
                quantity,
                Optional.of(machine),
                turn,
                drive,
                brakes,
                uncertainty,
                circles,
                ""));
        return this;
    }

    /** A figure the last machine is held against, with a standard uncertainty, NaN where none is stated. */
    Trials reference(double value, Turn turn, Drive drive, double uncertainty, String source) {
        return reference(
                value, Claim.Quantity.UNCUT_DIAMETER, Optional.of(turn), Optional.of(drive), uncertainty, source);
    }

    Trials reference(
            double value,
            Claim.Quantity quantity,
            Optional<Turn> turn,
            Optional<Drive> drive,
            double uncertainty,
            String source) {
        references.add(new Reference(
                lastMachine().id(),
                Optional.empty(),
                Optional.of(length(value)),
                quantity,
                turn,
                drive,
                Brakes.NONE,
                noted(uncertainty),
                OptionalInt.empty(),
                source,
                ""));
        return this;
    }

    /** Holds the last machine against another one. */
    Trials knownGood(String id) {
        references.add(new Reference(
                lastMachine().id(),
                Optional.of(id),
                Optional.empty(),
                Claim.Quantity.UNCUT_DIAMETER,
                Optional.empty(),
                Optional.empty(),
                Brakes.NONE,
                Optional.empty(),
                OptionalInt.empty(),
                id,
                ""));
        return this;
    }

    /** Where the manual puts the deck of the last machine. */
    Trials specifiedDeckOffset(double left) {
        Machine m = lastMachine();
        return replace(new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                Optional.of(unsaid(left)),
                m.turnCentreShift(),
                m.blades(),
                m.stops(),
                m.tyres()));
    }

    /** The thread pitch of the last stop of the last machine. */
    Trials threadPitch(double pitch) {
        Machine m = lastMachine();
        List<SteeringStop> stops = new ArrayList<>(m.stops());
        SteeringStop t = stops.remove(stops.size() - 1);
        stops.add(new SteeringStop(
                t.side(),
                t.specified(),
                t.found(),
                t.set(),
                t.touchesAxle(),
                t.arm(),
                t.limits(),
                Optional.of(length(pitch))));
        return replace(withStops(m, stops));
    }

    /** The trial seen in a mirror: turns, decks, stops and lock angles change sides. */
    static Trial mirrored(Trial trial) {
        return new Trial(
                trial.folder(),
                trial.conditions(),
                trial.machines().stream()
                        .map(m -> new Machine(
                                m.id(),
                                m.label(),
                                m.wheelbase(),
                                m.frontTrack(),
                                m.rightLock(),
                                m.leftLock(),
                                m.deckOffset().map(Trials::negated),
                                m.specifiedDeckOffset().map(Trials::negated),
                                m.turnCentreShift(),
                                m.blades().stream()
                                        .map(b -> new Blade(b.spindle(), b.ahead(), negated(b.left()), b.tipRadius()))
                                        .toList(),
                                m.stops().stream()
                                        .map(t -> new SteeringStop(
                                                other(t.side()),
                                                t.specified(),
                                                t.found(),
                                                t.set(),
                                                t.touchesAxle(),
                                                t.arm(),
                                                other(t.limits()),
                                                t.threadPitch()))
                                        .toList(),
                                m.tyres()))
                        .toList(),
                trial.circles().stream()
                        .map(c -> new Circle(
                                c.id(),
                                new Cell(
                                        c.cell().machine(),
                                        other(c.cell().turn()),
                                        c.cell().drive(),
                                        c.cell().brakes()),
                                c.order(),
                                c.laps(),
                                c.use(),
                                c.remark(),
                                c.row(),
                                c.readings(),
                                c.perimeter()))
                        .toList(),
                trial.claims().stream()
                        .map(c -> new Claim(
                                c.id(),
                                c.who(),
                                c.value(),
                                c.quantity(),
                                c.machine(),
                                c.turn().map(Trials::other),
                                c.drive(),
                                c.brakes(),
                                c.uncertainty(),
                                c.circlesBehindIt(),
                                c.remark()))
                        .toList(),
                trial.references().stream().map(Reference::withTurnsExchanged).toList());
    }

    private static Turn other(Turn turn) {
        return turn == Turn.LEFT ? Turn.RIGHT : Turn.LEFT;
    }

    private static Measured negated(Measured length) {
        return new Measured(new Length(-length.value().metres()), length.standardUncertainty());
    }

    private Trials read(TapeReading tapeReading) {
        Circle c = lastCircle();
        List<Reading> readings = new ArrayList<>(c.readings());
        row++;
        readings.add(new Reading(tapeReading, Optional.empty(), measurer, "", row, ""));
        return replace(new Circle(
                c.id(), c.cell(), c.order(), c.laps(), c.use(), c.remark(), c.row(), readings, c.perimeter()));
    }

    private Machine lastMachine() {
        return machines.get(machines.size() - 1);
    }

    private Circle lastCircle() {
        return circles.get(circles.size() - 1);
    }

    private Trials replace(Machine machine) {
        machines.set(machines.size() - 1, machine);
        return this;
    }

    private Trials replace(Circle circle) {
        circles.set(circles.size() - 1, circle);
        return this;
    }

    private Measured unsaid(double amount) {
        return new Measured(length(amount), Optional.empty());
    }

    private Length length(double amount) {
        return Length.of(amount, unit);
    }
}
