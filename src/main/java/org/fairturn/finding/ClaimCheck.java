package org.fairturn.finding;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;

/**
 * One claim held against the trial.
 *
 * @param claim as it was read
 * @param readings what it may mean, the likeliest first; those the trial has no circle for come last
 * @param noneOfThese probability that it means none of them
 */
public record ClaimCheck(Claim claim, List<Reading> readings, double noneOfThese) {
    /**
     * Keeps its own copy of the list.
     *
     * @param claim as it was read
     * @param readings what it may mean, the likeliest first; those the trial has no circle for come last
     * @param noneOfThese probability that it means none of them
     */
    public ClaimCheck {
        readings = List.copyOf(readings);
    }

    /** What could be different about the machine a claim was made of, for a reading to hold that does not fit. */
    public enum Remedy {
        /** Its steering stop: at least nothing known excludes it. */
        STOP,
        /** Where its deck sits, and no stop. */
        DECK,
        /** Nothing a machine could ordinarily have. */
        NONE
    }

    /**
     * One thing a claim may mean.
     *
     * @param cell the machine, turn, drive and use of brakes it is read as
     * @param subject as in its finding, where it has one
     * @param comparison with the trial; empty where it cannot be made
     * @param probability that the claim means this, in [0, 1]; 0 where it was not compared
     * @param missing what the comparison lacks, in words
     * @param wouldDiffer what would have to differ for the claim to hold in this reading, in words; empty where it fits
     * @param remedy what of that could be the machine's
     */
    public record Reading(
            Cell cell,
            Map<String, String> subject,
            Optional<Comparison> comparison,
            double probability,
            String missing,
            List<String> wouldDiffer,
            Remedy remedy) {
        /**
         * Keeps its own copy of each list and map.
         *
         * @param cell the machine, turn, drive and use of brakes it is read as
         * @param subject as in its finding, where it has one
         * @param comparison with the trial; empty where it cannot be made
         * @param probability that the claim means this, in [0, 1]; 0 where it was not compared
         * @param missing what the comparison lacks, in words
         * @param wouldDiffer what would have to differ for the claim to hold in this reading, in words; empty where it fits
         * @param remedy what of that could be the machine's
         */
        public Reading {
            subject = Collections.unmodifiableMap(new LinkedHashMap<>(subject));
            wouldDiffer = List.copyOf(wouldDiffer);
        }

        /** {@return what would have to differ, and that no ordinary change of the machine would do, where none would} */
        public String remedies() {
            String all = String.join("; or ", wouldDiffer);
            return remedy != Remedy.NONE
                    ? all
                    : all + (all.isEmpty() ? "" : "; ") + "no ordinary change of the machine would do";
        }
    }

    /**
     * Claim and trial as uncut diameters (m).
     *
     * @param claimed what the claim comes to
     * @param claimedUncertainty its standard uncertainty
     * @param measured by the trial
     * @param measuredUncertainty its standard uncertainty
     * @param zeta ζ, plus where the claim is larger
     * @param en E_n, the same with expanded uncertainties (k = 2)
     */
    public record Comparison(
            double claimed,
            double claimedUncertainty,
            double measured,
            double measuredUncertainty,
            double zeta,
            double en) {}
}
