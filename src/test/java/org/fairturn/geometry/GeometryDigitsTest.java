package org.fairturn.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.IntStream;
import org.fairturn.ReferenceData;
import org.fairturn.ReferenceData.Exact;
import org.junit.jupiter.api.Test;

/** Against values worked out at 50 digits: testdata/reference/fifty-digits. */
class GeometryDigitsTest {
    private static final double RELATIVE = 1e-10;

    private static List<Exact> exact(String function) {
        return ReferenceData.exact("fifty-digits/geometry.csv", function);
    }

    private static void agrees(double found, double exact, Exact row) {
        assertThat(found).as(row.toString()).isCloseTo(exact, within(RELATIVE * Math.abs(exact)));
    }

    @Test
    void ackermann_agreesAtFiftyDigits() {
        for (Exact row : exact("ackermann")) {
            Ackermann steering = new Ackermann(row.argument(0), row.argument(1));
            double lock = row.argument(2);
            // near a right angle the two terms of R cancel: of the larger of them a double keeps 16 digits
            assertThat(steering.turnRadius(lock)).as(row.toString()).isCloseTo(row.value(0), within(1e-14 * 1100));
            assertThat(steering.turnRadiusByOuter(lock))
                    .as(row.toString())
                    .isCloseTo(row.value(1), within(1e-14 * 1100));
            agrees(steering.slope(lock), row.value(2), row);
        }
        for (Exact row : exact("locks")) {
            Ackermann steering = new Ackermann(row.argument(0), row.argument(1));
            agrees(steering.innerLock(row.argument(2)), row.value(0), row);
            agrees(steering.outerLock(row.argument(2)), row.value(1), row);
            agrees(steering.pathRatio(row.argument(2)), row.value(2), row);
        }
    }

    @Test
    void turningCircle_agreesAtFiftyDigits_bothWays() {
        for (Exact row : exact("turningCircle")) {
            TurningCircle circle = new TurningCircle(row.argument(0), row.argument(1));
            agrees(circle.diameter(row.argument(2)), row.value(0), row);
            // back again the root of two squares that nearly cancel, where the turn is tight against the wheelbase,
            // keeps
            // fewer digits of R, but none that a nanometre would miss
            assertThat(circle.turnRadius(row.value(0)).orElseThrow())
                    .as(row.toString())
                    .isCloseTo(row.argument(2), within(1e-9));
        }
    }

    private static Deck deck(Exact row) {
        double[] a = row.arguments(3, row.arguments());
        return new Deck(
                IntStream.range(0, a.length / 3)
                        .mapToObj(i -> new BladeDisc(a[3 * i], a[3 * i + 1], a[3 * i + 2]))
                        .toList(),
                row.argument(0));
    }

    @Test
    void deck_agreesAtFiftyDigits_bothWays() {
        for (Exact row : exact("uncut")) {
            agrees(deck(row).uncutDiameter(row.argument(1), (int) row.argument(2)), row.value(0), row);
        }
        for (Exact row : exact("radius")) {
            agrees(deck(row).turnRadius(row.argument(1), (int) row.argument(2)).orElseThrow(), row.value(0), row);
        }
    }
}
