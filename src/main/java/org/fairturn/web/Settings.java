package org.fairturn.web;

import java.nio.file.Path;

/**
 * What a server is asked to do.
 *
 * @param folder a trial folder, or a folder of trial folders
 * @param lan whether others in the same network may enter, with an access code
 * @param port in [0, 65535]; 0 for any that is free
 */
public record Settings(Path folder, boolean lan, int port) {
    public Settings {
        if (!(port >= 0 && port <= 65_535)) {
            throw new IllegalArgumentException("port is " + port + "; must be in [0, 65535]");
        }
    }
}
