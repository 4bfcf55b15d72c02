package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
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
        Answers answers = answers(trial, machines);
        List<Finding> findings = answers.findings();
        List<Finding> adjusted =
                Robustness.of(Family.adjust(findings, trial.conditions().confidence()), trial, machines);
        return new Analysis(
                trial,
                circles,
                machines,
                together(trial, machines),
                cells,
                answers.differences(),
                answers.asymmetries().stream()
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

    /** What the questions bring to light. */
    private record Answers(List<Asymmetry> asymmetries, List<Difference> differences, List<Finding> findings) {}

    /** Every answer, each question by itself; the same questions whatever was changed in the estimates. */
    private static Answers answers(Trial trial, List<MachineEstimate> machines) {
        DecisionRule rule = new DecisionRule(
                trial.conditions().practicalMargin().metres(),
                trial.conditions().confidence());
        Wording wording = new Wording(trial.conditions().lengthUnit());
        List<Asymmetry> asymmetries = new ArrayList<>();
        List<Difference> differences = new ArrayList<>();
        List<Finding> findings = new ArrayList<>();
        for (MachineEstimate machine : machines) {
            for (Asymmetry asymmetry : leftRight(machine, rule, wording)) {
                asymmetries.add(asymmetry);
                asymmetry.measured().ifPresent(differences::add);
                findings.add(asymmetry.finding());
            }
        }
        for (MachineEstimate machine : machines) {
            differences.addAll(driveDifferences(machine));
            findings.addAll(DriveCost.of(machine, rule, wording));
        }
        return new Answers(asymmetries, differences, findings);
    }

    /** The findings alone, for estimates in which something was changed. */
    static List<Finding> findings(Trial trial, List<MachineEstimate> machines) {
        return answers(trial, machines).findings();
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
