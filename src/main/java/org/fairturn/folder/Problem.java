package org.fairturn.folder;

/**
 * Something in a trial folder that has to be mended before the trial can be read: where, what was read, what is accepted,
 * how to mend it.
 *
 * @param file file name without its path; the folder's own name where the folder is meant
 * @param row as a spreadsheet numbers rows, the header being row 1; 0 where no row is meant
 * @param column name of the column; empty where no single cell is meant
 * @param read the cell as typed, without surrounding blanks; where no cell is meant, what was found, in words
 * @param accepted what would have been accepted, in words
 * @param mend how to mend it, whole sentences; empty where {@code accepted} says it all
 * @param caret index in {@code read} of the first character that could not be read; −1 where there is none to point at
 */
public record Problem(String file, int row, String column, String read, String accepted, String mend, int caret) {
    private static final int LONGEST_SHOWN = 80;

    static Problem of(String file, int row, String found, String accepted, String mend) {
        return new Problem(file, row, "", found, accepted, mend, -1);
    }

    /** The same, its row having moved. */
    Problem inRow(int other) {
        return new Problem(file, other, column, read, accepted, mend, caret);
    }

    /** {@return all of it in one line, as it is shown everywhere} */
    public String message() {
        return where() + ": " + what() + "; accepted: " + accepted + "." + (mend.isEmpty() ? "" : " " + mend);
    }

    /**
     * {@return what was read and, below it, a caret under the first character that could not be read; empty where there is
     * none}
     */
    public String pointer() {
        return caret < 0 ? "" : read + "\n" + " ".repeat(caret) + "^";
    }

    /** {@return the place in words, such as {@code readings.csv, row 14, column "value"}} */
    public String where() {
        return where(file, row, column);
    }

    static String where(String file, int row, String column) {
        return file + (row > 0 ? ", row " + row : "") + (column.isEmpty() ? "" : ", column \"" + column + "\"");
    }

    /** {@return what was read or found, in a few words} */
    public String what() {
        if (column.isEmpty()) {
            return "found " + read;
        }
        if (read.isEmpty()) {
            return "read an empty cell";
        }
        return "read \"" + (read.length() > LONGEST_SHOWN ? read.substring(0, LONGEST_SHOWN) + "…" : read) + "\"";
    }
}
