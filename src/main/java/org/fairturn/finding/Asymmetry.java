package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
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
    /**
     * The exact geometry behind it; lengths in metres.
     *
     * @param radiusLeft turn radius that left the left circle
     * @param radiusRight turn radius that left the right circle
     * @param commonRadius the mean of the two, at which the deck's part is worked out
     * @param diameterLeft the disc the deck leaves at the common radius, turning left
     * @param diameterRight the same turning right
     * @param cosLeft cosine of φ at the common radius, turning left; half the slope of the left diameter
     * @param cosRight the same turning right
     * @param deckOffset the middle between the outermost blade tips, + to the left
     * @param equalisingOffset the deck offset that would make both turns equally tight
     * @param equalisingUncertainty its standard uncertainty
     * @param contributions what each uncertain dimension puts on the remainder
     */
    public record Geometry(
            double radiusLeft,
            double radiusRight,
            double commonRadius,
            double diameterLeft,
            double diameterRight,
            double cosLeft,
            double cosRight,
            double deckOffset,
            double equalisingOffset,
            double equalisingUncertainty,
            List<Contribution> contributions) {
        public Geometry {
            contributions = List.copyOf(contributions);
        }
    }
}
