package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.TDistribution;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Where the model comes down to one reading a circle: published t tests and a test of equivalence. */
class StudentTest {
    /** A cell of circles with one reading each. */
    private static List<CircleSummary> cell(double... values) {
        return Arrays.stream(values)
                .mapToObj(v -> new CircleSummary(v, 1, 1, 0))
                .toList();
    }

    private static double[] miles(String origin) {
        return ReferenceData.rows("nist-auto83b.csv").stream()
                .filter(r -> r.get("origin").equals(origin))
                .mapToDouble(r -> Double.parseDouble(r.get("mpg")))
                .toArray();
    }

    /** NIST, AUTO83B, two samples with one variance (results from memory, recomputed): t −12.62059 with 326 degrees. */
    @Test
    void twoCells_areTheTwoSampleTestWithPooledVariance() {
        CircleData data = new CircleData(List.of(cell(miles("US")), cell(miles("Japan"))));
        var found = CircleAnova.of(data).contrast(new double[] {1, -1}, 0, 0.95).orElseThrow();
        assertThat(found.degreesOfFreedom()).isCloseTo(326, within(1e-9));
        Estimate d = found.estimate();
        assertThat(d.value()).isCloseTo(20.14458 - 30.48101, within(1e-5)); // two means to five decimals
        assertThat(d.value() / d.standardUncertainty()).isCloseTo(-12.62059, within(5e-6));
    }

    /**
     * Student's sleep data and the boys' shoes of Box, Hunter & Hunter, chapter 4 (shoes read in source, the rest from memory,
     * all recomputed): t, 95 % interval of the mean difference; nine degrees of freedom. Half a unit of the last printed digit.
     */
    @ParameterizedTest
    @CsvSource({
        "student-sleep.csv, extra_drug2_h, extra_drug1_h, -4.062128, -2.459886, -0.700114",
        "boys-shoes.csv, material_a, material_b, 3.348877, 0.133046, 0.686954"
    })
    void pairs_areThePairedTest_asOneCellOfDifferences_andAsGroupsOfTwo(
            String file, String less, String of, double t, double low, double high) {
        double[] a = ReferenceData.column(file, less);
        double[] b = ReferenceData.column(file, of);
        double[] differences =
                IntStream.range(0, 10).mapToDouble(i -> b[i] - a[i]).toArray();
        var found = CircleAnova.of(new CircleData(List.of(cell(differences))))
                .contrast(new double[] {1}, 0, 0.95)
                .orElseThrow();
        Estimate d = found.estimate();
        assertThat(found.degreesOfFreedom()).isCloseTo(9, within(1e-9));
        assertThat(d.value() / d.standardUncertainty()).isCloseTo(t, within(5e-7));
        assertThat(d.low()).isCloseTo(low, within(5e-7));
        assertThat(d.high()).isCloseTo(high, within(5e-7));

        double[] y = new double[20];
        double[][] x = new double[20][1];
        int[] pair = new int[20];
        for (int i = 0; i < 20; i++) {
            pair[i] = i / 2;
            x[i][0] = i % 2;
            y[i] = i % 2 == 0 ? a[i / 2] : b[i / 2];
        }
        GroupedRegression fit = GroupedRegression.of(y, x, pair, 0).orElseThrow();
        assertThat(fit.degreesOfFreedom()).isEqualTo(9);
        assertThat(fit.slopes().get(0) / fit.standardUncertainties().get(0)).isCloseTo(t, within(5e-7));
        assertThat(fit.f()).isCloseTo(t * t, within(2e-6 * t * t));
    }

    /** So many values with exactly this mean and standard deviation. */
    private static double[] sample(int n, double mean, double sd) {
        double[] raw = IntStream.range(0, n).mapToDouble(i -> i).toArray();
        double middle = (n - 1) / 2.0;
        double spread = Math.sqrt(
                Arrays.stream(raw).map(v -> (v - middle) * (v - middle)).sum() / (n - 1));
        return Arrays.stream(raw).map(v -> mean + sd * (v - middle) / spread).toArray();
    }

    /**
     * Two one-sided tests, D. Lakens 2017: means 5.25 and 5.22, standard deviations 0.95 and 0.83, n 95 and 89, bounds ±0.43
     * pooled standard deviations; printed t(182) = −2.69, p = .004 (from memory), recomputed 3.142327, −2.687375 and 0.0039346.
     *
     * <p>The program's probability that the difference lies beyond a bound is the p value of that side but for two degrees of
     * freedom: flat priors on σ_b and σ_w, of which one reading a circle shows only r² = σ_b² + σ_w², put a prior
     * proportional to r on r, so that the difference is Student's with ν − 2.
     */
    @Test
    void probabilitiesBeyondTheMargin_areThePValuesOfTwoOneSidedTests() {
        CircleData data = new CircleData(List.of(cell(sample(89, 5.22, 0.83)), cell(sample(95, 5.25, 0.95))));
        var dataOnly =
                CircleAnova.of(data).contrast(new double[] {-1, 1}, 0, 0.90).orElseThrow();
        Estimate d = dataOnly.estimate();
        double pooled = Math.sqrt((94 * 0.95 * 0.95 + 88 * 0.83 * 0.83) / 182);
        double margin = 0.43 * pooled;
        assertThat(dataOnly.degreesOfFreedom()).isCloseTo(182, within(1e-9));
        double lower = (d.value() + margin) / d.standardUncertainty();
        double upper = (d.value() - margin) / d.standardUncertainty();
        assertThat(lower).isCloseTo(3.142327, within(5e-7));
        assertThat(upper).isCloseTo(-2.687375, within(5e-7));
        // the larger of the two p values stays below 5 % just where the 90 % interval lies within the bounds
        assertThat(d.low()).isGreaterThan(-margin);
        assertThat(d.high()).isLessThan(margin);

        NormalMixture q =
                RepeatabilityPosterior.of(data, HalfT.FLAT, HalfT.FLAT, 0).contrast(new double[] {-1, 1}, 0, 0);
        var fewer = new TDistribution(null, 180);
        double scale = Math.sqrt(180.0 / 182);
        assertThat(q.probabilityAbove(margin))
                .isCloseTo(fewer.cumulativeProbability(upper * scale), within(1e-6))
                .isCloseTo(0.0039346, within(0.05 * 0.0039346));
        assertThat(q.probabilityBelow(-margin)).isCloseTo(fewer.cumulativeProbability(-lower * scale), within(1e-6));
    }
}
