package org.fairturn.web;

import java.util.List;
import java.util.Optional;

/**
 * What frames every page.
 *
 * @param title of the page, its one main heading
 * @param trial whose page it is
 * @param here which of the trial's pages, by the last part of its address
 * @param token for forms
 * @param said what the visitor is to be told about what was just done
 * @param faults what has to be mended on this page, each with the id of its field
 * @param phones whether the way in for phones can be shown here
 */
public record Page(
        String title,
        Optional<Trial> trial,
        String here,
        String token,
        Optional<String> said,
        List<Fault> faults,
        boolean phones,
        String style,
        String script,
        String htmx) {
    public Page {
        faults = List.copyOf(faults);
    }

    /** A trial as its pages name it. */
    public record Trial(String id, String title) {
        /** The address of one of its pages. */
        public String page(String name) {
            return "/trial/" + id + (name.isEmpty() ? "" : "/" + name);
        }
    }

    /** Something to mend, and the field it stands at; no field where {@code field} is empty. */
    public record Fault(String field, String message) {}
}
