package org.fairturn.web;

import java.util.List;
import java.util.function.Function;
import org.fairturn.folder.Problem;

/** What came of an edit. */
sealed interface Outcome {
    /** It is on disk. */
    record Saved() implements Outcome {}

    /** It was there before. */
    record AlreadyThere() implements Outcome {}

    /** It was not made, since it would bring these problems. */
    record Refused(List<Problem> problems) implements Outcome {}

    /** It was not made, since somebody else changed the row after it was shown. */
    record ChangedMeanwhile() implements Outcome {}

    /** Answers by outcome. */
    default <R> R fold(
            Function<Saved, R> saved,
            Function<AlreadyThere, R> alreadyThere,
            Function<Refused, R> refused,
            Function<ChangedMeanwhile, R> changedMeanwhile) {
        if (this instanceof Saved one) {
            return saved.apply(one);
        }
        if (this instanceof AlreadyThere one) {
            return alreadyThere.apply(one);
        }
        if (this instanceof Refused one) {
            return refused.apply(one);
        }
        return changedMeanwhile.apply((ChangedMeanwhile) this);
    }
}
