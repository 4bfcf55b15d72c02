package org.fairturn.folder;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;

/** Makes trial folders side by side, directly below one folder. */
public final class TrialShelf {
    /** File systems take 255 bytes in a name; this leaves room for a number behind it. */
    private static final int MOST_NAME_BYTES = 200;

    private static final int MOST_NAME_CHARACTERS = 60;
    private static final int MOST_OF_ONE_NAME = 1000;

    /** All but letters, the marks that belong to them, and digits, of any script. */
    private static final Pattern BETWEEN = Pattern.compile("[^\\p{L}\\p{M}\\p{Nd}]+");

    private static final Pattern DASHES_AROUND = Pattern.compile("^-+|-+$");

    /** Names that Windows keeps for devices (Microsoft, Naming Files, Paths, and Namespaces; from memory). */
    private static final Pattern DEVICE = Pattern.compile("con|prn|aux|nul|(com|lpt)[0-9¹²³]");

    private TrialShelf() {}

    /** What came of making a trial folder. */
    public sealed interface Created {
        /**
         * It is there, ready to fill in.
         *
         * @param folder where it is
         */
        record Made(Path folder) implements Created {}

        /**
         * Nothing was made.
         *
         * @param problems why, one or more
         */
        record Refused(List<Problem> problems) implements Created {
            /**
             * Keeps its own copy of the list.
             *
             * @param problems why, one or more
             */
            public Refused {
                problems = List.copyOf(problems);
            }
        }

        /**
         * Answers by outcome.
         *
         * @param <R> type of the answer
         * @param made asked in the case {@link Made}
         * @param refused asked in the case {@link Refused}
         * @return what the one that was asked answered
         */
        default <R> R fold(Function<Made, R> made, Function<Refused, R> refused) {
            if (this instanceof Made outcome) {
                return made.apply(outcome);
            }
            return refused.apply((Refused) this);
        }
    }

    /**
     * Makes a trial folder below another, named after its title; where that name is taken, a number goes behind it.
     *
     * @param parent is made too where it is not there
     * @param fields what trial.csv states, by field; fields that are left out start as in any new folder
     * @return refused, with the field of each problem as its column, where the fields could not be read again
     */
    public static Created create(Path parent, Map<String, String> fields) {
        Map<String, String> known = new LinkedHashMap<>();
        fields.forEach((field, text) -> known.put(Table.word(field), Table.trimmed(text)));
        List<Problem> faults = faults(known);
        if (!faults.isEmpty()) {
            return new Created.Refused(faults);
        }
        Path folder;
        try {
            Files.createDirectories(parent);
            folder = madeBelow(parent, nameFor(known.get("title")));
        } catch (IOException failure) {
            return new Created.Refused(List.of(TrialFolder.noPlace(TrialFolder.nameOf(parent))));
        }
        List<Problem> problems = TrialFolder.fill(folder, field -> Optional.ofNullable(known.get(field)));
        if (problems.isEmpty()) {
            return new Created.Made(folder);
        }
        clear(folder);
        return new Created.Refused(problems);
    }

    /** What would have to be mended in trial.csv, were it written with these fields. */
    private static List<Problem> faults(Map<String, String> fields) {
        List<Problem> faults = new ArrayList<>();
        fields.forEach((field, text) -> {
            int unfit = TrialEditor.firstUnfit(text);
            if (unfit >= 0) {
                faults.add(new Problem(
                        TrialFile.TRIAL.fileName(),
                        0,
                        field,
                        TrialEditor.shown(text),
                        "a text in one line, without control characters",
                        "Write a blank where the line breaks.",
                        unfit));
            }
        });
        if (faults.isEmpty()) {
            Sheet sheet = TrialFolder.blank(TrialFile.TRIAL, field -> Optional.ofNullable(fields.get(field)));
            Problems problems = new Problems();
            Table.of(TrialFile.TRIAL, new FolderFiles.Loaded(sheet, true), problems)
                    .ifPresent(table -> new ConditionsReader(Optional.of(table), problems).conditions());
            for (Problem problem : problems.problems()) {
                faults.add(new Problem(
                        problem.file(),
                        0,
                        sheet.rows().get(problem.row() - 2).get(0),
                        problem.read(),
                        problem.accepted(),
                        problem.mend(),
                        problem.caret()));
            }
        }
        return faults;
    }

    private static Path madeBelow(Path parent, String name) throws IOException {
        for (int i = 1; i <= MOST_OF_ONE_NAME; i++) {
            try {
                return Files.createDirectory(parent.resolve(i == 1 ? name : name + "-" + i));
            } catch (FileAlreadyExistsException taken) {
                // the next number may be free; asking first would leave room for somebody in between
            }
        }
        throw new FileAlreadyExistsException(name);
    }

    /** Takes away what was made just now and could not be finished. */
    private static void clear(Path folder) {
        List<Path> made = new ArrayList<>();
        try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
            files.forEach(made::add);
            for (Path file : made) {
                Files.delete(file);
            }
            Files.delete(folder);
        } catch (IOException | UncheckedIOException left) {
            // an unfinished folder in plain sight is no harm: it lists what is missing
        }
    }

    /** A folder name that every usual file system takes, in the script of the title; no way out of the parent folder. */
    static String nameFor(String title) {
        String composed = Normalizer.normalize(title, Normalizer.Form.NFC).toLowerCase(Locale.ROOT);
        String dashed = withoutDashesAround(BETWEEN.matcher(composed).replaceAll("-"));
        StringBuilder name = new StringBuilder();
        int bytes = 0;
        int characters = 0;
        for (int c : dashed.codePoints().toArray()) {
            bytes += Character.toString(c).getBytes(StandardCharsets.UTF_8).length;
            characters++;
            if (bytes > MOST_NAME_BYTES || characters > MOST_NAME_CHARACTERS) {
                break;
            }
            name.appendCodePoint(c);
        }
        String cut = withoutDashesAround(name.toString());
        return cut.isEmpty() || DEVICE.matcher(cut).matches() ? ("trial-" + cut).replaceAll("-$", "") : cut;
    }

    private static String withoutDashesAround(String name) {
        return DASHES_AROUND.matcher(name).replaceAll("");
    }
}
