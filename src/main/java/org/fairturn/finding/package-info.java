/**
 * The questions Fairturn answers and the one rule by which it decides.
 *
 * <p>A trial becomes observations (diameters with their uncertainty), observations become estimates of cells, and
 * estimates become findings: a quantity, a verdict, a plain sentence, what to do next. Lengths are in metres and a
 * difference between the turns is always right minus left. Never sees a file. Start reading at
 * {@link org.fairturn.finding.Analysis}.
 *
 * <p>May use: uncertainty, fit, geometry, trial, units.
 */
package org.fairturn.finding;
