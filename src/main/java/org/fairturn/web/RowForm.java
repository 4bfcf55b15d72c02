package org.fairturn.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.folder.Outcome;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;

/**
 * One row of a file as a part of a form: what was shown, what was typed, and what came of saving it.
 *
 * @param key finds the row; empty where it is a new one
 * @param seen its fingerprint as it was shown
 * @param shown the cells as they were shown
 * @param typed the cells as they were sent
 * @param faults messages by column; those of no column of the form under an empty name
 */
public record RowForm(
        String key,
        String seen,
        Map<String, String> shown,
        Map<String, String> typed,
        Map<String, List<String>> faults) {
    static final String MEANWHILE =
            "Somebody else changed this while the page was open, so it is not saved yet. What stands in"
                    + " the fields is kept by saving again.";
    static final String GONE =
            "Somebody else took this out while the page was open. What you wrote still stands here: save"
                    + " again to put it back, or empty it.";

    /**
     * Keeps its own copy of each map.
     *
     * @param key finds the row; empty where it is a new one
     * @param seen its fingerprint as it was shown
     * @param shown the cells as they were shown
     * @param typed the cells as they were sent
     * @param faults messages by column; those of no column of the form under an empty name
     */
    public RowForm {
        shown = Map.copyOf(shown);
        typed = Map.copyOf(typed);
        faults = Map.copyOf(faults);
    }

    /**
     * What a page shows of it.
     *
     * @param name stands before the name of each of its fields
     * @param legend what the row is about
     * @param hidden key, fingerprint and cells as shown, sent back with the form
     * @param fields those everybody fills in
     * @param further those that are folded away
     * @param filled true where it stands in the file already, and may be taken out
     */
    public record View(
            String name,
            String legend,
            Map<String, String> hidden,
            List<Field> fields,
            List<Field> further,
            boolean filled) {
        /**
         * Keeps its own copy of each list.
         *
         * @param name stands before the name of each of its fields
         * @param legend what the row is about
         * @param hidden key, fingerprint and cells as shown, sent back with the form
         * @param fields those everybody fills in
         * @param further those that are folded away
         * @param filled true where it stands in the file already, and may be taken out
         */
        public View {
            fields = List.copyOf(fields);
            further = List.copyOf(further);
        }

        /** {@return true where something stands in what is folded away, or has to be mended there} */
        public boolean openFurther() {
            return further.stream()
                    .anyMatch(
                            field -> !field.value().isEmpty() || !field.faults().isEmpty());
        }
    }

    static RowForm of(ShownRow row, List<Field> fields) {
        Map<String, String> cells = new LinkedHashMap<>();
        fields.forEach(field -> cells.put(field.name(), Field.line(row.cell(field.name()))));
        return new RowForm(row.key().text(), row.seen(), cells, cells, Map.of());
    }

    static RowForm blank(Map<String, String> cells) {
        return new RowForm("", "", cells, cells, Map.of());
    }

    /** What was sent of a row whose fields are led by a group's name. */
    static RowForm sent(Context context, String group, List<Field> fields) {
        Map<String, String> shown = new LinkedHashMap<>();
        Map<String, String> typed = new LinkedHashMap<>();
        for (Field field : fields) {
            shown.put(field.name(), text(context, "was:" + group + field.name()));
            typed.put(field.name(), text(context, group + field.name()));
        }
        return new RowForm(text(context, group + "key"), text(context, group + "seen"), shown, typed, Map.of());
    }

    private static String text(Context context, String name) {
        return Optional.ofNullable(context.formParam(name)).orElse("").strip();
    }

    String cell(String column) {
        return typed.getOrDefault(column, "");
    }

    boolean isNew() {
        return key.isEmpty();
    }

    /** True where nothing was typed into it. */
    boolean isUntouched() {
        return typed.equals(shown);
    }

    /**
     * Writes what was changed; the form comes back as the row now stands, or with its faults.
     *
     * @param owner cells that say whose row it is
     * @param but a column that is not written here, or an empty name
     */
    RowForm save(TrialEditor editor, TrialFile file, Map<String, String> owner, String but) {
        Map<String, String> changed = new LinkedHashMap<>();
        typed.forEach((column, cell) -> {
            if (isNew() || (!column.equals(but) && !cell.equals(shown.getOrDefault(column, "")))) {
                changed.put(column, cell);
            }
        });
        if (changed.isEmpty()) {
            return this;
        }
        changed.putAll(owner);
        RowForm after = after(
                file,
                isNew() ? editor.append(file, changed) : editor.change(file, new ShownRow.Key(key), changed, seen));
        if (!after.faults().isEmpty() || isNew()) {
            return after;
        }
        Map<String, String> stands = new LinkedHashMap<>(typed);
        stands.computeIfPresent(but, (column, cell) -> shown.getOrDefault(column, ""));
        return new RowForm(after.key(), after.seen(), stands, typed, Map.of());
    }

    RowForm remove(TrialEditor editor, TrialFile file) {
        return after(file, editor.remove(file, new ShownRow.Key(key), seen));
    }

    RowForm renameMachine(TrialEditor editor, String name) {
        return after(TrialFile.MACHINES, editor.renameMachine(new ShownRow.Key(key), name, seen));
    }

    private RowForm after(TrialFile file, Outcome outcome) {
        return outcome.fold(
                saved -> new RowForm(saved.row().key().text(), saved.row().seen(), shown, typed, Map.of()),
                unconfirmed -> new RowForm(
                        unconfirmed.row().key().text(),
                        unconfirmed.row().seen(),
                        Map.of(), // so that saving again asks the disk again
                        typed,
                        Map.of("", List.of(unconfirmed.problem().message()))),
                there -> this,
                refused -> withFaults(file, refused.problems()),
                meanwhile -> meanwhile.now().map(this::over).orElseGet(this::gone));
    }

    /** What was typed over the row as somebody else left it, so that saving again is a decision made with both in sight. */
    private RowForm over(ShownRow now) {
        Map<String, String> theirs = new LinkedHashMap<>();
        Map<String, String> both = new LinkedHashMap<>();
        Map<String, List<String>> told = new LinkedHashMap<>();
        told.put("", List.of(MEANWHILE));
        typed.forEach((column, mine) -> {
            String before = shown.getOrDefault(column, "");
            String their = Field.line(now.cell(column));
            theirs.put(column, their);
            both.put(column, mine.equals(before) ? their : mine);
            if (!their.equals(before) && !their.equals(mine)) {
                told.put(column, List.of(mine.equals(before) ? changed(before, their) : both(their, mine)));
            }
        });
        return new RowForm(now.key().text(), now.seen(), theirs, both, told);
    }

    private RowForm gone() {
        return new RowForm("", "", Map.of(), typed, Map.of("", List.of(GONE)));
    }

    /** Both texts of a cell that two people wrote at once. */
    static String both(String theirs, String mine) {
        return "Somebody else " + (theirs.isEmpty() ? "emptied this" : "wrote \"" + theirs + "\"")
                + " while the page was open; you wrote "
                + (mine.isEmpty() ? "nothing" : "\"" + mine + "\"")
                + ", which is not saved. Save again to put yours in the place of theirs.";
    }

    private static String changed(String before, String theirs) {
        return "Somebody else changed this from "
                + (before.isEmpty() ? "nothing" : "\"" + before + "\"") + " to "
                + (theirs.isEmpty() ? "nothing" : "\"" + theirs + "\"") + " while the page was open.";
    }

    private RowForm withFaults(TrialFile file, List<Problem> problems) {
        Map<String, List<String>> byColumn = new LinkedHashMap<>();
        for (Problem problem : problems) {
            boolean own = problem.file().equals(file.fileName()) && typed.containsKey(problem.column());
            byColumn.computeIfAbsent(own ? problem.column() : "", c -> new ArrayList<>())
                    .add(own ? Faults.beside(problem) : problem.message());
        }
        return new RowForm(key, seen, shown, typed, byColumn);
    }

    /** Its faults, each with the id of the field it stands at in a group of that name. */
    List<Page.Fault> faults(String group, String legend) {
        List<Page.Fault> all = new ArrayList<>();
        faults.forEach((column, messages) -> messages.forEach(message ->
                all.add(new Page.Fault(column.isEmpty() ? "" : Field.id(group + column), legend + ": " + message))));
        return all;
    }

    View view(String group, String legend, List<Field> fields, List<Field> further) {
        Map<String, String> hidden = new LinkedHashMap<>();
        hidden.put(group + "key", key);
        hidden.put(group + "seen", seen);
        shown.forEach((column, cell) -> hidden.put("was:" + group + column, cell));
        return new View(group, legend, hidden, filled(group, fields), filled(group, further), !isNew());
    }

    private List<Field> filled(String group, List<Field> fields) {
        return fields.stream()
                .map(field -> new Field(
                        group + field.name(),
                        field.label(),
                        field.help(),
                        cell(field.name()),
                        field.choices(),
                        faults.getOrDefault(field.name(), List.of())))
                .toList();
    }
}
