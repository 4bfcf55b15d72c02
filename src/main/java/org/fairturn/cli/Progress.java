package org.fairturn.cli;

import java.io.PrintWriter;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;

/** How far a long run has come and how long it will take, in one line of the terminal that is written over and over. */
final class Progress {
    private static final long EVERY = TimeUnit.MILLISECONDS.toNanos(500);

    private final PrintWriter terminal;
    private final int total;
    private final LongSupplier nanoseconds;
    private final long start;
    private long shown;
    private int width;

    /** Progress towards a number of folders, by a clock in nanoseconds. */
    Progress(PrintWriter terminal, int total, LongSupplier nanoseconds) {
        this.terminal = terminal;
        this.total = total;
        this.nanoseconds = nanoseconds;
        this.start = nanoseconds.getAsLong();
        this.shown = start;
    }

    /** Says so where it is time to. */
    void reached(int done) {
        long now = nanoseconds.getAsLong();
        if (now - shown >= EVERY && done > 0) {
            shown = now;
            long left = TimeUnit.NANOSECONDS.toSeconds((long) ((double) (now - start) / done * (total - done)));
            show(done + " of " + Text.count(total, "folder", "folders") + ", " + inWords(left) + " left");
        }
    }

    /** Wipes the line. */
    void done() {
        if (width > 0) {
            terminal.print("\r" + " ".repeat(width) + "\r");
            terminal.flush();
        }
    }

    private void show(String text) {
        terminal.print("\r" + text + " ".repeat(Math.max(0, width - text.length())));
        terminal.flush();
        width = text.length();
    }

    private static String inWords(long seconds) {
        return seconds < 100 ? "about " + seconds + " s" : "about " + Math.round(seconds / 60.0) + " min";
    }
}
