package org.fairturn.trial;

/**
 * One blade of the deck; positions are absolute on the machine, deck offset included.
 *
 * @param spindle its name
 * @param ahead of the rear axle
 * @param left of the centreline
 * @param tipRadius above 0
 */
public record Blade(String spindle, Measured ahead, Measured left, Measured tipRadius) {}
