package org.fairturn.finding;

/**
 * What one uncertain dimension of a machine does to a result.
 *
 * @param name of the dimension
 * @param standardUncertainty of the dimension (m)
 * @param effect change of the result for that much (m)
 */
public record Contribution(String name, double standardUncertainty, double effect) {}
