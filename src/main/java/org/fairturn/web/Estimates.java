package org.fairturn.web;

import java.nio.file.Path;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialEditor;

/**
 * The latest analysis of each trial, worked out beside the requests: who saves a reading never waits for it. One at a time
 * runs, on one processor and for half of the time at most; what comes out may be behind the folder, and says of which state
 * of it it is.
 */
final class Estimates {
    private final Map<Path, Known> known = new ConcurrentHashMap<>();
    private final Set<Path> asked = new HashSet<>();
    /** A pool of one: what an analysis would spread over all processors stays on it, and leaves the others to the phones. */
    private final ForkJoinPool worker = new ForkJoinPool(
            1, ForkJoinPool.defaultForkJoinWorkerThreadFactory, (thread, fault) -> tell(thread, fault), false);

    private final Analyses analyses;
    private volatile boolean stopped;

    Estimates(Analyses analyses) {
        this.analyses = analyses;
    }

    /**
     * What is known of a trial.
     *
     * @param version of the folder it was worked out from
     * @param analysis empty where the folder has something to mend first
     */
    record Known(String version, Optional<Analysis> analysis) {}

    /** What is known now; where that is not of this version of the folder, the next is under way. */
    Optional<Known> of(Path folder, String version) {
        Optional<Known> latest = Optional.ofNullable(known.get(folder));
        if (latest.isEmpty() || !latest.get().version().equals(version)) {
            ask(folder);
        }
        return latest;
    }

    private synchronized void ask(Path folder) {
        if (asked.add(folder)) {
            worker.execute(() -> workOut(folder));
        }
    }

    private void workOut(Path folder) {
        TrialEditor editor = TrialEditor.of(folder);
        String version =
                editor.version(); // taken first: at worst newer readings pass for older ones, and are looked at again
        long start = System.nanoTime();
        try {
            Optional<Analysis> analysis = editor.read()
                    .fold(read -> Optional.of(analyses.of(folder, read.trial())), faulty -> Optional.empty());
            known.put(folder, new Known(version, analysis));
        } finally {
            LockSupport.parkNanos(System.nanoTime() - start); // phones have gone before for as long
            synchronized (this) {
                asked.remove(folder);
            }
        }
    }

    /** What an analysis meets that is cut off in its middle is no fault of it, whatever it is. */
    private void tell(Thread thread, Throwable fault) {
        if (!stopped) {
            thread.getThreadGroup().uncaughtException(thread, fault);
        }
    }

    void stop() {
        stopped = true;
        worker.shutdownNow();
    }

    /** For tests. */
    boolean isStoppedWithin(long millis) throws InterruptedException {
        return worker.awaitTermination(millis, TimeUnit.MILLISECONDS);
    }
}
