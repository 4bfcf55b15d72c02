package org.fairturn.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.fairturn.folder.Problem;
import org.fairturn.folder.Sheet;
import org.fairturn.folder.TrialFolder;

/** The facts of trial.csv as a form, for a new trial and for one that is there. */
final class TrialForm {
    static final String FILE = "trial.csv";
    /** Names no folder may have on some systems, whatever follows the point. */
    private static final Set<String> RESERVED = Set.of("con", "prn", "aux", "nul");

    private static final int LONGEST_NAME = 60;

    static final List<Field> FIELDS = List.of(
            Field.text("title", "Title", "What the trial is called, such as Alder 22 on the lower meadow."),
            Field.text("date", "Date", "The day it is held, year first, such as 2026-05-14."),
            Field.choice(
                    "length unit",
                    "Length unit",
                    "The unit of every number written without one, and the unit results are shown in first.",
                    "mm",
                    "cm",
                    "m",
                    "in",
                    "ft"),
            Field.text(
                    "practical margin",
                    "Practical margin",
                    "The smallest difference in uncut diameter that matters to the customer. Agree on it before anyone"
                            + " mows. Empty: 50 mm."),
            Field.text("place", "Place", ""),
            Field.text("operator", "Operator", "Who drives."),
            Field.text("surface", "Ground", "Such as firm, or soft after rain."),
            Field.text("grass", "Grass", "Such as 8 cm, dry."),
            Field.text("slope", "Slope", "Such as level."),
            Field.text("weather", "Weather", ""),
            Field.choice(
                    "tape class",
                    "Tape class",
                    "Printed on the tape near its beginning, in an oval or beside it.",
                    "",
                    "I",
                    "II",
                    "III"),
            Field.text(
                    "edge definition",
                    "Edge definition",
                    "How well the cut edge can be seen: half the width of the strip it may lie in, such as 5 mm or 1/4 in."),
            Field.text("notes", "Notes", ""));

    private TrialForm() {}

    /** The fields filled in, each with its faults. */
    static List<Field> filled(UnaryOperator<String> value, List<Page.Fault> faults) {
        return FIELDS.stream()
                .map(field -> field.with(value.apply(field.name())).with(faults))
                .toList();
    }

    /** What has to be mended before a folder with these values can be made. */
    static List<Page.Fault> faults(UnaryOperator<String> value) {
        try {
            Path draft = Files.createTempDirectory("fairturn");
            try {
                write(draft, value);
                List<SheetRow> rows = new SheetEditor(draft).rows(FILE);
                return TrialFolder.read(draft).fold(read -> List.<Problem>of(), faulty -> faulty.problems()).stream()
                        .filter(problem -> problem.file().equals(FILE))
                        .map(problem -> new Page.Fault(field(problem, rows), Faults.beside(problem)))
                        .toList();
            } finally {
                try (Stream<Path> files = Files.list(draft)) {
                    for (Path file : files.toList()) {
                        Files.delete(file);
                    }
                }
                Files.delete(draft);
            }
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }

    private static String field(Problem problem, List<SheetRow> rows) {
        int index = problem.row() - 2;
        return index >= 0 && index < rows.size() ? Field.id(rows.get(index).cell("field")) : "";
    }

    /** Makes the folder below another; its name comes of the title. Empty where it stands ready. */
    static List<Problem> create(Path folder, UnaryOperator<String> value) {
        return write(folder, value);
    }

    private static List<Problem> write(Path folder, UnaryOperator<String> value) {
        List<Problem> problems = TrialFolder.create(folder);
        if (!problems.isEmpty()) {
            return problems;
        }
        Sheet blank = TrialFolder.sheets(folder).sheets().get(0);
        List<List<String>> rows = new ArrayList<>();
        for (List<String> row : blank.rows()) {
            String name = row.get(0);
            boolean asked = FIELDS.stream().anyMatch(field -> field.name().equals(name));
            rows.add(asked ? List.of(name, value.apply(name)) : row);
        }
        return TrialFolder.save(folder, new Sheet(FILE, blank.header(), rows)).stream()
                .toList();
    }

    /** A folder that is not there yet, named after the title: letters and digits of any script, the rest hyphens. */
    static Path place(Path above, String title) {
        StringBuilder name = new StringBuilder();
        title.toLowerCase(Locale.ROOT)
                .codePoints()
                .limit(LONGEST_NAME)
                .forEach(c -> name.appendCodePoint(Character.isLetterOrDigit(c) ? c : '-'));
        String plain = name.toString().replaceAll("-+", "-").replaceAll("^-|-$", "");
        String stem = plain.isEmpty() || RESERVED.contains(plain) || plain.matches("(com|lpt)[0-9]")
                ? ("trial-" + plain).replaceAll("-$", "")
                : plain;
        Path place = above.resolve(stem);
        for (int i = 2; Files.exists(place); i++) {
            place = above.resolve(stem + "-" + i);
        }
        return place;
    }

    /** Changes what was typed; returns what has to be mended. */
    static List<Page.Fault> save(Editor editor, UnaryOperator<String> value, UnaryOperator<String> seen) {
        Map<String, SheetRow> rows = rows(editor);
        List<Page.Fault> faults = new ArrayList<>();
        for (Field field : FIELDS) {
            String name = field.name();
            SheetRow row = rows.get(name);
            String typed = value.apply(name);
            if (row == null && !typed.isEmpty()) {
                Edits.note(editor.append(FILE, Map.of("field", name, "value", typed)), name, "", faults);
            } else if (row != null && !row.cell("value").equals(typed)) {
                Edits.note(editor.change(FILE, row.key(), Map.of("value", typed), seen.apply(name)), name, "", faults);
            }
        }
        return faults;
    }

    /** The rows of trial.csv by their field. */
    static Map<String, SheetRow> rows(Editor editor) {
        Map<String, SheetRow> rows = new java.util.HashMap<>();
        editor.rows(FILE).forEach(row -> rows.putIfAbsent(row.cell("field").toLowerCase(Locale.ROOT), row));
        return rows;
    }
}
