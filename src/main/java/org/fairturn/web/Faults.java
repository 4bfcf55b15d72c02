package org.fairturn.web;

import org.fairturn.folder.Problem;

/** Problems of a folder beside the field they stand at. */
final class Faults {
    private Faults() {}

    /** What was read, what is accepted and how to mend it; where it stands is plain from the field. */
    static String beside(Problem problem) {
        String what = problem.column().isEmpty()
                ? "Found " + problem.read()
                : problem.read().isEmpty() ? "This is empty" : "Read \"" + problem.read() + "\"";
        return what + "; accepted: " + problem.accepted() + "."
                + (problem.mend().isEmpty() ? "" : " " + problem.mend());
    }
}
