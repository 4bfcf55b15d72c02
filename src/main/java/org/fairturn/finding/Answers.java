package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/**
 * Every question put to a trial. A new question joins {@link #of} and {@link #answers}, and with that what would overturn its
 * verdicts is looked for too.
 */
record Answers(
        List<Asymmetry> leftRight,
        List<Answer<Asked>> drive,
        Claims.Answers claims,
        Complaints.Answers complaints,
        Optional<Comparison> sideBySide,
        BetweenTesters testers,
        DecisionRule rule,
        Wording wording) {
    static Answers of(Asked asked) {
        Later<List<Asymmetry>> leftRight = new Later<>(() ->
                asked.machines().stream().flatMap(m -> leftRight(m, asked)).toList());
        Later<List<Answer<Asked>>> drive = new Later<>(() -> asked.machines().stream()
                .flatMap(m -> DriveCost.of(m, asked).stream())
                .toList());
        Later<Claims.Answers> claims = new Later<>(() -> Claims.of(asked));
        Later<Complaints.Answers> complaints = new Later<>(() -> Complaints.of(asked));
        Later<Optional<Comparison>> sideBySide = new Later<>(() -> Comparison.of(asked));
        Later<BetweenTesters> testers = new Later<>(() -> BetweenTesters.of(asked));
        Later.atOnce(sideBySide, claims, leftRight, complaints, drive, testers);
        return new Answers(
                leftRight.get(),
                drive.get(),
                claims.get(),
                complaints.get(),
                sideBySide.get(),
                testers.get(),
                asked.rule(),
                asked.wording());
    }

    /** In reading order. */
    List<Answer<Asked>> answers() {
        List<Answer<Asked>> answers = new ArrayList<>();
        leftRight.forEach(a -> answers.add(answer(a)));
        answers.addAll(drive);
        answers.addAll(claims.answers());
        answers.addAll(complaints.answers());
        sideBySide.ifPresent(s -> answers.addAll(s.answers()));
        answers.addAll(testers.answers());
        return answers;
    }

    List<Finding> findings() {
        return Answer.findings(answers());
    }

    private Answer<Asked> answer(Asymmetry asymmetry) {
        Cell cell = asymmetry.left();
        return new Answer<>(
                asymmetry.finding(),
                Set.of(cell.machine()),
                changed -> changed.machine(cell.machine())
                        .flatMap(m -> LeftRight.remainder(m, cell.drive(), cell.brakes(), rule, wording))
                        .map(q -> q.then(rule, DecisionRule.Asks.UNSIGNED)));
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
