package org.fairturn.trial;

import org.fairturn.units.Length;

/**
 * A point on the ground, in any right-angled frame that all points of its circle share.
 *
 * @param x to one side, of either sign
 * @param y square to it, of either sign
 */
public record GroundPoint(Length x, Length y) {}
