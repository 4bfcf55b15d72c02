package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVRecord;
import org.assertj.core.data.Offset;
import org.fairturn.ReferenceData;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The restricted likelihood against the mixed models of statsmodels 0.15.0: cells fixed, circles random, readings within
 * circles. Call and figures: testdata/reference/mixed-models.
 */
class MixedModelTest {
    private static final String FOLDER = "mixed-models/";
    /** What the search of the other library leaves open: it stops where the slope is 1e-8. */
    private static final double SEARCHED = 1e-8;
    /** What a simplex on values of the likelihood leaves open: near the peak these differ by less than they are rounded. */
    private static final double PEAK = 1e-6;
    /** Rounding of two different ways of working out the same closed form. */
    private static final double ROUNDED = 1e-11;

    private static CircleData data(String set) {
        return switch (set) {
            case "dyestuff" -> VarianceComponentsTest.oneWay("dyestuff.csv", "batch", "yield");
            case "rail" -> VarianceComponentsTest.oneWay("rail.csv", "rail", "travel_ns");
            case "penicillin" -> VarianceComponentsTest.oneWay("penicillin.csv", "sample", "diameter_mm");
            default -> nested(set);
        };
    }

    private static CircleData nested(String set) {
        Map<String, Map<String, List<Double>>> cells = new LinkedHashMap<>();
        for (CSVRecord row : ReferenceData.rows(FOLDER + set + ".csv")) {
            cells.computeIfAbsent(row.get("cell"), c -> new LinkedHashMap<>())
                    .computeIfAbsent(row.get("circle"), c -> new ArrayList<>())
                    .add(Double.parseDouble(row.get("diameter_mm")));
        }
        return new CircleData(cells.values().stream()
                .map(circles ->
                        circles.values().stream().map(MixedModelTest::summary).toList())
                .toList());
    }

    private static CircleSummary summary(List<Double> readings) {
        double[] w = new double[readings.size()];
        Arrays.fill(w, 1);
        return CircleSummary.of(readings.stream().mapToDouble(y -> y).toArray(), w);
    }

    private static double golden(String set, String quantity) {
        return ReferenceData.rows(FOLDER + "golden.csv").stream()
                .filter(r -> r.get("set").equals(set) && r.get("quantity").equals(quantity))
                .mapToDouble(r -> Double.parseDouble(r.get("value")))
                .findFirst()
                .orElseThrow();
    }

    @ParameterizedTest
    @CsvSource({"balanced, 20", "unbalanced, 20", "dyestuff, 40", "rail, 10", "penicillin, 2"})
    void peak_isTheRestrictedMaximumLikelihoodEstimate(String set, double guess) {
        CircleData data = data(set);
        double[] peak = VarianceComponentsTest.peak(data, guess);
        assertThat(peak[0] * peak[0]).isCloseTo(golden(set, "circle variance"), relative(set, "circle variance", PEAK));
        assertThat(peak[1] * peak[1])
                .isCloseTo(golden(set, "reading variance"), relative(set, "reading variance", PEAK));
    }

    private static Offset<Double> relative(String set, String quantity, double part) {
        return within(part * Math.abs(golden(set, quantity)));
    }

    /** Means, their standard errors, and a contrast of all cells, at the other library's own variances. */
    @ParameterizedTest
    @ValueSource(strings = {"balanced", "unbalanced", "dyestuff", "rail", "penicillin"})
    void meansAndTheirStandardErrors_areTheOtherLibrarys(String set) {
        CircleData data = data(set);
        var at = new RestrictedLikelihood(data, 0)
                .at(Math.sqrt(golden(set, "circle variance")), Math.sqrt(golden(set, "reading variance")));
        List<String> cells =
                data.cells().size() == 1 ? List.of("all") : List.of("left 2WD", "right 2WD", "left 4WD", "right 4WD");
        for (int k = 0; k < cells.size(); k++) {
            double[] c = new double[cells.size()];
            c[k] = 1;
            String mean = "mean " + cells.get(k);
            String error = "standard error " + cells.get(k);
            assertThat(at.mean(c)).isCloseTo(golden(set, mean), relative(set, mean, ROUNDED));
            assertThat(Math.sqrt(at.variance(c))).isCloseTo(golden(set, error), relative(set, error, SEARCHED));
        }
        if (cells.size() == 4) {
            double[] c = {-1, 1, 1, -1};
            // a difference of means near 2000 mm: what they are rounded to, not the difference itself
            assertThat(at.mean(c)).isCloseTo(golden(set, "contrast"), within(ROUNDED * 2000));
            String error = "standard error of the contrast";
            assertThat(Math.sqrt(at.variance(c))).isCloseTo(golden(set, error), relative(set, error, SEARCHED));
        }
    }

    /** The whole function, not its peak alone, the constants that the program leaves out put back; no search in either. */
    @ParameterizedTest
    @ValueSource(strings = {"balanced", "unbalanced", "reading-scatter", "dyestuff", "rail", "penicillin"})
    void likelihood_isTheOtherLibrarysAtEveryRatioOfTheVariances(String set) {
        CircleData data = data(set);
        for (String ratio : List.of("0.0001", "0.01", "0.3", "1.0", "4.0", "50.0")) {
            assertThat(profile(data, Double.parseDouble(ratio)))
                    .as("%s, ratio %s", set, ratio)
                    .isCloseTo(
                            golden(set, "log-likelihood at ratio " + ratio),
                            relative(set, "log-likelihood at ratio " + ratio, ROUNDED));
        }
    }

    /** ln L at σ_b² = ratio·σ_w² and the best σ_w: minus twice it is A + ν·ln σ_w² + Q/σ_w², of which two points tell Q. */
    private static double profile(CircleData data, double ratio) {
        RestrictedLikelihood likelihood = new RestrictedLikelihood(data, 0);
        int nu = data.readings() - data.cells().size();
        double root = Math.sqrt(ratio);
        double one = -2 * likelihood.logLikelihood(root, 1);
        double two = -2 * likelihood.logLikelihood(root * 2, 2);
        double q = (one - two + nu * Math.log(4)) / (1 - 1.0 / 4);
        double best = Math.sqrt(q / nu);
        double readings = data.cells().stream()
                .flatMap(List::stream)
                .mapToDouble(c -> Math.log(c.readings()))
                .sum();
        return likelihood.logLikelihood(root * best, best)
                + likelihood.logConstant()
                - (nu * Math.log(2 * Math.PI) + readings) / 2;
    }

    /** Circles that agree better than their readings: both put the peak at no circle variance at all. */
    @ParameterizedTest
    @ValueSource(strings = "reading-scatter")
    void noCircleVariance_isFoundByBoth(String set) {
        assertThat(golden(set, "log-likelihood at ratio 0.0001"))
                .isGreaterThan(golden(set, "log-likelihood at ratio 0.01"));
        assertThat(VarianceComponentsTest.peak(data(set), 10)[0]).isLessThan(0.01);
    }

    /**
     * The posterior with flat priors, which is what the program uses but for its priors: its mean contrast is the golden one
     * as far as the weights of unlike circles do not move with the variances, and its standard deviation, in which the
     * variances are uncertain, is the larger.
     */
    @ParameterizedTest
    @ValueSource(strings = {"balanced", "unbalanced"})
    void posterior_liesAboutTheEstimates_andIsWider(String set) {
        RepeatabilityPosterior posterior = RepeatabilityPosterior.of(data(set), HalfT.FLAT, HalfT.FLAT, 0);
        NormalMixture contrast = posterior.contrast(new double[] {-1, 1, 1, -1}, 0, 0);
        double error = golden(set, "standard error of the contrast");
        assertThat(contrast.mean()).isCloseTo(golden(set, "contrast"), within(0.05 * error));
        assertThat(contrast.standardDeviation()).isBetween(error, 1.6 * error);
        double median = posterior.circleToCircle(0.95).value();
        assertThat(median * median).isBetween(golden(set, "circle variance"), 2 * golden(set, "circle variance"));
    }
}
