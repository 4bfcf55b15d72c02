package org.fairturn.report;

import org.fairturn.chart.Drawing;

/**
 * A drawing with its numbers in a table beside it.
 *
 * @param heading short heading
 * @param lead one sentence on how to read it
 */
public record Figure(String heading, String lead, Drawing drawing) {}
