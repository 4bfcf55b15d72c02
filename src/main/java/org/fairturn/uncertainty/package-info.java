/**
 * The statistics of circle trials: repeatability, intervals, probabilities. Pure functions; lengths in metres.
 *
 * <p>May use: units.
 */
package org.fairturn.uncertainty;
