package org.fairturn.chart;

import java.util.OptionalDouble;

/**
 * The difference between right and left taken apart: measured = lock angles + deck + stops + remainder, all as D right − D left.
 *
 * @param subject whose difference, such as {@code Alder 22, 2WD}
 * @param measured the measured difference (m), finite
 * @param measuredUncertainty half-width of its interval (m), in [0, ∞)
 * @param lockAngles what the designed lock angles explain (m), where they are known
 * @param deck what the deck offset explains (m), finite
 * @param deckHalf half-width of that part's interval (m), in [0, ∞)
 * @param stops what steering stops off their specification explain (m), where that is known
 * @param stopsHalf half-width of that part's interval (m), in [0, ∞)
 * @param remainder what is left unexplained (m), finite
 * @param low lower end of the remainder's interval (m), in (−∞, high]
 * @param high upper end of the remainder's interval (m)
 */
public record Decomposition(
        String subject,
        double measured,
        double measuredUncertainty,
        OptionalDouble lockAngles,
        double deck,
        double deckHalf,
        OptionalDouble stops,
        double stopsHalf,
        double remainder,
        double low,
        double high) {
    /**
     * Checks what it is given.
     *
     * @param subject whose difference, such as {@code Alder 22, 2WD}
     * @param measured the measured difference (m), finite
     * @param measuredUncertainty half-width of its interval (m), in [0, ∞)
     * @param lockAngles what the designed lock angles explain (m), where they are known
     * @param deck what the deck offset explains (m), finite
     * @param deckHalf half-width of that part's interval (m), in [0, ∞)
     * @param stops what steering stops off their specification explain (m), where that is known
     * @param stopsHalf half-width of that part's interval (m), in [0, ∞)
     * @param remainder what is left unexplained (m), finite
     * @param low lower end of the remainder's interval (m), in (−∞, high]
     * @param high upper end of the remainder's interval (m)
     * @throws IllegalArgumentException if a number is not finite, an uncertainty below 0 or the interval upside down
     */
    public Decomposition {
        Shown.finite(measured, "measured");
        Shown.notNegative(measuredUncertainty, "measuredUncertainty");
        lockAngles.ifPresent(value -> Shown.finite(value, "lockAngles"));
        Shown.finite(deck, "deck");
        Shown.notNegative(deckHalf, "deckHalf");
        stops.ifPresent(value -> Shown.finite(value, "stops"));
        Shown.notNegative(stopsHalf, "stopsHalf");
        Shown.finite(remainder, "remainder");
        Shown.interval(low, high);
    }

    /**
     * Without stops.
     *
     * @param subject machine and drive
     * @param measured D_right − D_left (m)
     * @param measuredUncertainty half-width of its interval (m), 0 or more
     * @param lockAngles what the designed lock angles explain (m), where known
     * @param deck what the deck offset explains (m)
     * @param deckHalf half-width of its interval (m), 0 or more
     * @param remainder what is left (m)
     * @param low lower end of its interval (m)
     * @param high upper end (m)
     */
    public Decomposition(
            String subject,
            double measured,
            double measuredUncertainty,
            OptionalDouble lockAngles,
            double deck,
            double deckHalf,
            double remainder,
            double low,
            double high) {
        this(
                subject,
                measured,
                measuredUncertainty,
                lockAngles,
                deck,
                deckHalf,
                OptionalDouble.empty(),
                0,
                remainder,
                low,
                high);
    }
}
