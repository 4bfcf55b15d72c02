package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.assertj.core.data.Offset;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;

class InterlaboratoryTest {
    /** Half a unit of the last digit, and a little for a 5 behind it, such as the 1.48125 that is printed 1.4813. */
    private static final Offset<Double> FOUR_DECIMALS = within(5.0001e-5);

    private static final String GLUCOSE = "astm-e691-glucose.csv";

    /** Glucose in serum, as listed. */
    private static Map<String, List<Double>> material(String material) {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        for (CSVRecord row : ReferenceData.rows(GLUCOSE)) {
            if (row.get("material").equals(material)) {
                values.computeIfAbsent(row.get("laboratory"), k -> new ArrayList<>())
                        .add(Double.parseDouble(row.get("glucose_mg_dl")));
            }
        }
        return values;
    }

    /** With the replicate to which the published precision of material C belongs. */
    private static Map<String, List<Double>> published(String material) {
        Map<String, List<Double>> values = material(material);
        if (material.equals("C")) {
            assertThat(values.get("4").set(1, 138.30)).isEqualTo(148.30);
        }
        return values;
    }

    private static void precision(
            Interlaboratory level, double mean, double ofMeans, double r, double reproducibility) {
        assertThat(level.mean()).isCloseTo(mean, FOUR_DECIMALS);
        assertThat(level.standardDeviationOfMeans()).isCloseTo(ofMeans, FOUR_DECIMALS);
        assertThat(level.precision().repeatability().orElseThrow()).isCloseTo(r, FOUR_DECIMALS);
        assertThat(level.precision().reproducibility().orElseThrow()).isCloseTo(reproducibility, FOUR_DECIMALS);
    }

    @Test
    void precision_matchesAstmE691Glucose() {
        // ASTM E691, glucose in serum: data read in source, precision from memory and recomputed
        precision(Interlaboratory.of(published("A")), 41.5183, 0.6061, 1.0632, 1.0632);
        precision(Interlaboratory.of(published("B")), 79.6796, 1.0028, 1.4949, 1.5796);
        precision(Interlaboratory.of(published("C")), 134.7262, 1.7397, 1.5434, 2.1482);
        precision(Interlaboratory.of(published("D")), 194.7171, 2.5950, 2.6251, 3.3657);
        precision(Interlaboratory.of(published("E")), 294.4921, 2.6931, 3.9350, 4.1923);
        assertThat(Interlaboratory.of(published("A"))
                        .precision()
                        .betweenLaboratories()
                        .orElseThrow())
                .isZero();
    }

    @Test
    void misprintedReplicate_isPointedAtByKAndCochran() {
        // laboratory 4, material C as listed (148.30 for 138.30): recomputed
        Interlaboratory c = Interlaboratory.of(material("C"));
        precision(c, 135.1429, 2.6559, 2.7483, 3.4770);
        assertThat(c.k(3).orElseThrow()).isCloseTo(2.41, within(0.005));
        assertThat(c.standsOutByK(3, 0.005)).isTrue();
        Interlaboratory.Pointed widest = c.cochran().orElseThrow();
        assertThat(widest.label()).isEqualTo("4");
        assertThat(widest.statistic()).isGreaterThan(widest.critical1());
        assertThat(c.grubbs().orElseThrow().label()).isEqualTo("4");
    }

    @Test
    void hAndK_matchTheRecomputedTable() {
        for (CSVRecord row : ReferenceData.rows("astm-e691-glucose-hk-recomputed.csv")) {
            String material = row.get("material");
            Interlaboratory level =
                    Interlaboratory.of(material.equals("C-with-138.30") ? published("C") : material(material));
            int i = Integer.parseInt(row.get("laboratory")) - 1;
            assertThat(level.h(i).orElseThrow()).isCloseTo(Double.parseDouble(row.get("h")), FOUR_DECIMALS);
            assertThat(level.k(i).orElseThrow()).isCloseTo(Double.parseDouble(row.get("k")), FOUR_DECIMALS);
        }
        // k(2, E) = 2.33 is beyond the 2.06 of the tables, h(4, B) = 1.85 is not beyond 2.15: recomputed
        assertThat(Interlaboratory.of(material("E")).standsOutByK(1, 0.005)).isTrue();
        assertThat(Interlaboratory.of(material("B")).standsOutByH(3, 0.005)).isFalse();
    }

    @Test
    void scatterOfOneLevel_isKOfThatLevel() {
        Interlaboratory level = Interlaboratory.of(material("E"));
        Interlaboratory.Scatter scatter =
                Interlaboratory.scatter(List.of(level), "2", 0.005).orElseThrow();
        assertThat(scatter.k()).isCloseTo(level.k(1).orElseThrow(), within(1e-12));
        // ASTM E691, Table 6: k(p = 8, n = 3) is 2.06, from memory, recomputed
        assertThat(scatter.critical()).isCloseTo(2.06, within(0.005));
        assertThat(scatter.standsOut()).isTrue();
        assertThat(Interlaboratory.scatter(List.of(level), "nobody", 0.005)).isEmpty();
    }

    @Test
    void criticalValuesOfHAndK_matchTheTables() {
        for (CSVRecord row : ReferenceData.rows("table-mandel-h-k-0.5pct.csv")) {
            int p = Integer.parseInt(row.get("p_labs"));
            assertThat(OutlierTests.mandelH(p, 0.005)).isCloseTo(Double.parseDouble(row.get("h")), FOUR_DECIMALS);
            for (int n = 2; n <= 10; n++) {
                assertThat(OutlierTests.mandelK(n - 1, p * (n - 1), 0.005))
                        .isCloseTo(Double.parseDouble(row.get("k_n" + n)), FOUR_DECIMALS);
            }
        }
        // ISO 5725-2 prints h at 1 % and 5 %: from memory, recomputed
        assertThat(OutlierTests.mandelH(8, 0.01)).isCloseTo(2.06, within(0.005));
        assertThat(OutlierTests.mandelH(8, 0.05)).isCloseTo(1.75, within(0.005));
    }

    @Test
    void criticalValuesOfCochran_matchTheTable() {
        for (CSVRecord row : ReferenceData.rows("table-cochran-c.csv")) {
            int p = Integer.parseInt(row.get("p_labs"));
            for (int n = 2; n <= 6; n++) {
                assertThat(OutlierTests.cochran(p, n, 0.01))
                        .isCloseTo(Double.parseDouble(row.get("n" + n + "_1pct")), FOUR_DECIMALS);
                assertThat(OutlierTests.cochran(p, n, 0.05))
                        .isCloseTo(Double.parseDouble(row.get("n" + n + "_5pct")), FOUR_DECIMALS);
            }
        }
    }

    @Test
    void criticalValuesOfGrubbs_matchTheTables() {
        for (CSVRecord row : ReferenceData.rows("table-grubbs.csv")) {
            int n = Integer.parseInt(row.get("n"));
            for (String alpha : List.of("0.10", "0.05", "0.025", "0.01", "0.005")) {
                assertThat(Grubbs.critical(n, Double.parseDouble(alpha)))
                        .isCloseTo(Double.parseDouble(row.get("one_sided_" + alpha)), FOUR_DECIMALS);
            }
        }
        // ASTM E178, one-sided 5 %, secondary; older tables round n = 5 to 1.672, hence 0.001
        double[] printed = {1.153, 1.463, 1.672, 1.822, 1.938, 2.032, 2.110, 2.176};
        for (int n = 3; n <= 10; n++) {
            assertThat(Grubbs.critical(n, 0.05)).isCloseTo(printed[n - 3], within(0.001));
        }
        // two-sided 1 % where a much-used table is misprinted (2.202 and 2.755): recomputed
        assertThat(Grubbs.critical(7, 0.005)).isCloseTo(2.139, within(0.0005));
        assertThat(Grubbs.critical(15, 0.005)).isCloseTo(2.806, within(0.0005));
    }

    @Test
    void grubbs_matchesTietjenAndMoore1972() {
        // eight readings of a mass spectrometer, NIST handbook: G = 2.468765, one-sided 5 % critical 2.032 (from
        // memory, recomputed)
        Map<String, List<Double>> values = new LinkedHashMap<>();
        for (double v : ReferenceData.column("mass-spectrometer-uranium.csv", "value")) {
            values.put("" + values.size(), List.of(v));
        }
        Interlaboratory.Pointed farthest = Interlaboratory.of(values).grubbs().orElseThrow();
        assertThat(farthest.statistic()).isCloseTo(2.4687646, within(5e-8));
        assertThat(Grubbs.critical(8, 0.05)).isCloseTo(2.032, within(0.0005));
    }

    /** s_r² and s_L² have the right expectation for any numbers of replicates: 4000 draws, five standard deviations of chance. */
    @Test
    void precision_isUnbiasedForUnequalReplicates() {
        var random = new SplittableRandom(20260601);
        int[] n = {1, 2, 4, 7};
        double within = 0;
        double between = 0;
        int draws = 4000;
        for (int draw = 0; draw < draws; draw++) {
            List<Interlaboratory> levels = new ArrayList<>();
            for (int level = 0; level < 3; level++) {
                Map<String, List<Double>> values = new LinkedHashMap<>();
                for (int i = 0; i < n.length; i++) {
                    double bias = 30 * random.nextGaussian();
                    List<Double> y = new ArrayList<>();
                    for (int j = 0; j < n[i]; j++) {
                        y.add(bias + 3 * random.nextGaussian());
                    }
                    values.put("lab " + i, y);
                }
                levels.add(Interlaboratory.of(values));
            }
            Interlaboratory.Precision p = Interlaboratory.precision(levels);
            within += Math.pow(p.repeatability().orElseThrow(), 2) / draws;
            between += Math.pow(p.betweenLaboratories().orElseThrow(), 2) / draws;
        }
        // s_L is ten times s_r, so that cutting negative variances off at zero plays no part
        assertThat(within).isCloseTo(9, Offset.offset(5 * 9 * Math.sqrt(2.0 / 30 / draws)));
        assertThat(between).isCloseTo(900, Offset.offset(5 * 900 * Math.sqrt(2.0 / 8 / draws)));
    }

    @Test
    void orderAndOrigin_changeNothing() {
        Map<String, List<Double>> values = material("C");
        List<String> labels = new ArrayList<>(values.keySet());
        Collections.reverse(labels);
        Map<String, List<Double>> turned = new LinkedHashMap<>();
        labels.forEach(
                l -> turned.put(l, values.get(l).stream().map(v -> v + 1e6).toList()));
        Interlaboratory a = Interlaboratory.of(values);
        Interlaboratory b = Interlaboratory.of(turned);
        // a million holds six digits fewer
        assertThat(b.precision().reproducibility().orElseThrow())
                .isCloseTo(a.precision().reproducibility().orElseThrow(), within(1e-8));
        assertThat(b.h(7).orElseThrow()).isCloseTo(a.h(0).orElseThrow(), within(1e-8));
        assertThat(b.k(7).orElseThrow()).isCloseTo(a.k(0).orElseThrow(), within(1e-8));
    }

    @Test
    void limits_giveNoAnswerRatherThanAWrongOne() {
        Interlaboratory single = Interlaboratory.of(Map.of("a", List.of(1.0), "b", List.of(2.0)));
        assertThat(single.precision().repeatability()).isEmpty();
        assertThat(single.h(0)).isEmpty();
        assertThat(single.k(0)).isEmpty();
        assertThat(single.cochran()).isEmpty();
        assertThat(single.grubbs()).isEmpty();
        Interlaboratory alike =
                Interlaboratory.of(Map.of("a", List.of(1.0, 1.0), "b", List.of(1.0, 1.0), "c", List.of(1.0)));
        assertThat(alike.precision().reproducibility().orElseThrow()).isZero();
        assertThat(alike.h(0)).isEmpty();
        assertThat(alike.k(0)).isEmpty();
        assertThat(alike.standsOutByK(0, 0.005)).isFalse();
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Interlaboratory.of(Map.of("a", List.of(1.0))))
                .withMessage("groups hold [1] values; must be two or more groups of one or more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> OutlierTests.mandelH(2, 0.005))
                .withMessage("p is 2; must be 3 or more");
    }

    /** Laboratories in this order, with 1, 2 and 3 values: means 1, 4 and 6, sums of squares 0, 2 and 8, general mean 4.5. */
    private static Interlaboratory small() {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        values.put("a", List.of(1.0));
        values.put("b", List.of(3.0, 5.0));
        values.put("c", List.of(4.0, 6.0, 8.0));
        return Interlaboratory.of(values);
    }

    private static double chi(double probability, double nu) {
        return new ChiSquaredDistribution(null, nu).inverseCumulativeProbability(probability);
    }

    /** By hand: s_r² = 10/3, MS_L = 39/4, n̄ = (6 − 14/6)/2 = 11/6, s_L² = (39/4 − 10/3)/(11/6) = 7/2. */
    @Test
    void unequalReplicates_areAsWorkedOutByHand() {
        Interlaboratory level = small();
        assertThat(level.mean()).isCloseTo(4.5, within(1e-12));
        Interlaboratory.Precision p = level.precision();
        assertThat(p.repeatability().orElseThrow()).isCloseTo(Math.sqrt(10.0 / 3), within(1e-12));
        assertThat(p.betweenLaboratories().orElseThrow()).isCloseTo(Math.sqrt(3.5), within(1e-12));
        assertThat(p.reproducibility().orElseThrow()).isCloseTo(Math.sqrt(41.0 / 6), within(1e-12));
        assertThat(level.groups().get(1).standardDeviation()).hasValue(Math.sqrt(2));
        // means 1, 4 and 6 about 11/3 with the variance 19/3
        assertThat(level.h(0).orElseThrow()).isCloseTo(-8 / 3.0 / Math.sqrt(19.0 / 3), within(1e-12));
        assertThat(level.h(2).orElseThrow()).isCloseTo(7 / 3.0 / Math.sqrt(19.0 / 3), within(1e-12));
        assertThat(level.k(0)).isEmpty();
        assertThat(level.k(1).orElseThrow()).isCloseTo(Math.sqrt(2 / (10.0 / 3)), within(1e-12));
        assertThat(level.k(2).orElseThrow()).isCloseTo(Math.sqrt(4 / (10.0 / 3)), within(1e-12));
        assertThat(level.cochran()).isEmpty();
    }

    /** Graybill and Wang by hand: s_R² = 6/11·39/4 + 5/11·10/3, and both parts twice where two such levels are drawn together. */
    @Test
    void intervals_areAsWorkedOutByHand() {
        for (List<Interlaboratory> levels : List.of(List.of(small()), List.of(small(), small()))) {
            double nu = 3.0 * levels.size();
            double l = 6.0 / 11 * 39 / 4;
            double r = 5.0 / 11 * 10 / 3;
            double down = Math.hypot(l * (1 - 2 / chi(0.95, 2)), r * (1 - nu / chi(0.95, nu)));
            double up = Math.hypot(l * (2 / chi(0.05, 2) - 1), r * (nu / chi(0.05, nu) - 1));
            Interlaboratory.Known known = Interlaboratory.known(levels, 2, 0.9).orElseThrow();
            assertThat(known.repeatabilityDegrees()).isEqualTo((int) nu);
            Estimate both = known.reproducibility();
            assertThat(both.value()).isCloseTo(Math.sqrt(41.0 / 6), within(1e-12));
            assertThat(both.standardUncertainty())
                    .isCloseTo(Math.sqrt(l * l + 2 * r * r / nu) / (2 * both.value()), within(1e-12));
            assertThat(both.low()).isCloseTo(Math.sqrt(l + r - down), within(1e-8));
            assertThat(both.high()).isCloseTo(Math.sqrt(l + r + up), within(1e-8));
        }
    }

    /** A rule that reads every value the same knows no scatter, and says so by 0, not by a number that is none. */
    @Test
    void whereNothingScatters_thereIsNothingToPointAt() {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        for (String label : List.of("a", "b", "c")) {
            values.put(label, List.of(1.0, 1.0));
        }
        Interlaboratory alike = Interlaboratory.of(values);
        assertThat(alike.h(0)).isEmpty();
        assertThat(alike.k(0)).isEmpty();
        assertThat(alike.cochran()).isEmpty();
        assertThat(alike.grubbs()).isEmpty();
        assertThat(Interlaboratory.scatter(List.of(alike), 0.005)).isEmpty();
        Estimate none =
                Interlaboratory.known(List.of(alike), 2, 0.9).orElseThrow().reproducibility();
        assertThat(none).isEqualTo(new Estimate(0, 0, 0, 0, 0.9));
    }

    /** Two values each: the variances are 2, 8 and 0.5. */
    @Test
    void cochran_isTheShareOfTheWidest_amongPairsToo() {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        values.put("a", List.of(3.0, 5.0));
        values.put("b", List.of(2.0, 6.0));
        values.put("c", List.of(7.5, 8.5));
        Interlaboratory.Pointed widest = Interlaboratory.of(values).cochran().orElseThrow();
        assertThat(widest.label()).isEqualTo("b");
        assertThat(widest.statistic()).isCloseTo(8 / 10.5, within(1e-12));
        // the table has p = 3, n = 2 at 5 % and at 1 %
        CSVRecord row = ReferenceData.rows("table-cochran-c.csv").stream()
                .filter(r -> r.get("p_labs").equals("3"))
                .findFirst()
                .orElseThrow();
        assertThat(widest.critical5()).isCloseTo(Double.parseDouble(row.get("n2_5pct")), FOUR_DECIMALS);
        assertThat(widest.critical1()).isCloseTo(Double.parseDouble(row.get("n2_1pct")), FOUR_DECIMALS);
    }

    /** Means 1, 4 and 6: the first lies farthest; limits of both sides at once are those of half the level of one side. */
    @Test
    void grubbs_ofThree_pointsAtTheFarthest_withTheLimitsOfBothSides() {
        Interlaboratory.Pointed farthest = small().grubbs().orElseThrow();
        assertThat(farthest.label()).isEqualTo("a");
        assertThat(farthest.statistic()).isCloseTo(8 / 3.0 / Math.sqrt(19.0 / 3), within(1e-12));
        CSVRecord row = ReferenceData.rows("table-grubbs.csv").stream()
                .filter(r -> r.get("n").equals("3"))
                .findFirst()
                .orElseThrow();
        assertThat(farthest.critical5()).isCloseTo(Double.parseDouble(row.get("one_sided_0.025")), FOUR_DECIMALS);
        assertThat(farthest.critical1()).isCloseTo(Double.parseDouble(row.get("one_sided_0.005")), FOUR_DECIMALS);
    }

    /** One of eight means far from seven others has h = 7/√8 = 2.47, beyond the 2.15 of the tables; the others have −0.35. */
    @Test
    void aMeanFarFromTheOthers_standsOutByH() {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        for (int i = 0; i < 8; i++) {
            values.put("" + i, List.of(i == 5 ? 110.0 : 100.0));
        }
        Interlaboratory level = Interlaboratory.of(values);
        assertThat(level.h(5).orElseThrow()).isCloseTo(7 / Math.sqrt(8), within(1e-12));
        assertThat(level.standsOutByH(5, 0.005)).isTrue();
        assertThat(level.standsOutByH(0, 0.005)).isFalse();
    }

    /** k(4, A) = 1.70 is not beyond the 2.06 of p = 8, n = 3. */
    @Test
    void scatterWithinTheTable_doesNotStandOut() {
        Interlaboratory a = Interlaboratory.of(material("A"));
        assertThat(a.standsOutByK(3, 0.005)).isFalse();
        Interlaboratory.Scatter scatter =
                Interlaboratory.scatter(List.of(a), "4", 0.005).orElseThrow();
        assertThat(scatter.standsOut()).isFalse();
    }

    /** Over two levels: the sums of squares and the degrees of freedom of each laboratory add up. */
    @Test
    void scatterOverLevels_isThePooledOne_ofThoseWhoMeasuredAgain() {
        Map<String, List<Double>> more = new LinkedHashMap<>();
        more.put("b", List.of(1.0, 3.0));
        more.put("d", List.of(5.0));
        Map<String, Interlaboratory.Scatter> scatter =
                Interlaboratory.scatter(List.of(small(), Interlaboratory.of(more)), 0.005);
        // b: (2 + 2)/2, c: 8/2, all: 12/4; a and d measured once
        assertThat(scatter).containsOnlyKeys("b", "c");
        assertThat(scatter.get("b").k()).isCloseTo(Math.sqrt(2 / 3.0), within(1e-12));
        assertThat(scatter.get("c").k()).isCloseTo(Math.sqrt(4 / 3.0), within(1e-12));
        assertThat(scatter.get("b").critical()).isEqualTo(OutlierTests.mandelK(2, 4, 0.005));
    }

    /** The only one who measured again has nobody to be held against; one who did so once has. */
    @Test
    void scatter_needsAnotherWhoMeasuredAgain() {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        values.put("a", List.of(1.0));
        values.put("b", List.of(3.0, 5.0, 9.0));
        values.put("c", List.of(2.0));
        Interlaboratory alone = Interlaboratory.of(values);
        assertThat(alone.k(1)).isEmpty();
        assertThat(Interlaboratory.scatter(List.of(alone), "b", 0.005)).isEmpty();
        values.put("c", List.of(2.0, 6.0));
        Interlaboratory two = Interlaboratory.of(values);
        // b: 56/3 over 2, c: 8 over 1, both: (56/3 + 8)/3
        assertThat(Interlaboratory.scatter(List.of(two), "c", 0.005)
                        .orElseThrow()
                        .k())
                .isCloseTo(Math.sqrt(8 / ((56.0 / 3 + 8) / 3)), within(1e-12));
    }

    @Test
    void testsOfTooFew_areRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> OutlierTests.mandelK(0, 4, 0.005))
                .withMessage("nu is 0; must be 1 or more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> OutlierTests.mandelK(3, 3, 0.005))
                .withMessage("all is 3; must be 4 or more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> OutlierTests.cochran(1, 2, 0.05))
                .withMessage("p is 1; must be 2 or more");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> OutlierTests.cochran(2, 1, 0.05))
                .withMessage("n is 1; must be 2 or more");
    }
}
