package org.fairturn.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Predicate;
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
        for (Path path : below(id -> true)) {
            byId.put(id(path), path);
        }
        return byId;
    }

    /** The trial folders of such ids; names are looked at before folders are opened. */
    private List<Path> below(Predicate<String> asked) {
        try (Stream<Path> list = Files.list(folder)) {
            return list.filter(path -> asked.test(id(path)))
                    .filter(TrialFolder::holdsTrial)
                    .toList();
        } catch (IOException | UncheckedIOException failure) {
            throw new Refusal(
                    500,
                    "The folder of the trials cannot be opened",
                    "See that " + folder + " is there and may be read, then load this page again.");
        }
    }

    /** The folder a request's address names. */
    Path of(Context context) {
        String asked = context.pathParam("trial");
        List<Path> found = single ? List.of(folder) : below(asked::equals);
        return found.stream()
                .filter(path -> id(path).equals(asked))
                .findFirst()
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such trial",
                        "Its folder may have been renamed or removed. Start again from the list of trials."));
    }

    static String id(Path folder) {
        return Slug.of(TrialFolder.nameOf(folder));
    }
}
