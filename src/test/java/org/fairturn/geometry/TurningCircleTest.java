package org.fairturn.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class TurningCircleTest {
    /** By the triangle 3, 4, 5. */
    @Test
    void diameter_ofARightAngle() {
        assertThat(new TurningCircle(3, 2).diameter(3)).isCloseTo(10, within(1e-12));
    }

    @Test
    void turnRadius_isTheInverse() {
        for (double r = 0; r < 5; r += 0.37) {
            TurningCircle circle = new TurningCircle(1.45, 0.95);
            assertThat(circle.turnRadius(circle.diameter(r)).orElseThrow()).isCloseTo(r, within(1e-12));
        }
    }

    @Test
    void aCircleSmallerThanTheMachineTurnsOn_hasNoRadius() {
        TurningCircle circle = new TurningCircle(1.45, 0.95);
        assertThat(circle.turnRadius(circle.diameter(0) - 1e-6)).isEmpty();
        assertThat(circle.turnRadius(1)).isEmpty();
    }
}
