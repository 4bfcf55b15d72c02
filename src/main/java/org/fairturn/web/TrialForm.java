package org.fairturn.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.fairturn.folder.Outcome;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.units.LengthUnit;

/** The facts of trial.csv as a form, for a new trial and for one that is there. */
final class TrialForm {
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
            Field.text("confidence", "Confidence", "The probability a verdict has to reach. Empty: 95 %."),
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
            Field.text(
                    "assumed circle repeatability",
                    "Assumed circle repeatability",
                    "How much circles driven alike are supposed to scatter, as a standard deviation, before any was measured."
                            + " Empty: 50 mm."),
            Field.text(
                    "assumed reading repeatability",
                    "Assumed reading repeatability",
                    "The same of readings of one circle. Empty: 20 mm."),
            Field.text("mowing speed", "Mowing speed", "For the time an uncut circle takes. Empty: 5 km/h."),
            Field.text("notes", "Notes", ""));

    private static final Set<String> NEEDED = Set.of("title", "date", "length unit");

    private TrialForm() {}

    /** The fields filled in, each with its faults. */
    static List<Field> filled(UnaryOperator<String> value, List<Page.Fault> faults) {
        return FIELDS.stream()
                .map(field -> field.with(value.apply(field.name())).with(faults))
                .toList();
    }

    /** The fields as they were typed, for a new trial; what may be empty, and is, starts as in any new folder. */
    static Map<String, String> typed(UnaryOperator<String> value) {
        Map<String, String> typed = new LinkedHashMap<>();
        for (Field field : FIELDS) {
            String text = value.apply(field.name());
            if (!text.isEmpty() || NEEDED.contains(field.name())) {
                typed.put(field.name(), text);
            }
        }
        return typed;
    }

    /** Problems of trial.csv, each beside the field it names. */
    static List<Page.Fault> faults(List<Problem> problems) {
        return Faults.beside(problems, column -> column);
    }

    /**
     * Changes what was typed; what nobody touched is left alone, whatever became of it.
     *
     * @param was each field as it was shown
     * @param seen the fingerprint of its row as it was shown; empty where there was none
     * @return what has to be mended
     */
    static List<Page.Fault> save(
            TrialEditor editor, UnaryOperator<String> value, UnaryOperator<String> was, UnaryOperator<String> seen) {
        Map<String, ShownRow> rows = rows(editor.shown(TrialFile.TRIAL));
        List<Page.Fault> faults = new ArrayList<>();
        for (Field field : FIELDS) {
            String name = field.name();
            String typed = value.apply(name);
            if (!typed.equals(was.apply(name))) {
                ShownRow row = rows.get(name);
                note(
                        row == null
                                ? editor.append(TrialFile.TRIAL, Map.of("field", name, "value", typed))
                                : editor.change(TrialFile.TRIAL, row.key(), Map.of("value", typed), seen.apply(name)),
                        name,
                        typed,
                        faults);
            }
        }
        return faults;
    }

    private static void note(Outcome outcome, String field, String typed, List<Page.Fault> faults) {
        String id = Field.id(field);
        outcome.fold(
                saved -> true,
                unconfirmed ->
                        faults.add(new Page.Fault(id, unconfirmed.problem().message())),
                there -> true,
                refused -> faults.addAll(refused.problems().stream()
                        .map(problem -> new Page.Fault(
                                id,
                                problem.file().equals(TrialFile.TRIAL.fileName())
                                        ? Faults.beside(problem)
                                        : problem.message()))
                        .toList()),
                meanwhile -> faults.add(new Page.Fault(
                        id,
                        meanwhile
                                .now()
                                .map(now -> RowForm.both(now.cell("value"), typed))
                                .orElse(RowForm.GONE))));
    }

    /** The rows of trial.csv by their field. */
    static Map<String, ShownRow> rows(TrialEditor.Shown shown) {
        Map<String, ShownRow> rows = new LinkedHashMap<>();
        shown.files()
                .get(TrialFile.TRIAL)
                .rows()
                .forEach(row -> rows.putIfAbsent(row.cell("field").toLowerCase(Locale.ROOT), row));
        return rows;
    }

    /** What trial.csv states of a field; empty where it does not. */
    static String stated(TrialEditor.Shown shown, String field) {
        return Optional.ofNullable(rows(shown).get(field))
                .map(row -> row.cell("value"))
                .orElse("");
    }

    /** The unit of bare numbers. */
    static LengthUnit unit(TrialEditor.Shown shown) {
        return LengthUnit.named(stated(shown, "length unit")).orElse(LengthUnit.MILLIMETRE);
    }
}
