package org.fairturn.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.GroundPoint;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Reading;
import org.fairturn.trial.TapeClass;
import org.fairturn.trial.TapeReading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Angle;
import org.fairturn.units.Bearing;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** Builds trials in memory. A blade, offset or lock goes to the machine added last, a reading to the circle added last. */
final class Trials {
    private final LengthUnit unit;
    private final List<Machine> machines = new ArrayList<>();
    private final List<Circle> circles = new ArrayList<>();
    private Optional<TapeClass> tape = Optional.of(TapeClass.II);
    private Optional<Length> edge = Optional.of(Length.mm(5));
    private Length margin = Conditions.DEFAULT_PRACTICAL_MARGIN;
    private double confidence = Conditions.DEFAULT_CONFIDENCE;
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

    Trials confidence(double required) {
        confidence = required;
        return this;
    }

    Trials edge(double halfWidth) {
        edge = Optional.of(length(halfWidth));
        return this;
    }

    Trials nothingStatedOfTapeAndEdge() {
        tape = Optional.empty();
        edge = Optional.empty();
        return this;
    }

    Trials machine(String id) {
        machines.add(new Machine(
                id,
                id,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                List.of()));
        return this;
    }

    Trials blade(double ahead, double left, double tipRadius) {
        Machine m = lastMachine();
        List<Blade> blades = new ArrayList<>(m.blades());
        blades.add(new Blade("S" + (blades.size() + 1), unsaid(ahead), unsaid(left), unsaid(tipRadius)));
        return replace(new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                m.turnCentreShift(),
                blades,
                m.stops()));
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
                m.turnCentreShift(),
                m.blades(),
                m.stops()));
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
                m.turnCentreShift(),
                m.blades(),
                m.stops()));
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

    Trials typedChordAndRise(String chord, String rise) {
        read(new TapeReading.ChordAndRise(
                Length.parse(chord, unit).orThrow(), Length.parse(rise, unit).orThrow()));
        return last(0, chord + "; " + rise);
    }

    /** The place of the last circle in the run order. */
    Trials order(int order) {
        Circle c = lastCircle();
        return replace(new Circle(
                c.id(),
                c.cell(),
                OptionalInt.of(order),
                c.laps(),
                c.use(),
                c.remark(),
                c.row(),
                c.readings(),
                c.perimeter()));
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
                        "",
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
                        Conditions.DEFAULT_READING_REPEATABILITY,
                        ""),
                machines,
                circles,
                List.of());
    }

    Analysis analysed() {
        return Analysis.of(trial());
    }

    /** The trial seen in a mirror: turns, decks and lock angles change sides. */
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
                                m.turnCentreShift(),
                                m.blades().stream()
                                        .map(b -> new Blade(b.spindle(), b.ahead(), negated(b.left()), b.tipRadius()))
                                        .toList(),
                                m.stops()))
                        .toList(),
                trial.circles().stream()
                        .map(c -> new Circle(
                                c.id(),
                                new Cell(
                                        c.cell().machine(),
                                        c.cell().turn() == Turn.LEFT ? Turn.RIGHT : Turn.LEFT,
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
                trial.claims());
    }

    private static Measured negated(Measured length) {
        return new Measured(new Length(-length.value().metres()), length.standardUncertainty());
    }

    private Trials read(TapeReading tapeReading) {
        Circle c = lastCircle();
        List<Reading> readings = new ArrayList<>(c.readings());
        row++;
        readings.add(new Reading(tapeReading, Optional.empty(), "", "", row, ""));
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
