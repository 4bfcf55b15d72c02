/**
 * From tape lengths and points on a cut edge to the diameter of a circle, in metres.
 *
 * <p>May use: units.
 */
package org.fairturn.fit;
