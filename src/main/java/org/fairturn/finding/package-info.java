/**
 * The questions Fairturn answers and the rule by which it decides. Never sees a file.
 *
 * <p>May use: uncertainty, fit, geometry, trial, units.
 */
package org.fairturn.finding;
