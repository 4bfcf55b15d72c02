package org.fairturn.folder;

import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The rows that were taken out of the other files, in {@code removed.csv}: when, of which file, the id each was entered
 * under, and its cells as typed under the names of their columns.
 */
record RemovedRows(CsvText csv) {
    private static final String WHEN = "when";
    private static final String FILE = "file";
    static final List<String> COLUMNS = List.of(WHEN, FILE, TrialFile.ENTRY);

    /** The row that was last taken out of a file under an id. */
    Optional<ShownRow> find(TrialFile file, String entry) {
        Optional<ShownRow> last = Optional.empty();
        for (int line = 1; line < csv.size(); line++) {
            if (entry.equals(Table.trimmed(csv.value(line, TrialFile.ENTRY)))
                    && file.fileName().equals(Table.word(csv.value(line, FILE)))) {
                Map<String, String> cells = RowsOfFile.everyCell(csv, line);
                cells.remove(WHEN);
                cells.remove(FILE);
                last = Optional.of(
                        new ShownRow(file, ShownRow.Key.entry(entry), 0, cells, RowsOfFile.fingerprint(cells)));
            }
        }
        return last;
    }

    Optional<ShownRow> find(TrialFile file, ShownRow.Key key) {
        return key.enteredAs().flatMap(entry -> find(file, entry));
    }

    /** The row that keeps a line of a file. */
    Map<String, String> record(TrialFile file, CsvText from, int line, Clock clock) {
        Map<String, String> cells = new LinkedHashMap<>();
        cells.put(
                WHEN,
                OffsetDateTime.now(clock)
                        .truncatedTo(ChronoUnit.SECONDS)
                        .format(DateTimeFormatter.ISO_OFFSET_DATE_TIME));
        cells.put(FILE, file.fileName());
        RowsOfFile.everyCell(from, line)
                .forEach((name, value) -> cells.put(cells.containsKey(name) ? name + " of the row" : name, value));
        return cells;
    }
}
