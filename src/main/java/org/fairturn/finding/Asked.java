package org.fairturn.finding;

import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.BiPredicate;
import java.util.function.Predicate;
import java.util.function.Supplier;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Trial;

/**
 * What the questions are to be answered from.
 *
 * @param circles every circle of the trial
 * @param questions those that are put; the others are left out
 * @param about the machines that are asked about; what is asked of others alone is left out
 * @param wanted by question and subject, what of it is wanted; where verdicts are all that is wanted, the rest may be left out
 * @param wantedReadings what has been found of that for each reading of a claim, for all who ask with the same {@code wanted}
 * @param verdictsOnly whether the reasons, intervals and sentences are left out, as in {@link MachineEstimate#verdictsOnly}
 */
record Asked(
        Trial trial,
        List<CircleResult> circles,
        List<MachineEstimate> machines,
        Set<Question> questions,
        Predicate<String> about,
        BiPredicate<Question, Map<String, String>> wanted,
        Map<ClaimReading, Boolean> wantedReadings,
        boolean verdictsOnly) {
    /** A claim read as one cell. */
    record ClaimReading(String claim, Cell cell) {}

    /** With nothing found yet of what is wanted. */
    Asked(
            Trial trial,
            List<CircleResult> circles,
            List<MachineEstimate> machines,
            Set<Question> questions,
            Predicate<String> about,
            BiPredicate<Question, Map<String, String>> wanted,
            boolean verdictsOnly) {
        this(trial, circles, machines, questions, about, wanted, new ConcurrentHashMap<>(), verdictsOnly);
    }

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

    /**
     * Whether a reading of a claim need not be worked out: the same as {@link #leavesOut}, but a trial is analysed again with a
     * hundred changes, and what a reading is about takes longer to say than to judge.
     */
    boolean leavesOut(String claim, Cell cell, Supplier<Map<String, String>> subject) {
        return verdictsOnly
                && !wantedReadings.computeIfAbsent(
                        new ClaimReading(claim, cell), reading -> wanted.test(Question.CLAIM, subject.get()));
    }

    List<MachineEstimate> machinesAskedAbout() {
        return machines.stream().filter(m -> about.test(m.machine().id())).toList();
    }
}
