package org.fairturn.folder;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * A trial together with the very files it was read from, so that both can be handed on.
 *
 * @param read what reading the files gave
 * @param files by name in lower case, in the order they are read; removed.csv among them where it is there
 * @param enclosed what else of a bundle is read, by name in lower case: results.json and method.txt; empty for a folder
 */
public record TakenTrial(TrialRead read, Map<String, byte[]> files, Map<String, String> enclosed) {
    /**
     * Keeps its own copy of each map.
     *
     * @param read what reading the files gave
     * @param files by name in lower case, in the order they are read; removed.csv among them where it is there
     * @param enclosed what else of a bundle is read, by name in lower case: results.json and method.txt; empty for a folder
     */
    public TakenTrial {
        files = Collections.unmodifiableMap(new LinkedHashMap<>(files));
        enclosed = Map.copyOf(enclosed);
    }
}
