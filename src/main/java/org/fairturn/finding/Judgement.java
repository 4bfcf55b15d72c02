package org.fairturn.finding;

import java.util.Optional;
import java.util.OptionalDouble;

/** A quantity put to the decision rule. */
final class Judgement {
    private static final double LEAST_SIGMA = 1e-4;
    private static final double MOST_SIGMA = 10;

    private final Verdict verdict;
    private final OptionalDouble standsUpTo;

    Judgement(MachineEstimate.Contrast quantity, DecisionRule rule, DecisionRule.Asks asks) {
        Optional<Verdict> decided = rule.decide(quantity.mixture(), asks);
        if (decided.isPresent()) {
            verdict = decided.get();
            standsUpTo = standsUpTo(quantity, rule, asks, verdict.word());
        } else {
            double within = rule.probabilityWithin(quantity.mixture());
            verdict = new Verdict.CannotTell(Math.max(within, 1 - within), quantity.outlook(rule));
            standsUpTo = OptionalDouble.empty();
        }
    }

    Verdict verdict() {
        return verdict;
    }

    OptionalDouble standsUpTo() {
        return standsUpTo;
    }

    /** The largest σ_b (m), looked for between 0.1 mm and 10 m, that leaves the verdict as it is. */
    private static OptionalDouble standsUpTo(
            MachineEstimate.Contrast quantity, DecisionRule rule, DecisionRule.Asks asks, String word) {
        if (!stands(LEAST_SIGMA, quantity, rule, asks, word)) {
            return OptionalDouble.empty();
        }
        double low = Math.log(LEAST_SIGMA);
        double high = Math.log(MOST_SIGMA);
        for (int step = 0; step < 50; step++) {
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
            double sigmaB, MachineEstimate.Contrast quantity, DecisionRule rule, DecisionRule.Asks asks, String word) {
        return rule.decide(quantity.mixtureIf(sigmaB), asks)
                .map(v -> v.word().equals(word))
                .orElse(false);
    }
}
