package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reading;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.units.Figures;

/** Was the comparison fair? What both sides would ask, answered from what the trial says. Common practice, no source. */
final class Fairness {
    /** The part of a drift along the run order that may land on a difference between two groups of circles. Our own choice. */
    private static final double DRIFT_LET_THROUGH = 0.25;

    private final Conditions conditions;
    private final Wording wording;
    private final List<MachineEstimate> machines;
    private final List<FairnessPoint> points = new ArrayList<>();

    private Fairness(Conditions conditions, List<MachineEstimate> machines) {
        this.conditions = conditions;
        this.wording = new Wording(conditions.lengthUnit());
        this.machines = machines.stream()
                .sorted(Comparator.comparing(m -> m.machine().id()))
                .toList();
    }

    /** The list, in the order people go through it. */
    static List<FairnessPoint> of(Conditions conditions, List<MachineEstimate> machines) {
        Fairness fairness = new Fairness(conditions, machines);
        fairness.stops();
        fairness.tyres();
        fairness.drives();
        fairness.turns();
        fairness.order();
        fairness.measurers();
        fairness.ground();
        return List.copyOf(fairness.points);
    }

    private void add(String name, String title, FairnessPoint.Status status, String detail) {
        points.add(new FairnessPoint(name, title, status, detail));
    }

    /** Not met where anything speaks against it, else not stated where anything is missing, else met. */
    private void add(String name, String title, List<String> against, List<String> missing, String met) {
        add(
                name,
                title,
                !against.isEmpty()
                        ? FairnessPoint.Status.NOT_MET
                        : missing.isEmpty() ? FairnessPoint.Status.MET : FairnessPoint.Status.NOT_STATED,
                against.isEmpty() && missing.isEmpty()
                        ? met
                        : Stream.concat(against.stream(), missing.stream()).collect(Collectors.joining("; ")) + ".");
    }

    private void stops() {
        List<String> against = new ArrayList<>();
        List<String> missing = new ArrayList<>();
        for (MachineEstimate estimate : machines) {
            Machine machine = estimate.machine();
            for (Turn turn : Turn.values()) {
                String where = machine.id() + ", " + turn.word() + " turn: ";
                List<SteeringStop> stops =
                        machine.stops().stream().filter(s -> s.limits() == turn).toList();
                if (stops.isEmpty()) {
                    missing.add(where + "no stop in stops.csv");
                }
                for (SteeringStop stop : stops) {
                    stop(where, stop, against, missing);
                }
            }
        }
        add(
                "stopsVerified",
                "steering stops verified",
                against,
                missing,
                "Every stop protrudes as specified and touches the axle.");
    }

    private void stop(String where, SteeringStop stop, List<String> against, List<String> missing) {
        Optional<Double> deviation = SteeringStops.deviation(stop);
        if (deviation.isEmpty()) {
            missing.add(where + "how far the stop protrudes, or ought to, is not noted");
        } else if (!SteeringStops.atSpecification(deviation.get())) {
            against.add(where + "the stop protrudes "
                    + wording.fine(SteeringStops.driven(stop).orElseThrow().metres()) + ", specified are "
                    + wording.fine(stop.specified().orElseThrow().metres()));
        }
        if (stop.touchesAxle().isEmpty()) {
            missing.add(where + "whether the stop touches the axle is not noted");
        } else if (!stop.touchesAxle().get()) {
            against.add(where + "the stop does not touch the axle");
        }
    }

    private void tyres() {
        List<String> against = new ArrayList<>();
        List<String> missing = new ArrayList<>();
        for (MachineEstimate estimate : machines) {
            Machine machine = estimate.machine();
            TyreCheck.off(machine, conditions.lengthUnit()).forEach(off -> against.add(machine.id() + ": " + off));
            if (!TyreCheck.complete(machine)) {
                missing.add(machine.id() + ": not all sizes and pressures are noted in machines.csv");
            }
        }
        add(
                "tyres",
                "tyres as the manuals state",
                against,
                missing,
                "Every tyre has the size and the pressure its manual states.");
    }

    private static Set<Drive> drives(MachineEstimate machine) {
        return machine.cells().stream().map(Cell::drive).collect(Collectors.toCollection(TreeSet::new));
    }

    private void drives() {
        Set<Set<Drive>> all = machines.stream().map(Fairness::drives).collect(Collectors.toSet());
        add(
                "sameDrives",
                "same drives",
                all.size() == 1 ? FairnessPoint.Status.MET : FairnessPoint.Status.NOT_MET,
                machines.stream()
                                .map(m -> m.machine().id() + ": "
                                        + drives(m).stream().map(Drive::word).collect(Collectors.joining(" and ")))
                                .collect(Collectors.joining("; "))
                        + ".");
    }

    private void turns() {
        List<String> against = new ArrayList<>();
        for (MachineEstimate machine : machines) {
            for (Drive drive : drives(machine)) {
                for (Turn turn : Turn.values()) {
                    if (machine.cells().stream().noneMatch(c -> c.drive() == drive && c.turn() == turn)) {
                        against.add(
                                machine.machine().id() + ": no circle to the " + turn.word() + " in " + drive.word());
                    }
                }
            }
        }
        add("bothTurns", "both turns driven", against, List.of(), "Every machine was driven both ways in each drive.");
    }

    private static List<Circle> circles(MachineEstimate machine) {
        return machine.circles().values().stream()
                .flatMap(List::stream)
                .map(CircleResult::circle)
                .toList();
    }

    private List<Circle> circles() {
        return machines.stream().flatMap(m -> circles(m).stream()).toList();
    }

    private void order() {
        long without = circles().stream().filter(c -> c.order().isEmpty()).count();
        if (without > 0) {
            add(
                    "orderMixed",
                    "order mixed",
                    FairnessPoint.Status.NOT_STATED,
                    "The order is not noted for " + without + (without == 1 ? " circle." : " circles."));
            return;
        }
        List<String> against = new ArrayList<>();
        String between = blocks("machines", circles(), c -> c.cell().machine(), against);
        for (MachineEstimate machine : machines) {
            if (circles(machine).stream().map(c -> c.cell().turn()).distinct().count() > 1) {
                blocks(
                        "turns of " + machine.machine().id(),
                        circles(machine),
                        c -> c.cell().turn().word(),
                        against);
            }
        }
        add("orderMixed", "order mixed", against, List.of(), between + ", and the turns of each machine are mixed.");
    }

    /**
     * Whether groups of circles are mixed along the run order: of a steady drift along the order no more than a quarter lands on
     * the difference of any two groups. Where nobody comes back it is half of it or more.
     *
     * @return how they are mixed, in words
     */
    private static String blocks(
            String what, List<Circle> circles, Function<Circle, String> group, List<String> against) {
        List<String> run = circles.stream()
                .sorted(Comparator.comparingInt((Circle c) -> c.order().getAsInt())
                        .thenComparing(Circle::id))
                .map(group)
                .toList();
        Map<String, Double> places = new TreeMap<>();
        run.forEach(g -> places.put(
                g,
                IntStream.range(0, run.size())
                        .filter(i -> run.get(i).equals(g))
                        .average()
                        .orElseThrow()));
        long runs = 1
                + IntStream.range(1, run.size())
                        .filter(i -> !run.get(i).equals(run.get(i - 1)))
                        .count();
        double apart = places.values().stream().mapToDouble(d -> d).max().orElseThrow()
                - places.values().stream().mapToDouble(d -> d).min().orElseThrow();
        String said = "the " + what + " follow each other in " + runs + " runs over " + run.size()
                + " circles, and of a steady drift along them "
                + Figures.percent(Math.rint(100 * apart / run.size()) / 100) + " would land on the difference";
        if (apart > DRIFT_LET_THROUGH * run.size()) {
            against.add(said);
        }
        return "T" + said.substring(1);
    }

    private void measurers() {
        Map<String, Set<String>> by = new TreeMap<>();
        long without = 0;
        for (Circle circle : circles()) {
            for (Reading reading : circle.readings()) {
                if (reading.measurer().isEmpty()) {
                    without++;
                } else {
                    by.computeIfAbsent(circle.cell().machine(), k -> new TreeSet<>())
                            .add(reading.measurer());
                }
            }
        }
        Set<String> all = by.values().stream().flatMap(Set::stream).collect(Collectors.toCollection(TreeSet::new));
        List<String> missing = new ArrayList<>();
        if (without > 0) {
            missing.add("who measured is not noted for " + without + (without == 1 ? " reading" : " readings"));
        } else if (all.isEmpty()) {
            missing.add("who measured is not noted");
        }
        List<String> against = all.size() < 2
                ? List.of()
                : by.entrySet().stream()
                        .map(e -> e.getKey() + " was measured by " + String.join(" and ", e.getValue()))
                        .toList();
        add("sameMeasurer", "same measurer", against, missing, "All readings are by " + String.join("", all) + ".");
    }

    private void ground() {
        add(
                "sameGround",
                "same ground and day",
                conditions.place().isEmpty() ? FairnessPoint.Status.NOT_STATED : FairnessPoint.Status.MET,
                conditions.place().isEmpty()
                        ? "All circles stand in one folder of one day; the place is not noted."
                        : "All circles stand in one folder, of one day in one place: " + conditions.place() + ".");
    }
}
