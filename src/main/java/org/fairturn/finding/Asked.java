package org.fairturn.finding;

import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.BiPredicate;
import java.util.function.Predicate;
import org.fairturn.trial.Trial;

/**
 * What the questions are to be answered from.
 *
 * @param circles every circle of the trial
 * @param questions those that are put; the others are left out
 * @param about the machines that are asked about; what is asked of others alone is left out
 * @param wanted by question and subject, what of it is wanted; where verdicts are all that is wanted, the rest may be left out
 * @param verdictsOnly whether the reasons, intervals and sentences are left out, as in {@link MachineEstimate#verdictsOnly}
 */
record Asked(
        Trial trial,
        List<CircleResult> circles,
        List<MachineEstimate> machines,
        Set<Question> questions,
        Predicate<String> about,
        BiPredicate<Question, Map<String, String>> wanted,
        boolean verdictsOnly) {
    /** All there is to be said of those machines. */
    Asked(
            Trial trial,
            List<CircleResult> circles,
            List<MachineEstimate> machines,
            Set<Question> questions,
            Predicate<String> about,
            boolean verdictsOnly) {
        this(trial, circles, machines, questions, about, (question, subject) -> true, verdictsOnly);
    }

    /** Everything, of every machine, with all that can be said of it. */
    static Asked everything(Trial trial, List<CircleResult> circles, List<MachineEstimate> machines) {
        return new Asked(
                trial, circles, machines, EnumSet.allOf(Question.class), id -> true, /* verdictsOnly= */ false);
    }

    DecisionRule rule() {
        return new DecisionRule(
                trial.conditions().practicalMargin().metres(),
                trial.conditions().confidence());
    }

    Wording wording() {
        return new Wording(trial.conditions().lengthUnit());
    }

    /** Whether a finding need not be worked out. */
    boolean leavesOut(Question question, Map<String, String> subject) {
        return verdictsOnly && !wanted.test(question, subject);
    }

    List<MachineEstimate> machinesAskedAbout() {
        return machines.stream().filter(m -> about.test(m.machine().id())).toList();
    }
}
