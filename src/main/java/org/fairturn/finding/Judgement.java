package org.fairturn.finding;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;

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
     * What the probability of a verdict has to spare at ln σ_b. A class, not a lambda, which would keep the library's classes
     * out of the archive that makes a start quick.
     */
    private record Excess(Quantity quantity, DecisionRule rule, Verdict verdict) implements UnivariateFunction {
        @Override
        public double value(double logSigma) {
            return rule.excess(verdict, rule.chances(quantity.mixtureIf(Math.exp(logSigma))));
        }
    }

    /**
     * The largest σ_b (m), looked for between 0.1 mm and 10 m, up to which the verdict stays as it is. It is bracketed from
     * below, so that a verdict that came back at a larger σ_b would not count.
     */
    private static OptionalDouble standsUpTo(Quantity quantity, DecisionRule rule, Verdict verdict) {
        Excess excess = new Excess(quantity, rule, verdict);
        double low = Math.log(LEAST_SIGMA);
        double high = low;
        double top = Math.log(MOST_SIGMA);
        boolean stands = excess.value(low) >= 0;
        if (!stands) {
            return OptionalDouble.empty();
        }
        while (stands && high < top) {
            low = high;
            high = Math.min(top, high + RUNG);
            stands = excess.value(high) >= 0;
        }
        return OptionalDouble.of(Math.exp(stands ? top : new BrentSolver(0, EXACT).solve(MANY, excess, low, high)));
    }
}
