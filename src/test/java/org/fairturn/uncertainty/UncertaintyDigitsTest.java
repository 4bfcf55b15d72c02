package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import org.fairturn.ReferenceData;
import org.fairturn.ReferenceData.Exact;
import org.junit.jupiter.api.Test;

/** Against values worked out at 50 digits: testdata/reference/fifty-digits. */
class UncertaintyDigitsTest {
    private static final double RELATIVE = 1e-10;
    /** What {@link Quantiles} promises of its quantiles. */
    private static final double QUANTILES = 1e-9;

    private static final double RESOLUTION = 0.001 / Math.sqrt(12);

    private static List<Exact> exact(String function) {
        return ReferenceData.exact("fifty-digits/uncertainty.csv", function);
    }

    private static void agree(String function, double relative, ToDoubleFunction<Exact> found) {
        for (Exact row : exact(function)) {
            assertThat(found.applyAsDouble(row))
                    .as("%s %s", function, row)
                    .isCloseTo(row.value(0), within(relative * Math.abs(row.value(0))));
        }
    }

    /** Relative to the probability itself, far out in the tail too. */
    @Test
    void normalProbability_agreesAtFiftyDigits() {
        agree("normalProbability", RELATIVE, row -> Quantiles.normalProbability(row.argument(0)));
    }

    @Test
    void quantiles_agreeAtFiftyDigits_asTheyPromise() {
        for (Exact row : exact("normal")) {
            assertThat(Quantiles.normal(row.argument(0))).as(row.toString()).isCloseTo(row.value(0), within(QUANTILES));
        }
        agree("student", QUANTILES, row -> Quantiles.student(row.argument(0), row.argument(1)));
        agree("f", QUANTILES, row -> Quantiles.f(row.argument(0), row.argument(1), row.argument(2)));
        agree("chiSquared", QUANTILES, row -> Quantiles.chiSquared(row.argument(0), row.argument(1)));
    }

    @Test
    void priors_agreeAtFiftyDigits() {
        agree("halfT", QUANTILES, row -> new HalfT(row.argument(1)).quantile(row.argument(0)));
        for (Exact row : exact("learntPrior")) {
            LearntPrior prior =
                    new LearntPrior(row.argument(0), row.argument(1), new HalfT(row.argument(2)), row.argument(3));
            assertThat(prior.logDensity(row.argument(4)))
                    .as(row.toString())
                    .isCloseTo(row.value(0), within(RELATIVE * (1 + Math.abs(row.value(0)))));
            assertThat(prior.probabilityBelow(row.argument(4)))
                    .as(row.toString())
                    .isCloseTo(row.value(1), within(RELATIVE * row.value(1)));
        }
    }

    /** Its t comes from {@link Quantiles}, whose 1e-9 moves a power by no more than that. */
    @Test
    void power_agreesAtFiftyDigits() {
        agree("power1", QUANTILES, r -> Power.oneSample(r.argument(0), r.argument(1), r.argument(2), r.argument(3)));
        agree("power2", QUANTILES, r -> Power.twoSample(r.argument(0), r.argument(1), r.argument(2), r.argument(3)));
    }

    private record Case(CircleData data, double priorB, double priorW, List<Double> contrast, double x) {}

    private static CircleSummary circle(double... readings) {
        double[] w = new double[readings.length];
        Arrays.fill(w, 1);
        return CircleSummary.of(readings, w);
    }

    /** The data of the script, in its order. */
    private static final List<Case> CASES = List.of(
            new Case(
                    new CircleData(List.of(
                            List.of(circle(1.60, 1.61), circle(1.65, 1.64)),
                            List.of(circle(1.78, 1.77), circle(1.75)))),
                    0.05,
                    0.02,
                    List.of(-1.0, 1.0),
                    0.20),
            new Case(
                    new CircleData(List.of(List.of(circle(1.55)), List.of(circle(1.80)))),
                    0.05,
                    0.02,
                    List.of(-1.0, 1.0),
                    0.30),
            new Case(
                    new CircleData(List.of(List.of(circle(2, 2), circle(2, 2)), List.of(circle(2, 2)))),
                    0.05,
                    0.02,
                    List.of(-1.0, 1.0),
                    0.002),
            new Case(
                    new CircleData(List.of(List.of(circle(0.21, 0.28, 0.30), circle(0.25)))),
                    0.001,
                    0.3,
                    List.of(1.0),
                    0.23),
            new Case(
                    new CircleData(List.of(
                            List.of(circle(150, 151.5), circle(149), circle(152.2, 152.3)),
                            List.of(circle(160.1), circle(161)))),
                    2,
                    1,
                    List.of(-1.0, 1.0),
                    9));

    /** Of two points against each other, since constants are left out; the script has the covariance matrix itself. */
    @Test
    void restrictedLikelihood_agreesAtFiftyDigits() {
        for (Exact row : exact("restrictedLikelihood")) {
            Case c = CASES.get((int) row.argument(0));
            RestrictedLikelihood likelihood = new RestrictedLikelihood(c.data(), RESOLUTION);
            assertThat(likelihood.logLikelihood(row.argument(1), row.argument(2))
                            - likelihood.logLikelihood(c.priorB(), c.priorW()))
                    .as(row.toString())
                    .isCloseTo(row.value(0), within(RELATIVE * (1 + Math.abs(row.value(0)))));
        }
    }

    /** The grid promises 1e-7 of its integral and leaves about as much of a contrast's probability. */
    @Test
    void posteriorOfAContrast_agreesWithQuadratureAtTwentyFiveDigits() {
        for (Exact row : exact("posterior")) {
            Case c = CASES.get((int) row.argument(0));
            NormalMixture q = RepeatabilityPosterior.of(
                            c.data(), new HalfT(c.priorB()), new HalfT(c.priorW()), RESOLUTION)
                    .contrast(c.contrast().stream().mapToDouble(k -> k).toArray(), 0, 0);
            assertThat(q.mean()).as(row.toString()).isCloseTo(row.value(0), within(2e-7 * q.standardDeviation()));
            assertThat(q.probabilityBelow(c.x())).as(row.toString()).isCloseTo(row.value(1), within(2e-7));
        }
    }

    /** Halley's last step leaves about the third power of 1e-3 of the spread; where parts are narrow, of their own. */
    @Test
    void quantilesOfMixtures_agreeAtFiftyDigits() {
        for (Exact row : exact("mixtureQuantile")) {
            int n = row.arguments() / 3;
            NormalMixture mixture = new NormalMixture(
                    row.arguments(1, 1 + n), row.arguments(1 + n, 1 + 2 * n), row.arguments(1 + 2 * n, 1 + 3 * n));
            double found = mixture.quantile(row.argument(0));
            assertThat(found).as(row.toString()).isCloseTo(row.value(0), within(1e-8 * mixture.standardDeviation()));
            assertThat(mixture.probabilityBelow(found))
                    .as(row.toString())
                    .isCloseTo(row.argument(0), within(1e-7 * row.argument(0)));
        }
    }

    /** The script sums over every way in which so many of the others lie below. {@link Ranking} promises 1e-9. */
    @Test
    void ranking_agreesAtFiftyDigits() {
        for (Exact row : exact("ranking")) {
            int n = row.arguments() / 2;
            List<NormalMixture> quantities = IntStream.range(0, n)
                    .mapToObj(i -> new NormalMixture(new double[] {1}, new double[] {row.argument(i)}, new double[] {
                        row.argument(n + i) * row.argument(n + i)
                    }))
                    .toList();
            double[][] found = Ranking.probabilities(quantities);
            for (int i = 0; i < n * n; i++) {
                assertThat(found[i / n][i % n]).as(row.toString()).isCloseTo(row.value(i), within(1e-9));
            }
        }
    }

    /** {@link Information} promises 1e-7, and leaves out what lies beyond 7 standard deviations: 1e-11. */
    @Test
    void information_agreesAtFiftyDigits() {
        agree(
                "information",
                1e-7,
                row -> Information.ofNumber(
                        List.of(row.argument(0), 1 - row.argument(0)),
                        List.of(
                                new NormalMixture(new double[] {1}, new double[] {0}, new double[] {1}),
                                new NormalMixture(new double[] {1}, new double[] {row.argument(1)}, new double[] {
                                    row.argument(2) * row.argument(2)
                                }))));
    }
}
