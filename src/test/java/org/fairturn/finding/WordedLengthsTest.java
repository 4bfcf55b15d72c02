package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Expected numbers: one inch is 25.4 mm (international yard and pound agreement, 1959), divided and rounded by hand. */
class WordedLengthsTest {
    private static final Wording METRIC = new Wording(LengthUnit.MILLIMETRE);
    private static final Wording INCH = new Wording(LengthUnit.FOOT);

    /** A margin of 1 mm was told as 1 mm (0.0 in), one of 0.4 mm as 0 mm (0.0 in). */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "50    | 50 mm (2.0 in)",
                "1.3   | 1 mm (0.1 in)",
                "1.27  | 1 mm (0.1 in)",
                "1     | 1 mm (0.04 in)",
                "-1    | 1 mm (0.04 in)",
                "0.4   | 0.4 mm (0.02 in)",
                "0.1   | 0.1 mm (0.004 in)",
                "0.04  | 0.04 mm (0.002 in)",
                "0.005 | 0.01 mm (0.0002 in)",
                "0     | 0 mm (0.0 in)",
            })
    void amount_hasAsManyDecimalsAsShowIt_inBothUnits(double millimetres, String text) {
        assertThat(METRIC.amount(millimetres / 1000)).isEqualTo(text);
    }

    /** Hundredths of a millimetre are finer than any calliper; what is left of a zero by computing is a zero. */
    @Test
    void whatComputingLeaves_isNothing() {
        assertThat(METRIC.signed(-4e-6)).isEqualTo("0 mm (0.0 in)");
        assertThat(INCH.signed(1e-17)).isEqualTo("0.0 in (0 mm)");
        assertThat(INCH.range(-1e-17, 0)).isEqualTo("between 0.0 and 0.0 in (0 and 0 mm)");
        assertThat(INCH.fine(0)).isEqualTo("0.00 in (0.0 mm)");
    }

    @Test
    void signedAndFine_followTheSameRule() {
        assertThat(INCH.signed(-0.001)).isEqualTo("−0.04 in (−1 mm)");
        assertThat(INCH.fineSigned(-0.0044)).isEqualTo("−0.17 in (−4.4 mm)");
        assertThat(INCH.fineSigned(-0.0001)).isEqualTo("−0.004 in (−0.1 mm)");
        assertThat(METRIC.fine(0.00004)).isEqualTo("0.04 mm (0.002 in)");
    }

    @Test
    void bothEndsOfAnInterval_haveTheSameDecimals() {
        assertThat(INCH.range(-0.030, 0.051)).isEqualTo("between −1.2 and 2.0 in (−30 and 51 mm)");
        assertThat(METRIC.interval(-0.030, 0.051)).isEqualTo("−30 to 51 mm (−1.2 to 2.0 in)");
        // −1 mm is −0.04 in: where one unit shows an end, the other does
        assertThat(METRIC.range(-0.001, 0.060)).isEqualTo("between −1 and 60 mm (−0.04 and 2.36 in)");
        // −0.3 mm is nothing beside 60 mm, in either unit
        assertThat(METRIC.range(-0.0003, 0.060)).isEqualTo("between 0 and 60 mm (0.0 and 2.4 in)");
        assertThat(METRIC.range(0.001, 0.002)).isEqualTo("between 1 and 2 mm (0.04 and 0.08 in)");
        assertThat(METRIC.interval(-0.0001, 0.0007)).isEqualTo("−0.1 to 0.7 mm (−0.004 to 0.028 in)");
    }

    /** Digits that the interval does not bear out would be false: what remains is 0 mm, not −0.4 mm, between −33 and 32 mm. */
    @Test
    void anEstimate_isAsFineAsItsInterval() {
        Estimate small = new Estimate(-0.0004, 0.016, -0.033, 0.032, 0.95);
        assertThat(METRIC.signed(small)).isEqualTo("0 mm (0.0 in)");
        assertThat(METRIC.range(small)).isEqualTo("between −33 and 32 mm (−1.3 and 1.3 in)");
        assertThat(METRIC.signed(-0.0004, 0.016)).isEqualTo("0 mm (0.0 in)");
        assertThat(INCH.signed(new Estimate(-0.001, 0.016, -0.033, 0.032, 0.95)))
                .isEqualTo("−0.04 in (−1 mm)");
        assertThat(INCH.amount(new Estimate(-0.0003, 0.0002, -0.0007, 0.0001, 0.95)))
                .isEqualTo("0.01 in (0.3 mm)");
        assertThat(INCH.towards(new Estimate(-0.020, 0.016, -0.050, 0.010, 0.95)))
                .isEqualTo("between −0.4 and 2.0 in (−10 and 50 mm)");
    }

    /** An interval narrower than its rounding had no width: between 1447 and 1447 mm. */
    @Test
    void aNarrowInterval_isStillOne() {
        assertThat(METRIC.range(1.4466, 1.4474)).isEqualTo("between 1446.6 and 1447.4 mm (56.95 and 56.98 in)");
        assertThat(METRIC.range(1.447, 1.447)).isEqualTo("between 1447 and 1447 mm (57.0 and 57.0 in)");
    }

    @Test
    void neitherUnitSaysNothing_whereTheOtherSaysSomething() {
        SplittableRandom random = new SplittableRandom(29);
        Pattern number = Pattern.compile("\\d+(\\.\\d+)?");
        for (int i = 0; i < 20_000; i++) {
            double one = length(random);
            double other = length(random);
            for (Wording wording : List.of(METRIC, INCH)) {
                for (String text : List.of(
                        wording.amount(one),
                        wording.signed(one),
                        wording.fineSigned(one),
                        wording.signed(one, Math.abs(other)),
                        wording.range(Math.min(one, other), Math.max(one, other)))) {
                    List<Boolean> nothing = number.matcher(text)
                            .results()
                            .map(MatchResult::group)
                            .map(n -> Double.parseDouble(n) == 0)
                            .toList();
                    int half = nothing.size() / 2;
                    assertThat(nothing.subList(0, half))
                            .as("%s and %s m: %s", one, other, text)
                            .isEqualTo(nothing.subList(half, nothing.size()));
                }
            }
        }
    }

    /** From a thousandth of a millimetre to 10 m, of either sign. */
    private static double length(SplittableRandom random) {
        return (random.nextBoolean() ? 1 : -1) * Math.pow(10, random.nextDouble(-6, 1));
    }
}
