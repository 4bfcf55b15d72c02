package org.fairturn.trial;

import java.util.List;
import java.util.Optional;
import org.fairturn.units.Angle;

/**
 * A machine as its manual and a tape describe it; what is not known is empty.
 *
 * @param id unique in its trial
 * @param label how people call it; the id where none was given
 * @param wheelbase L, from the rear axle to the front axle
 * @param frontTrack t, between the middles of the front wheels; stands in for the distance of the king-pins too
 * @param leftLock designed lock angle of the inner wheel in a left turn, in (0°, 90°)
 * @param rightLock the same for a right turn
 * @param deckOffset distance of the cutting pattern's centre from the centreline, + to the left
 * @param specifiedDeckOffset the deck offset by the manual
 * @param turnCentreShift how far ahead of the rear axle line the turn centre lies
 * @param blades spindles unique
 * @param stops at most one a side and limited turn
 * @param tyres in the order of {@link Tyre#UNKNOWN}
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
        List<SteeringStop> stops,
        List<Tyre> tyres) {
    /**
     * Keeps its own copy of each list.
     *
     * @param id unique in its trial
     * @param label how people call it; the id where none was given
     * @param wheelbase L, from the rear axle to the front axle
     * @param frontTrack t, between the middles of the front wheels; stands in for the distance of the king-pins too
     * @param leftLock designed lock angle of the inner wheel in a left turn, in (0°, 90°)
     * @param rightLock the same for a right turn
     * @param deckOffset distance of the cutting pattern's centre from the centreline, + to the left
     * @param specifiedDeckOffset the deck offset by the manual
     * @param turnCentreShift how far ahead of the rear axle line the turn centre lies
     * @param blades spindles unique
     * @param stops at most one a side and limited turn
     * @param tyres in the order of {@link Tyre#UNKNOWN}
     */
    public Machine {
        blades = List.copyOf(blades);
        stops = List.copyOf(stops);
        tyres = List.copyOf(tyres);
    }

    /**
     * A machine of whose deck offset the manual says nothing, and of whose tyres nothing is known.
     *
     * @param id unique in its trial
     * @param label how people call it
     * @param wheelbase L, where known
     * @param frontTrack t, where known
     * @param leftLock designed angle of the inner wheel in a left turn, in (0°, 90°)
     * @param rightLock the same in a right turn
     * @param deckOffset + to the left, where known
     * @param turnCentreShift c, + ahead of the rear axle line, where known
     * @param blades spindles unique
     * @param stops at most one a side and limited turn
     */
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
                stops,
                Tyre.UNKNOWN);
    }

    /**
     * {@return a machine of which nothing is known but its id}
     *
     * @param id which is its label too
     */
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

    /**
     * {@return the designed lock angle of the inner wheel in a turn, where known}
     *
     * @param turn the turn meant
     */
    public Optional<Angle> lock(Turn turn) {
        return turn == Turn.LEFT ? leftLock : rightLock;
    }

    /**
     * {@return the same machine with its blades further to the left by a distance (m), and this deck offset}
     *
     * @param offset the deck offset it is to state
     * @param distance how far the blades move (m), + to the left
     */
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
                stops,
                tyres);
    }
}
