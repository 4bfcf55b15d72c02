package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class RepeatabilityPosteriorTest {
    private static final HalfT CIRCLE = new HalfT(0.050);
    private static final HalfT READING = new HalfT(0.020);
    private static final double RESOLUTION = 0.001 / Math.sqrt(12);

    private static CircleSummary circle(double... readings) {
        double[] w = new double[readings.length];
        Arrays.fill(w, 1);
        return CircleSummary.of(readings, w);
    }

    private static RepeatabilityPosterior posterior(CircleData data) {
        return RepeatabilityPosterior.of(data, CIRCLE, READING, RESOLUTION);
    }

    private static final CircleData UNBALANCED = new CircleData(List.of(
            List.of(circle(1.550, 1.562), circle(1.590, 1.581, 1.585)),
            List.of(circle(1.802)),
            List.of(circle(2.010, 1.995), circle(2.064), circle(2.040, 2.049))));

    /**
     * One circle says nothing of σ_b, however much its readings scatter, so that it stays what was supposed: its median is that of
     * half of a t distribution, 0.740697 of the scale (t table, 0.75, 4 degrees of freedom). Where readings scatter by millions of
     * times the scale the grid used to end too early, or even before it began.
     */
    @Test
    void priorFarBelowTheScatter_isStillSeen() {
        SplittableRandom random = new SplittableRandom(5);
        for (double scale : new double[] {1e-7, 1e-6, 1e-4}) {
            for (double spread : new double[] {1, 60}) {
                CircleData data = new CircleData(List.of(
                        List.of(circle(random.doubles(3, 100, 100 + spread).toArray()))));
                RepeatabilityPosterior posterior =
                        RepeatabilityPosterior.of(data, new HalfT(scale), READING, RESOLUTION);
                assertThat(posterior.circleToCircle(0.95).value()).isCloseTo(0.740697 * scale, within(0.01 * scale));
            }
        }
    }

    @Test
    void posterior_matchesAPlainSumOverAFineGrid() {
        // Second, slower route: rectangles over σ_b and σ_w themselves, likelihood written out reading by reading.
        assertMatchesPlainSum(UNBALANCED, new double[] {-1, 0, 1}, 0.46);
        assertMatchesPlainSum(UNBALANCED, new double[] {0, 1, 0}, 1.85);
        assertMatchesPlainSum(
                new CircleData(List.of(List.of(circle(1.5)), List.of(circle(1.6)))), new double[] {-1, 1}, 0.2);
    }

    private static void assertMatchesPlainSum(CircleData data, double[] c, double x) {
        double total = 0;
        double below = 0;
        double first = 0;
        int n = 2000;
        for (int i = 0; i < n; i++) {
            double sigmaB = stretched(i, n, 0.05);
            for (int j = 0; j < n / 4; j++) {
                double sigmaW = stretched(j, n / 4, 0.02);
                double logPost = -2.5 * Math.log1p(sigmaB * sigmaB / 4 / 0.0025)
                        - 2.5 * Math.log1p(sigmaW * sigmaW / 4 / 0.0004);
                double s2 = sigmaW * sigmaW + RESOLUTION * RESOLUTION;
                double mean = 0;
                double variance = 0;
                for (int k = 0; k < c.length; k++) {
                    double p = 0;
                    double m = 0;
                    for (CircleSummary circle : data.cells().get(k)) {
                        double v = sigmaB * sigmaB + s2 / circle.readings();
                        p += 1 / v;
                        m += circle.mean() / v;
                        logPost += -0.5 * Math.log(v)
                                - 0.5 * (circle.readings() - 1) * Math.log(s2)
                                - 0.5 * circle.withinSumOfSquares() / s2;
                    }
                    for (CircleSummary circle : data.cells().get(k)) {
                        double v = sigmaB * sigmaB + s2 / circle.readings();
                        logPost -= 0.5 * Math.pow(circle.mean() - m / p, 2) / v;
                    }
                    logPost -= 0.5 * Math.log(p);
                    mean += c[k] * m / p;
                    variance += c[k] * c[k] / p;
                }
                double weight = Math.exp(logPost) * stretchedStep(i, n, 0.05) * stretchedStep(j, n / 4, 0.02);
                total += weight;
                first += weight * mean;
                below += weight * Quantiles.normalProbability((x - mean) / Math.sqrt(variance));
            }
        }
        NormalMixture mixture = posterior(data).contrast(c, 0, 0);
        assertThat(mixture.mean()).isCloseTo(first / total, within(2e-6));
        assertThat(mixture.probabilityBelow(x)).isCloseTo(below / total, within(2e-5));
    }

    /** Midpoints of cells that widen from nothing to far out in the tail: scale·40·u³/(1.02 − u). */
    private static double stretched(int i, int n, double scale) {
        double u = (i + 0.5) / n;
        return scale * u * u * 3 / (1.02 - u);
    }

    private static double stretchedStep(int i, int n, double scale) {
        double lower = (double) i / n;
        double upper = (i + 1.0) / n;
        return scale * 3 * (upper * upper / (1.02 - upper) - lower * lower / (1.02 - lower));
    }

    @Test
    void quantile_hasTheProbabilityItWasAskedFor() {
        NormalMixture mixture = posterior(UNBALANCED).contrast(new double[] {-1, 0, 1}, 0, 0);
        for (double p : new double[] {1e-6, 0.001, 0.025, 0.5, 0.975, 0.999999}) {
            assertThat(mixture.probabilityBelow(mixture.quantile(p))).isCloseTo(p, within(1e-8));
        }
        double x = mixture.quantile(0.3);
        assertThat(mixture.probabilityAbove(x) + mixture.probabilityBelow(x)).isCloseTo(1, within(1e-12));
    }

    @Test
    void oneCircleOneReading_givesThePriorPredictive() {
        // With one circle and one reading the data say nothing of the repeatability: u² = E[σ_b²] + E[σ_w²] of the
        // priors, and the variance of a half-t with 4 degrees of freedom about 0 is 2·scale².
        CircleData one = new CircleData(List.of(List.of(circle(1.6))));
        var posterior = posterior(one);
        NormalMixture mixture = posterior.contrast(new double[] {1}, 0, 0);
        assertThat(posterior.settled()).isTrue();
        assertThat(mixture.mean()).isEqualTo(1.6);
        double expected = Math.sqrt(2 * 0.05 * 0.05 + 2 * 0.02 * 0.02 + RESOLUTION * RESOLUTION);
        assertThat(mixture.standardDeviation()).isCloseTo(expected, within(2e-5 * expected));
        assertThat(posterior.assumedShare(new double[] {1})).isCloseTo(1, within(1e-3));
        // median of |t| with 4 degrees of freedom is its 75 % point, 0.7407 in any table of Student's t
        assertThat(posterior.circleToCircle(0.95).value()).isCloseTo(0.7407 * 0.05, within(2e-5));
        assertThat(posterior.circleToCircle(0.95).high()).isCloseTo(Quantiles.student(0.9875, 4) * 0.05, within(2e-5));
    }

    @Test
    void assumedShare_fallsAsCirclesAreAdded_andIsTheSlopeAgainstTheScale() {
        List<List<CircleSummary>> cells = new ArrayList<>();
        var random = new SplittableRandom(5);
        double last = 1;
        for (int n = 1; n <= 6; n++) {
            cells = new ArrayList<>();
            for (int k = 0; k < 2; k++) {
                List<CircleSummary> cell = new ArrayList<>();
                for (int i = 0; i < n; i++) {
                    double b = 0.03 * (i % 2 == 0 ? 1 : -1);
                    cell.add(circle(1.6 + b + 0.005, 1.6 + b - 0.005 + 0.001 * random.nextDouble()));
                }
                cells.add(cell);
            }
            CircleData data = new CircleData(cells);
            double[] c = {-1, 1};
            double share = posterior(data).assumedShare(c);
            assertThat(share).as("%d circles a cell", n).isLessThan(last);
            last = share;
            double step = 1e-4;
            double up = RepeatabilityPosterior.of(
                            data, new HalfT(0.05 * (1 + step)), new HalfT(0.02 * (1 + step)), RESOLUTION)
                    .contrast(c, 0, 0)
                    .standardDeviation();
            double down = RepeatabilityPosterior.of(
                            data, new HalfT(0.05 * (1 - step)), new HalfT(0.02 * (1 - step)), RESOLUTION)
                    .contrast(c, 0, 0)
                    .standardDeviation();
            assertThat(share).isCloseTo((Math.log(up) - Math.log(down)) / (2 * step), within(2e-4));
        }
    }

    @Test
    void identicalReadings_claimNoPerfection() {
        CircleData same = new CircleData(List.of(
                List.of(circle(1.6, 1.6, 1.6), circle(1.6, 1.6, 1.6)), List.of(circle(1.9, 1.9), circle(1.9, 1.9))));
        var posterior = posterior(same);
        assertThat(posterior.settled()).isTrue();
        Estimate difference = posterior.contrast(new double[] {-1, 1}, 0, 0).estimate(0.95);
        assertThat(difference.value()).isCloseTo(0.3, within(1e-12));
        assertThat(difference.halfWidth()).isBetween(0.0005, 0.02);
        assertThat(posterior.reading(0.95).value()).isPositive();
    }

    @Test
    void extremes_stayFinite() {
        var random = new SplittableRandom(11);
        double[] many = random.doubles(10_000).map(u -> 1.6 + 0.02 * (u - 0.5)).toArray();
        for (CircleData data : List.of(
                new CircleData(List.of(List.of(circle(many)))),
                new CircleData(List.of(List.of(circle(200.0), circle(203.0), circle(150.0)))),
                new CircleData(List.of(List.of(circle(0.2), circle(0.2000001)), List.of(circle(0.21)))))) {
            var posterior = posterior(data);
            double[] c = new double[data.cells().size()];
            c[0] = 1;
            Estimate estimate = posterior.contrast(c, 0, 0).estimate(0.95);
            assertThat(posterior.settled()).isTrue();
            assertThat(estimate.low()).isFinite().isLessThan(estimate.value());
            assertThat(estimate.high()).isFinite().isGreaterThan(estimate.value());
        }
    }

    @Test
    void theOrderOfCellsCirclesAndReadings_andTheUnit_changeNothing() {
        List<List<CircleSummary>> shuffled = new ArrayList<>();
        for (List<CircleSummary> cell : UNBALANCED.cells()) {
            List<CircleSummary> copy = new ArrayList<>(cell);
            Collections.reverse(copy);
            shuffled.add(copy);
        }
        Collections.reverse(shuffled);
        Estimate here =
                posterior(UNBALANCED).contrast(new double[] {-1, 0.5, 1}, 0, 0).estimate(0.95);
        Estimate there = posterior(new CircleData(shuffled))
                .contrast(new double[] {1, 0.5, -1}, 0, 0)
                .estimate(0.95);
        assertThat(there.low()).isCloseTo(here.low(), within(1e-10));
        assertThat(there.high()).isCloseTo(here.high(), within(1e-10));
        CircleData millimetres = new CircleData(UNBALANCED.cells().stream()
                .map(cell -> cell.stream()
                        .map(s -> new CircleSummary(
                                1000 * s.mean(), s.weight(), s.readings(), 1e6 * s.withinSumOfSquares()))
                        .toList())
                .toList());
        Estimate scaled = RepeatabilityPosterior.of(millimetres, new HalfT(50), new HalfT(20), 1000 * RESOLUTION)
                .contrast(new double[] {-1, 0.5, 1}, 0, 0)
                .estimate(0.95);
        assertThat(scaled.low()).isCloseTo(1000 * here.low(), within(1e-6));
        assertThat(scaled.high()).isCloseTo(1000 * here.high(), within(1e-6));
    }

    private static CircleData without(CircleData data, int cell, int circle) {
        List<List<CircleSummary>> cells = new ArrayList<>(data.cells());
        List<CircleSummary> rest = new ArrayList<>(cells.get(cell));
        rest.remove(circle);
        cells.set(cell, rest);
        return new CircleData(cells);
    }

    @Test
    void nearby_isOffByLessThanItSays() {
        RepeatabilityPosterior all = posterior(UNBALANCED);
        double[] c = {-1, 0, 1};
        for (CircleData data : List.of(UNBALANCED, without(UNBALANCED, 0, 1), without(UNBALANCED, 2, 0))) {
            for (double factor : new double[] {0.5, 1, 2}) {
                HalfT circle = new HalfT(0.050 * factor);
                HalfT reading = new HalfT(0.020 * factor);
                NormalMixture exact = RepeatabilityPosterior.of(data, circle, reading, RESOLUTION)
                        .contrast(c, 0, 0);
                NormalMixture near = all.near(data, circle, reading).contrast(c, 0, 0);
                for (double x : new double[] {0.30, 0.40, 0.46, 0.55}) {
                    assertThat(near.probabilityAbove(x))
                            .isCloseTo(exact.probabilityAbove(x), within(RepeatabilityPosterior.NEARLY));
                }
            }
        }
    }

    @Test
    void nearby_isWorkedOutInFull_whereItIsNotNear() {
        // spread a hundred times wider than the grid was laid for
        CircleData other =
                new CircleData(List.of(List.of(circle(1, 2), circle(4, 5)), List.of(circle(9, 8), circle(2))));
        double[] c = {-1, 1};
        NormalMixture exact = posterior(other).contrast(c, 0, 0);
        NormalMixture near = posterior(new CircleData(List.of(
                        List.of(circle(1.5, 1.501), circle(1.502, 1.501)), List.of(circle(1.6, 1.601), circle(1.602)))))
                .near(other, CIRCLE, READING)
                .contrast(c, 0, 0);
        assertThat(near.probabilityAbove(3)).isCloseTo(exact.probabilityAbove(3), within(1e-5));
    }

    /** A weight that differs in its ninth digit sorts circles into other groups; the evidence must not jump. */
    @Test
    void evidence_doesNotHangOnHowCirclesAreGrouped() {
        List<CircleSummary> cell = List.of(circle(1.55, 1.56), circle(1.59, 1.58), circle(1.57, 1.575));
        List<CircleSummary> split = new ArrayList<>(cell);
        split.set(1, new CircleSummary(1.585, 2 + 1e-9, 2, cell.get(1).withinSumOfSquares()));
        List<CircleSummary> other = List.of(circle(1.8), circle(1.81));
        assertThat(posterior(new CircleData(List.of(split, other))).logEvidence())
                .isCloseTo(posterior(new CircleData(List.of(cell, other))).logEvidence(), within(1e-6));
    }

    @Test
    void furtherCircleAndReading_withNothingButThePrior() {
        // one circle with one reading: σ_b and σ_w are half-t with 4 degrees of freedom, E[σ²] = 2·scale²; the heavy
        // tail
        // beyond the grid takes 1e-4 off a standard deviation
        RepeatabilityPosterior one = posterior(new CircleData(List.of(List.of(circle(1.6)))));
        double b2 = 2 * 0.05 * 0.05;
        double w2 = 2 * 0.02 * 0.02 + RESOLUTION * RESOLUTION;
        double further = Math.sqrt(b2 + w2 + b2 + w2 / 2);
        assertThat(one.furtherCircle(0, 2).mean()).isCloseTo(1.6, within(1e-12));
        assertThat(one.furtherCircle(0, 2).standardDeviation()).isCloseTo(further, within(2e-4 * further));
        double gap = Math.sqrt(w2 * (1.5 + 1.0 / 3));
        assertThat(one.readingGap(1.5, 3).mean()).isZero();
        assertThat(one.readingGap(1.5, 3).standardDeviation()).isCloseTo(gap, within(2e-4 * gap));
    }

    /** A cell of circles about a diameter that scatter by about 30 mm, with a reading each or two that differ by 10 mm. */
    private static List<CircleSummary> cell(SplittableRandom random, int circles, int readings, double unit) {
        List<CircleSummary> cell = new ArrayList<>();
        for (int i = 0; i < circles; i++) {
            double at = 1.6 + 0.1 * (random.nextDouble() - 0.5);
            cell.add(circle(random.doubles(readings, at - 0.01, at + 0.01)
                    .map(y -> y * unit)
                    .toArray()));
        }
        return cell;
    }

    /** Whether σ_b and σ_w can be told apart or not, with and without resolution, flat priors, in metres and in millimetres. */
    @Test
    void posterior_isThatOfThePlainSum_whateverTheData() {
        SplittableRandom random = new SplittableRandom(21);
        CircleData two = new CircleData(List.of(cell(random, 4, 2, 1), cell(random, 3, 2, 1)));
        CircleData ridge = new CircleData(List.of(cell(random, 16, 1, 1), cell(random, 10, 1, 1)));
        CircleData readings = new CircleData(List.of(cell(random, 1, 20, 1), cell(random, 1, 12, 1)));
        agrees(two, HalfT.FLAT, HalfT.FLAT, RESOLUTION, 0.4);
        agrees(two, CIRCLE, READING, 0, 0.4);
        agrees(two, HalfT.FLAT, READING, 0, 0.4);
        agrees(two, new HalfT(1e-3), READING, RESOLUTION, 0.4);
        agrees(ridge, CIRCLE, READING, RESOLUTION, 0.4);
        agrees(ridge, CIRCLE, new HalfT(1), RESOLUTION, 0.4);
        agrees(ridge, CIRCLE, new HalfT(1e-3), RESOLUTION, 0.4);
        agrees(readings, CIRCLE, READING, RESOLUTION, 1);
        agrees(readings, CIRCLE, HalfT.FLAT, 0, 1);
        CircleData millimetres = new CircleData(List.of(cell(random, 4, 2, 1000), cell(random, 3, 2, 1000)));
        agrees(millimetres, new HalfT(50), new HalfT(20), 1000 * RESOLUTION, 0.4);
        agrees(millimetres, HalfT.FLAT, new HalfT(20), 0, 0.4);
    }

    private static void agrees(CircleData data, HalfT b, HalfT w, double resolution, double newCircle) {
        RepeatabilityPosterior posterior = RepeatabilityPosterior.of(data, b, w, resolution);
        PlainPosterior plain = new PlainPosterior(data, b, w, resolution);
        // the longest step leaves 6e-9 of a probability on either axis
        String as = data.cells() + ", " + b + ", " + w + ", " + resolution;
        double[] c = {-1, 1};
        NormalMixture found = posterior.contrast(c, 0.1, 0, newCircle);
        PlainPosterior.Contrast expected = plain.contrast(c, 0.1, 0, newCircle);
        double u = expected.standardDeviation();
        for (double z = -3; z <= 3; z += 0.5) {
            double x = expected.mean() + z * u;
            assertThat(found.probabilityBelow(x)).as(as).isCloseTo(expected.probabilityBelow(x), within(2e-8));
        }
        // heavy tails beyond the grid: its box ends where the density is e^−25 of the peak
        assertThat(posterior.mean(c, 0.1)).as(as).isCloseTo(expected.mean(), within(1e-6 * u));
        assertThat(Math.sqrt(posterior.variance(c, 0, newCircle))).as(as).isCloseTo(u, within(2e-4 * u));
    }

    /** The same of σ_b and σ_w themselves, where neither is known so well that the plain lattice is too coarse for it. */
    @Test
    void standardDeviations_haveTheQuantilesOfThePlainSum() {
        SplittableRandom random = new SplittableRandom(22);
        CircleData two = new CircleData(List.of(cell(random, 3, 2, 1), cell(random, 3, 2, 1)));
        quantilesAgree(two, CIRCLE, READING, RESOLUTION);
        quantilesAgree(two, HalfT.FLAT, READING, 0);
        quantilesAgree(two, CIRCLE, HalfT.FLAT, RESOLUTION);
        quantilesAgree(new CircleData(List.of(cell(random, 2, 1, 1), cell(random, 1, 1, 1))), CIRCLE, READING, 0);
        quantilesAgree(
                new CircleData(List.of(cell(random, 1, 4, 1000), cell(random, 1, 3, 1000))),
                new HalfT(50),
                new HalfT(20),
                1000 * RESOLUTION);
    }

    private static void quantilesAgree(CircleData data, HalfT b, HalfT w, double resolution) {
        RepeatabilityPosterior posterior = RepeatabilityPosterior.of(data, b, w, resolution);
        PlainPosterior plain = new PlainPosterior(data, b, w, resolution);
        String as = data.cells() + ", " + b + ", " + w + ", " + resolution;
        for (double level : new double[] {0.5, 0.95}) {
            Estimate circle = posterior.circleToCircle(level);
            Estimate reading = posterior.reading(level);
            // the plain sum's straight lines: h²/8 of the slope, of a density 0.2 wide in ln σ
            assertThat(plain.circleBelow(circle.low())).as(as).isCloseTo((1 - level) / 2, within(8e-3));
            assertThat(plain.circleBelow(circle.value())).as(as).isCloseTo(0.5, within(8e-3));
            assertThat(plain.circleBelow(circle.high())).as(as).isCloseTo((1 + level) / 2, within(8e-3));
            assertThat(plain.readingBelow(reading.low())).as(as).isCloseTo((1 - level) / 2, within(8e-3));
            assertThat(plain.readingBelow(reading.value())).as(as).isCloseTo(0.5, within(8e-3));
            assertThat(plain.readingBelow(reading.high())).as(as).isCloseTo((1 + level) / 2, within(8e-3));
        }
    }

    /** Bayes factor of two ways to sort four circles: those alike together or apart. */
    @Test
    void evidence_isThatOfThePlainSum() {
        CircleSummary a = circle(1.55, 1.56);
        CircleSummary b = circle(1.56);
        CircleSummary c = circle(1.80, 1.81);
        CircleSummary d = circle(1.83);
        CircleData together = new CircleData(List.of(List.of(a, b), List.of(c, d)));
        CircleData apart = new CircleData(List.of(List.of(a, c), List.of(b, d)));
        double expected = new PlainPosterior(together, CIRCLE, READING, RESOLUTION).logEvidence()
                - new PlainPosterior(apart, CIRCLE, READING, RESOLUTION).logEvidence();
        assertThat(expected).isGreaterThan(2);
        assertThat(posterior(together).logEvidence() - posterior(apart).logEvidence())
                .isCloseTo(expected, within(1e-8));
    }

    /** Moments without the mixture, and those of the mixture; one of the cells is known by a single circle. */
    @Test
    void meanAndVariance_areThoseOfTheContrast() {
        RepeatabilityPosterior posterior = posterior(UNBALANCED);
        for (double[] c : new double[][] {{1, 0, 0}, {0, 2, 0}, {-1, 0.5, 3}, {0.3, 0.3, 0.4}, {1, 0, -1}}) {
            NormalMixture q = posterior.contrast(c, 0.7, 2e-4, 0.4);
            assertThat(posterior.mean(c, 0.7)).isCloseTo(q.mean(), within(1e-13));
            // the points left out, each below 1e-12 of the whole
            double variance = Math.pow(q.standardDeviation(), 2);
            assertThat(posterior.variance(c, 2e-4, 0.4)).isCloseTo(variance, within(1e-9 * variance));
        }
        NormalMixture circleAlone = posterior.contrast(new double[3], 0, 0, 1);
        assertThat(posterior.newCircleVariance())
                .isCloseTo(Math.pow(circleAlone.standardDeviation(), 2), within(1e-12));
        assertThat(posterior.newCircleVariance())
                .isGreaterThan(Math.pow(posterior.circleToCircle(0.95).value(), 2));
    }

    /** What a circle says by itself, with nothing but the prior: E[σ_w²] = 2·scale², and the resolution. */
    @Test
    void circle_isKnownByItsReadingsAndWhatTheyShare() {
        RepeatabilityPosterior one = posterior(new CircleData(List.of(List.of(circle(1.6)))));
        NormalMixture q = one.circle(1.7, 4, 1e-4);
        assertThat(q.mean()).isCloseTo(1.7, within(1e-12));
        double u = Math.sqrt(1e-4 + (2 * 0.02 * 0.02 + RESOLUTION * RESOLUTION) / 4);
        assertThat(q.standardDeviation()).isCloseTo(u, within(2e-4 * u));
    }

    /** At σ_b given and σ_w at its median: variances by hand, of circles of which each is worth its readings. */
    @Test
    void standardDeviationsTakenAsKnown_makeANormal() {
        CircleData data = new CircleData(
                List.of(List.of(circle(1.550, 1.562), circle(1.590, 1.581)), List.of(circle(1.802, 1.80, 1.81, 1.80))));
        RepeatabilityPosterior posterior = posterior(data);
        double w2 = Math.pow(posterior.reading(0.95).value(), 2) + RESOLUTION * RESOLUTION;
        double b = 0.04;
        NormalMixture q = posterior.contrastIf(b, new double[] {-2, 1}, 0.3, 1e-4, 0.5);
        assertThat(q.parts()).hasSize(1);
        assertThat(q.mean()).isCloseTo(0.3 - (1.556 + 1.5855) + 1.803, within(1e-12));
        double variance = 4 * (b * b + w2 / 2) / 2 + (b * b + w2 / 4) + 1e-4 + 0.5 * (b * b + w2);
        assertThat(q.standardDeviation()).isCloseTo(Math.sqrt(variance), within(1e-12));
    }

    /** σ_b² + (σ_w² + r²)/W of each circle at the medians; its inverse is the circle's weight. */
    @Test
    void typicalWeights_areThoseOfTheCirclesVariances() {
        RepeatabilityPosterior posterior = posterior(UNBALANCED);
        double b2 = Math.pow(posterior.circleToCircle(0.95).value(), 2);
        double w2 = Math.pow(posterior.reading(0.95).value(), 2) + RESOLUTION * RESOLUTION;
        List<CircleSummary> uneven = List.of(circle(1.6), circle(1.5, 1.7, 1.6, 1.6, 1.6, 1.6, 1.6, 1.6));
        double p1 = 1 / (b2 + w2);
        double p8 = 1 / (b2 + w2 / 8);
        assertThat(posterior.typicalVariance(uneven)).isCloseTo(1 / (p1 + p8), within(1e-15));
        assertThat(posterior.typicalCircleWeights(uneven)[0]).isCloseTo(p1 / (p1 + p8), within(1e-12));
        assertThat(posterior.typicalCircleWeights(uneven)[1]).isCloseTo(p8 / (p1 + p8), within(1e-12));
        List<CircleSummary> alike = List.of(circle(1.6), circle(1.9), circle(1.7));
        assertThat(posterior.typicalCircleWeights(alike)).containsExactly(1 / 3.0, 1 / 3.0, 1 / 3.0);
        // a posterior nearby keeps them
        assertThat(posterior.near(without(UNBALANCED, 2, 1), CIRCLE, READING).typicalVariance(uneven))
                .isEqualTo(posterior.typicalVariance(uneven));
    }

    /** They rise, hold all probability in about equal shares, and on average are the whole. */
    @Test
    void levels_standForTheWholePosterior() {
        CircleData balanced = new CircleData(
                List.of(List.of(circle(1.55), circle(1.60)), List.of(circle(1.80), circle(1.81), circle(1.79))));
        RepeatabilityPosterior posterior = posterior(balanced);
        List<RepeatabilityPosterior.Level> levels = posterior.levels(8, 1);
        double weight = 0;
        double[] variances = new double[2];
        double newCircle = 0;
        double last = 0;
        for (RepeatabilityPosterior.Level level : levels) {
            weight += level.weight();
            for (int k = 0; k < 2; k++) {
                variances[k] += level.weight() * level.cellVariances().get(k);
            }
            newCircle += level.weight() * level.newCircleVariances().get(0);
            assertThat(level.newCircleVariances().get(0)).isGreaterThan(last);
            assertThat(level.newCircleVariances().get(1))
                    .isEqualTo(level.newCircleVariances().get(0));
            last = level.newCircleVariances().get(0);
        }
        for (RepeatabilityPosterior.Level level : levels.subList(0, levels.size() - 1)) {
            assertThat(level.weight()).isBetween(0.125, 0.16);
        }
        assertThat(weight).isCloseTo(1, within(1e-6));
        assertThat(newCircle).isCloseTo(posterior.newCircleVariance(), within(1e-12));
        // circles of a reading each: the estimates do not move with the standard deviations, so that this is all
        assertThat(variances[0]).isCloseTo(posterior.variance(new double[] {1, 0}, 0, 0), within(1e-12));
        assertThat(variances[1]).isCloseTo(posterior.variance(new double[] {0, 1}, 0, 0), within(1e-12));
    }

    /** Two levels against two: 0.3 and 0.7 with 0.4 and 0.6, sorted by what the new circles of both vary by together. */
    @Test
    void pairsOfLevels_areEveryOneWithEveryOther() {
        var small = new RepeatabilityPosterior.Level(0.3, List.of(1.0), List.of(0.5));
        var large = new RepeatabilityPosterior.Level(0.7, List.of(4.0), List.of(2.0));
        var first = new RepeatabilityPosterior.Level(0.4, List.of(2.0, 2.0), List.of(0.1, 0.2));
        var second = new RepeatabilityPosterior.Level(0.6, List.of(3.0, 3.0), List.of(0.3, 0.4));
        List<RepeatabilityPosterior.Level> pairs =
                RepeatabilityPosterior.Level.pairs(List.of(large, small), List.of(first, second));
        assertThat(pairs)
                .extracting(RepeatabilityPosterior.Level::newCircleVariances)
                .containsExactly(
                        List.of(1.0, 2.0, 2.0), List.of(1.0, 3.0, 3.0), List.of(4.0, 2.0, 2.0), List.of(4.0, 3.0, 3.0));
        assertThat(pairs)
                .extracting(RepeatabilityPosterior.Level::cellVariances)
                .startsWith(List.of(0.5, 0.1, 0.2), List.of(0.5, 0.3, 0.4));
        double[] weights = {0.12, 0.18, 0.28, 0.42};
        for (int i = 0; i < 4; i++) {
            assertThat(pairs.get(i).weight()).isCloseTo(weights[i], within(1e-15));
        }
    }

    @Test
    void whereNothingScatters_nothingIsAssumed() {
        assertThat(posterior(UNBALANCED).assumedShare(new double[3])).isZero();
    }

    /** Thousands of circles of one reading: σ_b² + σ_w² is known to a hair, and either of them not at all. */
    @Test
    void ridgeTooNarrowForTheGrid_isNotCalledSettled() {
        SplittableRandom random = new SplittableRandom(31);
        assertThat(posterior(new CircleData(List.of(cell(random, 1000, 1, 1)))).settled())
                .isFalse();
    }

    @Test
    void resolutionThatIsNone_isRefused() {
        for (double resolution : new double[] {-1e-9, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThatThrownBy(() -> RepeatabilityPosterior.of(UNBALANCED, CIRCLE, READING, resolution))
                    .hasMessage("resolution is " + resolution + " m; must be in [0, ∞) m");
        }
    }
}
