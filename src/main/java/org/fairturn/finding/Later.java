package org.fairturn.finding;

import java.util.function.Supplier;
import java.util.stream.Stream;

/**
 * Something to be worked out beside others, by as many threads as there are processors. It may be asked for once
 * {@link #atOnce} is through.
 */
final class Later<T> {
    private final Supplier<T> work;
    private volatile T result;

    Later(Supplier<T> work) {
        this.work = work;
    }

    /** Works all of them out; what one of them throws comes out here. */
    static void atOnce(Later<?>... all) {
        Stream.of(all).parallel().forEach(Later::work);
    }

    private void work() {
        result = work.get();
    }

    T get() {
        return result;
    }
}
