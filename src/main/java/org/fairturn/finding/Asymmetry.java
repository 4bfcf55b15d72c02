package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;

/**
 * Left against right in one drive, taken apart.
 *
 * @param left the left cell
 * @param right the right cell
 * @param measured D_right − D_left
 * @param geometry how the deck explains it, where blade positions are known
 * @param ruleOfThumb what four times the deck offset would explain (m), where the offset is known
 * @param finding the answer
 */
public record Asymmetry(
        Cell left,
        Cell right,
        Optional<Difference> measured,
        Optional<Geometry> geometry,
        Optional<Double> ruleOfThumb,
        Finding finding) {
    /** The same with the answer as it stands in the family of all questions. */
    Asymmetry inFamily(Finding adjusted) {
        return new Asymmetry(left, right, measured, geometry, ruleOfThumb, adjusted);
    }

    /**
     * The exact geometry behind it; lengths in metres.
     *
     * @param deck the blades, and the turn centre shift in this drive
     * @param radiusLeft turn radius that left the left circle
     * @param radiusRight turn radius that left the right circle
     * @param commonRadius the mean of the two, at which the deck's part is worked out
     * @param equalisingOffset the deck offset that would make both turns equally tight, + to the left
     * @param equalisingUncertainty its standard uncertainty
     * @param contributions what each uncertain dimension puts on the remainder
     */
    public record Geometry(
            Deck deck,
            double radiusLeft,
            double radiusRight,
            double commonRadius,
            double equalisingOffset,
            double equalisingUncertainty,
            List<Contribution> contributions) {
        /**
         * Keeps its own copy of the list.
         *
         * @param deck the blades, and the turn centre shift in this drive
         * @param radiusLeft turn radius that left the left circle
         * @param radiusRight turn radius that left the right circle
         * @param commonRadius the mean of the two, at which the deck's part is worked out
         * @param equalisingOffset the deck offset that would make both turns equally tight, + to the left
         * @param equalisingUncertainty its standard uncertainty
         * @param contributions what each uncertain dimension puts on the remainder
         */
        public Geometry {
            contributions = List.copyOf(contributions);
        }
    }
}
