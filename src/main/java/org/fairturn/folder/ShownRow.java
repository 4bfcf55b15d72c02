package org.fairturn.folder;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * A row of a trial file as it is shown to people who may change it.
 *
 * @param file which file it is a row of
 * @param key what finds it again
 * @param number as a spreadsheet numbers rows, the header being row 1; 0 for a row that was taken out
 * @param cells what was typed, by column, in the order of the columns; columns that Fairturn does not know are among them,
 *     columns without a name are not
 * @param seen stands for all the row's cells: it is another as soon as one of them is
 */
public record ShownRow(TrialFile file, Key key, int number, Map<String, String> cells, String seen) {
    /**
     * Keeps its own copy of the map.
     *
     * @param file which file it is a row of
     * @param key what finds it again
     * @param number as a spreadsheet numbers rows, the header being row 1; 0 for a row that was taken out
     * @param cells what was typed, by column, in the order of the columns; columns that Fairturn does not know are among
     *     them, columns without a name are not
     * @param seen stands for all the row's cells: it is another as soon as one of them is
     */
    public ShownRow {
        cells = Collections.unmodifiableMap(new LinkedHashMap<>(cells));
    }

    /**
     * {@return what was typed, without blanks around it; empty where the cell is blank or there is no such column}
     *
     * @param column name as the file's header has it
     */
    public String cell(String column) {
        return Table.trimmed(cells.getOrDefault(column, ""));
    }

    /**
     * What a row goes by while others change the file around it: the id it was entered under, else what the file tells its
     * rows apart by, else its number.
     *
     * @param text to be passed on as it is
     */
    public record Key(String text) {
        private static final String ROW = "row ";

        /**
         * {@return the key of a row that was entered under an id}
         *
         * @param id the row was entered under
         */
        public static Key entry(String id) {
            return of(TrialFile.ENTRY, Table.trimmed(id));
        }

        static Key of(String names, String values) {
            return new Key(names + " " + values);
        }

        static Key row(int number) {
            return new Key(ROW + number);
        }

        Optional<String> enteredAs() {
            String lead = TrialFile.ENTRY + " ";
            return text.startsWith(lead) ? Optional.of(text.substring(lead.length())) : Optional.empty();
        }

        boolean isNumber() {
            return text.startsWith(ROW);
        }
    }
}
