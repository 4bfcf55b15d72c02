package org.fairturn.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.ReferenceData;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class TapeClassTest {
    @Test
    void limits_matchOimlR35() {
        // OIML R 35-1:2007, clause 4: the coefficients from secondary sources that agree, the table computed from them
        List<CSVRecord> rows = ReferenceData.rows("table-tape-mpe-mm.csv");
        assertThat(rows).hasSize(12);
        for (CSVRecord row : rows) {
            Length length = Length.of(Double.parseDouble(row.get("length_m")), LengthUnit.METRE);
            for (TapeClass tape : TapeClass.values()) {
                double printed = Double.parseDouble(row.get("class_" + tape.name()));
                assertThat(tape.maximumPermissibleError(length).millimetres())
                        .as("class %s at %s", tape, length)
                        .isCloseTo(printed, within(1e-9));
            }
        }
    }

    @Test
    void aBegunMetre_countsAsAWholeOne() {
        // OIML R 35-1:2007, clause 4: 2.35 m counts as 3 m, 0.9 mm in class II
        assertThat(TapeClass.II.maximumPermissibleError(Length.mm(2350)).millimetres())
                .isCloseTo(0.9, within(1e-9));
        assertThat(TapeClass.II.maximumPermissibleError(Length.mm(0)).millimetres())
                .isCloseTo(0.3, within(1e-9));
    }

    @Test
    void wholeMetres_countAsThemselvesInWhateverUnitTheyWereRead() {
        for (int metres = 1; metres <= 300; metres++) {
            double limit = 0.3 + 0.2 * metres;
            for (String text : List.of(metres + " m", metres * 100 + " cm", metres * 1000 + " mm")) {
                Length length = Length.parse(text, LengthUnit.METRE).orThrow();
                assertThat(TapeClass.II.maximumPermissibleError(length).millimetres())
                        .as(text)
                        .isCloseTo(limit, within(1e-9));
            }
        }
    }

    @Test
    void aLengthBelowZero_hasNoLimit() {
        assertThatThrownBy(() -> TapeClass.I.maximumPermissibleError(Length.mm(-1)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("length is -1 mm; must be 0 or more");
    }
}
