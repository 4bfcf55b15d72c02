package org.fairturn.finding;

/**
 * One part of a finding's quantity.
 *
 * @param name as results.json writes it
 * @param estimate (m)
 * @param standardUncertainty (m)
 */
public record Part(String name, double estimate, double standardUncertainty) {}
