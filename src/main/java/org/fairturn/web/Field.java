package org.fairturn.web;

import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;

/**
 * One field of a form.
 *
 * @param name what its value is sent as
 * @param label what stands above it
 * @param help what it means and what may be written; empty where the label says all
 * @param value as typed
 * @param choices what may be chosen, the empty one included; none where text is typed
 * @param faults what has to be mended in it
 */
public record Field(String name, String label, String help, String value, List<String> choices, List<String> faults) {
    /**
     * Keeps its own copy of each list.
     *
     * @param name what its value is sent as
     * @param label what stands above it
     * @param help what it means and what may be written; empty where the label says all
     * @param value as typed
     * @param choices what may be chosen, the empty one included; none where text is typed
     * @param faults what has to be mended in it
     */
    public Field {
        choices = List.copyOf(choices);
        faults = List.copyOf(faults);
    }

    static Field text(String name, String label, String help) {
        return new Field(name, label, help, "", List.of(), List.of());
    }

    static Field choice(String name, String label, String help, String... choices) {
        return new Field(name, label, help, "", List.of(choices), List.of());
    }

    /** A cell as a field of one line sends it back: without the line ends a spreadsheet may have put there. */
    static String line(String cell) {
        return cell.replaceAll("[\\r\\n]+", "");
    }

    Field with(String typed) {
        return new Field(name, label, help, typed, choices, faults);
    }

    /** With those of the faults that stand at this field. */
    Field with(List<Page.Fault> all) {
        List<String> own = all.stream()
                .filter(fault -> fault.field().equals(id()))
                .map(Page.Fault::message)
                .toList();
        return new Field(name, label, help, value, choices, own);
    }

    static String id(String name) {
        return "f-" + name.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-");
    }

    /** {@return what its input is called in the page} */
    public String id() {
        return id(name);
    }

    /** {@return choices, what was typed among them even where it is none of them} */
    public List<String> offered() {
        if (choices.contains(value)) {
            return choices;
        }
        return Stream.concat(choices.stream(), Stream.of(value)).toList();
    }

    /** {@return ids of what describes the field; empty where nothing does} */
    public String describedBy() {
        return ((help.isEmpty() ? "" : id() + "-help") + (faults.isEmpty() ? "" : " " + id() + "-faults")).strip();
    }
}
