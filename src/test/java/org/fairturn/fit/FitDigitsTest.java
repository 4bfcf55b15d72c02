package org.fairturn.fit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.fairturn.ReferenceData;
import org.fairturn.ReferenceData.Exact;
import org.junit.jupiter.api.Test;

/** Against values worked out at 50 digits: testdata/reference/fifty-digits. */
class FitDigitsTest {
    private static final double RELATIVE = 1e-10;

    private static List<Exact> exact(String function) {
        return ReferenceData.exact("fifty-digits/fit.csv", function);
    }

    private static void agrees(TapeDiameter found, Exact row) {
        assertThat(found.diameter()).as(row.toString()).isCloseTo(row.value(0), within(RELATIVE * row.value(0)));
        for (int i = 1; i < row.values(); i++) {
            double largest =
                    Math.max(1, Math.abs(row.value(i))); // a sensitivity of 1 moves the diameter by all of the length
            assertThat(found.sensitivity(i - 1)).as(row.toString()).isCloseTo(row.value(i), within(RELATIVE * largest));
        }
    }

    @Test
    void tapeDiameters_agreeAtFiftyDigits() {
        exact("chordAndRise").forEach(row -> agrees(TapeDiameter.chordAndRise(row.argument(0), row.argument(1)), row));
        exact("threeStakes")
                .forEach(row ->
                        agrees(TapeDiameter.threeStakes(row.argument(0), row.argument(1), row.argument(2)), row));
    }

    private static double[] coordinates(Exact row, int first) {
        double[] all = new double[row.arguments() / 2];
        for (int i = 0; i < all.length; i++) {
            all[i] = row.argument(2 * i + first);
        }
        return all;
    }

    private static void agrees(CircleFit.Outcome outcome, Exact row, double relative) {
        CircleFit.Outcome.Fitted found = outcome.fold(f -> f, none -> {
            throw new AssertionError(none.reason());
        });
        double farthest = Math.max(Math.hypot(row.value(0), row.value(1)), row.value(2));
        assertThat(found.radius()).as(row.toString()).isCloseTo(row.value(2), within(relative * row.value(2)));
        assertThat(found.centreX()).as(row.toString()).isCloseTo(row.value(0), within(relative * farthest));
        assertThat(found.centreY()).as(row.toString()).isCloseTo(row.value(1), within(relative * farthest));
        if (row.values() > 3) {
            assertThat(found.rmsDistance()).as(row.toString()).isCloseTo(row.value(3), within(relative * row.value(2)));
        }
    }

    @Test
    void circleFits_agreeAtFiftyDigits() {
        exact("linear")
                .forEach(row -> agrees(CircleFit.linear(coordinates(row, 0), coordinates(row, 1)), row, RELATIVE));
        exact("geometric")
                .forEach(row -> agrees(CircleFit.geometric(coordinates(row, 0), coordinates(row, 1)), row, RELATIVE));
    }
}
