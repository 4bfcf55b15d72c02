package org.fairturn.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;

/** Which program made a result. */
final class Program {
    private Program() {}

    /** Such as {@code Fairturn 0.1.0}, as the build wrote it down. */
    static String name() {
        try (InputStream version = Program.class.getResourceAsStream("/org/fairturn/cli/version.txt")) {
            return "Fairturn " + new String(version.readAllBytes(), StandardCharsets.UTF_8).strip();
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }
}
