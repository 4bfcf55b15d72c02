package org.fairturn.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.fairturn.folder.Problem;
import org.fairturn.folder.Sheet;
import org.fairturn.folder.TrialFolder;

/** Edits whole sheets: reads the file, changes the row, tries the folder with it, and saves it where that brings no new problem. */
final class SheetEditor implements Editor {
    /** One edit at a time in this server, so that none overwrites another. */
    private static final Object TURN = new Object();

    private final Path folder;

    SheetEditor(Path folder) {
        this.folder = folder;
    }

    private Optional<Sheet> sheet(String file) {
        return TrialFolder.sheets(folder).sheets().stream()
                .filter(sheet -> sheet.file().equals(file))
                .findFirst();
    }

    @Override
    public List<SheetRow> rows(String file) {
        return sheet(file).map(SheetEditor::rows).orElse(List.of());
    }

    private static List<SheetRow> rows(Sheet sheet) {
        List<SheetRow> rows = new ArrayList<>();
        for (int i = 0; i < sheet.rows().size(); i++) {
            List<String> cells = sheet.rows().get(i);
            if (cells.stream().anyMatch(cell -> !cell.isBlank())) {
                rows.add(new SheetRow(String.valueOf(i), fingerprint(cells), named(sheet.header(), cells)));
            }
        }
        return rows;
    }

    private static Map<String, String> named(List<String> header, List<String> cells) {
        Map<String, String> named = new HashMap<>();
        for (int i = 0; i < Math.min(header.size(), cells.size()); i++) {
            named.putIfAbsent(column(header.get(i)), cells.get(i).strip());
        }
        return named;
    }

    private static String column(String name) {
        return name.strip().toLowerCase(Locale.ROOT);
    }

    private static String fingerprint(List<String> cells) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            cells.forEach(cell -> digest.update((cell + '\0').getBytes(StandardCharsets.UTF_8)));
            return HexFormat.of().formatHex(digest.digest()).substring(0, 16);
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible); // every Java has this algorithm
        }
    }

    @Override
    public Outcome append(String file, Map<String, String> cells) {
        synchronized (TURN) {
            return sheet(file)
                    .map(sheet -> {
                        Sheet wide = widened(sheet, cells);
                        List<List<String>> rows = new ArrayList<>(wide.rows());
                        rows.add(filled(wide.header(), List.of(), cells));
                        return save(wide, rows);
                    })
                    .orElseGet(() -> unreadable(file));
        }
    }

    @Override
    public Outcome change(String file, String key, Map<String, String> cells, String seen) {
        return edit(file, key, seen, sheet -> widened(sheet, cells), cells);
    }

    @Override
    public Outcome remove(String file, String key, String seen) {
        return edit(file, key, seen, UnaryOperator.identity(), Map.of());
    }

    /** Without cells, the row is taken out. */
    private Outcome edit(String file, String key, String seen, UnaryOperator<Sheet> widen, Map<String, String> cells) {
        synchronized (TURN) {
            Optional<Sheet> found = sheet(file);
            if (found.isEmpty()) {
                return unreadable(file);
            }
            Optional<SheetRow> row = rows(found.get()).stream()
                    .filter(one -> one.seen().equals(seen))
                    // the same row in the same place; one that was moved is still the same
                    .min((a, b) ->
                            Boolean.compare(!a.key().equals(key), !b.key().equals(key)));
            if (row.isEmpty()) {
                return new Outcome.ChangedMeanwhile();
            }
            Sheet wide = widen.apply(found.get());
            List<List<String>> rows = new ArrayList<>(wide.rows());
            int index = Integer.parseInt(row.get().key());
            if (cells.isEmpty()) {
                rows.remove(index);
            } else {
                rows.set(index, filled(wide.header(), rows.get(index), cells));
            }
            return save(wide, rows);
        }
    }

    /** The sheet with a column for each of these cells. */
    private static Sheet widened(Sheet sheet, Map<String, String> cells) {
        List<String> header = new ArrayList<>(sheet.header());
        List<String> there = header.stream().map(SheetEditor::column).toList();
        cells.keySet().stream()
                .filter(column -> !there.contains(column) && !cells.get(column).isEmpty())
                .sorted()
                .forEach(header::add);
        return new Sheet(sheet.file(), header, sheet.rows());
    }

    private static List<String> filled(List<String> header, List<String> before, Map<String, String> cells) {
        List<String> row = new ArrayList<>(before);
        for (int i = 0; i < header.size(); i++) {
            String cell = cells.get(column(header.get(i)));
            while (row.size() <= i) {
                row.add("");
            }
            if (cell != null) {
                row.set(i, cell);
            }
        }
        return row;
    }

    private Outcome save(Sheet sheet, List<List<String>> rows) {
        Sheet edited = new Sheet(sheet.file(), sheet.header(), rows);
        List<Problem> brought = broughtBy(edited);
        if (!brought.isEmpty()) {
            return new Outcome.Refused(brought);
        }
        return TrialFolder.save(folder, edited)
                .<Outcome>map(problem -> new Outcome.Refused(List.of(problem)))
                .orElse(new Outcome.Saved());
    }

    /** Problems of the folder with this sheet in it that it does not have now. */
    private List<Problem> broughtBy(Sheet edited) {
        try {
            Path copy = Files.createTempDirectory("fairturn");
            try {
                for (Sheet sheet : TrialFolder.sheets(folder).sheets()) {
                    TrialFolder.save(copy, sheet.file().equals(edited.file()) ? edited : sheet);
                }
                List<Problem> brought = new ArrayList<>(problems(copy));
                List<String> before = new ArrayList<>(
                        problems(folder).stream().map(SheetEditor::withoutRow).toList());
                brought.removeIf(problem ->
                        problem.file().equals(TrialFolder.nameOf(copy)) || before.remove(withoutRow(problem)));
                return brought.stream().filter(problem -> problem.row() > 0).toList();
            } finally {
                delete(copy);
            }
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }

    private static String withoutRow(Problem problem) {
        return problem.file() + '\0' + problem.column() + '\0' + problem.read();
    }

    private static List<Problem> problems(Path folder) {
        return TrialFolder.read(folder).fold(read -> List.of(), faulty -> faulty.problems());
    }

    private static void delete(Path copy) throws IOException {
        try (Stream<Path> files = Files.list(copy)) {
            for (Path file : files.toList()) {
                Files.delete(file);
            }
        }
        Files.delete(copy);
    }

    private Outcome unreadable(String file) {
        List<Problem> problems = TrialFolder.sheets(folder).problems().stream()
                .filter(problem -> problem.file().equals(file))
                .toList();
        if (problems.isEmpty()) {
            return new Outcome.Refused(List.of(new Problem(
                    file,
                    0,
                    "",
                    "no such file",
                    "a CSV file with column names in row 1",
                    "Add it to the folder.",
                    -1)));
        }
        return new Outcome.Refused(problems);
    }
}
