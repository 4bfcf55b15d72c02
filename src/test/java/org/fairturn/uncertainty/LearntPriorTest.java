package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class LearntPriorTest {
    private static final LearntPrior PRIOR = new LearntPrior(0.018, 0.5, new HalfT(0.05), 0.1);

    @ParameterizedTest
    @ValueSource(doubles = {0.004, 0.018, 0.06, 0.4})
    void density_integratesToTheProbability(double sigma) {
        double integral = new IterativeLegendreGaussIntegrator(20, 1e-11, 1e-13)
                .integrate(1_000_000, x -> Math.exp(PRIOR.logDensity(Math.exp(x)) + x), -25, Math.log(sigma));
        assertThat(PRIOR.probabilityBelow(sigma)).isCloseTo(integral, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.001, 0.025, 0.5, 0.95, 0.999})
    void quantile_isTheInverseOfTheProbability(double probability) {
        assertThat(PRIOR.probabilityBelow(PRIOR.quantile(probability))).isCloseTo(probability, within(1e-9));
    }

    @ParameterizedTest
    @ValueSource(doubles = {1e-4, 0.005, 0.018, 0.04, 0.3})
    void slope_isTheDifferenceQuotientOfStretching(double sigma) {
        double h = 1e-5;
        double difference =
                (stretched(1 + h).logDensity(sigma) - stretched(1 - h).logDensity(sigma)) / (2 * h);
        assertThat(PRIOR.slopeWithScale(sigma)).isCloseTo(difference, within(1e-6));
    }

    private static LearntPrior stretched(double factor) {
        return new LearntPrior(
                factor * PRIOR.median(), PRIOR.logSpread(), new HalfT(factor * 0.05), PRIOR.usualShare());
    }

    /** Far out the density falls as σ⁻⁵, as that of half of t with 4 degrees of freedom does. */
    @Test
    void tail_isAsHeavyAsTheUsualPriors() {
        double fall = PRIOR.logDensity(2000) - PRIOR.logDensity(1000);
        assertThat(fall).isCloseTo(-5 * Math.log(2), within(1e-6));
        assertThat(PRIOR.slopeWithScale(2000)).isCloseTo(4, within(1e-6));
    }

    /**
     * One circle a cell with one reading shows nothing of the scatter: a contrast is then the prior's own, summed here over a
     * fine even grid of either logarithm. Where the posterior's grid began as coarse as for half of t, the widest prior was off
     * by 5e-5.
     */
    @ParameterizedTest(name = "log spread {0}")
    @ValueSource(doubles = {0.1, 0.5, 1.2})
    void posteriorOfDataThatShowNothing_isThePrior(double logSpread) {
        LearntPrior circles = new LearntPrior(0.018, logSpread, new HalfT(0.05), 0.01);
        LearntPrior readings = new LearntPrior(0.006, logSpread, new HalfT(0.02), 0.01);
        double resolution = 0.001 / Math.sqrt(12);
        CircleSummary one = new CircleSummary(1.6, 1, 1, 0);
        RepeatabilityPosterior posterior = RepeatabilityPosterior.of(
                new CircleData(List.of(List.of(one), List.of(one))), circles, readings, resolution);
        assertThat(posterior.settled()).isTrue();
        NormalMixture q = posterior.contrast(new double[] {-1, 1}, 0, 0);
        double step = 22.0 / 800;
        for (double x : new double[] {0.01, 0.05, 0.15}) {
            double sum = 0;
            for (int i = 0; i <= 800; i++) {
                double b = Math.exp(-16 + step * i);
                double densityB = Math.exp(circles.logDensity(b)) * b * step;
                for (int j = 0; densityB > 1e-15 && j <= 800; j++) {
                    double w = Math.exp(-16 + step * j);
                    sum += densityB
                            * Math.exp(readings.logDensity(w))
                            * w
                            * step
                            * Quantiles.normalProbability(
                                    -x / Math.sqrt(2 * (b * b + w * w + resolution * resolution)));
                }
            }
            assertThat(q.probabilityAbove(x)).isCloseTo(sum, within(1e-6));
        }
    }

    @Test
    void withNothingLearnt_itIsTheUsualPrior() {
        HalfT usual = new HalfT(0.05);
        LearntPrior none = new LearntPrior(0.01, 0.3, usual, 1);
        double constant = none.logDensity(0.001) - usual.logDensity(0.001);
        for (double sigma : new double[] {0, 0.01, 0.05, 2}) {
            assertThat(none.logDensity(sigma) - usual.logDensity(sigma)).isCloseTo(constant, within(1e-12));
            assertThat(none.slopeWithScale(sigma)).isCloseTo(usual.slopeWithScale(sigma), within(1e-12));
        }
        // t with 4 degrees of freedom, 97.5 %: 2.776 in any table
        assertThat(none.quantile(0.95)).isCloseTo(0.05 * 2.776, within(0.05 * 5e-4));
    }

    @Test
    void whatIsOutOfRange_isNamed() {
        assertThatThrownBy(() -> new LearntPrior(Double.NaN, 0.5, new HalfT(0.05), 0.1))
                .hasMessage("median is NaN m, log spread 0.5, usual share 0.1, usual scale 0.05 m;"
                        + " must be in (0, ∞) m, (0, ∞), (0, 1] and (0, ∞) m");
        assertThatThrownBy(() -> new LearntPrior(0.01, 0.5, HalfT.FLAT, 0.1))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> PRIOR.quantile(1)).hasMessage("probability is 1.0; must be in (0, 1)");
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0.5, 0.1",
        "Infinity, 0.5, 0.1",
        "0.01, 0, 0.1",
        "0.01, Infinity, 0.1",
        "0.01, 0.5, 0",
        "0.01, 0.5, 1.1"
    })
    void endsOfTheRanges_areRefused(double median, double logSpread, double share) {
        HalfT usual = new HalfT(0.05);
        assertThatThrownBy(() -> new LearntPrior(median, logSpread, usual, share))
                .hasMessageEndingWith("; must be in (0, ∞) m, (0, ∞), (0, 1] and (0, ∞) m");
        assertThatThrownBy(() -> PRIOR.quantile(0)).hasMessage("probability is 0.0; must be in (0, 1)");
    }

    /** Ten in ln σ: quantiles far below any millimetre and far above any metre. */
    @Test
    void quantilesOfTrialsThatDifferWildly_areFoundToo() {
        LearntPrior wild = new LearntPrior(0.018, 10, new HalfT(0.05), 0.01);
        for (double p : new double[] {1e-6, 0.001, 0.999}) {
            assertThat(wild.probabilityBelow(wild.quantile(p))).isCloseTo(p, within(1e-9 * 10));
        }
    }
}
