package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

/** How often what is said of a single day holds. */
class DaysSimulationTest {
    private static final double MM = 0.001;

    /** Single days about the truth, days of 20 mm, 40 mm and 80 mm: what is said of one day holds about as often as claimed. */
    @Test
    void aSingleDay_liesOffByNoMoreThanSaid_asOftenAsSaid() {
        for (double ofDays : new double[] {20, 40, 80}) {
            var random = new SplittableRandom(7);
            int held = 0;
            int trials = 60;
            for (int i = 0; i < trials; i++) {
                List<Days.Folder> folders = new ArrayList<>();
                for (int d = 0; d < 3; d++) {
                    double day = ofDays * normal(random);
                    Trials made = Trials.inMillimetres().machine("Alder");
                    for (int k = 0; k < 4; k++) {
                        double truth = k < 2 ? 1600 : 1750;
                        made.circle(
                                "" + k,
                                k < 2 ? Turn.LEFT : Turn.RIGHT,
                                Drive.TWO_WHEEL,
                                truth + day + 15 * normal(random));
                    }
                    folders.add(DaysTest.folder("d" + d, 11 + d, "day", made.trial()));
                }
                double next = MM * (ofDays * normal(random) + 15 / Math.sqrt(2) * normal(random));
                held += Math.abs(next) <= Days.of(folders).machines().get(0).singleDay() ? 1 : 0;
            }
            // three standard deviations of a count of 60 at 95 % are 8.4 %
            assertThat(held / (double) trials).as(ofDays + " mm").isGreaterThan(0.866);
        }
    }

    private static double normal(SplittableRandom random) {
        return Math.sqrt(-2 * Math.log(random.nextDouble(1e-12, 1))) * Math.cos(2 * Math.PI * random.nextDouble());
    }
}
