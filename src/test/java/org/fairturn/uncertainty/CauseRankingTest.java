package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import org.fairturn.uncertainty.CauseRanking.Cause;
import org.fairturn.uncertainty.CauseRanking.Influence;
import org.fairturn.uncertainty.CauseRanking.Level;
import org.junit.jupiter.api.Test;

class CauseRankingTest {
    private static double normal(double y, double variance) {
        return Math.exp(-y * y / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
    }

    private static Cause shift(double prior, double variance, double... loadings) {
        return new Cause(prior, Collections.nCopies(loadings.length, 0.0), List.of(influence(variance, loadings)));
    }

    private static Influence influence(double variance, double... loadings) {
        return new Influence(variance, 0, Arrays.stream(loadings).boxed().toList());
    }

    /** One observation: N(0, v) under the first cause, N(0, v + s²) under the second. */
    @Test
    void twoCauses_haveTheClosedForm() {
        double y = 2;
        CauseRanking ranking = new CauseRanking(
                List.of(shift(0.7, 0, 1), shift(0.3, 3, 1)), List.of(new Level(1, List.of(y), List.of(1.0), 0)));
        double first = 0.7 * normal(y, 1);
        double second = 0.3 * normal(y, 4);
        assertThat(ranking.probabilities().get(1)).isCloseTo(second / (first + second), within(1e-12));
        NormalMixture size = ranking.quantity(1, 10, List.of(1.0), 0.5, 0);
        assertThat(size.mean()).isCloseTo(10 + y * 3.0 / 4, within(1e-12)); // shrunk by s²/(v + s²)
        assertThat(size.standardDeviation()).isCloseTo(Math.sqrt(3.0 / 4 + 0.5), within(1e-12));
    }

    /** The levels count by what each says of the observation, under each cause by itself. */
    @Test
    void levels_areAveragedOver() {
        double y = 2.5;
        List<Level> levels = List.of(
                new Level(0.8, List.of(y), List.of(1.0), 0.2), new Level(0.2, List.of(y + 0.5), List.of(9.0), 1.1));
        Cause known = new Cause(1, List.of(0.0), List.of());
        Cause moved = new Cause(1, List.of(2.0), List.of(new Influence(0.5, 2, List.of(1.0))));
        double first = 0.8 * normal(y, 1) + 0.2 * normal(y + 0.5, 9);
        double second = 0.8 * normal(y - 2, 1 + 0.5 + 0.4) + 0.2 * normal(y - 1.5, 9 + 0.5 + 2.2);
        assertThat(new CauseRanking(List.of(known, moved), levels)
                        .probabilities()
                        .get(1))
                .isCloseTo(second / (first + second), within(1e-12));
    }

    /** Observing one thing after the other is observing both: an observation may stand in the vector or in the prior. */
    @Test
    void aMeasuredPart_countsAsData() {
        double x = 0.4;
        Level both = new Level(1, List.of(3.0, x), List.of(1.0, 0.25), 0);
        CauseRanking ranking = new CauseRanking(List.of(shift(0.6, 0, 1, 1), shift(0.4, 5, 1, 1)), List.of(both));
        double seen = 0.6 * normal(x, 0.25);
        double seenToo = 0.4 * normal(x, 5.25);
        double left = 5 * 0.25 / 5.25; // variance of the size once x is known
        double mean = x * 5 / 5.25;
        double first = seen * normal(3, 1);
        double second = seenToo * normal(3 - mean, 1 + left);
        assertThat(ranking.probabilities().get(1)).isCloseTo(second / (first + second), within(1e-12));
    }

    @Test
    void orderOfCausesAndObservations_changesNothing() {
        SplittableRandom random = new SplittableRandom(3);
        for (int i = 0; i < 20; i++) {
            double a = random.nextDouble(-2, 2);
            double b = random.nextDouble(-2, 2);
            List<Double> one = new CauseRanking(
                            List.of(shift(0.5, 2, 1, 0.5), shift(0.5, 3, 0, 1)),
                            List.of(new Level(1, List.of(a, b), List.of(0.3, 0.7), 0)))
                    .probabilities();
            List<Double> other = new CauseRanking(
                            List.of(shift(0.5, 3, 1, 0), shift(0.5, 2, 0.5, 1)),
                            List.of(new Level(1, List.of(b, a), List.of(0.7, 0.3), 0)))
                    .probabilities();
            assertThat(one.get(0)).isCloseTo(other.get(1), within(1e-12));
        }
    }

    /**
     * Σ w·a_i·a_j used to be rounded one way above the diagonal and another way below it; where influences nearly cancel the two
     * halves differed by more than the decomposition puts up with, and the analysis stopped.
     */
    @Test
    void influencesThatNearlyCancel_areRankedAllTheSame() {
        SplittableRandom random = new SplittableRandom(7);
        for (int i = 0; i < 200; i++) {
            double a = random.nextDouble(0.1, 3);
            double b = random.nextDouble(0.1, 3);
            double w = random.nextDouble(0.1, 30);
            // the second takes the covariance of the first off again, up to rounding
            Cause cause = new Cause(
                    1,
                    List.of(0.0, 0.0),
                    List.of(influence(w, a, b), influence(w * a / b * b / a, -a, b), influence(1e-4, 1, 1)));
            Level level = new Level(1, List.of(0.1, 0.2), List.of(1e-4, 1e-4), 0);
            assertThat(new CauseRanking(List.of(cause), List.of(level)).probabilities())
                    .containsExactly(1.0);
        }
    }

    /** What is ranked is the same in millimetres and in kilometres: nothing hangs on how small a variance is. */
    @Test
    void unitOfLength_changesNothing() {
        for (double unit : new double[] {1, 1e3, 1e-5}) {
            double v = unit * unit;
            CauseRanking ranking = new CauseRanking(
                    List.of(shift(0.5, 0, 1, 1), shift(0.5, 2 * v, 1, 0.5)),
                    List.of(new Level(1, List.of(unit, 0.3 * unit), List.of(v, 0.4 * v), 0)));
            // p₂/p₁ = e^((yᵀD⁻¹y − yᵀS⁻¹y)/2)/√(1 + s²·aᵀD⁻¹a), s²·aᵀD⁻¹a = 2·(1 + 0.25/0.4), by Sherman and Morrison
            double odds = Math.exp(1.375 * 1.375 * 2 / 4.25 / 2) / Math.sqrt(4.25);
            assertThat(ranking.probabilities().get(1)).isCloseTo(odds / (1 + odds), within(1e-12));
            assertThat(ranking.quantity(1, 0, List.of(1.0), 0, 0).mean() / unit)
                    .isCloseTo(2 * 1.375 / 4.25, within(1e-12));
        }
    }

    /** A posterior in bins gives nearly the density that all of its grid gives. */
    @Test
    void cellsDrawnTogether_keepTheDensityOfTheMean() {
        CircleData data = new CircleData(List.of(
                List.of(
                        CircleSummary.of(new double[] {1.60, 1.61}, new double[] {1, 1}),
                        CircleSummary.of(new double[] {1.65}, new double[] {1})),
                List.of(CircleSummary.of(new double[] {1.77, 1.75}, new double[] {1, 1}))));
        RepeatabilityPosterior posterior = RepeatabilityPosterior.of(data, new HalfT(0.05), new HalfT(0.02), 0.0003);
        NormalMixture exact = posterior.contrast(new double[] {1, 0}, 0, 0);
        for (double x : new double[] {1.55, 1.6, 1.625, 1.66, 1.75}) {
            double drawn = posterior.cellsAt(0.3).stream()
                    .mapToDouble(at -> at.weight()
                            * normal(x - at.means().get(0), at.variances().get(0)))
                    .sum();
            // width²/24 of itself for each unit of curvature, which far out in the tail is several
            assertThat(drawn).isCloseTo(exact.density(x), within(0.02 * exact.density(x)));
        }
    }

    @Test
    void information_ofTwoNormals_isThatOfABinaryChannel() {
        List<NormalMixture> outcomes = List.of(
                new NormalMixture(new double[] {1}, new double[] {1}, new double[] {1}),
                new NormalMixture(new double[] {1}, new double[] {-1}, new double[] {1}));
        // capacity of the binary-input Gaussian channel at a signal as large as its noise: 0.4859 bits, from memory,
        // recomputed
        assertThat(Information.ofNumber(List.of(0.5, 0.5), outcomes)).isCloseTo(0.48594, within(5e-5));
    }

    /** Between two narrow outcomes far apart a share used to vanish where its density did not: 0 times infinity. */
    @Test
    void information_isANumber_howeverFarApartTheOutcomes() {
        List<Double> p = List.of(1e-4, 1 - 1e-4);
        for (double far = 60; far < 90; far += 0.1) {
            NormalMixture here = new NormalMixture(new double[] {1}, new double[] {0}, new double[] {1});
            NormalMixture there = new NormalMixture(new double[] {1}, new double[] {far}, new double[] {1});
            assertThat(Information.ofNumber(p, List.of(here, there))).isCloseTo(Information.ofAnswer(p), within(1e-8));
        }
    }

    @Test
    void information_isNothingWhereOutcomesAreAlike_andTheEntropyWhereTheyAreFarApart() {
        NormalMixture here = new NormalMixture(new double[] {1}, new double[] {0}, new double[] {1});
        NormalMixture far = new NormalMixture(new double[] {1}, new double[] {50}, new double[] {4});
        List<Double> p = List.of(0.8, 0.2);
        assertThat(Information.ofNumber(p, List.of(here, here))).isCloseTo(0, within(1e-12));
        assertThat(Information.ofNumber(p, List.of(here, far))).isCloseTo(Information.ofAnswer(p), within(1e-6));
        assertThat(Information.ofAnswer(List.of(0.5, 0.5))).isCloseTo(1, within(1e-12));
    }

    /** Under each cause alone the probability of what was observed is 0 in a double; their ratio is not. */
    @Test
    void farFromEveryCause_theOddsStillStand() {
        double y = 60;
        CauseRanking ranking = new CauseRanking(
                List.of(shift(0.5, 0, 1), shift(0.5, 0.01, 1)), List.of(new Level(1, List.of(y), List.of(1.0), 0)));
        double odds = Math.exp(y * y * (1 - 1 / 1.01) / 2) / Math.sqrt(1.01);
        assertThat(ranking.probabilities().get(1)).isCloseTo(odds / (1 + odds), within(1e-12));
        assertThat(ranking.probabilities().get(0)).isCloseTo(1 / (1 + odds), within(1e-12 / odds));
    }

    /** Two levels say different things of one size: what is known of it is both, each as far as it is believed. */
    @Test
    void aQuantity_isTheMixtureOverTheLevels_underAnUnlikelyCauseToo() {
        Level calm = new Level(0.6, List.of(1.0), List.of(1.0), 0.2);
        Level rough = new Level(0.4, List.of(4.0), List.of(0.25), 0.7);
        Cause moved = new Cause(1, List.of(0.0), List.of(new Influence(3, 2, List.of(1.0))));
        Cause unlikely = new Cause(1e-9, List.of(0.0), moved.influences());
        Cause other = new Cause(1, List.of(0.5), List.of());
        // s² = 3 + 2ν; weight p·N(y; 0, s² + v); the size is y·s²/(s² + v) with the variance s²·v/(s² + v)
        double w = 0.6 * normal(1, 3.4 + 1);
        double x = 0.4 * normal(4, 4.4 + 0.25);
        for (List<Cause> causes : List.of(List.of(moved, other), List.of(unlikely, other))) {
            NormalMixture size = new CauseRanking(causes, List.of(calm, rough)).quantity(0, 10, List.of(1.0), 0.5, 3);
            for (double at : new double[] {10, 11, 12.5, 14, 16}) {
                double expected =
                        (w * Quantiles.normalProbability((at - 10 - 3.4 / 4.4) / Math.sqrt(3.4 / 4.4 + 0.5 + 3 * 0.2))
                                        + x
                                                * Quantiles.normalProbability((at - 10 - 4 * 4.4 / 4.65)
                                                        / Math.sqrt(4.4 * 0.25 / 4.65 + 0.5 + 3 * 0.7)))
                                / (w + x);
                assertThat(size.probabilityBelow(at)).isCloseTo(expected, within(1e-12));
            }
        }
    }

    /** What no influence moves is as uncertain as it is said to be, the new circles of each level included. */
    @Test
    void aQuantityThatNoInfluenceMoves_isItsOffset() {
        CauseRanking ranking =
                new CauseRanking(List.of(shift(1, 3, 1)), List.of(new Level(1, List.of(2.0), List.of(1.0), 0.7)));
        NormalMixture alone = ranking.quantity(0, 10, List.of(0.0), 0.5, 0);
        assertThat(alone.mean()).isEqualTo(10);
        assertThat(alone.standardDeviation()).isCloseTo(Math.sqrt(0.5), within(1e-12));
        NormalMixture circles = ranking.quantity(0, 10, List.of(0.0), 0.5, 2);
        assertThat(circles.mean()).isEqualTo(10);
        assertThat(circles.standardDeviation()).isCloseTo(Math.sqrt(0.5 + 2 * 0.7), within(1e-12));
    }

    /** Levels that weigh nothing, or nearly so, change nothing, wherever they stand in the list. */
    @Test
    void levelsThatWeighNothing_changeNothing() {
        List<Level> some = List.of(
                new Level(0.55, List.of(1.0), List.of(1.0), 0),
                new Level(0.25, List.of(2.0), List.of(1.0), 0),
                new Level(0.2, List.of(3.0), List.of(1.0), 0));
        // one observed so far off that its weight is 0 in a double, one that weighs 1e-9 of the rest
        for (Level nothing :
                List.of(new Level(1, List.of(80.0), List.of(1.0), 0), new Level(1e-9, List.of(1.5), List.of(1.0), 0))) {
            NormalMixture expected =
                    new CauseRanking(List.of(shift(1, 0.5, 1)), some).quantity(0, 0, List.of(1.0), 0, 0);
            for (int place = 0; place <= 3; place++) {
                List<Level> levels = new ArrayList<>(some);
                levels.add(place, nothing);
                NormalMixture found =
                        new CauseRanking(List.of(shift(1, 0.5, 1)), levels).quantity(0, 0, List.of(1.0), 0, 0);
                assertThat(found.mean()).isCloseTo(expected.mean(), within(1e-8));
                assertThat(found.standardDeviation()).isCloseTo(expected.standardDeviation(), within(1e-8));
            }
        }
    }

    @Test
    void aQuestionWithOneAnswerOnly_tellsNothing() {
        assertThat(Information.ofAnswer(List.of(1.0, 0.0))).isZero();
    }
}
