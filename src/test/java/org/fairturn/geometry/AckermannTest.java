package org.fairturn.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AckermannTest {
    @ParameterizedTest
    @CsvSource({ // constructed examples, recomputed independently; no published one was seen
        "2.5, 1.5, 10, 15.124007, 13.091893",
        "1.6, 1.0, 2.5, 38.659808, 28.072487",
        "1.4, 0.9, 2.2, 38.659808, 27.847578",
        "1.5, 1.0, 1.550311, 55, 36.189061"
    })
    void lockAngles_followFromTheTurnRadius(double wheelbase, double track, double radius, double inner, double outer) {
        Ackermann steering = new Ackermann(wheelbase, track);
        assertThat(Math.toDegrees(steering.innerLock(radius))).isCloseTo(inner, within(2e-5));
        assertThat(Math.toDegrees(steering.outerLock(radius))).isCloseTo(outer, within(2e-5));
        assertThat(steering.turnRadius(Math.toRadians(inner))).isCloseTo(radius, within(1e-6));
        // Ackermann's condition itself: cot(outer) - cot(inner) = t/L
        double difference = 1 / Math.tan(steering.outerLock(radius)) - 1 / Math.tan(steering.innerLock(radius));
        assertThat(difference).isCloseTo(track / wheelbase, within(1e-12));
    }

    @Test
    void bicycleModel_matchesAPublishedDefault() {
        // Wheelbase 2.8 m at 35° gives 4 m in a vendor's path-planning default (secondary); 3.998814 m recomputed.
        assertThat(new Ackermann(2.8, 0).turnRadius(Math.toRadians(35))).isCloseTo(3.998814, within(5e-7));
    }

    @Test
    void anglesOutsideTheQuadrant_areRefused() {
        assertThatThrownBy(() -> new Ackermann(1.6, 1).turnRadius(Math.PI / 2))
                .hasMessage("inner lock angle is " + Math.PI / 2 + " rad; must be in (0, π/2) rad");
        assertThatThrownBy(() -> new Ackermann(Double.NaN, 1)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void slope_isThatOfTheRadius() {
        Ackermann steering = new Ackermann(1.5, 0.96);
        double lock = Math.toRadians(58);
        double step = 1e-5;
        double byHand = (steering.turnRadius(lock + step) - steering.turnRadius(lock - step)) / (2 * step);
        assertThat(steering.slope(lock))
                .isCloseTo(byHand, within(1e-7)); // a central difference, good to its step squared
        assertThatThrownBy(() -> steering.slope(0)).hasMessage("lock angle is 0.0 rad; must be in (0, π/2) rad");
    }

    @Test
    void pathRatio_isOneOverTheCosineOfTheMiddleWheelsAngle() {
        Ackermann steering = new Ackermann(1.5, 0.96);
        double middle = Math.atan(1.5 / 1.4);
        assertThat(steering.pathRatio(1.4)).isCloseTo(1 / Math.cos(middle), within(1e-12));
        assertThatThrownBy(() -> steering.pathRatio(0)).hasMessage("turn radius is 0.0 m; must be in (0, ∞) m");
    }

    /** Every interval, at its very ends. */
    @Test
    void limits_areWhereTheDocumentationPutsThem() {
        double infinite = Double.POSITIVE_INFINITY;
        for (double[] refused : new double[][] {{0, 1}, {infinite, 1}, {1, -1e-300}, {1, infinite}, {Double.NaN, 1}}) {
            assertThatThrownBy(() -> new Ackermann(refused[0], refused[1])).hasMessageContaining("must be in (0, ∞) m");
        }
        Ackermann steering = new Ackermann(1.5, 0);
        for (double lock : new double[] {0, Math.PI / 2, Double.NaN}) {
            assertThatThrownBy(() -> steering.turnRadius(lock)).hasMessageContaining("(0, π/2)");
            assertThatThrownBy(() -> steering.slope(lock)).hasMessageContaining("(0, π/2)");
        }
        for (double radius : new double[] {0, infinite}) {
            assertThatThrownBy(() -> steering.pathRatio(radius)).hasMessageContaining("(0, ∞)");
        }
    }
}
