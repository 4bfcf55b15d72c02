package org.fairturn.folder;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.trial.TapeReading;
import org.fairturn.units.Length;

/** Reads the kind and the lengths of one row of readings.csv. */
final class TapeReader {
    static final List<String> COLUMNS = List.of("value", "second", "third");

    /** A kind of reading and the lengths it has, in the order of the columns. */
    private enum Kind {
        ACROSS("across"),
        CHORD_AND_RISE("chord and rise"),
        THREE_STAKES("three stakes");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        private List<Sensible> lengths() {
            return switch (this) {
                case ACROSS -> List.of(Sensible.UNCUT_CHORD);
                case CHORD_AND_RISE -> List.of(Sensible.UNCUT_CHORD, Sensible.RISE);
                case THREE_STAKES -> List.of(Sensible.STAKE_DISTANCE, Sensible.STAKE_DISTANCE, Sensible.STAKE_DISTANCE);
            };
        }
    }

    private static final Entry<Kind> KIND = kind();

    private final Lengths lengths;

    TapeReader(Lengths lengths) {
        this.lengths = lengths;
    }

    /** The lengths as they were typed. */
    static String written(Row row) {
        StringBuilder written = new StringBuilder();
        for (String column : COLUMNS) {
            String text = row.text(column);
            written.append(written.isEmpty() || text.isEmpty() ? "" : "; ").append(text);
        }
        return written.toString();
    }

    /** Empty, with a problem, where a cell cannot be read or no circle fits the lengths. */
    Optional<TapeReading> read(Row row) {
        Optional<Kind> kind = row.required("kind", KIND);
        if (kind.isEmpty()) {
            // the lengths can still be checked for being lengths
            row.required("value", lengths.in(Sensible.UNCUT_CHORD));
            Stream.of("second", "third").forEach(column -> row.optional(column, lengths.in(Sensible.RISE)));
            return Optional.empty();
        }
        List<Sensible> ranges = kind.get().lengths();
        Length[] read = new Length[ranges.size()];
        boolean complete = true;
        for (int i = 0; i < COLUMNS.size(); i++) {
            String column = COLUMNS.get(i);
            if (i < ranges.size()) {
                Optional<Length> length = row.requiredHere(column, lengths.in(ranges.get(i)));
                complete &= length.isPresent();
                read[i] = length.orElse(null);
            } else if (!row.isBlank(column)) {
                row.fault(
                        column,
                        "an empty cell, since the kind \"" + kind.get().word + "\" has "
                                + (ranges.size() == 1 ? "one length" : "two lengths"),
                        decimalComma(row, column).orElse("Empty the cell, or mend the kind."));
            }
        }
        return complete ? shape(row, kind.get(), read) : Optional.empty();
    }

    /** A decimal comma without quotes around the number makes two cells of it: 1,58 becomes 1 and 58. */
    private static Optional<String> decimalComma(Row row, String column) {
        String before = row.text(COLUMNS.get(COLUMNS.indexOf(column) - 1));
        String here = row.text(column);
        return before.matches("\\d{1,3}") && here.matches("\\d{1,3}")
                ? Optional.of("If " + before + "," + here + " was meant, write " + before + "." + here
                        + " in one cell; otherwise empty this cell, or mend the kind.")
                : Optional.empty();
    }

    private Optional<TapeReading> shape(Row row, Kind kind, Length[] read) {
        return switch (kind) {
            case ACROSS -> Optional.of(new TapeReading.Across(read[0]));
            case CHORD_AND_RISE -> chordAndRise(row, read[0], read[1]);
            case THREE_STAKES -> threeStakes(row, read[0], read[1], read[2]);
        };
    }

    private Optional<TapeReading> chordAndRise(Row row, Length chord, Length rise) {
        double steepness = rise.metres() / chord.metres();
        if (lengths.unitKnown() && !(steepness >= Shapes.FLATTEST_ARC && steepness <= 1)) {
            row.fault(
                    "second",
                    "a rise between 1/50 of its chord and the whole of it",
                    steepness > 1
                            ? "No chord people lay out is shorter than its rise: with " + row.text("value")
                                    + " in the column \"value\" the two may be swapped. Check both lengths and their units."
                            : "Over a chord of " + row.text("value")
                                    + " so small a rise says nothing about the circle. Check both lengths and their units, or"
                                    + " measure a longer chord.");
            return Optional.empty();
        }
        return Optional.of(new TapeReading.ChordAndRise(chord, rise));
    }

    private static Optional<TapeReading> threeStakes(Row row, Length first, Length second, Length third) {
        if (Shapes.isTriangle(first.metres(), second.metres(), third.metres())) {
            return Optional.of(new TapeReading.ThreeStakes(first, second, third));
        }
        row.fault(
                "value",
                written(row),
                "three distances that form a triangle, the longest clearly shorter than the other two together",
                "Check the three distances and their units; stakes that stand nearly in a line fix no circle.",
                -1);
        return Optional.empty();
    }

    private static Entry<Kind> kind() {
        Map<String, Kind> words = new LinkedHashMap<>();
        for (Kind kind : Kind.values()) {
            words.put(kind.word, kind);
        }
        return Entry.word(words);
    }
}
