package org.fairturn.folder;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.fairturn.trial.Conditions;
import org.fairturn.units.Figures;
import org.fairturn.units.LengthUnit;

/** Trial folders on disk. Nothing a user can get wrong throws. */
public final class TrialFolder {
    private static final String NAMELESS = "trial"; // the root of a drive

    private TrialFolder() {}

    /**
     * {@return what a trial folder is called: the last name of its path, {@code .} and {@code ..} resolved; never empty}
     *
     * @param folder a path that need not exist
     */
    public static String nameOf(Path folder) {
        Path name = folder.toAbsolutePath().normalize().getFileName();
        return name == null ? NAMELESS : name.toString();
    }

    /** {@return the names of the files a trial folder may hold, in the order they are read} */
    public static List<String> fileNames() {
        return TrialFile.names();
    }

    /**
     * {@return true where a folder holds at least one file of a trial; what is in them is no matter here}
     *
     * @param folder may be missing
     */
    public static boolean holdsTrial(Path folder) {
        return Files.isDirectory(folder)
                && FolderFiles.open(folder, new Problems())
                        .map(files -> Arrays.stream(TrialFile.values()).anyMatch(files::has))
                        .orElse(false);
    }

    /**
     * Reads a trial from its folder or from a {@link Bundle}; neither is changed.
     *
     * @param folder or a bundle
     * @return the trial, or all that has to be mended
     */
    public static TrialRead read(Path folder) {
        return Bundle.is(folder) ? BundleReader.read(folder).read() : TrialReader.read(folder);
    }

    /**
     * The same with the files it was read from, exactly as they were read.
     *
     * @param folder or a bundle
     * @return the trial, or all that has to be mended, and the files
     */
    public static TakenTrial take(Path folder) {
        if (Bundle.is(folder)) {
            return BundleReader.read(folder);
        }
        Optional<FolderFiles> files = FolderFiles.open(folder, new Problems()).map(FolderFiles::taken);
        if (files.isEmpty()) {
            return new TakenTrial(TrialReader.read(folder), Map.of(), Map.of());
        }
        Map<String, byte[]> ordered = new LinkedHashMap<>();
        Stream.concat(TrialFile.names().stream(), Stream.of(FolderFiles.REMOVED))
                .filter(files.get().contents()::containsKey)
                .forEach(name -> ordered.put(name, files.get().contents().get(name)));
        return new TakenTrial(TrialReader.read(folder, files.get()), ordered, Map.of());
    }

    /**
     * Reads a trial that may not have been driven yet: it needs neither circles nor readings.
     *
     * @param folder a folder; bundles are made of trials that were driven
     * @return the trial, or all that has to be mended
     */
    public static TrialRead readPlanned(Path folder) {
        return TrialReader.readPlanned(folder);
    }

    /**
     * {@return whether two paths mean the same folder}
     *
     * @param one need not exist
     * @param other need not exist
     */
    public static boolean same(Path one, Path other) {
        return one.toAbsolutePath().normalize().equals(other.toAbsolutePath().normalize());
    }

    /**
     * The files of a folder as they stand, cell by cell.
     *
     * @param sheets those that could be read to the end, in the order trial, machines, blades, stops, circles, readings,
     *     points, claims, references
     * @param problems why others could not; what is wrong inside a cell is no matter here
     */
    public record Sheets(List<Sheet> sheets, List<Problem> problems) {
        /**
         * Keeps its own copy of each list.
         *
         * @param sheets those that could be read to the end, in the order trial, machines, blades, stops, circles,
         *     readings, points, claims, references
         * @param problems why others could not; what is wrong inside a cell is no matter here
         */
        public Sheets {
            sheets = List.copyOf(sheets);
            problems = List.copyOf(problems);
        }
    }

    /**
     * {@return the files that are there}
     *
     * @param folder a folder, not a bundle
     */
    public static Sheets sheets(Path folder) {
        Problems problems = new Problems();
        List<Sheet> sheets = new ArrayList<>();
        FolderFiles.open(folder, problems).ifPresent(files -> {
            for (TrialFile file : TrialFile.values()) {
                if (files.has(file)) {
                    files.load(file, problems)
                            .filter(FolderFiles.Loaded::whole)
                            .ifPresent(loaded -> sheets.add(loaded.sheet()));
                }
            }
        });
        return new Sheets(sheets, problems.problems());
    }

    /**
     * Makes a folder ready to fill in, and the folders above it; one that is there already keeps what else is in it.
     *
     * @param folder need not exist
     * @return what kept it from being made, the files that are there already among it; empty where it stands ready
     */
    public static List<Problem> create(Path folder) {
        return create(folder, field -> Optional.empty());
    }

    /**
     * The same.
     *
     * @param known what to write into fields of trial.csv; empty for what new folders start with
     */
    static List<Problem> create(Path folder, Function<String, Optional<String>> known) {
        String name = nameOf(folder);
        Problems problems = new Problems();
        if (Files.exists(folder)) {
            Optional<FolderFiles> files = FolderFiles.open(folder, problems);
            for (TrialFile file : TrialFile.values()) {
                if (files.isPresent() && files.get().has(file)) {
                    problems.add(Problem.of(
                            file.fileName(),
                            0,
                            "a file that is there already",
                            "a folder without any trial file",
                            "Choose another folder; nothing was changed in this one."));
                }
            }
        } else {
            try {
                Files.createDirectories(folder);
            } catch (IOException failure) {
                problems.add(noPlace(name));
            }
        }
        return problems.problems().isEmpty() ? fill(folder, known) : problems.problems();
    }

    static Problem noPlace(String name) {
        return Problem.of(
                name, 0, "a place where no folder can be made", "a place you may write to", "Choose another place.");
    }

    /**
     * Writes every file of a trial into a folder that has none.
     *
     * @param known what to write into fields of trial.csv; empty for what new folders start with
     */
    static List<Problem> fill(Path folder, Function<String, Optional<String>> known) {
        Problems problems = new Problems();
        for (TrialFile file : TrialFile.values()) {
            write(folder.resolve(file.fileName()), blank(file, known)).ifPresent(problems::add);
        }
        return problems.problems();
    }

    static Sheet blank(TrialFile file, Function<String, Optional<String>> known) {
        List<List<String>> rows = new ArrayList<>();
        if (file == TrialFile.TRIAL) {
            ConditionsReader.FIELDS.forEach(field ->
                    rows.add(List.of(field, known.apply(field).orElseGet(() -> startValue(field)))));
        }
        return new Sheet(file.fileName(), file.blankColumns(), rows);
    }

    private static String startValue(String field) {
        return switch (field) {
            case "length unit" -> LengthUnit.MILLIMETRE.symbol();
            case "practical margin" -> Conditions.DEFAULT_PRACTICAL_MARGIN.exactly(LengthUnit.MILLIMETRE);
            case "confidence" -> Figures.fixed(100 * Conditions.DEFAULT_CONFIDENCE, 0) + " %";
            // the assumed repeatabilities stay open: stated, they would come before what past trials teach
            default -> "";
        };
    }

    private static Optional<Problem> write(Path path, Sheet sheet) {
        try {
            AtomicFile.write(path, csv(sheet).getBytes(StandardCharsets.UTF_8));
            return Optional.empty();
        } catch (AtomicFile.NotConfirmed failure) {
            return Optional.of(notConfirmed(sheet.file()));
        } catch (IOException failure) {
            return Optional.of(notWritten(sheet.file()));
        }
    }

    static Problem notWritten(String file) {
        return Problem.of(
                file,
                0,
                "no way to write it",
                "a file and a folder you may write to, with room on the disk",
                "What the file held before is untouched; mend this and save again.");
    }

    static Problem notConfirmed(String file) {
        return Problem.of(
                file,
                0,
                "a disk that does not confirm what was written",
                "a disk that keeps what it is given",
                "It is in the file now, but could be lost if the power failed. See whether the disk is full or failing; then"
                        + " save again.");
    }

    private static String csv(Sheet sheet) {
        StringBuilder text = new StringBuilder();
        try {
            CSVFormat.RFC4180.printRecord(text, sheet.header().toArray());
            for (List<String> row : sheet.rows()) {
                CSVFormat.RFC4180.printRecord(text, row.toArray());
            }
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible); // memory does not fail to be written to
        }
        return text.toString();
    }
}
