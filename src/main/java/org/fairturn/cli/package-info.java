/**
 * The command line: parse, call, show, nothing else.
 *
 * <p>May use: web, report, chart, finding, folder, trial, units.
 */
package org.fairturn.cli;
