package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class ScatterPosteriorTest {
    /** With a prior far wider than the scatter a contrast tends to Student's t with one degree of freedom less (flat in σ). */
    @Test
    void widePrior_givesStudentsT() {
        int nu = 12;
        double s = 0.01;
        NormalMixture q =
                ScatterPosterior.of(nu * s * s, nu, new HalfT(1e3), 1e-7).contrast(0.2, 0.5);
        // flat in σ: σ^−ν·exp(−νs²/(2σ²)) dσ is Student's with ν − 1 degrees of freedom and scale s·√(ν/(ν − 1))
        double scale = s * Math.sqrt(0.5 * nu / (nu - 1));
        for (double p : new double[] {0.025, 0.3, 0.9, 0.995}) {
            assertThat(q.quantile(p)).isCloseTo(0.2 + scale * Quantiles.student(p, nu - 1), within(1e-8));
        }
    }

    /** The same as the grid over both standard deviations gives for readings of one circle, where it has nothing of σ_b in it. */
    @Test
    void agreesWithTheGridOfBothStandardDeviations() {
        double[] y = {1.8, 1.812, 1.79, 1.805, 1.81};
        CircleSummary circle = CircleSummary.of(y, new double[] {1, 1, 1, 1, 1});
        Estimate grid = RepeatabilityPosterior.of(
                        new CircleData(List.of(List.of(circle))), new HalfT(1e-9), new HalfT(0.02), 0.0003)
                .contrast(new double[] {1}, 0, 0)
                .estimate(0.95);
        Estimate own = ScatterPosterior.of(circle.withinSumOfSquares(), 4, new HalfT(0.02), 0.0003)
                .contrast(circle.mean(), 1 / circle.weight())
                .estimate(0.95);
        assertThat(own.low()).isCloseTo(grid.low(), within(1e-7));
        assertThat(own.high()).isCloseTo(grid.high(), within(1e-7));
    }

    @Test
    void withoutData_everythingRestsOnThePrior() {
        assertThat(ScatterPosterior.of(0, 0, new HalfT(0.02), 1e-9).assumedShare())
                .isCloseTo(1, within(1e-3));
        assertThat(ScatterPosterior.of(50 * 4e-4, 50, new HalfT(0.02), 1e-9).assumedShare())
                .isLessThan(0.1);
    }

    /** Nothing measured: σ² has the mean of half a t with 4 degrees of freedom, 2·scale², and σ its quantiles. */
    @Test
    void withoutData_itIsThePrior() {
        NormalMixture q = ScatterPosterior.of(0, 0, new HalfT(0.02), 1e-6).contrast(0.3, 0.25);
        assertThat(q.mean()).isCloseTo(0.3, within(1e-12));
        // the heavy tail beyond a thousand scales takes some 1e-6 off
        assertThat(q.standardDeviation()).isCloseTo(0.5 * Math.sqrt(2) * 0.02, within(1e-4 * 0.02));
    }

    /** The slope of ln u against ln scale, by two posteriors with scales 1e-4 to either side. */
    @Test
    void assumedShare_isTheSlopeAgainstTheScale() {
        double step = 1e-4;
        for (int nu : new int[] {1, 3, 8}) {
            double s2 = nu * 0.03 * 0.03;
            double up = ScatterPosterior.of(s2, nu, new HalfT(0.02 * (1 + step)), 1e-4)
                    .contrast(0, 1)
                    .standardDeviation();
            double down = ScatterPosterior.of(s2, nu, new HalfT(0.02 * (1 - step)), 1e-4)
                    .contrast(0, 1)
                    .standardDeviation();
            double share = ScatterPosterior.of(s2, nu, new HalfT(0.02), 1e-4).assumedShare();
            assertThat(share).isCloseTo((Math.log(up) - Math.log(down)) / (2 * step), within(1e-4));
            assertThat(share).isBetween(0.01, 0.99);
        }
    }

    /** The same in millimetres; and with so many degrees of freedom that a likelihood not scaled to its peak has no double. */
    @Test
    void unitsAndManyReadings_areNoMatter() {
        double metres = ScatterPosterior.of(0.012, 3, new HalfT(0.05), 3e-4)
                .contrast(0, 1)
                .standardDeviation();
        double millimetres = ScatterPosterior.of(0.012e6, 3, new HalfT(50), 0.3)
                .contrast(0, 1)
                .standardDeviation();
        assertThat(millimetres).isCloseTo(1000 * metres, within(1e-6 * 1000 * metres));
        int nu = 2000;
        double many = ScatterPosterior.of(nu * 1e-6, nu, new HalfT(0.02), 1e-6)
                .contrast(0, 1)
                .standardDeviation();
        assertThat(many).isCloseTo(1e-3, within(1e-6)); // s, to 1/ν
    }

    @Test
    void roughly_isOffByLessThanItSays() {
        for (int nu : new int[] {1, 4, 20}) {
            NormalMixture full =
                    ScatterPosterior.of(nu * 1e-4, nu, new HalfT(0.02), 3e-4).contrast(0, 1);
            NormalMixture rough = ScatterPosterior.roughly(nu * 1e-4, nu, new HalfT(0.02), 3e-4)
                    .contrast(0, 1);
            assertThat(rough.parts()).hasSizeLessThan(full.parts().size() * 2 / 3);
            for (double x = -0.04; x <= 0.04; x += 0.005) {
                assertThat(rough.probabilityBelow(x))
                        .isCloseTo(full.probabilityBelow(x), within(ScatterPosterior.ROUGHLY));
            }
        }
    }

    /** Mean by mean they rise, and all together make the variance of the whole. */
    @Test
    void levels_holdAllVariance() {
        ScatterPosterior posterior = ScatterPosterior.of(4e-4, 3, new HalfT(0.02), 0.0003);
        double all = 0;
        double last = 0;
        List<double[]> levels = posterior.levels(8);
        for (int i = 0; i < levels.size(); i++) {
            all += levels.get(i)[0] * levels.get(i)[1];
            assertThat(levels.get(i)[1]).isGreaterThan(last);
            last = levels.get(i)[1];
            if (i < levels.size() - 1) {
                assertThat(levels.get(i)[0]).isBetween(1 / 8.0, 1 / 4.0);
            }
        }
        assertThat(Math.sqrt(all)).isCloseTo(posterior.contrast(0, 1).standardDeviation(), within(1e-12));
    }

    @Test
    void levels_holdAllProbability() {
        List<double[]> levels =
                ScatterPosterior.of(4e-4, 3, new HalfT(0.02), 0.0003).levels(8);
        assertThat(levels.stream().mapToDouble(l -> l[0]).sum()).isCloseTo(1, within(1e-12));
        assertThat(levels.size()).isBetween(7, 9);
    }

    @Test
    void impossibleInput_isRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> ScatterPosterior.of(-1, 2, new HalfT(0.02), 0.0003))
                .withMessage(
                        "S is -1.0, ν 2, r 3.0E-4, prior scale 0.02; must be in [0, ∞), [0, ∞), (0, ∞) and (0, ∞)");
        for (Runnable refused : List.<Runnable>of(
                () -> ScatterPosterior.of(1, 2, new HalfT(0.02), 0),
                () -> ScatterPosterior.of(1, -1, new HalfT(0.02), 0.0003),
                () -> ScatterPosterior.of(1, 2, HalfT.FLAT, 0.0003))) {
            assertThatIllegalArgumentException()
                    .isThrownBy(refused::run)
                    .withMessageEndingWith("; must be in [0, ∞), [0, ∞), (0, ∞) and (0, ∞)");
        }
    }
}
