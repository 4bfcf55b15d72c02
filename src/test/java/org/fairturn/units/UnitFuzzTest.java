package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.List;
import org.fairturn.Fuzzing;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;

/** Whatever stands in a cell is a value that can be written and read again, or a fault that says where and what instead. */
class UnitFuzzTest {
    @Test
    void lengths() {
        Fuzzing.texts(
                "lengths",
                UnitTargets::lengths,
                List.of(
                        "mm", "cm", "m", "in", "ft", "feet", "inches", "\"", "'", "''", "″", "5", "2", "3/8", "-", "½",
                        "12"),
                List.of(
                        "1.58 m",
                        "158 cm",
                        "1580 mm",
                        "62 in",
                        "62 3/8 in",
                        "62-3/8\"",
                        "5 ft 2 in",
                        "5' 2 3/8\"",
                        "62 ⅜",
                        "-3/4 in"));
    }

    @Test
    void anglesBearingsSpeedsPressures() {
        Fuzzing.texts(
                "angles",
                UnitTargets::others,
                List.of(
                        "°", "deg", "degrees", "'", "o'clock", "h", "km/h", "mph", "psi", "bar", "kPa", "12", "360",
                        "59.9", "   "),
                List.of(
                        "52",
                        "52.5°",
                        "52 deg",
                        "52° 30'",
                        "3 o'clock",
                        "45°",
                        "5 km/h",
                        "3 mph",
                        "22 psi",
                        "1.5 bar",
                        "150 kPa"));
    }

    @Test
    void aCellAMillionLettersLong_isAnsweredAtOnce() {
        for (String piece : List.of(" ", "5", ".", "5 ", "° ", "'", "½", "-", "/", "x", " h", "\u00a0")) {
            for (String lead : List.of("", "52", "52°", "3", "5 ft", "5 km")) {
                byte[] cell = (lead + piece.repeat(1_000_000 / piece.length()) + "x")
                        .getBytes(java.nio.charset.StandardCharsets.UTF_8);
                Assertions.assertTimeoutPreemptively(
                        Duration.ofSeconds(30),
                        () -> {
                            assertThat(UnitTargets.lengths(cell)).isFalse();
                            assertThat(UnitTargets.others(cell)).isFalse();
                        },
                        () -> "\"" + lead + "\" and many \"" + piece + "\"");
            }
        }
    }
}
