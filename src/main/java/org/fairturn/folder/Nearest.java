package org.fairturn.folder;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;

/** Guesses which of the known words somebody meant. */
final class Nearest {
    /** With more words than this only letter case is looked at, so that a long sheet full of slips still reads fast. */
    private static final int MOST_COMPARED = 500;

    private Nearest() {}

    /** The known word that takes the fewest changed letters; empty where none comes close or two are equally near. */
    static Optional<String> to(String text, Collection<String> known) {
        if (known.size() > MOST_COMPARED) {
            return known.stream().filter(text::equalsIgnoreCase).findFirst();
        }
        String wanted = text.toLowerCase(Locale.ROOT);
        String best = null;
        int fewest = (text.length() <= 3 ? 1 : Math.max(2, text.length() / 3)) + 1;
        for (String word : known) {
            int changes = changes(wanted, word.toLowerCase(Locale.ROOT));
            if (changes < fewest) {
                fewest = changes;
                best = word;
            } else if (changes == fewest) {
                best = null;
            }
        }
        int needed = fewest;
        return Optional.ofNullable(best).filter(word -> needed < word.length());
    }

    /** A sentence that proposes the nearest known word; empty where none comes close. */
    static String question(String text, Collection<String> known) {
        return to(text, known).map(word -> "Did you mean \"" + word + "\"?").orElse("");
    }

    /** Levenshtein distance: letters to insert, delete or replace. */
    private static int changes(String a, String b) {
        int[] above = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            above[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int[] row = new int[b.length() + 1];
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int replaced = above[j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                row[j] = Math.min(replaced, 1 + Math.min(above[j], row[j - 1]));
            }
            above = row;
        }
        return above[b.length()];
    }
}
