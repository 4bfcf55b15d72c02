package org.fairturn.web;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.Semaphore;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.finding.WhatIf;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Trial;

/**
 * The reports of trials, as measured and with something tried. The latest are kept, by what is on disk and what is tried; who asks
 * for one that is being worked out waits for it, and one is worked out at a time.
 */
final class Reports {
    /** Each takes about a megabyte, its drawings included. */
    private static final int MOST = 24;

    private static final int MOST_TRIES = 5;

    private record Key(Path folder, String version, WhatIf whatIf) {}

    private final Analyses analyses;
    private final Semaphore turn = new Semaphore(1, true);
    private final Map<Key, FutureTask<TrialReport>> latest = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, FutureTask<TrialReport>> eldest) {
            return size() > MOST;
        }
    };

    Reports(Analyses analyses) {
        this.analyses = analyses;
    }

    /**
     * A trial that can be analysed.
     *
     * @param version of its files
     * @param notes what was noticed while they were read
     */
    record Ready(Path folder, String version, Trial trial, List<Warning> notes) {}

    /** The trial as it is on disk now; empty where something has to be mended first. */
    Optional<Ready> read(Path folder) {
        TrialEditor editor = TrialEditor.of(folder);
        String version = editor.version();
        for (int i = 0; ; i++) {
            TrialRead read = editor.read();
            String after = editor.version();
            if (after.equals(version) || i == MOST_TRIES) {
                return read.fold(
                        complete -> Optional.of(
                                new Ready(folder, after, complete.trial(), TrialReport.asWarnings(complete.notes()))),
                        faulty -> Optional.empty());
            }
            version = after; // somebody saved in between
        }
    }

    /** The report of the trial as measured. */
    TrialReport of(Ready ready) {
        return of(ready, WhatIf.NOTHING);
    }

    /** The report of the trial with something tried; the one as measured where that changes nothing. */
    TrialReport of(Ready ready, WhatIf whatIf) {
        WhatIf changes = whatIf.beside(ready.trial());
        Key key = new Key(ready.folder(), ready.version(), changes);
        FutureTask<TrialReport> task;
        synchronized (latest) {
            task = latest.computeIfAbsent(key, k -> new FutureTask<>(() -> workOut(ready, changes)));
        }
        task.run(); // does nothing where another thread is at it, or was
        try {
            return task.get();
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException(stopped);
        } catch (ExecutionException failed) {
            synchronized (latest) {
                latest.remove(key, task);
            }
            throw new IllegalStateException(failed.getCause());
        }
    }

    /** The report on paper. Printing takes much memory: nothing else is worked out meanwhile. */
    byte[] printed(Ready ready) {
        TrialReport report = of(ready);
        turn.acquireUninterruptibly();
        try {
            return report.pdf();
        } finally {
            turn.release();
        }
    }

    /** Everything in one file to hand over, the card in it; empty where somebody goes on saving into the folder. */
    Optional<byte[]> bundled(Path folder) {
        for (int i = 0; i <= MOST_TRIES; i++) {
            Optional<Ready> ready = read(folder);
            TakenTrial taken = TrialFolder.take(folder);
            boolean same = ready.isPresent()
                    && taken.read()
                            .fold(
                                    read -> read.trial().equals(ready.get().trial())
                                            && TrialReport.asWarnings(read.notes())
                                                    .equals(ready.get().notes()),
                                    faulty -> false);
            if (same) {
                TrialReport report = byFilesAlone(ready.get());
                return Optional.of(report.bundle(Bundle.nameOf(folder), taken, report.cardFiles()));
            }
        }
        return Optional.empty();
    }

    /** A bundle is worked out anew by others, who have no past trials of ours. */
    private TrialReport byFilesAlone(Ready ready) {
        TrialReport report = of(ready);
        Analysis alone = analyses.byFilesAlone(ready.folder(), ready.trial());
        return alone.trial().equals(report.analysis().trial()) ? report : TrialReport.of(alone, ready.notes());
    }

    private TrialReport workOut(Ready ready, WhatIf changes) throws InterruptedException {
        turn.acquire();
        try {
            Analysis analysis = changes.isNothing()
                    ? analyses.of(ready.folder(), ready.trial())
                    : analyses.apart(changes.appliedTo(ready.trial()));
            return TrialReport.of(analysis, ready.notes());
        } finally {
            turn.release();
        }
    }
}
