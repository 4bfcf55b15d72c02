package org.fairturn.folder;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.concurrent.atomic.AtomicInteger;

/** Lets the program stop dead, or the disk be full, at one step of its writing. */
public final class Interrupted {
    private Interrupted() {}

    /** Not caught by anything that tidies up after a fault: what is half written stays so, as after a power cut. */
    private static final class Halt extends Error {
        private static final long serialVersionUID = 1;
    }

    /**
     * Runs something until it takes a step.
     *
     * @param fatal which, from 1
     * @return whether it came to that step
     */
    public static boolean at(int fatal, Runnable run) {
        return watched(fatal, run, () -> {
            throw new Halt();
        });
    }

    /** The same, from that step on every write failing for want of room. */
    public static boolean fullFrom(int first, Runnable run) {
        return watched(first, run, () -> {
            throw new UncheckedIOException(new IOException("No space left on device"));
        });
    }

    private static boolean watched(int fatal, Runnable run, Runnable happens) {
        AtomicInteger steps = new AtomicInteger();
        AtomicFile.watched = step -> {
            // a rename that was made is no longer undone by a full disk
            int taken = steps.incrementAndGet();
            if (taken == fatal || (taken > fatal && step != AtomicFile.Step.RENAMED)) {
                happens.run();
            }
        };
        try {
            run.run();
        } catch (Halt asWished) {
            // as a program that is gone
        } finally {
            AtomicFile.watched = step -> {};
        }
        return steps.get() >= fatal;
    }
}
