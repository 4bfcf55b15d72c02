package org.fairturn.trial;

import java.util.Optional;
import org.fairturn.units.Length;

/**
 * One steering stop: how far it protrudes by the manual, as found, and as set before the trial.
 *
 * @param side the front wheel it belongs to
 * @param specified protrusion by the manual
 * @param found protrusion before anything was changed
 * @param set protrusion the trial was driven with, where it was changed
 * @param touchesAxle whether it touches the axle at full lock, where anyone looked
 * @param arm king-pin axis to the point of contact
 * @param limits the turn it limits
 * @param threadPitch of the stop bolt: how far one full turn of it moves the stop
 */
public record SteeringStop(
        Turn side,
        Optional<Length> specified,
        Optional<Length> found,
        Optional<Length> set,
        Optional<Boolean> touchesAxle,
        Optional<Length> arm,
        Turn limits,
        Optional<Length> threadPitch) {
    /**
     * A stop whose thread is not known.
     *
     * @param side the front wheel it belongs to
     * @param specified protrusion by the manual, where known
     * @param found protrusion as found, where noted
     * @param set protrusion the trial was driven with, where it was changed
     * @param touchesAxle whether it touches the axle at full lock, where anyone looked
     * @param arm king-pin axis to the point of contact, where known
     * @param limits the turn it limits
     */
    public SteeringStop(
            Turn side,
            Optional<Length> specified,
            Optional<Length> found,
            Optional<Length> set,
            Optional<Boolean> touchesAxle,
            Optional<Length> arm,
            Turn limits) {
        this(side, specified, found, set, touchesAxle, arm, limits, Optional.empty());
    }

    /** {@return whether it was seen not to touch the axle at full lock; then it holds nothing} */
    public boolean lacksContact() {
        return !touchesAxle.orElse(true);
    }
}
