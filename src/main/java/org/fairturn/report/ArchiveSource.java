package org.fairturn.report;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import org.fairturn.finding.Archive;
import org.fairturn.finding.PastTrial;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialFolders;

/** Where an archive comes from: a folder with trial folders in it, or a file that {@code fairturn archive} wrote. */
public sealed interface ArchiveSource {
    /**
     * An archive that could be read.
     *
     * @param archive of the folders that are left
     * @param toMend folders that were left out because something in them has to be mended, with slashes
     * @param nothingMeasured folders without a circle that counts
     */
    record Found(Archive archive, List<String> toMend, List<String> nothingMeasured) implements ArchiveSource {
        /**
         * Keeps its own copy of each list.
         *
         * @param archive of the folders that are left
         * @param toMend folders that were left out because something in them has to be mended, with slashes
         * @param nothingMeasured folders without a circle that counts
         */
        public Found {
            toMend = List.copyOf(toMend);
            nothingMeasured = List.copyOf(nothingMeasured);
        }
    }

    /**
     * One that could not; why.
     *
     * @param problems one or more
     */
    record Faulty(List<Problem> problems) implements ArchiveSource {
        /**
         * Keeps its own copy of the list.
         *
         * @param problems one or more
         */
        public Faulty {
            problems = List.copyOf(problems);
        }
    }

    /**
     * Answers by case.
     *
     * @param <R> type of the answer
     * @param found asked in the case {@link Found}
     * @param faulty asked in the case {@link Faulty}
     * @return what the one that was asked answered
     */
    default <R> R fold(Function<Found, R> found, Function<Faulty, R> faulty) {
        return this instanceof Found f ? found.apply(f) : faulty.apply((Faulty) this);
    }

    /**
     * Reads an archive; of each trial no more is kept than what it shows of the repeatability.
     *
     * @param from a folder of trial folders, or a table of an archive
     * @return what it holds, or why it cannot be read
     */
    static ArchiveSource read(Path from) {
        try {
            if (!Files.exists(from)) {
                return none(from, "nothing there", "Check the path.");
            }
            return Files.isDirectory(from) ? folders(from) : file(from);
        } catch (IOException refused) {
            return none(from, "something that cannot be opened", "Ask its owner for permission to read it.");
        }
    }

    private static ArchiveSource folders(Path above) throws IOException {
        List<Path> folders = TrialFolders.below(above);
        if (folders.isEmpty()) {
            return none(
                    above,
                    TrialFolders.isTrial(above) ? "a trial folder itself, with no other in it" : "no folder in it",
                    "");
        }
        List<PastTrial> rows = new ArrayList<>();
        List<String> toMend = new ArrayList<>();
        List<String> nothing = new ArrayList<>();
        for (Path folder : folders) {
            String name = above.relativize(folder).toString().replace('\\', '/');
            TrialFolder.read(folder)
                    .fold(
                            sound -> {
                                List<PastTrial> shown = PastTrial.of(name, sound.trial());
                                return shown.isEmpty() ? nothing.add(name) : rows.addAll(shown);
                            },
                            faulty -> toMend.add(name));
        }
        return new Found(new Archive(rows), toMend, nothing);
    }

    private static ArchiveSource file(Path file) throws IOException {
        ArchiveFile.Read read = ArchiveFile.read(file);
        return read.problems().isEmpty()
                ? new Found(new Archive(read.rows()), List.of(), List.of())
                : new Faulty(read.problems());
    }

    private static Faulty none(Path from, String found, String mend) {
        return new Faulty(List.of(new Problem(
                from.toString(),
                0,
                "",
                found,
                "a folder with trial folders in it, or a repeatability.csv that fairturn archive wrote",
                mend,
                -1)));
    }
}
