package org.fairturn.folder;

import static org.fairturn.Fuzzing.promise;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.fairturn.Fuzzing;
import org.fairturn.trial.Trial;

/** A trial folder's files and bundles as anybody may hand them over. */
public final class FolderTargets {
    /** A row that fits into a sound file. */
    private static final Map<TrialFile, Map<String, String>> ROWS = Map.of(
            TrialFile.MACHINES, Map.of("machine", "Z9"),
            TrialFile.CIRCLES, Map.of("circle", "Z9", "machine", "Alder 22", "turn", "left", "drive", "2WD"),
            TrialFile.READINGS, Map.of("circle", "A1", "kind", "across", "value", "62 in"),
            TrialFile.CLAIMS, Map.of("claim", "Z9", "value", "62 in", "quantity", "uncut diameter"));

    private FolderTargets() {}

    /** What a folder holds where a target changes one file of it alone. */
    static Map<TrialFile, String> sound(TrialFile changed) {
        Map<TrialFile, String> files = new TreeMap<>();
        for (TrialFile file : TrialFile.values()) {
            Path path = Path.of("testdata", changed == TrialFile.REFERENCES ? "complaint" : "demo", file.fileName());
            if (Files.exists(path)) {
                files.put(file, content(path));
            }
        }
        return files;
    }

    static String content(Path path) {
        try {
            return Files.readString(path);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** One of the files is these bytes, the others are sound. */
    public static boolean file(TrialFile file, byte[] input) {
        Map<String, byte[]> files = new TreeMap<>();
        sound(file).forEach((other, text) -> files.put(other.fileName(), text.getBytes(StandardCharsets.UTF_8)));
        files.put(file.fileName(), input);
        String text = new String(input, StandardCharsets.UTF_8);
        TrialRead read = TrialReader.read(Path.of("meadow"), FolderFiles.held(files, List.of()));
        return understood(read, text);
    }

    /** Whether a folder was read; else each of its problems says what there is to mend. */
    public static boolean understood(TrialRead read, String input) {
        return read.fold(
                complete -> {
                    complete.notes().forEach(note -> promise(!note.text().isEmpty(), "a note says something"));
                    inRange(complete.trial());
                    return true;
                },
                faulty -> {
                    promise(!faulty.problems().isEmpty(), "whoever is refused is told why");
                    faulty.problems().forEach(problem -> explains(problem, input));
                    return false;
                });
    }

    /** Lengths and angles cannot be made of anything but finite numbers; the rest are few. */
    private static void inRange(Trial trial) {
        promise(trial.conditions().practicalMargin().metres() > 0, "a practical margin");
        promise(trial.conditions().confidence() > 0.5 && trial.conditions().confidence() < 1, "a confidence");
        promise(!trial.circles().isEmpty() && !trial.machines().isEmpty(), "something to analyse");
    }

    /** Where, what was read, what is accepted; how to mend it is left out where what is accepted says it all. */
    static void explains(Problem problem, String input) {
        promise(!problem.file().isEmpty() && problem.row() >= 0, "where: " + problem);
        promise(!problem.what().isEmpty() && !problem.accepted().isBlank(), "what and what instead: " + problem);
        promise(problem.column().isEmpty() || problem.row() > 0, "a cell is in a row: " + problem);
        promise(problem.caret() >= -1 && problem.caret() <= problem.read().length(), "a place in the cell: " + problem);
        promise(problem.mend().isEmpty() || problem.mend().matches("(?s).*[.?]"), "whole sentences: " + problem);
        Fuzzing.neverATrace(problem.message(), input);
    }

    /** The scanner that edits finds the cells the library reads, and an edit changes nothing but what it says. */
    public static boolean cells(byte[] input) {
        Problems problems = new Problems();
        FolderFiles files = FolderFiles.held(Map.of("circles.csv", input), List.of());
        Optional<String> text = files.text("circles.csv", problems);
        Optional<FolderFiles.Rows> rows = text.flatMap(
                t -> FolderFiles.rows("circles.csv", List.of("circle"), FolderFiles.withoutMark(t), problems));
        if (rows.isEmpty() || !rows.get().whole()) {
            promise(!problems.problems().isEmpty(), "whoever is refused is told why");
            return false;
        }
        CsvText csv = CsvText.of(text.get());
        promise(csv.text().equals(text.get()), "the text as it was");
        promise(csv.size() == rows.get().cells().size(), "as many rows: " + csv.size());
        for (int i = 0; i < csv.size(); i++) {
            promise(csv.values(i).equals(rows.get().cells().get(i)), "the cells of row " + (i + 1));
        }
        if (csv.columns().isEmpty()) {
            return true;
        }
        String column = csv.columns().keySet().iterator().next();
        appended(csv, column);
        for (int line = 1; line < Math.min(csv.size(), 6); line++) {
            changed(csv, line, column);
            takenOut(csv, line);
        }
        return true;
    }

    private static void appended(CsvText csv, String column) {
        CsvText after = csv.withRow(Map.of(column, "a \"new\", cell"));
        promise(after.text().startsWith(csv.text()), "what was there stays");
        CsvText again = CsvText.of(after.text());
        promise(again.size() == csv.size() + 1, "one row more");
        promise(again.value(csv.size(), column).equals("a \"new\", cell"), "the row that was added");
        sameRows(csv, again, -1);
    }

    private static void changed(CsvText csv, int line, String column) {
        CsvText again = CsvText.of(csv.withCells(line, Map.of(column, "x, y")).text());
        promise(again.size() == csv.size(), "as many rows");
        promise(again.value(line, column).equals("x, y"), "the cell that was changed");
        sameRows(csv, again, line);
        CsvText same = csv.withCells(line, Map.of(column, csv.value(line, column)));
        promise(same.text().equals(csv.text()), "a cell given the text it has changes nothing");
    }

    private static void takenOut(CsvText csv, int line) {
        CsvText again = CsvText.of(csv.without(line).text());
        List<List<String>> left = IntStream.range(0, csv.size())
                .filter(i -> i != line && !csv.isBlank(i))
                .mapToObj(csv::values)
                .toList();
        // of blank rows there may be one less, where CR and LF come together
        promise(
                IntStream.range(0, again.size())
                        .filter(i -> !again.isBlank(i))
                        .mapToObj(again::values)
                        .toList()
                        .equals(left),
                "the other rows");
    }

    private static void sameRows(CsvText before, CsvText after, int but) {
        for (int i = 0; i < before.size(); i++) {
            promise(i == but || before.values(i).equals(after.values(i)), "the other rows");
        }
    }

    /** A bundle of any bytes is a trial or a message, and nothing is written. */
    public static boolean bundle(Path folder, byte[] input) throws IOException {
        Path zip = Files.write(folder.resolve("given.zip"), input);
        TakenTrial taken = TrialFolder.take(zip);
        boolean understood = understood(taken.read(), new String(input, StandardCharsets.ISO_8859_1));
        try (var there = Files.list(folder)) {
            promise(there.count() == 1, "nothing is unpacked");
        }
        return understood;
    }

    /** The sound files as one zip. */
    public static byte[] zipped() {
        Map<String, byte[]> files = new LinkedHashMap<>();
        sound(TrialFile.TRIAL)
                .forEach((file, text) -> files.put(file.fileName(), text.getBytes(StandardCharsets.UTF_8)));
        files.put(Bundle.RESULTS, "{\"format\": \"1.0\"}".getBytes(StandardCharsets.UTF_8));
        return Bundle.pack("meadow", files);
    }

    /**
     * An edit of a folder one of whose files is these bytes is saved or refused with words; saved, every row that was there is
     * still there, and refused, every byte.
     */
    public static boolean edit(Path folder, TrialFile file, byte[] input) throws IOException {
        for (Map.Entry<TrialFile, String> other : sound(file).entrySet()) {
            Path path = folder.resolve(other.getKey().fileName());
            if (!Files.exists(path)) {
                Files.writeString(path, other.getValue());
            }
        }
        Path path = folder.resolve(file.fileName());
        Files.write(path, input);
        String text = new String(input, StandardCharsets.UTF_8);
        TrialEditor editor = TrialEditor.of(folder);
        List<ShownRow> before = editor.rows(file).rows();
        boolean added = outcome(editor.append(file, ROWS.get(file)), input, path, text);
        if (added) {
            String now = content(path);
            promise(now.startsWith(text) || text.isEmpty() || widened(text, now), "the bytes before the new row stay");
        }
        for (ShownRow shown : before.subList(0, Math.min(3, before.size()))) {
            byte[] now = Files.readAllBytes(path);
            outcome(editor.remove(file, shown.key(), shown.seen()), now, path, text);
            promise(found(folder, file, shown), "a row taken out is kept: " + shown);
        }
        Files.write(path, sound(file).get(file).getBytes(StandardCharsets.UTF_8));
        Files.deleteIfExists(folder.resolve(FolderFiles.REMOVED));
        return added;
    }

    /** A column that was missing stands behind the header; what follows the header is as it was. */
    private static boolean widened(String before, String after) {
        CsvText old = CsvText.of(before);
        CsvText now = CsvText.of(after);
        for (int i = 1; i < old.size(); i++) {
            if (!old.values(i).equals(now.values(i))) {
                return false;
            }
        }
        return now.values(0).subList(0, old.values(0).size()).equals(old.values(0));
    }

    private static boolean found(Path folder, TrialFile file, ShownRow row) throws IOException {
        boolean there = TrialEditor.of(folder).rows(file).rows().stream()
                .anyMatch(now -> now.seen().equals(row.seen()));
        Path removed = folder.resolve(FolderFiles.REMOVED);
        if (there || !Files.exists(removed)) {
            return there;
        }
        CsvText csv = CsvText.of(content(removed));
        for (int line = 1; line < csv.size(); line++) {
            if (csv.values(line)
                    .containsAll(row.cells().values().stream()
                            .filter(cell -> !Table.trimmed(cell).isEmpty())
                            .toList())) {
                return true;
            }
        }
        return false;
    }

    private static boolean outcome(Outcome outcome, byte[] before, Path path, String input) throws IOException {
        boolean saved = outcome instanceof Outcome.Saved;
        if (!saved) {
            promise(java.util.Arrays.equals(before, Files.readAllBytes(path)), "refused, nothing changes: " + outcome);
        }
        if (outcome instanceof Outcome.Refused refused) {
            promise(!refused.problems().isEmpty(), "whoever is refused is told why");
            refused.problems().forEach(problem -> explains(problem, input));
        }
        return saved;
    }
}
