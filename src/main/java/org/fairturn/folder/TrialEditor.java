package org.fairturn.folder;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Function;
import org.fairturn.folder.EditQueue.Plan;
import org.fairturn.folder.EditQueue.Write;

/**
 * Changes a trial folder row by row, while other people and their spreadsheets may change it too.
 *
 * <p>Each edit starts from what is on disk at that moment and touches nothing else in the file: every other character stays.
 * Edits of one folder wait for each other, in this program and among programs; those of one file that wait together go to disk
 * in one write. What {@link Outcome.Saved} reports has been forced to disk. An edit is refused where it would itself bring in a problem, in its row or in rows that refer to it; what
 * is wrong elsewhere, or only missing yet, blocks nobody.
 *
 * <p>A file that cannot be read to its end (an open quote, another encoding) cannot be edited safely and is refused with
 * that problem. A program that knows nothing of this, such as a spreadsheet, is noticed if it writes before the rename that
 * ends an edit; the edit then starts over. Not noticed is one that writes in the instant between that look and the rename,
 * and nothing can help against one that opened a file before an edit and saves its old copy over it afterwards.
 *
 * <p>Safe for use by several threads; any number of editors may be open on one folder.
 */
public final class TrialEditor {
    private static final Lately<Rows> ROWS = new Lately<>();
    private static final Lately<Text> TEXTS = new Lately<>();
    private static final String MACHINE = "machine";

    /** All that name a machine. */
    private static final List<TrialFile> MACHINE_LAST = List.of(
            TrialFile.BLADES,
            TrialFile.STOPS,
            TrialFile.CIRCLES,
            TrialFile.CLAIMS,
            TrialFile.REFERENCES,
            TrialFile.MACHINES);

    private final Path folder;
    private final Clock clock;
    private final Consumer<AtomicFile.Step> reached;

    TrialEditor(Path folder, Clock clock, Consumer<AtomicFile.Step> reached) {
        this.folder = folder;
        this.clock = clock;
        this.reached = reached;
    }

    /**
     * {@return an editor of a trial folder}
     *
     * @param folder may still be empty
     */
    public static TrialEditor of(Path folder) {
        return new TrialEditor(folder, Clock.system(ZoneId.systemDefault()), step -> {});
    }

    /** {@return what is on disk now} */
    public TrialRead read() {
        return TrialReader.read(folder);
    }

    /** {@return what stands for all files of the trial as they are on disk now: another as soon as one byte of them is} */
    public String version() {
        return version(FolderFiles.open(folder, new Problems()).map(FolderFiles::taken));
    }

    private static String version(Optional<FolderFiles> taken) {
        Fingerprint print = new Fingerprint();
        taken.ifPresent(files ->
                files.contents().forEach((name, content) -> print.add(name).add(content)));
        return print.text();
    }

    /**
     * A file as it is shown to people who may change it.
     *
     * @param columns names in the order of the file; those it could have as well are in {@link TrialFile#columns}
     * @param rows without blank ones
     * @param problems why the file cannot be edited; what is wrong inside a cell is no matter here
     */
    public record Rows(List<String> columns, List<ShownRow> rows, List<Problem> problems) {
        /**
         * Keeps its own copy of each list.
         *
         * @param columns names in the order of the file; those it could have as well are in {@link TrialFile#columns}
         * @param rows without blank ones
         * @param problems why the file cannot be edited; what is wrong inside a cell is no matter here
         */
        public Rows {
            columns = List.copyOf(columns);
            rows = List.copyOf(rows);
            problems = List.copyOf(problems);
        }
    }

    /**
     * {@return the rows of a file as they are on disk now}
     *
     * @param file may be missing, and has no rows then
     */
    public Rows rows(TrialFile file) {
        Problems problems = new Problems();
        return rows(file, FolderFiles.open(folder, problems).map(FolderFiles::taken), problems);
    }

    /**
     * {@return a row as it was shown, wherever it stands now; empty where it is gone or changed}
     *
     * @param file the file it was shown of
     * @param key as it was shown
     * @param seen as it was shown
     */
    public Optional<ShownRow> find(TrialFile file, ShownRow.Key key, String seen) {
        Problems problems = new Problems();
        return FolderFiles.open(folder, problems)
                .map(FolderFiles::taken)
                .flatMap(now -> text(file, now, problems))
                .flatMap(csv -> new RowsOfFile(file, csv).find(key, seen, Optional::of, changed -> Optional.empty()));
    }

    /**
     * Several files of one moment.
     *
     * @param version as {@link #version} gives it
     * @param files rows of each file asked for
     */
    public record Shown(String version, Map<TrialFile, Rows> files) {
        /**
         * Keeps its own copy of the map.
         *
         * @param version as {@link #version} gives it
         * @param files rows of each file asked for
         */
        public Shown {
            files = Map.copyOf(files);
        }
    }

    /**
     * {@return files as they are shown to people, all read at one moment}
     *
     * @param files which ones
     */
    public Shown shown(TrialFile... files) {
        Problems problems = new Problems();
        Optional<FolderFiles> now = FolderFiles.open(folder, problems).map(FolderFiles::taken);
        Map<TrialFile, Rows> rows = new EnumMap<>(TrialFile.class);
        for (TrialFile file : files) {
            rows.put(file, rows(file, now, problems));
        }
        return new Shown(version(now), rows);
    }

    private static Rows rows(TrialFile file, Optional<FolderFiles> now, Problems problems) {
        Optional<byte[]> taken = now.map(files -> files.contents().get(file.fileName()));
        return taken.isPresent()
                ? ROWS.of(now.orElseThrow().path(file), taken.get(), () -> parsed(file, now, new Problems()))
                : parsed(file, now, problems);
    }

    private static Rows parsed(TrialFile file, Optional<FolderFiles> now, Problems problems) {
        Optional<CsvText> csv = now.flatMap(files -> text(file, files, problems));
        return new Rows(
                csv.map(text -> List.copyOf(text.columns().keySet())).orElse(List.of()),
                csv.map(text -> new RowsOfFile(file, text).all()).orElse(List.of()),
                csv.isPresent() ? List.of() : problems.problems());
    }

    /**
     * Adds a row at the end. Columns that are missing are added, a file that is missing is made.
     *
     * @param file which one
     * @param cells texts by column; blank ones may be left out
     * @return the row as it stands now, or what kept it from being saved
     */
    public Outcome append(TrialFile file, Map<String, String> cells) {
        return append(file, there -> List.of(cells));
    }

    /**
     * Adds rows at the end, all of them or none, in one step.
     *
     * @param rows what to add, given what is there; it is asked again where another program writes meanwhile
     */
    Outcome append(TrialFile file, Function<Rows, List<Map<String, String>>> rows) {
        return edit(
                file,
                files -> appended(
                        file,
                        files,
                        rows.apply(rows(file, Optional.of(files), new Problems())).stream()
                                .map(TrialEditor::words)
                                .toList()));
    }

    /**
     * Adds a row once, however often it is sent: where the id was saved before, even if the row was taken out since, nothing
     * happens.
     *
     * @param file one with the column {@code entry}
     * @param cells texts by column; blank ones may be left out
     * @param entry id, the same each time the row is sent and no other row's
     * @return the row as it stands now, or why nothing was saved
     */
    public Outcome append(TrialFile file, Map<String, String> cells, String entry) {
        if (!file.columns().contains(TrialFile.ENTRY)) {
            throw new IllegalArgumentException("file is " + file + "; must have the column " + TrialFile.ENTRY);
        }
        String id = Table.trimmed(entry);
        Map<String, String> row = words(cells);
        row.put(TrialFile.ENTRY, id);
        return edit(file, files -> appendedOnce(file, files, row, id));
    }

    /**
     * Writes other texts into some cells of a row.
     *
     * @param file which one
     * @param row which row
     * @param cells new texts by column; columns that are not named stay as they are
     * @param seen the row's fingerprint as it was shown
     * @return the row as it stands now, or why nothing was saved
     */
    public Outcome change(TrialFile file, ShownRow.Key row, Map<String, String> cells, String seen) {
        return edit(file, files -> changed(file, files, row, words(cells), seen));
    }

    /**
     * Takes a row out and keeps it in {@code removed.csv}. The id it was entered under stays taken.
     *
     * @param file which one
     * @param row which row
     * @param seen the row's fingerprint as it was shown
     * @return the row that was taken out, or why nothing was
     */
    public Outcome remove(TrialFile file, ShownRow.Key row, String seen) {
        return edit(file, files -> removed(file, files, row, seen));
    }

    /**
     * Gives a machine another id, in {@code machines.csv} and in every row of other files that names it.
     *
     * <p>Each file is replaced in one step, {@code machines.csv} last. Where a crash comes between two of them, the rows
     * that name the new id already are reported by the next reading, and renaming once more mends it.
     *
     * @param row of machines.csv
     * @param id the new one
     * @param seen the fingerprint of the machine's row as it was shown
     * @return the machine's row as it stands now, or why nothing was saved
     */
    public Outcome renameMachine(ShownRow.Key row, String id, String seen) {
        return edit(TrialFile.MACHINES, files -> renamed(files, row, Table.trimmed(id), seen));
    }

    private Outcome edit(TrialFile file, Function<FolderFiles, Plan> planner) {
        Problems problems = new Problems();
        if (FolderFiles.open(folder, problems).isPresent()) {
            try {
                return EditQueue.of(folder).carryOut(folder, file, planner, clock, reached);
            } catch (IOException gone) {
                problems.add(TrialFolder.notWritten(FolderLock.FILE));
            }
        }
        return new Outcome.Refused(problems.problems());
    }

    private Plan appendedOnce(TrialFile file, FolderFiles files, Map<String, String> row, String entry) {
        Problems problems = new Problems();
        Optional<CsvText> csv = text(file, files, problems);
        Optional<RemovedRows> removed = removedRows(files, problems);
        if (csv.isEmpty() || removed.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        if (entry.isEmpty()) {
            return Plan.refused(List.of(new Problem(
                    file.fileName(),
                    csv.get().size() + 1,
                    TrialFile.ENTRY,
                    "",
                    "an id that no other row has",
                    "Load the page again.",
                    -1)));
        }
        Optional<ShownRow> there = new RowsOfFile(file, csv.get()).entered(entry);
        if (there.isPresent()) {
            return Plan.nothing(new Outcome.AlreadyThere(there.get(), false));
        }
        Optional<ShownRow> takenOut = removed.get().find(file, entry);
        return takenOut.isPresent()
                ? Plan.nothing(new Outcome.AlreadyThere(takenOut.get(), true))
                : appended(file, files, List.of(row));
    }

    private Plan appended(TrialFile file, FolderFiles files, List<Map<String, String>> rows) {
        Problems problems = new Problems();
        Optional<CsvText> csv = text(file, files, problems);
        if (csv.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        int first = csv.get().size() + 1;
        CsvText after = csv.get();
        for (Map<String, String> row : rows) {
            int number = after.size() + 1;
            checkCells(file, after, number, row, problems);
            Optional<CsvText> wide = widened(file.fileName(), after, row, problems);
            if (!problems.problems().isEmpty() || wide.isEmpty()) {
                return Plan.refused(problems.problems());
            }
            if (row.values().stream().allMatch(value -> Table.trimmed(value).isEmpty())) {
                return Plan.refused(List.of(blankRow(file, number, "Fill in the row and save again.")));
            }
            after = wide.get().withRow(inColumns(wide.get(), row));
        }
        if (rows.isEmpty()) {
            return Plan.nothing(new Outcome.Saved(List.of()));
        }
        List<Problem> brought = problems(files.with(file.fileName(), bytes(after))).stream()
                .filter(problem -> problem.file().equals(file.fileName()) && problem.row() >= first)
                .toList();
        return brought.isEmpty()
                ? new Plan(
                        new Outcome.Saved(new RowsOfFile(file, after).from(first)),
                        List.of(new Write(file.fileName(), after)))
                : Plan.refused(brought);
    }

    private Plan changed(TrialFile file, FolderFiles files, ShownRow.Key key, Map<String, String> cells, String seen) {
        Problems problems = new Problems();
        Optional<CsvText> csv = text(file, files, problems);
        if (csv.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        return new RowsOfFile(file, csv.get())
                .find(
                        key,
                        seen,
                        found -> changed(file, files, csv.get(), found, cells),
                        now -> Plan.nothing(
                                now.isPresent() && holds(now.get(), cells)
                                        ? new Outcome.AlreadyThere(now.get(), false)
                                        : new Outcome.ChangedMeanwhile(now)));
    }

    private Plan changed(TrialFile file, FolderFiles files, CsvText csv, ShownRow row, Map<String, String> cells) {
        if (holds(row, cells)) {
            return Plan.nothing(new Outcome.AlreadyThere(row, false));
        }
        Problems problems = new Problems();
        checkCells(file, csv, row.number(), cells, problems);
        checkEntryStays(row, cells, problems);
        Optional<CsvText> wide = widened(file.fileName(), csv, cells, problems);
        if (!problems.problems().isEmpty() || wide.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        int line = row.number() - 1;
        CsvText after = wide.get().withCells(line, inColumns(wide.get(), cells));
        if (after.isBlank(line)) {
            return Plan.refused(List.of(blankRow(file, row.number(), "Take the row out instead.")));
        }
        List<Problem> brought = brought(files, files.with(file.fileName(), bytes(after)), problem -> problem);
        return brought.isEmpty()
                ? new Plan(
                        new Outcome.Saved(new RowsOfFile(file, after).numbered(row.number())),
                        List.of(new Write(file.fileName(), after)))
                : Plan.refused(brought);
    }

    private Plan removed(TrialFile file, FolderFiles files, ShownRow.Key key, String seen) {
        Problems problems = new Problems();
        Optional<CsvText> csv = text(file, files, problems);
        Optional<RemovedRows> removed = removedRows(files, problems);
        if (csv.isEmpty() || removed.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        return new RowsOfFile(file, csv.get())
                .find(
                        key,
                        seen,
                        found -> removed(file, files, csv.get(), removed.get(), found),
                        now -> Plan.nothing(
                                now.isEmpty() && removed.get().find(file, key).isPresent()
                                        ? new Outcome.AlreadyThere(
                                                removed.get().find(file, key).get(), true)
                                        : new Outcome.ChangedMeanwhile(now)));
    }

    private Plan removed(TrialFile file, FolderFiles files, CsvText csv, RemovedRows removed, ShownRow row) {
        int line = row.number() - 1;
        CsvText after = csv.without(line);
        List<Problem> brought = brought(
                files,
                files.with(file.fileName(), bytes(after)),
                problem -> problem.file().equals(file.fileName()) && problem.row() > row.number()
                        ? problem.inRow(problem.row() - 1)
                        : problem);
        if (!brought.isEmpty()) {
            return Plan.refused(brought);
        }
        List<Write> writes = new ArrayList<>();
        boolean listed = removed.find(file, row.key())
                .filter(earlier -> earlier.seen().equals(row.seen()))
                .isPresent();
        if (!listed) { // else a crash came between the two writes
            Problems problems = new Problems();
            Map<String, String> cells = removed.record(file, csv, line, clock);
            Optional<CsvText> wide = widened(FolderFiles.REMOVED, removed.csv(), cells, problems);
            if (wide.isEmpty()) {
                return Plan.refused(problems.problems());
            }
            writes.add(new Write(FolderFiles.REMOVED, wide.get().withRow(inColumns(wide.get(), cells))));
        }
        // the row is kept before it goes, so that no moment is without it
        writes.add(new Write(file.fileName(), after));
        return new Plan(new Outcome.Saved(row), writes);
    }

    private Plan renamed(FolderFiles files, ShownRow.Key key, String id, String seen) {
        Problems problems = new Problems();
        Optional<CsvText> csv = text(TrialFile.MACHINES, files, problems);
        if (csv.isEmpty()) {
            return Plan.refused(problems.problems());
        }
        return new RowsOfFile(TrialFile.MACHINES, csv.get())
                .find(
                        key,
                        seen,
                        found -> found.cell(MACHINE).isEmpty()
                                ? changed(TrialFile.MACHINES, files, csv.get(), found, Map.of(MACHINE, id))
                                : renamed(files, found, id),
                        now -> Plan.nothing(
                                now.isPresent() && now.get().cell(MACHINE).equals(id)
                                        ? new Outcome.AlreadyThere(now.get(), false)
                                        : new Outcome.ChangedMeanwhile(now)));
    }

    private Plan renamed(FolderFiles files, ShownRow row, String id) {
        if (row.cell(MACHINE).equals(id)) {
            return Plan.nothing(new Outcome.AlreadyThere(row, false));
        }
        Problems problems = new Problems();
        List<Write> writes = new ArrayList<>();
        FolderFiles after = files;
        for (TrialFile file : MACHINE_LAST) {
            Optional<CsvText> csv = files.has(file) ? text(file, files, problems) : Optional.empty();
            if (csv.isPresent()) {
                CsvText renamed = csv.get();
                if (file == TrialFile.MACHINES) {
                    checkCells(file, renamed, row.number(), Map.of(MACHINE, id), problems);
                }
                for (int line = 1; line < renamed.size(); line++) {
                    if (Table.trimmed(renamed.value(line, MACHINE)).equals(row.cell(MACHINE))) {
                        renamed = renamed.withCells(line, Map.of(MACHINE, id));
                    }
                }
                if (!renamed.text().equals(csv.get().text())) {
                    writes.add(new Write(file.fileName(), renamed));
                    after = after.with(file.fileName(), bytes(renamed));
                }
            }
        }
        List<Problem> brought =
                problems.problems().isEmpty() ? brought(files, after, problem -> problem) : problems.problems();
        CsvText machines = writes.get(writes.size() - 1).csv();
        return brought.isEmpty()
                ? new Plan(
                        new Outcome.Saved(new RowsOfFile(TrialFile.MACHINES, machines).numbered(row.number())), writes)
                : Plan.refused(brought);
    }

    private static Map<String, String> words(Map<String, String> cells) {
        Map<String, String> words = new LinkedHashMap<>();
        cells.forEach((column, text) -> words.put(Table.word(column), text));
        return words;
    }

    private static boolean holds(ShownRow row, Map<String, String> cells) {
        return cells.entrySet().stream()
                .allMatch(cell -> row.cells().getOrDefault(cell.getKey(), "").equals(cell.getValue()));
    }

    /** Texts for columns that are there; those left out are empty. */
    private static Map<String, String> inColumns(CsvText csv, Map<String, String> cells) {
        Map<String, String> there = new LinkedHashMap<>(cells);
        there.keySet().retainAll(csv.columns().keySet());
        return there;
    }

    private static byte[] bytes(CsvText csv) {
        return csv.text().getBytes(StandardCharsets.UTF_8);
    }

    /** The text of a file that can be edited, a new one where there is none; empty, with problems, where it cannot. */
    private static Optional<CsvText> text(TrialFile file, FolderFiles files, Problems problems) {
        byte[] taken = files.contents().get(file.fileName());
        if (taken == null) {
            return parsed(file, files, problems);
        }
        Text lately = TEXTS.of(files.path(file), taken, () -> {
            Problems own = new Problems();
            return new Text(parsed(file, files, own), own.problems());
        });
        lately.problems().forEach(problems::add);
        return lately.csv();
    }

    private record Text(Optional<CsvText> csv, List<Problem> problems) {}

    private static Optional<CsvText> parsed(TrialFile file, FolderFiles files, Problems problems) {
        return text(file.fileName(), file.blankColumns(), files, problems).filter(csv -> {
            Problems ofTable = new Problems();
            boolean named = files.load(file, new Problems())
                    .map(loaded -> Table.of(file, loaded, ofTable).isPresent())
                    .orElse(true); // there is none yet
            if (!named) {
                ofTable.problems().forEach(problems::add);
            }
            return named;
        });
    }

    private static Optional<CsvText> text(String name, List<String> columns, FolderFiles files, Problems problems) {
        if (!files.has(name)) {
            return Optional.of(CsvText.header("", columns));
        }
        Optional<String> text = files.text(name, problems);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        String bare = FolderFiles.withoutMark(text.get());
        if (bare.isEmpty()) {
            return Optional.of(CsvText.header(text.get(), columns));
        }
        return FolderFiles.rows(name, columns, bare, problems)
                .filter(FolderFiles.Rows::whole)
                .map(rows -> CsvText.of(text.get()));
    }

    private static Optional<RemovedRows> removedRows(FolderFiles files, Problems problems) {
        Optional<CsvText> csv = text(FolderFiles.REMOVED, RemovedRows.COLUMNS, files, problems);
        if (csv.isPresent() && !csv.get().columns().keySet().containsAll(RemovedRows.COLUMNS)) {
            problems.add(Problem.of(
                    FolderFiles.REMOVED,
                    1,
                    "no columns " + String.join(", ", RemovedRows.COLUMNS),
                    "the columns " + String.join(", ", RemovedRows.COLUMNS) + ", among others, separated by commas",
                    "Without them a row that was taken out could come back. Save the file as comma-separated CSV (UTF-8),"
                            + " or move it elsewhere."));
            return Optional.empty();
        }
        return csv.map(RemovedRows::new);
    }

    /** With a column for each cell that is filled in; empty, with a problem, where that would name a cell that has none. */
    private static Optional<CsvText> widened(String name, CsvText csv, Map<String, String> cells, Problems problems) {
        List<String> missing = cells.keySet().stream()
                .filter(column -> !csv.columns().containsKey(column)
                        && !Table.trimmed(cells.get(column)).isEmpty())
                .toList();
        OptionalInt tooLong = csv.firstTooLong();
        if (!missing.isEmpty() && tooLong.isPresent()) {
            int line = tooLong.getAsInt();
            problems.add(Table.tooLong(
                    name, line + 1, csv.values(line).size(), csv.values(0).size()));
            return Optional.empty();
        }
        return Optional.of(csv.withColumns(missing));
    }

    private static void checkCells(TrialFile file, CsvText csv, int row, Map<String, String> cells, Problems problems) {
        cells.forEach((column, text) -> {
            if (!csv.columns().containsKey(column)
                    && !file.columns().contains(column)
                    && !Table.trimmed(text).isEmpty()) {
                problems.add(Problem.of(
                        file.fileName(),
                        1,
                        "no column \"" + column + "\"",
                        "a column that is there, or one of " + String.join(", ", file.columns()),
                        "Somebody may have renamed or deleted it: load the page again."));
            }
            int unfit = firstUnfit(text);
            if (unfit >= 0) {
                problems.add(new Problem(
                        file.fileName(),
                        row,
                        column,
                        shown(text),
                        "a text in one line, without control characters",
                        "Write a blank where the line breaks.",
                        unfit));
            }
        });
    }

    private static void checkEntryStays(ShownRow row, Map<String, String> cells, Problems problems) {
        String before = row.cells().getOrDefault(TrialFile.ENTRY, "");
        String after = cells.getOrDefault(TrialFile.ENTRY, before);
        if (row.file().columns().contains(TrialFile.ENTRY) && !after.equals(before)) {
            problems.add(new Problem(
                    row.file().fileName(),
                    row.number(),
                    TrialFile.ENTRY,
                    after,
                    before.isEmpty()
                            ? "an empty cell, since the row was typed without an id"
                            : "the id the row was entered under, \"" + before + "\"",
                    "Leave this cell as it is.",
                    -1));
        }
    }

    /** Index of the first character that no cell may hold: control characters, line ends, half of a surrogate pair. */
    static int firstUnfit(String text) {
        for (int i = 0; i < text.length(); i += Character.charCount(text.codePointAt(i))) {
            int type = Character.getType(text.codePointAt(i));
            if (type == Character.CONTROL
                    || type == Character.LINE_SEPARATOR
                    || type == Character.PARAGRAPH_SEPARATOR
                    || type == Character.SURROGATE) {
                return i;
            }
        }
        return -1;
    }

    /** With a mark for each character that would break the line the message stands in. */
    static String shown(String text) {
        return text.replaceAll("[\\p{Cc}\\p{Cs}\\p{Zl}\\p{Zp}]", "\uFFFD");
    }

    private static Problem blankRow(TrialFile file, int row, String mend) {
        return Problem.of(file.fileName(), row, "a row with nothing in it", "at least one cell filled in", mend);
    }

    /** Problems of cells; what is only missing yet, such as a third point on an edge, is no fault of any row. */
    private List<Problem> problems(FolderFiles files) {
        return TrialReader.read(folder, files).fold(complete -> List.<Problem>of(), TrialRead.Faulty::problems).stream()
                .filter(problem -> !problem.column().isEmpty())
                .toList();
    }

    /**
     * Problems that were not there before. What is accepted may be worded otherwise now, such as a list of ids, so a problem
     * is known again by its place and by what was read there.
     */
    private List<Problem> brought(FolderFiles before, FolderFiles after, Function<Problem, Problem> moved) {
        List<Problem> now = problems(after);
        if (now.isEmpty()) {
            return now;
        }
        Set<List<Object>> known = new HashSet<>();
        problems(before).stream().map(moved).forEach(problem -> known.add(place(problem)));
        return now.stream().filter(problem -> !known.contains(place(problem))).toList();
    }

    private static List<Object> place(Problem problem) {
        return List.of(problem.file(), problem.row(), problem.column(), problem.read());
    }
}
