/**
 * Drawings: charts and the plan view, each a function from data to SVG or PNG.
 *
 * <p>May use: finding, geometry, trial, units.
 */
package org.fairturn.chart;
