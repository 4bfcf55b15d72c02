package org.fairturn.web;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Note;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.web.ProblemPages.Item;

/** Where on the pages of a trial a row, a cell or a circle can be changed. */
final class Places {
    private static final Pattern ROW = Pattern.compile("([a-z]+\\.csv), rows? ([0-9]{1,9})(.*)");
    private static final String CIRCLE = "circle ";

    private final Map<TrialFile, List<ShownRow>> rows = new EnumMap<>(TrialFile.class);

    Places(Path folder) {
        TrialEditor.of(folder).shown(TrialFile.values()).files().forEach((file, shown) -> rows.put(file, shown.rows()));
    }

    static Optional<TrialFile> file(String name) {
        return Arrays.stream(TrialFile.values())
                .filter(file -> file.fileName().equals(name))
                .findFirst();
    }

    Item item(Problem problem) {
        if (TrialPages.isBlankFile(problem)) { // which has no row that could be filled in here
            return item(
                    problem.where(),
                    List.of(
                            capital(problem.what()) + ".",
                            file(problem.file()).map(Places::filledBy).orElse("")),
                    "",
                    page(problem.file(), problem.row(), problem.column()));
        }
        List<String> lines = new ArrayList<>();
        lines.add(capital(problem.what()) + ".");
        lines.add("Accepted: " + problem.accepted() + ".");
        if (!problem.mend().isEmpty()) {
            lines.add("How to mend it: " + problem.mend());
        }
        return item(problem.where(), lines, problem.pointer(), page(problem.file(), problem.row(), problem.column()));
    }

    Item item(Note note) {
        return item(note.where(), List.of(note.text()), "", page(note.file(), note.row(), note.column()));
    }

    Item item(Warning warning) {
        Matcher row = ROW.matcher(warning.where());
        Optional<Link> page = row.matches()
                ? page(row.group(1), row.group(3).isEmpty() ? Integer.parseInt(row.group(2)) : 0, "") // of several, all
                : warning.where().startsWith(CIRCLE)
                        ? circle(warning.where().substring(CIRCLE.length()), "")
                        : Optional.empty();
        return item(capital(warning.where()), List.of(warning.message()), "", page);
    }

    private record Link(String page, String words) {}

    private static Item item(String where, List<String> lines, String pointer, Optional<Link> link) {
        return new Item(
                where,
                lines,
                pointer,
                link.map(Link::page).orElse(""),
                link.map(Link::words).orElse(""));
    }

    private static String capital(String text) {
        return text.matches("[a-z]+\\.csv.*") || text.isEmpty()
                ? text
                : text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    private Optional<Link> page(String fileName, int number, String column) {
        return file(fileName).flatMap(file -> number > 1 ? row(file, number, column) : whole(file));
    }

    private static String filledBy(TrialFile file) {
        return switch (file) {
            case MACHINES -> "Add a machine.";
            case CIRCLES -> "Add circles, or plan them.";
            default -> "Open a circle and enter what the tape shows.";
        };
    }

    /** What is missing altogether is added there. */
    private static Optional<Link> whole(TrialFile file) {
        return switch (file) {
            case TRIAL -> Optional.of(new Link("facts", "To the facts of the trial"));
            case MACHINES, BLADES, STOPS -> Optional.of(new Link("machines", "To the machines"));
            case CIRCLES, READINGS, POINTS -> Optional.of(new Link("circles", "To the circles"));
            default -> Optional.empty();
        };
    }

    private Optional<Link> row(TrialFile file, int number, String column) {
        Optional<ShownRow> row =
                rows.get(file).stream().filter(r -> r.number() == number).findFirst();
        if (row.isEmpty()) {
            return Optional.empty(); // the file cannot be changed row by row
        }
        Optional<Link> form = switch (file) {
            case TRIAL -> fact(row.get(), column);
            case MACHINES -> machine(row.get(), column);
            default -> Optional.empty();
        };
        return Optional.of(form.orElseGet(
                () -> new Link(RowPages.page(file, number) + anchor(RowPages.fieldOf(column), column), "To this row")));
    }

    private static String anchor(String field, String column) {
        return column.isEmpty() ? "" : "#" + Field.id(field);
    }

    private static Optional<Link> fact(ShownRow row, String column) {
        String field = row.cells().getOrDefault("field", "").strip().toLowerCase(Locale.ROOT);
        return column.equals("value")
                        && TrialForm.FIELDS.stream().anyMatch(f -> f.name().equals(field))
                ? Optional.of(new Link("facts" + anchor(field, column), "To this fact"))
                : Optional.empty();
    }

    private static Optional<Link> machine(ShownRow row, String column) {
        String id = row.cells().getOrDefault("machine", "").strip();
        boolean there = MachineForm.MACHINE.stream().anyMatch(f -> f.name().equals(column))
                || MachineForm.MACHINE_FURTHER.stream().anyMatch(f -> f.name().equals(column));
        return there && !id.isEmpty()
                ? Optional.of(
                        new Link("machine/" + Slug.of(id) + anchor("machine." + column, column), "To this machine"))
                : Optional.empty();
    }

    private Optional<Link> circle(String id, String column) {
        return rows.get(TrialFile.CIRCLES).stream()
                .filter(row -> row.cells().getOrDefault("circle", "").strip().equals(id))
                .findFirst()
                .map(row -> new Link("circle/" + Slug.of(id) + anchor("circle." + column, column), "To this circle"));
    }
}
