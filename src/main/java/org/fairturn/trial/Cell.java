package org.fairturn.trial;

/**
 * One machine turning one way in one drive: the thing whose uncut diameter is wanted.
 *
 * @param machine id of the machine
 * @param turn the way it is steered
 * @param drive 2WD or 4WD
 * @param brakes whether the inner one helped to turn
 */
public record Cell(String machine, Turn turn, Drive drive, Brakes brakes) {
    /** Such as {@code Alder 22, left, 4WD}; brakes are mentioned only where they were used. */
    @Override
    public String toString() {
        return machine + ", " + turn.word() + ", " + drive.word() + (brakes == Brakes.USED ? ", brakes used" : "");
    }
}
