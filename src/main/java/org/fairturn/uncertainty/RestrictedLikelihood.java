package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Restricted likelihood of (σ_b, σ_w), the cell means integrated out.
 *
 * <p>With v_ki = σ_b² + σ_w²/W_ki the variance of a circle mean and D̂_k = Σ(ȳ_ki/v_ki)/Σ(1/v_ki):
 *
 * <pre>
 * −2 ln L = (n − I)·ln σ_w² + S_w/σ_w² + Σ ln v_ki + Σ_k ln Σ_i(1/v_ki) + Σ(ȳ_ki − D̂_k)²/v_ki
 * </pre>
 *
 * with n readings, I circles and S_w the sum of squares within circles; constants are left out.
 *
 * @see "H. D. Patterson, R. Thompson, Recovery of inter-block information when block sizes are unequal, Biometrika 58
 *     (1971) 545–554; written here for circles nested in cells"
 */
final class RestrictedLikelihood {
    /** Half of what the logarithm of a double may be, since a quotient is taken of two products. */
    private static final double RANGE = 345;
    /** More factors than this take longer than a logarithm. */
    private static final int FEW = 24;
    /** As many precisions multiply to what a double holds, from 1e-12 m² to 1e12 m². */
    private static final int FEW_SURELY = 20;

    /** Circles of one cell that have the same weight, so that they enter through their count, mean and spread alone. */
    private record Group(int weightIndex, int circles, double mean, double sumOfSquares) {}

    /** The different weights of circles; most trials have one or two. */
    private final double[] weights;
    /** Circles of each weight, less one for each cell that holds this weight alone. */
    private final int[] logCount;
    /** Sum of squares between circles of each weight, in cells that hold this weight alone. */
    private final double[] plainSumOfSquares;

    private final Group[][] cells;
    private final Group[][] mixedCells;
    private final double origin;
    private final double withinSumOfSquares;
    private final int readingDegreesOfFreedom;
    private final double resolution;
    private final double resolutionVariance;
    /** How much larger the logarithm of a cell's precision may be than that of one circle. */
    private final double manyCircles;

    /**
     * The likelihood of these circles.
     *
     * @param resolution standard uncertainty that no reading falls below, in [0, ∞); see RepeatabilityPosterior
     */
    RestrictedLikelihood(CircleData data, double resolution) {
        weights = weights(data);
        origin = data.cells().get(0).get(0).mean();
        cells = data.cells().stream().map(this::group).toArray(Group[][]::new);
        mixedCells = Arrays.stream(cells).filter(groups -> groups.length > 1).toArray(Group[][]::new);
        logCount = new int[weights.length];
        plainSumOfSquares = new double[weights.length];
        for (Group[] cell : cells) {
            for (Group group : cell) {
                logCount[group.weightIndex()] += group.circles();
            }
            if (cell.length == 1) {
                Group only = cell[0];
                logCount[only.weightIndex()]--;
                plainSumOfSquares[only.weightIndex()] += only.sumOfSquares();
            }
        }
        withinSumOfSquares = data.withinSumOfSquares();
        readingDegreesOfFreedom = data.readingDegreesOfFreedom();
        this.resolution = resolution;
        resolutionVariance = resolution * resolution;
        manyCircles = Math.log(data.circles());
    }

    /** The different weights in rising order. */
    private static double[] weights(CircleData data) {
        double[] all = new double[data.circles()];
        int n = 0;
        for (List<CircleSummary> cell : data.cells()) {
            for (CircleSummary circle : cell) {
                all[n++] = circle.weight();
            }
        }
        Arrays.sort(all);
        int different = 0;
        for (double weight : all) {
            if (different == 0 || weight != all[different - 1]) {
                all[different++] = weight;
            }
        }
        return Arrays.copyOf(all, different);
    }

    private Group[] group(List<CircleSummary> cell) {
        int[] circles = new int[weights.length];
        double[] sums = new double[weights.length];
        for (CircleSummary circle : cell) {
            int g = Arrays.binarySearch(weights, circle.weight());
            circles[g]++;
            sums[g] += circle.mean() - origin;
        }
        double[] squares = new double[weights.length];
        for (CircleSummary circle : cell) {
            int g = Arrays.binarySearch(weights, circle.weight());
            double residual = circle.mean() - origin - sums[g] / circles[g];
            squares[g] += residual * residual;
        }
        List<Group> groups = new ArrayList<>();
        for (int g = 0; g < weights.length; g++) {
            if (circles[g] > 0) {
                groups.add(new Group(g, circles[g], sums[g] / circles[g], squares[g]));
            }
        }
        return groups.toArray(new Group[0]);
    }

    int cells() {
        return cells.length;
    }

    double resolution() {
        return resolution;
    }

    /** Variance of the mean of a circle of that weight. */
    double circleVariance(double sigmaB, double sigmaW, double circleWeight) {
        return sigmaB * sigmaB + (sigmaW * sigmaW + resolutionVariance) / circleWeight;
    }

    /** ln L, up to a constant. */
    double logLikelihood(double sigmaB, double sigmaW) {
        double readingVariance = readingVariance(sigmaW);
        double[] between = new double[1];
        new Row(new double[] {readingVariance}).logBetweenCircles(sigmaB * sigmaB, between);
        return logWithinCircles(readingVariance) + between[0];
    }

    /** σ_w² with what no reading falls below. */
    double readingVariance(double sigmaW) {
        return sigmaW * sigmaW + resolutionVariance;
    }

    /** The part of ln L in σ_w alone. */
    double logWithinCircles(double readingVariance) {
        return readingDegreesOfFreedom == 0
                ? 0
                : -(readingDegreesOfFreedom * Math.log(readingVariance) + withinSumOfSquares / readingVariance) / 2;
    }

    /**
     * The rest of ln L along a row of points with one σ_b: a grid asks for thousands of points, and a loop over nothing but
     * plain arrays is worked out several points at a time.
     */
    final class Row {
        private final double[] readingVariances;
        /** [weight][point]. */
        private final double[][] precisions;

        /** Of the mean of a circle's readings. */
        private final double leastVariance;

        private final double mostVariance;
        /** Products whose logarithm is taken once. */
        private final double[] above;

        private final double[] below;
        private final double[] precision;
        private final double[] mean;

        /** With these variances of a reading, one for each point. */
        Row(double[] readingVariances) {
            int n = readingVariances.length;
            this.readingVariances = readingVariances;
            double least = readingVariances[0];
            double most = readingVariances[0];
            for (double v : readingVariances) {
                least = Math.min(least, v);
                most = Math.max(most, v);
            }
            this.leastVariance = least / weights[weights.length - 1];
            this.mostVariance = most / weights[0];
            this.precisions = new double[weights.length][n];
            this.above = new double[n];
            this.below = new double[n];
            this.precision = new double[n];
            this.mean = new double[n];
        }

        /**
         * ln L without {@link #logWithinCircles} at each point.
         *
         * @param result overwritten
         */
        void logBetweenCircles(double circleVariance, double[] result) {
            Arrays.fill(result, 0);
            Arrays.fill(below, 1);
            Arrays.fill(above, 1);
            int factors = factors(circleVariance);
            int few = Math.min(FEW, factors);
            for (int g = 0; g < weights.length; g++) {
                sumOfSquares(circleVariance, weights[g], plainSumOfSquares[g], precisions[g], result);
                // a cell of one weight has the precision n/v, whose log is −ln v and a constant
                if (logCount[g] > few) {
                    addLog(precisions[g], -logCount[g], result);
                } else {
                    few -= logCount[g];
                    for (int i = 0; i < logCount[g]; i++) {
                        multiply(below, precisions[g]);
                    }
                }
            }
            for (int k = 0; k < mixedCells.length; k++) {
                mixed(mixedCells[k], result);
                if (k < factors) {
                    multiply(above, precision);
                } else {
                    addLog(precision, 1, result);
                }
            }
            for (int j = 0; j < result.length; j++) {
                result[j] = -(result[j] + Math.log(above[j] / below[j])) / 2;
            }
        }

        private void sumOfSquares(double circleVariance, double weight, double squares, double[] p, double[] result) {
            double perWeight = 1 / weight;
            for (int j = 0; j < p.length; j++) {
                p[j] = 1 / (circleVariance + readingVariances[j] * perWeight);
                result[j] += squares * p[j];
            }
        }

        private void mixed(Group[] cell, double[] result) {
            Arrays.fill(precision, 0);
            Arrays.fill(mean, 0);
            for (Group group : cell) {
                weigh(precisions[group.weightIndex], group.circles, group.circles * group.mean);
            }
            for (int j = 0; j < mean.length; j++) {
                mean[j] /= precision[j];
            }
            for (Group group : cell) {
                scatter(precisions[group.weightIndex], group.circles, group.mean, group.sumOfSquares, result);
            }
        }

        private void weigh(double[] p, double circles, double circlesTimesMean) {
            for (int j = 0; j < p.length; j++) {
                precision[j] += circles * p[j];
                mean[j] += circlesTimesMean * p[j];
            }
        }

        private void scatter(double[] p, double circles, double groupMean, double squares, double[] result) {
            for (int j = 0; j < p.length; j++) {
                double residual = groupMean - mean[j];
                result[j] += (squares + circles * residual * residual) * p[j];
            }
        }

        /** How many precisions of a row multiply to what a double holds, whichever they are. */
        private int factors(double circleVariance) {
            double least = circleVariance + leastVariance;
            double most = circleVariance + mostVariance;
            return (int) (RANGE / (Math.max(Math.abs(Math.log(least)), Math.abs(Math.log(most))) + manyCircles));
        }

        private void multiply(double[] product, double[] x) {
            for (int j = 0; j < x.length; j++) {
                product[j] *= x[j];
            }
        }

        private void addLog(double[] x, double times, double[] result) {
            for (int j = 0; j < x.length; j++) {
                result[j] += times * Math.log(x[j]);
            }
        }
    }

    /** What {@link #logLikelihood} leaves out and differs from one way of sorting the same circles into cells to another. */
    double logConstant() {
        return Arrays.stream(cells)
                .filter(cell -> cell.length == 1)
                .mapToDouble(cell -> -Math.log(cell[0].circles()) / 2)
                .sum();
    }

    /** One cell by itself at some points. */
    static final class CellAt {
        /** What it makes of −2·ln L, the part of readings within circles apart. */
        final double[] deviance;
        /** D̂; null where it is the same everywhere, as all circles have the same weight. */
        private final double[] mean;

        private final double meanOfAll;
        /** Of D̂. */
        private final double[] variance;

        private CellAt(double[] deviance, double[] mean, double meanOfAll, double[] variance) {
            this.deviance = deviance;
            this.mean = mean;
            this.meanOfAll = meanOfAll;
            this.variance = variance;
        }
    }

    /**
     * A cell at some points.
     *
     * @param circleVariance σ_b² at each
     * @param readingVariance σ_w² at each, with what no reading falls below
     */
    CellAt cellAt(int k, double[] circleVariance, double[] readingVariance) {
        int n = circleVariance.length;
        Group[] cell = cells[k];
        double first = cell[0].mean;
        double[] precision = new double[n];
        double[] mean = new double[n];
        double[] deviance = new double[n];
        double[] product = new double[n];
        double[] p = new double[n];
        Arrays.fill(product, 1);
        int factors = 0;
        for (Group group : cell) {
            double perWeight = 1 / weights[group.weightIndex];
            double circles = group.circles;
            double off = circles * (group.mean - first);
            double squares = group.sumOfSquares + off * (group.mean - first);
            for (int i = 0; i < n; i++) {
                p[i] = 1 / (circleVariance[i] + readingVariance[i] * perWeight);
                precision[i] += circles * p[i];
                mean[i] += off * p[i];
                deviance[i] += squares * p[i];
            }
            if (group.circles > FEW) {
                for (int i = 0; i < n; i++) {
                    deviance[i] -= circles * Math.log(p[i]);
                }
            } else {
                for (int c = 0; c < group.circles; c++) {
                    for (int i = 0; i < n; i++) {
                        product[i] *= p[i];
                    }
                    if (++factors % FEW_SURELY == 0) {
                        takeLog(product, deviance);
                    }
                }
            }
        }
        double[] variance = new double[n];
        for (int i = 0; i < n; i++) {
            variance[i] = 1 / precision[i];
            deviance[i] -= mean[i] * mean[i] * variance[i];
            mean[i] = origin + first + mean[i] * variance[i];
            product[i] *= variance[i];
        }
        takeLog(product, deviance);
        return new CellAt(deviance, cell.length == 1 ? null : mean, origin + first, variance);
    }

    private static void takeLog(double[] product, double[] deviance) {
        for (int i = 0; i < product.length; i++) {
            deviance[i] -= Math.log(product[i]);
            product[i] = 1;
        }
    }

    /** The cells at pairs of standard deviations. */
    static final class Cells {
        /** [cell][pair]; no means where they are the same at every pair. */
        private final double[][] means;

        private final double[][] variances;
        private final double[] meanOfAll;

        private Cells(double[] meanOfAll, double[][] means, double[][] variances) {
            this.meanOfAll = meanOfAll;
            this.means = means;
            this.variances = variances;
        }

        /** Of cells known at more points, what they are at some of these. */
        static Cells of(CellAt[] cells, int[] points) {
            double[] meanOfAll = new double[cells.length];
            double[][] means = new double[cells.length][];
            double[][] variances = new double[cells.length][];
            for (int k = 0; k < cells.length; k++) {
                meanOfAll[k] = cells[k].meanOfAll;
                means[k] = cells[k].mean == null ? null : at(points, cells[k].mean);
                variances[k] = at(points, cells[k].variance);
            }
            return new Cells(meanOfAll, means, variances);
        }

        private static double[] at(int[] points, double[] values) {
            double[] there = new double[points.length];
            for (int i = 0; i < there.length; i++) {
                there[i] = values[points[i]];
            }
            return there;
        }

        int size() {
            return means.length;
        }

        /** Whether the best estimate of a cell is not the same at every pair. */
        boolean varies(int cell) {
            return means[cell] != null;
        }

        double mean(int cell, int pair) {
            return means[cell] == null ? meanOfAll[cell] : means[cell][pair];
        }

        double variance(int cell, int pair) {
            return variances[cell][pair];
        }

        /** offset + Σ c_k·D̂_k at each pair. */
        double[] means(double[] c, double offset) {
            double fixed = offset;
            for (int k = 0; k < c.length; k++) {
                fixed += means[k] == null ? c[k] * meanOfAll[k] : 0;
            }
            double[] sum = new double[variances[0].length];
            Arrays.fill(sum, fixed);
            for (int k = 0; k < c.length; k++) {
                if (c[k] != 0 && means[k] != null) {
                    for (int i = 0; i < sum.length; i++) {
                        sum[i] += c[k] * means[k][i];
                    }
                }
            }
            return sum;
        }

        /** further + Σ c_k²·var D̂_k at each pair. */
        double[] variances(double[] c, double further) {
            double[] sum = new double[variances[0].length];
            Arrays.fill(sum, further);
            for (int k = 0; k < c.length; k++) {
                if (c[k] != 0) {
                    double square = c[k] * c[k];
                    for (int i = 0; i < sum.length; i++) {
                        sum[i] += square * variances[k][i];
                    }
                }
            }
            return sum;
        }
    }

    /** The cells at one pair of standard deviations. */
    At at(double sigmaB, double sigmaW) {
        return new At(sigmaB, sigmaW);
    }

    /** The cells at one pair of standard deviations, each worked out only where it is asked for. */
    final class At {
        private final double sigmaB;
        private final double sigmaW;

        private At(double sigmaB, double sigmaW) {
            this.sigmaB = sigmaB;
            this.sigmaW = sigmaW;
        }

        /** Σ c_k·D̂_k. */
        double mean(double[] c) {
            double mean = 0;
            for (int k = 0; k < c.length; k++) {
                if (c[k] != 0) {
                    double sum = 0;
                    for (Group group : cells[k]) {
                        sum += precision(group) * group.mean();
                    }
                    mean += c[k] * (origin + sum / precision(k));
                }
            }
            return mean;
        }

        /** Σ c_k²·var D̂_k. */
        double variance(double[] c) {
            double variance = 0;
            for (int k = 0; k < c.length; k++) {
                variance += c[k] == 0 ? 0 : c[k] * c[k] / precision(k);
            }
            return variance;
        }

        private double precision(int cell) {
            double precision = 0;
            for (Group group : cells[cell]) {
                precision += precision(group);
            }
            return precision;
        }

        private double precision(Group group) {
            return group.circles() / circleVariance(sigmaB, sigmaW, weights[group.weightIndex()]);
        }
    }

    /** The cells at pairs of standard deviations. */
    Cells cells(double[] sigmaB, double[] sigmaW) {
        int n = sigmaB.length;
        double[][] variance = new double[weights.length][n];
        for (int g = 0; g < weights.length; g++) {
            for (int i = 0; i < n; i++) {
                variance[g][i] = circleVariance(sigmaB[i], sigmaW[i], weights[g]);
            }
        }
        double[] meanOfAll = new double[cells.length];
        double[][] means = new double[cells.length][];
        double[][] variances = new double[cells.length][n];
        for (int k = 0; k < cells.length; k++) {
            Group[] cell = cells[k];
            if (cell.length == 1) { // one weight: the plain mean, exactly the same at every pair
                Group only = cell[0];
                meanOfAll[k] = origin + only.mean();
                for (int i = 0; i < n; i++) {
                    variances[k][i] = variance[only.weightIndex()][i] / only.circles();
                }
            } else {
                means[k] = new double[n];
                for (Group group : cell) {
                    for (int i = 0; i < n; i++) {
                        double precision = group.circles() / variance[group.weightIndex()][i];
                        variances[k][i] += precision;
                        means[k][i] += precision * group.mean();
                    }
                }
                for (int i = 0; i < n; i++) {
                    means[k][i] = origin + means[k][i] / variances[k][i];
                    variances[k][i] = 1 / variances[k][i];
                }
            }
        }
        return new Cells(meanOfAll, means, variances);
    }
}
