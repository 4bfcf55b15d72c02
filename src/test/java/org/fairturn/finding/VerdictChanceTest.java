package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.function.DoublePredicate;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.PlannedPosterior;
import org.fairturn.uncertainty.Quantiles;
import org.junit.jupiter.api.Test;

class VerdictChanceTest {
    /**
     * Two samples of n with a known-to-be-equal, unknown standard deviation: the power of Student's test at 5 %, two-sided. It
     * is the limit of the decision rule with no margin, 97.5 %, no scatter of readings and a prior that says nothing. A flat
     * prior of σ leaves the posterior one degree of freedom short of Student's 2(n − 1), hence 0.002 with 198 and 0.01 with 38.
     */
    @Test
    void chanceOfBeyond_matchesThePowerOfTwoSamples() {
        // R documentation of power.t.test: n = 20, delta = 1, sd = 1 (call read, output from memory, recomputed)
        assertThat(power(20, 1, 1)).isCloseTo(0.8689528, within(0.01));
        // public runs: n = 100, delta = 1, sd = 2.5; n = 20, delta = 4, sd = 5
        assertThat(power(100, 1, 2.5)).isCloseTo(0.8036466, within(0.002));
        assertThat(power(20, 4, 5)).isCloseTo(0.6933994, within(0.01));
    }

    private static double power(int n, double delta, double sd) {
        HalfT silent = new HalfT(100 * sd);
        var planned = new PlannedPosterior(sd, 1e-4 * sd, 1, silent, new HalfT(1e-4 * sd), 0);
        return VerdictChance.of(planned, planned.outcomes(2, n, 16, 1), 2.0 / n, 0, 0, new DecisionRule(1e-9, 0.975))
                .beyond(delta);
    }

    /** No chance of verdicts that the rule would not give: at the limits the rule itself changes its mind. */
    @Test
    void limits_areWhereTheRuleChangesItsMind() {
        DecisionRule rule = new DecisionRule(0.05, 0.95);
        var planned = new PlannedPosterior(0.02, 0.01, 2, new HalfT(0.05), new HalfT(0.02), 0.0003);
        var outcome = planned.outcomes(2, 6, 1, 1);
        var mixture = outcome.get(0).contrast(2.0 / 6, 1e-5, 0);
        VerdictChance chance = VerdictChance.of(planned, outcome, 2.0 / 6, 1e-5, 0, rule);
        // with one outcome half of the estimates lie above the truth: the median is at the limit
        double beyond = chance.smallestBeyond(0.5);
        assertThat(rule.decide(mixture.moved(beyond - 1e-5), DecisionRule.Asks.UNSIGNED))
                .isEmpty();
        assertThat(rule.decide(mixture.moved(beyond + 1e-5), DecisionRule.Asks.UNSIGNED)
                        .orElseThrow()
                        .word())
                .isEqualTo("beyond");
        double within = chance.largestWithin(0.5);
        assertThat(rule.decide(mixture.moved(within + 1e-5), DecisionRule.Asks.UNSIGNED))
                .isEmpty();
        assertThat(rule.decide(mixture.moved(within - 1e-5), DecisionRule.Asks.UNSIGNED)
                        .orElseThrow()
                        .word())
                .isEqualTo("within");
    }

    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);
    private static final PlannedPosterior PLANNED =
            new PlannedPosterior(0.02, 0.01, 2, new HalfT(0.05), new HalfT(0.02), 0.0003);
    /** By hand: 20² + 10²/2 for the mean of a circle's two readings, 20² + 10² for a new circle with one (m²). */
    private static final double MEAN = 450e-6;

    private static final double NEW = 500e-6;

    /** The largest value at which something holds that holds at 0 and no longer at 1 m; −1 where it does not hold at 0. */
    private static double last(DoublePredicate holds) {
        if (!holds.test(0)) {
            return -1;
        }
        double low = 0;
        double high = 1;
        for (int i = 0; i < 24; i++) {
            double middle = (low + high) / 2;
            if (holds.test(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return low;
    }

    private static String word(NormalMixture aboutZero, double estimate) {
        return RULE.decide(aboutZero.moved(estimate), DecisionRule.Asks.UNSIGNED)
                .map(Verdict::word)
                .orElse("cannotTell");
    }

    /** What the rule, asked anew, makes of an estimate in one way the trial may turn out. */
    private record Limits(double within, double beyond) {
        static Limits of(NormalMixture aboutZero) {
            return new Limits(
                    last(x -> word(aboutZero, x).equals("within")),
                    last(x -> !word(aboutZero, x).equals("beyond")));
        }

        double chanceOfWithin(double truth, double spread) {
            return within < 0
                    ? 0
                    : Quantiles.normalProbability((within - truth) / spread)
                            - Quantiles.normalProbability((-within - truth) / spread);
        }

        double chanceOfBeyond(double truth, double spread) {
            return Quantiles.normalProbability((truth - beyond) / spread);
        }
    }

    /** The estimate scatters normally about the truth, and each way the trial may turn out is as likely as the others. */
    private static void agrees(VerdictChance found, List<Limits> limits, double spread) {
        for (double truth : new double[] {0, 0.02, 0.08, 0.11}) {
            // limits are settled to 1 µm, and a density is at most 0.4/spread
            assertThat(found.within(truth))
                    .isCloseTo(
                            limits.stream()
                                    .mapToDouble(l -> l.chanceOfWithin(truth, spread))
                                    .average()
                                    .orElseThrow(),
                            within(1e-4));
            assertThat(found.beyond(truth))
                    .isCloseTo(
                            limits.stream()
                                    .mapToDouble(l -> l.chanceOfBeyond(truth, spread))
                                    .average()
                                    .orElseThrow(),
                            within(1e-4));
        }
        // wrong: beyond on either side where there is nothing; within, or beyond on the other side, where there is 110
        // mm
        double nothing = 2 * found.beyond(0);
        double other = limits.stream()
                .mapToDouble(l -> l.chanceOfBeyond(-0.11, spread))
                .average()
                .orElseThrow();
        assertThat(found.wrong(0.11)).isCloseTo(Math.max(nothing, found.within(0.11) + other), within(1e-4));
    }

    @Test
    void chance_isHowOftenTheEstimateLiesWhereTheRuleDecides() {
        var outcomes = PLANNED.outcomes(2, 6, 2, 2);
        double factor = 2.0 / 6;
        for (double newCircles : new double[] {0, 0.04}) {
            agrees(
                    VerdictChance.of(PLANNED, outcomes, factor, 1e-5, newCircles, RULE),
                    outcomes.stream()
                            .map(o -> Limits.of(o.contrast(factor, 1e-5, newCircles)))
                            .toList(),
                    Math.sqrt(factor * MEAN + 1e-5 + newCircles * NEW));
        }
    }

    /** Each machine may turn out in each way, whatever the other does. */
    @Test
    void chanceOfTwo_isThatOfEachPair() {
        var outcomes = PLANNED.outcomes(2, 6, 2, 1);
        double factor = 1.0 / 2 / 6;
        agrees(
                VerdictChance.ofTwo(PLANNED, outcomes, factor, 2e-5, RULE),
                outcomes.stream()
                        .flatMap(a -> outcomes.stream().map(b -> Limits.of(a.contrast(factor, 2e-5, b, factor))))
                        .toList(),
                Math.sqrt(2 * factor * MEAN + 2e-5));
        // the other one with three circles of a cell, this one with six
        var others = PLANNED.outcomes(2, 3, 2, 1);
        agrees(
                VerdictChance.ofTwo(PLANNED, outcomes, 1.0 / 6, others, 1.0 / 3, RULE),
                outcomes.stream()
                        .flatMap(a -> others.stream().map(b -> Limits.of(a.contrast(1.0 / 6, 0, b, 1.0 / 3))))
                        .toList(),
                Math.sqrt((1.0 / 6 + 1.0 / 3) * MEAN));
    }

    /** A geometry known to 1 m: nothing is found within 50 mm, and what is beyond has to be metres large. */
    @Test
    void whereNothingIsFoundWithin_largestWithinSaysSo() {
        List<PlannedPosterior.Outcome> outcome = PLANNED.outcomes(2, 6, 1, 1);
        VerdictChance vague = VerdictChance.of(PLANNED, outcome, 2.0 / 6, 1, 0, RULE);
        assertThat(vague.within(0)).isZero();
        assertThat(vague.largestWithin(0.5)).isEqualTo(-1);
        // by hand: the limit lies 1.644854 standard uncertainties of 1 m off the margin, and the truth 1.281552 more
        assertThat(vague.smallestBeyond(0.9)).isCloseTo(0.05 + 1.644854 + 1.281552, within(1e-3));
        assertThat(vague.beyond(vague.smallestBeyond(0.9))).isCloseTo(0.9, within(1e-5));
        VerdictChance sharp = VerdictChance.of(PLANNED, outcome, 2.0 / 6, 1e-5, 0, RULE);
        assertThat(sharp.within(sharp.largestWithin(0.3))).isCloseTo(0.3, within(1e-4));
        assertThat(sharp.largestWithin(sharp.within(0) + 1e-6)).isEqualTo(-1);
    }
}
