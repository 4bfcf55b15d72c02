/**
 * What people and programs read: report.html, results.json, results.csv.
 *
 * <p>May use: chart, finding, folder, uncertainty, fit, geometry, trial, units.
 */
package org.fairturn.report;
