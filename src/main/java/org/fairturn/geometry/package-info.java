/**
 * The geometry of a machine turning at full lock, in metres and radians.
 *
 * <p>May use: units.
 */
package org.fairturn.geometry;
