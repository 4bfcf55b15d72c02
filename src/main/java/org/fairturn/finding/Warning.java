package org.fairturn.finding;

/**
 * Something a reader of the results should know.
 *
 * @param code stable, for programs
 * @param where file and row, circle or machine
 * @param message whole sentences
 */
public record Warning(String code, String where, String message) {}
