package org.fairturn.folder;

import java.util.List;
import java.util.function.Function;
import org.fairturn.trial.Trial;

/** What came of reading a trial folder: the trial, or everything that has to be mended first. Notes come with either. */
public sealed interface TrialRead {
    /** The folder holds a trial. */
    record Complete(Trial trial, List<Note> notes) implements TrialRead {
        public Complete {
            notes = List.copyOf(notes);
        }
    }

    /**
     * The folder does not hold a trial yet.
     *
     * @param problems every problem of the folder, at least one, in the order of the files and their rows
     */
    record Faulty(List<Problem> problems, List<Note> notes) implements TrialRead {
        public Faulty {
            problems = List.copyOf(problems);
            notes = List.copyOf(notes);
        }
    }

    /** Answers by outcome. */
    default <R> R fold(Function<Complete, R> complete, Function<Faulty, R> faulty) {
        if (this instanceof Complete read) {
            return complete.apply(read);
        }
        return faulty.apply((Faulty) this);
    }
}
