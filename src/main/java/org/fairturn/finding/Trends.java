package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.GroupedRegression;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.units.Angle;
import org.fairturn.units.Bearing;

/** What runs through the circles and readings of a machine beside turn and drive: the run order and the way the tape lay. */
final class Trends {
    /** A trend is spoken of where its interval at this level leaves out zero. */
    private static final double LEVEL = 0.99;
    /** Degrees of freedom below which a slope says next to nothing. */
    private static final int LEAST_DEGREES = 3;
    /** Readings with a bearing from which the shape of the circles can be told. */
    private static final int LEAST_READINGS = 6;
    /** Tapes that lie within this angle of each other lie alike. */
    private static final double ALIKE = Math.toRadians(15);

    private static final double LEAST_VARIANCE = MachineEstimate.RESOLUTION * MachineEstimate.RESOLUTION;

    private final String machine;
    private final Map<Cell, List<CircleResult>> all;
    private final Map<Cell, List<CircleResult>> circles;
    private final Wording wording;

    /**
     * Looks at one machine.
     *
     * @param all circles that count, by cell: in which order they were driven hangs on nothing that was read
     * @param circles the same without readings and circles far out
     */
    Trends(String machine, Map<Cell, List<CircleResult>> all, Map<Cell, List<CircleResult>> circles, Wording wording) {
        this.machine = machine;
        this.all = all;
        this.circles = circles;
        this.wording = wording;
    }

    List<Warning> warnings() {
        List<Warning> warnings = new ArrayList<>();
        drift().ifPresent(warnings::add);
        for (Drive drive : Drive.values()) {
            confounded(
                            new Kind("left turns", c -> c.drive() == drive && c.turn() == Turn.LEFT),
                            new Kind("right turns", c -> c.drive() == drive && c.turn() == Turn.RIGHT),
                            machine + ", " + drive.word(),
                            "a difference between the turns. Next time mix left and right")
                    .ifPresent(warnings::add);
        }
        confounded(
                        new Kind("circles in 2WD", c -> c.drive() == Drive.TWO_WHEEL),
                        new Kind("circles in 4WD", c -> c.drive() == Drive.FOUR_WHEEL),
                        machine,
                        "what 4WD costs. Next time end with a few circles in the drive you began with")
                .ifPresent(warnings::add);
        ovality().ifPresent(warnings::add);
        bearingsAlike().ifPresent(warnings::add);
        return warnings;
    }

    /** Diameters of circles against the run order, each cell with a level of its own, every circle counting alike. */
    private Optional<Warning> drift() {
        List<Double> y = new ArrayList<>();
        List<double[]> x = new ArrayList<>();
        List<Integer> group = new ArrayList<>();
        int cell = 0;
        for (List<CircleResult> all : circles.values()) {
            for (CircleResult circle : all) {
                if (circle.circle().order().isPresent()) {
                    y.add(circle.summary().orElseThrow().mean());
                    x.add(new double[] {circle.circle().order().getAsInt()});
                    group.add(cell);
                }
            }
            cell++;
        }
        return fit(y, x, group)
                .filter(f -> f.degreesOfFreedom() >= LEAST_DEGREES)
                .flatMap(fit -> {
                    double first = x.stream().mapToDouble(o -> o[0]).min().orElseThrow();
                    double last = x.stream().mapToDouble(o -> o[0]).max().orElseThrow();
                    double change = fit.slopes().get(0) * (last - first);
                    double half = Quantiles.student((1 + LEVEL) / 2, fit.degreesOfFreedom())
                            * fit.standardUncertainties().get(0)
                            * (last - first);
                    if (!(Math.abs(change) > half)) {
                        return Optional.empty();
                    }
                    double size = Math.abs(change);
                    return Optional.of(new Warning(
                            "drift",
                            machine,
                            "Along the run order, from number " + Math.round(first) + " to number " + Math.round(last)
                                    + ", circles driven alike " + (change > 0 ? "grew" : "shrank") + " by "
                                    + wording.amount(change) + ", " + wording.range(size - half, size + half)
                                    + " (99 % interval). Ground, grass, tyres or driver may have changed; the scatter counts it in, a"
                                    + " comparison of early circles with late ones does not."));
                });
    }

    private static Optional<GroupedRegression> fit(List<Double> y, List<double[]> x, List<Integer> group) {
        return GroupedRegression.of(
                y.stream().mapToDouble(v -> v).toArray(),
                x.toArray(double[][]::new),
                group.stream().mapToInt(g -> g).toArray(),
                LEAST_VARIANCE);
    }

    /** Some of a machine's cells, and what their circles are called. */
    private record Kind(String words, Predicate<Cell> cells) {}

    /** All circles of one kind before all of the other; not asked of one circle each, which cannot be mixed. */
    private Optional<Warning> confounded(Kind one, Kind other, String where, String passesFor) {
        List<CircleResult> a = driven(one);
        List<CircleResult> b = driven(other);
        boolean noted = Stream.concat(a.stream(), b.stream())
                .allMatch(c -> c.circle().order().isPresent());
        if (a.isEmpty() || b.isEmpty() || a.size() + b.size() < 3 || !noted) {
            return Optional.empty();
        }
        boolean oneFirst = orders(a).max().orElseThrow() < orders(b).min().orElseThrow();
        boolean otherFirst = orders(b).max().orElseThrow() < orders(a).min().orElseThrow();
        return oneFirst || otherFirst
                ? Optional.of(new Warning(
                        "orderConfounded",
                        where,
                        "All " + (oneFirst ? one : other).words() + " were driven before all "
                                + (oneFirst ? other : one).words()
                                + ", so a change of ground, grass or driver in between would pass for " + passesFor
                                + "."))
                : Optional.empty();
    }

    private List<CircleResult> driven(Kind kind) {
        return all.entrySet().stream()
                .filter(e -> e.getKey().brakes() == Brakes.NONE && kind.cells().test(e.getKey()))
                .flatMap(e -> e.getValue().stream())
                .toList();
    }

    private static IntStream orders(List<CircleResult> circles) {
        return circles.stream().mapToInt(c -> c.circle().order().getAsInt());
    }

    /** One reading straight across with its bearing, and which circle it is of. */
    private record Bearings(int circle, double diameter, double axis) {}

    private List<Bearings> bearings() {
        List<Bearings> all = new ArrayList<>();
        int index = 0;
        for (List<CircleResult> cell : circles.values()) {
            for (CircleResult circle : cell) {
                for (Reading reading : circle.circle().readings()) {
                    for (Observation o : circle.observations()) {
                        if (o.where().equals(Observations.where(reading))
                                && reading.bearing().isPresent()
                                && reading.tape().fold(across -> true, both -> false, three -> false)) {
                            all.add(new Bearings(
                                    index,
                                    o.diameter(),
                                    reading.bearing().get().clockwise().radians()));
                        }
                    }
                }
                index++;
            }
        }
        return all;
    }

    /** First harmonic of twice the bearing: what an oval does to a tape laid across it, equal both ways along the tape. */
    private Optional<Warning> ovality() {
        List<Bearings> all = bearings();
        if (all.size() < LEAST_READINGS) {
            return Optional.empty();
        }
        return fit(
                        all.stream().map(Bearings::diameter).toList(),
                        all.stream()
                                .map(b -> new double[] {Math.cos(2 * b.axis()), Math.sin(2 * b.axis())})
                                .toList(),
                        all.stream().map(Bearings::circle).toList())
                .filter(f ->
                        f.degreesOfFreedom() >= LEAST_DEGREES && f.f() > Quantiles.f(LEVEL, 2, f.degreesOfFreedom()))
                .map(f -> {
                    double longest = Math.atan2(f.slopes().get(1), f.slopes().get(0)) / 2;
                    return new Warning(
                            "ovality",
                            machine,
                            "How the tape lay matters: across its circles it reads "
                                    + wording.amount(2
                                            * Math.hypot(
                                                    f.slopes().get(0),
                                                    f.slopes().get(1))) + " more towards "
                                    + clock(longest)
                                    + " than at right angles to it. The circles may be oval, or one side harder"
                                    + " to reach. Lay the tape in the same directions on every circle.");
                });
    }

    /** The nearest hour from 1 to 6; a tape towards 7 o'clock lies as towards 1. */
    private static String clock(double radians) {
        int hour = Math.floorMod((int) Math.round(Math.toDegrees(radians) / 30), 6);
        return new Bearing(Angle.degrees(hour == 0 ? 180 : hour * 30)).toString();
    }

    private Optional<Warning> bearingsAlike() {
        List<String> ids = new ArrayList<>();
        int index = 0;
        List<Bearings> all = bearings();
        for (List<CircleResult> cell : circles.values()) {
            for (CircleResult circle : cell) {
                int here = index++;
                List<Bearings> own =
                        all.stream().filter(b -> b.circle() == here).toList();
                if (own.size() > 1
                        && own.size() == circle.observations().size()
                        && own.stream().allMatch(b -> apart(b.axis(), own.get(0).axis()) <= ALIKE)) {
                    ids.add(circle.circle().id());
                }
            }
        }
        return ids.isEmpty()
                ? Optional.empty()
                : Optional.of(new Warning(
                        "bearingsAlike",
                        machine,
                        (ids.size() == 1 ? "Circle " : "Circles ") + String.join(", ", ids)
                                + ": the tape lay the same way each time, so an oval circle or a missed centre would not show."
                                + " Lay it in different directions."));
    }

    /** Angle between two tapes, whichever end is named, in [0, π/2]. */
    private static double apart(double a, double b) {
        double d = Math.abs(a - b) % Math.PI;
        return Math.min(d, Math.PI - d);
    }
}
