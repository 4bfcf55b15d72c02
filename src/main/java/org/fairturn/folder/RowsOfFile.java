package org.fairturn.folder;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;

/** The rows of one file, each with its key and its fingerprint; blank ones are left out. */
final class RowsOfFile {
    /** What a file tells its rows apart by; readings, points and references have nothing of the kind. */
    private static final Map<TrialFile, List<String>> IDS = Map.of(
            TrialFile.TRIAL, List.of("field"),
            TrialFile.MACHINES, List.of("machine"),
            TrialFile.BLADES, List.of("machine", "spindle"),
            TrialFile.STOPS, List.of("machine", "side"),
            TrialFile.CIRCLES, List.of("circle"),
            TrialFile.CLAIMS, List.of("claim"));

    private final TrialFile file;
    private final CsvText csv;
    /** Whether the file has the column for entry ids. */
    private final boolean entries;
    /** By line; those of blank lines and of the header are missing. */
    private final Map<Integer, ShownRow.Key> keys = new LinkedHashMap<>();

    RowsOfFile(TrialFile file, CsvText csv) {
        this.file = file;
        this.csv = csv;
        this.entries = file.columns().contains(TrialFile.ENTRY);
        Map<ShownRow.Key, Integer> count = new HashMap<>();
        for (int line = 1; line < csv.size(); line++) {
            ShownRow.Key key = key(line);
            count.merge(key, 1, Integer::sum);
            if (!csv.isBlank(line)) {
                keys.put(line, key);
            }
        }
        keys.replaceAll((line, key) -> count.get(key) == 1 ? key : ShownRow.Key.row(line + 1));
    }

    List<ShownRow> all() {
        return keys.keySet().stream().map(this::shown).toList();
    }

    /** The row of that number and those below it. */
    List<ShownRow> from(int number) {
        return keys.keySet().stream()
                .filter(line -> line + 1 >= number)
                .map(this::shown)
                .toList();
    }

    ShownRow numbered(int number) {
        if (!keys.containsKey(number - 1)) {
            throw new IllegalArgumentException("no row " + number);
        }
        return shown(number - 1);
    }

    /** The first row that was entered under an id. */
    Optional<ShownRow> entered(String id) {
        return keys.keySet().stream()
                .filter(line -> id.equals(Table.trimmed(csv.value(line, TrialFile.ENTRY))))
                .findFirst()
                .map(this::shown);
    }

    /**
     * The row that was shown, wherever it stands now, if it is as it was shown; else the row as it stands now, if it is there.
     * Rows without an id are found by what is in them: of two alike, one is as good as the other.
     */
    <R> R find(ShownRow.Key key, String seen, Function<ShownRow, R> found, Function<Optional<ShownRow>, R> changed) {
        Optional<ShownRow> named = keys.entrySet().stream()
                .filter(line -> line.getValue().equals(key))
                .findFirst()
                .map(line -> shown(line.getKey()));
        if (named.isPresent() && (named.get().seen().equals(seen) || !key.isNumber())) {
            return named.get().seen().equals(seen) ? found.apply(named.get()) : changed.apply(named);
        }
        Optional<ShownRow> moved =
                all().stream().filter(row -> row.seen().equals(seen)).findFirst();
        return moved.isPresent() ? found.apply(moved.get()) : changed.apply(named);
    }

    private ShownRow.Key key(int line) {
        String entry = Table.trimmed(csv.value(line, TrialFile.ENTRY));
        if (entries && !entry.isEmpty()) {
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

    private ShownRow shown(int line) {
        Map<String, String> cells = new LinkedHashMap<>();
        csv.columns().keySet().forEach(column -> cells.put(column, csv.value(line, column)));
        return new ShownRow(file, keys.get(line), line + 1, cells, fingerprint(everyCell(csv, line)));
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
