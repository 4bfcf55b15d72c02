package org.fairturn.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.function.ToDoubleFunction;
import org.fairturn.ReferenceData;
import org.junit.jupiter.api.Test;

class TapeDiameterTest {
    @Test
    void chordAndRise_matchesMachinerysHandbook() {
        // Machinery's Handbook, "Segments of circles", from memory, recomputed: c = 16 in, h = 6 in gives d = 16
        // 2/3 in; r = 60 in, h = 8 in gives c = 59.8665 in (printed 59.86, cut off).
        assertThat(TapeDiameter.chordAndRise(16, 6).diameter()).isCloseTo(50.0 / 3, within(1e-12));
        assertThat(TapeDiameter.chordAndRise(59.8665, 8).diameter()).isCloseTo(120, within(4e-4));
        // Public formula sheets: c = 8, h = 1 gives r = 8.5; r = 10, c = 12 gives h = 2 or, past the middle, 18.
        assertThat(TapeDiameter.chordAndRise(8, 1).diameter()).isEqualTo(17);
        assertThat(TapeDiameter.chordAndRise(12, 2).diameter()).isEqualTo(20);
        assertThat(TapeDiameter.chordAndRise(12, 18).diameter()).isEqualTo(20);
    }

    @Test
    void chordAndRise_matchesTheTableOfSegmentsOfTheUnitCircle() {
        // Table of segments for radius 1, heights and chords to six decimals (recomputed; the 60° row agrees with
        // the handbook's 0.13397 and 1.00000). The tolerance is half a unit of the last digit carried through
        // dD/dc and dD/dh.
        int rows = 0;
        for (var row : ReferenceData.rows("table-unit-circle-segments.csv")) {
            double c = Double.parseDouble(row.get("chord"));
            double h = Double.parseDouble(row.get("height"));
            if (h < 0.003) {
                continue; // six decimals of so small a height hold too few figures
            }
            var d = TapeDiameter.chordAndRise(c, h);
            double lastDigit = 0.5e-6 * (Math.abs(d.sensitivity(0)) + Math.abs(d.sensitivity(1)));
            assertThat(d.diameter()).as("angle %s", row.get("angle_deg")).isCloseTo(2, within(lastDigit + 1e-9));
            rows++;
        }
        assertThat(rows).isGreaterThan(10);
    }

    @Test
    void chordAndRise_sensitivities_matchPublishedFormulae() {
        // For the radius dr/dc = c/(4h) = 2 and dr/dh = 1/2 - c²/(8h²) = -7.5 at c = 8, h = 1 (recomputed); for D
        // twice that.
        var d = TapeDiameter.chordAndRise(8, 1);
        assertThat(d.sensitivity(0)).isEqualTo(4);
        assertThat(d.sensitivity(1)).isEqualTo(-15);
        assertThat(d.varianceFactor()).isEqualTo(16 + 225);
    }

    @Test
    void threeStakes_matchesCircumcirclesWorkedByHand() {
        // Elementary geometry: 3-4-5 has R = 2.5; 13-14-15 has R = 65/8; sides √17, √65, √20 … of (1,7)(5,8)(9,5)
        // R = 5.3125.
        assertThat(TapeDiameter.threeStakes(3, 4, 5).diameter()).isCloseTo(5, within(1e-14));
        assertThat(TapeDiameter.threeStakes(15, 13, 14).diameter()).isCloseTo(65.0 / 4, within(1e-13));
        assertThat(TapeDiameter.threeStakes(Math.hypot(4, 1), Math.hypot(4, 3), Math.hypot(8, 2))
                        .diameter())
                .isCloseTo(10.625, within(1e-12));
    }

    @Test
    void stakesOnALine_areRefused() {
        assertThatThrownBy(() -> TapeDiameter.threeStakes(1, 2, 3))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("stakes 1.0, 2.0 and 3.0 m apart form no triangle; "
                        + "each distance must be shorter than the other two together");
        assertThatThrownBy(() -> TapeDiameter.chordAndRise(1, -0.02))
                .hasMessage("rise is -0.02 m; must be in (0, ∞) m");
    }

    @Test
    void across_addsWhatAMissedCentreTakesAway() {
        // Second route: the mean of √(D² - 4p²) over p ~ N(0, 25 mm), by summing over its distribution.
        double diameter = 1.6;
        double miss = 0.025;
        double sum = 0;
        double weights = 0;
        for (double z = -6; z <= 6; z += 0.001) {
            double w = Math.exp(-z * z / 2);
            sum += w * Math.sqrt(diameter * diameter - 4 * z * z * miss * miss);
            weights += w;
        }
        assertThat(TapeDiameter.across(sum / weights, miss).diameter()).isCloseTo(diameter, within(2e-6));
        assertThat(TapeDiameter.across(1.6, 0).diameter()).isEqualTo(1.6);
    }

    @Test
    void sensitivities_areTheSlopesOfTheDiameter() {
        var random = new SplittableRandom(7);
        for (int trial = 0; trial < 300; trial++) {
            double c = 0.5 + random.nextDouble();
            double h = 0.05 + random.nextDouble();
            assertSlope(v -> TapeDiameter.chordAndRise(v[0], v[1]).diameter(), TapeDiameter.chordAndRise(c, h), c, h);
            double a = 0.6 + random.nextDouble();
            double b = 0.6 + random.nextDouble();
            double third = Math.abs(a - b) + 0.1 + (a + b - Math.abs(a - b) - 0.2) * random.nextDouble();
            assertSlope(
                    v -> TapeDiameter.threeStakes(v[0], v[1], v[2]).diameter(),
                    TapeDiameter.threeStakes(a, b, third),
                    a,
                    b,
                    third);
            assertSlope(v -> TapeDiameter.across(v[0], 0.025).diameter(), TapeDiameter.across(a, 0.025), a);
        }
    }

    private static void assertSlope(ToDoubleFunction<double[]> diameter, TapeDiameter at, double... lengths) {
        double homogeneous = 0;
        for (int i = 0; i < lengths.length; i++) {
            double step = 1e-6 * lengths[i];
            double[] up = lengths.clone();
            double[] down = lengths.clone();
            up[i] += step;
            down[i] -= step;
            double slope = (diameter.applyAsDouble(up) - diameter.applyAsDouble(down)) / (2 * step);
            assertThat(at.sensitivity(i)).isCloseTo(slope, within(1e-5 * Math.max(1, Math.abs(slope))));
            homogeneous += at.sensitivity(i) * lengths[i];
        }
        if (lengths.length > 1) {
            // twice the lengths make twice the circle (Euler's theorem on homogeneous functions)
            assertThat(homogeneous).isCloseTo(at.diameter(), within(1e-9 * at.diameter()));
        }
    }

    @Test
    void lengthsWithoutASize_areRefused() {
        for (double length : new double[] {0, -1, Double.POSITIVE_INFINITY, Double.NaN}) {
            assertThatThrownBy(() -> TapeDiameter.across(length, 0.01))
                    .hasMessage("chord is " + length + " m; must be in (0, ∞) m");
            assertThatThrownBy(() -> TapeDiameter.chordAndRise(1, length))
                    .hasMessage("rise is " + length + " m; must be in (0, ∞) m");
        }
    }
}
