package org.fairturn.folder;

import java.util.List;

/**
 * One file of a trial folder, cell by cell, exactly as it was typed: columns and cells that Fairturn does not know
 * survive reading and writing; only the quoting may differ.
 *
 * @param file one of the files of a trial folder, such as {@code readings.csv}
 * @param header the cells of row 1
 * @param rows the cells of the rows below, blank rows included; a row may be shorter or longer than the header
 */
public record Sheet(String file, List<String> header, List<List<String>> rows) {
    /**
     * Keeps its own copy of the lists.
     *
     * @param file one of the files of a trial folder, such as {@code readings.csv}
     * @param header the cells of row 1
     * @param rows the cells of the rows below, blank rows included; a row may be shorter or longer than the header
     * @throws IllegalArgumentException if the file is none of a trial's
     */
    public Sheet {
        if (TrialFile.named(file).isEmpty()) {
            throw new IllegalArgumentException("file is " + file + "; must be one of " + TrialFile.names());
        }
        header = List.copyOf(header);
        rows = rows.stream().map(List::copyOf).toList();
    }
}
