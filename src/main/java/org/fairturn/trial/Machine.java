package org.fairturn.trial;

import java.util.List;
import java.util.Optional;
import org.fairturn.units.Angle;

/**
 * A machine as its manual and a tape describe it; what is not known is empty.
 *
 * @param id unique in its trial
 * @param label how people call it; the id where none was given
 * @param leftLock designed lock angle of the inner wheel in a left turn, in (0°, 90°)
 * @param rightLock the same for a right turn
 * @param deckOffset distance of the cutting pattern's centre from the centreline, + to the left
 * @param specifiedDeckOffset the deck offset by the manual
 * @param turnCentreShift how far ahead of the rear axle line the turn centre lies
 * @param blades spindles unique
 * @param stops at most one a side and limited turn
 */
public record Machine(
        String id,
        String label,
        Optional<Measured> wheelbase,
        Optional<Measured> frontTrack,
        Optional<Angle> leftLock,
        Optional<Angle> rightLock,
        Optional<Measured> deckOffset,
        Optional<Measured> specifiedDeckOffset,
        Optional<Measured> turnCentreShift,
        List<Blade> blades,
        List<SteeringStop> stops) {
    public Machine {
        blades = List.copyOf(blades);
        stops = List.copyOf(stops);
    }

    /** A machine of whose deck offset the manual says nothing. */
    public Machine(
            String id,
            String label,
            Optional<Measured> wheelbase,
            Optional<Measured> frontTrack,
            Optional<Angle> leftLock,
            Optional<Angle> rightLock,
            Optional<Measured> deckOffset,
            Optional<Measured> turnCentreShift,
            List<Blade> blades,
            List<SteeringStop> stops) {
        this(
                id,
                label,
                wheelbase,
                frontTrack,
                leftLock,
                rightLock,
                deckOffset,
                Optional.empty(),
                turnCentreShift,
                blades,
                stops);
    }

    /** A machine of which nothing is known but its id. */
    public static Machine named(String id) {
        return new Machine(
                id,
                id,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                List.of());
    }

    public Optional<Angle> lock(Turn turn) {
        return turn == Turn.LEFT ? leftLock : rightLock;
    }

    /** The same machine with its blades further to the left by a distance (m), and this deck offset. */
    public Machine withDeckMoved(Optional<Measured> offset, double distance) {
        return new Machine(
                id,
                label,
                wheelbase,
                frontTrack,
                leftLock,
                rightLock,
                offset,
                specifiedDeckOffset,
                turnCentreShift,
                blades.stream().map(blade -> blade.movedLeft(distance)).toList(),
                stops);
    }
}
