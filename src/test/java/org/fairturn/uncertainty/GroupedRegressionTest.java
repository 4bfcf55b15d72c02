package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.junit.jupiter.api.Test;

class GroupedRegressionTest {
    @Test
    void oneGroup_isASimpleRegression() {
        // Ezekiel (1930), speeds and stopping distances of cars, first ten rows (data from memory); the textbook sums
        // here
        double[][] speed = {{4}, {4}, {7}, {7}, {8}, {9}, {10}, {10}, {10}, {11}};
        double[] dist = {2, 10, 4, 22, 16, 10, 18, 26, 34, 17};
        GroupedRegression fit =
                GroupedRegression.of(dist, speed, new int[10], 0).orElseThrow();
        double sxx = 0;
        double sxy = 0;
        double syy = 0;
        for (int i = 0; i < 10; i++) {
            sxx += (speed[i][0] - 8) * (speed[i][0] - 8);
            sxy += (speed[i][0] - 8) * (dist[i] - 15.9);
            syy += (dist[i] - 15.9) * (dist[i] - 15.9);
        }
        double s2 = (syy - sxy * sxy / sxx) / 8;
        assertThat(fit.slopes().get(0)).isCloseTo(sxy / sxx, within(1e-12));
        assertThat(fit.standardUncertainties().get(0)).isCloseTo(Math.sqrt(s2 / sxx), within(1e-12));
        assertThat(fit.f()).isCloseTo(sxy * sxy / sxx / s2, within(1e-10));
        assertThat(fit.degreesOfFreedom()).isEqualTo(8);
    }

    /** Regressors in another unit are the same regressors; small ones used to be taken for one that says nothing. */
    @Test
    void unitOfTheRegressors_changesSlopesByThatUnitAlone() {
        double[] y = {1, 3, 2, 5, 4, 7, 5};
        double[][] x = {{1, 2}, {2, 1}, {3, 5}, {4, 3}, {5, 6}, {6, 4}, {7, 9}};
        double[][] small = new double[7][];
        for (int i = 0; i < 7; i++) {
            small[i] = new double[] {1e-12 * x[i][0], 1e-12 * x[i][1]};
        }
        GroupedRegression fit = GroupedRegression.of(y, x, new int[7], 0).orElseThrow();
        GroupedRegression same = GroupedRegression.of(y, small, new int[7], 0).orElseThrow();
        for (int p = 0; p < 2; p++) {
            assertThat(1e-12 * same.slopes().get(p)).isCloseTo(fit.slopes().get(p), within(1e-9));
            assertThat(1e-12 * same.standardUncertainties().get(p))
                    .isCloseTo(fit.standardUncertainties().get(p), within(1e-9));
        }
        assertThat(same.f()).isCloseTo(fit.f(), within(1e-8));
    }

    /** A tape that always lay along one axis, noted from either end: its cosines differ by rounding alone, and no slope is told. */
    @Test
    void regressorsThatVaryByRoundingAlone_tellNothing() {
        double[] y = {1, 3, 2, 5, 4, 7, 5};
        double[][] x = new double[7][];
        for (int i = 0; i < 7; i++) {
            double axis = Math.toRadians(i % 3 == 0 ? 60 : i % 3 == 1 ? 240 : 420);
            x[i] = new double[] {Math.cos(2 * axis), Math.sin(2 * axis)};
        }
        assertThat(GroupedRegression.of(y, x, new int[7], 0)).isEmpty();
    }

    /** The second, slower route: a column of zeros and ones for each group. */
    @Test
    void groups_areAsIfEachHadAColumnOfItsOwn() {
        Random random = new Random(4);
        int n = 24;
        int[] group = new int[n];
        double[] y = new double[n];
        double[][] x = new double[n][2];
        double[][] columns = new double[n][5];
        for (int i = 0; i < n; i++) {
            group[i] = random.nextInt(3);
            x[i] = new double[] {random.nextGaussian(), random.nextGaussian()};
            y[i] = 10 * group[i] + 2 * x[i][0] - x[i][1] + random.nextGaussian();
            columns[i][group[i]] = 1;
            columns[i][3] = x[i][0];
            columns[i][4] = x[i][1];
        }
        GroupedRegression fit = GroupedRegression.of(y, x, group, 0).orElseThrow();
        OLSMultipleLinearRegression slow = new OLSMultipleLinearRegression();
        slow.setNoIntercept(true);
        slow.newSampleData(y, columns);
        for (int p = 0; p < 2; p++) {
            assertThat(fit.slopes().get(p)).isCloseTo(slow.estimateRegressionParameters()[3 + p], within(1e-10));
            assertThat(fit.standardUncertainties().get(p))
                    .isCloseTo(slow.estimateRegressionParametersStandardErrors()[3 + p], within(1e-10));
        }
        assertThat(fit.degreesOfFreedom()).isEqualTo(n - 5);
    }

    @Test
    void whatHasNoSlope_isEmpty() {
        int[] group = {0, 0, 1, 1};
        double[] y = {1, 2, 3, 4};
        // no regressor varies within its group
        assertThat(GroupedRegression.of(y, new double[][] {{1}, {1}, {2}, {2}}, group, 0))
                .isEmpty();
        // two regressors that run along each other
        assertThat(GroupedRegression.of(
                        new double[] {1, 2, 3, 4, 5},
                        new double[][] {{1, 2}, {2, 4}, {3, 6}, {5, 10}, {6, 12}},
                        new int[5],
                        0))
                .isEmpty();
        assertThat(GroupedRegression.of(new double[0], new double[0][], new int[0], 0))
                .isEmpty();
        // no more values than groups and slopes
        assertThat(GroupedRegression.of(new double[] {1, 2}, new double[][] {{1}, {2}}, new int[2], 0))
                .isEmpty();
    }

    @Test
    void equalValues_findNoSlopeInRounding() {
        double[] y = {0.1, 0.1, 0.1, 0.1, 0.1};
        double[][] x = {{1}, {2}, {3}, {4}, {5}};
        GroupedRegression fit = GroupedRegression.of(y, x, new int[5], 1e-6).orElseThrow();
        assertThat(fit.f()).isLessThan(1e-9);
        assertThat(fit.standardUncertainties().get(0)).isCloseTo(Math.sqrt(1e-6 / 10), within(1e-12));
    }

    /** Two slopes on five values in two groups: one degree of freedom, which is enough. */
    @Test
    void oneDegreeOfFreedom_isEnough_andFIsTheFallOfTheSumOfSquares() {
        int[] group = {0, 0, 0, 1, 1};
        double[] y = {1, 4, 5, 10, 13};
        double[][] x = {{0, 1}, {1, 0}, {2, 2}, {0, 0}, {1, 3}};
        GroupedRegression fit = GroupedRegression.of(y, x, group, 0).orElseThrow();
        assertThat(fit.degreesOfFreedom()).isEqualTo(1);
        double[][] columns = new double[5][];
        for (int i = 0; i < 5; i++) {
            columns[i] = new double[] {1 - group[i], group[i], x[i][0], x[i][1]};
        }
        OLSMultipleLinearRegression slow = new OLSMultipleLinearRegression();
        slow.setNoIntercept(true);
        slow.newSampleData(y, columns);
        // without slopes each group keeps its mean, 10/3 and 11.5: 26/3 + 4.5 are left
        double left = slow.calculateResidualSumOfSquares();
        assertThat(fit.f()).isCloseTo((26.0 / 3 + 4.5 - left) / 2 / left, within(1e-9));
    }
}
