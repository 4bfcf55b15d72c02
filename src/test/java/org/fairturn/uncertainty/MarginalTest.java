package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** The density of one standard deviation where everything is known in closed form. */
class MarginalTest {
    /** ln σ normal about ln 0.03 with 0.4, drawn from 17 points 0.4 apart. */
    private static Marginal logNormal() {
        double[] density = IntStream.rangeClosed(-8, 8)
                .mapToDouble(z -> Math.exp(-z * z / 2.0))
                .toArray();
        return new Marginal(-3.2, 3.2, density, u -> Math.log(0.03) + u);
    }

    /** 1.959964, 1.644854 and 0.674490: normal table. The class promises 0.2 %. */
    @Test
    void quantiles_areThoseOfALogNormal() {
        Marginal sigma = logNormal();
        for (double[] row : new double[][] {
            {0.025, -1.959964}, {0.05, -1.644854}, {0.25, -0.674490}, {0.5, 0}, {0.75, 0.674490}, {0.975, 1.959964}
        }) {
            double expected = 0.03 * Math.exp(0.4 * row[1]);
            assertThat(sigma.quantile(row[0])).isCloseTo(expected, within(0.002 * expected));
        }
    }

    /** On the log scale the interval is ±z·0.4, whatever its level; to first order 0.4 of σ is its standard uncertainty. */
    @Test
    void summary_isMedianAndEqualTails_withTheSpreadOfTheLogarithm() {
        for (double[] row : new double[][] {{0.95, 1.959964}, {0.5, 0.674490}}) {
            Estimate sigma = logNormal().summary(row[0]);
            assertThat(sigma.value()).isCloseTo(0.03, within(6e-5));
            assertThat(sigma.low()).isCloseTo(0.03 * Math.exp(-0.4 * row[1]), within(6e-5));
            assertThat(sigma.high()).isCloseTo(0.03 * Math.exp(0.4 * row[1]), within(6e-5 * 3));
            assertThat(sigma.standardUncertainty()).isCloseTo(0.4 * 0.03, within(1e-4));
            assertThat(sigma.level()).isEqualTo(row[0]);
        }
    }
}
