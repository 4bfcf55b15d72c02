package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AngleTest {
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "52 | 52",
                "52.5° | 52.5",
                "52 deg | 52",
                "52 degrees | 52",
                "52° 30' | 52.5",
                "52°30′ | 52.5",
                "52 30' | 52.5",
                "-0° 30' | -0.5",
                "-12.25 | -12.25"
            })
    void everyWrittenForm_isRead(String text, double degrees) {
        assertThat(Angle.parse(text).orThrow().degrees()).isCloseTo(degrees, within(1e-12));
    }

    private static Parsed.Fault fault(String text) {
        return Angle.parse(text)
                .fold(
                        angle -> {
                            throw new AssertionError("read " + text + " as " + angle);
                        },
                        fault -> fault);
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "52,5° | 2 | ` If the comma is a decimal sign, write a point.`",
                "abc | 0 | ``",
                "`` | 0 | ``",
                "52 rad | 3 | ``",
                "52° 60' | 4 | ` Minutes of arc must be below 60.`",
            })
    void fault_asAWholeText(String text, int position, String mend) {
        assertThat(fault(text))
                .hasToString("read \"" + text
                        + "\"; accepted: an angle in degrees such as 52, 52.5°, 52 deg or 52° 30'." + mend);
        assertThat(fault(text).pointer()).isEqualTo(text + "\n" + " ".repeat(position) + "^");
    }

    @Test
    void minutesAlone_areNotTakenApartIntoDegreesAndMinutes() {
        // 45' was once read as 4° 5' and 5230' as 52° 30'
        assertThat(fault("45'").position()).isEqualTo(2);
        assertThat(fault("5230'").position()).isEqualTo(4);
    }

    @Test
    void shownAngles_readBack() {
        SplittableRandom random = new SplittableRandom(3);
        for (int i = 0; i < 2000; i++) {
            Angle angle = Angle.degrees(random.nextDouble(-360, 360));
            // shown to three decimals, so half of the last one
            assertThat(Angle.parse(angle.toString()).orThrow().degrees())
                    .as(angle.toString())
                    .isCloseTo(angle.degrees(), within(0.5e-3 + 1e-9));
        }
        assertThat(Angle.degrees(52)).hasToString("52°");
        assertThat(Angle.degrees(52.5).asDegrees(1)).isEqualTo("52.5°");
    }

    @Test
    void anAngleIsFinite() {
        assertThatThrownBy(() -> new Angle(Double.POSITIVE_INFINITY))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("radians is Infinity; must be finite");
    }
}
