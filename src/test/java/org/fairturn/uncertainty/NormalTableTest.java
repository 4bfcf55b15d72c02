package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.numbers.gamma.Erfc;
import org.junit.jupiter.api.Test;

class NormalTableTest {
    @Test
    void agreesWithErfc_betweenItsPointsAndBeyondThem() {
        // the step is no multiple of the table's, so that every place between two points comes up; 39 is where a double
        // ends
        for (double z = -39; z <= 39; z += 0.00137) {
            double expected = Erfc.value(-z / Math.sqrt(2)) / 2; // Apache Commons Numbers 1.2
            // nine terms leave 3e-14; where erfc itself takes over, its argument is rounded
            assertThat(NormalTable.below(z)).as("z = %s", z).isCloseTo(expected, within(1e-13 * expected));
        }
    }

    @Test
    void tailsOfBothSidesAddUp_andWhatIsNoNumberStaysNone() {
        for (double z : new double[] {0, 1e-300, 0.5, 1.0 / 64, 7.999999, 8, 8.000001, 40, Double.POSITIVE_INFINITY}) {
            assertThat(NormalTable.below(z) + NormalTable.below(-z)).isEqualTo(1);
        }
        assertThat(NormalTable.below(0)).isEqualTo(0.5);
        assertThat(NormalTable.below(Double.NEGATIVE_INFINITY)).isEqualTo(0);
        assertThat(NormalTable.below(Double.NaN)).isNaN();
    }
}
