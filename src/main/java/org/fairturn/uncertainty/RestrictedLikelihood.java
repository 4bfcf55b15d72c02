package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;

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
        weights = data.cells().stream()
                .flatMap(List::stream)
                .mapToDouble(CircleSummary::weight)
                .sorted()
                .distinct()
                .toArray();
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

    private List<Group> group(List<CircleSummary> cell) {
        Map<Double, List<CircleSummary>> byWeight =
                cell.stream().collect(Collectors.groupingBy(CircleSummary::weight, TreeMap::new, Collectors.toList()));
        List<Group> groups = new ArrayList<>();
        byWeight.forEach((weight, circles) -> {
            double mean = circles.stream()
                    .mapToDouble(c -> c.mean() - origin)
                    .average()
                    .orElseThrow();
            double squares = circles.stream()
                    .mapToDouble(c -> (c.mean() - origin - mean) * (c.mean() - origin - mean))
                    .sum();
            groups.add(new Group(Arrays.binarySearch(weights, weight), circles.size(), mean, squares));
        });
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
        for (int g = 0; g < weights.length; g++) {
            double v = circleVariance + readingVariance / weights[g];
            precisions[g] = 1 / v;
            // a cell of one weight has the precision n/v, whose log is −ln v and a constant
            minusTwice += (logCount[g] == 0 ? 0 : logCount[g] * Math.log(v)) + plainSumOfSquares[g] * precisions[g];
        }
        double product = 1; // one logarithm for many cells, as long as their product is far from overflowing
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

    private double precision(List<Group> cell, double sigmaB, double sigmaW) {
        double precision = 0;
        for (Group group : cell) {
            precision += group.circles() / circleVariance(sigmaB, sigmaW, weights[group.weightIndex()]);
        }
        return precision;
    }

    /** D̂ of a cell, from the origin. */
    private double mean(List<Group> cell, double sigmaB, double sigmaW, double precision) {
        double sum = 0;
        for (Group group : cell) {
            sum += group.circles() * group.mean() / circleVariance(sigmaB, sigmaW, weights[group.weightIndex()]);
        }
        return sum / precision;
    }

    /** The cells at one pair of standard deviations. */
    static final class At {
        private final double[] cellMean;
        private final double[] cellVariance;

        private At(double[] cellMean, double[] cellVariance) {
            this.cellMean = cellMean;
            this.cellVariance = cellVariance;
        }

        double cellVariance(int k) {
            return cellVariance[k];
        }

        /** Σ c_k·D̂_k. */
        double mean(double[] c) {
            double sum = 0;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * cellMean[k];
            }
            return sum;
        }

        /** Σ c_k²·var D̂_k. */
        double variance(double[] c) {
            double sum = 0;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * c[k] * cellVariance[k];
            }
            return sum;
        }
    }

    At at(double sigmaB, double sigmaW) {
        double[] cellMean = new double[cells.size()];
        double[] cellVariance = new double[cells.size()];
        for (int k = 0; k < cells.size(); k++) {
            List<Group> cell = cells.get(k);
            double precision = precision(cell, sigmaB, sigmaW);
            cellVariance[k] = 1 / precision;
            // one weight: the plain mean, exactly the same at every pair of standard deviations
            cellMean[k] = origin + (cell.size() == 1 ? cell.get(0).mean() : mean(cell, sigmaB, sigmaW, precision));
        }
        return new At(cellMean, cellVariance);
    }
}
