package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SpeedTest {
    @ParameterizedTest
    @CsvSource({"5 km/h, 5", "5km/h, 5", "4.5 KM/H, 4.5", "5 kph, 5", "5. kmh, 5", "3 mph, 4.828032", "3 mi/h, 4.828032"
    })
    void reads_whatPeopleWrite(String text, double kilometresPerHour) {
        // the international mile is 1609.344 m by definition
        assertThat(Speed.parse(text).orThrow().metresPerSecond()).isCloseTo(kilometresPerHour / 3.6, within(1e-12));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"", "5", "fast", "-5 km/h", "5 m", "5 km", "1000 km/h", "km/h", "5 km/h uphill", "NaN km/h"})
    void refuses_whatIsNoSpeed(String text) {
        assertThat(Speed.parse(text).<String>fold(speed -> "read as " + speed, Parsed.Fault::accepted))
                .isEqualTo("a speed with its unit such as 5 km/h or 3 mph");
    }

    @Test
    void faults_pointAtTheirCharacter() {
        assertThat(fault("4,5 km/h").toString())
                .isEqualTo(
                        "read \"4,5 km/h\"; accepted: a speed with its unit such as 5 km/h or 3 mph. If the comma is a"
                                + " decimal sign, write a point.");
        assertThat(fault("4,5 km/h").position()).isEqualTo(1);
        assertThat(fault("0 mph").mend()).isEqualTo("A speed is above 0.");
    }

    private static Parsed.Fault fault(String text) {
        return Speed.parse(text)
                .fold(
                        speed -> {
                            throw new AssertionError(speed);
                        },
                        f -> f);
    }

    @Test
    void isShownInBothUnits_andReadBack() {
        Speed speed = Speed.kilometresPerHour(5);
        assertThat(speed.asKilometresPerHour()).isEqualTo("5.0 km/h");
        assertThat(speed.asMilesPerHour()).isEqualTo("3.1 mph");
        assertThat(Speed.parse(speed.asKilometresPerHour()).orThrow()).isEqualTo(speed);
        assertThatIllegalArgumentException().isThrownBy(() -> new Speed(Double.NaN));
        assertThatIllegalArgumentException().isThrownBy(() -> new Speed(0));
        assertThatIllegalArgumentException().isThrownBy(() -> new Speed(Double.POSITIVE_INFINITY));
    }
}
