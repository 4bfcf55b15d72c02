package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.List;

/**
 * Restricted likelihood × priors on a grid over ln σ_b and ln σ_w.
 *
 * <p>On these axes the trapezoidal rule converges geometrically (L. N. Trefethen, J. A. C. Weideman, The exponentially
 * convergent trapezoidal rule, SIAM Review 56 (2014) 385–458). The grid covers all points within e⁻²⁷ of the peak; steps are
 * halved until the integral changes by less than 1e-9, at most three times.
 */
final class PosteriorGrid {
    private static final double NEGLIGIBLE = 27;
    private static final int SEARCH_STEPS = 20;
    private static final int SEARCH_ROUNDS = 8;
    private static final int FIRST_STEPS = 24;
    private static final int LAST_STEPS = 192;
    private static final double SETTLED = 1e-9;

    private final RestrictedLikelihood likelihood;
    private final HalfT circlePrior;
    private final HalfT readingPrior;
    private final Result result;

    /**
     * One grid point.
     *
     * @param weight its share of the posterior
     * @param at the cells there
     */
    record Node(double weight, double sigmaB, double sigmaW, RestrictedLikelihood.At at) {}

    /**
     * The integral.
     *
     * @param nodes the points that carry more than 1e-13 of the posterior
     * @param logIntegral ln of the integral of likelihood × priors, up to a constant
     * @param settled whether it stopped changing before the steps ran out
     */
    record Result(List<Node> nodes, double logIntegral, Marginal circle, Marginal reading, boolean settled) {}

    /** A box in (ln σ_b, ln σ_w). */
    private record Box(double lowB, double highB, double lowW, double highW) {
        double b(int i, int steps) {
            return lowB + (highB - lowB) * i / steps;
        }

        double w(int j, int steps) {
            return lowW + (highW - lowW) * j / steps;
        }

        double area() {
            return (highB - lowB) * (highW - lowW);
        }
    }

    PosteriorGrid(
            CircleData data,
            RestrictedLikelihood likelihood,
            HalfT circlePrior,
            HalfT readingPrior,
            double resolution) {
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        Box box = search(data, resolution);
        Result last = integrate(box, FIRST_STEPS, Double.NaN);
        for (int steps = 2 * FIRST_STEPS; steps <= LAST_STEPS && !last.settled(); steps *= 2) {
            last = integrate(box, steps, last.logIntegral());
        }
        result = last;
    }

    Result result() {
        return result;
    }

    private double logDensity(double lnB, double lnW) {
        double sigmaB = Math.exp(lnB);
        double sigmaW = Math.exp(lnW);
        // + lnB + lnW: the density is over the logs
        return likelihood.at(sigmaB, sigmaW).logLikelihood()
                + circlePrior.logDensity(sigmaB)
                + readingPrior.logDensity(sigmaW)
                + lnB
                + lnW;
    }

    /** Narrows a generous box down to the points that matter. */
    private Box search(CircleData data, double resolution) {
        double spread = spread(data);
        double finite = Math.max(finite(circlePrior), finite(readingPrior));
        double high = 1e3 * Math.max(finite, Math.max(spread, resolution));
        double floor = resolution > 0 ? resolution : 1e-3 * (spread > 0 ? spread : finite);
        double mostWeight = data.cells().stream()
                .flatMap(List::stream)
                .mapToDouble(CircleSummary::weight)
                .max()
                .orElseThrow();
        double low = 3e-3 * floor;
        Box box = new Box(
                Math.log(low / Math.sqrt(Math.max(1, mostWeight))), Math.log(high), Math.log(low), Math.log(high));
        for (int round = 0; round < SEARCH_ROUNDS; round++) {
            Box narrowed = narrow(box);
            boolean done = narrowed.area() > 0.8 * box.area();
            box = narrowed;
            if (done) {
                break;
            }
        }
        return box;
    }

    private static double finite(HalfT prior) {
        return Double.isInfinite(prior.scale()) ? 0 : prior.scale();
    }

    private static double spread(CircleData data) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double within = 0;
        for (List<CircleSummary> cell : data.cells()) {
            for (CircleSummary circle : cell) {
                least = Math.min(least, circle.mean());
                most = Math.max(most, circle.mean());
                within = Math.max(within, Math.sqrt(circle.withinSumOfSquares()));
            }
        }
        return Math.max(most - least, within);
    }

    private Box narrow(Box box) {
        int n = SEARCH_STEPS;
        double[][] f = new double[n + 1][n + 1];
        double peak = Double.NEGATIVE_INFINITY;
        for (int i = 0; i <= n; i++) {
            for (int j = 0; j <= n; j++) {
                f[i][j] = logDensity(box.b(i, n), box.w(j, n));
                peak = Math.max(peak, f[i][j]);
            }
        }
        int firstB = n;
        int lastB = 0;
        int firstW = n;
        int lastW = 0;
        for (int i = 0; i <= n; i++) {
            for (int j = 0; j <= n; j++) {
                if (f[i][j] > peak - NEGLIGIBLE) {
                    firstB = Math.min(firstB, i);
                    lastB = Math.max(lastB, i);
                    firstW = Math.min(firstW, j);
                    lastW = Math.max(lastW, j);
                }
            }
        }
        return new Box(
                box.b(Math.max(0, firstB - 1), n),
                box.b(Math.min(n, lastB + 1), n),
                box.w(Math.max(0, firstW - 1), n),
                box.w(Math.min(n, lastW + 1), n));
    }

    private Result integrate(Box box, int steps, double coarser) {
        double stepB = (box.highB() - box.lowB()) / steps;
        double stepW = (box.highW() - box.lowW()) / steps;
        // Below the box the density over the logs falls as σ does: the rest of the sum is a geometric series.
        double tailB = 1 + 1 / Math.expm1(stepB);
        double tailW = 1 + 1 / Math.expm1(stepW);
        double[][] f = new double[steps + 1][steps + 1];
        double peak = Double.NEGATIVE_INFINITY;
        for (int i = 0; i <= steps; i++) {
            for (int j = 0; j <= steps; j++) {
                f[i][j] = logDensity(box.b(i, steps), box.w(j, steps));
                peak = Math.max(peak, f[i][j]);
            }
        }
        double[] densityB = new double[steps + 1];
        double[] densityW = new double[steps + 1];
        double total = 0;
        for (int i = 0; i <= steps; i++) {
            for (int j = 0; j <= steps; j++) {
                f[i][j] = Math.exp(f[i][j] - peak) * (i == 0 ? tailB : 1) * (j == 0 ? tailW : 1);
                densityB[i] += f[i][j] / (i == 0 ? tailB : 1);
                densityW[j] += f[i][j] / (j == 0 ? tailW : 1);
                total += f[i][j];
            }
        }
        List<Node> nodes = new ArrayList<>();
        double[] axisB = new double[steps + 1];
        double[] axisW = new double[steps + 1];
        for (int i = 0; i <= steps; i++) {
            axisB[i] = box.b(i, steps);
            axisW[i] = box.w(i, steps);
            for (int j = 0; j <= steps; j++) {
                double weight = f[i][j] / total;
                if (weight > 1e-13) {
                    double sigmaB = Math.exp(axisB[i]);
                    double sigmaW = Math.exp(box.w(j, steps));
                    nodes.add(new Node(weight, sigmaB, sigmaW, likelihood.at(sigmaB, sigmaW)));
                }
            }
        }
        double logIntegral = peak + Math.log(total * stepB * stepW);
        return new Result(
                List.copyOf(nodes),
                logIntegral,
                new Marginal(axisB, densityB),
                new Marginal(axisW, densityW),
                Math.abs(logIntegral - coarser) < SETTLED);
    }
}
