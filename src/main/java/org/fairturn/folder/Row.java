package org.fairturn.folder;

import java.util.List;
import java.util.Optional;

/** One row of a table. Reading a cell that is not as it should be adds a problem and marks the row. */
final class Row {
    private final Table table;
    private final int number;
    private final List<String> cells;
    /** Its cells have slipped sideways, so that each would only echo that one problem. */
    private final boolean slipped;

    private boolean faulty;

    Row(Table table, int number, List<String> cells, boolean slipped) {
        this.table = table;
        this.number = number;
        this.cells = cells;
        this.slipped = slipped;
        this.faulty = slipped;
    }

    int number() {
        return number;
    }

    boolean isFaulty() {
        return faulty;
    }

    /** The cell without blanks around it; empty where it is blank or the column is not there. */
    String text(String column) {
        return table.cell(cells, column);
    }

    boolean isBlank(String column) {
        return text(column).isEmpty();
    }

    /** The cell's value; empty where the cell is blank or, with a problem, where it cannot be read. */
    <T> Optional<T> optional(String column, Entry<T> entry) {
        String text = text(column);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        return entry.read(text, (accepted, mend, caret) -> fault(column, text, accepted, mend, caret));
    }

    /** The cell's value; empty, with a problem, where the cell is blank or cannot be read. */
    <T> Optional<T> required(String column, Entry<T> entry) {
        if (!table.hasColumn(column)) {
            faulty = true; // the missing column is a problem already
            return Optional.empty();
        }
        if (isBlank(column)) {
            fault(column, "", entry.accepted(), "", -1);
            return Optional.empty();
        }
        return optional(column, entry);
    }

    /** As {@link #required}, where the row itself, not the file, asks for the cell: a missing column is a blank cell then. */
    <T> Optional<T> requiredHere(String column, Entry<T> entry) {
        if (isBlank(column) && !table.isRequired(column)) {
            fault(column, "", entry.accepted(), "", -1);
            return Optional.empty();
        }
        return required(column, entry);
    }

    void fault(String column, String accepted, String mend) {
        fault(column, text(column), accepted, mend, -1);
    }

    void fault(String column, String read, String accepted, String mend, int caret) {
        faulty = true;
        if (!slipped) {
            table.problems().add(new Problem(table.fileName(), number, column, read, accepted, mend, caret));
        }
    }

    void note(String column, String text) {
        table.problems().note(table.fileName(), number, column, text);
    }
}
