package org.fairturn.web;

import java.nio.file.Path;
import java.util.Optional;
import org.fairturn.finding.Archive;

/**
 * What a server is asked to do.
 *
 * @param folder a trial folder, or a folder of trial folders
 * @param lan whether others in the same network may enter, with an access code
 * @param port in [0, 65535]; 0 for any that is free
 * @param past trials that say how much one is expected to scatter
 */
public record Settings(Path folder, boolean lan, int port, Optional<Archive> past) {
    /**
     * Settings that ask no past trials.
     *
     * @param folder of trials, or one trial
     * @param lan whether other machines in the network are let in
     * @param port 0 for any that is free, at most 65535
     */
    public Settings(Path folder, boolean lan, int port) {
        this(folder, lan, port, Optional.empty());
    }

    /**
     * Checks what it is given.
     *
     * @param folder a trial folder, or a folder of trial folders
     * @param lan whether others in the same network may enter, with an access code
     * @param port in [0, 65535]; 0 for any that is free
     * @param past trials that say how much one is expected to scatter
     * @throws IllegalArgumentException if the port is not in [0, 65535]
     */
    public Settings {
        if (!(port >= 0 && port <= 65_535)) {
            throw new IllegalArgumentException("port is " + port + "; must be in [0, 65535]");
        }
    }
}
