package org.fairturn.folder;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Assumption;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.TapeClass;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** Reads trial.csv, a field a row. */
final class ConditionsReader {
    static final List<String> FIELDS = List.of(
            "title",
            "date",
            "length unit",
            "place",
            "operator",
            "surface",
            "grass",
            "slope",
            "weather",
            "tape class",
            "edge definition",
            "practical margin",
            "confidence",
            "assumed circle repeatability",
            "assumed reading repeatability",
            "mowing speed",
            "notes");
    private static final Entry<LengthUnit> UNIT = unit();
    private static final Entry<TapeClass> TAPE_CLASS = Entry.word(TapeClass.values(), TapeClass::name);
    private static final Entry<Double> CONFIDENCE = Entry.confidence();

    private final Optional<Table> table;
    private final Problems problems;
    private final Map<String, Row> rows = new HashMap<>();
    private final Lengths lengths;

    ConditionsReader(Optional<Table> table, Problems problems) {
        this.table = table;
        this.problems = problems;
        for (Row row : table.map(Table::rows).orElse(List.of())) {
            list(row);
        }
        Optional<LengthUnit> unit = required("length unit", UNIT);
        this.lengths = new Lengths(unit.orElse(LengthUnit.MILLIMETRE), unit.isPresent());
    }

    private void list(Row row) {
        Optional<String> written = row.required("field", Entry.text("a field such as title or date"));
        String field = Table.word(written.orElse(""));
        if (written.isEmpty()) {
            return;
        }
        if (!FIELDS.contains(field)) {
            String question = Nearest.question(field, FIELDS);
            row.note(
                    "field",
                    "\"" + written.get() + "\" is not known; it is kept and not used."
                            + (question.isEmpty() ? "" : " " + question));
            return;
        }
        Row earlier = rows.putIfAbsent(field, row);
        if (earlier != null) {
            row.fault(
                    "field",
                    "each field once; row " + earlier.number() + " has this one already",
                    "Delete one of the two rows.");
        }
    }

    /** How bare numbers are read anywhere in the folder. */
    Lengths lengths() {
        return lengths;
    }

    /** Empty, with a problem, where something is missing or cannot be read. */
    Optional<Conditions> conditions() {
        var title = required("title", Entry.text("a title of your choice"));
        var date = required("date", Entry.day());
        var tapeClass = optional("tape class", TAPE_CLASS);
        var edge = optional("edge definition", lengths.in(Sensible.EDGE_DEFINITION));
        Length margin = optional("practical margin", lengths.in(Sensible.PRACTICAL_MARGIN))
                .orElse(Conditions.DEFAULT_PRACTICAL_MARGIN);
        double confidence = optional("confidence", CONFIDENCE).orElse(Conditions.DEFAULT_CONFIDENCE);
        var circles = optional("assumed circle repeatability", lengths.in(Sensible.REPEATABILITY));
        var readings = optional("assumed reading repeatability", lengths.in(Sensible.REPEATABILITY));
        var speed = optional("mowing speed", Entry.speed());
        if (title.isEmpty() || date.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Conditions(
                title.get(),
                date.get(),
                lengths.bareUnit(),
                text("place"),
                text("operator"),
                text("surface"),
                text("grass"),
                text("slope"),
                text("weather"),
                tapeClass,
                edge,
                margin,
                confidence,
                circles.orElse(Conditions.DEFAULT_CIRCLE_REPEATABILITY),
                readings.orElse(Conditions.DEFAULT_READING_REPEATABILITY),
                Assumption.stated(circles.isPresent(), readings.isPresent()),
                speed,
                text("notes")));
    }

    private String text(String field) {
        return rows.containsKey(field) ? rows.get(field).text("value") : "";
    }

    private <T> Optional<T> optional(String field, Entry<T> entry) {
        return Optional.ofNullable(rows.get(field)).flatMap(row -> row.optional("value", named(field, entry)));
    }

    private <T> Optional<T> required(String field, Entry<T> entry) {
        Row row = rows.get(field);
        if (row != null) {
            return row.required("value", named(field, entry));
        }
        if (table.isPresent() && table.get().tellsAll("field")) {
            problems.add(Problem.of(
                    TrialFile.TRIAL.fileName(),
                    0,
                    "no field \"" + field + "\"",
                    "a row with the field \"" + field + "\" and " + entry.accepted(),
                    "Add the row."));
        }
        return Optional.empty();
    }

    private static <T> Entry<T> named(String field, Entry<T> entry) {
        return entry.called("for the field \"" + field + "\" ");
    }

    private static Entry<LengthUnit> unit() {
        String accepted = "one of the units mm, cm, m, in and ft";
        return Entry.of(accepted, (text, refusal) -> {
            Optional<LengthUnit> unit = LengthUnit.named(text);
            if (unit.isEmpty()) {
                refusal.because(accepted, "It is the unit of every number that has none with it.", -1);
            }
            return unit;
        });
    }
}
