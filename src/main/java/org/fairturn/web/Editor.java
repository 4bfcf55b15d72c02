package org.fairturn.web;

import java.util.List;
import java.util.Map;

/** Changes the files of one trial folder, a row at a time; each edit is on disk before it returns. */
interface Editor {
    /** The rows of a file that are not blank; none where the file cannot be read. */
    List<SheetRow> rows(String file);

    Outcome append(String file, Map<String, String> cells);

    /**
     * Changes cells of a row; the others stay.
     *
     * @param seen the row's fingerprint as it was shown
     */
    Outcome change(String file, String key, Map<String, String> cells, String seen);

    Outcome remove(String file, String key, String seen);
}
