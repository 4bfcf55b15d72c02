package org.fairturn.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;

class CircleFitTest {
    private static CircleFit.Outcome.Fitted fitted(CircleFit.Outcome outcome) {
        return outcome.fold(f -> f, none -> {
            throw new AssertionError(none.reason());
        });
    }

    private static CircleFit.Outcome.Fitted geometric(String file) {
        return fitted(CircleFit.geometric(ReferenceData.column(file, "x"), ReferenceData.column(file, "y")));
    }

    private static String reason(double[] x, double[] y) {
        return CircleFit.geometric(x, y).fold(f -> "a circle of radius " + f.radius(), none -> none.reason());
    }

    @Test
    void geometricFit_matchesGanderGolubStrebel1994() {
        // W. Gander, G. H. Golub, R. Strebel, BIT 34 (1994) 558-578: six points; the paper prints 4.7398, 2.9835,
        // 4.7142 (from memory). Twelve digits: the normal equations solved at 40 digits with mpmath 1.3 findroot.
        var circle = geometric("circle-gander-golub-strebel.csv");
        assertThat(circle.centreX()).isCloseTo(4.7398, within(5e-5));
        assertThat(circle.centreY()).isCloseTo(2.9835, within(5e-5));
        assertThat(circle.radius()).isCloseTo(4.7142, within(5e-5));
        assertThat(circle.centreX()).isCloseTo(4.739782410906, within(1e-11));
        assertThat(circle.centreY()).isCloseTo(2.983532699292, within(1e-11));
        assertThat(circle.radius()).isCloseTo(4.714226037792, within(1e-11));
        assertThat(circle.rmsDistance())
                .isCloseTo(0.4523271, within(5e-8)); // read in a benchmark's comments, recomputed
    }

    @Test
    void geometricFit_matchesPratt1987_onAlmostStraightPoints() {
        // V. Pratt, Direct least-squares fitting of algebraic surfaces, Computer Graphics 21 (1987): four points.
        // Values at 40 digits with mpmath 1.3 findroot; the minimum is so flat that double-precision routines
        // often stop 5e-5 away.
        var circle = geometric("circle-pratt-four-points.csv");
        assertThat(circle.centreX()).isCloseTo(0.499332725795, within(1e-8));
        assertThat(circle.centreY()).isCloseTo(-22.535339674961, within(1e-8));
        assertThat(circle.radius()).isCloseTo(22.562957261922, within(1e-8));
        assertThat(circle.rmsDistance()).isCloseTo(0.05416481, within(5e-9));
    }

    @Test
    void geometricFit_matchesTheSciPyCookbook() {
        // SciPy cookbook, "Least squares circle": all round, printed 10.500087, 9.659949, 23.3335276 (read in
        // source), and an arc, printed 9.88760, 3.68753, 27.35040 (from memory; its iteration stopped early).
        // Twelve digits as above.
        var full = geometric("circle-cookbook-full.csv");
        assertThat(full.centreX()).isCloseTo(10.500086, within(1.5e-6));
        assertThat(full.centreX()).isCloseTo(10.500086213944, within(1e-10));
        assertThat(full.centreY()).isCloseTo(9.659949505836, within(1e-10));
        assertThat(full.radius()).isCloseTo(23.333527646183, within(1e-10));
        var arc = geometric("circle-cookbook-arc.csv");
        assertThat(arc.centreX()).isCloseTo(9.88760, within(5e-5));
        assertThat(arc.centreY()).isCloseTo(3.68753, within(5e-5));
        assertThat(arc.radius()).isCloseTo(27.35040, within(5e-5));
    }

    @Test
    void linearFit_isNotTheAnswer_onAShortArc() {
        // Recomputed least sum of (d² - r²)² on the six points of 1994: another circle than the geometric one.
        String file = "circle-gander-golub-strebel.csv";
        var linear = fitted(CircleFit.linear(ReferenceData.column(file, "x"), ReferenceData.column(file, "y")));
        assertThat(linear.centreX()).isCloseTo(4.7423313, within(5e-8));
        assertThat(linear.centreY()).isCloseTo(3.8351227, within(5e-8));
        assertThat(linear.radius()).isCloseTo(4.1087615, within(5e-8));
        assertThat(geometric(file).radius()).isGreaterThan(1.1 * linear.radius());
    }

    @Test
    void threePoints_lieOnTheFittedCircle() {
        // Elementary: triangles 3-4-5 and 13-14-15, and three of the six points of 1994.
        assertCircle(new double[] {0, 3, 0}, new double[] {0, 0, 4}, 1.5, 2, 2.5);
        assertCircle(new double[] {0, 14, 5}, new double[] {0, 0, 12}, 7, 4.125, 8.125);
        assertCircle(new double[] {1, 5, 9}, new double[] {7, 8, 5}, 4.1875, 2.75, 5.3125);
    }

    private static void assertCircle(double[] x, double[] y, double a, double b, double radius) {
        var circle = fitted(CircleFit.geometric(x, y));
        assertThat(circle.centreX()).isCloseTo(a, within(1e-9));
        assertThat(circle.centreY()).isCloseTo(b, within(1e-9));
        assertThat(circle.radius()).isCloseTo(radius, within(1e-9));
    }

    @Test
    void pointsThatMakeNoCircle_areRefusedWithAReason() {
        assertThat(reason(new double[] {0, 1}, new double[] {0, 1}))
                .isEqualTo("a circle needs at least three points, there are 2");
        assertThat(reason(new double[] {1, 1, 1}, new double[] {2, 2, 2})).isEqualTo("all points are the same");
        assertThat(reason(new double[] {0, 1, 2}, new double[] {0, 1, 2})).isEqualTo("the points lie on a line");
        assertThat(reason(new double[] {0, 1, 2, 3}, new double[] {0, 1e-9, 0, -1e-9}))
                .isEqualTo("the points lie on a line");
    }

    @Test
    void fit_isUnchangedByWhereAndInWhatUnitThePointsWereTaken() {
        var random = new SplittableRandom(20260514);
        for (int trial = 0; trial < 200; trial++) {
            int n = 4 + random.nextInt(12);
            double[] x = new double[n];
            double[] y = new double[n];
            double[] moved = new double[n];
            double[] turned = new double[n];
            for (int i = 0; i < n; i++) {
                double angle = 2 * Math.PI * (i + 0.4 * random.nextDouble()) / n;
                double r = 0.8 + 0.02 * random.nextDouble();
                x[i] = r * Math.cos(angle);
                y[i] = r * Math.sin(angle);
                moved[i] = 1000 * (5 - y[i]);
                turned[i] = 1000 * (x[i] - 7);
            }
            var here = fitted(CircleFit.geometric(x, y));
            var there = fitted(CircleFit.geometric(moved, turned));
            assertThat(there.radius()).isCloseTo(1000 * here.radius(), within(1e-6));
            assertThat(there.centreX()).isCloseTo(1000 * (5 - here.centreY()), within(1e-6));
            assertThat(there.radiusVarianceFactor()).isCloseTo(here.radiusVarianceFactor(), within(1e-8));
        }
    }

    @Test
    void radiusVarianceFactor_isOneOverN_forPointsAllRound_andLargeForAShortArc() {
        // Points evenly all round: the slopes for centre and radius are orthogonal, so var R = σ²/n.
        int n = 12;
        double[] x = new double[n];
        double[] y = new double[n];
        double[] arcX = new double[n];
        double[] arcY = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = Math.cos(2 * Math.PI * i / n);
            y[i] = Math.sin(2 * Math.PI * i / n);
            arcX[i] = Math.cos(0.5 * i / n);
            arcY[i] = Math.sin(0.5 * i / n);
        }
        assertThat(fitted(CircleFit.geometric(x, y)).radiusVarianceFactor()).isCloseTo(1.0 / n, within(1e-9));
        assertThat(fitted(CircleFit.geometric(arcX, arcY)).radiusVarianceFactor())
                .isGreaterThan(100);
    }

    /**
     * Points over a metre of an arc, wherever it lies and whichever way it runs: 20 times as large it is a circle, 1050 times
     * a line. From 1000 to 1500 times it used to be said that no circle settles.
     */
    @Test
    void aCircleOfAThousandTimesTheSpread_isCalledALine() {
        for (double times : new double[] {20, 1050, 1500, 20_000}) {
            for (double off : new double[] {0, 100, -100}) {
                double[] along = new double[5];
                double[] across = new double[5];
                for (int i = 0; i < 5; i++) {
                    double angle = (i - 2) / 4.0 / times;
                    along[i] = off + times * Math.sin(angle);
                    across[i] = off + 2 * times * Math.pow(Math.sin(angle / 2), 2);
                }
                for (boolean turned : new boolean[] {false, true}) {
                    CircleFit.Outcome outcome = CircleFit.geometric(turned ? across : along, turned ? along : across);
                    if (times < 100) {
                        // a coordinate of 100 m is rounded to 1e-14 m, of a bend of 6 mm eleven digits
                        assertThat(fitted(outcome).radius()).isCloseTo(times, within(1e-9 * times));
                    } else {
                        assertThat(outcome).isEqualTo(new CircleFit.Outcome.NoCircle("the points lie on a line"));
                    }
                }
            }
        }
    }

    /** Three points of a line and one far off to the side of its end. */
    @Test
    void aFitThatDoesNotSettle_saysSo() {
        assertThat(reason(new double[] {2, 0, 2, 2}, new double[] {2, 5, 6, 0}))
                .isEqualTo("no circle settles on these points in 500 steps");
    }
}
