package org.fairturn.finding;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.Estimate;

/**
 * One machine held against one reference, and what is most probably behind the difference.
 *
 * @param machine id of the machine complained of
 * @param source of the reference
 * @param subject as in its finding on the whole
 * @param compared the cells both have, in the order of the machine's cells
 * @param causes the likeliest first; probabilities sum to 1
 * @param checks what has not been looked at yet, the one that tells most first
 */
public record Complaint(
        String machine,
        String source,
        Map<String, String> subject,
        List<Compared> compared,
        List<Cause> causes,
        List<Check> checks) {
    /**
     * Keeps its own copy of each list and map.
     *
     * @param machine id of the machine complained of
     * @param source of the reference
     * @param subject as in its finding on the whole
     * @param compared the cells both have, in the order of the machine's cells
     * @param causes the likeliest first; probabilities sum to 1
     * @param checks what has not been looked at yet, the one that tells most first
     */
    public Complaint {
        subject = Collections.unmodifiableMap(new LinkedHashMap<>(subject));
        compared = List.copyOf(compared);
        causes = List.copyOf(causes);
        checks = List.copyOf(checks);
    }

    /** What may be behind a difference, in the order ties are shown. */
    public enum Kind {
        /** The machine turns as its reference says. */
        NOTHING("nothingWrong"),
        /** The left stop is off its specification. */
        LEFT_STOP("leftStop"),
        /** The right stop is off its specification. */
        RIGHT_STOP("rightStop"),
        /** Both stops are off by the same. */
        BOTH_STOPS("bothStops"),
        /** The deck hangs further to a side than it should. */
        DECK("deckShifted"),
        /** In 4WD the front axle and its tyres push it wide. */
        FRONT_AXLE("frontAxle"),
        /** A left turn was held against a right one. */
        DIRECTION("wrongDirection"),
        /** One side speaks of another diameter or radius than the other. */
        CONVENTION("measuringConvention"),
        /** None of the others. */
        OTHER("somethingElse");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        /** {@return the name results.json gives it} */
        public String word() {
            return word;
        }
    }

    /**
     * One cell held against the reference.
     *
     * @param cell that is complained of
     * @param reference uncut diameter by the reference (m)
     * @param workedOut whether the reference says it only of the other turn
     * @param excess measured less reference (m)
     */
    public record Compared(Cell cell, double reference, boolean workedOut, Estimate excess) {}

    /**
     * One cause.
     *
     * @param kind which of the causes
     * @param name in plain words
     * @param prior its probability before the trial
     * @param probability after it
     * @param effects what it makes of each compared cell, in their order (m)
     * @param size how big it is in the shop's terms; empty where it has no size
     * @param speaksFor what was seen that it explains, in words
     * @param against what was seen that it does not explain, in words
     */
    public record Cause(
            Kind kind,
            String name,
            double prior,
            double probability,
            List<Double> effects,
            Optional<Size> size,
            List<String> speaksFor,
            List<String> against) {
        /**
         * Keeps its own copy of each list.
         *
         * @param kind which of the causes
         * @param name in plain words
         * @param prior its probability before the trial
         * @param probability after it
         * @param effects what it makes of each compared cell, in their order (m)
         * @param size how big it is in the shop's terms; empty where it has no size
         * @param speaksFor what was seen that it explains, in words
         * @param against what was seen that it does not explain, in words
         */
        public Cause {
            effects = List.copyOf(effects);
            speaksFor = List.copyOf(speaksFor);
            against = List.copyOf(against);
        }
    }

    /**
     * How big a cause is, were it this one.
     *
     * @param value in the unit; NaN where what is missing keeps it from being said
     * @param standardUncertainty in the unit
     * @param unit {@code mm} of protrusion, {@code mm} to the left, or {@code %} of rolling circumference
     * @param words the size in a few words
     */
    public record Size(double value, double standardUncertainty, String unit, String words) {}

    /**
     * Something to look at next.
     *
     * @param name in a few words
     * @param how in whole sentences
     * @param bits expected information about the cause
     */
    public record Check(String name, String how, double bits) {}
}
