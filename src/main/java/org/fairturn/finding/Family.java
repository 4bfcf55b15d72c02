package org.fairturn.finding;

import java.util.Comparator;
import java.util.List;
import java.util.function.Predicate;
import java.util.stream.IntStream;

/**
 * Several questions asked of one trial: how sure each verdict is once all of them are counted.
 *
 * @see "S. Holm, A simple sequentially rejective multiple test procedure, Scandinavian Journal of Statistics 6 (1979)
 *     65–70; the probability that a verdict is wrong stands for the p value"
 */
final class Family {
    private Family() {}

    /**
     * The findings with whether they hold in the family; those that could not be asked are not counted.
     *
     * <p>Nor are the less likely readings of a claim: they are guesses at what one question means, not further questions. If
     * they counted, a claim that states neither turn nor drive would make every other verdict of the trial harder to reach.
     * Each is held to what it would have to reach as the least likely to be wrong of the family, the strictest step of the rule.
     *
     * @param counted whether a finding is a question of its own
     */
    static List<Finding> adjust(List<Finding> findings, Predicate<Finding> counted, double confidence) {
        return adjust(findings, counted, confidence, "this trial");
    }

    /** The same for findings about something else, which is named. */
    static List<Finding> adjust(List<Finding> findings, Predicate<Finding> counted, double confidence, String what) {
        List<Finding> asked = findings.stream()
                .filter(f -> f.estimate().isPresent() && counted.test(f))
                .toList();
        List<Boolean> holds = holm(asked.stream().map(Family::wrong).toList(), 1 - confidence);
        return findings.stream()
                .map(f -> {
                    int i = asked.indexOf(f);
                    boolean passes = i < 0 ? wrong(f) <= (1 - confidence) / Math.max(1, asked.size()) : holds.get(i);
                    return f.inFamily(
                            !f.verdict().decided() || passes, "all " + asked.size() + " questions of " + what);
                })
                .toList();
    }

    /** Probability that a verdict is wrong; 1 where there is none. */
    private static double wrong(Finding finding) {
        return finding.verdict().decided() ? 1 - finding.verdict().probability() : 1;
    }

    /**
     * Holm's step-down rule: the i-th smallest of m is held against alpha/(m − i + 1), until the first that fails.
     *
     * @return for each p whether it passes
     */
    static List<Boolean> holm(List<Double> p, double alpha) {
        List<Integer> order = IntStream.range(0, p.size())
                .boxed()
                .sorted(Comparator.comparing(p::get))
                .toList();
        Boolean[] passes = new Boolean[p.size()];
        boolean all = true;
        for (int i = 0; i < order.size(); i++) {
            all = all && p.get(order.get(i)) <= alpha / (p.size() - i);
            passes[order.get(i)] = all;
        }
        return List.of(passes);
    }
}
