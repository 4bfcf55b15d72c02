package org.fairturn.folder;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * Carries out the edits of one folder, in the order they came. One at a time gets the folder's lock and carries out what
 * all others wait for as well: edits of one file that wait together are made one upon the other and go to disk in one write. None is
 * reported as saved before that write is on disk.
 */
final class EditQueue {
    private static final int MOST_TRIES = 10;

    /** Far above the time a write takes, so that no temporary file is swept away that still grows. */
    private static final Duration LEFT_OVER = Duration.ofMinutes(1);

    /** Among all editors of this program. */
    private static final Map<Path, EditQueue> BY_FOLDER = new ConcurrentHashMap<>();

    private final Queue<Edit> waiting = new ConcurrentLinkedQueue<>();
    private final ReentrantLock turns = new ReentrantLock();
    private final Condition turn = turns.newCondition();
    /** Whether somebody is carrying edits out, or waits for the folder's lock to do so. */
    private boolean leading;
    /** Whether a rename is in place that the disk did not confirm; only looked at under the lock. */
    private boolean unconfirmed;

    private EditQueue() {}

    /** The queue of a folder that is there. */
    static EditQueue of(Path folder) throws IOException {
        return BY_FOLDER.computeIfAbsent(folder.toRealPath(), path -> new EditQueue());
    }

    /** What an edit comes to, given what is on disk; the outcome holds once all the writes are on disk, in their order. */
    record Plan(Outcome outcome, List<Write> writes) {
        static Plan nothing(Outcome outcome) {
            return new Plan(outcome, List.of());
        }

        static Plan refused(List<Problem> problems) {
            return nothing(new Outcome.Refused(problems));
        }
    }

    record Write(String name, CsvText csv) {
        byte[] bytes() {
            return csv.text().getBytes(StandardCharsets.UTF_8);
        }
    }

    /** An edit on its way. */
    private static final class Edit {
        private final TrialFile file;
        private final Function<FolderFiles, Plan> planner;
        private final CompletableFuture<Outcome> outcome = new CompletableFuture<>();
        /** Whether an earlier try has put the row it takes out into removed.csv; it is not put there twice. */
        private boolean kept;

        Edit(TrialFile file, Function<FolderFiles, Plan> planner) {
            this.file = file;
            this.planner = planner;
        }
    }

    /**
     * Waits until an edit is carried out.
     *
     * @param file what it is about, for messages
     * @param reached is told the steps of each write
     */
    Outcome carryOut(
            Path folder,
            TrialFile file,
            Function<FolderFiles, Plan> planner,
            Clock clock,
            Consumer<AtomicFile.Step> reached) {
        Edit edit = new Edit(file, planner);
        waiting.add(edit);
        if (isMineToLead(edit)) {
            try {
                lead(folder, clock, reached);
            } finally {
                letOthersLead();
            }
        }
        try {
            return edit.outcome.join();
        } catch (CompletionException fault) {
            if (fault.getCause() instanceof RuntimeException own) {
                throw own;
            }
            throw fault;
        }
    }

    /** Waits until somebody else has carried the edit out, or nobody is at it. Who is done waits for nobody else's edit. */
    private boolean isMineToLead(Edit edit) {
        turns.lock();
        try {
            while (leading && !edit.outcome.isDone()) {
                turn.awaitUninterruptibly();
            }
            if (edit.outcome.isDone()) {
                return false;
            }
            leading = true;
            return true;
        } finally {
            turns.unlock();
        }
    }

    private void letOthersLead() {
        turns.lock();
        try {
            leading = false;
            turn.signalAll();
        } finally {
            turns.unlock();
        }
    }

    private void lead(Path folder, Clock clock, Consumer<AtomicFile.Step> reached) {
        Problems problems = new Problems();
        Optional<FolderLock> lock = FolderLock.take(folder, problems);
        if (lock.isPresent()) {
            try {
                new Turn(folder, clock, reached).carryOut(taken());
            } finally {
                lock.get().close();
            }
        } else {
            refuse(taken(), problems.problems());
        }
    }

    private List<Edit> taken() {
        List<Edit> taken = new ArrayList<>();
        for (Edit next = waiting.poll(); next != null; next = waiting.poll()) {
            taken.add(next);
        }
        return taken;
    }

    private static void refuse(List<Edit> edits, List<Problem> problems) {
        edits.forEach(edit -> edit.outcome.complete(new Outcome.Refused(problems)));
    }

    /** Edits that go to disk together, and the writes they come to. */
    private record Group(List<Edit> edits, List<Plan> plans, List<Write> writes) {}

    /** One holding of the lock. */
    private final class Turn {
        private final Path folder;
        private final Clock clock;
        private final Consumer<AtomicFile.Step> reached;

        Turn(Path folder, Clock clock, Consumer<AtomicFile.Step> reached) {
            this.folder = folder;
            this.clock = clock;
            this.reached = reached;
        }

        void carryOut(List<Edit> left) {
            try {
                boolean swept = false;
                int tries = 0;
                while (!left.isEmpty()) {
                    Problems problems = new Problems();
                    Optional<FolderFiles> files = FolderFiles.open(folder, problems);
                    if (files.isEmpty() || !isConfirmed(left.get(0).file, problems)) {
                        refuse(left, problems.problems());
                        return;
                    }
                    if (!swept) {
                        sweep(files.get());
                        swept = true;
                    }
                    FolderFiles now = files.get().taken();
                    Group group = together(left, now);
                    boolean written = isWritten(group, now);
                    tries = written ? 0 : tries + 1;
                    if (tries == MOST_TRIES) {
                        refuse(group.edits(), List.of(neverRests(group.edits().get(0).file)));
                    }
                    left.removeIf(edit -> edit.outcome.isDone());
                }
            } finally {
                // whatever happened, nobody waits for ever
                left.forEach(edit -> edit.outcome.completeExceptionally(new IllegalStateException("edit not made")));
            }
        }

        private static Problem neverRests(TrialFile file) {
            return Problem.of(
                    file.fileName(),
                    0,
                    "a file that another program keeps writing to",
                    "a file that is left alone for a moment",
                    "Nothing was changed. Save and close the file in the other program, then save here again.");
        }

        /** What an earlier edit left unconfirmed is confirmed first, or nothing that follows can be. */
        private boolean isConfirmed(TrialFile file, Problems problems) {
            try {
                if (unconfirmed) {
                    AtomicFile.forceFolder(folder);
                    unconfirmed = false;
                }
                return true;
            } catch (IOException failure) {
                problems.add(TrialFolder.notConfirmed(file.fileName()));
                return false;
            }
        }

        /** Takes away what writes that were cut short left behind. */
        private void sweep(FolderFiles files) {
            Instant before = clock.instant().minus(LEFT_OVER);
            for (Path leftover : files.leftovers()) {
                try {
                    if (Files.getLastModifiedTime(leftover).toInstant().isBefore(before)) {
                        Files.deleteIfExists(leftover);
                    }
                } catch (IOException stays) {
                    // it is no data and in nobody's way; the next edit tries again
                }
            }
        }

        /** As many of the edits as need but one write and the same, each made upon those before it; at least one. */
        private static Group together(List<Edit> left, FolderFiles files) {
            FolderFiles now = files;
            Group group = new Group(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
            for (Edit edit : left) {
                Plan plan;
                try {
                    plan = fitting(edit.planner.apply(now));
                } catch (RuntimeException fault) {
                    edit.outcome.completeExceptionally(fault);
                    continue;
                }
                boolean joins = group.writes().isEmpty()
                        || plan.writes().isEmpty()
                        || (plan.writes().size() == 1
                                && group.writes()
                                        .get(0)
                                        .name()
                                        .equals(plan.writes().get(0).name()));
                if (!joins) {
                    break;
                }
                group.edits().add(edit);
                group.plans().add(plan);
                if (!plan.writes().isEmpty()) {
                    group.writes().clear();
                    group.writes().addAll(plan.writes());
                    if (plan.writes().size() > 1) {
                        break;
                    }
                    now = now.with(
                            plan.writes().get(0).name(), plan.writes().get(0).bytes());
                }
            }
            return group;
        }

        private static Plan fitting(Plan plan) {
            return plan.writes().stream()
                    .filter(write -> write.bytes().length > FolderFiles.MOST_BYTES)
                    .findFirst()
                    .map(write -> Plan.refused(List.of(FolderFiles.tooLarge(write.name(), write.bytes().length))))
                    .orElse(plan);
        }

        /** Writes what is planned and says so; false where another program wrote meanwhile. */
        private boolean isWritten(Group group, FolderFiles files) {
            for (int i = 0; i < group.writes().size(); i++) {
                Write write = group.writes().get(i);
                Edit last = group.edits().get(group.edits().size() - 1); // the only one, where there are several files
                boolean keeps = write.name().equals(FolderFiles.REMOVED);
                try {
                    if (keeps && last.kept) {
                        continue;
                    }
                    Optional<byte[]> seen = Optional.ofNullable(files.contents().get(write.name()));
                    if (!AtomicFile.replace(files.path(write.name()), seen, write.bytes(), reached)) {
                        return false;
                    }
                    last.kept |= keeps;
                } catch (AtomicFile.NotConfirmed failure) {
                    unconfirmed = true;
                    tellUnconfirmed(group, write, i == group.writes().size() - 1);
                    return true;
                } catch (IOException failure) {
                    refuse(group.edits(), List.of(notWritten(write.name())));
                    return true;
                }
            }
            for (int i = 0; i < group.edits().size(); i++) {
                group.edits().get(i).outcome.complete(group.plans().get(i).outcome());
            }
            return true;
        }

        private static Problem notWritten(String name) {
            return Problem.of(
                    name,
                    0,
                    "no way to write it",
                    "a file and a folder you may write to, with room on the disk",
                    "The file is as it was. Where a spreadsheet has it open, close it there; then save again.");
        }

        private static void tellUnconfirmed(Group group, Write write, boolean last) {
            Problem problem = TrialFolder.notConfirmed(write.name());
            for (int i = 0; i < group.edits().size(); i++) {
                Outcome planned = group.plans().get(i).outcome();
                Outcome refused = new Outcome.Refused(List.of(problem));
                group.edits()
                        .get(i)
                        .outcome
                        .complete(planned.fold(
                                saved -> last && !saved.rows().isEmpty()
                                        ? new Outcome.Unconfirmed(saved.row(), problem)
                                        : refused,
                                unconfirmed -> unconfirmed,
                                there -> new Outcome.Unconfirmed(there.row(), problem),
                                other -> other,
                                meanwhile -> meanwhile));
            }
        }
    }
}
