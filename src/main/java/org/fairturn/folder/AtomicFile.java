package org.fairturn.folder;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFileAttributeView;
import java.util.Arrays;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.regex.Pattern;

/**
 * Replaces a file in one step: whoever looks, and whenever the power fails, finds the old content or the new, never a mix.
 *
 * <p>The content goes to a temporary file beside the target, is forced to disk and renamed over the target. A crash may
 * leave the temporary file behind; its name starts with a point and ends in {@code .tmp}, and {@link #isLeftover} knows it.
 */
public final class AtomicFile {
    private static final String TEMPORARY_ENDING = ".tmp";
    private static final Pattern LEFTOVER =
            Pattern.compile("[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\\" + TEMPORARY_ENDING);
    private static final int BUFFER = 1 << 16;

    /** Is told each step of every write; tests end the program, or fill the disk, at one of them. */
    static volatile Consumer<Step> watched = step -> {};

    private AtomicFile() {}

    /** Whether a file of that name in lower case is a temporary one that a write of another file leaves when it is cut short. */
    static boolean isLeftover(String name, String file) {
        return name.startsWith("." + file + ".")
                && LEFTOVER.matcher(name.substring(file.length() + 2)).matches();
    }

    /** The moments between which a crash is tried in tests. */
    enum Step {
        WRITTEN,
        FORCED,
        RENAMED
    }

    /**
     * Writes the file, or leaves it as it was.
     *
     * @param file its folder must exist; a symbolic link stays a link and its target is replaced
     * @param content all of it
     * @throws AccessDeniedException if the file is there and write-protected, which a rename alone would not notice
     * @throws IOException if the content cannot be written or renamed; or, as {@link NotConfirmed}, if it was, and the disk
     *     did not confirm it
     */
    public static void write(Path file, byte[] content) throws IOException {
        write(file, (OutputStream out) -> out.write(content));
    }

    /** What goes into a file, written piece by piece. */
    public interface Content {
        /**
         * Writes the content.
         *
         * @param out not to be closed
         * @throws IOException what the disk answers
         */
        void to(OutputStream out) throws IOException;
    }

    /**
     * The same for content too large to be held at once; where writing it fails, the file stays as it was.
     *
     * @param file its folder must exist
     * @param content called once, and writes all of it
     * @throws IOException as above, or what the content throws
     */
    public static void write(Path file, Content content) throws IOException {
        write(file, content, step -> {});
    }

    private static void reach(Step step, Consumer<Step> reached) throws IOException {
        try {
            watched.accept(step);
            reached.accept(step);
        } catch (UncheckedIOException failure) {
            throw failure.getCause();
        }
    }

    static void write(Path file, byte[] content, Consumer<Step> reached) throws IOException {
        write(file, (OutputStream out) -> out.write(content), reached);
    }

    private static void write(Path file, Content content, Consumer<Step> reached) throws IOException {
        boolean replaces = Files.exists(file);
        Path target = replaces ? file.toRealPath() : file.toAbsolutePath();
        if (replaces && !Files.isWritable(target)) {
            throw new AccessDeniedException(target.toString());
        }
        Path temporary = target.resolveSibling("." + target.getFileName() + "." + UUID.randomUUID() + TEMPORARY_ENDING);
        try {
            try (FileChannel channel =
                    FileChannel.open(temporary, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
                OutputStream out = new BufferedOutputStream(Channels.newOutputStream(channel), BUFFER);
                content.to(out);
                out.flush();
                reach(Step.WRITTEN, reached);
                channel.force(true);
            }
            if (replaces) {
                keepPermissions(target, temporary);
            }
            reach(Step.FORCED, reached);
            Files.move(temporary, target, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException | RuntimeException failure) {
            try {
                Files.deleteIfExists(temporary);
            } catch (IOException second) {
                failure.addSuppressed(second);
            }
            throw failure;
        }
        try {
            reach(Step.RENAMED, reached);
            forceFolder(target.getParent());
        } catch (IOException failure) {
            throw new NotConfirmed(failure);
        }
    }

    /** The new content is in place, but the disk did not confirm that it stays there when the power fails. */
    static final class NotConfirmed extends IOException {
        private static final long serialVersionUID = 1;

        NotConfirmed(Exception cause) {
            super(cause);
        }
    }

    /**
     * As {@link #write(Path, byte[])}, if the file still holds what was seen when the new content was made from it.
     *
     * <p>The look is taken right before the rename. Whoever writes between the two, well below a millisecond apart, is not
     * noticed; no file system offers more to programs that do not know of each other.
     *
     * @param seen what the file held; empty where it was not there
     * @return false, and nothing changed, where somebody else wrote meanwhile
     */
    static boolean replace(Path file, Optional<byte[]> seen, byte[] content, Consumer<Step> reached)
            throws IOException {
        try {
            write(file, content, step -> {
                reached.accept(step);
                if (step == Step.FORCED && !holds(file, seen)) {
                    throw new WrittenMeanwhile();
                }
            });
            return true;
        } catch (WrittenMeanwhile notOurs) {
            return false;
        }
    }

    private static final class WrittenMeanwhile extends RuntimeException {
        private static final long serialVersionUID = 1;
    }

    private static boolean holds(Path file, Optional<byte[]> seen) {
        try {
            return seen.isEmpty()
                    ? !Files.exists(file)
                    : Files.exists(file) && Arrays.equals(seen.get(), Files.readAllBytes(file));
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private static void keepPermissions(Path from, Path to) throws IOException {
        PosixFileAttributeView source = Files.getFileAttributeView(from, PosixFileAttributeView.class);
        if (source != null) {
            Files.setPosixFilePermissions(to, source.readAttributes().permissions());
        }
    }

    /** Makes the rename itself last. Some platforms cannot open a folder; there the file system has to look after it. */
    static void forceFolder(Path folder) throws IOException {
        FileChannel channel;
        try {
            channel = FileChannel.open(folder, StandardOpenOption.READ);
        } catch (IOException cannotBeOpened) {
            return;
        }
        try (channel) {
            channel.force(true);
        }
    }
}
