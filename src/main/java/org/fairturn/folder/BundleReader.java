package org.fairturn.folder;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;

/**
 * Reads a bundle that may come from anybody: nothing is unpacked onto the disk, only files of known names are looked into,
 * and how much they may hold is limited by what comes out of them, not by what the zip says of itself.
 */
final class BundleReader {
    static final int MOST_ENTRIES = 500;
    static final long LARGEST_ZIP = 60_000_000;
    static final long MOST_IN_ALL = 150_000_000;
    /** Text of readings packs to a tenth at most times; a thousandth is a trap. */
    static final long MOST_RATIO = 200;

    private static final long RATIO_FROM = 1_000_000;
    private static final String ACCEPTED =
            "a bundle made with fairturn report --bundle, or a zip of the CSV files of one trial folder";
    private static final String AGAIN = "Ask for it again, or make it anew: fairturn report FOLDER --bundle.";

    private final Path path;
    private final Problems problems = new Problems();
    /** Bytes that have come out so far. */
    private long total;

    private BundleReader(Path path) {
        this.path = path;
    }

    /** The files of one folder inside, by name in lower case. */
    private record Inside(Map<String, ZipEntry> files, List<String> unread) {
        Inside() {
            this(new HashMap<>(), new ArrayList<>());
        }
    }

    static TakenTrial read(Path path) {
        return new BundleReader(path).taken();
    }

    /** Whether there is a trial.csv in it, or no way to tell. */
    static boolean mayHoldTrial(Path path) {
        try (ZipFile zip = new ZipFile(path.toFile(), StandardCharsets.UTF_8)) {
            return zip.size() > MOST_ENTRIES
                    || Collections.list(zip.entries()).stream()
                            .map(entry -> parts(entry.getName()))
                            .anyMatch(parts -> parts.length <= 2
                                    && parts[parts.length - 1].equalsIgnoreCase(TrialFile.TRIAL.fileName()));
        } catch (IOException | IllegalArgumentException broken) {
            return true; // reading it says what is wrong
        }
    }

    private TakenTrial taken() {
        Map<String, byte[]> files = new LinkedHashMap<>();
        Map<String, String> enclosed = new HashMap<>();
        Optional<TrialRead> read = Optional.empty();
        try {
            if (Files.size(path) > LARGEST_ZIP) {
                refuse(
                        Files.size(path) / 1_000_000 + " MB",
                        ACCEPTED + ", at most " + LARGEST_ZIP / 1_000_000 + " MB",
                        "Check that it is the right file.");
            } else {
                try (ZipFile zip = new ZipFile(path.toFile(), StandardCharsets.UTF_8)) {
                    read = trial(zip, files, enclosed);
                }
            }
        } catch (ZipException broken) {
            refuse(broken(broken), ACCEPTED, AGAIN);
        } catch (IOException | IllegalArgumentException unreadable) {
            refuse("a file that cannot be read to its end", ACCEPTED, AGAIN);
        }
        return new TakenTrial(
                problems.problems().isEmpty() && read.isPresent()
                        ? read.get()
                        : new TrialRead.Faulty(problems.problems(), problems.notes()),
                files,
                enclosed);
    }

    /** What the platform says of a zip it does not open, in the words of people. */
    private static String broken(ZipException said) {
        String words = String.valueOf(said.getMessage());
        if (words.contains("encrypted")) {
            return "a zip file locked with a password";
        }
        return words.contains("entry name")
                ? "a zip file with names that are not UTF-8"
                : "a zip file that is broken or cut short";
    }

    private Optional<TrialRead> trial(ZipFile zip, Map<String, byte[]> files, Map<String, String> enclosed)
            throws IOException {
        if (zip.size() > MOST_ENTRIES) {
            refuse(zip.size() + " entries", ACCEPTED + ", at most " + MOST_ENTRIES + " entries", AGAIN);
            return Optional.empty();
        }
        Map<String, Inside> folders = new TreeMap<>();
        for (ZipEntry entry : Collections.list(zip.entries())) {
            note(entry, folders);
        }
        List<String> trials = folders.keySet().stream()
                .filter(folder -> folders.get(folder).files().keySet().stream().anyMatch(TrialFile.names()::contains))
                .toList();
        if (!problems.problems().isEmpty()) {
            return Optional.empty();
        }
        if (trials.isEmpty()) {
            refuse("no file of a trial in it", ACCEPTED, "Check that it is the right file.");
        } else if (trials.size() > 1) {
            refuse(
                    "files of a trial in " + trials.size() + " places: "
                            + String.join(
                                    ", ",
                                    trials.stream()
                                            .map(f -> f.isEmpty() ? "at the top" : "in \"" + f + "\"")
                                            .toList()),
                    ACCEPTED,
                    "Pack each trial into a zip of its own.");
        }
        if (!problems.problems().isEmpty()) {
            return Optional.empty();
        }
        Inside inside = folders.get(trials.get(0));
        unpack(zip, inside, files, enclosed);
        if (!problems.problems().isEmpty()) {
            return Optional.empty();
        }
        String name = trials.get(0).isEmpty() ? Bundle.nameOf(path) : trials.get(0);
        return Optional.of(TrialReader.read(Path.of(name), FolderFiles.held(files, inside.unread())));
    }

    /** Looks at an entry's name alone. */
    private void note(ZipEntry entry, Map<String, Inside> folders) {
        String name = entry.getName();
        String[] parts = parts(name);
        if (!name.equals(harmlessPath(name))) {
            refuse(
                    "an entry named \"" + name + "\", whose name leads out of the bundle",
                    "plain names, at the top or in one folder",
                    "Do not use this file; ask whoever sent it for the trial folder itself.");
            return;
        }
        if (entry.isDirectory() || parts.length > 2 || parts[0].equals("__MACOSX")) {
            return; // charts, or what a system adds by itself
        }
        String file = parts[parts.length - 1].toLowerCase(Locale.ROOT);
        if (file.endsWith(Bundle.ENDING)) {
            refuse("another zip in it, \"" + name + "\"", ACCEPTED, "Unpack it, and name the inner one.");
        }
        Inside inside = folders.computeIfAbsent(parts.length == 2 ? parts[0] : "", folder -> new Inside());
        boolean wanted = TrialFile.names().contains(file)
                || file.equals(FolderFiles.REMOVED)
                || file.equals(Bundle.RESULTS)
                || file.equals(Bundle.METHOD.toLowerCase(Locale.ROOT));
        if (wanted && inside.files().putIfAbsent(file, entry) != null) {
            refuse("\"" + name + "\" twice", "each file once", AGAIN);
        } else if (!wanted && file.endsWith(".csv") && !file.startsWith(".") && !file.equals("results.csv")) {
            inside.unread().add(parts[parts.length - 1]);
        }
    }

    private void unpack(ZipFile zip, Inside inside, Map<String, byte[]> files, Map<String, String> enclosed)
            throws IOException {
        List<String> order = new ArrayList<>(TrialFile.names());
        order.add(FolderFiles.REMOVED);
        for (String file : order) {
            if (inside.files().containsKey(file)) {
                content(zip, inside.files().get(file)).ifPresent(bytes -> files.put(file, bytes));
            }
        }
        for (String file : List.of(Bundle.RESULTS, Bundle.METHOD.toLowerCase(Locale.ROOT))) {
            if (inside.files().containsKey(file)) {
                content(zip, inside.files().get(file))
                        .ifPresent(bytes -> enclosed.put(file, new String(bytes, StandardCharsets.UTF_8)));
            }
        }
    }

    private Optional<byte[]> content(ZipFile zip, ZipEntry entry) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        byte[] part = new byte[1 << 16];
        try (InputStream in = zip.getInputStream(entry)) {
            int n = in.read(part);
            while (n > 0) {
                bytes.write(part, 0, n);
                total += n;
                boolean swollen =
                        bytes.size() > RATIO_FROM && bytes.size() > MOST_RATIO * Math.max(1, entry.getCompressedSize());
                if (bytes.size() > FolderFiles.MOST_BYTES || total > MOST_IN_ALL || swollen) {
                    refuse(
                            "\"" + entry.getName() + "\", which unpacks to "
                                    + (swollen ? "more than " + MOST_RATIO + " times its size" : "too much"),
                            "files of at most " + FolderFiles.MOST_BYTES / 1_000_000 + " MB, "
                                    + MOST_IN_ALL / 1_000_000 + " MB in all, packed to no less than a "
                                    + MOST_RATIO + "th",
                            "Do not use this file; ask whoever sent it for the trial folder itself.");
                    return Optional.empty();
                }
                n = in.read(part);
            }
        }
        return Optional.of(bytes.toByteArray());
    }

    private void refuse(String found, String accepted, String mend) {
        problems.add(Problem.of(TrialFolder.nameOf(path), 0, found, accepted, mend));
    }

    private static String[] parts(String name) {
        return name.split("/", -1);
    }

    /** The name without what could lead elsewhere than into one folder. */
    static String harmless(String name) {
        String plain = name.codePoints()
                .map(c -> c == '/' || c == '\\' || c == ':' || Character.isISOControl(c) ? '_' : c)
                .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                .toString();
        return plain.isBlank() || plain.matches("\\.+") ? "_" : plain;
    }

    private static String harmlessPath(String name) {
        String plain = name.endsWith("/") ? name.substring(0, name.length() - 1) : name;
        List<String> parts = new ArrayList<>();
        for (String part : parts(plain)) {
            parts.add(harmless(part));
        }
        return String.join("/", parts) + (name.endsWith("/") ? "/" : "");
    }
}
