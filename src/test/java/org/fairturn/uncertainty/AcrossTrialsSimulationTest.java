package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.fairturn.uncertainty.AcrossTrialsTest.archive;
import static org.fairturn.uncertainty.AcrossTrialsTest.gaussian;
import static org.fairturn.uncertainty.AcrossTrialsTest.group;
import static org.fairturn.uncertainty.AcrossTrialsTest.trial;

import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What archives of past trials teach, over many of them drawn anew. */
class AcrossTrialsSimulationTest {
    private static final double RESOLUTION = 0.001 / Math.sqrt(12);
    private static final HalfT CIRCLES = new HalfT(0.05);
    private static final HalfT READINGS = new HalfT(0.02);
    private static final double LEVEL = 0.95;

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
