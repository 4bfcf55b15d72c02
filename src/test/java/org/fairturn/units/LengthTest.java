package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class LengthTest {
    /** Far below what a tape shows, far above the rounding of doubles. */
    private static final double NANOMETRE = 1e-9;

    private static double mm(String text) {
        return Length.parse(text, LengthUnit.MILLIMETRE).orThrow().millimetres();
    }

    @Test
    void inchesAndFeet_areThoseOf1959() {
        // international yard and pound agreement, 1959: 1 yard = 0.9144 m exactly, so 1 in = 25.4 mm
        assertThat(LengthUnit.INCH.metres()).isEqualTo(0.9144 / 36);
        assertThat(LengthUnit.FOOT.metres()).isCloseTo(0.9144 / 3, within(1e-16));
        assertThat(mm("1 in")).isCloseTo(25.4, within(1e-12));
        // worked by hand from 25.4 mm: 67.375 in and 126.5 in
        assertThat(mm("5 ft 7 3/8 in")).isCloseTo(1711.325, within(1e-9));
        assertThat(mm("10 ft 6 1/2 in")).isCloseTo(3213.1, within(1e-9));
    }

    /** The written forms of one and the same tape reading each; millimetres by hand from 1 in = 25.4 mm. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "1.58 m | 1580",
                "158 cm | 1580",
                "1580 mm | 1580",
                "62 in | 1574.8",
                "62 3/8 in | 1584.325",
                "62-3/8\" | 1584.325",
                "5 ft 2 in | 1574.8",
                "5' 2 3/8\" | 1584.325",
                "1580 | 1580",
                "1.58m | 1580",
                "1.58 metres | 1580",
                "62 inches | 1574.8",
                "62 3/8″ | 1584.325",
                "62⅜ in | 1584.325",
                "62 ½ in | 1587.5",
                "3/8 in | 9.525",
                "½ in | 12.7",
                "62.375 in | 1584.325",
                "5'2\" | 1574.8",
                "5′ 2 3/8″ | 1584.325",
                "5' 2'' | 1574.8",
                "5ft2in | 1574.8",
                "5 ft | 1524",
                "5 feet 2 inches | 1574.8",
                "-3/4 in | -19.05",
                "−12 mm | -12",
                "+12 MM | 12",
                "`  1.58   m  ` | 1580",
                "1.58\u00a0m | 1580",
                ".5 m | 500",
                "5. mm | 5",
                "- 3/4 in | -19.05",
                "`5 ft 2 in  ` | 1574.8",
                "3/1 in | 76.2",
            })
    void everyWrittenForm_isRead(String text, double millimetres) {
        assertThat(mm(text)).isCloseTo(millimetres, within(1e-9));
    }

    @ParameterizedTest
    @EnumSource(LengthUnit.class)
    void bareNumber_countsInTheUnitOfTheTrial(LengthUnit unit) {
        assertThat(Length.parse("2.5", unit).orThrow().metres()).isCloseTo(2.5 * unit.metres(), within(NANOMETRE));
        assertThat(Length.parse("2.5 " + unit.symbol(), LengthUnit.FOOT)
                        .orThrow()
                        .in(unit))
                .isCloseTo(2.5, within(1e-12));
    }

    @ParameterizedTest
    @CsvSource({"0.30000000000000004, 300", "0.016666666666666666, 16.666666666666666"})
    void numbersAsProgramsExportThem_areRead(String text, double millimetres) {
        // a script writes as many digits as tell two doubles apart, 17 and a few zeros
        assertThat(Length.parse(text, LengthUnit.METRE).orThrow().millimetres()).isCloseTo(millimetres, within(1e-9));
    }

    @Test
    void coordinatesOnANationalGrid_areRead() {
        // the false northing south of the equator is 10 000 km in the usual transverse Mercator zones (from memory)
        assertThat(Length.parse("9999999.25 m", LengthUnit.INCH).orThrow().metres())
                .isEqualTo(9_999_999.25);
    }

    /** 20 000 km, twice what a national grid needs, and 30 characters of number are the most; blanks do not count. */
    @Test
    void lengthsAndNumbersOfTheGreatestSize_areRead_andNoneBeyond() {
        assertThat(mm("20000000 m")).isEqualTo(2e10);
        assertThat(fault("20000001 m").mend()).isEqualTo("That is longer than any field.");
        String thirty = "0." + "3".repeat(28);
        assertThat(mm(" ".repeat(20) + thirty + " m")).isCloseTo(1000 / 3.0, within(1e-9));
        assertThat(fault(thirty + "3 m").position()).isZero();
    }

    @Test
    void lengthsAreStretched_andMadeOfAnyUnit() {
        assertThat(Length.of(5, LengthUnit.FOOT).millimetres()).isCloseTo(1524, within(1e-9));
        assertThat(Length.mm(50).times(-2).millimetres()).isCloseTo(-100, within(1e-12));
    }

    @Test
    void whatWasRead_becomesSomethingElse_andAFaultStaysWhatItIs() {
        Parsed<String> read = Length.parse("5 ft", LengthUnit.METRE).map(length -> length.asInches(8));
        assertThat(read.orThrow()).isEqualTo("60 in");
        Parsed<String> unread = Length.parse("x", LengthUnit.METRE).map(length -> length.asInches(8));
        assertThat(unread.<String>fold(text -> text, Parsed.Fault::text)).isEqualTo("x");
    }

    @Test
    void inchFractions_roundTripInSixteenths() {
        SplittableRandom random = new SplittableRandom(16);
        for (int i = 0; i < 5000; i++) {
            int sixteenths = random.nextInt(-20_000, 20_000);
            Length length = Length.inches(sixteenths / 16.0);
            String written = length.asInches(16);
            Length read = Length.parse(written, LengthUnit.METRE).orThrow();
            assertThat(read.metres()).as(written).isCloseTo(length.metres(), within(NANOMETRE));
            assertThat(read.asInches(16)).isEqualTo(written);
        }
    }

    @Test
    void asInches_roundsToTheNearestMark_andReducesTheFraction() {
        assertThat(Length.inches(62.375).asInches(16)).isEqualTo("62 3/8 in");
        assertThat(Length.inches(62.4).asInches(8)).isEqualTo("62 3/8 in");
        assertThat(Length.inches(62.97).asInches(16)).isEqualTo("63 in");
        assertThat(Length.inches(-0.75).asInches(16)).isEqualTo("-3/4 in");
        assertThat(Length.inches(-0.01).asInches(16)).isEqualTo("0 in");
    }

    @ParameterizedTest
    @EnumSource(LengthUnit.class)
    void exactly_readsBackToAMicrometre(LengthUnit unit) {
        SplittableRandom random = new SplittableRandom(1);
        for (int i = 0; i < 2000; i++) {
            Length length = new Length(random.nextDouble(-300, 300));
            String written = length.exactly(unit);
            double back = Length.parse(written, LengthUnit.MILLIMETRE).orThrow().metres();
            assertThat(back).as(written).isCloseTo(length.metres(), within(1e-6));
            // nine digits as Java's own formatter rounds them: codes of data made before hang on every one
            assertThat(new BigDecimal(written.substring(0, written.indexOf(' '))))
                    .isEqualByComparingTo(String.format(Locale.ROOT, "%.9f", length.in(unit)));
        }
    }

    @Test
    void shownTexts_haveNoNeedlessDigits() {
        assertThat(Length.mm(1580).exactly(LengthUnit.METRE)).isEqualTo("1.58 m");
        assertThat(Length.mm(1000).exactly(LengthUnit.MILLIMETRE)).isEqualTo("1000 mm");
        assertThat(Length.mm(-1e-9).exactly(LengthUnit.METRE)).isEqualTo("0 m");
        assertThat(Length.mm(1580).as(LengthUnit.METRE, 3)).isEqualTo("1.580 m");
        assertThat(Length.mm(-0.2).as(LengthUnit.MILLIMETRE, 0)).isEqualTo("0 mm");
        assertThat(Length.mm(50)).hasToString("50 mm");
    }

    @Test
    void lengthsCompareBySize() {
        assertThat(Length.parse("1 in", LengthUnit.METRE).orThrow()).isGreaterThan(Length.mm(25.3));
        assertThat(Length.mm(-1)).isLessThan(Length.mm(0));
    }

    @Test
    void aLengthIsFinite() {
        assertThatThrownBy(() -> new Length(Double.NaN))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("metres is NaN; must be finite");
    }

    private static Parsed.Fault fault(String text) {
        return Length.parse(text, LengthUnit.MILLIMETRE)
                .fold(
                        length -> {
                            throw new AssertionError("read " + text + " as " + length);
                        },
                        fault -> fault);
    }

    private static final String ACCEPTED =
            "accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in.";

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "1,58m | 1 | ` If the comma is a decimal sign, write a point.`",
                "1.58 km | 5 | ` The units are mm, cm, m, in and ft.`",
                "1.58 m about | 7 | ` Nothing may follow the unit.`",
                "abc | 0 | ``",
                "62 3 in | 3 | ``",
                "62 9/8 in | 4 | ` The fraction after a whole number must be below one.`",
                "62 8/8 in | 4 | ` The fraction after a whole number must be below one.`",
                "62 3/0 in | 5 | ` Below the fraction bar belongs a whole number such as 8 or 16.`",
                "62 3/ in | 5 | ``",
                "5 ft 12 in | 5 | ` Inches after feet must be below 12.`",
                "5 ft 2 cm | 5 | ` After feet come inches.`",
                "5 m 20 cm | 4 | ` Nothing may follow the unit.`",
                "`` | 0 | ` A number is missing here.`",
                "- | 1 | ` A number is missing here.`",
                "99999999 m | 0 | ` That is longer than any field.`",
                "1.5.8 m | 3 | ` The units are mm, cm, m, in and ft.`",
                "1e5 | 1 | ` The units are mm, cm, m, in and ft.`",
                "٣ m | 0 | ``",
                "2023-06-02 | 4 | ` A spreadsheet seems to have made a date of it: set the column to the format Text, and"
                        + " type it again.`",
                "2-Jun | 1 | ` A spreadsheet seems to have made a date of it: set the column to the format Text, and"
                        + " type it again.`",
            })
    void fault_pointsAtTheFirstCharacterThatCannotBeRead(String text, int position, String mend) {
        Parsed.Fault fault = fault(text);
        assertThat(fault).hasToString("read \"" + text + "\"; " + ACCEPTED + mend);
        assertThat(fault.pointer()).isEqualTo(text + "\n" + " ".repeat(position) + "^");
        assertThat(fault.position()).isEqualTo(position);
    }

    @Test
    void fault_asAWholeText() {
        assertThat(fault("1,58m"))
                .hasToString("read \"1,58m\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, "
                        + "62-3/8\" or 5 ft 2 in. If the comma is a decimal sign, write a point.");
        assertThat(fault("1,58m").pointer()).isEqualTo("1,58m\n ^");
        assertThatThrownBy(() -> Length.parse("x", LengthUnit.METRE).orThrow())
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("read \"x\"; " + ACCEPTED);
    }

    @Test
    void anyText_isReadOrRefused_andThePositionLiesInIt() {
        SplittableRandom random = new SplittableRandom(7);
        String alphabet = "0123456789 ./-'\",mcinftx½″\u00a0";
        for (int i = 0; i < 20_000; i++) {
            StringBuilder text = new StringBuilder();
            for (int n = random.nextInt(12); n > 0; n--) {
                text.append(alphabet.charAt(random.nextInt(alphabet.length())));
            }
            Length.parse(text.toString(), LengthUnit.METRE)
                    .fold(
                            length -> assertThat(length.metres()).isBetween(-2e7, 2e7),
                            fault -> assertThat((double) fault.position()).isBetween(0.0, (double) text.length()));
        }
    }

    /** Java's own reading of decimals is the second route. */
    @Test
    void aNumber_isTheNearestDouble_howeverManyDigitsItHas() {
        SplittableRandom random = new SplittableRandom(11);
        for (int i = 0; i < 20_000; i++) {
            StringBuilder text = new StringBuilder();
            for (int n = random.nextInt(1, 6); n > 0; n--) {
                text.append(random.nextInt(10));
            }
            text.append('.');
            for (int n = random.nextInt(14); n > 0; n--) {
                text.append(random.nextInt(10));
            }
            assertThat(Length.parse(text.toString(), LengthUnit.METRE).orThrow().metres())
                    .isEqualTo(Double.parseDouble(text.toString()));
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"mm", "MM", "cm", "m", "metre", "meters", "in", "in.", "inch", "inches", "\"", "ft", "feet", "'"
            })
    void unitNames_areKnown(String name) {
        assertThat(LengthUnit.named(name)).isPresent();
    }

    @Test
    void otherUnits_areNot() {
        assertThat(LengthUnit.named("yd")).isEmpty();
        assertThat(LengthUnit.named("")).isEmpty();
        assertThat(LengthUnit.INCH.isInch() && LengthUnit.FOOT.isInch()).isTrue();
        assertThat(LengthUnit.METRE.isInch()).isFalse();
    }
}
