/**
 * Trial folders on disk: a folder of CSV files becomes a {@code Trial} or a list of problems, and is written back without losing a cell.
 *
 * <p>May use: trial, units.
 */
package org.fairturn.folder;
