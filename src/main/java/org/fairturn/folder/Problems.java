package org.fairturn.folder;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import java.util.function.ToIntFunction;

/** Gathers the problems and notes of one folder while it is read. */
final class Problems {
    private final List<Problem> problems = new ArrayList<>();
    private final List<Note> notes = new ArrayList<>();

    void add(Problem problem) {
        problems.add(problem);
    }

    void note(String file, int row, String column, String text) {
        notes.add(new Note(file, row, column, text));
    }

    /** In the order of the files and, within a file, of its rows. */
    List<Problem> problems() {
        return sorted(problems, Problem::file, Problem::row);
    }

    List<Note> notes() {
        return sorted(notes, Note::file, Note::row);
    }

    private static <T> List<T> sorted(List<T> list, Function<T, String> file, ToIntFunction<T> row) {
        List<String> order = TrialFile.names();
        return list.stream()
                .sorted(Comparator.comparingInt((T one) -> order.indexOf(file.apply(one)))
                        .thenComparingInt(row))
                .toList();
    }
}
