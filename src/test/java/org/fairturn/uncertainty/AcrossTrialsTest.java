package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.integration.IterativeLegendreGaussIntegrator;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AcrossTrialsTest {
    private static final double RESOLUTION = 0.001 / Math.sqrt(12);
    private static final HalfT CIRCLES = new HalfT(0.05);
    private static final HalfT READINGS = new HalfT(0.02);
    private static final AcrossTrials ACROSS = new AcrossTrials(CIRCLES, READINGS, RESOLUTION);
    private static final double LEVEL = 0.95;

    /** A trial of so many cells and circles with two readings each. */
    private static CircleData trial(SplittableRandom random, int cells, int circles, double sigmaB, double sigmaW) {
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

    private static double gaussian(SplittableRandom random) {
        return Quantiles.normal(Math.max(random.nextDouble(), 1e-300));
    }

    private static AcrossTrials.Group group(List<PastScatter> trials) {
        AcrossTrials.Group group = ACROSS.new Group();
        trials.forEach(trial -> group.add(ACROSS.evidence(trial)));
        return group;
    }

    /** Trials whose σ_b is log-normal about 18 mm and whose σ_w is about 6 mm. */
    private static List<PastScatter> archive(long seed, int trials, double spread) {
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

    @ParameterizedTest(name = "ln σ spread {0}")
    @CsvSource({"0.2", "0.5"})
    void quantilesOfTheNextTrial_approachTheTruth_asTrialsGrow(double spread) {
        double before = Double.POSITIVE_INFINITY;
        for (int trials : new int[] {3, 30, 300}) {
            double off = 0;
            for (int run = 0; run < 4; run++) {
                LearntPrior next = group(archive(1000 * trials + run, trials, spread))
                        .circle(trials, LEVEL)
                        .next();
                for (double p : new double[] {0.1, 0.5, 0.9}) {
                    double truth = 0.018 * Math.exp(spread * Quantiles.normal(p));
                    off += Math.abs(Math.log(next.quantile(p) / truth)) / 12;
                }
            }
            System.out.printf(
                    Locale.ROOT, "archive: spread %.1f, %d trials: quantiles off by %.3f in ln%n", spread, trials, off);
            assertThat(off).isLessThan(before / 1.5);
            before = off;
        }
        assertThat(before).isLessThan(0.06);
    }

    /** The tail as well: the 95 % point is never much below the truth, whatever few trials happened to show. */
    @Test
    void oneTrialThatScatteredLittle_doesNotRuleOutMuch() {
        PastScatter calm = PastScatter.of(trial(new SplittableRandom(1), 4, 6, 0.003, 0.002));
        LearntPrior next = group(List.of(calm)).circle(1, LEVEL).next();
        assertThat(next.quantile(0.95)).isGreaterThan(0.05);
        assertThat(next.quantile(0.5)).isLessThan(0.03);
    }

    /**
     * New trials of one circle a cell with two readings, from the same population as the archive: how often the 95 % interval of
     * right less left holds the truth, and how wide it is.
     */
    @ParameterizedTest(name = "{0} past trials")
    @CsvSource({"3, 0.7", "14, 0.45", "60, 0.4"})
    void withAnArchive_coverageStays_andWidthShrinks(int past, double widthAtMost) {
        int held = 0;
        double width = 0;
        double usualWidth = 0;
        int archives = 20;
        int each = 25;
        double[] c = {-1, 1, 0, 0};
        for (int a = 0; a < archives; a++) {
            AcrossTrials.Group group = group(archive(77 * past + a, past, 0.4));
            LearntPrior circles = group.circle(past, LEVEL).next();
            LearntPrior readings = group.reading(past, LEVEL).next();
            var random = new SplittableRandom(90_000L * past + a);
            for (int t = 0; t < each; t++) {
                CircleData data = trial(
                        random,
                        4,
                        1,
                        0.018 * Math.exp(0.4 * gaussian(random)),
                        0.006 * Math.exp(0.2 * gaussian(random)));
                NormalMixture q = RepeatabilityPosterior.of(data, circles, readings, RESOLUTION)
                        .contrast(c, 0, 0);
                held += holds(q) ? 1 : 0;
                if (t < 5) {
                    NormalMixture usual = RepeatabilityPosterior.of(data, CIRCLES, READINGS, RESOLUTION)
                            .contrast(c, 0, 0);
                    width += q.quantile(0.975) - q.quantile(0.025);
                    usualWidth += usual.quantile(0.975) - usual.quantile(0.025);
                }
            }
        }
        double coverage = (double) held / archives / each;
        System.out.printf(
                Locale.ROOT,
                "archive: %d past trials: coverage %.4f, width %.3f of the usual%n",
                past,
                coverage,
                width / usualWidth);
        // no upper limit: few past trials leave much to the usual prior, which covers always; the width says what was
        // gained
        assertThat(coverage).isGreaterThanOrEqualTo(0.93);
        assertThat(width / usualWidth).isLessThan(widthAtMost);
    }

    private static boolean holds(NormalMixture q) {
        double below = q.probabilityBelow(0);
        return below >= 0.025 && below <= 0.975;
    }
}
