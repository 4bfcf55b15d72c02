package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class AgreementTest {
    private static final double LAST_DIGIT = 5e-7;

    /** A constructed example, worked out by hand: 0.12/√(0.10² + 0.06²) with expanded, twice that with standard uncertainties. */
    @Test
    void scores_ofAnExampleByHand() {
        assertThat(Agreement.en(10.12, 0.10, 10.00, 0.06)).isCloseTo(1.028992, within(LAST_DIGIT));
        assertThat(Agreement.zeta(10.12, 0.05, 10.00, 0.03)).isCloseTo(2.057983, within(LAST_DIGIT));
    }

    @Test
    void zeta_isTwiceEn_withTheSameCoverageFactorOnBothSides_andChangesSignWithTheSides() {
        var random = new SplittableRandom(1);
        for (int i = 0; i < 100; i++) {
            double x = random.nextDouble(-3, 3);
            double y = random.nextDouble(-3, 3);
            double ux = random.nextDouble(0.01, 1);
            double uy = random.nextDouble(0, 1);
            double zeta = Agreement.zeta(x, ux, y, uy);
            assertThat(zeta).isCloseTo(2 * Agreement.en(x, 2 * ux, y, 2 * uy), within(1e-12));
            assertThat(zeta).isCloseTo(-Agreement.zeta(y, uy, x, ux), within(1e-12));
        }
    }

    @Test
    void withoutAnyUncertainty_thereIsNoScore() {
        assertThatThrownBy(() -> Agreement.zeta(1, 0, 2, 0)).hasMessageContaining("one of them above 0");
        assertThatThrownBy(() -> Agreement.zeta(1, Double.NaN, 2, 1)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void density_isTheSlopeOfTheDistribution() {
        var mixture = new NormalMixture(new double[] {1, 2}, new double[] {0, 0.3}, new double[] {0.04, 0.01});
        double h = 1e-5;
        for (double x = -1; x < 1; x += 0.1) {
            double slope = (mixture.probabilityBelow(x + h) - mixture.probabilityBelow(x - h)) / (2 * h);
            assertThat(mixture.density(x)).isCloseTo(slope, within(1e-7));
        }
    }

    /** One side may be known exactly; a side whose uncertainty is negative or without bound has no score. */
    @Test
    void oneExactSide_isScoredByTheOthersUncertainty() {
        assertThat(Agreement.zeta(1, 0, 2, 0.5)).isEqualTo(-2);
        assertThat(Agreement.zeta(2, 0.5, 1, 0)).isEqualTo(2);
        assertThatThrownBy(() -> Agreement.zeta(1, Double.POSITIVE_INFINITY, 2, 1))
                .hasMessage("uncertainties are Infinity and 1.0; must be in [0, ∞), one of them above 0");
        assertThatThrownBy(() -> Agreement.zeta(1, -1, 2, 1)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Agreement.zeta(1, 1, 2, -1)).isInstanceOf(IllegalArgumentException.class);
    }
}
