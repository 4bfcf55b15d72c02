package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Every second point of a grid, held against the same points worked out one by one. */
class EverySecondPointTest {
    private static final double RESOLUTION = 3e-4;
    private static final HalfT CIRCLE = new HalfT(0.05);
    private static final HalfT READING = new HalfT(0.02);
    private static final CircleData DATA = new CircleData(List.of(
            List.of(circle(1.60, 1.61), circle(1.64), circle(1.58, 1.59, 1.60)),
            List.of(circle(1.80, 1.81), circle(1.85, 1.83))));
    private static final CircleData OTHER = new CircleData(
            List.of(DATA.cells().get(0), List.of(DATA.cells().get(1).get(0))));
    /** From well below what the circles scatter to well above it. */
    private static final PosteriorGrid.Axis B = axis(1e-5, 1.5, 40);

    private static final PosteriorGrid.Axis W = axis(1e-3, 0.12, 31);

    private static CircleSummary circle(double... readings) {
        double[] ones = new double[readings.length];
        java.util.Arrays.fill(ones, 1);
        return CircleSummary.of(readings, ones);
    }

    /** With a floor so far below that u is ln σ. */
    private static PosteriorGrid.Axis axis(double low, double high, int steps) {
        return new PosteriorGrid.Axis(Math.log(low), Math.log(high), steps, -60);
    }

    private static RestrictedLikelihood likelihood(CircleData data) {
        return new RestrictedLikelihood(data, RESOLUTION);
    }

    /** Thirty circles of one weight and as many of other weights each, as no product of their precisions holds at once. */
    private static CircleData many() {
        SplittableRandom random = new SplittableRandom(3);
        List<CircleSummary> cell = new ArrayList<>();
        for (int i = 0; i < 30; i++) {
            double middle = 1.6 + 0.02 * (2 * random.nextDouble() - 1);
            cell.add(circle(middle));
            cell.add(CircleSummary.of(new double[] {middle - 0.01, middle + 0.01}, new double[] {1, 1 + 0.01 * i}));
        }
        return new CircleData(List.of(cell));
    }

    private static Optional<EverySecondPoint.Near> near(PosteriorGrid.Axis b, PosteriorGrid.Axis w) {
        return new EverySecondPoint(
                        DATA,
                        likelihood(DATA),
                        CIRCLE,
                        READING,
                        b,
                        w,
                        new double[b.steps() + 1][w.steps() + 1],
                        /* least= */ -1)
                .near(OTHER, likelihood(OTHER), CIRCLE, READING);
    }

    @Test
    void manyCircles_areWorkedOutAsWell() {
        CircleData many = many();
        PosteriorGrid.Axis b = axis(1e-7, 0.3, 60);
        PosteriorGrid.Axis w = axis(2e-3, 0.2, 50);
        EverySecondPoint.Near near = new EverySecondPoint(
                        many, likelihood(many), CIRCLE, READING, b, w, new double[61][51], -1)
                .near(many, likelihood(many), CIRCLE, READING)
                .orElseThrow();
        double[][] logs = new double[31][26];
        double peak = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < logs.length; i++) {
            for (int j = 0; j < logs[i].length; j++) {
                double sigmaB = Math.exp(b.u(2 * i));
                double sigmaW = Math.exp(w.u(2 * j));
                logs[i][j] = likelihood(many).logLikelihood(sigmaB, sigmaW)
                        + CIRCLE.logDensity(sigmaB)
                        + READING.logDensity(sigmaW)
                        + Math.log(sigmaB * sigmaW);
                peak = Math.max(peak, logs[i][j]);
            }
        }
        double highest = peak;
        double total = java.util.Arrays.stream(logs)
                .flatMapToDouble(java.util.Arrays::stream)
                .map(log -> Math.exp(log - highest))
                .sum();
        assertThat(near.logIntegral()).isCloseTo(highest + Math.log(total * 4 * b.step() * w.step()), within(1e-9));
    }

    @Test
    void nodesAndIntegral_areThoseOfTheSamePointsOneByOne() {
        EverySecondPoint.Near near = near(B, W).orElseThrow();
        RestrictedLikelihood likelihood = likelihood(OTHER);
        List<double[]> points = new ArrayList<>();
        double peak = Double.NEGATIVE_INFINITY;
        for (int i = 0; i <= B.steps(); i += 2) {
            for (int j = 0; j <= W.steps(); j += 2) {
                double b = Math.exp(B.u(i));
                double w = Math.exp(W.u(j));
                double log =
                        likelihood.logLikelihood(b, w) + CIRCLE.logDensity(b) + READING.logDensity(w) + Math.log(b * w);
                points.add(new double[] {b, w, log});
                peak = Math.max(peak, log);
            }
        }
        double highest = peak;
        double total =
                points.stream().mapToDouble(p -> Math.exp(p[2] - highest)).sum();
        List<double[]> carrying = points.stream()
                .filter(p -> Math.exp(p[2] - highest) > 1e-6 * total)
                .toList();
        // the rest of the box carries little, but not nothing: its ends count too
        assertThat(carrying).hasSizeLessThan(points.size()).anyMatch(p -> p[0] < 1.1e-5);
        PosteriorGrid.Nodes nodes = near.nodes();
        assertThat(nodes.size()).isEqualTo(carrying.size());
        for (int k = 0; k < nodes.size(); k++) {
            double[] p = carrying.get(k);
            assertThat(nodes.sigmaB[k]).isCloseTo(p[0], within(1e-12 * p[0]));
            assertThat(nodes.sigmaW[k]).isCloseTo(p[1], within(1e-12 * p[1]));
            assertThat(nodes.weight[k]).isCloseTo(Math.exp(p[2] - highest) / total, within(1e-11));
            RestrictedLikelihood.At at = likelihood.at(p[0], p[1]);
            for (double[] c : new double[][] {{1, 0}, {0, 1}}) {
                int cell = c[0] > 0 ? 0 : 1;
                assertThat(nodes.cells.mean(cell, k)).isCloseTo(at.mean(c), within(1e-12));
                assertThat(nodes.cells.variance(cell, k)).isCloseTo(at.variance(c), within(1e-12 * at.variance(c)));
            }
        }
        assertThat(nodes.cells.varies(0)).isTrue();
        assertThat(nodes.cells.varies(1)).isFalse(); // one circle
        assertThat(near.logIntegral())
                .isCloseTo(
                        highest + Math.log(total * 4 * B.step() * W.step()) + likelihood.logConstant(), within(1e-10));
    }

    /** Each end of the box in turn cuts off what should have died away by there. */
    @Test
    void whatReachesAnyEdge_isRefused() {
        assertThat(near(B, W)).isPresent();
        assertThat(near(axis(0.02, 1.5, 40), W)).isEmpty();
        assertThat(near(axis(1e-5, 0.03, 40), W)).isEmpty();
        assertThat(near(B, axis(0.008, 0.12, 31))).isEmpty();
        assertThat(near(B, axis(1e-3, 0.008, 31))).isEmpty();
    }

    /** Points of less density are left out, and what lies beside them is an edge. */
    @Test
    void pointsThatCarriedNothing_areLeftOut_andTheirNeighboursAreEdges() {
        double[][] density = new double[B.steps() + 1][W.steps() + 1];
        for (double[] row : density) {
            java.util.Arrays.fill(row, 1);
        }
        EverySecondPoint.Near all = new EverySecondPoint(DATA, likelihood(DATA), CIRCLE, READING, B, W, density, 0)
                .near(OTHER, likelihood(OTHER), CIRCLE, READING)
                .orElseThrow();
        int peak = 0;
        for (int k = 0; k < all.nodes().size(); k++) {
            peak = all.nodes().weight[k] > all.nodes().weight[peak] ? k : peak;
        }
        int row = (int) Math.rint((Math.log(all.nodes().sigmaB[peak]) - B.low()) / B.step());
        java.util.Arrays.fill(density[row], 0); // a hole where the peak is
        assertThat(new EverySecondPoint(DATA, likelihood(DATA), CIRCLE, READING, B, W, density, 0)
                        .near(OTHER, likelihood(OTHER), CIRCLE, READING))
                .isEmpty();
    }

    /** Other priors on the same data: the cells are known, the priors are not. */
    @Test
    void otherPriors_count() {
        EverySecondPoint points = new EverySecondPoint(
                DATA, likelihood(DATA), CIRCLE, READING, B, W, new double[B.steps() + 1][W.steps() + 1], -1);
        HalfT wide = new HalfT(0.1);
        double before = spread(points.near(DATA, likelihood(DATA), CIRCLE, READING)
                .orElseThrow()
                .nodes());
        double after = spread(
                points.near(DATA, likelihood(DATA), wide, READING).orElseThrow().nodes());
        assertThat(after).isGreaterThan(1.02 * before);
        PosteriorGrid.Nodes nodes = points.near(DATA, likelihood(DATA), CIRCLE, new HalfT(0.005))
                .orElseThrow()
                .nodes();
        assertThat(reading(nodes))
                .isLessThan(0.98
                        * reading(points.near(DATA, likelihood(DATA), CIRCLE, READING)
                                .orElseThrow()
                                .nodes()));
    }

    private static double spread(PosteriorGrid.Nodes nodes) {
        double sum = 0;
        for (int k = 0; k < nodes.size(); k++) {
            sum += nodes.weight[k] * nodes.sigmaB[k];
        }
        return sum;
    }

    private static double reading(PosteriorGrid.Nodes nodes) {
        double sum = 0;
        for (int k = 0; k < nodes.size(); k++) {
            sum += nodes.weight[k] * nodes.sigmaW[k];
        }
        return sum;
    }
}
