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
 * @param style address of the style sheet
 * @param script address of the script
 * @param htmx address of the library
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
    /**
     * Keeps its own copy of the list.
     *
     * @param title of the page, its one main heading
     * @param trial whose page it is
     * @param here which of the trial's pages, by the last part of its address
     * @param token for forms
     * @param said what the visitor is to be told about what was just done
     * @param faults what has to be mended on this page, each with the id of its field
     * @param phones whether the way in for phones can be shown here
     * @param style address of the style sheet
     * @param script address of the script
     * @param htmx address of the library
     */
    public Page {
        faults = List.copyOf(faults);
    }

    /**
     * A trial as its pages name it.
     *
     * @param id in addresses
     * @param title as people know it
     */
    public record Trial(String id, String title) {
        /**
         * {@return the address of one of its pages}
         *
         * @param name behind the trial's own address
         */
        public String page(String name) {
            return "/trial/" + id + (name.isEmpty() ? "" : "/" + name);
        }
    }

    /**
     * Something to mend, and the field it stands at; no field where {@code field} is empty.
     *
     * @param field id of the field
     * @param message what to mend, in a sentence
     */
    public record Fault(String field, String message) {}
}
