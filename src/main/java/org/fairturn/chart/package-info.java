/**
 * Drawings, each a function from data to SVG: three charts ({@code Charts}, as PNG too), axes for claims, differences and scatter
 * over the years, plan views of a machine and of a turn, sketches of what to measure, and the result card (as PNG too).
 *
 * <p>Lengths come in as metres and are shown in millimetres, or in inches where the trial is kept in inches or feet.
 * Drawings but the card are 480 user units wide with letters of 15 units and more, so that they can still be read on a phone;
 * every series differs in shape as well as in colour, so that they survive a black-and-white printer. The plan view's
 * frame has its origin under the midpoint of the rear axle, x forward (drawn upwards), y to the left (drawn left).
 *
 * <p>The charts need a font on the machine, since their letters are drawn as outlines; the plan view, whose letters are
 * text, does not. Start reading at {@link org.fairturn.chart.Charts} and {@link org.fairturn.chart.PlanView}.
 *
 * <p>May use: geometry, units.
 */
package org.fairturn.chart;
