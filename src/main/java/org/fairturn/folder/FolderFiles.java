package org.fairturn.folder;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** The files of one folder: finds them, whatever their letter case, and turns their bytes into cells. */
final class FolderFiles {
    private static final String UTF8_MEND = "In the spreadsheet, save the file again as \"CSV UTF-8\".";

    /** Far above ten thousand rows; keeps a video renamed by mistake from filling the memory. */
    static final long MOST_BYTES = 50_000_000;

    /** Rows that were taken out, kept so that nothing typed is lost; it is no part of the trial. */
    static final String REMOVED = "removed.csv";

    private static final Lately<Taken> TAKEN = new Lately<>();

    private final Path folder;
    /** Name in lower case to name as it stands on disk; an exact name wins over one in other letter case. */
    private final Map<String, String> names;

    /** CSV files that are not read: of another name, or there twice in different letter case. */
    private final List<String> unread;

    /** Contents that stand in for those on disk, by name in lower case. */
    private final Map<String, byte[]> contents;

    private FolderFiles(Path folder, Map<String, String> names, List<String> unread, Map<String, byte[]> contents) {
        this.folder = folder;
        this.names = names;
        this.unread = unread;
        this.contents = contents;
    }

    /**
     * The cells of a file.
     *
     * @param whole false where a fault hid the rest of the file, so that what is missing from it means nothing
     */
    record Loaded(Sheet sheet, boolean whole) {}

    /** Lists the folder; empty, with a problem, where there is none to list. */
    static Optional<FolderFiles> open(Path folder, Problems problems) {
        String accepted = "a folder with " + String.join(", ", TrialFile.names());
        if (!Files.exists(folder)) {
            problems.add(Problem.of(TrialFolder.nameOf(folder), 0, "no such folder", accepted, "Check the path."));
            return Optional.empty();
        }
        if (!Files.isDirectory(folder)) {
            problems.add(Problem.of(
                    TrialFolder.nameOf(folder),
                    0,
                    "a file",
                    accepted,
                    "Name the folder the files lie in, not a file in it."));
            return Optional.empty();
        }
        Map<String, String> names = new TreeMap<>();
        List<String> unread = new ArrayList<>();
        try (Stream<Path> list = Files.list(folder)) {
            list.map(path -> path.getFileName().toString()).sorted().forEach(name -> {
                String key = name.toLowerCase(Locale.ROOT);
                String passedOver = name;
                if (name.equals(key) || !names.containsKey(key)) {
                    passedOver = names.put(key, name);
                }
                if (passedOver != null && key.endsWith(".csv")) {
                    unread.add(passedOver);
                } else if (key.endsWith(".csv") && !key.startsWith(".") && !isKnown(key)) {
                    unread.add(name);
                }
            });
        } catch (IOException | UncheckedIOException failure) {
            problems.add(Problem.of(
                    TrialFolder.nameOf(folder),
                    0,
                    "a folder that cannot be opened",
                    accepted,
                    "Ask its owner for permission to read it."));
            return Optional.empty();
        }
        return Optional.of(new FolderFiles(folder, names, unread, Map.of()));
    }

    /** Files that lie nowhere but here, by name in lower case, with the names of those beside them that are not read. */
    static FolderFiles held(Map<String, byte[]> contents, List<String> unread) {
        Map<String, String> names = new TreeMap<>();
        contents.keySet().forEach(name -> names.put(name, name));
        return new FolderFiles(Path.of(""), names, List.copyOf(unread), new TreeMap<>(contents));
    }

    private static boolean isKnown(String name) {
        return TrialFile.names().contains(name) || name.equals(REMOVED);
    }

    /** The same files with what they hold at this moment, so that every later look at them sees the same. */
    FolderFiles taken() {
        Map<String, byte[]> now = new TreeMap<>();
        for (String name : names.keySet()) {
            if (isKnown(name)) {
                content(name, new Problems()).ifPresent(bytes -> now.put(name, bytes));
            }
        }
        return new FolderFiles(folder, names, unread, now);
    }

    /** The same files, one of them with other content, which is not written. */
    FolderFiles with(String name, byte[] content) {
        Map<String, String> more = new TreeMap<>(names);
        more.putIfAbsent(name, name);
        Map<String, byte[]> changed = new TreeMap<>(contents);
        changed.put(name, content);
        return new FolderFiles(folder, more, unread, changed);
    }

    /** What was taken, by name in lower case. */
    Map<String, byte[]> contents() {
        return contents;
    }

    /** Says which CSV files lie there and are not read, so that no reading is lost to a slip in a file name. */
    void noteUnread(Problems problems) {
        for (String name : unread) {
            String key = name.toLowerCase(Locale.ROOT);
            String question = Nearest.question(key, TrialFile.names());
            problems.note(
                    name,
                    0,
                    "",
                    isKnown(key)
                            ? "This file is not used, since \"" + names.get(key) + "\" is there too."
                            : "This file is not known and not used." + (question.isEmpty() ? "" : " " + question));
        }
    }

    /** Temporary files of writes that were cut short, or are under way. */
    List<Path> leftovers() {
        List<Path> leftovers = new ArrayList<>();
        names.forEach((key, name) -> {
            if (key.startsWith(".")
                    && Stream.concat(TrialFile.names().stream(), Stream.of(REMOVED))
                            .anyMatch(file -> AtomicFile.isLeftover(key, file))) {
                leftovers.add(folder.resolve(name));
            }
        });
        return leftovers;
    }

    boolean has(TrialFile file) {
        return has(file.fileName());
    }

    boolean has(String name) {
        return names.containsKey(name);
    }

    /** Where the file is, or where it would be written. */
    Path path(TrialFile file) {
        return path(file.fileName());
    }

    Path path(String name) {
        return folder.resolve(names.getOrDefault(name, name));
    }

    /** A file of the same name that is no CSV file, such as {@code machines.xlsx}; empty where there is none. */
    Optional<String> lookalike(TrialFile file) {
        String stem = file.fileName().replace(".csv", ".");
        return names.entrySet().stream()
                .filter(name -> name.getKey().startsWith(stem)
                        && !name.getKey().equals(file.fileName())
                        && Files.isRegularFile(folder.resolve(name.getValue())))
                .map(Map.Entry::getValue)
                .findFirst();
    }

    /** The cells of a file that is there; empty, with a problem, where nothing could be read from it. */
    Optional<Loaded> load(TrialFile file, Problems problems) {
        byte[] taken = contents.get(file.fileName());
        if (taken == null) {
            return loaded(file, problems);
        }
        Taken lately = TAKEN.of(path(file), taken, () -> {
            Problems own = new Problems();
            return new Taken(loaded(file, own), own.problems());
        });
        lately.problems().forEach(problems::add);
        return lately.loaded();
    }

    private record Taken(Optional<Loaded> loaded, List<Problem> problems) {}

    private Optional<Loaded> loaded(TrialFile file, Problems problems) {
        return text(file.fileName(), problems)
                .flatMap(text -> rows(file.fileName(), file.blankColumns(), withoutMark(text), problems))
                .map(rows -> new Loaded(
                        new Sheet(
                                file.fileName(),
                                rows.cells().get(0),
                                rows.cells().subList(1, rows.cells().size())),
                        rows.whole()));
    }

    private Optional<byte[]> content(String name, Problems problems) {
        if (contents.containsKey(name)) {
            return Optional.of(contents.get(name));
        }
        Path path = path(name);
        Optional<BasicFileAttributes> there = attributes(path);
        if (there.isPresent() && there.get().isDirectory()) {
            problems.add(Problem.of(name, 0, "a folder of that name", "a CSV file", "Move or rename the folder."));
            return Optional.empty();
        }
        if (there.isEmpty() || !there.get().isRegularFile()) {
            problems.add(Problem.of(
                    name,
                    0,
                    "a link to nowhere or a device",
                    "a CSV file",
                    "Put a copy of the file itself in its place."));
            return Optional.empty();
        }
        try {
            if (there.get().size() > MOST_BYTES) {
                problems.add(tooLarge(name, there.get().size()));
                return Optional.empty();
            }
            return Optional.of(Files.readAllBytes(path));
        } catch (IOException failure) {
            String mend = failure instanceof AccessDeniedException
                    ? "Ask its owner for permission to read it."
                    : "Close it in other programs, or copy it anew, and try again.";
            problems.add(Problem.of(name, 0, "a file that cannot be opened", "a readable CSV file", mend));
            return Optional.empty();
        }
    }

    /** What the disk says of a file, asked once; empty where there is nothing. */
    private static Optional<BasicFileAttributes> attributes(Path path) {
        try {
            return Optional.of(Files.readAttributes(path, BasicFileAttributes.class));
        } catch (IOException nothingThere) {
            return Optional.empty();
        }
    }

    static Problem tooLarge(String name, long bytes) {
        return Problem.of(
                name,
                0,
                bytes / 1_000_000 + " MB",
                "a CSV file of at most " + MOST_BYTES / 1_000_000 + " MB",
                "Check that it is the right file.");
    }

    /** The text of a file, byte order mark included; empty, with a problem, where it has none. */
    Optional<String> text(String name, Problems problems) {
        return content(name, problems).flatMap(bytes -> decoded(name, bytes, problems));
    }

    static String withoutMark(String text) {
        return text.startsWith("\uFEFF") ? text.substring(1) : text;
    }

    private static Optional<String> decoded(String name, byte[] bytes, Problems problems) {
        if (bytes.length >= 4 && bytes[0] == 'P' && bytes[1] == 'K' && bytes[2] == 3 && bytes[3] == 4) {
            problems.add(Problem.of(name, 0, "a spreadsheet workbook named .csv", "CSV text in UTF-8", UTF8_MEND));
            return Optional.empty();
        }
        if (isUtf16(bytes)) {
            problems.add(Problem.of(name, 0, "text in UTF-16", "CSV text in UTF-8", UTF8_MEND));
            return Optional.empty();
        }
        ByteBuffer in = ByteBuffer.wrap(bytes);
        CharBuffer out = CharBuffer.allocate(bytes.length + 1);
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        CoderResult result = decoder.decode(in, out, true);
        if (result.isError()) {
            int row = 1;
            for (int i = 0; i < in.position(); i++) {
                row += bytes[i] == '\n' ? 1 : 0;
            }
            problems.add(Problem.of(name, row, "a character that is not UTF-8", "CSV text in UTF-8", UTF8_MEND));
            return Optional.empty();
        }
        return Optional.of(out.flip().toString());
    }

    /** What spreadsheets call Unicode text; without its mark it passes for UTF-8 with a zero between any two letters. */
    private static boolean isUtf16(byte[] bytes) {
        return bytes.length >= 2
                && ((bytes[0] == (byte) 0xff && bytes[1] == (byte) 0xfe)
                        || (bytes[0] == (byte) 0xfe && bytes[1] == (byte) 0xff)
                        || (bytes[0] == 0) != (bytes[1] == 0));
    }

    /**
     * The cells of a file, its header first.
     *
     * @param whole false where a fault hid the rest of the file
     */
    record Rows(List<List<String>> cells, boolean whole) {}

    /** The cells of a text without byte order mark; empty, with a problem, where there is none. */
    static Optional<Rows> rows(String name, List<String> columns, String text, Problems problems) {
        List<List<String>> rows = new ArrayList<>();
        boolean whole = true;
        try (CSVParser parser = CSVFormat.RFC4180.parse(new StringReader(text))) {
            Iterator<CSVRecord> records = parser.iterator();
            while (records.hasNext()) {
                rows.add(Arrays.asList(records.next().values()));
            }
        } catch (IOException | UncheckedIOException broken) {
            whole = false;
            problems.add(Problem.of(
                    name,
                    rows.size() + 1,
                    "a double quote that opens a cell and does not close it",
                    "cells in double quotes that end with a double quote before the next comma",
                    "Write a double quote inside such a cell twice, as in \"62 3/8\"\"\". "
                            + "The rows below can be checked once this is mended."));
        }
        if (rows.isEmpty()) {
            if (whole) {
                problems.add(Problem.of(
                        name,
                        0,
                        "an empty file",
                        "column names in row 1: " + String.join(", ", columns),
                        "Write the column names into row 1."));
            }
            return Optional.empty();
        }
        return Optional.of(new Rows(rows, whole));
    }
}
