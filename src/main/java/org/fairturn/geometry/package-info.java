/**
 * The geometry of a machine turning at full lock: from turn radius to uncut disc and back, and from lock angle to turn
 * radius.
 *
 * <p>Frame: origin on the ground under the midpoint of the rear axle, x forward, y to the left, lengths in metres, angles
 * in radians. A side is +1 for a left turn and −1 for a right turn; the turn centre lies at (c, side·R). Start reading at
 * {@link org.fairturn.geometry.Deck}.
 *
 * <p>May use: units.
 */
package org.fairturn.geometry;
