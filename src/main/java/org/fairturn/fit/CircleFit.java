package org.fairturn.fit;

import java.util.Arrays;
import java.util.function.Function;
import org.apache.commons.math3.exception.MathIllegalStateException;
import org.apache.commons.math3.fitting.leastsquares.GaussNewtonOptimizer;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresOptimizer;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.QRDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.apache.commons.math3.linear.SingularMatrixException;
import org.apache.commons.math3.util.Pair;

/** The circle that lies nearest to points measured on its edge. */
public final class CircleFit {
    private static final int MAX_STEPS = 500;
    private static final double SETTLED = 1e-12;
    /**
     * A circle this many times larger than the spread of its points cannot be told from a line with a tape: over 1 m it bends by
     * 0.13 mm. No larger ones are found anyway.
     */
    private static final double STRAIGHT = 1000;

    private CircleFit() {}

    /** A fitted circle, or why there is none. */
    public sealed interface Outcome {
        /**
         * The circle found.
         *
         * @param centreX x of the centre (m)
         * @param centreY y of the centre (m)
         * @param radius (m)
         * @param rmsDistance root mean square distance of the points from the circle (m)
         * @param radiusVarianceFactor variance of the radius where each point carries a radial variance of one; 0 is
         *     never reached
         */
        record Fitted(double centreX, double centreY, double radius, double rmsDistance, double radiusVarianceFactor)
                implements Outcome {}

        /**
         * No circle, and why.
         *
         * @param reason in plain words
         */
        record NoCircle(String reason) implements Outcome {}

        /**
         * Answers for the one or the other.
         *
         * @param <R> type of the answer
         * @param fitted asked where there is a circle
         * @param none asked where there is none
         * @return what the one that was asked answered
         */
        default <R> R fold(Function<? super Fitted, ? extends R> fitted, Function<? super NoCircle, ? extends R> none) {
            return this instanceof Fitted f ? fitted.apply(f) : none.apply((NoCircle) this);
        }
    }

    /**
     * Geometric least squares: the circle with the least sum of squared distances from the points, by
     * Levenberg–Marquardt from the linear fit, then Gauss–Newton until a step is below 1e-12 of the point.
     *
     * @param x coordinates (m), three or more points
     * @param y coordinates (m), as many
     * @return the circle, or why there is none: too few points, points on a line, no convergence in 500 steps
     * @see "W. Gander, G. H. Golub, R. Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994) 558–578"
     */
    public static Outcome geometric(double[] x, double[] y) {
        return linear(x, y).fold(start -> refine(x, y, start), none -> none);
    }

    /**
     * Linear (Kåsa) fit: least sum of (d² − r²)², d the distance from the centre. It pulls short arcs to too small a
     * circle and serves as a starting point only.
     */
    static Outcome linear(double[] x, double[] y) {
        int n = x.length;
        if (n != y.length) {
            throw new IllegalArgumentException(n + " x against " + y.length + " y; must be as many");
        }
        if (n < 3) {
            return new Outcome.NoCircle("a circle needs at least three points, there are " + n);
        }
        double meanX = Arrays.stream(x).average().orElseThrow();
        double meanY = Arrays.stream(y).average().orElseThrow();
        double spread = 0;
        for (int i = 0; i < n; i++) {
            spread = Math.max(spread, Math.hypot(x[i] - meanX, y[i] - meanY));
        }
        if (!(spread > 0)) {
            return new Outcome.NoCircle("all points are the same");
        }
        // u² + v² = 2a·u + 2b·v + k in coordinates about the mean, scaled to the spread
        RealMatrix design = new Array2DRowRealMatrix(n, 3);
        RealVector squares = new ArrayRealVector(n);
        for (int i = 0; i < n; i++) {
            double u = (x[i] - meanX) / spread;
            double v = (y[i] - meanY) / spread;
            design.setRow(i, new double[] {2 * u, 2 * v, 1});
            squares.setEntry(i, u * u + v * v);
        }
        try {
            RealVector abk = new QRDecomposition(design, 1e-9).getSolver().solve(squares);
            double a = abk.getEntry(0);
            double b = abk.getEntry(1);
            double radius = Math.sqrt(abk.getEntry(2) + a * a + b * b);
            return new Outcome.Fitted(meanX + spread * a, meanY + spread * b, spread * radius, Double.NaN, Double.NaN);
        } catch (SingularMatrixException e) {
            return new Outcome.NoCircle("the points lie on a line");
        }
    }

    private static Outcome refine(double[] x, double[] y, Outcome.Fitted start) {
        int n = x.length;
        double scale = start.radius();
        try {
            LeastSquaresBuilder problem = new LeastSquaresBuilder()
                    .model(abr -> distances(x, y, start, scale, abr))
                    .target(new double[n])
                    .lazyEvaluation(false)
                    .maxEvaluations(MAX_STEPS)
                    .maxIterations(MAX_STEPS);
            RealVector near = new LevenbergMarquardtOptimizer()
                    .optimize(problem.start(new double[] {0, 0, 1}).build())
                    .getPoint();
            if (!(scale * near.getEntry(2) < STRAIGHT * extent(x, y))) {
                return new Outcome.NoCircle("the points lie on a line");
            }
            // Levenberg-Marquardt stops once the sum of squares no longer falls, about half the digits short
            LeastSquaresOptimizer.Optimum optimum = new GaussNewtonOptimizer()
                    .optimize(problem.start(near)
                            .checker((step, before, after) -> before.getPoint().getDistance(after.getPoint())
                                    < SETTLED * after.getPoint().getNorm())
                            .build());
            RealVector abr = optimum.getPoint();
            double factor = optimum.getCovariances(1e-14).getEntry(2, 2);
            return new Outcome.Fitted(
                    start.centreX() + scale * abr.getEntry(0),
                    start.centreY() + scale * abr.getEntry(1),
                    scale * abr.getEntry(2),
                    scale * optimum.getRMS(),
                    factor);
        } catch (MathIllegalStateException e) {
            return new Outcome.NoCircle("no circle settles on these points in " + MAX_STEPS + " steps");
        } catch (SingularMatrixException e) {
            return new Outcome.NoCircle("the points lie on a line");
        }
    }

    private static double extent(double[] x, double[] y) {
        var spanX = Arrays.stream(x).summaryStatistics();
        var spanY = Arrays.stream(y).summaryStatistics();
        return Math.hypot(spanX.getMax() - spanX.getMin(), spanY.getMax() - spanY.getMin());
    }

    /** Distances from the circle and their slopes, in units of the starting radius about the starting centre. */
    private static Pair<RealVector, RealMatrix> distances(
            double[] x, double[] y, Outcome.Fitted start, double scale, RealVector abr) {
        int n = x.length;
        RealVector distance = new ArrayRealVector(n);
        RealMatrix slopes = new Array2DRowRealMatrix(n, 3);
        for (int i = 0; i < n; i++) {
            double dx = (x[i] - start.centreX()) / scale - abr.getEntry(0);
            double dy = (y[i] - start.centreY()) / scale - abr.getEntry(1);
            double d = Math.hypot(dx, dy);
            distance.setEntry(i, d - abr.getEntry(2));
            double safe = Math.max(d, 1e-300); // a point on the centre has no direction; its slope is then 0
            slopes.setRow(i, new double[] {-dx / safe, -dy / safe, -1});
        }
        return new Pair<>(distance, slopes);
    }
}
