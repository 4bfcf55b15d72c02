package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.math3.distribution.TDistribution;
import org.apache.commons.math3.optim.InitialGuess;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.nonlinear.scalar.ObjectiveFunction;
import org.apache.commons.math3.optim.nonlinear.scalar.noderiv.NelderMeadSimplex;
import org.apache.commons.math3.optim.nonlinear.scalar.noderiv.SimplexOptimizer;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** One-way data sets: groups stand for circles of one cell, observations for readings. */
class VarianceComponentsTest {

    static CircleData oneWay(String file, String group, String value) {
        Map<String, List<Double>> groups = new LinkedHashMap<>();
        for (CSVRecord row : ReferenceData.rows(file)) {
            groups.computeIfAbsent(row.get(group), g -> new ArrayList<>()).add(Double.parseDouble(row.get(value)));
        }
        return new CircleData(List.of(groups.values().stream()
                .map(values -> {
                    double[] y = values.stream().mapToDouble(v -> v).toArray();
                    double[] w = new double[y.length];
                    Arrays.fill(w, 1);
                    return CircleSummary.of(y, w);
                })
                .toList()));
    }

    /** (σ_b, σ_w) where the restricted likelihood peaks: the posterior's peak with flat priors. */
    static double[] peak(CircleData data, double guess) {
        RestrictedLikelihood likelihood = new RestrictedLikelihood(data, 0);
        double[] logs = new SimplexOptimizer(1e-15, 1e-15)
                .optimize(
                        new MaxEval(20_000),
                        GoalType.MAXIMIZE,
                        new InitialGuess(new double[] {Math.log(guess), Math.log(guess)}),
                        new NelderMeadSimplex(2, 0.5),
                        new ObjectiveFunction(x -> likelihood.logLikelihood(Math.exp(x[0]), Math.exp(x[1]))))
                .getPoint();
        return new double[] {Math.exp(logs[0]), Math.exp(logs[1])};
    }

    @ParameterizedTest
    @CsvSource({
        // Dyestuff: Davies & Goldsmith; Box & Tiao; sd 42.0006 and 49.5101, SE of the mean 19.3834 (read in the
        // lme4 test suite)
        "dyestuff.csv, batch, yield, 42.0006, 49.5101, 1527.5, 19.3834, 40",
        // Rail: Pinheiro & Bates (secondary), loom strength: Montgomery, turnip leaves: Snedecor & Cochran (from
        // memory); all recomputed
        "rail.csv, rail, travel_ns, 24.80547, 4.020779, 66.5, 10.17104, 10",
        "loom-strength.csv, loom, strength, 2.63787, 1.37689, 95.4375, 1.36311, 2",
        "turnip-leaf-calcium.csv, leaf, calcium_percent, 0.269036, 0.0812532, 3.165625, 0.136043, 0.1"
    })
    void restrictedLikelihood_peaksAtThePublishedRemlEstimates(
            String file, String group, String value, double sdB, double sdW, double mean, double se, double guess) {
        CircleData data = oneWay(file, group, value);
        double[] peak = peak(data, guess);
        double relative = 2e-6; // six printed figures
        assertThat(peak[0]).isCloseTo(sdB, within(relative * sdB));
        assertThat(peak[1]).isCloseTo(sdW, within(relative * sdW));
        var there = new RestrictedLikelihood(data, 0).at(peak[0], peak[1]);
        assertThat(there.mean(new double[] {1})).isCloseTo(mean, within(relative * mean));
        assertThat(Math.sqrt(there.variance(new double[] {1}))).isCloseTo(se, within(5e-6 * se));
        assertThat(Math.sqrt(there.variance(new double[] {-3}))).isCloseTo(3 * se, within(15e-6 * se));
    }

    @Test
    void restrictedLikelihood_isTheOneMixedModelProgramsPrint() {
        // REML criterion of Dyestuff, 319.654276842342 in the lme4 test suite: -2 ln L with (N - 1)·ln 2π and,
        // since the circle means stand for the readings, ln n for each group and ln 6 for the one cell of six.
        CircleData data = oneWay("dyestuff.csv", "batch", "yield");
        double[] peak = peak(data, 40);
        double criterion = -2 * new RestrictedLikelihood(data, 0).logLikelihood(peak[0], peak[1])
                + 29 * Math.log(2 * Math.PI)
                + 6 * Math.log(5)
                + Math.log(6);
        assertThat(criterion).isCloseTo(319.654276842342, within(1e-9));
    }

    @Test
    void dyestuff2_hasItsPeakAtNoBatchVarianceAtAll() {
        // Box & Tiao's constructed set (from memory, recomputed): REML 0 and 3.7157, criterion 161.8283.
        CircleData data = oneWay("dyestuff2.csv", "batch", "yield");
        double[] peak = peak(data, 2);
        assertThat(peak[0]).isLessThan(1e-3);
        assertThat(peak[1]).isCloseTo(3.7157, within(5e-5));
        CircleAnova anova = CircleAnova.of(data);
        assertThat(anova.circleVariance()).isCloseTo(-1.321913, within(5e-7));
        // the posterior does not fall over there
        var posterior = RepeatabilityPosterior.of(data, HalfT.FLAT, HalfT.FLAT, 0);
        assertThat(posterior.settled()).isTrue();
        assertThat(posterior.circleToCircle(0.95).low()).isPositive();
    }

    @Test
    void nestedGumExampleH5_withFlatPriors() {
        // JCGM 100:2008, H.5: ten daily means of five readings. Printed: s_B = 43 µV, pooled s_w = 85 µV, u of the
        // mean 18 µV (from memory); full precision 42.6386, 84.8870, 18.0533 (recomputed). F printed 2.25 from
        // rounded values.
        CircleData data = new CircleData(List.of(ReferenceData.rows("gum-h5-voltage.csv").stream()
                .map(row -> {
                    double sd = Double.parseDouble(row.get("daily_sd_microvolt"));
                    int n = Integer.parseInt(row.get("n_per_day"));
                    double mean = (Double.parseDouble(row.get("daily_mean_volt")) - 10) * 1e6;
                    return new CircleSummary(mean, n, n, (n - 1) * sd * sd);
                })
                .toList()));
        CircleAnova anova = CircleAnova.of(data);
        assertThat(anova.f()).isCloseTo(2.25, within(0.02)).isCloseTo(2.2615, within(5e-5));
        assertThat(Math.sqrt(anova.meanSquareWithin())).isCloseTo(84.8870, within(5e-5));
        assertThat(Math.sqrt(anova.circleVariance())).isCloseTo(42.6386, within(5e-4));
        double[] peak = peak(data, 50);
        assertThat(peak[0]).isCloseTo(42.6386, within(5e-4));
        assertThat(peak[1]).isCloseTo(84.8870, within(5e-4));
        assertThat(Math.sqrt(
                        new RestrictedLikelihood(data, 0).at(peak[0], peak[1]).variance(new double[] {1})))
                .isCloseTo(18.0533, within(5e-4));
        // between-day effect accepted: ν = 9, so the data-only interval is t(9)·u about the mean of 97.1 µV
        var dataOnly = anova.contrast(new double[] {1}, 0, 0.95).orElseThrow();
        assertThat(dataOnly.degreesOfFreedom()).isCloseTo(9, within(1e-9));
        assertThat(dataOnly.estimate().value()).isCloseTo(97.1, within(1e-6));
        assertThat(dataOnly.estimate().standardUncertainty()).isCloseTo(18.0533, within(5e-5));
        // the posterior with flat priors is centred there and, σ_b being uncertain, a little wider than t(9)
        var mean = RepeatabilityPosterior.of(data, HalfT.FLAT, HalfT.FLAT, 0)
                .contrast(new double[] {1}, 0, 0)
                .estimate(0.95);
        assertThat(mean.value()).isCloseTo(97.1, within(1e-6));
        assertThat(mean.halfWidth() / dataOnly.estimate().halfWidth()).isBetween(0.95, 1.2);
    }

    @ParameterizedTest
    @ValueSource(strings = {"SiRstv", "AtmWtAg", "SmLs01", "SmLs02", "SmLs04", "SmLs05", "SmLs07", "SmLs08"})
    void anova_matchesTheNistCertifiedValues(String set) {
        // NIST Statistical Reference Datasets, one-way ANOVA, certified F. SmLs07 and 08 carry 13 constant leading
        // digits: a double holds the values themselves only to 1e-4, so three figures are all the data can give.
        CSVRecord certified = ReferenceData.rows("nist/certified-anova.csv").stream()
                .filter(row -> row.get("dataset").equals(set))
                .findFirst()
                .orElseThrow();
        CircleAnova anova = CircleAnova.of(oneWay("nist/" + set + ".csv", "group", "y"));
        double digits = set.matches("SmLs0[78]") ? 1e-3 : set.matches("SmLs0[45]") ? 1e-9 : 1e-10;
        assertThat(anova.degreesBetween()).isEqualTo(Integer.parseInt(certified.get("df_between")));
        assertThat(anova.degreesWithin()).isEqualTo(Integer.parseInt(certified.get("df_within")));
        for (var pair : Map.of(
                        "f", anova.f(), "ms_between", anova.meanSquareBetween(), "ms_within", anova.meanSquareWithin())
                .entrySet()) {
            double truth = Double.parseDouble(certified.get(pair.getKey()));
            assertThat(pair.getValue()).as(pair.getKey()).isCloseTo(truth, within(digits * truth));
        }
    }

    private static CircleSummary circle(double mean, int readings, double squares) {
        return new CircleSummary(mean, readings, readings, squares);
    }

    /**
     * By hand: cells {10 (1 reading), 14 (3)} and {20 (2), 26 (1)}. MS_between = (12 + 24)/2, MS_within = 4/3, n₀ = (3/2 +
     * 4/3)/2 = 17/12; for −D₁ + 2·D₂ A = 5/2, B = 1/3 + 3/2.
     */
    @Test
    void contrastOfUnlikeCircles_isSatterthwaites_byHand() {
        CircleAnova anova = CircleAnova.of(new CircleData(
                List.of(List.of(circle(10, 1, 0), circle(14, 3, 2)), List.of(circle(20, 2, 2), circle(26, 1, 0)))));
        assertThat(anova.meanSquareBetween()).isCloseTo(18, within(1e-12));
        assertThat(anova.meanSquareWithin()).isCloseTo(4.0 / 3, within(1e-12));
        assertThat(anova.circleVariance()).isCloseTo((18 - 4.0 / 3) * 12 / 17, within(1e-12));
        CircleAnova.DataOnly found =
                anova.contrast(new double[] {-1, 2}, 3, 0.9).orElseThrow();
        double between = 5.0 / 2 * 12 / 17 * 18;
        double within = (11.0 / 6 - 30.0 / 17) * 4 / 3;
        double variance = between + within + 3;
        double degrees = variance * variance / (between * between / 2 + within * within / 3);
        assertThat(found.degreesOfFreedom()).isCloseTo(degrees, within(1e-10));
        assertThat(found.estimate().value()).isCloseTo(-12 + 2 * 23, within(1e-12));
        assertThat(found.estimate().standardUncertainty()).isCloseTo(Math.sqrt(variance), within(1e-12));
        double t = new TDistribution(null, degrees).inverseCumulativeProbability(0.95);
        assertThat(found.estimate().low()).isCloseTo(34 - t * Math.sqrt(variance), within(1e-8));
        assertThat(found.estimate().high()).isCloseTo(34 + t * Math.sqrt(variance), within(1e-8));
    }

    /** Circles that all agree show no scatter, and so no degrees of freedom to know it by. */
    @Test
    void circlesThatAgree_sayNothingFromTheDataAlone() {
        CircleAnova alike = CircleAnova.of(new CircleData(List.of(List.of(circle(10, 1, 0), circle(10, 1, 0)))));
        assertThat(alike.contrast(new double[] {1}, 3, 0.9)).isEmpty();
        assertThat(alike.contrast(new double[] {1}, 0, 0.9)).isEmpty();
        // n₀ = 7/2 of all cells stands against the 6 of the first one: the variance comes out below nothing
        CircleAnova below = CircleAnova.of(new CircleData(
                List.of(List.of(circle(10, 6, 5), circle(10, 6, 5)), List.of(circle(20, 1, 0), circle(20, 1, 0)))));
        assertThat(below.contrast(new double[] {1, 0}, 0, 0.9)).isEmpty();
        // a little more scatter, and it comes out barely above: 0.0604 of the one mean square less 0.0595 of the other,
        // with
        // 0.0003 degrees of freedom, whose interval was wider than the Milky Way
        CircleAnova barely = CircleAnova.of(new CircleData(
                List.of(List.of(circle(10, 6, 5), circle(10, 6, 5)), List.of(circle(20, 1, 0), circle(21.3, 1, 0)))));
        assertThat(barely.contrast(new double[] {1, 0}, 0, 0.9)).isEmpty();
        // where nothing is taken away there are as many as of the poorer mean square
        assertThat(barely.contrast(new double[] {0, 1}, 0, 0.9).orElseThrow().degreesOfFreedom())
                .isGreaterThan(1);
    }

    /** One reading a circle, straight across or of half the worth: what a reading scatters is part of it, and nothing tells it. */
    @Test
    void unlikeReadings_thatNobodyRepeated_sayNothingFromTheDataAlone() {
        List<CircleSummary> unlike = List.of(
                new CircleSummary(10, 1, 1, 0), new CircleSummary(14, 0.5, 1, 0), new CircleSummary(11, 1, 1, 0));
        List<CircleSummary> alike = List.of(circle(10, 1, 0), circle(14, 1, 0), circle(11, 1, 0));
        assertThat(CircleAnova.of(new CircleData(List.of(unlike))).contrast(new double[] {1}, 0, 0.9))
                .isEmpty();
        assertThat(CircleAnova.of(new CircleData(List.of(alike)))
                        .contrast(new double[] {1}, 0, 0.9)
                        .orElseThrow()
                        .degreesOfFreedom())
                .isCloseTo(2, within(1e-12));
    }

    /**
     * The likelihood of cells is the product of each cell's own, however many there are: 400 cells of unlike circles, in metres
     * and in micrometres, whose variances multiplied leave the range of a double.
     */
    @ParameterizedTest
    @ValueSource(doubles = {1, 1e6})
    void likelihoodOfManyCells_isThatOfEachMultiplied(double unit) {
        var random = new SplittableRandom(8);
        List<List<CircleSummary>> cells = new ArrayList<>();
        for (int k = 0; k < 400; k++) {
            List<CircleSummary> cell = new ArrayList<>();
            for (int readings = 1; readings <= 1 + k % 3; readings++) {
                cell.add(circle(
                        unit * (1.6 + 0.03 * random.nextDouble()), readings, unit * unit * (readings - 1) * 1e-4));
            }
            cells.add(cell);
        }
        RestrictedLikelihood all = new RestrictedLikelihood(new CircleData(cells), 0);
        assertThat(all.cells()).isEqualTo(400);
        for (double sigma : new double[] {0.001, 0.02, 0.3}) {
            double sum = 0;
            for (List<CircleSummary> cell : cells) {
                sum += new RestrictedLikelihood(new CircleData(List.of(cell)), 0)
                        .logLikelihood(unit * sigma, unit * 0.01);
            }
            assertThat(all.logLikelihood(unit * sigma, unit * 0.01)).isCloseTo(sum, within(1e-10 * Math.abs(sum)));
        }
    }
}
