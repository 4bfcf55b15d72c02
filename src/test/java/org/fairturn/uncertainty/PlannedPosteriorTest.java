package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.junit.jupiter.api.Test;

class PlannedPosteriorTest {
    private static final HalfT CIRCLES = new HalfT(0.050);
    private static final HalfT READINGS = new HalfT(0.020);
    private static final double RESOLUTION = 0.001 / Math.sqrt(12);

    /** The median data of a design, made of circles, put to the posterior that trials are analysed with. */
    @Test
    void medianOutcome_isThePosteriorOfSuchCircles() {
        for (int[] design : new int[][] {{2, 2, 2}, {4, 3, 3}, {2, 6, 1}, {2, 20, 2}, {4, 1, 2}}) {
            int cells = design[0];
            int circles = design[1];
            int readings = design[2];
            var planned = new PlannedPosterior(0.030, 0.012, readings, CIRCLES, READINGS, RESOLUTION);
            PlannedPosterior.Outcome median =
                    planned.outcomes(cells, circles, 1, 1).get(0);
            CircleData data = median(cells, circles, readings, planned.meanVariance());
            double[] c = new double[cells];
            c[0] = -1;
            c[1] = 1;
            RepeatabilityPosterior slow = RepeatabilityPosterior.of(data, CIRCLES, READINGS, RESOLUTION);
            NormalMixture expected = slow.contrast(c, 0, 1e-4, 0.5);
            NormalMixture found = median.contrast(2.0 / circles, 1e-4, 0.5);
            for (double x : new double[] {0.01, 0.03, 0.06, 0.1}) {
                // 1e-4 for drawing together; the slower route is good to 1e-6
                assertThat(found.probabilityAbove(x))
                        .as("%d cells, %d circles, %d readings, beyond %s m", cells, circles, readings, x)
                        .isCloseTo(expected.probabilityAbove(x), within(2e-4));
            }
        }
    }

    private static CircleData median(int cells, int circles, int readings, double meanVariance) {
        double between = meanVariance * medianOf(cells * (circles - 1));
        double withinEach = 0.012 * 0.012 * medianOf(cells * circles * (readings - 1)) / cells / circles;
        List<List<CircleSummary>> data = new ArrayList<>();
        for (int k = 0; k < cells; k++) {
            // evenly spread about 0, with its share of the sum of squares
            double[] even = IntStream.range(0, circles)
                    .mapToDouble(i -> i - (circles - 1) / 2.0)
                    .toArray();
            double squares = IntStream.range(0, circles)
                    .mapToDouble(i -> even[i] * even[i])
                    .sum();
            double scale = squares == 0 ? 0 : Math.sqrt(between / cells / squares);
            data.add(IntStream.range(0, circles)
                    .mapToObj(i -> new CircleSummary(even[i] * scale, readings, readings, withinEach))
                    .toList());
        }
        return new CircleData(data);
    }

    private static double medianOf(int degrees) {
        return degrees == 0 ? 0 : new ChiSquaredDistribution(null, degrees).inverseCumulativeProbability(0.5);
    }

    @Test
    void sumOfTwoMachines_isTheSumOfTheirMixtures() {
        var planned = new PlannedPosterior(0.030, 0.012, 2, CIRCLES, READINGS, RESOLUTION);
        List<PlannedPosterior.Outcome> outcomes = planned.outcomes(4, 3, 5, 1);
        PlannedPosterior.Outcome a = outcomes.get(0);
        PlannedPosterior.Outcome b = outcomes.get(4);
        for (double factor : new double[] {0.25, 0.5}) { // the other machine driven as often, and half as often
            NormalMixture expected = a.contrast(0.25, 1e-5, 0).plus(b.contrast(factor, 0, 0));
            NormalMixture found = a.contrast(0.25, 1e-5, b, factor);
            for (double x : new double[] {0.005, 0.02, 0.05}) {
                assertThat(found.probabilityAbove(x)).isCloseTo(expected.probabilityAbove(x), within(2e-4));
            }
        }
    }

    @Test
    void weights_sumToOne() {
        var planned = new PlannedPosterior(0.030, 0.012, 2, CIRCLES, READINGS, RESOLUTION);
        assertThat(planned.outcomes(4, 3, 7, 3).stream()
                        .mapToDouble(PlannedPosterior.Outcome::weight)
                        .sum())
                .isCloseTo(1, within(1e-12));
    }

    @Test
    void whatCannotBePlannedFor_isRefused() {
        assertThatThrownBy(() -> new PlannedPosterior(0, 0.01, 2, CIRCLES, READINGS, 0))
                .hasMessage("σ_b is 0.0 m, σ_w 0.01 m, readings 2; must be in (0, ∞) m, (0, ∞) m and [1, ∞)");
    }

    /** 30 mm from circle to circle and 12 mm from reading to reading: 900 + 144/2 for the mean of two, 900 + 144 for one. */
    @Test
    void variancesExpected_areSumsOfSquares() {
        var planned = new PlannedPosterior(0.030, 0.012, 2, CIRCLES, READINGS, RESOLUTION);
        assertThat(planned.meanVariance()).isCloseTo(972e-6, within(1e-15));
        assertThat(planned.newCircleVariance()).isCloseTo(1044e-6, within(1e-15));
        for (double[] refused : new double[][] {
            {Double.POSITIVE_INFINITY, 0.01, 2}, {0.01, 0, 2}, {0.01, Double.POSITIVE_INFINITY, 2}, {0.01, 0.01, 0}
        }) {
            assertThatThrownBy(() -> new PlannedPosterior(
                            refused[0], refused[1], (int) refused[2], CIRCLES, READINGS, RESOLUTION))
                    .hasMessageEndingWith("; must be in (0, ∞) m, (0, ∞) m and [1, ∞)");
        }
    }
}
