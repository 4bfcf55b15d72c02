package org.fairturn.finding;

import java.util.Optional;
import org.fairturn.trial.Drive;
import org.fairturn.trial.SteeringStop;

/**
 * What one steering stop makes of the turn it limits by standing off its specification.
 *
 * @param machine id of the machine
 * @param stop as it was read
 * @param found what it made as it was found
 * @param set what it makes as it was set before the trial
 * @param fromCircles the lock angle it is worked out about, where circles stand in for a designed one
 * @param missing what would have to be known besides, in words; empty where nothing is missing
 */
public record StopEffect(
        String machine,
        SteeringStop stop,
        Optional<Change> found,
        Optional<Change> set,
        Optional<Lock> fromCircles,
        String missing) {
    /**
     * A lock angle that circles show by ideal steering, the stop as driven.
     *
     * @param drive they were driven in
     * @param radius turn radius (m) they show
     * @param angle of the inner wheel (rad)
     */
    public record Lock(Drive drive, double radius, Amount angle) {}

    /** {@return the change as the trial was driven: as set where it was set, else as found} */
    public Optional<Change> driven() {
        return stop.set().isPresent() ? set : found;
    }

    /**
     * Change against the stop at its specification.
     *
     * @param deviation protrusion beyond the specification (m)
     * @param lock of the angle of the stop's own wheel (rad); negative where the wheel turns in less
     * @param radius of the turn radius (m), at the designed lock angle or the one the circles show
     * @param diameter of the uncut diameter (m), where the blades are known
     */
    public record Change(double deviation, Amount lock, Amount radius, Optional<Amount> diameter) {}

    /**
     * A value with its standard uncertainty, in the unit of the quantity.
     *
     * @param value best estimate
     * @param standardUncertainty in the same unit, 0 or more
     */
    public record Amount(double value, double standardUncertainty) {}
}
