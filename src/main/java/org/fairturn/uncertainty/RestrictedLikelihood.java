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
    /** Circles of one cell that have the same weight, so that they enter through their count, mean and spread alone. */
    private record Group(int weightIndex, int circles, double mean, double sumOfSquares) {}

    /** The different weights of circles; most trials have one or two. */
    private final double[] weights;
    /** Circles of each weight, less one for each cell that holds this weight alone. */
    private final int[] logCount;
    /** Sum of squares between circles of each weight, in cells that hold this weight alone. */
    private final double[] plainSumOfSquares;

    private final List<List<Group>> cells = new ArrayList<>();
    private final Group[][] mixedCells;
    private final double origin;
    private final double withinSumOfSquares;
    private final int readingDegreesOfFreedom;
    private final double resolutionVariance;

    /**
     * The likelihood of these circles.
     *
     * @param resolution standard uncertainty that no reading falls below, in [0, ∞); see RepeatabilityPosterior
     */
    RestrictedLikelihood(CircleData data, double resolution) {
        weights = weights(data);
        origin = data.cells().get(0).get(0).mean();
        for (List<CircleSummary> cell : data.cells()) {
            cells.add(group(cell));
        }
        mixedCells = cells.stream()
                .filter(groups -> groups.size() > 1)
                .map(groups -> groups.toArray(new Group[0]))
                .toArray(Group[][]::new);
        logCount = new int[weights.length];
        plainSumOfSquares = new double[weights.length];
        for (List<Group> cell : cells) {
            for (Group group : cell) {
                logCount[group.weightIndex()] += group.circles();
            }
            if (cell.size() == 1) {
                Group only = cell.get(0);
                logCount[only.weightIndex()]--;
                plainSumOfSquares[only.weightIndex()] += only.sumOfSquares();
            }
        }
        withinSumOfSquares = data.withinSumOfSquares();
        readingDegreesOfFreedom = data.readingDegreesOfFreedom();
        resolutionVariance = resolution * resolution;
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

    private List<Group> group(List<CircleSummary> cell) {
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
        return groups;
    }

    int cells() {
        return cells.size();
    }

    /** Variance of the mean of a circle of that weight. */
    double circleVariance(double sigmaB, double sigmaW, double circleWeight) {
        return sigmaB * sigmaB + (sigmaW * sigmaW + resolutionVariance) / circleWeight;
    }

    /** ln L, up to a constant. */
    double logLikelihood(double sigmaB, double sigmaW) {
        double readingVariance = readingVariance(sigmaW);
        return logWithinCircles(readingVariance)
                + logBetweenCircles(sigmaB * sigmaB, readingVariance, new double[weights.length]);
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

    /** A place to work for {@link #logBetweenCircles}, which is asked for thousands of points. */
    double[] precisions() {
        return new double[weights.length];
    }

    /**
     * The rest of ln L.
     *
     * @param precisions from {@link #precisions}; overwritten
     */
    double logBetweenCircles(double circleVariance, double readingVariance, double[] precisions) {
        double minusTwice = 0;
        double product = 1; // one logarithm for all, as long as their product is far from overflowing
        for (int g = 0; g < weights.length; g++) {
            double v = circleVariance + readingVariance / weights[g];
            precisions[g] = 1 / v;
            // a cell of one weight has the precision n/v, whose log is −ln v and a constant
            minusTwice += plainSumOfSquares[g] * precisions[g];
            for (int i = 0; i < logCount[g]; i++) {
                product *= v;
                if (!(product < 1e100 && product > 1e-100)) {
                    minusTwice += Math.log(product);
                    product = 1;
                }
            }
        }
        for (Group[] cell : mixedCells) {
            double precision = 0;
            double sum = 0;
            for (Group group : cell) {
                double p = group.circles * precisions[group.weightIndex];
                precision += p;
                sum += p * group.mean;
            }
            double mean = sum / precision;
            for (Group group : cell) {
                double residual = group.mean - mean;
                minusTwice +=
                        (group.sumOfSquares + group.circles * residual * residual) * precisions[group.weightIndex];
            }
            product *= precision;
            if (!(product < 1e200 && product > 1e-200)) {
                minusTwice += Math.log(product);
                product = 1;
            }
        }
        return -(minusTwice + Math.log(product)) / 2;
    }

    /** What {@link #logLikelihood} leaves out and differs from one way of sorting the same circles into cells to another. */
    double logConstant() {
        return cells.stream()
                .filter(cell -> cell.size() == 1)
                .mapToDouble(cell -> -Math.log(cell.get(0).circles()) / 2)
                .sum();
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
                    for (Group group : cells.get(k)) {
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
            for (Group group : cells.get(cell)) {
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
        double[] meanOfAll = new double[cells.size()];
        double[][] means = new double[cells.size()][];
        double[][] variances = new double[cells.size()][n];
        for (int k = 0; k < cells.size(); k++) {
            List<Group> cell = cells.get(k);
            if (cell.size() == 1) { // one weight: the plain mean, exactly the same at every pair
                Group only = cell.get(0);
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
