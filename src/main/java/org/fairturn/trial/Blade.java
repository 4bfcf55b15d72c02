package org.fairturn.trial;

import org.fairturn.units.Length;

/**
 * One blade of the deck; positions are absolute on the machine, deck offset included.
 *
 * @param spindle its name
 * @param ahead of the rear axle
 * @param left of the centreline
 * @param tipRadius above 0
 */
public record Blade(String spindle, Measured ahead, Measured left, Measured tipRadius) {
    /** The same blade further to the left by a distance (m), its uncertainties kept. */
    Blade movedLeft(double distance) {
        Length there = new Length(left.value().metres() + distance);
        return new Blade(spindle, ahead, new Measured(there, left.standardUncertainty()), tipRadius);
    }
}
