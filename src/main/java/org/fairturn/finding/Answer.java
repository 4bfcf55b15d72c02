package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.IntStream;

/**
 * A finding, and the way to ask the same of other circles, so that it can be tried what overturns it.
 *
 * @param <T> what it is asked of: a trial, or several days
 * @param machines whose circles and dimensions are in it; empty where those of any machine may be
 * @param again what becomes of the same quantity there; empty where it cannot be asked there
 */
record Answer<T>(Finding finding, Set<String> machines, Function<T, Optional<Then>> again) {
    /** One that nothing overturns, because nothing was decided. */
    static <T> Answer<T> open(Finding finding) {
        return new Answer<>(finding, Set.of(), changed -> Optional.empty());
    }

    /** The same answers with the findings as they stand by now. */
    static <T> List<Answer<T>> with(List<Answer<T>> answers, List<Finding> findings) {
        return IntStream.range(0, answers.size())
                .mapToObj(i -> new Answer<>(
                        findings.get(i),
                        answers.get(i).machines(),
                        answers.get(i).again()))
                .toList();
    }

    static <T> List<Finding> findings(List<Answer<T>> answers) {
        return answers.stream().map(Answer::finding).toList();
    }

    /**
     * What a quantity comes to.
     *
     * @param verdict where there is one; its probability may be too low
     * @param value its best estimate (m)
     * @param standardUncertainty of that (m), which may be rough where that leaves the verdict as it is
     */
    record Then(Optional<Verdict> verdict, double value, double standardUncertainty) {
        String word() {
            return verdict.map(Verdict::word).orElse("cannotTell");
        }

        /** Whether a decided finding says the same: its verdict and its sign. */
        boolean upholds(Finding finding) {
            return finding.says(word(), () -> value);
        }
    }
}
