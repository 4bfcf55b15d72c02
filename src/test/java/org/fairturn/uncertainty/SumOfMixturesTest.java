package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;

/** Sums of independent mixtures, and the place of each among several. */
class SumOfMixturesTest {
    /** Cells of two circles with one and three readings, so that even the means of the parts differ. */
    private static NormalMixture difference(int seed, double spread) {
        return difference(seed, spread, 1, 0);
    }

    private static NormalMixture difference(int seed, double spread, double sign, double offset) {
        var random = new SplittableRandom(seed);
        List<List<CircleSummary>> cells = new ArrayList<>();
        for (int k = 0; k < 2; k++) {
            List<CircleSummary> cell = new ArrayList<>();
            for (int i = 0; i < 2 + seed % 2; i++) {
                double d = 1.8 + spread * (random.nextDouble() - 0.5);
                double[] y = IntStream.range(0, 1 + 2 * i)
                        .mapToDouble(j -> d + 0.02 * (random.nextDouble() - 0.5))
                        .toArray();
                cell.add(CircleSummary.of(
                        y, IntStream.range(0, y.length).mapToDouble(j -> 1).toArray()));
            }
            cells.add(cell);
        }
        return RepeatabilityPosterior.of(new CircleData(cells), new HalfT(0.05), new HalfT(0.02), 0.0003)
                .contrast(new double[] {-0.5 * sign, 0.5 * sign}, offset, 0);
    }

    /** P(a + b ≤ x) the slow way: every part of a against the whole of b, nothing drawn together. */
    private static double below(NormalMixture a, NormalMixture b, double x) {
        List<NormalMixture.Normal> second = b.parts();
        return a.parts().stream()
                .mapToDouble(p -> second.stream()
                        .mapToDouble(q -> p.w()
                                * q.w()
                                * Quantiles.normalProbability((x - p.m() - q.m()) / Math.sqrt(p.v() + q.v())))
                        .sum())
                .sum();
    }

    @Test
    void sum_hasTheProbabilitiesOfTheFullProductOfParts() {
        double worst = 0;
        for (int seed = 0; seed < 4; seed++) {
            NormalMixture a = difference(seed, 0.08);
            NormalMixture b = difference(seed + 10, 0.03);
            NormalMixture sum = a.plus(b);
            assertThat(sum.mean()).isCloseTo(a.mean() + b.mean(), within(1e-14));
            assertThat(Math.pow(sum.standardDeviation(), 2))
                    .isCloseTo(Math.pow(a.standardDeviation(), 2) + Math.pow(b.standardDeviation(), 2), within(1e-14));
            for (double z : new double[] {-3, -0.2, 1.5}) {
                double x = sum.mean() + z * sum.standardDeviation();
                worst = Math.max(worst, Math.abs(sum.probabilityBelow(x) - below(a, b, x)));
            }
        }
        System.out.printf(Locale.ROOT, "sum of mixtures: at most %.1e off%n", worst);
        // as the documentation promises
        assertThat(worst).isLessThan(1e-9);
    }

    /**
     * Mixtures of every kind against the full product: even means and spread ones, narrow beside wide, a point among
     * normals, in three units. As above nothing but the drawing together is between the two.
     */
    @Test
    void sumOfAnyTwo_hasTheProbabilitiesOfTheFullProduct() {
        var random = new SplittableRandom(31);
        for (int i = 0; i < 40; i++) {
            double unit = new double[] {1e-6, 1, 1e6}[i % 3];
            double apart = new double[] {0, 0.01, 1, 30}[i % 4];
            NormalMixture a = many(random, 90 + i, unit, apart, i % 5 == 0 ? 0 : 1);
            NormalMixture b = many(random, 150 - i, unit, apart / 3, 1);
            NormalMixture sum = a.plus(b);
            assertThat(sum.mean()).as("sum %s", i).isCloseTo(a.mean() + b.mean(), within(1e-12 * unit * (1 + apart)));
            for (double z = -4; z <= 4; z += 0.5) {
                double x = sum.mean() + z * sum.standardDeviation();
                double below = below(a, b, x);
                assertThat(sum.probabilityBelow(x)).as("sum %s at %s", i, z).isCloseTo(below, within(1e-9));
                assertThat(sum.probabilityAbove(x)).as("sum %s at %s", i, z).isCloseTo(1 - below, within(1e-9));
            }
        }
    }

    /** Drawing together alone loses ten times less. */
    @Test
    void condensed_hasTheProbabilitiesDensityAndQuantilesOfAllParts() {
        var random = new SplittableRandom(32);
        for (int i = 0; i < 40; i++) {
            double unit = new double[] {1e-6, 1, 1e6}[i % 3];
            NormalMixture all = many(random, 400, unit, new double[] {0, 0.01, 1, 30}[i % 4], i % 5 == 0 ? 0 : 1);
            NormalMixture few = all.condensed();
            assertThat(few.parts().size()).isLessThan(all.parts().size());
            assertThat(few.standardDeviation())
                    .isCloseTo(all.standardDeviation(), within(1e-12 * all.standardDeviation()));
            for (double z = -4; z <= 4; z += 0.25) {
                double x = all.mean() + z * all.standardDeviation();
                double below = 0;
                double density = 0;
                for (NormalMixture.Normal p : all.parts()) {
                    below += p.v() > 0
                            ? p.w() * Quantiles.normalProbability((x - p.m()) / Math.sqrt(p.v()))
                            : (x >= p.m() ? p.w() : 0);
                    density += p.v() > 0
                            ? p.w() * Quantiles.normalDensity((x - p.m()) / Math.sqrt(p.v())) / Math.sqrt(p.v())
                            : 0;
                }
                assertThat(few.probabilityBelow(x)).as("mixture %s at %s", i, z).isCloseTo(below, within(1e-10));
                // per unit; the narrowest part is a hundredth of it wide, and so much more is left out of a slope
                assertThat(few.density(x)).as("mixture %s at %s", i, z).isCloseTo(density, within(1e-8 / unit));
            }
        }
    }

    /** A known amount with a normal uncertainty, taken before or after drawing together, from either side. */
    @Test
    void aNormalMovesAndWidensWhatIsDrawnTogether() {
        NormalMixture all = many(new SplittableRandom(33), 200, 1, 0.3, 1);
        NormalMixture normal = new NormalMixture(new double[] {1}, new double[] {-4}, new double[] {0.09});
        for (NormalMixture sum :
                List.of(all.condensed().moved(-4, 0.09), all.plus(normal), normal.plus(all), all.moved(-4, 0.09))) {
            assertThat(sum.mean()).isCloseTo(all.mean() - 4, within(1e-12));
            assertThat(sum.standardDeviation()).isCloseTo(Math.hypot(all.standardDeviation(), 0.3), within(1e-12));
            for (double z = -3; z <= 3; z += 0.5) {
                double x = sum.mean() + z * sum.standardDeviation();
                assertThat(sum.probabilityBelow(x)).isCloseTo(below(all, normal, x), within(1e-9));
            }
        }
    }

    /** Steps at 0 and 3 among normals: of both quantities together they make steps again. */
    @Test
    void pointsOfBothQuantities_stayPoints() {
        double[] weights = IntStream.range(0, 70).mapToDouble(i -> 1).toArray();
        double[] means =
                IntStream.range(0, 70).mapToDouble(i -> i % 2 == 0 ? 0 : 3).toArray();
        double[] variances =
                IntStream.range(0, 70).mapToDouble(i -> i < 35 ? 0 : 1).toArray();
        NormalMixture points = new NormalMixture(weights, means, variances);
        NormalMixture sum = points.plus(points);
        // a quarter of the pairs are points: of the first 35 parts 18 lie at 0 and 17 at 3
        double at0 = 18 * 18 / 4900.0;
        double at3 = 2 * 18 * 17 / 4900.0;
        assertThat(sum.probabilityBelow(0) - sum.probabilityBelow(-1e-9)).isCloseTo(at0, within(1e-8));
        assertThat(sum.probabilityBelow(3) - sum.probabilityBelow(3 - 1e-9)).isCloseTo(at3, within(1e-8));
    }

    /** So far from the first part that steps of a standard deviation can no longer be counted, 0 being one such place. */
    @Test
    void partsFarApart_areNotDrawnTogether() {
        double[] means = new double[90];
        double[] variances = new double[90];
        for (int i = 0; i < 90; i++) {
            means[i] = i % 3 == 0 ? 1e20 : i % 3 == 1 ? 0 : -7;
            variances[i] = 1;
        }
        NormalMixture few = new NormalMixture(variances, means, variances).condensed();
        assertThat(few.parts()).hasSize(3);
        assertThat(few.probabilityBelow(0)).isCloseTo(0.5, within(1e-11)); // a half of one third, and another third
        assertThat(few.probabilityBelow(-7)).isCloseTo(1.0 / 6, within(1e-11));
        assertThat(few.probabilityAbove(1e19)).isCloseTo(1.0 / 3, within(1e-11));
    }

    /** Standard deviations from a hundredth of a unit to five, or a point in one part of seven. */
    private static NormalMixture many(SplittableRandom random, int parts, double unit, double apart, int everyOneWide) {
        double[] weights = new double[parts];
        double[] means = new double[parts];
        double[] variances = new double[parts];
        for (int i = 0; i < parts; i++) {
            weights[i] = Math.exp(-20 * random.nextDouble());
            means[i] = unit * (2 + apart * (random.nextDouble() - 0.5));
            double s = i % 7 == 3 ? everyOneWide : 1;
            variances[i] = Math.pow(s * unit * Math.exp(random.nextDouble(-4.6, 1.6)), 2);
        }
        return new NormalMixture(weights, means, variances);
    }

    @Test
    void sumOfTwoNormals_isNormal() {
        NormalMixture sum = new NormalMixture(new double[] {1}, new double[] {2}, new double[] {9})
                .plus(new NormalMixture(new double[] {1}, new double[] {-5}, new double[] {16}));
        assertThat(sum.mean()).isCloseTo(-3, within(1e-15));
        assertThat(sum.standardDeviation()).isCloseTo(5, within(1e-14));
        assertThat(sum.quantile(0.975)).isCloseTo(-3 + 5 * Quantiles.normal(0.975), within(1e-9));
    }

    @Test
    void aNumberWithoutUncertainty_onlyMovesIt() {
        NormalMixture two = new NormalMixture(new double[] {1, 3}, new double[] {0, 4}, new double[] {0, 0});
        NormalMixture moved = two.plus(new NormalMixture(new double[] {1}, new double[] {10}, new double[] {0}));
        assertThat(moved.probabilityBelow(9.999)).isZero();
        assertThat(moved.probabilityBelow(12)).isEqualTo(0.25);
        assertThat(moved.probabilityAbove(13.999)).isEqualTo(0.75);
        assertThat(moved.standardDeviation()).isCloseTo(Math.sqrt(3), within(1e-14)); // 16 × 1/4 × 3/4
    }

    /**
     * Behrens and Fisher's problem, whose answer is the difference of two Student's t. A t is a mixture of normals over the
     * variance; the sum is held against a numerical convolution of the library's t distribution.
     */
    @Test
    void sumOfTwoStudents_matchesNumericalConvolution() {
        NormalMixture sum = student(4, 1).plus(student(9, 2));
        TDistribution four = new TDistribution(null, 4);
        TDistribution nine = new TDistribution(null, 9);
        for (double x : new double[] {-4, -1, 0.5, 3, 6}) {
            double expected = 0;
            double step = 0.005;
            for (double t = -60; t <= 60; t += step) {
                expected += nine.density(t) * four.cumulativeProbability(x - 2 * t) * step;
            }
            assertThat(sum.probabilityBelow(x)).isCloseTo(expected, within(5e-6));
        }
    }

    /** scale·t(ν) as a mixture over ln of the variance: ν/χ² with χ² on an even grid of its logarithm. */
    private static NormalMixture student(double nu, double scale) {
        double[] logs =
                IntStream.rangeClosed(0, 400).mapToDouble(i -> -12 + 0.05 * i).toArray();
        double[] weights = new double[logs.length];
        double[] variances = new double[logs.length];
        for (int i = 0; i < logs.length; i++) {
            double chiSquared = Math.exp(logs[i]);
            weights[i] = Math.exp(nu / 2 * logs[i] - chiSquared / 2);
            variances[i] = scale * scale * nu / chiSquared;
        }
        return new NormalMixture(weights, new double[logs.length], variances);
    }

    @Test
    void placesOfTwo_areThoseOfTheirDifference() {
        NormalMixture a = difference(1, 0.08);
        NormalMixture b = difference(12, 0.05);
        double[][] places = Ranking.probabilities(List.of(a, b));
        double smaller = b.plus(difference(1, 0.08, -1, 0)).probabilityAbove(0);
        // the ranking draws nothing together and settles to 1e-9; the sum may be as much off
        assertThat(places[0][0]).isCloseTo(smaller, within(2e-9));
        assertThat(places[1][1]).isCloseTo(smaller, within(2e-9));
        assertThat(smaller).isBetween(0.001, 0.999);
    }

    @Test
    void places_sumToOneByMachineAndByPlace() {
        List<NormalMixture> four = IntStream.range(0, 4)
                .mapToObj(i -> difference(i, 0.06, 1, 0.004 * i))
                .toList();
        double[][] places = Ranking.probabilities(four);
        for (int i = 0; i < 4; i++) {
            double byMachine = 0;
            double byPlace = 0;
            for (int r = 0; r < 4; r++) {
                byMachine += places[i][r];
                byPlace += places[r][i];
            }
            assertThat(byMachine).isCloseTo(1, within(1e-8));
            assertThat(byPlace).isCloseTo(1, within(1e-8));
        }
    }

    @Test
    void placesOfThreeAlike_areAThirdEach() {
        NormalMixture one = difference(3, 0.06);
        for (double[] row : Ranking.probabilities(List.of(one, one, one))) {
            for (double place : row) {
                assertThat(place).isCloseTo(1.0 / 3, within(1e-8));
            }
        }
    }

    @Test
    void placesOfThreeNormals_matchTheOrthantProbability() {
        // X₁, X₂, X₃ normal with mean 0 and variances 1, 2, 3. P(X₁ smallest) = P(X₂ − X₁ > 0, X₃ − X₁ > 0) = 1/4 +
        // asin ρ/(2π),
        // ρ = 1/√((1+2)(1+3)); W. F. Sheppard 1899, orthant probability of two normals, from memory
        double[][] places = Ranking.probabilities(IntStream.rangeClosed(1, 3)
                .mapToObj(v -> new NormalMixture(new double[] {1}, new double[] {0}, new double[] {v}))
                .toList());
        for (int i = 0; i < 3; i++) {
            double v = i + 1;
            double w = (i + 1) % 3 + 1;
            double x = (i + 2) % 3 + 1;
            double expected = 0.25 + Math.asin(v / Math.sqrt((v + w) * (v + x))) / (2 * Math.PI);
            assertThat(places[i][0]).isCloseTo(expected, within(1e-9));
            assertThat(places[i][2]).isCloseTo(expected, within(1e-9));
        }
    }

    /** Narrow and wide parts in one quantity, and figures in the thousands: a place has no unit. */
    @Test
    void places_areTheSameInAnyUnit() {
        for (double unit : new double[] {1e-3, 1, 1e4}) {
            NormalMixture lopsided = new NormalMixture(
                    new double[] {1, 1}, new double[] {-unit, 3 * unit}, new double[] {1e-2 * unit * unit, unit * unit
                    });
            NormalMixture plain = new NormalMixture(new double[] {1}, new double[] {0}, new double[] {unit * unit});
            // of each part against the plain one: (0 − m)/√(v + 1)
            double smaller =
                    (Quantiles.normalProbability(1 / Math.sqrt(1.01)) + Quantiles.normalProbability(-3 / Math.sqrt(2)))
                            / 2;
            double[][] places = Ranking.probabilities(List.of(lopsided, plain));
            assertThat(places[0][0]).as("unit %s", unit).isCloseTo(smaller, within(1e-9));
            assertThat(places[0][1]).as("unit %s", unit).isCloseTo(1 - smaller, within(1e-9));
        }
    }

    @Test
    void aQuantityWithoutUncertainty_cannotBeRanked() {
        NormalMixture step = new NormalMixture(new double[] {1}, new double[] {0}, new double[] {0});
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Ranking.probabilities(List.of(step, step)))
                .withMessage("a part has the standard deviation 0.0; must be in (0, ∞)");
    }

    /** A rectangular distribution about 0: many narrow parts that together have its variance exactly. */
    private static NormalMixture rectangular(double sd) {
        int parts = 60;
        double width = 2 * Math.sqrt(3) * sd / parts;
        return new NormalMixture(
                IntStream.range(0, parts).mapToDouble(i -> 1).toArray(),
                IntStream.range(0, parts)
                        .mapToDouble(i -> (i - (parts - 1) / 2.0) * width)
                        .toArray(),
                IntStream.range(0, parts).mapToDouble(i -> width * width / 12).toArray());
    }

    private static NormalMixture sum(NormalMixture... parts) {
        NormalMixture sum = parts[0];
        for (int i = 1; i < parts.length; i++) {
            sum = sum.plus(parts[i]);
        }
        return sum;
    }

    /**
     * JCGM 101:2008, 9.2, sum of four quantities, 95 %: all normal ±3.92 (exact 3.919928); all rectangular ±3.88 (exact
     * 2√3·(2 − 0.6^¼) = 3.879407), though u is the same (both secondary, recomputed); one
     * rectangular of ten times the size ±17.0 (exact 17.01581; from memory, recomputed), where 1.96·u would be ±19.9. Tolerance: sixty normal
     * parts are not quite a rectangle.
     */
    @Test
    void sumOfFour_hasTheIntervalsOfJcgm101() {
        NormalMixture normal = new NormalMixture(new double[] {1}, new double[] {0}, new double[] {1});
        assertThat(sum(normal, normal, normal, normal).estimate(0.95).high()).isCloseTo(3.919928, within(1e-6));

        NormalMixture one = rectangular(1);
        NormalMixture four = sum(one, one, one, one);
        assertThat(four.standardDeviation()).isCloseTo(2, within(1e-12));
        assertThat(four.estimate(0.95).high()).isCloseTo(3.879407, within(0.0033));
        assertThat(four.estimate(0.95).low()).isCloseTo(-3.879407, within(0.0033));

        NormalMixture uneven = sum(one, one, one, rectangular(10));
        assertThat(uneven.estimate(0.95).high()).isCloseTo(17.01581, within(0.0135));
        assertThat(uneven.standardDeviation()).isCloseTo(Math.sqrt(103), within(1e-12));
    }
}
