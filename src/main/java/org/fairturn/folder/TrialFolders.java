package org.fairturn.folder;

import java.io.IOException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Finds the trial folders of an archive. */
public final class TrialFolders {
    private TrialFolders() {}

    /**
     * The trial folders below a folder, in the order of their names, a folder before those in it. Every folder directly
     * below counts, so that one without its trial.csv is missed by nobody, unless it only holds trial folders; deeper
     * down those with a trial.csv count. A bundle that lies directly below counts like a folder. Names that start
     * with a point are passed over, and links deeper down are not followed.
     *
     * @param folder is itself no trial
     * @return paths that start with the folder given
     * @throws IOException if the folder itself cannot be listed
     */
    public static List<Path> below(Path folder) throws IOException {
        List<Path> found = new ArrayList<>();
        for (String name : names(folder)) {
            Path path = folder.resolve(name);
            if (mayBeFolder(name) && Files.isDirectory(path)) {
                gather(path, true, found);
            } else if (!name.startsWith(".") && Bundle.is(path) && BundleReader.mayHoldTrial(path)) {
                found.add(path);
            }
        }
        return List.copyOf(found);
    }

    /**
     * {@return whether a folder holds a trial.csv}
     *
     * @param folder may be missing
     */
    public static boolean isTrial(Path folder) {
        try {
            return hasTrial(names(folder));
        } catch (IOException cannotTell) {
            return false;
        }
    }

    private static void gather(Path folder, boolean direct, List<Path> found) {
        List<String> names;
        try {
            names = names(folder);
        } catch (IOException closed) {
            found.add(folder); // reading it says what is wrong
            return;
        }
        boolean trial = hasTrial(names);
        if (trial) {
            found.add(folder);
        }
        int before = found.size();
        for (String name : names) {
            if (mayBeFolder(name) && Files.isDirectory(folder.resolve(name), LinkOption.NOFOLLOW_LINKS)) {
                gather(folder.resolve(name), false, found);
            }
        }
        if (direct && !trial && found.size() == before) {
            found.add(folder);
        }
    }

    private static boolean hasTrial(List<String> names) {
        return names.stream().anyMatch(name -> name.equalsIgnoreCase(TrialFile.TRIAL.fileName()));
    }

    /** Asking the disk is what takes long, so the sheets of a trial are not asked about. */
    private static boolean mayBeFolder(String name) {
        return !name.startsWith(".") && !name.toLowerCase(Locale.ROOT).endsWith(".csv");
    }

    private static List<String> names(Path folder) throws IOException {
        if (!Files.isDirectory(folder)) {
            throw new NotDirectoryException(folder.toString());
        }
        List<String> names = new ArrayList<>();
        try (DirectoryStream<Path> entries = Files.newDirectoryStream(folder)) {
            for (Path entry : entries) {
                names.add(entry.getFileName().toString());
            }
        } catch (DirectoryIteratorException broken) {
            throw broken.getCause();
        }
        names.sort(null);
        return names;
    }
}
