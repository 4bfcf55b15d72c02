package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Quantiles of mixtures held against closed forms and against their own probabilities. */
class NormalMixtureTest {
    /**
     * The first guess is already the answer here, to the last digit. The search used to take that for a step out of its
     * bracket and came back one standard deviation off.
     */
    @Test
    void quantileOfOneNormal_isItsMeanAndSoManyStandardDeviations() {
        var random = new SplittableRandom(11);
        for (int i = 0; i < 2000; i++) {
            double mean = random.nextDouble(-3, 3);
            double deviation = random.nextDouble(1e-3, 0.2);
            double probability = random.nextDouble(0.001, 0.999);
            var mixture = mixture(new double[] {1}, new double[] {mean}, new double[] {deviation * deviation});
            assertThat(mixture.quantile(probability))
                    .as("mean %s, deviation %s, probability %s", mean, deviation, probability)
                    .isCloseTo(mean + Quantiles.normal(probability) * deviation, within(1e-8 * deviation));
        }
    }

    @Test
    void quantileOfAMixture_isWhereItsProbabilityIsReached() {
        var random = new SplittableRandom(12);
        for (int i = 0; i < 500; i++) {
            int parts = random.nextInt(1, 6);
            double[] weights = random.doubles(parts, 0.01, 1).toArray();
            double[] means = random.doubles(parts, 1.5, 1.7).toArray();
            double[] variances = random.doubles(parts, 1e-6, 1e-2).toArray();
            var mixture = mixture(weights, means, variances);
            double probability = random.nextDouble(0.001, 0.999);
            assertThat(mixture.probabilityBelow(mixture.quantile(probability))).isCloseTo(probability, within(1e-7));
        }
    }

    /** At a level just above a half the quantiles of so lopsided a mixture lie both below its mean, 10. */
    @Test
    void interval_holdsTheEstimate() {
        Estimate estimate = mixture(new double[] {0.9, 0.1}, new double[] {0, 100}, new double[] {1e-4, 1})
                .estimate(0.51);
        assertThat(estimate.value()).isCloseTo(10, within(1e-12));
        assertThat(estimate.high()).isEqualTo(estimate.value());
        assertThat(estimate.low()).isBetween(-0.01, 0.0);
    }

    /** Two parts by hand: 0.25·N(1, 4) + 0.75·N(3, 1) has the mean 2.5 and the variance 0.25·(4 + 2.25) + 0.75·(1 + 0.25). */
    @Test
    void movedMixture_keepsItsShape() {
        NormalMixture here = mixture(new double[] {1, 3}, new double[] {1, 3}, new double[] {4, 1});
        assertThat(here.mean()).isCloseTo(2.5, within(1e-14));
        assertThat(here.standardDeviation()).isCloseTo(Math.sqrt(2.5), within(1e-14));
        NormalMixture there = here.moved(10);
        assertThat(there.mean()).isCloseTo(12.5, within(1e-14));
        NormalMixture wider = here.moved(10, 5);
        assertThat(wider.mean()).isCloseTo(12.5, within(1e-14));
        assertThat(wider.standardDeviation()).isCloseTo(Math.sqrt(7.5), within(1e-14));
        for (double x : new double[] {-2, 1, 2.5, 6}) {
            assertThat(there.probabilityBelow(x + 10)).isCloseTo(here.probabilityBelow(x), within(1e-14));
            double exact = 0.25 * Quantiles.normalProbability((x - 1) / 3)
                    + 0.75 * Quantiles.normalProbability((x - 3) / Math.sqrt(6));
            assertThat(wider.probabilityBelow(x + 10)).isCloseTo(exact, within(1e-14));
        }
    }

    /** A point with 0.4 of the probability, which the quantile jumps over, and a normal with the rest. */
    @Test
    void pointAmongNormals_countsWithAllItsProbability() {
        NormalMixture q = mixture(new double[] {0.4, 0.6}, new double[] {0, 1}, new double[] {0, 0.01});
        assertThat(q.probabilityBelow(-1e-9)).isCloseTo(0, within(1e-12));
        assertThat(q.probabilityBelow(0)).isCloseTo(0.4, within(1e-12));
        assertThat(q.quantile(0.2)).isCloseTo(0, within(1e-9));
        assertThat(q.quantile(0.7)).isCloseTo(1, within(1e-9)); // 0.4 and half of 0.6
        assertThat(q.quantile(0.4 + 0.6 * 0.841344746)).isCloseTo(1.1, within(1e-8)); // one sigma, normal table
        assertThat(q.density(1)).isCloseTo(0.6 * 0.398942280 / 0.1, within(1e-8));
    }

    /** Parts drawn together keep mean and variance exactly, and are fewer. */
    @Test
    void condensedMixture_keepsMeanAndVariance() {
        var random = new SplittableRandom(13);
        NormalMixture many = mixture(
                random.doubles(1000, 0, 1).toArray(),
                random.doubles(1000, 1.6, 1.61).toArray(),
                random.doubles(1000, 1e-4, 9e-4).toArray());
        for (NormalMixture few : new NormalMixture[] {many.condensed(), many.condensedRoughly()}) {
            assertThat(few.parts()).hasSizeLessThan(300);
            assertThat(few.mean()).isCloseTo(many.mean(), within(1e-13));
            assertThat(few.standardDeviation()).isCloseTo(many.standardDeviation(), within(1e-13));
            assertThat(few.quantile(0.975)).isCloseTo(many.quantile(0.975), within(1e-2 * many.standardDeviation()));
        }
    }

    @Test
    void whatIsNoProbability_isRefused() {
        NormalMixture q = mixture(new double[] {1}, new double[] {0}, new double[] {1});
        for (double p : new double[] {0, 1, Double.NaN}) {
            assertThatThrownBy(() -> q.quantile(p)).hasMessageContaining("must be in (0, 1)");
        }
        assertThatThrownBy(() -> mixture(new double[] {0}, new double[] {0}, new double[] {1}))
                .hasMessageContaining("must be in (0, ∞)");
    }

    @Test
    void certainty_isAPointWithAllProbability() {
        var mixture = mixture(new double[] {1}, new double[] {2}, new double[] {0});
        assertThat(mixture.quantile(0.3)).isEqualTo(2);
        assertThat(mixture.probabilityBelow(2)).isEqualTo(1);
        assertThat(mixture.probabilityAbove(2)).isEqualTo(0);
    }

    /** Without the library's search: 200 halvings of a bracket that holds the whole mixture. */
    private static double bisected(NormalMixture mixture, double probability) {
        double low = mixture.mean() - 1000 * mixture.standardDeviation();
        double high = mixture.mean() + 1000 * mixture.standardDeviation();
        for (int halving = 0; halving < 200; halving++) {
            double middle = (low + high) / 2;
            if (mixture.probabilityBelow(middle) < probability) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /** Parts of about one width: the last step is below 4e-3 of the spread and leaves its fifth power, 1e-12. */
    @Test
    void quantile_isGoodToTheFifthPowerOfItsLastStep() {
        var random = new SplittableRandom(14);
        for (int i = 0; i < 1000; i++) {
            int parts = random.nextInt(2, 5);
            NormalMixture mixture = mixture(
                    random.doubles(parts, 0.2, 1).toArray(),
                    random.doubles(parts, -1, 1).toArray(),
                    random.doubles(parts, 0.5, 2).toArray());
            double probability = random.nextDouble(0.02, 0.98);
            assertThat(mixture.quantile(probability))
                    .as("mixture %s, probability %s", i, probability)
                    .isCloseTo(bisected(mixture, probability), within(2e-11 * mixture.standardDeviation()));
        }
    }

    /** Narrow parts beside wide ones, in three units: the search may not know of any but the mixture's own spread. */
    @Test
    void quantile_isAsGoodInAnyUnit_andInBothTails() {
        var random = new SplittableRandom(15);
        for (int i = 0; i < 300; i++) {
            double unit = new double[] {1e-6, 1, 1e6}[i % 3];
            double[] weights = {1, random.nextDouble(1e-4, 1), random.nextDouble(1e-3, 1)};
            double[] means = {0, random.nextDouble(-1, 1) * unit, random.nextDouble(-5, 5) * unit};
            double[] variances = random.doubles(3, -4, 1)
                    .map(log -> Math.pow(10, 2 * log) * unit * unit)
                    .toArray();
            NormalMixture mixture = mixture(weights, means, variances);
            double tail = Math.pow(10, random.nextDouble(-6, -0.31));
            double low = mixture.quantile(tail);
            double high = mixture.quantile(1 - tail);
            assertThat(mixture.probabilityBelow(low)).as("lower tail of %s", i).isCloseTo(tail, within(1e-6 * tail));
            assertThat(mixture.probabilityAbove(high)).as("upper tail of %s", i).isCloseTo(tail, within(1e-6 * tail));
        }
    }

    /** 0.6·N(−1, 0.1²) + 0.2·(0 for certain) + 0.2·N(3, 0.1²): its mean, the first guess at the median, is the point itself. */
    @Test
    void pointUnderTheFirstGuess_isSteppedOver() {
        NormalMixture q = mixture(new double[] {0.6, 0.2, 0.2}, new double[] {-1, 0, 3}, new double[] {0.01, 0, 0.01});
        assertThat(q.mean()).isZero();
        // 5/6 of the first part: 0.967422 standard deviations above its mean, normal table
        assertThat(q.quantile(0.5)).isCloseTo(-1 + 0.1 * 0.967422, within(1e-7));
        assertThat(q.density(0)).isCloseTo(0, within(1e-15));
    }

    /** 1e9 and 1e9 + 1 with 1 : 2 have the variance 2/9; differences of squares would have lost it. */
    @Test
    void variance_keepsItsDigitsFarFromZero() {
        NormalMixture far = mixture(new double[] {1, 2}, new double[] {1e9, 1e9 + 1}, new double[] {0, 0});
        assertThat(far.standardDeviation()).isCloseTo(Math.sqrt(2) / 3, within(1e-7));
        NormalMixture back = mixture(new double[] {2, 1}, new double[] {1e9 + 1, 1e9}, new double[] {0, 0});
        assertThat(back.mean()).isEqualTo(far.mean());
        assertThat(back.standardDeviation()).isCloseTo(Math.sqrt(2) / 3, within(1e-7));
    }

    @Test
    void partWithoutWeight_isNoPart() {
        NormalMixture q = mixture(new double[] {1, 0, 1}, new double[] {0, 1000, 1}, new double[] {1, 1, 1});
        assertThat(q.parts()).hasSize(2);
        NormalMixture few = q.condensed();
        assertThat(few.parts()).hasSize(2);
        assertThat(few.mean()).isCloseTo(0.5, within(1e-15));
        assertThat(few.quantile(0.5)).isCloseTo(0.5, within(1e-9));
    }

    /** Each of 100 different parts twice: they make 100 again, with half as much to each. The 65th is the one a bin is numbered 0 for. */
    @Test
    void partsThatAreTheSame_areDrawnTogether_andNoOthers() {
        int different = 100;
        double[] weights = new double[2 * different];
        double[] means = new double[2 * different];
        double[] variances = new double[2 * different];
        for (int i = 0; i < 2 * different; i++) {
            int part = i % different;
            weights[i] = 1 + part % 3;
            variances[i] = part == 64 ? 1.05 : Math.exp(0.5 * (part % 8 + 1));
            means[i] = part == 0 || part == 64 ? 0 : 40 * (part / 8);
        }
        NormalMixture all = mixture(weights, means, variances);
        NormalMixture few = all.condensed();
        assertThat(few.parts()).hasSize(different);
        assertThat(few.mean()).isCloseTo(all.mean(), within(1e-10));
        for (double x : new double[] {-5, 0.5, 41, 300}) {
            assertThat(few.probabilityBelow(x)).isCloseTo(all.probabilityBelow(x), within(1e-13));
        }
    }

    /** What is drawn together roughly keeps mean and variance and is off by no more than it says; what is kept, by hand. */
    @Test
    void roughSum_isOffByLessThanItSays() {
        var random = new SplittableRandom(16);
        NormalMixture a = mixture(
                random.doubles(300, 0, 1).toArray(),
                random.doubles(300, 1.6, 1.61).toArray(),
                random.doubles(300, 1e-4, 9e-4).toArray());
        NormalMixture b = mixture(
                random.doubles(300, 0, 1).toArray(),
                random.doubles(300, 0.2, 0.22).toArray(),
                random.doubles(300, 1e-5, 1e-3).toArray());
        NormalMixture rough = a.plusRoughly(b);
        assertThat(rough.mean()).isCloseTo(a.mean() + b.mean(), within(1e-13));
        assertThat(rough.standardDeviation())
                .isCloseTo(Math.hypot(a.standardDeviation(), b.standardDeviation()), within(1e-13));
        assertThat(rough.parts().size())
                .isLessThan(
                        a.condensedRoughly().plus(b.condensedRoughly()).parts().size());
        for (double z = -3; z <= 3; z += 0.5) {
            double x = rough.mean() + z * rough.standardDeviation();
            double exact = 0;
            for (NormalMixture.Normal p : a.parts()) {
                for (NormalMixture.Normal q : b.parts()) {
                    exact +=
                            p.w() * q.w() * Quantiles.normalProbability((x - p.m() - q.m()) / Math.sqrt(p.v() + q.v()));
                }
            }
            assertThat(rough.probabilityBelow(x)).isCloseTo(exact, within(NormalMixture.ROUGHLY));
        }
    }

    private static NormalMixture mixture(double[] weights, double[] means, double[] variances) {
        return new NormalMixture(weights, means, variances);
    }
}
