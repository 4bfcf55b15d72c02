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
    private static final int NOT_NOW = 503;

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

    /** Where trials are made: never anew in the place of a folder that went, such as with its disk. */
    Path folder() {
        if (!Files.isDirectory(folder)) {
            throw notOpened();
        }
        return folder;
    }

    private Refusal notOpened() {
        return new Refusal(
                500,
                "The folder of the trials cannot be opened",
                "See that " + folder + " is there and may be read, then load this page again.");
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
            throw notOpened();
        }
    }

    /** The folder a request's address names. */
    Path of(Context context) {
        String asked = context.pathParam("trial");
        if (single && asked.equals(id(folder)) && !Files.isDirectory(folder)) {
            throw new Refusal(
                    NOT_NOW,
                    "The folder of this trial is not there",
                    "See that " + folder
                            + " is there again, such as by plugging in its disk; then load this page again."
                            + " A page that readings were entered on keeps what is not saved, and sends it by itself.");
        }
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
