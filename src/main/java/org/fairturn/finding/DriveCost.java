package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;

/**
 * What does driving the front axle cost in each turn, D_4WD − D_2WD, and does it cost both turns alike? It is measured, never
 * assumed, and needs no geometry.
 */
final class DriveCost {
    private final MachineEstimate estimate;
    private final String machine;
    private final DecisionRule rule;
    private final Wording wording;

    private DriveCost(MachineEstimate estimate, Asked asked) {
        this.estimate = estimate;
        this.machine = estimate.machine().id();
        this.rule = asked.rule();
        this.wording = asked.wording();
    }

    /** The answers for a machine: each turn, then both turns together; none where it was driven in one drive only. */
    static List<Answer<Asked>> of(MachineEstimate estimate, Asked asked) {
        return new DriveCost(estimate, asked).answers();
    }

    private List<Answer<Asked>> answers() {
        List<Answer<Asked>> answers = new ArrayList<>();
        int turns = 0;
        for (Turn turn : Turn.values()) {
            boolean two = estimate.has(cell(turn, Drive.TWO_WHEEL));
            boolean four = estimate.has(cell(turn, Drive.FOUR_WHEEL));
            if (two && four) {
                turns++;
                answers.add(answer(turn(turn), m -> cost(m, turn), DecisionRule.Asks.SIGNED));
            } else if ((two || four) && drivenInBoth()) {
                answers.add(Answer.open(notPossible(turn, two ? Drive.FOUR_WHEEL : Drive.TWO_WHEEL)));
            }
        }
        if (turns == 2) {
            answers.add(answer(bothTurns(), DriveCost::difference, DecisionRule.Asks.UNSIGNED));
        }
        return answers;
    }

    private Answer<Asked> answer(
            Finding finding,
            Function<MachineEstimate, Optional<MachineEstimate.Contrast>> quantity,
            DecisionRule.Asks asks) {
        return new Answer<>(
                finding,
                Set.of(machine),
                changed -> changed.machine(machine).flatMap(quantity).map(q -> q.then(rule, asks)));
    }

    /** What 4WD costs in a turn; empty where the machine was not driven there in both drives. */
    private static Optional<MachineEstimate.Contrast> cost(MachineEstimate machine, Turn turn) {
        return contrast(
                machine,
                Map.of(cell(machine, turn, Drive.TWO_WHEEL), -1.0, cell(machine, turn, Drive.FOUR_WHEEL), 1.0));
    }

    /** What it costs to the right less what it costs to the left. */
    private static Optional<MachineEstimate.Contrast> difference(MachineEstimate machine) {
        return contrast(
                machine,
                Map.of(
                        cell(machine, Turn.LEFT, Drive.TWO_WHEEL),
                        1.0,
                        cell(machine, Turn.LEFT, Drive.FOUR_WHEEL),
                        -1.0,
                        cell(machine, Turn.RIGHT, Drive.TWO_WHEEL),
                        -1.0,
                        cell(machine, Turn.RIGHT, Drive.FOUR_WHEEL),
                        1.0));
    }

    private static Optional<MachineEstimate.Contrast> contrast(MachineEstimate machine, Map<Cell, Double> weights) {
        return weights.keySet().stream().allMatch(machine::has)
                ? Optional.of(machine.contrast(weights))
                : Optional.empty();
    }

    /** Whether the machine was driven in either drive at all; a trial held in one drive does not ask the question. */
    private boolean drivenInBoth() {
        return estimate.cells().stream()
                        .filter(c -> c.brakes() == Brakes.NONE)
                        .map(Cell::drive)
                        .distinct()
                        .count()
                == 2;
    }

    private Cell cell(Turn turn, Drive drive) {
        return cell(estimate, turn, drive);
    }

    private static Cell cell(MachineEstimate machine, Turn turn, Drive drive) {
        return new Cell(machine.machine().id(), turn, drive, Brakes.NONE);
    }

    private Map<String, String> subject(String turn) {
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", machine);
        subject.put("turn", turn);
        return subject;
    }

    private Finding turn(Turn turn) {
        MachineEstimate.Contrast cost = cost(estimate, turn).orElseThrow();
        Estimate d = cost.estimate();
        Judgement judgement = new Judgement(cost, rule, DecisionRule.Asks.SIGNED);
        String margin = "the practical margin of " + wording.amount(rule.margin());
        String said = machine + ", " + turn.word() + " turn: 4WD makes the uncut circle "
                + wording.amount(d) + (d.value() < 0 ? " smaller, " : " larger, ")
                + wording.towards(d) + "; that ";
        return finding(
                subject(turn.word()),
                judgement,
                cost,
                List.of(part("2WD", cell(turn, Drive.TWO_WHEEL)), part("4WD", cell(turn, Drive.FOUR_WHEEL))),
                said
                        + judgement
                                .verdict()
                                .<String>fold(
                                        w -> "is within " + margin + Wording.surely(w.probability())
                                                + ", so the drive makes no difference that matters.",
                                        b -> "is beyond " + margin + Wording.surely(b.probability())
                                                + ": in 4WD it turns " + (d.value() > 0 ? "wider" : "tighter") + ".",
                                        c -> "may lie on either side of " + margin + ": this trial cannot tell yet.",
                                        n -> ""),
                judgement
                        .verdict()
                        .fold(
                                w -> "Compare machines in either drive; say which.",
                                b ->
                                        "Compare machines in the same drive only, and mow in 2WD where the ground allows it and"
                                                + " tightness counts. How much 4WD costs depends on tyres and ground; on slopes and"
                                                + " wet grass follow the operator's manual.",
                                c -> wording.outlook(c.outlook()),
                                n -> ""));
    }

    private Finding bothTurns() {
        MachineEstimate.Contrast difference = difference(estimate).orElseThrow();
        Estimate d = difference.estimate();
        Judgement judgement = new Judgement(difference, rule, DecisionRule.Asks.UNSIGNED);
        String margin = "the practical margin of " + wording.amount(rule.margin());
        String more = d.value() < 0 ? "less" : "more";
        return finding(
                subject("both"),
                judgement,
                difference,
                List.of(),
                machine + ": 4WD costs " + wording.amount(d) + " " + more + " to the right than to the left, "
                        + wording.towards(d) + "; that "
                        + judgement
                                .verdict()
                                .<String>fold(
                                        w -> "is within " + margin + Wording.surely(w.probability())
                                                + ", so it costs both turns alike.",
                                        b -> "is beyond " + margin + Wording.surely(b.probability())
                                                + ": it does not cost both turns alike.",
                                        c -> "may lie on either side of " + margin + ": this trial cannot tell yet.",
                                        n -> ""),
                judgement
                        .verdict()
                        .fold(
                                w -> "Nothing to do.",
                                b ->
                                        "Look at front tyre sizes and pressures left against right, and whether both stops touch"
                                                + " the axle in 4WD; a qualified technician has the last word.",
                                c -> wording.outlook(c.outlook()),
                                n -> ""));
    }

    private Part part(String name, Cell cell) {
        MachineEstimate.Contrast d = estimate.contrast(Map.of(cell, 1.0));
        return new Part(name, d.value(), d.standardUncertainty());
    }

    private Finding finding(
            Map<String, String> subject,
            Judgement judgement,
            MachineEstimate.Contrast quantity,
            List<Part> parts,
            String sentence,
            String next) {
        return Finding.judged(Question.DRIVE, subject, judgement, quantity, rule, parts, wording, sentence, "", next);
    }

    private Finding notPossible(Turn turn, Drive missing) {
        String what = "a circle to the " + turn.word() + " in " + missing.word();
        return Finding.notPossible(
                Question.DRIVE,
                subject(turn.word()),
                List.of(what),
                rule,
                List.of(),
                true,
                machine + ", " + turn.word() + " turn: what 4WD costs cannot be said yet. Missing: " + what + ".",
                "Drive and measure it, then compare again.");
    }
}
