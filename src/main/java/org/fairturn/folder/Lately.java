package org.fairturn.folder;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;

/**
 * What was last made of each file's content, so that what nobody has changed is not taken apart again: while phones enter
 * readings, most files of a trial stay as they are. What is kept is looked up by the whole content, never by time or size.
 *
 * @param <V> an immutable value
 */
final class Lately<V> {
    private static final int MOST_FILES = 60;
    private static final int LARGEST = 1_000_000;

    private static final class Made<V> {
        private final byte[] content;
        private final V value;

        Made(byte[] content, V value) {
            this.content = content;
            this.value = value;
        }
    }

    private final Map<Path, Made<V>> byFile = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Path, Made<V>> eldest) {
            return size() > MOST_FILES;
        }
    };

    /** What is made of a file with that content. */
    V of(Path file, byte[] content, Supplier<V> make) {
        synchronized (byFile) {
            Made<V> made = byFile.get(file);
            if (made != null && Arrays.equals(made.content, content)) {
                return made.value;
            }
        }
        V value = make.get();
        if (content.length <= LARGEST) {
            synchronized (byFile) {
                byFile.put(file, new Made<>(content, value));
            }
        }
        return value;
    }
}
