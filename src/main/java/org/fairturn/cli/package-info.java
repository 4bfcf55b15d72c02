/**
 * The command line: parse, call, show, nothing else.
 *
 * <p>May use: report, chart, finding, folder, trial, units.
 */
package org.fairturn.cli;
