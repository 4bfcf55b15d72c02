package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;

class PastScatterTest {
    private static CircleSummary circle(double mean, int readings, double squares) {
        return new CircleSummary(mean, readings, readings, squares);
    }

    /** By hand: means 10, 14 and 15 about 13, and 20 and 26 about 23; a third and a half of 1/W is left out of each cell. */
    @Test
    void circlesOfUnlikeWeight_areSummedAboutThePlainMeanOfTheirCell() {
        PastScatter found = PastScatter.of(new CircleData(List.of(
                List.of(circle(10, 1, 0), circle(14, 3, 2), circle(15, 2, 5)),
                List.of(circle(20, 2, 3), circle(26, 4, 7)))));
        assertThat(found.circleDegrees()).isEqualTo(3);
        assertThat(found.circleSquares()).isCloseTo(9 + 1 + 4 + 9 + 9, within(1e-12));
        double inverse = 2 / 3.0 * (1 + 1 / 3.0 + 1 / 2.0) + 1 / 2.0 * (1 / 2.0 + 1 / 4.0);
        assertThat(found.circleWeight()).isCloseTo(3 / inverse, within(1e-12));
        assertThat(found.readingDegrees()).isEqualTo(7);
        assertThat(found.readingSquares()).isEqualTo(17);
    }

    /** One circle a cell shows nothing of how circles scatter; its weight is the mean one. */
    @Test
    void oneCircleACell_showsReadingsAlone() {
        PastScatter found =
                PastScatter.of(new CircleData(List.of(List.of(circle(10, 1, 0)), List.of(circle(14, 3, 2)))));
        assertThat(found).isEqualTo(new PastScatter(0, 0, 2, 2, 2));
    }

    /** Degrees and squares add up; 1/W is the mean of both, by degrees. */
    @Test
    void together_theExpectationOfTheSquaresIsKept() {
        PastScatter a = new PastScatter(2, 5, 4, 3, 7);
        PastScatter b = new PastScatter(6, 11, 1, 8, 13);
        PastScatter both = a.plus(b);
        assertThat(both.circleDegrees()).isEqualTo(8);
        assertThat(both.circleSquares()).isEqualTo(16);
        assertThat(both.circleWeight()).isCloseTo(8 / (2 / 4.0 + 6 / 1.0), within(1e-12));
        assertThat(both.readingDegrees()).isEqualTo(11);
        assertThat(both.readingSquares()).isEqualTo(20);
        PastScatter neither = new PastScatter(0, 0, 4, 3, 7).plus(new PastScatter(0, 0, 2, 8, 13));
        assertThat(neither).isEqualTo(new PastScatter(0, 0, 4, 11, 20));
    }

    /** χ² of either sum of squares, at σ_b = 3, σ_w = 4 and r = 2: variances 9 + 20/5 and 20. */
    @Test
    void likelihood_isThatOfTwoSumsOfSquares() {
        PastScatter trial = new PastScatter(2, 52, 5, 3, 60);
        double circles = -(2 * Math.log(13) + 52 / 13.0) / 2;
        double readings = -(3 * Math.log(20) + 60 / 20.0) / 2;
        assertThat(trial.logOfCircles(3, 4, 2)).isCloseTo(circles, within(1e-12));
        assertThat(trial.logOfReadings(4, 2)).isCloseTo(readings, within(1e-12));
        assertThat(trial.logLikelihood(3, 4, 2)).isCloseTo(circles + readings, within(1e-12));
        // without degrees of freedom nothing is said
        assertThat(new PastScatter(0, 0, 5, 0, 0).logLikelihood(3, 4, 2)).isZero();
    }

    @Test
    void whatIsOutOfRange_isRefused() {
        assertThatThrownBy(() -> new PastScatter(-1, 0, 1, 0, 0))
                .hasMessage("degrees of freedom are -1 and 0, sums of squares 0.0 and 0.0 m², weight 1.0; must be 0 or"
                        + " more, [0, ∞) m² and (0, ∞)");
        double[][] refused = {
            {0, -1, 1, 0, 0},
            {0, Double.POSITIVE_INFINITY, 1, 0, 0},
            {0, 0, 0, 0, 0},
            {0, 0, Double.POSITIVE_INFINITY, 0, 0},
            {0, 0, 1, -1, 0},
            {0, 0, 1, 0, -1},
            {0, 0, 1, 0, Double.POSITIVE_INFINITY}
        };
        for (double[] r : refused) {
            assertThatThrownBy(() -> new PastScatter((int) r[0], r[1], r[2], (int) r[3], r[4]))
                    .isInstanceOf(IllegalArgumentException.class);
        }
    }
}
