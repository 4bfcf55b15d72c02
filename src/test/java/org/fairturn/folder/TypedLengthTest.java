package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class TypedLengthTest {
    private static String refused(TypedLength kind, String text) {
        return kind.read(text, LengthUnit.MILLIMETRE).fold(length -> "read as " + length, fault -> fault.toString());
    }

    @Test
    void lengthsAreReadAsInAFolder() {
        assertThat(TypedLength.PRACTICAL_MARGIN
                        .read("2 in", LengthUnit.MILLIMETRE)
                        .orThrow())
                .isEqualTo(Length.inches(2));
        assertThat(TypedLength.DECK_OFFSET.read("-12", LengthUnit.MILLIMETRE).orThrow())
                .isEqualTo(Length.mm(-12));
    }

    @Test
    void theyAreRefusedAsInAFolder() {
        assertThat(refused(TypedLength.DECK_OFFSET, "1.2 m"))
                .isEqualTo("read \"1.2 m\"; accepted: a deck offset from -1 m to 1 m. Check the number and its unit.");
        assertThat(refused(TypedLength.PRACTICAL_MARGIN, "0"))
                .isEqualTo(
                        "read \"0\"; accepted: a practical margin from 0.1 mm to 10 m. A number without a unit is read as"
                                + " mm here; write the unit with it if it is another.");
        assertThat(refused(TypedLength.CIRCLE_REPEATABILITY, "1,5 mm"))
                .isEqualTo(
                        "read \"1,5 mm\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or"
                                + " 5 ft 2 in. If the comma is a decimal sign, write a point.");
    }
}
