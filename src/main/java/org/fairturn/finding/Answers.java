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
        Optional<Claims.Answers> claims,
        Optional<Complaints.Answers> complaints,
        Optional<Comparison> sideBySide,
        Optional<BetweenTesters> testers) {
    static Answers of(Asked asked) {
        List<MachineEstimate> single = asked.machinesAskedAbout();
        Later<List<Asymmetry>> leftRight = new Later<>(() -> asked(asked, Question.LEFT_RIGHT)
                ? single.stream().flatMap(m -> leftRight(m, asked)).toList()
                : List.of());
        Later<List<Finding>> drive = new Later<>(() -> asked(asked, Question.DRIVE)
                ? single.stream().flatMap(m -> DriveCost.of(m, asked).stream()).toList()
                : List.of());
        Later<Optional<Claims.Answers>> claims =
                new Later<>(() -> asked(asked, Question.CLAIM) ? Optional.of(Claims.of(asked)) : Optional.empty());
        Later<Optional<Complaints.Answers>> complaints = new Later<>(
                () -> asked(asked, Question.COMPLAINT) ? Optional.of(Complaints.of(asked)) : Optional.empty());
        Later<Optional<Comparison>> sideBySide =
                new Later<>(() -> asked(asked, Question.SIDE_BY_SIDE) ? Comparison.of(asked) : Optional.empty());
        Later<Optional<BetweenTesters>> testers = new Later<>(
                () -> asked(asked, Question.TESTERS) ? Optional.of(new BetweenTesters(asked)) : Optional.empty());
        Later<?>[] all = {sideBySide, claims, leftRight, complaints, drive, testers};
        if (asked.verdictsOnly()) {
            Later.oneByOne(all);
        } else {
            Later.atOnce(all);
        }
        return new Answers(
                leftRight.get(), drive.get(), claims.get(), complaints.get(), sideBySide.get(), testers.get());
    }

    private static boolean asked(Asked asked, Question question) {
        return asked.questions().contains(question);
    }

    /** In reading order. */
    List<Finding> findings() {
        List<Finding> findings = new ArrayList<>();
        leftRight.forEach(a -> findings.add(a.finding()));
        findings.addAll(drive);
        claims.ifPresent(c -> findings.addAll(c.findings()));
        complaints.ifPresent(c -> findings.addAll(c.findings()));
        sideBySide.ifPresent(s -> findings.addAll(s.findings()));
        testers.ifPresent(t -> findings.addAll(t.findings()));
        return findings;
    }

    private static Stream<Asymmetry> leftRight(MachineEstimate machine, Asked asked) {
        return Stream.of(Brakes.values())
                .flatMap(brakes -> Stream.of(Drive.values())
                        .filter(drive -> Stream.of(Turn.values())
                                .anyMatch(turn ->
                                        machine.has(new Cell(machine.machine().id(), turn, drive, brakes))))
                        .filter(drive -> !asked.leavesOut(
                                Question.LEFT_RIGHT,
                                LeftRight.subject(machine.machine().id(), drive, brakes)))
                        .map(drive -> LeftRight.of(machine, drive, brakes, asked.rule(), asked.wording())));
    }
}
