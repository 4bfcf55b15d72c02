package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How often the nominal 95 % interval of a left–right difference holds the truth, in simulated trials of four cells with two
 * readings a circle (reading standard deviation 10 mm). Seeded, so the figures are the same on every run.
 */
class CoverageTest {
    private static final int TRIALS = 2000;

    @ParameterizedTest(name = "{0} circles a cell, circle sd {1} mm")
    @CsvSource({
        "1, 25, 0.94, 1",
        "2, 8, 0.925, 0.99",
        "2, 25, 0.925, 0.99",
        "2, 50, 0.925, 0.99",
        "2, 75, 0.925, 0.99",
        "3, 8, 0.925, 0.99",
        "3, 25, 0.94, 0.97",
        "3, 50, 0.94, 0.97",
        "3, 75, 0.925, 0.99"
    })
    void interval_holdsTheTruthAsOftenAsItSays(int circles, double sigmaB, double least, double most) {
        var random = new SplittableRandom(20260514L + circles * 1000L + (long) sigmaB);
        double[] c = {-1, 1, 0, 0};
        int held = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            List<List<CircleSummary>> cells = new ArrayList<>();
            for (int k = 0; k < 4; k++) {
                List<CircleSummary> cell = new ArrayList<>();
                for (int i = 0; i < circles; i++) {
                    double b = 1.6 + sigmaB / 1000 * gaussian(random);
                    cell.add(CircleSummary.of(
                            new double[] {b + 0.01 * gaussian(random), b + 0.01 * gaussian(random)},
                            new double[] {1, 1}));
                }
                cells.add(cell);
            }
            double below = RepeatabilityPosterior.of(
                            new CircleData(cells), new HalfT(0.05), new HalfT(0.02), 0.001 / Math.sqrt(12))
                    .contrast(c, 0, 0)
                    .probabilityBelow(0);
            if (below >= 0.025 && below <= 0.975) {
                held++;
            }
        }
        double coverage = (double) held / TRIALS;
        System.out.printf(
                Locale.ROOT, "coverage: %d circles a cell, circle sd %.0f mm: %.4f%n", circles, sigmaB, coverage);
        assertThat(coverage).isBetween(least, most);
    }

    private static double gaussian(SplittableRandom random) {
        return Quantiles.normal(Math.max(random.nextDouble(), 1e-300));
    }
}
