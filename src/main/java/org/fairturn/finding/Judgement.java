package org.fairturn.finding;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.AllowedSolution;
import org.apache.commons.math3.analysis.solvers.BracketingNthOrderBrentSolver;

/** A quantity put to the decision rule. */
final class Judgement {
    private static final double LEAST_SIGMA = 1e-4;
    private static final double MOST_SIGMA = 10;
    /** Of ln σ_b, about a tenth of σ_b. */
    private static final double RUNG = 0.1;
    /** Of ln σ_b. */
    private static final double EXACT = 1e-11;

    private static final int MANY = 200;

    private final Verdict verdict;
    private final OptionalDouble standsUpTo;

    Judgement(Quantity quantity, DecisionRule rule, DecisionRule.Asks asks) {
        DecisionRule.Chances chances = rule.chances(quantity.mixture());
        Optional<Verdict> decided = rule.decide(chances, asks);
        if (decided.isPresent()) {
            verdict = decided.get();
            standsUpTo = standsUpTo(quantity, rule, verdict);
        } else {
            verdict = new Verdict.CannotTell(chances.likeliest(), quantity.outlook(rule));
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
    private static OptionalDouble standsUpTo(Quantity quantity, DecisionRule rule, Verdict verdict) {
        UnivariateFunction excess =
                logSigma -> rule.excess(verdict, rule.chances(quantity.mixtureIf(Math.exp(logSigma))));
        double high = Math.log(LEAST_SIGMA);
        if (!(excess.value(high) >= 0)) {
            return OptionalDouble.empty();
        }
        double top = Math.log(MOST_SIGMA);
        double low = high;
        while (high < top && excess.value(high) >= 0) {
            low = high;
            high = Math.min(top, high + RUNG);
        }
        // by the top it may still stand
        return OptionalDouble.of(Math.exp(
                excess.value(high) >= 0
                        ? high
                        : new BracketingNthOrderBrentSolver(EXACT, EXACT, 5)
                                .solve(MANY, excess, low, high, AllowedSolution.ANY_SIDE)));
    }
}
