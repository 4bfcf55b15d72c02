/**
 * What a trial is made of, as immutable records: machines with blades and stops, circles with readings, claims.
 *
 * <p>These records hold what was written down, nothing that was worked out from it. The frame of a machine has its
 * origin on the ground under the midpoint of the rear axle, x forward, y to the left. Start reading at
 * {@link org.fairturn.trial.Trial}.
 *
 * <p>May use: units.
 */
package org.fairturn.trial;
