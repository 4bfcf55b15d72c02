package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/**
 * Every question put to a trial. A new question joins {@link #of} and {@link #findings}, and with that what would overturn its
 * verdicts is looked for too.
 */
record Answers(
        List<Asymmetry> leftRight,
        List<Finding> drive,
        Claims.Answers claims,
        Complaints.Answers complaints,
        Optional<Comparison> sideBySide,
        BetweenTesters testers) {
    static Answers of(Asked asked) {
        List<MachineEstimate> single = asked.machinesAskedAbout();
        return new Answers(
                single.stream().flatMap(m -> leftRight(m, asked)).toList(),
                single.stream()
                        .flatMap(m -> DriveCost.of(m, asked.rule(), asked.wording()).stream())
                        .toList(),
                Claims.of(asked),
                Complaints.of(asked),
                Comparison.of(asked),
                new BetweenTesters(asked));
    }

    /** In reading order. */
    List<Finding> findings() {
        List<Finding> findings = new ArrayList<>();
        leftRight.forEach(a -> findings.add(a.finding()));
        findings.addAll(drive);
        findings.addAll(claims.findings());
        findings.addAll(complaints.findings());
        sideBySide.ifPresent(s -> findings.addAll(s.findings()));
        findings.addAll(testers.findings());
        return findings;
    }

    private static Stream<Asymmetry> leftRight(MachineEstimate machine, Asked asked) {
        return Stream.of(Brakes.values())
                .flatMap(brakes -> Stream.of(Drive.values())
                        .filter(drive -> Stream.of(Turn.values())
                                .anyMatch(turn ->
                                        machine.has(new Cell(machine.machine().id(), turn, drive, brakes))))
                        .map(drive -> LeftRight.of(machine, drive, brakes, asked.rule(), asked.wording())));
    }
}
