/**
 * What people and programs read of an analysed trial: report.html, results.json, results.csv and the drawings as files.
 *
 * <p>Nothing is decided here. Lengths come in metres; text shows them in the trial's unit with the other beside it,
 * results.json and results.csv in millimetres. Start reading at {@link org.fairturn.report.TrialReport}.
 *
 * <p>May use: chart, finding, folder, uncertainty, fit, geometry, trial, units.
 */
package org.fairturn.report;
