package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EchoTest {
    /** Worked out by hand: 1580 ÷ 25.4 = 62.205, nearest eighth 62 2/8; 62.375 × 25.4 = 1584.325; 2.5 × 25.4 = 63.5. */
    @ParameterizedTest
    @CsvSource({
        "1.58 m,1.58 m (62 1/4 in)",
        "158 cm,158 cm (62 1/4 in)",
        "5 ft 2 3/8 in,5 ft 2 3/8 in (1.584 m)",
        "2 1/2 in,2 1/2 in (0.064 m)",
        "1610,1610 mm (63 3/8 in)",
        "3 mm,3 mm (1/8 in)",
        "1 mm,1 mm (0 in)",
    })
    void aLengthIsToldBack_asTyped_andInTheOtherUnits(String typed, String told) {
        assertThat(Echo.of(typed, LengthUnit.MILLIMETRE).orThrow()).isEqualTo(told);
    }

    @Test
    void aBareNumber_isOfTheTrialsUnit() {
        assertThat(Echo.of(" 76 1/2 ", LengthUnit.INCH).orThrow()).isEqualTo("76 1/2 in (1.943 m)");
    }
}
