package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import org.fairturn.finding.Archive;
import org.fairturn.report.ArchiveSource;
import picocli.CommandLine.Option;

/** What past trials teach, where it is asked for. */
final class ArchiveOption {
    @Option(
            names = "--archive",
            paramLabel = "PATH",
            description = "Let past trials say how much circles and readings scatter: a folder of trial folders, or the"
                    + " repeatability.csv that fairturn archive wrote.")
    private Path path;

    /** Whether it was asked for. */
    boolean asked() {
        return path != null;
    }

    /** The archive; empty, and told why, where it cannot be read. Only where it was asked for. */
    Optional<Archive> read(PrintWriter human) {
        return ArchiveSource.read(path)
                .fold(
                        found -> {
                            if (!found.toMend().isEmpty()) {
                                human.println("--archive " + Text.argument(path) + ": "
                                        + Text.count(found.toMend().size(), "folder was", "folders were")
                                        + " left out because something has to be mended: fairturn check "
                                        + Text.argument(
                                                path.resolve(found.toMend().get(0))));
                            }
                            return Optional.of(found.archive());
                        },
                        faulty -> {
                            faulty.problems().forEach(p -> human.println("--archive: " + Text.problem(p)));
                            return Optional.empty();
                        });
    }
}
