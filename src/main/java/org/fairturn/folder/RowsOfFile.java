package org.fairturn.folder;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The rows of one file, each with its key and its fingerprint; blank ones are left out. */
final class RowsOfFile {
    /** What a file tells its rows apart by; readings and points have nothing of the kind. */
    private static final Map<TrialFile, List<String>> IDS = Map.of(
            TrialFile.TRIAL, List.of("field"),
            TrialFile.MACHINES, List.of("machine"),
            TrialFile.BLADES, List.of("machine", "spindle"),
            TrialFile.STOPS, List.of("machine", "side"),
            TrialFile.CIRCLES, List.of("circle"),
            TrialFile.CLAIMS, List.of("claim"));

    private final TrialFile file;
    private final CsvText csv;
    private final List<ShownRow> rows = new ArrayList<>();

    RowsOfFile(TrialFile file, CsvText csv) {
        this.file = file;
        this.csv = csv;
        List<ShownRow.Key> keys = new ArrayList<>();
        for (int line = 1; line < csv.size(); line++) {
            keys.add(key(line));
        }
        Map<ShownRow.Key, Long> count = keys.stream().collect(Collectors.groupingBy(key -> key, Collectors.counting()));
        for (int line = 1; line < csv.size(); line++) {
            if (!csv.isBlank(line)) {
                ShownRow.Key key = keys.get(line - 1);
                rows.add(shown(line, count.get(key) == 1 ? key : ShownRow.Key.row(line + 1)));
            }
        }
    }

    List<ShownRow> all() {
        return rows;
    }

    /** The row that stands last; there must be one. */
    ShownRow last() {
        return rows.get(rows.size() - 1);
    }

    ShownRow numbered(int number) {
        return rows.stream()
                .filter(row -> row.number() == number)
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no row " + number));
    }

    /** The first row that was entered under an id. */
    Optional<ShownRow> entered(String id) {
        return rows.stream()
                .filter(row -> id.equals(Table.trimmed(row.cells().getOrDefault(TrialFile.ENTRY, ""))))
                .findFirst();
    }

    /**
     * The row that was shown, wherever it stands now, if it is as it was shown; else the row as it stands now, if it is there.
     * Rows without an id are found by what is in them: of two alike, one is as good as the other.
     */
    <R> R find(ShownRow.Key key, String seen, Function<ShownRow, R> found, Function<Optional<ShownRow>, R> changed) {
        Optional<ShownRow> named =
                rows.stream().filter(row -> row.key().equals(key)).findFirst();
        if (named.isPresent() && (named.get().seen().equals(seen) || !key.isNumber())) {
            return named.get().seen().equals(seen) ? found.apply(named.get()) : changed.apply(named);
        }
        Optional<ShownRow> moved =
                rows.stream().filter(row -> row.seen().equals(seen)).findFirst();
        return moved.isPresent() ? found.apply(moved.get()) : changed.apply(named);
    }

    private ShownRow.Key key(int line) {
        String entry = Table.trimmed(csv.value(line, TrialFile.ENTRY));
        if (file.columns().contains(TrialFile.ENTRY) && !entry.isEmpty()) {
            return ShownRow.Key.entry(entry);
        }
        List<String> names = IDS.getOrDefault(file, List.of());
        List<String> ids = names.stream()
                .map(name -> Table.trimmed(csv.value(line, name)))
                .map(id -> file == TrialFile.TRIAL ? Table.word(id) : id)
                .toList();
        return ids.isEmpty() || ids.contains("")
                ? ShownRow.Key.row(line + 1)
                : ShownRow.Key.of(String.join(", ", names), String.join(", ", ids));
    }

    private ShownRow shown(int line, ShownRow.Key key) {
        Map<String, String> cells = new LinkedHashMap<>();
        csv.columns().keySet().forEach(column -> cells.put(column, csv.value(line, column)));
        return new ShownRow(file, key, line + 1, cells, fingerprint(everyCell(csv, line)));
    }

    /** What is not empty, by column; a cell whose column has no name of its own goes by its place. */
    static Map<String, String> everyCell(CsvText csv, int line) {
        Map<Integer, String> names = new HashMap<>();
        csv.columns().forEach((name, index) -> names.put(index, name));
        Map<String, String> cells = new LinkedHashMap<>();
        List<String> values = csv.values(line);
        for (int i = 0; i < values.size(); i++) {
            if (!values.get(i).isEmpty()) {
                cells.put(names.getOrDefault(i, "cell " + (i + 1)), values.get(i));
            }
        }
        return cells;
    }

    /** The same for the same cells, in whatever order and with whatever quotes a spreadsheet writes them. */
    static String fingerprint(Map<String, String> cells) {
        Fingerprint print = new Fingerprint();
        new TreeMap<>(cells).forEach((name, value) -> print.add(name).add(value));
        return print.text();
    }
}
