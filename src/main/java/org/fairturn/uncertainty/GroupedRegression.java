package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;

/**
 * Slopes common to several groups, each group having a level of its own: least squares of the values against the regressors,
 * both taken from their group's mean.
 *
 * @param slopes one a regressor
 * @param standardUncertainties of the slopes, as many
 * @param degreesOfFreedom values less groups less regressors, 1 or more
 * @param f F of all slopes together against none of them
 * @see "Analysis of covariance; any textbook of linear models"
 */
public record GroupedRegression(
        List<Double> slopes, List<Double> standardUncertainties, int degreesOfFreedom, double f) {
    /**
     * Keeps its own copy of each list.
     *
     * @param slopes one a regressor
     * @param standardUncertainties of the slopes, as many
     * @param degreesOfFreedom values less groups less regressors, 1 or more
     * @param f F of all slopes together against none of them
     */
    public GroupedRegression {
        slopes = List.copyOf(slopes);
        standardUncertainties = List.copyOf(standardUncertainties);
    }

    /**
     * Fits the slopes.
     *
     * @param y values
     * @param x regressors, a row a value
     * @param group of each value, in [0, groups)
     * @param leastVariance what the variance of a value is at least
     * @return empty where the values are too few or the regressors do not vary enough within groups
     */
    public static Optional<GroupedRegression> of(double[] y, double[][] x, int[] group, double leastVariance) {
        int groups = (int) Arrays.stream(group).distinct().count();
        int slopes = x.length == 0 ? 0 : x[0].length;
        int degrees = y.length - groups - slopes;
        if (slopes == 0 || degrees < 1) {
            return Optional.empty();
        }
        double[] centred = centred(y, group);
        double[][] design = new double[y.length][slopes];
        for (int p = 0; p < slopes; p++) {
            int column = p;
            double[] c =
                    centred(Arrays.stream(x).mapToDouble(row -> row[column]).toArray(), group);
            for (int i = 0; i < c.length; i++) {
                design[i][p] = c[i];
            }
        }
        SingularValueDecomposition values = new SingularValueDecomposition(new Array2DRowRealMatrix(design));
        double largest = Arrays.stream(x)
                .flatMapToDouble(Arrays::stream)
                .map(Math::abs)
                .max()
                .orElseThrow();
        // regressors that nearly run along each other, or hardly vary, tell no slopes; rounding leaves about 1e-16
        if (!(values.getSingularValues()[slopes - 1] > 1e-12 * largest) || values.getInverseConditionNumber() < 1e-6) {
            return Optional.empty();
        }
        OLSMultipleLinearRegression fit = new OLSMultipleLinearRegression();
        fit.setNoIntercept(true);
        fit.newSampleData(centred, design);
        double residual = fit.calculateResidualSumOfSquares();
        double variance = Math.max(residual / degrees, leastVariance);
        // (XᵀX)⁻¹ from the singular values: the regression itself takes a determinant below 1e-11 for none, whatever
        // the unit
        RealMatrix inverse = values.getCovariance(0);
        double[] slope = fit.estimateRegressionParameters();
        List<Double> estimates = new ArrayList<>();
        List<Double> uncertainties = new ArrayList<>();
        for (int p = 0; p < slopes; p++) {
            estimates.add(slope[p]);
            uncertainties.add(Math.sqrt(variance * inverse.getEntry(p, p)));
        }
        double explained = Math.max(0, Arrays.stream(centred).map(v -> v * v).sum() - residual);
        return Optional.of(new GroupedRegression(estimates, uncertainties, degrees, explained / slopes / variance));
    }

    private static double[] centred(double[] values, int[] group) {
        double[] result = new double[values.length];
        for (int i = 0; i < values.length; i++) {
            double sum = 0;
            int count = 0;
            for (int j = 0; j < values.length; j++) {
                if (group[j] == group[i]) {
                    sum += values[j] - values[i];
                    count++;
                }
            }
            result[i] = -sum / count;
        }
        return result;
    }
}
