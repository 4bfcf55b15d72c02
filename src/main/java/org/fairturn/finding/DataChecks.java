package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.Grubbs;
import org.fairturn.units.Figures;

/** Does anything in the readings look like a slip? What does is said, with what it probably was; nothing is changed. */
final class DataChecks {
    /** Grubbs' test of both sides at 5 %. */
    private static final double GRUBBS_ONE_SIDE = 0.025;

    /** Of a reading that is far out, whatever the reason. */
    private static final String FAR = "readingFarFromCircle";

    /** Slips that are made all over a circle as easily as once. */
    private static final Set<String> THROUGHOUT = Set.of("radiusAsDiameter", Slips.WRONG_UNIT);

    static final String UNCHANGED = " Nothing was changed: look at the field sheet, or measure again.";

    private final Trial trial;
    private final Wording wording;
    private final Slips slips;

    private DataChecks(Trial trial) {
        this.trial = trial;
        this.wording = new Wording(trial.conditions().lengthUnit());
        this.slips = new Slips(
                new Observations(trial.conditions()), trial.conditions().lengthUnit());
    }

    /** The warnings: units first, then machine by machine single readings and circles before what runs through them. */
    static List<Warning> of(Trial trial, List<MachineEstimate> machines) {
        DataChecks checks = new DataChecks(trial);
        UnitsInDoubt units = units(trial, machines);
        List<Map<Cell, List<CircleResult>>> held =
                machines.stream().map(m -> units.without(m.circles())).toList();
        int readings = held.stream()
                .flatMap(m -> m.values().stream())
                .flatMap(List::stream)
                .mapToInt(c -> c.observations().size())
                .filter(n -> n > 1)
                .sum();
        int comparable = held.stream()
                .flatMap(m -> m.values().stream())
                .mapToInt(List::size)
                .filter(n -> n > 1)
                .sum();
        List<Warning> warnings = new ArrayList<>(units.warnings());
        for (int m = 0; m < machines.size(); m++) {
            warnings.addAll(checks.machine(machines.get(m), held.get(m), readings, comparable));
        }
        return warnings;
    }

    /** Which readings of the circles that count may be in another unit. */
    static UnitsInDoubt units(Trial trial, List<MachineEstimate> machines) {
        return new UnitsInDoubt(
                trial,
                machines.stream()
                        .flatMap(m -> m.circles().values().stream())
                        .flatMap(List::stream)
                        .toList());
    }

    private List<Warning> machine(
            MachineEstimate machine, Map<Cell, List<CircleResult>> held, int readings, int comparable) {
        List<Warning> warnings = new ArrayList<>();
        FarReadings far = new FarReadings(machine, held, trial.conditions(), readings, comparable);
        far.readings().stream()
                .sorted(Comparator.comparingInt(r -> row(r.circle(), r.reading())))
                .map(this::reading)
                .forEach(warnings::add);
        Optional<SwappedLabels> swapped = SwappedLabels.of(far.kept(), trial.conditions(), machine);
        swapped.map(this::labels).ifPresent(warnings::add);
        far
                .circles(swapped.map(
                                s -> s.pairs().stream().flatMap(List::stream).toList())
                        .orElse(List.of()))
                .stream()
                .sorted(Comparator.comparingInt(c -> c.circle().circle().row()))
                .map(c -> circle(c, held))
                .forEach(warnings::add);
        warnings.addAll(new Trends(machine.machine().id(), machine.circles(), far.kept(), wording).warnings());
        return warnings;
    }

    private static int row(CircleResult circle, Observation observation) {
        return typed(circle, observation).map(Reading::row).orElse(Integer.MAX_VALUE);
    }

    /** The reading as it was typed; empty for points along the edge. */
    private static Optional<Reading> typed(CircleResult circle, Observation observation) {
        return circle.circle().readings().stream()
                .filter(r -> Observations.where(r).equals(observation.where()))
                .findFirst();
    }

    private Optional<Slips.Slip> slip(FarReadings.FarReading far, Observation reading, double beside) {
        return typed(far.circle(), reading)
                .flatMap(typed -> slips.of(typed).stream()
                        .filter(s -> far.fits(s.instead().diameter() - beside))
                        .min(Comparator.comparingDouble(
                                s -> Math.abs(s.instead().diameter() - beside))));
    }

    /** Two readings that disagree, and nothing else of that circle or its like: either may be the wrong one. */
    private Warning pair(FarReadings.FarReading far) {
        List<Observation> both = far.circle().observations().stream()
                .sorted(Comparator.comparingInt(o -> row(far.circle(), o)))
                .toList();
        List<Slips.Slip> explained = new ArrayList<>();
        for (int i = 0; i < both.size(); i++) {
            slip(far, both.get(i), both.get(1 - i).diameter()).ifPresent(explained::add);
        }
        List<String> codes = explained.stream().map(Slips.Slip::code).distinct().toList();
        return new Warning(
                codes.size() == 1 ? codes.get(0) : FAR,
                "circle " + far.circle().circle().id(),
                "Circle " + far.circle().circle().id() + ": "
                        + both.stream()
                                .map(o -> as(o) + " makes " + wording.amount(o.diameter()))
                                .collect(Collectors.joining(" and "))
                        + ", " + wording.amount(far.gap()) + " apart; so large a gap has a chance of "
                        + Figures.percent(far.chance())
                        + ". One of the two is wrong, and nothing here shows which."
                        + (explained.isEmpty()
                                ? " No usual slip explains either."
                                : explained.stream()
                                        .map(s -> " " + s.said() + ", which fits the other.")
                                        .collect(Collectors.joining()))
                        + UNCHANGED);
    }

    private Warning reading(FarReadings.FarReading far) {
        if (far.open()) {
            return pair(far);
        }
        Optional<Slips.Slip> slip = slip(far, far.reading(), far.rest());
        boolean pair = far.circle().observations().size() == 2;
        return new Warning(
                slip.map(Slips.Slip::code).orElse(FAR),
                far.reading().where(),
                "Circle " + far.circle().circle().id() + ": " + as(far.reading()) + " makes "
                        + wording.amount(far.reading().diameter()) + ", " + wording.amount(far.gap())
                        + (far.gap() > 0 ? " more" : " less") + " than the other "
                        + (pair ? "reading" : "readings") + " of the circle; so large a gap has a chance of "
                        + Figures.percent(far.chance()) + grubbs(far.circle()) + "."
                        + slip.map(s -> " " + s.said() + ", which fits.").orElse(" No usual slip explains it.")
                        + UNCHANGED);
    }

    /** As typed, where it is known how. */
    static String as(Observation reading) {
        return reading.kind() + (reading.written().isEmpty() ? "" : " " + reading.written());
    }

    /** What Grubbs' test says of the circle by itself, where it has enough readings of one kind and the test finds something. */
    private static String grubbs(CircleResult circle) {
        double[] d = circle.observations().stream()
                .mapToDouble(Observation::diameter)
                .toArray();
        boolean alike =
                circle.observations().stream().map(Observation::kind).distinct().count() == 1;
        if (d.length < 3 || !alike) {
            return "";
        }
        double g = Grubbs.statistic(d);
        double limit = Grubbs.critical(d.length, GRUBBS_ONE_SIDE);
        return g > limit
                ? " (Grubbs' test of this circle alone: " + Figures.fixed(g, 3) + ", limit " + Figures.fixed(limit, 3)
                        + ")"
                : "";
    }

    private Warning circle(FarReadings.FarCircle far, Map<Cell, List<CircleResult>> cells) {
        CircleResult circle = far.circle();
        String id = circle.circle().id();
        double diameter = circle.summary().orElseThrow().mean();
        Optional<Slips.Slip> slip = slip(far);
        List<Cell> better = cells.entrySet().stream()
                .filter(e -> !e.getKey().equals(circle.circle().cell())
                        && e.getKey().brakes() == circle.circle().cell().brakes()
                        && fits(far, e.getValue()))
                .map(Map.Entry::getKey)
                .toList();
        String explained = slip.map(s -> " " + s.said() + ", which fits.")
                .orElse(
                        better.size() == 1
                                ? " It would fit the circles of " + better.get(0)
                                        + ": its turn or drive may be noted wrongly."
                                : " No usual slip explains it.");
        String among = far.cell().size() == 1
                ? "Circle " + id + " is " + wording.amount(diameter) + ", "
                        + wording.amount(far.gap()) + (far.gap() > 0 ? " more" : " less") + " than circle "
                        + far.cell().get(0).circle().id()
                        + ", the only other one of " + circle.circle().cell()
                        + ", and nothing here shows which of them is off"
                : "Circle " + id + " is " + wording.amount(diameter) + ", " + wording.amount(far.gap())
                        + (far.gap() > 0 ? " more" : " less") + " than the other circles of "
                        + circle.circle().cell();
        return new Warning(
                slip.map(Slips.Slip::code).orElse("circleFarFromCell"),
                circle.observations().size() == 1 ? circle.observations().get(0).where() : "circle " + id,
                among + "; so large a gap has a chance of " + Figures.percent(far.chance()) + "." + explained
                        + UNCHANGED);
    }

    private static boolean fits(FarReadings.FarCircle far, List<CircleResult> cell) {
        double mean = cell.stream()
                .mapToDouble(c -> c.summary().orElseThrow().mean())
                .average()
                .orElseThrow();
        // the same scatter about another middle
        return far.fits(far.circle().summary().orElseThrow().mean()
                - mean
                + far.expected().mean());
    }

    /** A slip of the circle's only reading; or the same of all its readings, where it is one that is made throughout. */
    private Optional<Slips.Slip> slip(FarReadings.FarCircle far) {
        List<List<Slips.Slip>> all = far.circle().observations().stream()
                .map(o -> typed(far.circle(), o).map(slips::of).orElse(List.of()).stream()
                        .filter(s -> far.fits(s.instead().diameter()))
                        .toList())
                .toList();
        return all.get(0).stream()
                .filter(s -> all.size() == 1
                        || (THROUGHOUT.contains(s.code())
                                && all.stream()
                                        .allMatch(each -> each.stream()
                                                .anyMatch(e -> e.code().equals(s.code())))))
                .min(Comparator.comparingDouble(
                        s -> Math.abs(s.instead().diameter() - far.expected().mean())));
    }

    private Warning labels(SwappedLabels swapped) {
        List<CircleResult> pair = swapped.pairs().get(0);
        String or = swapped.pairs().stream()
                .map(p -> p.stream().map(c -> c.circle().id()).collect(Collectors.joining(" and ")))
                .collect(Collectors.joining(", or of "));
        return new Warning(
                "labelsSwapped",
                "circles "
                        + swapped.pairs().stream()
                                .flatMap(List::stream)
                                .map(c -> c.circle().id())
                                .distinct()
                                .collect(Collectors.joining(", ")),
                "With the " + (swapped.turn() ? "turns" : "drives") + " of " + or + " exchanged, the circles of "
                        + pair.get(0).circle().cell() + " and "
                        + pair.get(1).circle().cell()
                        + " would agree much better. Nothing was changed: look at the field sheet and the pegs.");
    }
}
