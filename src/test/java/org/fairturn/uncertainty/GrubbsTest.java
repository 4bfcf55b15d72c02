package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.Random;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;

class GrubbsTest {
    private static final double LAST_DIGIT = 0.5e-4 * 1.02; // the table has four decimals

    @Test
    void critical_matchesTheTable() {
        int checked = 0;
        for (CSVRecord row : ReferenceData.rows("table-grubbs.csv")) {
            int n = Integer.parseInt(row.get("n"));
            for (double alpha : new double[] {0.10, 0.05, 0.025, 0.01, 0.005}) {
                String column = "one_sided_" + (alpha == 0.10 ? "0.10" : Double.toString(alpha));
                assertThat(Grubbs.critical(n, alpha))
                        .as("n = %d, α = %s", n, alpha)
                        .isCloseTo(Double.parseDouble(row.get(column)), within(LAST_DIGIT));
                checked++;
            }
        }
        assertThat(checked).isGreaterThan(100);
    }

    @Test
    void critical_matchesPrintedTables() {
        // ASTM E178, one-sided 5 % (secondary, printed to three decimals; 1.672 for n = 5 in older tables)
        Map.of(3, 1.153, 4, 1.463, 6, 1.822, 7, 1.938, 8, 2.032, 9, 2.110, 10, 2.176)
                .forEach((n, g) -> assertThat(Grubbs.critical(n, 0.05)).isCloseTo(g, within(0.001)));
        // two-sided 1 % (read in source): n = 7 2.139, 8 2.274, 10 2.482
        Map.of(7, 2.139, 8, 2.274, 10, 2.482)
                .forEach((n, g) -> assertThat(Grubbs.critical(n, 0.005)).isCloseTo(g, within(0.001)));
    }

    @Test
    void uraniumInAMassSpectrometer_hasAnOutlier() {
        // Tietjen & Moore, Technometrics 14 (1972); NIST handbook: G = 2.468765, limit 2.032 (from memory, recomputed)
        double[] values = ReferenceData.column("mass-spectrometer-uranium.csv", "value");
        assertThat(Grubbs.statistic(values)).isCloseTo(2.468765, within(0.5e-6 * 1.02));
        assertThat(Grubbs.statistic(values)).isGreaterThan(Grubbs.critical(8, 0.05));
    }

    @Test
    void statistic_hasItsLimits() {
        assertThat(Grubbs.statistic(new double[] {5, 5, 5})).isZero();
        // one value against n − 1 equal ones: (n − 1)/√n
        assertThat(Grubbs.statistic(new double[] {1, 1, 1, 9})).isCloseTo(1.5, within(1e-12));
        // it knows no unit and no origin
        assertThat(Grubbs.statistic(new double[] {1e6 + 25.4, 1e6 + 50.8, 1e6 + 254}))
                .isCloseTo(Grubbs.statistic(new double[] {1, 2, 10}), within(1e-9));
    }

    /** 5 % of samples without an outlier exceed the limit, to within four standard deviations of 20 000 tries. */
    @Test
    void limit_isExceededAsOftenAsItSays() {
        Random random = new Random(3);
        int exceeded = 0;
        int tries = 20_000;
        double limit = Grubbs.critical(5, 0.025);
        for (int i = 0; i < tries; i++) {
            double[] x = random.doubles(5).map(u -> random.nextGaussian()).toArray();
            exceeded += Grubbs.statistic(x) > limit ? 1 : 0;
        }
        assertThat(exceeded).isBetween(877, 1123);
    }

    @Test
    void whatHasNoLimit_isRefused() {
        for (double alpha : new double[] {0, 0.5, Double.NaN}) {
            assertThatThrownBy(() -> Grubbs.critical(5, alpha))
                    .hasMessage("n is 5, alpha " + alpha + "; must be 3 or more and in (0, 0.5)");
        }
        assertThatThrownBy(() -> Grubbs.critical(2, 0.05)).hasMessageStartingWith("n is 2, ");
        assertThatThrownBy(() -> Grubbs.statistic(new double[] {1, 2})).hasMessage("values are 2; must be 3 or more");
    }
}
