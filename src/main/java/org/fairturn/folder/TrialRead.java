package org.fairturn.folder;

import java.util.List;
import java.util.function.Function;
import org.fairturn.trial.Trial;

/** What came of reading a trial folder: the trial, or everything that has to be mended first. Notes come with either. */
public sealed interface TrialRead {
    /**
     * The folder holds a trial.
     *
     * @param trial all of it
     * @param notes what was noticed and hinders nothing
     */
    record Complete(Trial trial, List<Note> notes) implements TrialRead {
        /**
         * Keeps its own copy of the list.
         *
         * @param trial all of it
         * @param notes what was noticed and hinders nothing
         */
        public Complete {
            notes = List.copyOf(notes);
        }
    }

    /**
     * The folder does not hold a trial yet.
     *
     * @param problems every problem of the folder, at least one, in the order of the files and their rows
     * @param notes what was noticed besides
     */
    record Faulty(List<Problem> problems, List<Note> notes) implements TrialRead {
        /**
         * Keeps its own copy of each list.
         *
         * @param problems every problem of the folder, at least one, in the order of the files and their rows
         * @param notes what was noticed besides
         */
        public Faulty {
            problems = List.copyOf(problems);
            notes = List.copyOf(notes);
        }
    }

    /**
     * Answers by outcome.
     *
     * @param <R> type of the answer
     * @param complete asked in the case {@link Complete}
     * @param faulty asked in the case {@link Faulty}
     * @return what the one that was asked answered
     */
    default <R> R fold(Function<Complete, R> complete, Function<Faulty, R> faulty) {
        if (this instanceof Complete read) {
            return complete.apply(read);
        }
        return faulty.apply((Faulty) this);
    }
}
