package org.fairturn.finding;

import org.fairturn.trial.Measured;

/**
 * Where the outermost point of a machine lies, such as the corner of its bumper; taken to be there on either side.
 *
 * @param ahead of the rear axle
 * @param out from the centreline, 0 or more
 */
public record OutermostPoint(Measured ahead, Measured out) {}
