package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.function.ToDoubleBiFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class AcrossTrialsTest {
    private static final double RESOLUTION = 0.001 / Math.sqrt(12);
    private static final HalfT CIRCLES = new HalfT(0.05);
    private static final HalfT READINGS = new HalfT(0.02);
    private static final AcrossTrials ACROSS = new AcrossTrials(CIRCLES, READINGS, RESOLUTION);
    private static final double LEVEL = 0.95;

    /** A trial of so many cells and circles with two readings each. */
    static CircleData trial(SplittableRandom random, int cells, int circles, double sigmaB, double sigmaW) {
        List<List<CircleSummary>> all = new ArrayList<>();
        for (int k = 0; k < cells; k++) {
            List<CircleSummary> cell = new ArrayList<>();
            for (int i = 0; i < circles; i++) {
                double b = 1.6 + sigmaB * gaussian(random);
                cell.add(CircleSummary.of(
                        new double[] {b + sigmaW * gaussian(random), b + sigmaW * gaussian(random)},
                        new double[] {1, 1}));
            }
            all.add(cell);
        }
        return new CircleData(all);
    }

    static double gaussian(SplittableRandom random) {
        return Quantiles.normal(Math.max(random.nextDouble(), 1e-300));
    }

    static AcrossTrials.Group group(List<PastScatter> trials) {
        AcrossTrials.Group group = ACROSS.new Group();
        trials.forEach(trial -> group.add(ACROSS.evidence(trial)));
        return group;
    }

    /** Trials whose σ_b is log-normal about 18 mm and whose σ_w is about 6 mm. */
    static List<PastScatter> archive(long seed, int trials, double spread) {
        var random = new SplittableRandom(seed);
        return IntStream.range(0, trials)
                .mapToObj(t -> PastScatter.of(trial(
                        random,
                        4,
                        3,
                        0.018 * Math.exp(spread * gaussian(random)),
                        0.006 * Math.exp(0.2 * gaussian(random)))))
                .toList();
    }

    @Test
    void equallyMeasuredCircles_giveTheRestrictedLikelihood() {
        CircleData data = trial(new SplittableRandom(3), 4, 3, 0.02, 0.008);
        RestrictedLikelihood exact = new RestrictedLikelihood(data, RESOLUTION);
        PastScatter summed = PastScatter.of(data);
        double origin = exact.logLikelihood(0.01, 0.01) - summed.logLikelihood(0.01, 0.01, RESOLUTION);
        for (double sigmaB : new double[] {0, 0.004, 0.03, 0.2}) {
            for (double sigmaW : new double[] {0.001, 0.007, 0.05}) {
                assertThat(summed.logLikelihood(sigmaB, sigmaW, RESOLUTION) + origin)
                        .isCloseTo(exact.logLikelihood(sigmaB, sigmaW), within(1e-9));
            }
        }
    }

    @Test
    void unequallyMeasuredCircles_keepTheExpectationOfTheirSquares() {
        var random = new SplittableRandom(17);
        double sigmaB = 0.01;
        double sigmaW = 0.012;
        double sum = 0;
        int trials = 20_000;
        PastScatter last = null;
        for (int t = 0; t < trials; t++) {
            List<CircleSummary> cell = new ArrayList<>();
            for (int readings : new int[] {1, 2, 6}) {
                double b = 1.6 + sigmaB * gaussian(random);
                cell.add(CircleSummary.of(
                        IntStream.range(0, readings)
                                .mapToDouble(j -> b + sigmaW * gaussian(random))
                                .toArray(),
                        IntStream.range(0, readings).mapToDouble(j -> 1).toArray()));
            }
            last = PastScatter.of(new CircleData(List.of(cell)));
            sum += last.circleSquares();
        }
        assertThat(last.circleWeight()).isCloseTo(3 / (1 + 1 / 2.0 + 1 / 6.0), within(1e-12));
        double expected = last.circleDegrees() * (sigmaB * sigmaB + sigmaW * sigmaW / last.circleWeight());
        // χ² of 2 degrees of freedom has as much standard deviation as mean: over 20 000 trials 0.7 % of it, here three
        // times that
        assertThat(sum / trials).isCloseTo(expected, within(0.021 * expected));
    }

    @Test
    void twoPartsOfATrial_addUpToTheWhole() {
        CircleData whole = trial(new SplittableRandom(5), 4, 3, 0.02, 0.008);
        PastScatter parts = PastScatter.of(new CircleData(whole.cells().subList(0, 2)))
                .plus(PastScatter.of(new CircleData(whole.cells().subList(2, 4))));
        PastScatter once = PastScatter.of(whole);
        assertThat(parts.circleDegrees()).isEqualTo(once.circleDegrees());
        assertThat(parts.circleSquares()).isCloseTo(once.circleSquares(), within(1e-15));
        assertThat(parts.circleWeight()).isCloseTo(once.circleWeight(), within(1e-12));
        assertThat(parts.readingDegrees()).isEqualTo(once.readingDegrees());
        assertThat(parts.readingSquares()).isCloseTo(once.readingSquares(), within(1e-15));
    }

    /**
     * ASTM E691, Table 1 (testdata/reference): each material stands for a trial, its 8 laboratories for circles, 3 replicates
     * for readings; mg/dl are taken for millimetres. The marginal likelihood is worked out again by adaptive quadrature.
     */
    @Test
    void marginalLikelihood_ofTheGlucoseData_isThatOfAnIndependentIntegration() {
        var materials = ReferenceData.rows("astm-e691-glucose.csv").stream()
                .collect(Collectors.groupingBy(row -> row.get("material")));
        assertThat(materials).hasSize(5);
        for (List<CSVRecord> material : materials.values()) {
            CircleData data = new CircleData(List.of(
                    material.stream().collect(Collectors.groupingBy(row -> row.get("laboratory"))).values().stream()
                            .map(rows -> CircleSummary.of(
                                    rows.stream()
                                            .mapToDouble(r -> Double.parseDouble(r.get("glucose_mg_dl")) / 1000)
                                            .toArray(),
                                    new double[] {1, 1, 1}))
                            .toList()));
            AcrossTrials.Evidence evidence = ACROSS.evidence(PastScatter.of(data));
            RestrictedLikelihood likelihood = new RestrictedLikelihood(data, RESOLUTION);
            int[][] points = {{0, 30}, {8, 20}, {8, 45}, {22, 60}};
            double[] circle = new double[points.length];
            double[] reading = new double[points.length];
            Map<Double, Double> overReadings = new HashMap<>(); // which does not depend on the point
            DoubleUnaryOperator inner = b -> overReadings.computeIfAbsent(
                    b,
                    same -> integral(w -> Math.exp(likelihood.logLikelihood(Math.exp(same), Math.exp(w))
                            - 100
                            + READINGS.logDensity(Math.exp(w))
                            + w)));
            for (int p = 0; p < points.length; p++) {
                var member = new NormalDistribution(
                        null, AcrossTrials.centre(points[p][1]), AcrossTrials.omega(points[p][0]));
                circle[p] = Math.log(integral(b -> member.density(b) * inner.applyAsDouble(b)));
                reading[p] = Math.log(integral(w -> member.density(w)
                        * Math.exp(likelihood.logWithinCircles(likelihood.readingVariance(Math.exp(w))) - 50)));
            }
            for (int p = 1; p < points.length; p++) {
                assertThat(evidence.circle(points[p][0], points[p][1]) - evidence.circle(points[0][0], points[0][1]))
                        .isCloseTo(circle[p] - circle[0], within(1e-4));
                assertThat(evidence.reading(points[p][0], points[p][1]) - evidence.reading(points[0][0], points[0][1]))
                        .isCloseTo(reading[p] - reading[0], within(1e-4));
            }
        }
    }

    /** In pieces, so that no peak falls between the nodes. */
    private static double integral(UnivariateFunction f) {
        double sum = 0;
        for (double from = Math.log(1e-7); from < 0; from += 0.8) {
            sum += new IterativeLegendreGaussIntegrator(12, 1e-6, 1e-200)
                    .integrate(100_000, f, from, Math.min(0, from + 0.8));
        }
        return sum;
    }

    @Test
    void beforeTheFirstTrial_theUsualPriorStands() {
        AcrossTrials.Group none = ACROSS.new Group();
        LearntPrior next = none.circle(0, LEVEL).next();
        assertThat(next.usualShare()).isEqualTo(1);
        assertThat(next.usual()).isEqualTo(CIRCLES);
        double constant = next.logDensity(0.02) - CIRCLES.logDensity(0.02);
        for (double sigma : new double[] {0.0001, 0.005, 0.05, 0.5}) {
            assertThat(next.logDensity(sigma) - CIRCLES.logDensity(sigma)).isCloseTo(constant, within(1e-12));
        }
    }

    @Test
    void theOrderOfTheTrials_changesNoDigit() {
        List<PastScatter> trials = new ArrayList<>(archive(11, 25, 0.4));
        AcrossTrials.Learnt before = group(trials).circle(25, LEVEL);
        for (int seed = 0; seed < 5; seed++) {
            Collections.shuffle(trials, new Random(seed));
            assertThat(group(trials).circle(25, LEVEL)).isEqualTo(before);
        }
    }

    /** The tail as well: the 95 % point is never much below the truth, whatever few trials happened to show. */
    @Test
    void oneTrialThatScatteredLittle_doesNotRuleOutMuch() {
        PastScatter calm = PastScatter.of(trial(new SplittableRandom(1), 4, 6, 0.003, 0.002));
        LearntPrior next = group(List.of(calm)).circle(1, LEVEL).next();
        assertThat(next.quantile(0.95)).isGreaterThan(0.05);
        assertThat(next.quantile(0.5)).isLessThan(0.03);
    }

    /** Weights of every μ and ω on the grid after some trials: their evidence, one member of the usual prior, and half of a normal. */
    private static double[][] weights(HalfT usual, ToDoubleBiFunction<Integer, Integer> evidence) {
        double[][] logs = new double[23][121];
        double most = Double.NEGATIVE_INFINITY;
        double[] axis = IntStream.range(0, 355)
                .mapToDouble(i -> Math.log(1e-6) + 0.05 * i)
                .toArray();
        double[] density = Arrays.stream(axis)
                .map(x -> Math.exp(usual.logDensity(Math.exp(x)) + x))
                .toArray();
        for (int o = 0; o < 23; o++) {
            double omega = 0.1 + 0.05 * o;
            for (int m = 0; m < 121; m++) {
                double mu = AcrossTrials.centre(m);
                double member = 0;
                for (int i = 0; i < axis.length; i++) {
                    double z = (axis[i] - mu) / omega;
                    member += density[i] * Math.exp(-z * z / 2) / omega;
                }
                logs[o][m] = evidence.applyAsDouble(o, m) + Math.log(member) - omega * omega / 0.25 / 2;
                most = Math.max(most, logs[o][m]);
            }
        }
        double sum = 0;
        for (double[] row : logs) {
            for (int m = 0; m < 121; m++) {
                row[m] = Math.exp(row[m] - most);
                sum += row[m];
            }
        }
        for (double[] row : logs) {
            for (int m = 0; m < 121; m++) {
                row[m] /= sum;
            }
        }
        return logs;
    }

    private static void agrees(AcrossTrials.Learnt learnt, double[][] weights) {
        double omega = 0;
        double omegaSquared = 0;
        double mu = 0;
        double muSquared = 0;
        double[] below = new double[121];
        for (int m = 0; m < 121; m++) {
            below[m] = m == 0 ? 0 : below[m - 1];
            for (int o = 0; o < 23; o++) {
                double w = weights[o][m];
                omega += w * (0.1 + 0.05 * o);
                omegaSquared += w * Math.pow(0.1 + 0.05 * o, 2);
                mu += w * AcrossTrials.centre(m);
                muSquared += w * Math.pow(AcrossTrials.centre(m), 2);
                below[m] += w;
            }
        }
        // the usual prior below 0.1 mm and above 1 m, which the archive cuts off, weighs less than 1e-3
        assertThat(learnt.spread()).isCloseTo(omega, within(1e-3 * omega));
        assertThat(learnt.next().median()).isCloseTo(Math.exp(mu), within(1e-3 * Math.exp(mu)));
        double variance = omegaSquared + muSquared - mu * mu;
        assertThat(learnt.next().logSpread()).isCloseTo(Math.sqrt(variance), within(1e-3 * Math.sqrt(variance)));
        // quantiles lie within half a step of 5 % of where the sum over the grid reaches them
        for (double[] q : new double[][] {
            {0.025, learnt.typical().low()},
            {0.5, learnt.typical().value()},
            {0.975, learnt.typical().high()}
        }) {
            int m = 0;
            while (below[m] < q[0]) {
                m++;
            }
            assertThat(Math.log(q[1])).isCloseTo(AcrossTrials.centre(m), within(0.05));
        }
    }

    /** Eight degrees of freedom of circles and twelve of readings at these standard deviations (mm), exactly. */
    private static PastScatter exactly(double circles, double readings) {
        double w = readings * readings * 1e-6;
        return new PastScatter(8, 8 * (circles * circles * 1e-6 + w / 2), 2, 12, 12 * w);
    }

    @Test
    void whatIsLearnt_isTheMeanOverTheGrid_summedPlainly() {
        List<AcrossTrials.Evidence> trials =
                List.of(exactly(9, 6), exactly(14, 5), exactly(22, 9), exactly(30, 6)).stream()
                        .map(ACROSS::evidence)
                        .toList();
        // once, and as many times over as leaves no double for their likelihood
        for (int times : new int[] {1, 150}) {
            AcrossTrials.Group group = ACROSS.new Group();
            for (int i = 0; i < times; i++) {
                trials.forEach(group::add);
            }
            AcrossTrials.Learnt circles = group.circle(4 * times, LEVEL);
            assertThat(circles.trials()).isEqualTo(4 * times);
            assertThat(circles.next().usual()).isEqualTo(CIRCLES);
            assertThat(circles.next().usualShare()).isEqualTo(1.0 / (4 * times + 1));
            agrees(
                    circles,
                    weights(
                            CIRCLES,
                            (o, m) -> times
                                    * trials.stream()
                                            .mapToDouble(t -> t.circle(o, m))
                                            .sum()));
            agrees(
                    group.reading(4 * times, LEVEL),
                    weights(
                            READINGS,
                            (o, m) -> times
                                    * trials.stream()
                                            .mapToDouble(t -> t.reading(o, m))
                                            .sum()));
        }
    }

    /** With 2000 degrees of freedom a trial's own standard deviation is as good as known: N(ln σ; μ, ω²) itself is left. */
    @Test
    void evidenceOfAVeryLongTrial_isTheDensityOfItsStandardDeviation() {
        double sigma = 1e-4 * Math.exp(5); // a point of the grid, 14.8 mm
        AcrossTrials.Evidence evidence =
                ACROSS.evidence(new PastScatter(0, 0, 2, 2000, 2000 * (sigma * sigma + RESOLUTION * RESOLUTION)));
        double[] found = new double[3];
        double[] expected = new double[3];
        int[][] points = {{8, 60}, {8, 45}, {20, 75}};
        for (int p = 0; p < 3; p++) {
            double omega = AcrossTrials.omega(points[p][0]);
            double z = (Math.log(sigma) - AcrossTrials.centre(points[p][1])) / omega;
            found[p] = evidence.reading(points[p][0], points[p][1]);
            expected[p] = -z * z / 2 - Math.log(omega);
        }
        // one part in 4000 of what is left open of ln σ, over ω²
        assertThat(found[1] - found[0]).isCloseTo(expected[1] - expected[0], within(5e-3));
        assertThat(found[2] - found[0]).isCloseTo(expected[2] - expected[0], within(5e-3));
    }

    @Test
    void trialsTakenOutAgain_leaveNoTrace() {
        AcrossTrials.Group all = group(List.of(exactly(9, 6), exactly(14, 5), exactly(60, 30)));
        AcrossTrials.Group rest = all.without(group(List.of(exactly(60, 30))));
        AcrossTrials.Group never = group(List.of(exactly(9, 6), exactly(14, 5)));
        assertThat(rest.circle(2, LEVEL)).isEqualTo(never.circle(2, LEVEL));
        assertThat(rest.reading(2, LEVEL)).isEqualTo(never.reading(2, LEVEL));
        // the group it was taken from still has them
        assertThat(all.circle(3, LEVEL)).isNotEqualTo(never.circle(3, LEVEL));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -1, Double.POSITIVE_INFINITY, Double.NaN})
    void aResolutionThatIsNone_isRefused(double resolution) {
        assertThatThrownBy(() -> new AcrossTrials(CIRCLES, READINGS, resolution))
                .hasMessage("resolution is " + resolution + " m; must be in (0, ∞) m");
    }
}
