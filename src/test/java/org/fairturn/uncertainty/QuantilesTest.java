package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.csv.CSVRecord;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;

/** Against printed tables; the table files say which digits were seen in print and which were recomputed. */
class QuantilesTest {
    private static final double LAST_DIGIT = 0.5e-4 * 1.02; // tables to four decimals; a rounding tie may go either way

    private static double cell(CSVRecord row, String column) {
        return Double.parseDouble(row.get(column));
    }

    @Test
    void student_matchesTableG2OfTheGum() {
        // JCGM 100:2008, Table G.2
        int checked = 0;
        for (CSVRecord row : ReferenceData.rows("table-t-factors.csv")) {
            if (!row.get("nu").matches("\\d+")) {
                continue;
            }
            double nu = cell(row, "nu");
            assertThat(Quantiles.student(0.95, nu)).isCloseTo(cell(row, "p90"), within(LAST_DIGIT));
            assertThat(Quantiles.student(0.975, nu)).isCloseTo(cell(row, "p95"), within(LAST_DIGIT));
            assertThat(Quantiles.student(0.995, nu)).isCloseTo(cell(row, "p99"), within(LAST_DIGIT));
            checked++;
        }
        assertThat(checked).isGreaterThan(15);
    }

    /** Where circles agree to a hair, readings of one another shape the degrees of freedom: once 0, or no end, from 1e17 on. */
    @Test
    void student_goesOverIntoTheNormal_howeverManyDegreesOfFreedom() {
        for (double p : new double[] {0.6, 0.975, 0.99995}) {
            double before = Double.POSITIVE_INFINITY;
            for (double nu = 1000; nu <= 1e300; nu *= 10) {
                double t = Quantiles.student(p, nu);
                assertThat(t).as("%s of %s", p, nu).isLessThanOrEqualTo(before + 1e-9);
                before = t;
            }
            assertThat(before).isCloseTo(Quantiles.normal(p), within(1e-9));
        }
    }

    @Test
    void f_matchesThePrintedTable() {
        for (CSVRecord row : ReferenceData.rows("table-f-critical.csv")) {
            double d1 = cell(row, "df1");
            double d2 = cell(row, "df2");
            assertThat(Quantiles.f(0.95, d1, d2)).isCloseTo(cell(row, "upper_5pct"), within(LAST_DIGIT));
            assertThat(Quantiles.f(0.975, d1, d2)).isCloseTo(cell(row, "upper_2.5pct"), within(LAST_DIGIT));
        }
        // JCGM 100:2008, H.5: F 0.95 and 0.975 with 9 and 40 degrees of freedom, printed 2.12 and 2.45
        assertThat(Quantiles.f(0.95, 9, 40)).isCloseTo(2.12, within(0.005));
        assertThat(Quantiles.f(0.975, 9, 40)).isCloseTo(2.45, within(0.005));
    }

    @Test
    void chiSquared_matchesThePrintedTable() {
        for (CSVRecord row : ReferenceData.rows("table-chi2.csv")) {
            double df = cell(row, "df");
            assertThat(Quantiles.chiSquared(0.025, df)).isCloseTo(cell(row, "p0.025"), within(LAST_DIGIT));
            assertThat(Quantiles.chiSquared(0.975, df)).isCloseTo(cell(row, "p0.975"), within(LAST_DIGIT));
        }
    }

    @Test
    void normal_matchesThePrintedTable() {
        // One-sided factors of JCGM 106 and any normal table (recomputed): 90, 95, 97.5 and 99 %.
        assertThat(Quantiles.normal(0.90)).isCloseTo(1.281552, within(5e-7));
        assertThat(Quantiles.normal(0.95)).isCloseTo(1.644854, within(5e-7));
        assertThat(Quantiles.normal(0.975)).isCloseTo(1.959964, within(5e-7));
        assertThat(Quantiles.normal(0.99)).isCloseTo(2.326348, within(5e-7));
        assertThat(Quantiles.normalProbability(1.4)).isCloseTo(0.919243, within(5e-7));
        // one, two and three sigma (JCGM 100:2008, Table G.2 headings to six digits)
        assertThat(2 * Quantiles.normalProbability(1) - 1).isCloseTo(0.68268949, within(5e-9));
        assertThat(2 * Quantiles.normalProbability(3) - 1).isCloseTo(0.99730020, within(5e-9));
    }

    /** z + (z³ + z)/(4ν) + …, of which at ν = 1e5 and z = 5 the second term is 3.25e-4 and the third 1.8e-8: by hand. */
    @Test
    void student_nearTheNormal_hasItsSeries() {
        double p = Quantiles.normalProbability(5);
        double z = Quantiles.normal(p);
        double t = z + (125 + 5) / 4e5 + (5 * 3125 + 16 * 125 + 3 * 5) / 96e10;
        // z is 5 as far as 1 − 3e-7 has digits
        assertThat(Quantiles.student(p, 1e5)).isCloseTo(t, within(1e-11));
        assertThat(Quantiles.student(p, 99_999)).isCloseTo(t, within(1e-8));
    }
}
