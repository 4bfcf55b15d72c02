package org.fairturn.folder;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The ids that one file lists. They count as listed even where their row has other faults, so that no fault echoes. */
final class Ids {
    private static final int MOST_LISTED = 8;
    /** For more unknown ids than these none is proposed: comparing each with all would take longer than reading the file. */
    private static final int MOST_GUESSED = 100;

    private final String noun;
    private final String fileName;
    /** False where the file could not be read to its end: any id may then be right. */
    private final boolean tellsAll;

    private final Map<String, Integer> rows = new LinkedHashMap<>();
    private final Map<String, String> guesses = new HashMap<>();

    private Ids(String noun, String fileName, boolean tellsAll) {
        this.noun = noun;
        this.fileName = fileName;
        this.tellsAll = tellsAll;
    }

    /** Collects the ids of a column; an id that an earlier row has is a problem. */
    static Ids listed(TrialFile file, String column, Optional<Table> table) {
        Ids ids = new Ids(
                column, file.fileName(), table.isPresent() && table.get().tellsAll(column));
        for (Row row : table.map(Table::rows).orElse(List.of())) {
            row.required(column, Entry.text("an id, such as a name or a number"))
                    .ifPresent(id -> ids.add(row, column, id));
        }
        return ids;
    }

    private void add(Row row, String column, String id) {
        Integer earlier = rows.putIfAbsent(id, row.number());
        if (earlier != null) {
            row.fault(
                    column,
                    "an id that no other row has; row " + earlier + " has this one already",
                    "Give one of the two another id, or delete the row that is there twice.");
        }
    }

    /** An id of this list; where the list is incomplete or empty, which is a problem of its own, any. */
    Entry<String> known() {
        List<String> ids = new ArrayList<>(rows.keySet());
        String list = String.join(", ", ids.subList(0, Math.min(MOST_LISTED, ids.size())));
        String more = ids.size() > MOST_LISTED ? " and " + (ids.size() - MOST_LISTED) + " more" : "";
        String accepted = "a " + noun + " listed in " + fileName + (ids.isEmpty() ? "" : ": " + list + more);
        return Entry.of(accepted, (text, refusal) -> {
            if (tellsAll && !ids.isEmpty() && !rows.containsKey(text)) {
                refusal.because(accepted, guesses.computeIfAbsent(text, this::mend), -1);
                return Optional.empty();
            }
            return Optional.of(text);
        });
    }

    private String mend(String text) {
        String question = guesses.size() < MOST_GUESSED ? Nearest.question(text, rows.keySet()) : "";
        return question.isEmpty() ? "List it there, or write the id as it stands there." : question;
    }
}
