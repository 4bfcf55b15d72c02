package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.fairturn.trial.Drive;
import org.fairturn.uncertainty.PastScatter;
import org.junit.jupiter.api.Test;

class DriftTest {
    private static PastTrial row(int day, String folder, int degrees, double squares) {
        return new PastTrial(
                folder,
                LocalDate.of(2026, 3, 1).plusDays(day),
                "Alder 22",
                Drive.TWO_WHEEL,
                "",
                "",
                degrees + 2,
                degrees + 2,
                new PastScatter(degrees, squares, 1, 0, 0));
    }

    /** Trials of eight degrees of freedom, a day each, at these standard deviations (mm). */
    private static Drift drift(double... deviations) {
        List<PastTrial> rows = new ArrayList<>();
        for (double s : deviations) {
            rows.add(row(rows.size(), "t" + rows.size(), 8, 8e-6 * s * s));
        }
        return new Archive(rows).circleDrift();
    }

    private static List<Double> levels(Drift drift) {
        return drift.points().stream()
                .map(p -> p.expected().map(e -> 1e3 * e.level()).orElse(Double.NaN))
                .toList();
    }

    @Test
    void theLevel_isThePooledStandardDeviationOfEarlierDays() {
        Drift drift = drift(10, 20, 14, 30);
        assertThat(levels(drift).subList(0, 2)).containsOnly(Double.NaN);
        assertThat(levels(drift).get(2)).isCloseTo(Math.sqrt((100 + 400) / 2.0), within(1e-9));
        assertThat(levels(drift).get(3)).isCloseTo(Math.sqrt((100 + 400 + 196) / 3.0), within(1e-9));
    }

    /** F of 8 and 1000 degrees of freedom at 99.865 % lies by χ²/ν of 8 degrees: 3.2 (a table has 26.12/8 = 3.27 at 99.9 %, from memory). */
    @Test
    void limits_widenWithFewDegreesOfFreedom() {
        Drift.Expected few = drift(10, 10, 10).points().get(2).expected().orElseThrow();
        double[] many = new double[120];
        java.util.Arrays.fill(many, 10);
        Drift.Expected known = drift(many).points().get(119).expected().orElseThrow();
        assertThat(known.high() / known.level()).isBetween(Math.sqrt(3.1), Math.sqrt(3.3));
        assertThat(few.high()).isGreaterThan(1.2 * known.high());
        assertThat(few.low()).isLessThan(known.low());
    }

    /** Seeded: where nothing changes, 0.27 % of trials lie outside, however few came before. */
    @Test
    void falseAlarms_areAsRareAsLimitsAtThreeStandardDeviationsMakeThem() {
        var random = new SplittableRandom(8);
        var normal = new NormalDistribution(null, 0, 1);
        int out = 0;
        int runs = 6000;
        for (int run = 0; run < runs; run++) {
            List<PastTrial> rows = new ArrayList<>();
            for (int t = 0; t < 3; t++) {
                double squares = 0;
                for (int i = 0; i < 4; i++) {
                    squares += Math.pow(0.01 * normal.inverseCumulativeProbability(random.nextDouble(1e-12, 1)), 2);
                }
                rows.add(row(t, "t" + t, 4, squares));
            }
            out += Drift.of(rows, PastScatter::circleDegrees, PastScatter::circleSquares)
                    .out()
                    .size();
        }
        // 16 expected; Poisson, so ±4: three times that either way
        assertThat(out).isBetween(4, 28);
    }

    @Test
    void trialsOfOneDay_setEachOtherNoLimits() {
        List<PastTrial> rows =
                List.of(row(0, "a", 8, 8e-4), row(1, "b", 8, 8e-4), row(2, "c", 8, 8e-4), row(2, "d", 8, 8e-2));
        Drift drift = new Archive(rows).circleDrift();
        assertThat(drift.points().get(2).expected())
                .isEqualTo(drift.points().get(3).expected());
        assertThat(drift.out()).extracting(Drift.Point::folder).containsExactly("d");
        assertThat(drift.out().get(0).above()).isTrue();
    }

    @Test
    void oneRoughTrial_doesNotMoveASettledLevel_twoInARowDo() {
        Drift one = drift(10, 10, 10, 10, 10, 60, 10, 10);
        assertThat(levels(one).get(7)).isCloseTo(10, within(1e-9));
        assertThat(one.out()).extracting(Drift.Point::folder).containsExactly("t5");
        Drift two = drift(10, 10, 10, 10, 10, 60, 60, 40);
        assertThat(levels(two).get(7)).isCloseTo(Math.sqrt((5 * 100 + 2 * 3600) / 7.0), within(1e-9));
        assertThat(two.out()).extracting(Drift.Point::folder).containsExactly("t5", "t6");
        Drift opposite = drift(10, 10, 10, 10, 10, 60, 1, 10);
        assertThat(levels(opposite).get(7)).isCloseTo(10, within(1e-9));
        assertThat(opposite.out()).extracting(Drift.Point::below).containsExactly(false, true);
    }

    @Test
    void aTrialThatShowsNothing_hasNoPoint() {
        assertThat(new Archive(List.of(row(0, "a", 0, 0), row(1, "b", 3, 1e-4)))
                        .circleDrift()
                        .points())
                .extracting(Drift.Point::folder)
                .containsExactly("b");
    }
}
