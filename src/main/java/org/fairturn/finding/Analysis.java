package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
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
 * @param stops every steering stop that was noted, and what it makes of the turn it limits
 * @param claims every claim with all it may mean
 * @param complaints every machine complained of, with what is most probably behind it
 * @param sideBySide the machines against each other, where there are two or more
 * @param testers those who measured against each other, where two or more measured the same circle
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
        List<StopEffect> stops,
        List<ClaimCheck> claims,
        List<Complaint> complaints,
        Optional<SideBySide> sideBySide,
        Optional<Testers> testers,
        List<Finding> findings,
        List<Warning> warnings) {
    /**
     * Keeps its own copy of each list.
     *
     * @param trial what was analysed
     * @param circles every circle of the trial with its diameters, those that do not count included
     * @param machines the statistics of each machine that has a circle that counts
     * @param repeatability of all machines together; empty where no circle counts
     * @param cells estimates by machine, 2WD before 4WD, left before right
     * @param differences right less left in each drive, then 4WD less 2WD in each turn
     * @param asymmetries left against right, by machine and drive
     * @param stops every steering stop that was noted, and what it makes of the turn it limits
     * @param claims every claim with all it may mean
     * @param complaints every machine complained of, with what is most probably behind it
     * @param sideBySide the machines against each other, where there are two or more
     * @param testers those who measured against each other, where two or more measured the same circle
     * @param findings every answer, in reading order
     * @param warnings what a reader of the results should know
     */
    public Analysis {
        circles = List.copyOf(circles);
        machines = List.copyOf(machines);
        cells = List.copyOf(cells);
        differences = List.copyOf(differences);
        asymmetries = List.copyOf(asymmetries);
        stops = List.copyOf(stops);
        claims = List.copyOf(claims);
        complaints = List.copyOf(complaints);
        findings = List.copyOf(findings);
        warnings = List.copyOf(warnings);
    }

    /**
     * {@return whether a finding belongs among the first things to read} The less likely readings of a claim do not, nor do
     * the single turns of two machines that are also compared on the whole, nor those of a complaint; but a turn that is off
     * while the machine on the whole is not found to be is what the customer complains of.
     *
     * @param finding one of this analysis
     */
    public boolean leads(Finding finding) {
        return switch (finding.question()) {
            case CLAIM -> !isLessLikelyReading(claims, finding);
            case COMPLAINT -> !finding.subject().containsKey("turn") || isOffByItself(finding);
            case SIDE_BY_SIDE -> "all".equals(finding.subject().get("turn")) || !comparedOnTheWhole(finding);
            default -> true;
        };
    }

    private static boolean isLessLikelyReading(List<ClaimCheck> claims, Finding finding) {
        return claims.stream()
                .flatMap(c -> c.readings().stream().skip(1))
                .anyMatch(r -> r.subject().equals(finding.subject()));
    }

    private boolean isOffByItself(Finding turn) {
        return turn.verdict().fold(w -> false, b -> true, c -> false, n -> false)
                && turn.holdsInFamily()
                && findings.stream()
                        .filter(f -> f.question() == Question.COMPLAINT
                                && !f.subject().containsKey("turn")
                                && f.subject()
                                        .get("machine")
                                        .equals(turn.subject().get("machine"))
                                && f.subject()
                                        .get("reference")
                                        .equals(turn.subject().get("reference")))
                        .noneMatch(f -> f.verdict().word().equals(turn.verdict().word()));
    }

    private boolean comparedOnTheWhole(Finding finding) {
        return findings.stream()
                .map(Finding::subject)
                .anyMatch(s -> "all".equals(s.get("turn"))
                        && s.get("machine").equals(finding.subject().get("machine"))
                        && finding.subject().get("other").equals(s.get("other")));
    }

    /**
     * Analyses a trial. The same trial gives the same result, to the last digit.
     *
     * @param trial read without a fault
     * @return the answers to every question it can be asked
     */
    public static Analysis of(Trial trial) {
        Observations observations = new Observations(trial.conditions());
        List<CircleResult> circles = trial.circles().stream()
                .map(circle -> CircleResult.of(circle, observations))
                .toList();
        List<MachineEstimate> machines = trial.machines().parallelStream()
                .map(machine -> MachineEstimate.of(machine, trial.conditions(), circles))
                .flatMap(Optional::stream)
                .toList();
        Later<Found> found = new Later<>(() -> Found.of(new Asked(trial, circles, machines)));
        Later<List<CellEstimate>> cells = new Later<>(() ->
                machines.stream().flatMap(m -> m.cells().stream().map(m::cell)).toList());
        Later<Optional<RepeatabilityPosterior>> together = new Later<>(() -> together(trial, machines));
        Later<List<Warning>> checks = new Later<>(() -> DataChecks.of(trial, machines));
        Later.atOnce(found, checks, cells, together);
        List<NoContact> loose = NoContact.of(trial.machines());
        List<Asymmetry> asymmetries = found.get().leftRight().stream()
                .map(a -> a.inFamily(a.finding().mindfulOf(checks.get(), loose)))
                .toList();
        List<Difference> differences = new ArrayList<>();
        asymmetries.forEach(a -> a.measured().ifPresent(differences::add));
        machines.forEach(machine -> differences.addAll(driveDifferences(machine)));
        Answers answers = found.get().answers();
        return new Analysis(
                trial,
                circles,
                machines,
                together.get(),
                cells.get(),
                differences,
                asymmetries,
                found.get().stops(),
                answers.claims().checks(),
                answers.complaints().complaints(),
                answers.sideBySide().map(Comparison::result),
                answers.testers().result(),
                found.get().findings().stream()
                        .map(f -> f.mindfulOf(checks.get(), loose))
                        .toList(),
                Warnings.of(trial, circles, machines, cells.get(), checks.get()));
    }

    /** What the questions came to, each finding counted together with the others and tried. */
    private record Found(Answers answers, List<StopEffect> stops, List<Asymmetry> leftRight, List<Finding> findings) {
        static Found of(Asked asked) {
            Answers found = Answers.of(asked);
            List<Answer<Asked>> answers = new ArrayList<>();
            List<StopEffect> stops = new ArrayList<>();
            for (Machine machine : asked.trial().machines()) {
                SteeringStops noted = new SteeringStops(machine, asked.machine(machine.id()));
                stops.addAll(noted.effects());
                noted.withoutContact(asked.rule()).forEach(f -> answers.add(Answer.open(f)));
            }
            answers.addAll(found.answers());
            List<Finding> findings = Answer.findings(answers);
            List<Finding> inFamily = Family.adjust(
                    findings,
                    f -> !isLessLikelyReading(found.claims().checks(), f),
                    asked.rule().confidence());
            List<Finding> tried = Robustness.of(Answer.with(answers, inFamily), asked);
            return new Found(
                    found,
                    stops,
                    found.leftRight().stream()
                            .map(a -> a.inFamily(tried.get(findings.indexOf(a.finding()))))
                            .toList(),
                    tried);
        }
    }

    private static List<Difference> driveDifferences(MachineEstimate machine) {
        List<Difference> result = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            Cell two = new Cell(machine.machine().id(), turn, Drive.TWO_WHEEL, Brakes.NONE);
            Cell four = new Cell(machine.machine().id(), turn, Drive.FOUR_WHEEL, Brakes.NONE);
            if (machine.has(two) && machine.has(four)) {
                result.add(machine.difference(two, four));
            }
        }
        return result;
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
