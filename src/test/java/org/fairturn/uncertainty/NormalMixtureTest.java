package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
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

    @Test
    void certainty_isAPointWithAllProbability() {
        var mixture = mixture(new double[] {1}, new double[] {2}, new double[] {0});
        assertThat(mixture.quantile(0.3)).isEqualTo(2);
        assertThat(mixture.probabilityBelow(2)).isEqualTo(1);
        assertThat(mixture.probabilityAbove(2)).isEqualTo(0);
    }

    private static NormalMixture mixture(double[] weights, double[] means, double[] variances) {
        return new NormalMixture(weights, means, variances);
    }
}
