package org.fairturn.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PressureTest {
    @ParameterizedTest
    @CsvSource({
        "150 kPa, 150",
        "1.5 bar, 150",
        "1.5BAR, 150",
        "22 psi, 151.6847",
        "10. psi, 68.94757",
        "0.1 bar, 10",
        "7 bar, 700"
    })
    void reads_whatPeopleWrite(String text, double kilopascals) {
        // NIST SP 811:2008, appendix B.8: 1 psi = 6.894 757 kPa, 1 bar = 100 kPa; half a unit of the last digit
        assertThat(Pressure.parse(text).orThrow().kilopascals()).isCloseTo(kilopascals, within(5e-5));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "22",
                "hard",
                "-1 bar",
                "1.5 m",
                "8 bar",
                "0 psi",
                "9 kPa",
                "NaN bar",
                "1.5 bar cold",
                "1e1 psi"
            })
    void refuses_whatIsNoTyrePressure(String text) {
        assertThat(Pressure.parse(text).fold(pressure -> "read as " + pressure, Parsed.Fault::toString))
                .isEqualTo("read \"" + text
                        + "\"; accepted: a tyre pressure from 0.1 bar to 7 bar with its unit, such as 22"
                        + " psi, 1.5 bar or 150 kPa. Check the number and its unit.");
    }

    @Test
    void comma_isPointedAt() {
        Parsed.Fault fault = Pressure.parse("1,5 bar").fold(read -> null, f -> f);
        assertThat(fault.position()).isEqualTo(1);
        assertThat(fault.mend()).isEqualTo("If the comma is a decimal sign, write a point.");
        assertThat(Pressure.parse(",5 bar").<String>fold(read -> "read", Parsed.Fault::mend))
                .isEqualTo(fault.mend());
    }

    @ParameterizedTest
    @ValueSource(doubles = {9.999, 700.001, -150, Double.NaN, Double.POSITIVE_INFINITY})
    void aPressureOutsideWhatTyresHold_isNone(double kilopascals) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> new Pressure(kilopascals))
                .withMessage("kilopascals is " + kilopascals + "; must be in [10, 700]");
    }

    @Test
    void isShownInBothUnits_theTrialsFirst() {
        Pressure pressure = Pressure.parse("22 psi").orThrow();
        assertThat(pressure.beside(LengthUnit.INCH)).isEqualTo("22 psi (1.52 bar)");
        assertThat(pressure.beside(LengthUnit.MILLIMETRE)).isEqualTo("1.52 bar (22 psi)");
    }
}
