package org.fairturn.folder;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** The files of a trial folder, in the order they are read, and their columns; a star marks those that must be there. */
public enum TrialFile {
    /** Facts about the trial, a row each. */
    TRIAL("field*, value*"),
    /** Machines. */
    MACHINES(
            "machine*, label, wheelbase, wheelbase uncertainty, front track, front track uncertainty, left lock angle, "
                    + "right lock angle, deck offset, deck offset uncertainty, specified deck offset, "
                    + "specified deck offset uncertainty, turn centre shift, turn centre shift uncertainty, "
                    + "front tyre size, rear tyre size, specified front pressure, specified rear pressure, "
                    + "front left pressure, front right pressure, rear left pressure, rear right pressure"),
    /** Blades of the machines. */
    BLADES("machine*, spindle*, ahead of rear axle*, ahead of rear axle uncertainty, left of centreline*, "
            + "left of centreline uncertainty, tip radius*, tip radius uncertainty"),
    /** Steering stops of the machines. */
    STOPS("machine*, side*, specified, found, set, touches axle, arm, limits, thread pitch"),
    /** Circles and how they were driven. */
    CIRCLES("circle*, machine*, turn*, drive*, order, laps, brakes, use, remark, entry"),
    /** Tape readings of the circles. */
    READINGS("circle*, kind*, value*, second, third, bearing, measurer, remark, entry"),
    /** Points on the cut edge. */
    POINTS("circle*, x*, y*, entry"),
    /** Figures that somebody states. */
    CLAIMS("claim*, who, value*, quantity*, machine, turn, drive, brakes, uncertainty, circles behind it, remark"),
    /** What a machine complained of is held against. */
    REFERENCES(
            "machine*, known good, value, quantity, turn, drive, brakes, uncertainty, circles behind it, source, remark");

    /** The column with the id under which a row was entered, so that one sent twice is kept once. */
    static final String ENTRY = "entry";

    private static final List<String> NAMES =
            Arrays.stream(values()).map(TrialFile::fileName).toList();
    /** Taken apart once: every cell of row 1 is looked up in them. */
    private static final Map<TrialFile, List<String>> COLUMNS = new EnumMap<>(TrialFile.class);

    private static final Map<TrialFile, List<String>> REQUIRED = new EnumMap<>(TrialFile.class);

    static {
        for (TrialFile file : values()) {
            List<String> starred = List.of(file.starred.split(", ", -1));
            COLUMNS.put(file, starred.stream().map(c -> c.replace("*", "")).toList());
            REQUIRED.put(
                    file,
                    starred.stream()
                            .filter(c -> c.endsWith("*"))
                            .map(c -> c.replace("*", ""))
                            .toList());
        }
    }

    private final String fileName;
    private final String starred;

    TrialFile(String starred) {
        this.fileName = name().toLowerCase(Locale.ROOT) + ".csv";
        this.starred = starred;
    }

    /** {@return the name in the folder, such as {@code readings.csv}} */
    public String fileName() {
        return fileName;
    }

    /** {@return every column that is known, in the order they are written} */
    public List<String> columns() {
        return COLUMNS.get(this);
    }

    List<String> requiredColumns() {
        return REQUIRED.get(this);
    }

    /** The columns of a file that is filled in by hand: whoever types a row needs no id for it. */
    List<String> blankColumns() {
        return columns().stream().filter(column -> !column.equals(ENTRY)).toList();
    }

    /** The required columns in words, such as {@code the columns circle, kind and value}. */
    String needs() {
        List<String> names = requiredColumns();
        String last = names.get(names.size() - 1);
        return names.size() == 1
                ? "the column " + last
                : "the columns " + String.join(", ", names.subList(0, names.size() - 1)) + " and " + last;
    }

    static List<String> names() {
        return NAMES;
    }

    static Optional<TrialFile> named(String fileName) {
        return Arrays.stream(values())
                .filter(file -> file.fileName().equals(fileName))
                .findFirst();
    }
}
