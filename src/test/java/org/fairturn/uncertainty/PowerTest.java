package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PowerTest {
    /**
     * Examples of R's documentation of power.t.test, which ignores the wrong side too: calls read in source, results from
     * memory and recomputed with SciPy; the last two are public runs, read in source and recomputed. Seven printed figures.
     */
    @ParameterizedTest
    @CsvSource({"20, 1, 1, 0.8689528", "100, 1, 2.5, 0.8036466", "20, 4, 5, 0.6933994"})
    void twoSample_isThePublishedPower(double n, double delta, double sd, double power) {
        assertThat(Power.twoSample(n, delta, sd, 0.05)).isCloseTo(power, within(5e-8));
    }

    /** The same source; sample sizes printed with seven figures, a step of which in the last moves the power by 1e-7. */
    @ParameterizedTest
    @CsvSource({"22.02110, 1, 1, 0.05, 0.90", "17.84713, 1, 1, 0.10, 0.90", "25.52463, 4, 5, 0.05, 0.80"})
    void twoSample_reachesThePowerWantedAtThePublishedSize(
            double n, double delta, double sd, double alpha, double power) {
        // a test to one side at 5 % is the test to both sides at 10 % whose wrong side is ignored
        assertThat(Power.twoSample(n, delta, sd, alpha)).isCloseTo(power, within(2e-7));
        int whole = Power.smallest(m -> Power.twoSample(m, delta, sd, alpha), power, 1000)
                .orElseThrow();
        assertThat(whole).isEqualTo((int) Math.ceil(n));
    }

    /** The same source. */
    @Test
    void oneSample_isThePublishedPower() {
        assertThat(Power.oneSample(20, 1, 1, 0.05)).isCloseTo(0.9885913, within(5e-8));
        assertThat(Power.oneSample(12.58546, 1, 1, 0.05)).isCloseTo(0.90, within(2e-7));
        assertThat(Power.smallest(n -> Power.oneSample(n, 1, 1, 0.05), 0.9, 1000))
                .hasValue(13);
    }

    /** With many values the standard deviation is as good as known: Φ(δ − z), which is left by about z(1 + z²)/(4ν)·φ. */
    @Test
    void manyValues_haveThePowerOfAKnownStandardDeviation() {
        for (double noncentrality : new double[] {0, 0.5, 1.96, 3, 5}) {
            double n = 1e6;
            double known = Quantiles.normalProbability(noncentrality - Quantiles.normal(0.975));
            assertThat(Power.twoSample(n, noncentrality / Math.sqrt(n / 2), 1, 0.05))
                    .isCloseTo(known, within(1e-6));
        }
    }

    @Test
    void noDifference_isFoundToOneSideAsOftenAsTheLevelSays() {
        for (double n : new double[] {2, 2.5, 3, 7, 40, 3000}) {
            for (double alpha : new double[] {0.01, 0.05, 0.4}) {
                assertThat(Power.twoSample(n, 0, 1, alpha)).isCloseTo(alpha / 2, within(1e-9));
                assertThat(Power.oneSample(n, 0, 1, alpha)).isCloseTo(alpha / 2, within(1e-9));
            }
        }
    }

    /** The test itself, carried out 100 000 times on two values each: four standard deviations of chance are 0.006. */
    @Test
    void fewValues_agreeWithCarryingOutTheTest() {
        var random = new SplittableRandom(20260603);
        double t = Quantiles.student(0.975, 2);
        int found = 0;
        int n = 100_000;
        for (int i = 0; i < n; i++) {
            double a = random.nextGaussian();
            double b = random.nextGaussian();
            double c = 5 + random.nextGaussian();
            double d = 5 + random.nextGaussian();
            double pooled = ((a - b) * (a - b) + (c - d) * (c - d)) / 4;
            found += (c + d - a - b) / 2 > t * Math.sqrt(pooled) ? 1 : 0;
        }
        assertThat(Power.twoSample(2, 5, 1, 0.05)).isCloseTo((double) found / n, within(0.006));
    }

    @Test
    void outOfReach_isEmpty_andNonsenseIsRefused() {
        assertThat(Power.smallest(n -> Power.twoSample(n, 0.01, 1, 0.05), 0.9, 100))
                .isEmpty();
        assertThat(Power.smallest(n -> Power.twoSample(n, 100, 1, 0.05), 0.9, 100))
                .hasValue(2);
        assertThatThrownBy(() -> Power.twoSample(1, 1, 1, 0.05))
                .hasMessage("n is 1.0, difference 1.0, standard deviation 1.0, alpha 0.05; must be in [2, ∞), [0, ∞),"
                        + " (0, ∞) and (0, 1)");
        assertThatThrownBy(() -> Power.oneSample(5, 1, Double.NaN, 0.05)).hasMessageContaining("deviation NaN");
    }

    /** Two values a sample are enough, and what lies on an open end of its range is refused. */
    @Test
    void endsOfTheRanges_areTakenOrRefusedAsStated() {
        assertThat(Power.twoSample(2, 0, 1, 0.05)).isCloseTo(0.025, within(1e-9));
        double[][] refused = {
            {Double.POSITIVE_INFINITY, 1, 1, 0.05},
            {2, Double.POSITIVE_INFINITY, 1, 0.05},
            {2, -1, 1, 0.05},
            {2, 1, 0, 0.05},
            {2, 1, Double.POSITIVE_INFINITY, 0.05},
            {2, 1, 1, 0},
            {2, 1, 1, 1}
        };
        for (double[] r : refused) {
            assertThatThrownBy(() -> Power.twoSample(r[0], r[1], r[2], r[3])).hasMessageEndingWith("(0, ∞) and (0, 1)");
        }
    }

    @Test
    void smallest_isTheOneThatJustReachesWhatIsWanted() {
        assertThat(Power.smallest(n -> n / 10.0, 0.5, 10)).hasValue(5);
        assertThat(Power.smallest(n -> n / 10.0, 1, 10)).hasValue(10);
        assertThat(Power.smallest(n -> n / 10.0, 1, 9)).isEmpty();
    }
}
