package org.fairturn.finding;

import java.util.Optional;
import java.util.OptionalDouble;

/** A quantity put to the decision rule. */
final class Judgement {
    private static final double LEAST_SIGMA = 1e-4;
    private static final double MOST_SIGMA = 10;
    /** Of ln σ_b, about a tenth of σ_b. */
    private static final double RUNG = 0.1;
    /** Of a rung: 1e-11 of σ_b is left. */
    private static final int HALVINGS = 34;

    private final Verdict verdict;
    private final OptionalDouble standsUpTo;

    Judgement(Quantity quantity, DecisionRule rule, DecisionRule.Asks asks) {
        Optional<Verdict> decided = rule.decide(quantity.mixture(), asks);
        if (decided.isPresent()) {
            verdict = decided.get();
            standsUpTo = standsUpTo(quantity, rule, asks, verdict.word());
        } else {
            verdict = new Verdict.CannotTell(rule.likeliest(quantity.mixture()), quantity.outlook(rule));
            standsUpTo = OptionalDouble.empty();
        }
    }

    Verdict verdict() {
        return verdict;
    }

    OptionalDouble standsUpTo() {
        return standsUpTo;
    }

    /**
     * The largest σ_b (m), looked for between 0.1 mm and 10 m, up to which the verdict stays as it is. It is bracketed from
     * below, so that a verdict that came back at a larger σ_b would not count.
     */
    private static OptionalDouble standsUpTo(
            Quantity quantity, DecisionRule rule, DecisionRule.Asks asks, String word) {
        if (!stands(LEAST_SIGMA, quantity, rule, asks, word)) {
            return OptionalDouble.empty();
        }
        double low = Math.log(LEAST_SIGMA);
        double high = low;
        double top = Math.log(MOST_SIGMA);
        while (high < top && stands(Math.exp(high), quantity, rule, asks, word)) {
            low = high;
            high = Math.min(top, high + RUNG);
        }
        for (int step = 0; step < HALVINGS; step++) {
            double middle = (low + high) / 2;
            if (stands(Math.exp(middle), quantity, rule, asks, word)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return OptionalDouble.of(Math.exp(low));
    }

    private static boolean stands(
            double sigmaB, Quantity quantity, DecisionRule rule, DecisionRule.Asks asks, String word) {
        return rule.decide(quantity.mixtureIf(sigmaB), asks)
                .map(v -> v.word().equals(word))
                .orElse(false);
    }
}
