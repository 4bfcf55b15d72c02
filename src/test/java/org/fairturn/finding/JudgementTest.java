package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.DoubleFunction;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.Quantiles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The decision rule against closed forms, and how far a verdict stands. */
class JudgementTest {
    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);

    private static NormalMixture normal(double mean, double u) {
        return new NormalMixture(new double[] {1}, new double[] {mean}, new double[] {u * u});
    }

    private static String word(DecisionRule rule, NormalMixture q, DecisionRule.Asks asks) {
        return rule.decide(q, asks).map(Verdict::word).orElse("cannotTell");
    }

    /**
     * JCGM 106:2012, worked examples (from memory, recomputed): breakdown voltage below −5.40 V, printed 0.92; bursting
     * strength above 490 kPa, printed 0.99; viscosity between 12.5 and 16.3 mm²/s, printed 0.66. Tolerance: half a unit of the
     * sixth decimal, as recomputed with scipy 1.17.1.
     */
    @Test
    void probabilitiesOfOneNormal_areThoseOfJcgm106() {
        assertThat(normal(-5.47, 0.05).probabilityBelow(-5.40)).isCloseTo(0.919243, within(5e-7));
        assertThat(normal(509.7, 8.6).probabilityAbove(490)).isCloseTo(0.989010, within(5e-7));
        // a tolerance interval moved to lie about zero
        assertThat(new DecisionRule(1.9, 0.95).chances(normal(13.6 - 14.4, 1.8)).within())
                .isCloseTo(0.662630, within(5e-7));
    }

    /** One-sided guard band of 1.644854 standard uncertainties (normal table): just inside and just outside of it. */
    @Test
    void verdictTurns_atTheGuardBand() {
        double u = 0.004;
        double guard = 1.644854 * u;
        assertThat(word(RULE, normal(0.05 - guard - 1e-7, u), DecisionRule.Asks.SIGNED))
                .isEqualTo("within");
        assertThat(word(RULE, normal(0.05 - guard + 1e-7, u), DecisionRule.Asks.SIGNED))
                .isEqualTo("cannotTell");
        assertThat(word(RULE, normal(0.05 + guard - 1e-7, u), DecisionRule.Asks.SIGNED))
                .isEqualTo("cannotTell");
        assertThat(word(RULE, normal(0.05 + guard + 1e-7, u), DecisionRule.Asks.SIGNED))
                .isEqualTo("wider");
        assertThat(word(RULE, normal(-0.05 - guard - 1e-7, u), DecisionRule.Asks.SIGNED))
                .isEqualTo("tighter");
        assertThat(word(RULE, normal(-0.05 - guard - 1e-7, u), DecisionRule.Asks.UNSIGNED))
                .isEqualTo("beyond");
    }

    /**
     * One-sided guard bands w = z·u, z = 1.281552, 1.644854, 1.959964 and 2.326348 for 90, 95, 97.5 and 99 % (JCGM 106:2012,
     * clause 8; from memory, recomputed). Where u is small against the margin, the other side's tail does not count and the
     * acceptance limit lies at T − w; the rejection limit lies at T + w whatever u is. Tolerance: z to six decimals.
     */
    @ParameterizedTest
    @CsvSource({"0.90, 1.281552", "0.95, 1.644854", "0.975, 1.959964", "0.99, 2.326348"})
    void limitsOfAcceptance_lieAGuardBandFromTheMargin(double confidence, double z) {
        DecisionRule rule = new DecisionRule(0.05, confidence);
        for (double u : new double[] {0.0005, 0.002, 0.008}) {
            for (int side : new int[] {-1, 1}) {
                double accepted = side * (0.05 - z * u);
                assertThat(word(rule, normal(accepted - side * 1e-6 * u, u), DecisionRule.Asks.UNSIGNED))
                        .isEqualTo("within");
                assertThat(word(rule, normal(accepted + side * 1e-6 * u, u), DecisionRule.Asks.UNSIGNED))
                        .isEqualTo("cannotTell");
                double rejected = side * (0.05 + z * u);
                assertThat(word(rule, normal(rejected - side * 1e-6 * u, u), DecisionRule.Asks.UNSIGNED))
                        .isEqualTo("cannotTell");
                assertThat(word(rule, normal(rejected + side * 1e-6 * u, u), DecisionRule.Asks.UNSIGNED))
                        .isEqualTo("beyond");
            }
        }
    }

    /**
     * JCGM 106:2012, speed limit: 100 km/h, u = 2 % of the reading, 99.9 % required; exceeded from v = 100/(1 − 0.02·3.090232) =
     * 106.5876 km/h on, printed as 107 (from memory, recomputed).
     */
    @Test
    void speedLimit_isExceededFromThePublishedReadingOn() {
        DecisionRule rule = new DecisionRule(100, 0.999);
        double last = 5e-5;
        assertThat(rule.surelyBeyond(106.5876 - last, 0.02 * (106.5876 - last))).isFalse();
        assertThat(rule.surelyBeyond(106.5876 + last, 0.02 * (106.5876 + last))).isTrue();
        assertThat(rule.surelyBeyond(107, 0.02 * 107)).isTrue();
    }

    /**
     * Guard bands to both sides that meet in the middle leave nothing to accept. The exact limit is m = z·u with z of (1 +
     * confidence)/2, from a normal table, since at the middle both tails count: 1.644854, 1.959964, 2.241403, 2.575829.
     */
    @ParameterizedTest
    @CsvSource({"0.90, 1.644854", "0.95, 1.959964", "0.975, 2.241403", "0.99, 2.575829"})
    void guardBandsThatMeet_leaveNothingWithin(double confidence, double z) {
        DecisionRule rule = new DecisionRule(0.05, confidence);
        double u = 0.05 / z;
        for (double mean = -0.1; mean <= 0.1; mean += 0.0025) {
            assertThat(word(rule, normal(mean, u * (1 + 1e-6)), DecisionRule.Asks.UNSIGNED))
                    .isNotEqualTo("within");
        }
        assertThat(word(rule, normal(0, u * (1 - 1e-6)), DecisionRule.Asks.UNSIGNED))
                .isEqualTo("within");
    }

    /** A guard band wider than the margin: nothing can be found within it, whatever the estimate (JCGM 106:2012, 8.3). */
    @Test
    void withinIsOutOfReach_whereTheUncertaintyFillsTheMargin() {
        for (double mean = -0.1; mean <= 0.1; mean += 0.005) {
            assertThat(word(RULE, normal(mean, 0.026), DecisionRule.Asks.SIGNED))
                    .isNotEqualTo("within");
        }
        assertThat(word(RULE, normal(0, 0.0255), DecisionRule.Asks.SIGNED)).isEqualTo("within"); // 0.05/1.96
    }

    /** Knowing nothing is not knowing that it lies beyond: P(|q| > m) used to count both tails of a wide interval. */
    @Test
    void vagueness_neverMakesAVerdict() {
        for (double mean : new double[] {0, 0.01, -0.04}) {
            for (DecisionRule.Asks asks : DecisionRule.Asks.values()) {
                assertThat(word(new DecisionRule(0.003, 0.95), normal(mean, 1), asks))
                        .isEqualTo("cannotTell");
            }
        }
    }

    @Test
    void undecided_neverShowsAProbabilityThatWouldDecide() {
        var random = new SplittableRandom(3);
        for (int i = 0; i < 60; i++) {
            Analysis analysis = pair(random.nextDouble(-200, 200), random.nextDouble(0, 40), random.nextDouble(1, 120));
            for (Finding finding : analysis.findings()) {
                boolean reached = finding.verdict().probability() >= 0.95;
                assertThat(reached)
                        .as("%s", finding)
                        .isEqualTo(finding.verdict().decided());
            }
        }
    }

    @Test
    void doublingTheMargin_neverTurnsWithinIntoCannotTell() {
        var random = new SplittableRandom(4);
        int found = 0;
        for (int i = 0; i < 1000; i++) {
            NormalMixture q = new NormalMixture(
                    random.doubles(4, 0.1, 1).toArray(),
                    random.doubles(4, -0.03, 0.03).toArray(),
                    random.doubles(4, 1e-5, 1e-3).toArray());
            double margin = random.nextDouble(0.01, 0.1);
            if (word(new DecisionRule(margin, 0.95), q, DecisionRule.Asks.UNSIGNED)
                    .equals("within")) {
                found++;
                assertThat(word(new DecisionRule(2 * margin, 0.95), q, DecisionRule.Asks.UNSIGNED))
                        .isEqualTo("within");
            }
        }
        assertThat(found).isGreaterThan(100);
    }

    /** With two circles a cell and one reading each, u² = σ_b² + shared parts, so that the limit has a closed form. */
    @Test
    void standsUpTo_isWhereTheGuardBandIsUsedUp() {
        Analysis analysis = pair(400, 10, 50);
        Finding cost = analysis.findings().stream()
                .filter(f -> f.question() == Question.DRIVE)
                .findFirst()
                .orElseThrow();
        assertThat(cost.verdict().word()).isEqualTo("wider");
        MachineEstimate machine = analysis.machines().get(0);
        double reading = machine.posterior().reading(0.95).value();
        double u = (cost.estimate().orElseThrow().value() - 0.05) / 1.6448536269514722;
        double known = reading * reading
                + MachineEstimate.RESOLUTION * MachineEstimate.RESOLUTION
                + Math.pow(
                        analysis.cells().get(1).shared().tape()
                                - analysis.cells().get(0).shared().tape(),
                        2)
                + Math.pow(
                        analysis.cells().get(1).shared().missedCentre()
                                - analysis.cells().get(0).shared().missedCentre(),
                        2);
        // each reading's variance factor is (1 − 2p²/c²)², 0.9992 or more: 4e-4 of the reading's part at most
        assertThat(cost.standsUpTo().orElseThrow()).isCloseTo(Math.sqrt(u * u - known), within(1e-6));
    }

    /** With a small margin the scatter had a second range, far out, in which both tails together reached the confidence. */
    @Test
    void standsUpTo_isTheFirstScatterThatUpsetsTheVerdict() {
        for (double margin : new double[] {2, 5, 10, 20, 50}) {
            Analysis analysis = Trials.inMillimetres()
                    .margin(margin)
                    .machine("Alder")
                    .deckOfThree(0)
                    .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1605)
                    .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1610, 1602)
                    .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1900, 1910)
                    .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1904, 1908)
                    .analysed();
            Finding finding = analysis.findings().get(0);
            assertThat(finding.verdict().word()).isEqualTo("beyond");
            // two circles a turn: beyond the margin until 1.645 u of the remainder, u > σ_b, reaches from it to
            // the margin
            assertThat(finding.standsUpTo().orElseThrow())
                    .isLessThan((finding.estimate().orElseThrow().value() - margin / 1000) / 1.6448);
        }
    }

    private static Analysis pair(double difference, double scatter, double margin) {
        return Trials.inMillimetres()
                .margin(margin)
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1700 - scatter / 2)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1700 + scatter / 2)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 1700 + difference - scatter / 2)
                .circle("4", Turn.LEFT, Drive.FOUR_WHEEL, 1700 + difference + scatter / 2)
                .analysed();
    }

    /** A probability that equals the confidence reaches it: all of the mass lies clearly on one side or the other of ±m. */
    @Test
    void aProbabilityThatEqualsTheConfidence_decides() {
        DecisionRule rule = new DecisionRule(0.05, 0.75);
        double far = 1; // 1e6 standard uncertainties from the margin: a tail of 0 or 1 to a double
        assertThat(word(rule, shares(0.75, far, 0.25, -far), DecisionRule.Asks.SIGNED))
                .isEqualTo("wider");
        assertThat(word(rule, shares(0.75, -far, 0.25, far), DecisionRule.Asks.SIGNED))
                .isEqualTo("tighter");
        assertThat(word(rule, shares(0.75, 0, 0.25, far), DecisionRule.Asks.SIGNED))
                .isEqualTo("within");
        assertThat(word(rule, shares(0.7499, far, 0.2501, -far), DecisionRule.Asks.SIGNED))
                .isEqualTo("cannotTell");
        // Cantelli's bound in round numbers: 1/(1 + 3²) = 0.1 on a side
        assertThat(new DecisionRule(1, 0.9).whateverTheShape(4, 1, DecisionRule.Asks.SIGNED))
                .hasValueSatisfying(v -> assertThat(v).isEqualTo(new Verdict.Beyond(0.9, Verdict.Sense.WIDER)));
        assertThat(new DecisionRule(3, 0.8).whateverTheShape(0, 1, DecisionRule.Asks.SIGNED))
                .hasValueSatisfying(v -> assertThat(v.word()).isEqualTo("within"));
        assertThat(new DecisionRule(3, 0.801).whateverTheShape(0, 1, DecisionRule.Asks.SIGNED))
                .isEmpty();
    }

    private static NormalMixture shares(double first, double firstMean, double second, double secondMean) {
        double u = 1e-6;
        return new NormalMixture(
                new double[] {first, second}, new double[] {firstMean, secondMean}, new double[] {u * u, u * u});
    }

    /** A quantity made up for the test: how it is known at each scatter, and how it is known today. */
    private record MadeUp(DoubleFunction<NormalMixture> at, double today) implements Quantity {
        @Override
        public NormalMixture mixture() {
            return at.apply(today);
        }

        @Override
        public Estimate estimate() {
            return mixture().estimate(0.95);
        }

        @Override
        public boolean restsOnAssumption() {
            return false;
        }

        @Override
        public NormalMixture mixtureIf(double sigmaB) {
            return at.apply(sigmaB);
        }

        @Override
        public Outlook outlook(DecisionRule rule) {
            return new Outlook(Map.of(), 0.4, Outlook.Obstacle.NEAR_MARGIN);
        }
    }

    private static Judgement judged(double today, DoubleFunction<NormalMixture> at) {
        return new Judgement(new MadeUp(at, today), RULE, DecisionRule.Asks.SIGNED);
    }

    /** u = σ: 0.15 is beyond 0.05 until 0.1/1.644854 (normal table). Beyond 10 m and below 0.1 mm nobody looks. */
    @Test
    void standsUpTo_isLookedForFromATenthOfAMillimetreToTenMetres() {
        assertThat(judged(0.01, sigma -> normal(0.15, sigma)).standsUpTo().orElseThrow())
                .isCloseTo(0.1 / 1.6448536269514722, within(1e-10));
        assertThat(judged(0.01, sigma -> normal(1000, sigma)).standsUpTo().orElseThrow())
                .isCloseTo(10, within(1e-9));
        // 10 µm beyond the margin: decided as known today, no longer at 0.1 mm
        Judgement narrow = judged(1e-6, sigma -> normal(0.05001, sigma));
        assertThat(narrow.verdict().word()).isEqualTo("wider");
        assertThat(narrow.standsUpTo()).isEmpty();
    }

    /** Another verdict is none that stands, and one that comes back at a larger scatter does not count. */
    @Test
    void standsUpTo_endsWhereAnotherVerdictBegins() {
        assertThat(judged(0.01, sigma -> normal(sigma < 0.02 ? 1 : sigma < 0.03 ? -1 : 1, 1e-3))
                        .standsUpTo()
                        .orElseThrow())
                .isCloseTo(0.02, within(1e-10));
        assertThat(judged(0.01, sigma -> normal(sigma < 0.001 ? -1 : 1, 1e-3)).standsUpTo())
                .isEmpty();
    }

    @Test
    void undecided_saysTheLikeliestAndTheOutlook() {
        Judgement open = judged(0.01, sigma -> normal(0.06, sigma));
        assertThat(open.standsUpTo()).isEmpty();
        assertThat(open.verdict().probability()).isCloseTo(0.841345, within(5e-7)); // one sigma, normal table
        assertThat(((Verdict.CannotTell) open.verdict()).outlook().obstacle()).isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
        assertThat(new Verdict.NotPossible(List.of("a circle")).probability()).isNaN();
        assertThat(new Verdict.NotPossible(List.of("a circle")).decided()).isFalse();
        assertThat(new Verdict.Within(0.97).probability()).isEqualTo(0.97);
    }

    /**
     * Worked examples, from memory and recomputed: p = 0.01, 0.04, 0.03, 0.005 at 5 % reject the first and the fourth only;
     * the thresholds for five questions are 0.01, 0.0125, 0.0167, 0.025, 0.05.
     */
    @Test
    void holm_rejectsStepDown() {
        assertThat(Family.holm(List.of(0.01, 0.04, 0.03, 0.005), 0.05)).containsExactly(true, false, false, true);
        double[] thresholds = {0.01, 0.0125, 0.05 / 3, 0.025, 0.05};
        for (int i = 0; i < 5; i++) {
            List<Double> p = new ArrayList<>(List.of(0.0001, 0.0002, 0.0003, 0.0004, 0.0005));
            for (int j = i; j < 5; j++) {
                p.set(j, j == i ? thresholds[i] * 0.999 : 0.9);
            }
            assertThat(Family.holm(p, 0.05).get(i)).isTrue();
            p.set(i, thresholds[i] * 1.001);
            assertThat(Family.holm(p, 0.05).get(i)).isFalse();
        }
        // step-up would pass both, since the larger is below 0.05
        assertThat(Family.holm(List.of(0.03, 0.04), 0.05)).containsExactly(false, false);
        assertThat(Family.holm(List.of(), 0.05)).isEmpty();
        // a p value that equals its threshold passes: Holm rejects at P ≤ α/n
        assertThat(Family.holm(List.of(0.025, 0.05), 0.05)).containsExactly(true, true);
    }

    /**
     * Holm's adjusted p values (the first from memory, both recomputed): 0.01, 0.04, 0.03, 0.005 become 0.03, 0.06, 0.06, 0.02;
     * 0.01 to 0.05 in steps of 0.01 become 0.05, 0.08, 0.09, 0.09, 0.09. A p value passes at every level from its adjusted one on.
     */
    @Test
    void holm_passesFromTheAdjustedPValueOn() {
        passesFrom(List.of(0.01, 0.04, 0.03, 0.005), 0.03, 0.06, 0.06, 0.02);
        passesFrom(List.of(0.01, 0.02, 0.03, 0.04, 0.05), 0.05, 0.08, 0.09, 0.09, 0.09);
    }

    private static void passesFrom(List<Double> p, double... adjusted) {
        for (int i = 0; i < adjusted.length; i++) {
            assertThat(Family.holm(p, adjusted[i] - 1e-9).get(i)).isFalse();
            assertThat(Family.holm(p, adjusted[i] + 1e-9).get(i)).isTrue();
        }
    }

    /** Each probability in turn just inside and just outside of what it may be off; both tails at once count twice. */
    @Test
    void closeness_isSeenOnEachSide() {
        double off = 0.01;
        double u = 0.01;
        for (double probability : new double[] {0.941, 0.959}) {
            double z = Quantiles.normal(probability);
            assertThat(RULE.isClose(RULE.chances(normal(0.05 + z * u, u)), off)).isTrue();
            assertThat(RULE.isClose(RULE.chances(normal(-0.05 - z * u, u)), off))
                    .isTrue();
            assertThat(RULE.isClose(RULE.chances(normal(0.05 - z * u, u)), off))
                    .isTrue(); // within, the far tail being nothing
            // hardly known: to each side of the margin, and next to nothing within it
            assertThat(RULE.isClose(RULE.chances(shares(probability, 1, 1 - probability, -1)), off))
                    .isTrue();
            assertThat(RULE.isClose(RULE.chances(shares(probability, -1, 1 - probability, 1)), off))
                    .isTrue();
        }
        for (double probability : new double[] {0.935, 0.965}) {
            double z = Quantiles.normal(probability);
            assertThat(RULE.isClose(RULE.chances(normal(0.05 + z * u, u)), off)).isFalse();
            assertThat(RULE.isClose(RULE.chances(normal(-0.05 - z * u, u)), off))
                    .isFalse();
            assertThat(RULE.isClose(RULE.chances(normal(0.05 - z * u, u)), off))
                    .isTrue(); // 0.015 is less than twice 0.01
        }
        assertThat(RULE.isClose(RULE.chances(normal(0, 0.05 / 1.959964)), off))
                .isTrue(); // 0.95 in, 0.025 on either side
        assertThat(RULE.isClose(RULE.chances(normal(0, 0.05 / 2.5)), off)).isFalse(); // P(within) = 0.9876
        assertThat(RULE.isClose(RULE.chances(normal(0, 0.05)), off)).isFalse(); // 0.683 in, 0.159 on either side
    }

    @Test
    void limitsOfTheRule_areWhereTheDocumentationPutsThem() {
        for (double[] refused : new double[][] {{0, 0.9}, {0.05, 0.5}, {0.05, 1}, {Double.NaN, 0.9}}) {
            assertThatThrownBy(() -> new DecisionRule(refused[0], refused[1]))
                    .hasMessageContaining("must be in (0, ∞) m and (0.5, 1)");
        }
        assertThat(RULE.surelyBeyond(0.07, 0.01)).isTrue(); // 2 standard uncertainties beyond, 1.64 are needed
        assertThat(RULE.surelyBeyond(0.06, 0.01)).isFalse();
        assertThat(RULE.surelyBeyond(0, 0.01)).isFalse(); // sure, but within
        assertThat(RULE.chances(normal(0.06, 0.01)).likeliest())
                .isCloseTo(0.841345, within(5e-7)); // one sigma, normal table
        assertThat(RULE.chances(normal(-0.06, 0.01)).likeliest()).isCloseTo(0.841345, within(5e-7));
        assertThat(RULE.chances(normal(0.04, 0.01)).likeliest()).isCloseTo(0.841345, within(5e-7));
    }

    private static Finding told(Question question, double probability) {
        return Trials.told(
                question,
                Map.of("machine", "Alder " + probability),
                new Verdict.Within(probability),
                new Estimate(0, 1, -1, 1, 0.95));
    }

    /**
     * By hand: α = 0.05 and three questions that count, so wrong with 0.01 passes 0.05/3, 0.02 passes 0.05/2 and 0.04 passes
     * 0.05. A guess that does not count is held to 0.05/3 whatever the others do.
     */
    @Test
    void family_countsWhatIsAsked_andHoldsGuessesToTheStrictestStep() {
        List<Finding> findings = List.of(
                told(Question.DRIVE, 0.96),
                told(Question.DRIVE, 0.99),
                told(Question.DRIVE, 0.98),
                told(Question.CLAIM, 0.984),
                told(Question.CLAIM, 0.983));
        assertThat(Family.adjust(findings, f -> f.question() == Question.DRIVE, 0.95).stream()
                        .map(Finding::holdsInFamily))
                .containsExactly(true, true, true, true, false);
        // nothing is asked: a guess alone is held to α itself, which it may equal
        assertThat(
                        Family.adjust(List.of(told(Question.CLAIM, 0.75), told(Question.CLAIM, 0.74)), f -> false, 0.75)
                                .stream()
                                .map(Finding::holdsInFamily))
                .containsExactly(true, false);
        // with the second step missed the third is not looked at
        assertThat(Family.adjust(
                                List.of(
                                        told(Question.DRIVE, 0.99),
                                        told(Question.DRIVE, 0.97),
                                        told(Question.DRIVE, 0.96)),
                                f -> true,
                                0.95)
                        .stream()
                        .map(Finding::holdsInFamily))
                .containsExactly(true, false, false);
    }

    /** Without blades: four times the offset, twice what the locks make of the radius, and a quarter-share of each unsure. */
    @Test
    void ruleOfThumb_addsUpLocksAndOffset() {
        Analysis analysis = Trials.inMillimetres()
                .machine("Alder")
                .deckOffset(40)
                .steering(1450, 950, 58, 56)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1900, 1905)
                .analysed();
        Finding finding = analysis.asymmetries().get(0).finding();
        double locks = 2 * 1.45 * (1 / Math.tan(Math.toRadians(56)) - 1 / Math.tan(Math.toRadians(58)));
        Part deck = finding.part("deckOffset").orElseThrow();
        Part lock = finding.part("lockAngles").orElseThrow();
        Part measured = finding.part("measured").orElseThrow();
        assertThat(deck.estimate()).isCloseTo(0.16, within(1e-12));
        assertThat(lock.estimate()).isCloseTo(locks, within(1e-12));
        assertThat(finding.estimate().orElseThrow().value())
                .isCloseTo(measured.estimate() - 0.16 - locks, within(1e-12));
        assertThat(Math.pow(finding.estimate().orElseThrow().standardUncertainty(), 2))
                .isCloseTo(
                        Math.pow(measured.standardUncertainty(), 2)
                                + Math.pow(4 * 0.005, 2)
                                + Math.pow((0.16 + locks) / 4, 2), // where the blades are scales both alike
                        within(1e-9));
        assertThat(lock.standardUncertainty()).isCloseTo(locks / 4, within(1e-12));
        assertThat(deck.standardUncertainty()).isGreaterThan(4 * 0.005);
    }

    /** The offset at which one machine with these blades would leave both circles turning alike: half the radii's difference. */
    @Test
    void equalisingOffset_isHalfTheDifferenceOfTheRadii() {
        Asymmetry.Geometry geometry = Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(48)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1900, 1905)
                .analysed()
                .asymmetries()
                .get(0)
                .geometry()
                .orElseThrow();
        assertThat(geometry.equalisingOffset())
                .isCloseTo(0.048 + (geometry.radiusRight() - geometry.radiusLeft()) / 2, within(1e-12));
        assertThat(geometry.commonRadius())
                .isCloseTo((geometry.radiusRight() + geometry.radiusLeft()) / 2, within(1e-12));
    }
}
