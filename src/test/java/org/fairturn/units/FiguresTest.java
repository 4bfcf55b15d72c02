package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FiguresTest {
    @ParameterizedTest
    @CsvSource({
        "0.94, 2",
        "9.4, 1",
        "94, 0",
        "940, 0",
        "0.0996, 2",
        "9.96, 0",
        "99.6, 0",
        "0.0994, 3",
        "1, 1",
        "10, 0",
        "0.1, 2",
        "0.00012, 5",
        "0.000000012, 6",
        "-9.4, 1",
        "0, 3",
        "NaN, 3",
        "Infinity, 3"
    })
    void decimals_showTwoFiguresOfTheUncertainty(double uncertainty, int decimals) {
        // JCGM 100:2008, 7.2.6: at most two significant figures
        assertThat(Figures.decimalsFor(uncertainty)).isEqualTo(decimals);
    }

    @Test
    void fixed_writesAPointInEveryLocale_andNoMinusZero() {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(Figures.fixed(1234.5678, 2)).isEqualTo("1234.57");
        } finally {
            Locale.setDefault(before);
        }
        assertThat(Figures.fixed(-0.004, 2)).isEqualTo("0.00");
        assertThat(Figures.fixed(-0.4, 0)).isEqualTo("0");
        assertThat(Figures.fixed(-0.006, 2)).isEqualTo("-0.01");
    }

    /** Numbers no field has, and more decimals than any table: as true as the rest. */
    @Test
    void fixed_writesHugeNumbersAndManyDecimalsToo() {
        assertThat(Figures.fixed(1e20, 2)).isEqualTo("100000000000000000000.00");
        assertThat(Figures.fixed(-2e9, 1)).isEqualTo("-2000000000.0");
        assertThat(Figures.fixed(0.123456789, 8)).isEqualTo("0.12345679");
        assertThat(Figures.fixed(0.12345678, 7)).isEqualTo("0.1234568");
        assertThat(Figures.fixed(1e-10, 8)).isEqualTo("0.00000000");
        assertThat(Figures.fixed(-1e-10, 8)).isEqualTo("0.00000000");
    }

    /** 2.675 lies below its tie as a double (2.67499…), yet who reads 2.675 expects 2.68. */
    @Test
    void fixed_roundsTheDecimalsSomeoneReads() {
        assertThat(Figures.fixed(2.675, 2)).isEqualTo("2.68");
        assertThat(Figures.fixed(-0.5, 0)).isEqualTo("-1");
        assertThat(Figures.fixed(0.05, 1)).isEqualTo("0.1");
    }

    @Test
    void typeset_writesAMinusSign() {
        assertThat(Figures.typeset(-1.25, 1)).isEqualTo("−1.3");
        assertThat(Figures.typeset(-0.04, 1)).isEqualTo("0.0");
    }

    @ParameterizedTest
    @CsvSource({
        "0.62, 62 %", "0.949, 94.9 %", "0.95, 95 %", "0.9501, 95.0 %", "0.9991, over 99.9 %", "0.999, 99.9 %",
                "1, 100 %",
        "0.0009, under 0.1 %", "0.001, 0.1 %", "0, 0 %", "0.05, 5 %", "0.0496, 5.0 %", "0.9, 90 %", "0.1, 10 %"
    })
    void percent_showsATenthNearTheEnds(double probability, String text) {
        assertThat(Figures.percent(probability)).isEqualTo(text);
    }
}
