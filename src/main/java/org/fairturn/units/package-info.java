/**
 * Lengths, angles and bearings: how people write them on a field sheet and how they are shown again.
 *
 * <p>Values are held in metres and radians. This is the only package that converts between units; every other package
 * asks it. Start reading at {@link org.fairturn.units.Length}.
 *
 * <p>May use: nothing else in Fairturn.
 */
package org.fairturn.units;
