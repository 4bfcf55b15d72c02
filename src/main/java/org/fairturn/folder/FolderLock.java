package org.fairturn.folder;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Lets one edit at a time at a folder: among the threads of this program and, by a lock on a file in the folder, among
 * programs. The system lets go of that lock when a program ends, however it ends; the file stays, since whoever deleted it
 * could pull it from under the next one.
 */
final class FolderLock implements AutoCloseable {
    static final String FILE = ".fairturn.lock";

    /** An edit takes some hundredths of a second; a dozen phones at once are through long before this. */
    private static final Duration PATIENCE = Duration.ofSeconds(10);

    private static final int PAUSE_MILLIS = 3;

    /** Behind all content, so that who holds the lock can be read where locked bytes cannot. */
    private static final long LOCKED_BYTE = Long.MAX_VALUE - 1;

    private static final Map<Path, ReentrantLock> IN_THIS_PROGRAM = new ConcurrentHashMap<>();

    private final ReentrantLock threads;
    private final FileChannel channel;

    private FolderLock(ReentrantLock threads, FileChannel channel) {
        this.threads = threads;
        this.channel = channel;
    }

    /** Waits for its turn; empty, with a problem, where it did not come. */
    static Optional<FolderLock> take(Path folder, Problems problems) {
        return take(folder, PATIENCE, problems);
    }

    static Optional<FolderLock> take(Path folder, Duration patience, Problems problems) {
        long deadline = System.nanoTime() + patience.toNanos();
        ReentrantLock threads = null;
        try {
            Path file = folder.toRealPath().resolve(FILE);
            threads = IN_THIS_PROGRAM.computeIfAbsent(file, path -> new ReentrantLock(true));
            if (!threads.tryLock(patience.toNanos(), TimeUnit.NANOSECONDS)) {
                problems.add(busy(Long.toString(ProcessHandle.current().pid())));
                return Optional.empty();
            }
            Optional<FileChannel> locked = locked(file, deadline);
            if (locked.isPresent()) {
                return Optional.of(new FolderLock(threads, locked.get()));
            }
            problems.add(busy(Files.readString(file).strip()));
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            problems.add(busy(""));
        } catch (IOException failure) {
            problems.add(TrialFolder.notWritten(FILE));
        }
        if (threads != null && threads.isHeldByCurrentThread()) {
            threads.unlock();
        }
        return Optional.empty();
    }

    private static Optional<FileChannel> locked(Path file, long deadline) throws IOException, InterruptedException {
        FileChannel channel = FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        boolean taken = false;
        try {
            while (!taken) {
                taken = tryLock(channel);
                if (!taken && System.nanoTime() > deadline) {
                    return Optional.empty();
                }
                if (!taken) {
                    Thread.sleep(PAUSE_MILLIS);
                }
            }
            ByteBuffer who = StandardCharsets.US_ASCII.encode(
                    String.format(Locale.ROOT, "%-10d", ProcessHandle.current().pid()));
            channel.write(who, 0);
            return Optional.of(channel);
        } finally {
            if (!taken) {
                channel.close();
            }
        }
    }

    private static boolean tryLock(FileChannel channel) throws IOException {
        try {
            FileLock lock = channel.tryLock(LOCKED_BYTE, 1, false);
            return lock != null;
        } catch (OverlappingFileLockException heldInThisProgram) {
            return false;
        }
    }

    private static Problem busy(String process) {
        return Problem.of(
                FILE,
                0,
                "a folder that "
                        + (process.isEmpty() ? "another program" : "the program with process number " + process)
                        + " is writing to",
                "one edit at a time",
                "Nothing was changed. Save again in a moment; if that does not help, end the other Fairturn that has"
                        + " this folder open.");
    }

    @Override
    public void close() {
        try {
            channel.close(); // lets go of the lock
        } catch (IOException alreadyGone) {
            // a lock that cannot be given back cleanly ends with this program; the edit itself is on disk
        } finally {
            threads.unlock();
        }
    }
}
