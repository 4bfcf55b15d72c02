package org.fairturn.folder;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Turn;

/** Reads references.csv. */
final class ReferencesReader {
    private static final Entry<Claim.Quantity> QUANTITY = Entry.quantity();
    private static final Entry<Optional<Turn>> TURN = orBoth(Turn.values(), Turn::word);
    private static final Entry<Optional<Drive>> DRIVE = orBoth(Drive.values(), Drive::word);
    private static final Entry<Brakes> BRAKES = Entry.word(Brakes.values(), Brakes::word);
    private static final Entry<Integer> CIRCLES = Entry.count(1000);
    private static final List<String> OF_A_FIGURE = List.of("quantity", "uncertainty", "circles behind it");

    private ReferencesReader() {}

    private static <T> Entry<Optional<T>> orBoth(T[] constants, Function<T, String> word) {
        Map<String, Optional<T>> words = new LinkedHashMap<>();
        for (T constant : constants) {
            words.put(word.apply(constant), Optional.of(constant));
        }
        words.put("both", Optional.empty());
        return Entry.word(words);
    }

    static List<Reference> references(Table table, Ids machines, Lengths lengths) {
        Entry<String> knownMachine = machines.known();
        List<Reference> references = new ArrayList<>();
        Map<Reference, Integer> rows = new LinkedHashMap<>();
        for (Row row : table.rows()) {
            var machine = row.required("machine", knownMachine);
            var knownGood = row.optional("known good", knownMachine);
            var value = row.optional("value", lengths.in(Sensible.REFERENCE));
            var quantity = row.optional("quantity", QUANTITY);
            var turn = row.optional("turn", TURN).flatMap(stated -> stated);
            var drive = row.optional("drive", DRIVE).flatMap(stated -> stated);
            var brakes = row.optional("brakes", BRAKES);
            var uncertainty = row.optional("uncertainty", lengths.in(Sensible.UNCERTAINTY));
            var circles = row.optional("circles behind it", CIRCLES);
            eitherMachineOrFigure(row);
            if (!row.isFaulty()) {
                Reference reference = new Reference(
                        machine.orElseThrow(),
                        knownGood,
                        value,
                        quantity.orElse(Claim.Quantity.UNCUT_DIAMETER),
                        turn,
                        drive,
                        brakes.orElse(Brakes.NONE),
                        uncertainty,
                        circles.map(OptionalInt::of).orElse(OptionalInt.empty()),
                        row.isBlank("source") ? knownGood.orElse("reference") : row.text("source"),
                        row.text("remark"));
                if (saidOnce(row, reference, rows)) {
                    references.add(reference);
                }
            }
        }
        return references;
    }

    private static void eitherMachineOrFigure(Row row) {
        boolean figure = !row.isBlank("value");
        if (figure && !row.isBlank("known good")) {
            row.fault(
                    "known good",
                    "either a machine known to be good or a value, not both",
                    "Give each a row of its own.");
        } else if (!figure && row.isBlank("known good")) {
            row.fault(
                    "value",
                    "a length, or in the column \"known good\" a machine of this trial",
                    "Write what the manual says, or which machine it is held against.");
        } else if (!figure) {
            if (row.text("known good").equals(row.text("machine"))) {
                row.fault(
                        "known good",
                        "another machine than the one complained of",
                        "Name the machine that is known to be good.");
            }
            for (String column : OF_A_FIGURE) {
                if (!row.isBlank(column)) {
                    row.note(column, "It belongs to a value; a machine brings its own circles, so it is not used.");
                }
            }
        }
    }

    /** Whether no earlier row of that machine and source speaks of the same turn and drive, or of a machine instead of figures. */
    private static boolean saidOnce(Row row, Reference reference, Map<Reference, Integer> rows) {
        for (Map.Entry<Reference, Integer> earlier : rows.entrySet()) {
            Reference other = earlier.getKey();
            boolean together = other.machine().equals(reference.machine())
                    && other.source().equals(reference.source());
            if (together && !other.knownGood().equals(reference.knownGood())) {
                row.fault(
                        "source",
                        "a source of its own for each machine known to be good, and for figures; row "
                                + earlier.getValue() + " has this one for another",
                        "Give one of the two another source.");
                return false;
            }
            if (together && overlap(other, reference)) {
                row.fault(
                        "source",
                        "one row for each turn and drive of a machine and source; row " + earlier.getValue()
                                + " speaks of the same circles already",
                        "Give one of the two another turn, drive or source, or delete the row that is there twice.");
                return false;
            }
        }
        rows.put(reference, row.number());
        return true;
    }

    private static boolean overlap(Reference a, Reference b) {
        for (Turn turn : Turn.values()) {
            for (Drive drive : Drive.values()) {
                if (a.covers(turn, drive, a.brakes()) && b.covers(turn, drive, a.brakes())) {
                    return true;
                }
            }
        }
        return false;
    }
}
