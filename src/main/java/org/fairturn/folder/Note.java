package org.fairturn.folder;

/**
 * Something in a trial folder that people should know and need not mend.
 *
 * @param file file name without its path
 * @param row as a spreadsheet numbers rows, the header being row 1; 0 where no row is meant
 * @param column name of the column; empty where none is meant
 * @param text what there is to know, whole sentences
 */
public record Note(String file, int row, String column, String text) {
    /** {@return the place in words, such as {@code readings.csv, row 14, column "value"}} */
    public String where() {
        return Problem.where(file, row, column);
    }
}
