package org.fairturn.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.folder.Problem;

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
        public View {
            fields = List.copyOf(fields);
            further = List.copyOf(further);
        }

        /** True where something stands in what is folded away, or has to be mended there. */
        public boolean openFurther() {
            return further.stream()
                    .anyMatch(
                            field -> !field.value().isEmpty() || !field.faults().isEmpty());
        }
    }

    static RowForm of(SheetRow row, List<Field> fields) {
        Map<String, String> cells = new LinkedHashMap<>();
        fields.forEach(field -> cells.put(field.name(), row.cell(field.name())));
        return new RowForm(row.key(), row.seen(), cells, cells, Map.of());
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

    /** Writes what was changed, with the cells that say whose row it is; the form comes back with its faults. */
    RowForm save(Editor editor, String file, Map<String, String> owner) {
        if (isUntouched() && !isNew()) {
            return this;
        }
        Map<String, String> changed = new HashMap<>(owner);
        typed.forEach((column, cell) -> {
            if (isNew() || !cell.equals(shown.getOrDefault(column, ""))) {
                changed.put(column, cell);
            }
        });
        return after(isNew() ? editor.append(file, changed) : editor.change(file, key, changed, seen));
    }

    RowForm remove(Editor editor, String file) {
        return after(editor.remove(file, key, seen));
    }

    private RowForm after(Outcome outcome) {
        return outcome.fold(
                saved -> this,
                there -> this,
                refused -> withFaults(refused.problems()),
                meanwhile -> new RowForm(key, seen, shown, typed, Map.of("", List.of(Edits.MEANWHILE))));
    }

    private RowForm withFaults(List<Problem> problems) {
        Map<String, List<String>> byColumn = new LinkedHashMap<>();
        for (Problem problem : problems) {
            String column = typed.containsKey(problem.column()) ? problem.column() : "";
            byColumn.computeIfAbsent(column, c -> new ArrayList<>())
                    .add(column.isEmpty() ? problem.message() : Faults.beside(problem));
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
