package org.fairturn.folder;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What came of an edit. */
public sealed interface Outcome {
    /** The edit is on disk; the row as it stands there now, or as it was before it was taken out. */
    record Saved(ShownRow row) implements Outcome {}

    /**
     * Nothing was left to do.
     *
     * @param row as it stands there now, or as it was before it was taken out
     * @param removed true where it was entered and taken out again
     */
    record AlreadyThere(ShownRow row, boolean removed) implements Outcome {}

    /**
     * The disk is as it was.
     *
     * @param problems what the edit would bring in, or what kept it from being written; at least one
     */
    record Refused(List<Problem> problems) implements Outcome {
        public Refused {
            problems = List.copyOf(problems);
        }
    }

    /** The row is not what was shown, and was left alone; as it stands there now, empty where it is gone. */
    record ChangedMeanwhile(Optional<ShownRow> now) implements Outcome {}

    /** Answers by outcome. */
    default <R> R fold(
            Function<Saved, R> saved,
            Function<AlreadyThere, R> alreadyThere,
            Function<Refused, R> refused,
            Function<ChangedMeanwhile, R> changedMeanwhile) {
        if (this instanceof Saved outcome) {
            return saved.apply(outcome);
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
