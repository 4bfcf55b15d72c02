package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class BearingTest {
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "12 | 0",
                "3 | 90",
                "3 o'clock | 90",
                "3 O’Clock | 90",
                "11h | 330",
                "45° | 45",
                "45 | 45",
                "0 | 0",
                "360 | 0",
                "3° | 3"
            })
    void clockPositionsAndDegrees_areRead(String text, double degrees) {
        assertThat(Bearing.parse(text).orThrow().clockwise().degrees()).isCloseTo(degrees, within(1e-12));
    }

    @Test
    void everyHourAndDegree_readsBackAsShown() {
        for (int degree = 0; degree < 360; degree++) {
            Bearing bearing = new Bearing(Angle.degrees(degree));
            assertThat(Bearing.parse(bearing.toString()).orThrow().clockwise().degrees())
                    .as(bearing.toString())
                    .isCloseTo(degree, within(1e-9));
        }
        assertThat(new Bearing(Angle.degrees(0))).hasToString("12 o'clock");
        assertThat(new Bearing(Angle.degrees(90))).hasToString("3 o'clock");
        assertThat(new Bearing(Angle.degrees(45))).hasToString("45°");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "13 o'clock | 0 | ` A clock has the hours 1 to 12.`",
                "400 | 0 | ` Degrees run from 0 to 360.`",
                "-10° | 0 | ` Degrees run from 0 to 360.`",
                "north | 0 | ``",
                "22,5° | 2 | ` If the comma is a decimal sign, write a point.`",
            })
    void fault_asAWholeText(String text, int position, String mend) {
        Parsed.Fault fault = Bearing.parse(text)
                .fold(
                        bearing -> {
                            throw new AssertionError("read " + text + " as " + bearing);
                        },
                        found -> found);
        assertThat(fault)
                .hasToString(
                        "read \"" + text + "\"; accepted: a clock position 1 to 12 or degrees such as 45°." + mend);
        assertThat(fault.pointer()).isEqualTo(text + "\n" + " ".repeat(position) + "^");
    }

    @Test
    void aBearingIsWithinOneTurn() {
        assertThatThrownBy(() -> new Bearing(Angle.degrees(-1)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("clockwise is -1°; must be in [0°, 360°)");
        assertThatThrownBy(() -> new Bearing(new Angle(2 * Math.PI)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("clockwise is 360°; must be in [0°, 360°)");
    }
}
