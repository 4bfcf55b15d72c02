package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Restricted likelihood × priors on a grid over ln σ_b and ln σ_w.
 *
 * <p>On these axes the trapezoidal rule converges geometrically (L. N. Trefethen, J. A. C. Weideman, The exponentially
 * convergent trapezoidal rule, SIAM Review 56 (2014) 385–458): a third less step raises its error to the power 3/2. The grid
 * covers all points within e⁻²⁴ of the peak. On each axis the step shrinks by a third until that changes the logarithm of the
 * integral by less than 1e-5, and the finer grid, good to about 3e-8, is used; the search ends unsettled at 240 steps.
 */
final class PosteriorGrid {
    private static final double NEGLIGIBLE = 24;
    private static final int SEARCH_STEPS = 20;
    private static final int SEARCH_ROUNDS = 8;
    private static final int FIRST_STEPS = 16;
    private static final int FIRST_STEPS_OF_LEARNT = 36;
    private static final int LAST_STEPS = 240;
    private static final double SETTLED = 1e-5;
    private static final double CARRIES_NOTHING = 1e-11;
    private static final double CARRIES_NOTHING_NEAR = 1e-9;
    /** Into how many parts a marginal divides a step, in full and near. */
    private static final int PARTS = 40;

    private static final int PARTS_NEAR = 4;
    private static final double DIED_AWAY = 1e-6;

    private final RestrictedLikelihood likelihood;
    private final ScatterPrior circlePrior;
    private final ScatterPrior readingPrior;
    private final Table table;
    private final boolean settled;
    private final double carriesNothing;
    private final int parts;

    /**
     * One grid point.
     *
     * @param weight its share of the posterior
     * @param at the cells there
     */
    record Node(double weight, double sigmaB, double sigmaW, RestrictedLikelihood.At at) {}

    /** A box in (ln σ_b, ln σ_w). */
    private record Box(double lowB, double highB, double lowW, double highW) {
        double area() {
            return (highB - lowB) * (highW - lowW);
        }
    }

    PosteriorGrid(
            CircleData data,
            RestrictedLikelihood likelihood,
            ScatterPrior circlePrior,
            ScatterPrior readingPrior,
            double resolution) {
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        Box box = search(data, resolution);
        Table finest = new Table(box, firstSteps(circlePrior), firstSteps(readingPrior));
        boolean done = false;
        while (!done && Math.max(finest.stepsB, finest.stepsW) < LAST_STEPS) {
            Table finerB = new Table(box, finer(finest.stepsB), finest.stepsW);
            Table finerW = new Table(box, finest.stepsB, finer(finest.stepsW));
            boolean settledB = Math.abs(finerB.logIntegral - finest.logIntegral) < SETTLED;
            boolean settledW = Math.abs(finerW.logIntegral - finest.logIntegral) < SETTLED;
            done = settledB && settledW;
            finest = settledB && !settledW
                    ? finerW
                    : settledW && !settledB ? finerB : new Table(box, finer(finest.stepsB), finer(finest.stepsW));
        }
        table = finest;
        settled = done;
        carriesNothing = CARRIES_NOTHING;
        parts = PARTS;
    }

    /**
     * The same integral for data or priors that differ little, in one go over this grid's box with the steps that settled it:
     * good to about 1e-5. Empty where too much of the integral would lie outside the box.
     */
    Optional<PosteriorGrid> near(
            RestrictedLikelihood other, ScatterPrior otherCirclePrior, ScatterPrior otherReadingPrior) {
        PosteriorGrid grid = new PosteriorGrid(this, other, otherCirclePrior, otherReadingPrior);
        return grid.table.reachesItsEdge() ? Optional.empty() : Optional.of(grid);
    }

    private PosteriorGrid(
            PosteriorGrid near, RestrictedLikelihood likelihood, ScatterPrior circlePrior, ScatterPrior readingPrior) {
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        this.table = new Table(near.table.box, near.table.stepsB * 2 / 3, near.table.stepsW * 2 / 3);
        this.settled = near.settled;
        this.carriesNothing = CARRIES_NOTHING_NEAR;
        this.parts = PARTS_NEAR;
    }

    /** A log-normal prior alone settles on so coarse a grid that what hangs on it, a contrast, has not settled yet. */
    private static int firstSteps(ScatterPrior prior) {
        return prior instanceof LearntPrior ? FIRST_STEPS_OF_LEARNT : FIRST_STEPS;
    }

    private static int finer(int steps) {
        return steps * 3 / 2;
    }

    boolean settled() {
        return settled;
    }

    /** ln ∫ L × priors, up to a constant that depends on the priors and on how many circles and readings there are. */
    double logIntegral() {
        return table.logIntegral + likelihood.logConstant();
    }

    /** The points that carry more than nearly nothing of the posterior. */
    List<Node> nodes() {
        return table.nodes(carriesNothing);
    }

    Marginal circle() {
        return new Marginal(axis(table.box.lowB(), table.box.highB(), table.stepsB), table.alongB(), parts);
    }

    Marginal reading() {
        return new Marginal(axis(table.box.lowW(), table.box.highW(), table.stepsW), table.alongW(), parts);
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
        // well below the scale on which the likelihood changes, so that the density has become flat there
        double lowB = 3e-3 * floor / Math.sqrt(Math.max(1, mostWeight * data.circles()));
        double lowW = 3e-3 * floor / Math.sqrt(Math.max(1, data.readings()));
        Box box = new Box(Math.log(lowB), Math.log(high), Math.log(lowW), Math.log(high));
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

    private static double finite(ScatterPrior prior) {
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
        double[][] f = logDensities(box, n, n);
        double peak = peak(f);
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
        double[] axisB = axis(box.lowB(), box.highB(), n);
        double[] axisW = axis(box.lowW(), box.highW(), n);
        return new Box(
                axisB[Math.max(0, firstB - 1)],
                axisB[Math.min(n, lastB + 1)],
                axisW[Math.max(0, firstW - 1)],
                axisW[Math.min(n, lastW + 1)]);
    }

    /** The density at every point of a grid over a box, scaled to its peak. */
    private final class Table {
        private final Box box;
        private final int stepsB;
        private final int stepsW;
        private final double[][] density;
        private final double tailB;
        private final double tailW;
        private final double total;
        private final double logIntegral;

        Table(Box box, int stepsB, int stepsW) {
            this.box = box;
            this.stepsB = stepsB;
            this.stepsW = stepsW;
            double stepB = (box.highB() - box.lowB()) / stepsB;
            double stepW = (box.highW() - box.lowW()) / stepsW;
            // Below the box the density over the logs falls as σ does: the rest of the sum is a geometric series.
            tailB = 1 + 1 / Math.expm1(stepB);
            tailW = 1 + 1 / Math.expm1(stepW);
            density = logDensities(box, stepsB, stepsW);
            double peak = peak(density);
            double sum = 0;
            for (int i = 0; i <= stepsB; i++) {
                for (int j = 0; j <= stepsW; j++) {
                    density[i][j] = Math.exp(density[i][j] - peak);
                    sum += weight(i, j);
                }
            }
            total = sum;
            logIntegral = peak + Math.log(total * stepB * stepW);
        }

        /** Whether the density has not died away by the upper end of either axis. */
        boolean reachesItsEdge() {
            double edge = 0;
            for (int i = 0; i <= stepsB; i++) {
                edge = Math.max(edge, density[i][stepsW]);
            }
            for (int j = 0; j <= stepsW; j++) {
                edge = Math.max(edge, density[stepsB][j]);
            }
            return !(edge < DIED_AWAY);
        }

        private double weight(int i, int j) {
            return density[i][j] * (i == 0 ? tailB : 1) * (j == 0 ? tailW : 1);
        }

        double[] alongB() {
            double[] marginal = new double[stepsB + 1];
            for (int i = 0; i <= stepsB; i++) {
                for (int j = 0; j <= stepsW; j++) {
                    marginal[i] += density[i][j] * (j == 0 ? tailW : 1);
                }
            }
            return marginal;
        }

        double[] alongW() {
            double[] marginal = new double[stepsW + 1];
            for (int i = 0; i <= stepsB; i++) {
                for (int j = 0; j <= stepsW; j++) {
                    marginal[j] += density[i][j] * (i == 0 ? tailB : 1);
                }
            }
            return marginal;
        }

        List<Node> nodes(double least) {
            double[] axisB = axis(box.lowB(), box.highB(), stepsB);
            double[] axisW = axis(box.lowW(), box.highW(), stepsW);
            List<Node> nodes = new ArrayList<>();
            for (int i = 0; i <= stepsB; i++) {
                double sigmaB = Math.exp(axisB[i]);
                for (int j = 0; j <= stepsW; j++) {
                    double share = weight(i, j) / total;
                    if (share > least) {
                        double sigmaW = Math.exp(axisW[j]);
                        nodes.add(new Node(share, sigmaB, sigmaW, likelihood.at(sigmaB, sigmaW)));
                    }
                }
            }
            return nodes;
        }
    }

    private double[][] logDensities(Box box, int stepsB, int stepsW) {
        double[] axisB = axis(box.lowB(), box.highB(), stepsB);
        double[] axisW = axis(box.lowW(), box.highW(), stepsW);
        double[] readingVariance = new double[stepsW + 1];
        double[] alongW = new double[stepsW + 1];
        for (int j = 0; j <= stepsW; j++) {
            double sigmaW = Math.exp(axisW[j]);
            readingVariance[j] = likelihood.readingVariance(sigmaW);
            // + ln σ on either axis: the density is over the logs
            alongW[j] = likelihood.logWithinCircles(readingVariance[j]) + readingPrior.logDensity(sigmaW) + axisW[j];
        }
        double[] precisions = likelihood.precisions();
        double[][] f = new double[stepsB + 1][stepsW + 1];
        for (int i = 0; i <= stepsB; i++) {
            double sigmaB = Math.exp(axisB[i]);
            double alongB = circlePrior.logDensity(sigmaB) + axisB[i];
            for (int j = 0; j <= stepsW; j++) {
                f[i][j] = alongB
                        + alongW[j]
                        + likelihood.logBetweenCircles(sigmaB * sigmaB, readingVariance[j], precisions);
            }
        }
        return f;
    }

    private static double[] axis(double low, double high, int steps) {
        double[] axis = new double[steps + 1];
        for (int i = 0; i <= steps; i++) {
            axis[i] = low + (high - low) * i / steps;
        }
        return axis;
    }

    private static double peak(double[][] f) {
        double peak = Double.NEGATIVE_INFINITY;
        for (double[] row : f) {
            for (double x : row) {
                peak = Math.max(peak, x);
            }
        }
        return peak;
    }
}
