/**
 * Trial folders on disk: a folder of CSV files becomes a {@code Trial} or a list of problems, and is written back without
 * losing a cell.
 *
 * <p>Reading goes from bytes to cells ({@code FolderFiles}), to rows with named columns ({@code Table}, {@code Row}), to
 * what a cell may mean ({@code Entry}), to records (one reader a subject). An id counts as listed even where its row has
 * other faults, and a file that could not be read to its end is never taken to lack anything, so that one fault does not
 * echo through the others. Start reading at {@link org.fairturn.folder.TrialFolder}.
 *
 * <p>Changing goes the other way, a row at a time: {@code TrialEditor} takes what is on disk, changes one place in the text
 * ({@code CsvText}) and reads the folder as it would be; {@code EditQueue} replaces the file ({@code AtomicFile}) under a lock
 * ({@code FolderLock}), once for all edits that wait. {@code TrialFolders} finds trial folders, {@code TrialShelf} makes them.
 *
 * <p>May use: trial, units.
 */
package org.fairturn.folder;
