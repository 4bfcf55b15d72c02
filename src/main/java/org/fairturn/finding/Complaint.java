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
    public Complaint {
        subject = Collections.unmodifiableMap(new LinkedHashMap<>(subject));
        compared = List.copyOf(compared);
        causes = List.copyOf(causes);
        checks = List.copyOf(checks);
    }

    /** What may be behind a difference, in the order ties are shown. */
    public enum Kind {
        NOTHING("nothingWrong"),
        LEFT_STOP("leftStop"),
        RIGHT_STOP("rightStop"),
        BOTH_STOPS("bothStops"),
        DECK("deckShifted"),
        FRONT_AXLE("frontAxle"),
        DIRECTION("wrongDirection"),
        CONVENTION("measuringConvention"),
        OTHER("somethingElse");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        /** The name results.json gives it. */
        public String word() {
            return word;
        }
    }

    /**
     * One cell held against the reference.
     *
     * @param reference uncut diameter by the reference (m)
     * @param workedOut whether the reference says it only of the other turn
     * @param excess measured less reference (m)
     */
    public record Compared(Cell cell, double reference, boolean workedOut, Estimate excess) {}

    /**
     * One cause.
     *
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
