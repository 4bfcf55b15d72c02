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
    }
}
