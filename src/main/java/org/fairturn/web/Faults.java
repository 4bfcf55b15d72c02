package org.fairturn.web;

import java.util.List;
import java.util.function.UnaryOperator;
import org.fairturn.folder.Problem;

/** Problems of a folder beside the field they stand at. */
final class Faults {
    private Faults() {}

    /**
     * Each beside the field of its column; those of no column beside none.
     *
     * @param fieldOf the name under which a page sends a column
     */
    static List<Page.Fault> beside(List<Problem> problems, UnaryOperator<String> fieldOf) {
        return problems.stream()
                .map(problem -> problem.column().isEmpty()
                        ? new Page.Fault("", problem.message())
                        : new Page.Fault(Field.id(fieldOf.apply(problem.column())), beside(problem)))
                .toList();
    }

    /** What was read, what is accepted and how to mend it; where it stands is plain from the field. */
    static String beside(Problem problem) {
        String what = problem.column().isEmpty()
                ? "Found " + problem.read()
                : problem.read().isEmpty() ? "This is empty" : "Read \"" + problem.read() + "\"";
        return what + "; accepted: " + problem.accepted() + "."
                + (problem.mend().isEmpty() ? "" : " " + problem.mend());
    }
}
