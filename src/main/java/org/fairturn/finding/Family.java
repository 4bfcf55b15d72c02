package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/**
 * Several questions asked of one trial: how sure each verdict is once all of them are counted.
 *
 * @see "S. Holm, A simple sequentially rejective multiple test procedure, Scandinavian Journal of Statistics 6 (1979)
 *     65–70; the probability that a verdict is wrong stands for the p value"
 */
final class Family {
    private Family() {}

    /** The findings of one trial with their verdicts in the family; those that could not be asked are not counted. */
    static List<Finding> adjust(List<Finding> findings, double confidence) {
        return adjust(findings, confidence, "this trial");
    }

    /** The same for findings about something else, which is named. */
    static List<Finding> adjust(List<Finding> findings, double confidence, String what) {
        List<Integer> asked = IntStream.range(0, findings.size())
                .filter(i -> findings.get(i).estimate().isPresent())
                .boxed()
                .toList();
        List<Double> wrong = asked.stream()
                .map(i -> findings.get(i).verdict().decided()
                        ? 1 - findings.get(i).verdict().probability()
                        : 1.0)
                .toList();
        List<Boolean> holds = holm(wrong, 1 - confidence);
        List<Finding> adjusted = new ArrayList<>(findings);
        for (int n = 0; n < asked.size(); n++) {
            Finding finding = findings.get(asked.get(n));
            Verdict verdict = !finding.verdict().decided() || holds.get(n)
                    ? finding.verdict()
                    : new Verdict.CannotTell(
                            finding.verdict().probability(), new Outlook(Map.of(), 0, Outlook.Obstacle.NONE));
            adjusted.set(asked.get(n), finding.inFamily(verdict, "all " + asked.size() + " questions of " + what));
        }
        return List.copyOf(adjusted);
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
