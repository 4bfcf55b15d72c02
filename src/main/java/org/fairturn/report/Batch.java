package org.fairturn.report;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CancellationException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.Future;
import java.util.function.UnaryOperator;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Verdict;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Trial;

/**
 * Many trial folders analysed one after another, as many at once as there are processors. Lines come out in the order of the
 * folders; no more than a few dozen wait for their turn, so that memory does not grow with their number.
 */
public final class Batch {
    private static final int WAITING_PER_WORKER = 16;

    private final Path above;
    private final boolean json;
    private final UnaryOperator<Trial> taught;

    /**
     * A run over the folders of an archive.
     *
     * @param above the archive, which the folders lie below
     * @param json whether lines carry results.json
     * @param taught what is done to each trial before it is analysed, by several threads at once; such as what an archive
     *     teaches it
     */
    public Batch(Path above, boolean json, UnaryOperator<Trial> taught) {
        this.above = above;
        this.json = json;
        this.taught = taught;
    }

    /**
     * What came of one folder.
     *
     * @param name path below the archive, with slashes
     * @param result what was found; none of it where there are problems
     * @param problems how many have to be mended before the folder can be analysed; 0 where it was
     * @param json results.json, or the problems in its format, in one line; empty where it was not asked for
     */
    public record Line(String name, Result result, int problems, String json) {}

    /**
     * How much a trial holds, and how many of its questions were decided, left open, or could not be asked.
     *
     * @param machines listed
     * @param circles listed
     * @param decided questions with a verdict
     * @param open questions it cannot tell yet
     * @param notPossible questions that lack something
     */
    public record Result(int machines, int circles, int decided, int open, int notPossible) {
        private static final Result NONE = new Result(0, 0, 0, 0, 0);

        static Result of(Analysis analysis) {
            Trial trial = analysis.trial();
            List<Verdict> verdicts =
                    analysis.findings().stream().map(f -> f.verdict()).toList();
            return new Result(
                    trial.machines().size(),
                    trial.circles().size(),
                    count(verdicts, 1, 0, 0),
                    count(verdicts, 0, 1, 0),
                    count(verdicts, 0, 0, 1));
        }

        private static int count(List<Verdict> verdicts, int decided, int open, int notPossible) {
            return verdicts.stream()
                    .mapToInt(v -> v.fold(w -> decided, b -> decided, c -> open, n -> notPossible))
                    .sum();
        }
    }

    /** Takes one line after another. */
    public interface Taker {
        /**
         * Is given the lines one after the other, never two at once.
         *
         * @param line of one folder
         * @throws IOException which ends the run
         */
        void take(Line line) throws IOException;
    }

    /**
     * Analyses the folders and hands over their lines in order.
     *
     * @param folders of trials, in the order of their lines
     * @param taker of the lines
     * @throws IOException what the taker throws; the rest is left undone
     */
    public void run(List<Path> folders, Taker taker) throws IOException {
        int workers = Math.max(1, Runtime.getRuntime().availableProcessors());
        // its workers take on what an analysis does side by side, too: with other threads for that, more would run than
        // processors are
        ForkJoinPool executor = new ForkJoinPool(workers, ForkJoinPool.defaultForkJoinWorkerThreadFactory, null, true);
        try {
            Deque<Future<Line>> waiting = new ArrayDeque<>();
            for (Path folder : folders) {
                if (waiting.size() == WAITING_PER_WORKER * workers) {
                    taker.take(result(waiting.removeFirst()));
                }
                waiting.addLast(executor.submit(() -> line(folder)));
            }
            while (!waiting.isEmpty()) {
                taker.take(result(waiting.removeFirst()));
            }
        } finally {
            executor.shutdownNow();
        }
    }

    private static Line result(Future<Line> line) {
        try {
            return line.get();
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            throw new CancellationException("interrupted while waiting for a folder");
        } catch (ExecutionException failed) {
            if (failed.getCause() instanceof Error error) {
                throw error;
            }
            throw new IllegalStateException(failed.getCause());
        }
    }

    Line line(Path folder) {
        String name = above.relativize(folder).toString().replace('\\', '/');
        try {
            TakenTrial taken = Bundle.is(folder)
                    ? TrialFolder.take(folder)
                    : new TakenTrial(TrialFolder.read(folder), Map.of(), Map.of());
            return taken.read().fold(read -> analysed(name, read, taken), read -> faulty(folder, name, read));
        } catch (RuntimeException fault) { // it is one folder's; the others shall have their answer
            return faulty(folder, name, new TrialRead.Faulty(List.of(ofOurs(folder, fault)), List.of()));
        }
    }

    private static Problem ofOurs(Path folder, RuntimeException fault) {
        return new Problem(
                TrialFolder.nameOf(folder),
                0,
                "",
                "something that Fairturn stopped over (" + fault.getClass().getSimpleName() + ")",
                "any trial",
                "This is a fault of the program, not yours. Please report it, together with the folder.",
                -1);
    }

    private Line analysed(String name, TrialRead.Complete read, TakenTrial taken) {
        Analysis analysis = Analysis.of(taught.apply(read.trial()));
        if (!json) {
            return new Line(name, Result.of(analysis), 0, "");
        }
        List<Warning> warnings = new ArrayList<>(analysis.warnings());
        warnings.addAll(TrialReport.asWarnings(read.notes()));
        BundleAgreement.of(taken, TrialReport.of(analysis, List.of())).ifPresent(a -> warnings.addAll(a.warnings()));
        return new Line(name, Result.of(analysis), 0, ResultsJson.line(analysis, warnings, name));
    }

    private Line faulty(Path folder, String name, TrialRead.Faulty read) {
        int problems = read.problems().size();
        return new Line(
                name,
                Result.NONE,
                problems,
                json
                        ? ResultsJson.errorsLine(
                                TrialFolder.nameOf(folder), name, read.problems(), TrialReport.asWarnings(read.notes()))
                        : "");
    }
}
