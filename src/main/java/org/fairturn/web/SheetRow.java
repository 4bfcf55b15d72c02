package org.fairturn.web;

import java.util.Map;

/**
 * A row of a trial folder's file as it is shown for editing.
 *
 * @param key finds the row again
 * @param seen a fingerprint of the row as it stands
 * @param cells by column, in lower case
 */
record SheetRow(String key, String seen, Map<String, String> cells) {
    SheetRow {
        cells = Map.copyOf(cells);
    }

    /** The cell; empty where it is blank or the column is not there. */
    String cell(String column) {
        return cells.getOrDefault(column, "");
    }
}
