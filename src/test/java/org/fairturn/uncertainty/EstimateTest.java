package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Values with their intervals, and circles as sums. */
class EstimateTest {
    @Test
    void intervalStays_whereValueAndUncertaintyAreWorkedOutApart() {
        Estimate estimate = new Estimate(2, 0.5, 1.1, 3.2, 0.95);
        assertThat(estimate.halfWidth()).isCloseTo(1.05, within(1e-15));
        assertThat(estimate.about(2.1, 0.6)).isEqualTo(new Estimate(2.1, 0.6, 1.1, 3.2, 0.95));
    }

    /** 1, 2 and 4 with the variance factors 1, 2 and 4: Σ1/w = 1.75, Σy/w = 3, squares about 12/7 by hand. */
    @Test
    void circle_isTheWeightedSumOfItsReadings() {
        CircleSummary circle = CircleSummary.of(new double[] {1, 2, 4}, new double[] {1, 2, 4});
        double mean = 12.0 / 7;
        assertThat(circle.mean()).isCloseTo(mean, within(1e-14));
        assertThat(circle.weight()).isCloseTo(1.75, within(1e-14));
        assertThat(circle.readings()).isEqualTo(3);
        // 25/49 + 4/49/2 + 256/49/4 = 91/49
        assertThat(circle.withinSumOfSquares()).isCloseTo(91.0 / 49, within(1e-14));
    }

    @Test
    void data_countTheirCirclesAndReadings() {
        CircleSummary three = CircleSummary.of(new double[] {1, 2, 4}, new double[] {1, 2, 4});
        CircleSummary one = CircleSummary.of(new double[] {5}, new double[] {1});
        CircleData data = new CircleData(List.of(List.of(three, one), List.of(one)));
        assertThat(data.circles()).isEqualTo(3);
        assertThat(data.readings()).isEqualTo(5);
        assertThat(data.meanWeight()).isCloseTo(3.75 / 3, within(1e-14));
        assertThat(data.withinSumOfSquares()).isCloseTo(91.0 / 49, within(1e-14));
        assertThat(data.readingDegreesOfFreedom()).isEqualTo(2);
        assertThat(data.circleDegreesOfFreedom()).isEqualTo(1);
    }

    @Test
    void whatIsNoCircle_isRefused() {
        for (Runnable refused : List.<Runnable>of(
                () -> new CircleSummary(Double.NaN, 1, 1, 0),
                () -> new CircleSummary(1, 0, 1, 0),
                () -> new CircleSummary(1, Double.POSITIVE_INFINITY, 1, 0),
                () -> new CircleSummary(1, 1, 0, 0),
                () -> new CircleSummary(1, 1, 1, -1),
                () -> new CircleSummary(1, 1, 1, Double.POSITIVE_INFINITY))) {
            assertThatIllegalArgumentException()
                    .isThrownBy(refused::run)
                    .withMessageEndingWith("; must be finite, (0, ∞), 1 or more, and [0, ∞)");
        }
        for (List<List<CircleSummary>> cells : List.<List<List<CircleSummary>>>of(List.of(), List.of(List.of()))) {
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> new CircleData(cells))
                    .withMessageEndingWith(" circles; must be one or more cells of one or more");
        }
    }
}
