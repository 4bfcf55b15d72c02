package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Every second point of a grid over σ_b and σ_w on either axis, as a quick way to the posterior of data that differ little: with
 * one circle left out, say. What the cells are at each point is kept, so that only those that changed are worked out again.
 * With twice the step the trapezoidal rule leaves about the square root of the grid's error.
 */
final class EverySecondPoint {
    private static final double CARRIES_NOTHING = 1e-6;
    /** Of the peak: less than that at the edge leaves out some 1e-4 of the whole. */
    private static final double DIED_AWAY = 3e-4;

    private final List<List<CircleSummary>> data;
    private final RestrictedLikelihood.CellAt[] cells;
    private final ScatterPrior circlePrior;
    private final ScatterPrior readingPrior;
    private final Axis b;
    private final Axis w;
    /** Of each point its place on either axis, σ_b² and what a reading's variance is. */
    private final int[] atB;

    private final int[] atW;
    private final double[] circleVariances;
    private final double[] readingVariances;
    /** The points that have a neighbour in the grid that is not among them, or none. */
    private final int[] edge;

    private final double logStep;

    /** One axis: its standard deviations, ln of dσ/du, and the logarithm of the prior of the grid. */
    private static final class Axis {
        private final double[] sigma;
        private final double[] logSlope;
        private final double[] logPrior;

        Axis(PosteriorGrid.Axis axis, ScatterPrior prior) {
            int n = axis.steps() / 2 + 1;
            sigma = new double[n];
            logSlope = new double[n];
            for (int i = 0; i < n; i++) {
                sigma[i] = Math.exp(axis.logSigma(2 * i));
                logSlope[i] = axis.logSigma(2 * i) + axis.logSlope(2 * i);
            }
            logPrior = logPrior(prior);
        }

        double[] logPrior(ScatterPrior prior) {
            double[] log = new double[sigma.length];
            for (int i = 0; i < log.length; i++) {
                log[i] = prior.logDensity(sigma[i]);
            }
            return log;
        }
    }

    /** What is found of other data: the points that carry anything, and ln of the integral as {@link PosteriorGrid} has it. */
    record Near(PosteriorGrid.Nodes nodes, double logIntegral) {}

    /**
     * The points of a grid with more than a density.
     *
     * @param density at each point of the grid
     */
    EverySecondPoint(
            CircleData data,
            RestrictedLikelihood likelihood,
            ScatterPrior circlePrior,
            ScatterPrior readingPrior,
            PosteriorGrid.Axis alongB,
            PosteriorGrid.Axis alongW,
            double[][] density,
            double least) {
        this.data = data.cells();
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        this.b = new Axis(alongB, circlePrior);
        this.w = new Axis(alongW, readingPrior);
        this.logStep = Math.log(4 * alongB.step() * alongW.step());
        int most = b.sigma.length * w.sigma.length;
        int[] i = new int[most];
        int[] j = new int[most];
        int[] edges = new int[most];
        int n = 0;
        int ends = 0;
        for (int x = 0; x < b.sigma.length; x++) {
            for (int y = 0; y < w.sigma.length; y++) {
                if (isMore(density, x, y, least)) {
                    i[n] = x;
                    j[n] = y;
                    if (!(isMore(density, x - 1, y, least)
                            && isMore(density, x + 1, y, least)
                            && isMore(density, x, y - 1, least)
                            && isMore(density, x, y + 1, least))) {
                        edges[ends++] = n;
                    }
                    n++;
                }
            }
        }
        this.atB = Arrays.copyOf(i, n);
        this.atW = Arrays.copyOf(j, n);
        this.edge = Arrays.copyOf(edges, ends);
        this.circleVariances = new double[n];
        this.readingVariances = new double[n];
        for (int p = 0; p < n; p++) {
            circleVariances[p] = b.sigma[atB[p]] * b.sigma[atB[p]];
            readingVariances[p] = likelihood.readingVariance(w.sigma[atW[p]]);
        }
        this.cells = new RestrictedLikelihood.CellAt[this.data.size()];
        for (int k = 0; k < cells.length; k++) {
            cells[k] = likelihood.cellAt(k, circleVariances, readingVariances);
        }
    }

    private static boolean isMore(double[][] density, int x, int y, double least) {
        return x >= 0 && 2 * x < density.length && y >= 0 && 2 * y < density[0].length && density[2 * x][2 * y] > least;
    }

    /** The posterior of other data; empty where too much of it would lie elsewhere. The resolution is the same. */
    Optional<Near> near(
            CircleData other,
            RestrictedLikelihood likelihood,
            ScatterPrior otherCirclePrior,
            ScatterPrior otherReadingPrior) {
        RestrictedLikelihood.CellAt[] there =
                new RestrictedLikelihood.CellAt[other.cells().size()];
        double[] density = new double[atB.length];
        for (int k = 0; k < there.length; k++) {
            int known = data.indexOf(other.cells().get(k));
            there[k] = known >= 0 ? cells[known] : likelihood.cellAt(k, circleVariances, readingVariances);
            double[] deviance = there[k].deviance;
            for (int p = 0; p < density.length; p++) {
                density[p] -= deviance[p] / 2;
            }
        }
        double[] alongB = otherCirclePrior.equals(circlePrior) ? b.logPrior : b.logPrior(otherCirclePrior);
        double[] alongW = otherReadingPrior.equals(readingPrior) ? w.logPrior.clone() : w.logPrior(otherReadingPrior);
        for (int y = 0; y < alongW.length; y++) {
            alongW[y] += w.logSlope[y] + likelihood.logWithinCircles(likelihood.readingVariance(w.sigma[y]));
        }
        double peak = Double.NEGATIVE_INFINITY;
        for (int p = 0; p < density.length; p++) {
            density[p] += alongB[atB[p]] + b.logSlope[atB[p]] + alongW[atW[p]];
            peak = Math.max(peak, density[p]);
        }
        double total = 0;
        for (int p = 0; p < density.length; p++) {
            density[p] = Math.exp(density[p] - peak);
            total += density[p];
        }
        for (int p : edge) {
            if (!(density[p] < DIED_AWAY)) {
                return Optional.empty();
            }
        }
        return Optional.of(new Near(nodes(density, total, there), peak + Math.log(total) + logStep));
    }

    private PosteriorGrid.Nodes nodes(double[] density, double total, RestrictedLikelihood.CellAt[] there) {
        int[] points = new int[density.length];
        int n = 0;
        for (int p = 0; p < density.length; p++) {
            if (density[p] > CARRIES_NOTHING * total) {
                points[n++] = p;
            }
        }
        points = Arrays.copyOf(points, n);
        double[] weight = new double[n];
        double[] sigmaB = new double[n];
        double[] sigmaW = new double[n];
        for (int i = 0; i < n; i++) {
            weight[i] = density[points[i]] / total;
            sigmaB[i] = b.sigma[atB[points[i]]];
            sigmaW[i] = w.sigma[atW[points[i]]];
        }
        return new PosteriorGrid.Nodes(weight, sigmaB, sigmaW, RestrictedLikelihood.Cells.of(there, points));
    }
}
