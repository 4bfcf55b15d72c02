package org.fairturn.cli;

import java.nio.file.Path;

/** What a trial folder is called. */
final class FolderName {
    private static final String NAMELESS = "trial"; // the root of a drive

    private FolderName() {}

    /** The last name of a path, {@code .} and {@code ..} resolved; never empty. */
    static String of(Path folder) {
        Path name = folder.toAbsolutePath().normalize().getFileName();
        return name == null ? NAMELESS : name.toString();
    }
}
