package org.fairturn.folder;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What came of an edit. */
public sealed interface Outcome {
    /**
     * The edit is on disk.
     *
     * @param rows as they stand there now, or as they were before they were taken out; none where there was nothing to add
     */
    record Saved(List<ShownRow> rows) implements Outcome {
        /**
         * Keeps its own copy of the list.
         *
         * @param rows as they stand there now, or as they were before they were taken out; none where there was nothing to
         *     add
         */
        public Saved {
            rows = List.copyOf(rows);
        }

        Saved(ShownRow row) {
            this(List.of(row));
        }

        /** {@return the one row of an edit of one row, the last of several} */
        public ShownRow row() {
            return rows.get(rows.size() - 1);
        }
    }

    /**
     * The edit is in the file, but the disk did not confirm that it will outlive a power cut. Whoever sends it again finds it
     * there, and learns whether the disk has confirmed it since.
     *
     * @param row as in {@link Saved#row}
     * @param problem what the disk answered
     */
    record Unconfirmed(ShownRow row, Problem problem) implements Outcome {}

    /**
     * Nothing was left to do.
     *
     * @param row as it stands there now, or as it was before it was taken out
     * @param removed true where it was entered and taken out again
     */
    record AlreadyThere(ShownRow row, boolean removed) implements Outcome {}

    /**
     * The edit was not made.
     *
     * @param problems what the edit would bring in, or what kept it from being written; at least one
     */
    record Refused(List<Problem> problems) implements Outcome {
        /**
         * Keeps its own copy of the list.
         *
         * @param problems what the edit would bring in, or what kept it from being written; at least one
         */
        public Refused {
            problems = List.copyOf(problems);
        }
    }

    /**
     * The row is not what was shown, and was left alone; as it stands there now, empty where it is gone.
     *
     * @param now the row on disk
     */
    record ChangedMeanwhile(Optional<ShownRow> now) implements Outcome {}

    /**
     * Answers by outcome.
     *
     * @param <R> type of the answer
     * @param saved asked in the case {@link Saved}
     * @param unconfirmed asked in the case {@link Unconfirmed}
     * @param alreadyThere asked in the case {@link AlreadyThere}
     * @param refused asked in the case {@link Refused}
     * @param changedMeanwhile asked in the case {@link ChangedMeanwhile}
     * @return what the one that was asked answered
     */
    default <R> R fold(
            Function<Saved, R> saved,
            Function<Unconfirmed, R> unconfirmed,
            Function<AlreadyThere, R> alreadyThere,
            Function<Refused, R> refused,
            Function<ChangedMeanwhile, R> changedMeanwhile) {
        if (this instanceof Saved outcome) {
            return saved.apply(outcome);
        }
        if (this instanceof Unconfirmed outcome) {
            return unconfirmed.apply(outcome);
        }
        if (this instanceof AlreadyThere outcome) {
            return alreadyThere.apply(outcome);
        }
        if (this instanceof Refused outcome) {
            return refused.apply(outcome);
        }
        return changedMeanwhile.apply((ChangedMeanwhile) this);
    }
}
