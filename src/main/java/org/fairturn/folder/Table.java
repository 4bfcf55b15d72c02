package org.fairturn.folder;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** A sheet whose columns are known by name and whose blank rows are left out. */
final class Table {
    private static final Pattern BLANKS = Pattern.compile("[\\s\\h]+");

    private final TrialFile file;
    private final Problems problems;
    private final Map<String, Integer> columns = new LinkedHashMap<>();
    private final List<Row> rows = new ArrayList<>();
    private final boolean whole;

    private Table(TrialFile file, boolean whole, Problems problems) {
        this.file = file;
        this.whole = whole;
        this.problems = problems;
    }

    /** The table, with a problem for each column that is missing or there twice; empty where row 1 names no columns at all. */
    static Optional<Table> of(TrialFile file, FolderFiles.Loaded loaded, Problems problems) {
        Sheet sheet = loaded.sheet();
        List<String> header = sheet.header().stream().map(Table::trimmed).toList();
        if (header.stream().allMatch(String::isEmpty)) {
            problems.add(Problem.of(
                    file.fileName(),
                    1,
                    "a blank row",
                    "column names in row 1: " + String.join(", ", file.blankColumns()),
                    "Delete the blank rows above the column names, or write the names."));
            return Optional.empty();
        }
        if (sheet.header().size() == 1
                && (header.get(0).contains(";") || sheet.header().get(0).contains("\t"))) {
            String separator = header.get(0).contains(";") ? "semicolons" : "tabs";
            problems.add(
                    Problem.of(
                            file.fileName(),
                            1,
                            "cells separated by " + separator,
                            "cells separated by commas",
                            "In the spreadsheet, save the file again as comma-separated CSV (UTF-8), with a point as the decimal sign."));
            return Optional.empty();
        }
        Table table = new Table(file, loaded.whole(), problems);
        table.nameColumns(header, sheet.rows());
        for (int i = 0; i < sheet.rows().size(); i++) {
            List<String> cells = sheet.rows().get(i);
            if (!cells.stream().allMatch(cell -> trimmed(cell).isEmpty())) {
                table.rows.add(table.row(i + 2, cells, header.size()));
            }
        }
        return Optional.of(table);
    }

    private void nameColumns(List<String> header, List<List<String>> cells) {
        List<String> unknown = new ArrayList<>();
        BitSet filled = filled(cells);
        for (int i = 0; i < header.size(); i++) {
            String name = word(header.get(i));
            if (name.isEmpty()) {
                noteNameless(i, filled);
            } else if (!file.columns().contains(name)) {
                unknown.add(header.get(i));
            } else if (columns.putIfAbsent(name, i) != null) {
                problems.add(Problem.of(
                        file.fileName(),
                        1,
                        "the column \"" + name + "\" twice",
                        "each column once",
                        "Delete or rename one of the two."));
            }
        }
        List<String> missing = file.requiredColumns().stream()
                .filter(name -> !columns.containsKey(name))
                .toList();
        for (String name : missing) {
            String mend = Nearest.to(name, unknown)
                    .map(near -> "If the column \"" + near + "\" is meant, rename it.")
                    .orElse("Add it to row 1, which holds the column names.");
            problems.add(Problem.of(
                    file.fileName(),
                    1,
                    "no column \"" + name + "\"",
                    file.needs() + ", among others in any order",
                    mend));
        }
        List<String> free = file.columns().stream()
                .filter(name -> !columns.containsKey(name))
                .toList();
        for (String name : unknown) {
            String question = Nearest.question(word(name), free);
            problems.note(
                    file.fileName(),
                    1,
                    name,
                    "This column is not known; it is kept and not used." + (question.isEmpty() ? "" : " " + question));
        }
    }

    private void noteNameless(int index, BitSet filled) {
        if (filled.get(index)) {
            problems.note(
                    file.fileName(),
                    1,
                    "",
                    "Column " + (index + 1) + " has cells but no name; it is kept and not used.");
        }
    }

    /** The places that hold something in any row, looked at once however many columns have no name. */
    private static BitSet filled(List<List<String>> cells) {
        BitSet filled = new BitSet();
        for (List<String> row : cells) {
            for (int i = 0; i < row.size(); i++) {
                if (!trimmed(row.get(i)).isEmpty()) {
                    filled.set(i);
                }
            }
        }
        return filled;
    }

    private Row row(int number, List<String> cells, int width) {
        int last = cells.size();
        while (trimmed(cells.get(last - 1)).isEmpty()) {
            last--;
        }
        boolean tooLong = last > width;
        if (tooLong) {
            problems.add(tooLong(file.fileName(), number, last, width));
        }
        return new Row(this, number, cells, tooLong);
    }

    static Problem tooLong(String fileName, int number, int cells, int width) {
        return Problem.of(
                fileName,
                number,
                cells + " cells",
                "at most " + width + ", one for each column in row 1",
                "Put a text with a comma in double quotes, and write decimals with a point.");
    }

    /** True where nothing hid rows or the column: what this table does not list there does not exist. */
    boolean tellsAll(String column) {
        return whole && columns.containsKey(column);
    }

    boolean whole() {
        return whole;
    }

    String fileName() {
        return file.fileName();
    }

    List<Row> rows() {
        return rows;
    }

    Problems problems() {
        return problems;
    }

    boolean hasColumn(String column) {
        return columns.containsKey(column);
    }

    boolean isRequired(String column) {
        return file.requiredColumns().contains(column);
    }

    String cell(List<String> cells, String column) {
        Integer index = columns.get(column);
        return index == null || index >= cells.size() ? "" : trimmed(cells.get(index));
    }

    /** The text without the blanks around it, among them those that spreadsheets and phones like to add. */
    static String trimmed(String cell) {
        int from = 0;
        int to = cell.length();
        while (from < to && isBlank(cell.charAt(from))) {
            from++;
        }
        while (to > from && isBlank(cell.charAt(to - 1))) {
            to--;
        }
        return cell.substring(from, to);
    }

    /** Nearly every text is one already, and this is asked of every cell that holds a word. */
    private static boolean isWord(String text) {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean singleBlank = c == ' ' && i > 0 && i < text.length() - 1 && text.charAt(i - 1) != ' ';
            if (!(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9') && !singleBlank) {
                return false;
            }
        }
        return true;
    }

    private static boolean isBlank(char c) {
        return Character.isWhitespace(c) || Character.isSpaceChar(c) || c == '\uFEFF';
    }

    /** A name or word as it is compared: lower case, single blanks. */
    static String word(String text) {
        return isWord(text)
                ? text
                : BLANKS.matcher(trimmed(text)).replaceAll(" ").toLowerCase(Locale.ROOT);
    }
}
