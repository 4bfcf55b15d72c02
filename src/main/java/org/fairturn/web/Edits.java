package org.fairturn.web;

import java.util.List;
import org.fairturn.folder.Problem;

/** What came of edits, told beside the fields. */
final class Edits {
    static final String MEANWHILE =
            "Somebody else changed this while the page was open, so it was not saved. What is there now: load the page again.";

    private Edits() {}

    /**
     * Adds what has to be mended.
     *
     * @param field where a problem stands that belongs to no column of the form
     * @param group what stands before each column's name in the form; empty where the whole edit is one field
     */
    static void note(Outcome outcome, String field, String group, List<Page.Fault> faults) {
        outcome.fold(
                saved -> false,
                there -> false,
                refused -> {
                    for (Problem problem : refused.problems()) {
                        boolean column = !group.isEmpty() && !problem.column().isEmpty();
                        faults.add(new Page.Fault(
                                Field.id(column ? group + problem.column() : field), Faults.beside(problem)));
                    }
                    return true;
                },
                meanwhile -> faults.add(new Page.Fault(Field.id(field), MEANWHILE)));
    }
}
