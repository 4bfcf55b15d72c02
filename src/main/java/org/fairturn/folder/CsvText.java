package org.fairturn.folder;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.commons.csv.CSVFormat;

/**
 * The text of a CSV file with the place of each cell in it, so that one cell or row can be changed and every other character
 * stays as it was: line ends, quoting, the byte order mark.
 *
 * <p>The CSV library says what the cells mean but not where they stand, hence the scanner here. It is given only texts that
 * the library could read to their end, and follows it: a quote counts where it opens a cell, blanks behind the closing one
 * do not, and LF, CR LF or CR ends a row. Changes return a new object.
 */
final class CsvText {
    /**
     * A row, its cells and where it stands.
     *
     * @param from index of its first character
     * @param to index behind its last cell
     * @param end index behind its line end, which the last row need not have
     */
    record Line(int from, int to, int end, List<Place> cells) {}

    /** A cell's value, and where it stands with its quotes. */
    record Place(int from, int to, String value) {}

    private final String text;
    private final List<Line> lines;
    /** Index in the header by name; of two columns of the same name the first. */
    private final Map<String, Integer> columns = new LinkedHashMap<>();

    private CsvText(String text) {
        this.text = text;
        this.lines = new Scanner(text).lines();
        List<String> header = lines.isEmpty() ? List.of() : values(0);
        for (int i = 0; i < header.size(); i++) {
            columns.putIfAbsent(Table.word(header.get(i)), i);
        }
        columns.remove("");
    }

    /** A text that has a header and could be read to its end. */
    static CsvText of(String text) {
        return new CsvText(text);
    }

    /** The header alone, as it is written into a file that is not there yet; a byte order mark goes before it. */
    static CsvText header(String before, List<String> columns) {
        return new CsvText(before + joined(columns) + CSVFormat.RFC4180.getRecordSeparator());
    }

    String text() {
        return text;
    }

    /** Rows, the header among them; row numbers are one more than indices. */
    int size() {
        return lines.size();
    }

    List<String> values(int line) {
        return lines.get(line).cells().stream().map(Place::value).toList();
    }

    boolean isBlank(int line) {
        return values(line).stream().allMatch(value -> Table.trimmed(value).isEmpty());
    }

    /** The named columns, in their order. */
    Map<String, Integer> columns() {
        return Collections.unmodifiableMap(columns);
    }

    /** The cell as typed; empty where the row ends before it or there is no such column. */
    String value(int line, String column) {
        Integer known = columns.get(column); // names are mostly asked for as they are kept
        Integer index = known != null ? known : columns.get(Table.word(column));
        List<Place> cells = lines.get(line).cells();
        return index == null || index >= cells.size() ? "" : cells.get(index).value();
    }

    /** The first row that has more cells than there are columns, so that a new column would give a cell of it a name. */
    OptionalInt firstTooLong() {
        return IntStream.range(1, lines.size())
                .filter(line -> values(line).stream()
                        .skip(lines.get(0).cells().size())
                        .anyMatch(value -> !Table.trimmed(value).isEmpty()))
                .findFirst();
    }

    /** With columns behind the last one; the rows stay as they are, since a row may end early. */
    CsvText withColumns(Collection<String> names) {
        return names.isEmpty() ? this : with(lines.get(0).to(), "," + joined(names));
    }

    /** With one more row at the end. */
    CsvText withRow(Map<String, String> cells) {
        List<String> row =
                new ArrayList<>(Collections.nCopies(lines.get(0).cells().size(), ""));
        cells.forEach((column, value) -> row.set(columns.get(Table.word(column)), value));
        Line last = lines.get(lines.size() - 1);
        String before = last.to() == last.end() ? lineEnd() : "";
        return with(text.length(), before + joined(row) + lineEnd());
    }

    /** With other values in some cells of a row. */
    CsvText withCells(int line, Map<String, String> cells) {
        Line row = lines.get(line);
        int width = row.cells().size();
        Map<Integer, String> behind = new LinkedHashMap<>();
        StringBuilder changed = new StringBuilder(text);
        // from the back to the front, so that the places ahead stay true
        List<Map.Entry<Integer, String>> byIndex = cells.entrySet().stream()
                .map(cell -> Map.entry(columns.get(Table.word(cell.getKey())), cell.getValue()))
                .sorted(Map.Entry.<Integer, String>comparingByKey().reversed())
                .toList();
        for (Map.Entry<Integer, String> cell : byIndex) {
            if (cell.getKey() >= width && !cell.getValue().isEmpty()) { // an empty one is there by not being there
                behind.put(cell.getKey(), cell.getValue());
            }
        }
        int last = behind.keySet().stream().mapToInt(i -> i).max().orElse(-1);
        changed.insert(
                row.to(),
                IntStream.rangeClosed(width, last)
                        .mapToObj(i -> "," + written(behind.getOrDefault(i, "")))
                        .collect(Collectors.joining()));
        for (Map.Entry<Integer, String> cell : byIndex) {
            if (cell.getKey() < width) {
                Place place = row.cells().get(cell.getKey());
                if (!place.value().equals(cell.getValue())) {
                    changed.replace(place.from(), place.to(), written(cell.getValue()));
                }
            }
        }
        return new CsvText(changed.toString());
    }

    CsvText without(int line) {
        Line row = lines.get(line);
        return new CsvText(text.substring(0, row.from()) + text.substring(row.end()));
    }

    private CsvText with(int at, String more) {
        return new CsvText(text.substring(0, at) + more + text.substring(at));
    }

    /** As the header ends. */
    private String lineEnd() {
        Line header = lines.get(0);
        return header.to() == header.end()
                ? CSVFormat.RFC4180.getRecordSeparator()
                : text.substring(header.to(), header.end());
    }

    private static String joined(Collection<String> values) {
        return values.stream().map(CsvText::written).collect(Collectors.joining(","));
    }

    private static String written(String value) {
        return value.isEmpty() ? "" : CSVFormat.RFC4180.format(value);
    }

    /** Goes through a text once. */
    private static final class Scanner {
        private final String text;
        private int at;

        Scanner(String text) {
            this.text = text;
            this.at = text.length() - FolderFiles.withoutMark(text).length();
        }

        List<Line> lines() {
            List<Line> lines = new ArrayList<>();
            while (at < text.length()) {
                int from = at;
                List<Place> cells = new ArrayList<>();
                cells.add(cell());
                while (here(',')) {
                    at++;
                    cells.add(cell());
                }
                int to = at;
                at += here('\r') && at + 1 < text.length() && text.charAt(at + 1) == '\n' ? 2 : 1;
                at = Math.min(at, text.length());
                lines.add(new Line(from, to, at, List.copyOf(cells)));
            }
            return lines;
        }

        private Place cell() {
            int from = at;
            StringBuilder value = new StringBuilder();
            if (here('"')) {
                at++;
                while (at < text.length() && (!here('"') || quoteAt(at + 1))) {
                    value.append(text.charAt(at));
                    at += here('"') ? 2 : 1;
                }
                while (at < text.length() && !endsCell()) {
                    at++; // the closing quote, and blanks behind it
                }
            } else {
                while (at < text.length() && !endsCell()) {
                    value.append(text.charAt(at++));
                }
            }
            return new Place(from, at, value.toString());
        }

        private boolean endsCell() {
            return here(',') || here('\r') || here('\n');
        }

        private boolean here(char c) {
            return at < text.length() && text.charAt(at) == c;
        }

        private boolean quoteAt(int index) {
            return index < text.length() && text.charAt(index) == '"';
        }
    }
}
