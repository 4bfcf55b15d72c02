package org.fairturn.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.fairturn.folder.TrialFolder;

/** The trials this server shows. A request names one by an id, which is looked up among those listed: never a path. */
final class Trials {
    private final Path folder;
    private final boolean single;

    Trials(Path folder) {
        this.folder = folder.toAbsolutePath().normalize();
        this.single = TrialFolder.holdsTrial(this.folder);
    }

    /** True where the server was given one trial folder, so that there is no place for another. */
    boolean single() {
        return single;
    }

    Path folder() {
        return folder;
    }

    /** Every trial folder by its id, in the order of their names. */
    Map<String, Path> listed() {
        Map<String, Path> byId = new TreeMap<>();
        if (single) {
            byId.put(id(folder), folder);
            return byId;
        }
        for (Path path : below()) {
            byId.put(id(path), path);
        }
        return byId;
    }

    private List<Path> below() {
        try (Stream<Path> list = Files.list(folder)) {
            return list.filter(TrialFolder::holdsTrial).toList();
        } catch (IOException | UncheckedIOException failure) {
            throw new Refusal(
                    500,
                    "The folder of the trials cannot be opened",
                    "See that " + folder + " is there and may be read, then load this page again.");
        }
    }

    /** The folder a request's address names. */
    Path of(Context context) {
        return Optional.ofNullable(listed().get(context.pathParam("trial")))
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such trial",
                        "Its folder may have been renamed or removed. Start again from the list of trials."));
    }

    static String id(Path folder) {
        return Slug.of(TrialFolder.nameOf(folder));
    }
}
