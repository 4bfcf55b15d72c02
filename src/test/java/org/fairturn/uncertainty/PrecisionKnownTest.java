package org.fairturn.uncertainty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** How well repeatability and reproducibility are known. */
class PrecisionKnownTest {
    private static Interlaboratory level(SplittableRandom random, int laboratories, int n, double sL, double sR) {
        Map<String, List<Double>> values = new LinkedHashMap<>();
        for (int i = 0; i < laboratories; i++) {
            double own = sL * normal(random);
            List<Double> found = new ArrayList<>();
            for (int j = 0; j < n; j++) {
                found.add(own + sR * normal(random));
            }
            values.put("L" + i, found);
        }
        return Interlaboratory.of(values);
    }

    private static double normal(SplittableRandom random) {
        return Quantiles.normal(random.nextDouble(1e-12, 1));
    }

    @Test
    void repeatability_hasTheIntervalOfChiSquared() {
        // two laboratories of six: ν = 10, χ² of 0.025 and 0.975 are 3.247 and 20.483 in any table, from memory
        Interlaboratory level = level(new SplittableRandom(1), 2, 6, 0, 1);
        Interlaboratory.Known known =
                Interlaboratory.known(List.of(level), 1, 0.95).orElseThrow();
        double s = level.precision().repeatability().orElseThrow();
        assertThat(known.repeatability().value()).isEqualTo(s);
        assertThat(known.repeatabilityDegrees()).isEqualTo(10);
        assertThat(known.repeatability().low() / s).isCloseTo(Math.sqrt(10 / 20.483), within(1e-4));
        assertThat(known.repeatability().high() / s).isCloseTo(Math.sqrt(10 / 3.247), within(1e-4));
        assertThat(known.repeatability().standardUncertainty() / s).isCloseTo(1 / Math.sqrt(20), within(1e-12));
    }

    @Test
    void reproducibility_ofASingleValueEach_isThatOfTheDaysAlone_andEmptyWithoutReplicates() {
        Map<String, List<Double>> single = Map.of("a", List.of(1.0), "b", List.of(2.0), "c", List.of(4.0));
        assertThat(Interlaboratory.known(List.of(Interlaboratory.of(single)), 2, 0.95))
                .isEqualTo(Optional.empty());
        // where replicates hardly scatter, s_R has the interval of χ² with two degrees of freedom: 0.0506 and 7.378 in
        // any
        // table, from memory
        Map<String, List<Double>> tight =
                Map.of("a", List.of(1.0, 1.0001), "b", List.of(2.0, 2.0001), "c", List.of(4.0, 4.0001));
        Estimate s = Interlaboratory.known(List.of(Interlaboratory.of(tight)), 2, 0.95)
                .orElseThrow()
                .reproducibility();
        assertThat(s.low() / s.value()).isCloseTo(Math.sqrt(2 / 7.378), within(1e-3));
        assertThat(s.high() / s.value()).isCloseTo(Math.sqrt(2 / 0.0506), within(5e-3));
    }

    /** 400 sets of days each: the 95 % interval of s_R holds the truth about as often as it says. */
    @Test
    void reproducibility_isCoveredAsOftenAsClaimed() {
        for (double between : new double[] {0, 0.5, 1, 3}) {
            for (int days : new int[] {3, 6}) {
                SplittableRandom random = new SplittableRandom(days);
                double truth = Math.hypot(between, 1);
                int held = 0;
                for (int i = 0; i < 400; i++) {
                    Estimate s = Interlaboratory.known(List.of(level(random, days, 3, between, 1)), days - 1, 0.95)
                            .orElseThrow()
                            .reproducibility();
                    held += s.low() <= truth && truth <= s.high() ? 1 : 0;
                }
                // three standard deviations of a count of 400 at 95 % are 3.3 %
                assertThat(held / 400.0)
                        .as("s_L " + between + ", " + days + " days")
                        .isBetween(0.917, 1.0);
            }
        }
    }
}
