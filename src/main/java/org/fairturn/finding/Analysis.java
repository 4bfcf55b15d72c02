package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.RepeatabilityPosterior;

/**
 * A whole trial, analysed: the way from readings to findings.
 *
 * @param trial what was analysed
 * @param circles every circle of the trial with its diameters, those that do not count included
 * @param machines the statistics of each machine that has a circle that counts
 * @param repeatability of all machines together; empty where no circle counts
 * @param cells estimates by machine, 2WD before 4WD, left before right
 * @param differences right less left in each drive, then 4WD less 2WD in each turn
 * @param asymmetries left against right, by machine and drive
 * @param findings every answer, in reading order
 * @param warnings what a reader of the results should know
 */
public record Analysis(
        Trial trial,
        List<CircleResult> circles,
        List<MachineEstimate> machines,
        Optional<RepeatabilityPosterior> repeatability,
        List<CellEstimate> cells,
        List<Difference> differences,
        List<Asymmetry> asymmetries,
        List<Finding> findings,
        List<Warning> warnings) {
    public Analysis {
        circles = List.copyOf(circles);
        machines = List.copyOf(machines);
        cells = List.copyOf(cells);
        differences = List.copyOf(differences);
        asymmetries = List.copyOf(asymmetries);
        findings = List.copyOf(findings);
        warnings = List.copyOf(warnings);
    }

    /** Analyses a trial. The same trial gives the same result, to the last digit. */
    public static Analysis of(Trial trial) {
        Observations observations = new Observations(trial.conditions());
        List<CircleResult> circles = trial.circles().stream()
                .map(circle -> CircleResult.of(circle, observations))
                .toList();
        List<MachineEstimate> machines = trial.machines().stream()
                .map(machine -> MachineEstimate.of(machine, trial.conditions(), circles))
                .flatMap(Optional::stream)
                .toList();
        List<CellEstimate> cells =
                machines.stream().flatMap(m -> m.cells().stream().map(m::cell)).toList();
        List<Asymmetry> asymmetries = asymmetries(trial, machines);
        List<Difference> differences = new ArrayList<>();
        asymmetries.forEach(a -> a.measured().ifPresent(differences::add));
        machines.forEach(machine -> differences.addAll(driveDifferences(machine)));
        List<Finding> findings = findings(trial, machines, asymmetries);
        List<Finding> adjusted =
                Robustness.of(Family.adjust(findings, trial.conditions().confidence()), trial, machines);
        return new Analysis(
                trial,
                circles,
                machines,
                together(trial, machines),
                cells,
                differences,
                asymmetries.stream()
                        .map(a -> new Asymmetry(
                                a.left(),
                                a.right(),
                                a.measured(),
                                a.geometry(),
                                a.ruleOfThumb(),
                                adjusted.get(findings.indexOf(a.finding()))))
                        .toList(),
                adjusted,
                Warnings.of(trial, circles, machines, cells));
    }

    /**
     * The answers for estimates in which something was changed; what is asked of one machine alone is asked of those that
     * were changed only.
     */
    static List<Finding> findings(Trial trial, List<MachineEstimate> machines, Predicate<MachineEstimate> changed) {
        List<MachineEstimate> asked = machines.stream().filter(changed).toList();
        return findings(trial, asked, asymmetries(trial, asked));
    }

    private static List<Asymmetry> asymmetries(Trial trial, List<MachineEstimate> machines) {
        return machines.stream()
                .flatMap(machine -> leftRight(machine, rule(trial), wording(trial)).stream())
                .toList();
    }

    /** Every answer in reading order, each question by itself. */
    private static List<Finding> findings(Trial trial, List<MachineEstimate> machines, List<Asymmetry> asymmetries) {
        List<Finding> findings = new ArrayList<>();
        asymmetries.forEach(a -> findings.add(a.finding()));
        for (MachineEstimate machine : machines) {
            findings.addAll(DriveCost.of(machine, rule(trial), wording(trial)));
        }
        return findings;
    }

    private static DecisionRule rule(Trial trial) {
        return new DecisionRule(
                trial.conditions().practicalMargin().metres(),
                trial.conditions().confidence());
    }

    private static Wording wording(Trial trial) {
        return new Wording(trial.conditions().lengthUnit());
    }

    private static List<Asymmetry> leftRight(MachineEstimate machine, DecisionRule rule, Wording wording) {
        List<Asymmetry> result = new ArrayList<>();
        for (Brakes brakes : Brakes.values()) {
            for (Drive drive : Drive.values()) {
                boolean driven = Stream.of(Turn.values())
                        .anyMatch(turn -> machine.has(new Cell(machine.machine().id(), turn, drive, brakes)));
                if (driven) {
                    result.add(LeftRight.of(machine, drive, brakes, rule, wording));
                }
            }
        }
        return result;
    }

    private static List<Difference> driveDifferences(MachineEstimate machine) {
        return Stream.of(Turn.values())
                .map(turn -> {
                    Cell two = new Cell(machine.machine().id(), turn, Drive.TWO_WHEEL, Brakes.NONE);
                    Cell four = new Cell(machine.machine().id(), turn, Drive.FOUR_WHEEL, Brakes.NONE);
                    return machine.has(two) && machine.has(four) ? machine.difference(two, four) : null;
                })
                .filter(Objects::nonNull)
                .toList();
    }

    private static Optional<RepeatabilityPosterior> together(Trial trial, List<MachineEstimate> machines) {
        if (machines.isEmpty()) {
            return Optional.empty();
        }
        if (machines.size() == 1) {
            return Optional.of(machines.get(0).posterior());
        }
        Map<Cell, List<CircleResult>> all = new LinkedHashMap<>();
        machines.forEach(m -> all.putAll(m.circles()));
        return Optional.of(MachineEstimate.posterior(MachineEstimate.data(all), trial.conditions()));
    }
}
