/**
 * From tape lengths and points on a cut edge to the diameter of a circle.
 *
 * <p>Lengths in metres. Each function answers with the diameter and with how strongly each measured length moves it, so
 * that an uncertainty can be put on it. Start reading at {@link org.fairturn.fit.TapeDiameter}.
 *
 * <p>May use: units.
 */
package org.fairturn.fit;
