package org.fairturn.report;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoublePredicate;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.finding.PastTrial;
import org.fairturn.folder.Problem;
import org.fairturn.trial.Drive;
import org.fairturn.uncertainty.PastScatter;
import org.fairturn.units.Figures;

/**
 * repeatability.csv: what past trials showed, a row for each trial, machine and drive. Rows of several files may be put below
 * each other; whatever other columns there are is passed over.
 */
final class ArchiveFile {
    /** Of the columns; a file of another one is not read. */
    static final String VERSION = "1";

    private static final double MM = 1e3;
    private static final double SQUARE_MM = 1e6;
    private static final CSVFormat FORMAT =
            CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();
    /** For people; worked out from the others and not read again. */
    private static final List<String> SHOWN =
            List.of("circle standard deviation (mm)", "reading standard deviation (mm)");

    private static final List<String> READ = List.of(
            "version",
            "folder",
            "date",
            "machine",
            "drive",
            "surface",
            "measurer",
            "circles",
            "readings",
            "circle degrees of freedom",
            "circle sum of squares (mm²)",
            "readings a circle is worth",
            "reading degrees of freedom",
            "reading sum of squares (mm²)");

    private ArchiveFile() {}

    /** The text of the file, by date. */
    static String write(List<PastTrial> rows) {
        StringBuilder text = new StringBuilder(
                FORMAT.format(Stream.concat(READ.stream(), SHOWN.stream()).toArray()));
        for (PastTrial row : rows) {
            PastScatter s = row.scatter();
            text.append('\n')
                    .append(FORMAT.format(
                            VERSION,
                            CellText.written(row.folder()),
                            row.date(),
                            CellText.written(row.machine()),
                            row.drive().word(),
                            CellText.written(row.surface()),
                            CellText.written(row.measurer()),
                            row.circles(),
                            row.readings(),
                            s.circleDegrees(),
                            SQUARE_MM * s.circleSquares(),
                            s.circleWeight(),
                            s.readingDegrees(),
                            SQUARE_MM * s.readingSquares(),
                            deviation(s.circleSquares(), s.circleDegrees()),
                            deviation(s.readingSquares(), s.readingDegrees())));
        }
        return text.append('\n').toString();
    }

    private static String deviation(double squares, int degrees) {
        return degrees == 0 ? "" : Figures.fixed(MM * Math.sqrt(squares / degrees), 1);
    }

    /** What a file held. */
    record Read(List<PastTrial> rows, List<Problem> problems) {}

    static Read read(Path file) throws IOException {
        List<PastTrial> rows = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        String name =
                Optional.ofNullable(file.getFileName()).map(Path::toString).orElse("");
        try (BufferedReader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8);
                CSVParser parser = CSVFormat.RFC4180
                        .builder()
                        .setIgnoreEmptyLines(false)
                        .get()
                        .parse(reader)) {
            Map<String, Integer> columns = new HashMap<>();
            for (CSVRecord record : parser) {
                if (columns.isEmpty()) {
                    for (int i = 0; i < record.size(); i++) {
                        columns.putIfAbsent(word(record.get(i)), i);
                    }
                    List<String> missing =
                            READ.stream().filter(c -> !columns.containsKey(c)).toList();
                    if (!missing.isEmpty()) {
                        problems.add(new Problem(
                                name,
                                1,
                                "",
                                "no column \"" + String.join("\", \"", missing) + "\"",
                                "the columns that fairturn archive writes, separated by commas",
                                "Write the file again with fairturn archive and the folder of the trials.",
                                -1));
                        break;
                    }
                } else {
                    new Row(name, record, columns, problems).trial().ifPresent(rows::add);
                }
            }
            if (columns.isEmpty()) {
                problems.add(new Problem(
                        name, 0, "", "an empty file", "a file that fairturn archive wrote", "Choose another.", -1));
            }
        } catch (CharacterCodingException | java.io.UncheckedIOException broken) {
            problems.add(new Problem(
                    name,
                    0,
                    "",
                    "text that is no CSV in UTF-8",
                    "a file that fairturn archive wrote",
                    "Where a spreadsheet saved it, save it again as CSV UTF-8.",
                    -1));
        }
        return new Read(List.copyOf(rows), List.copyOf(problems));
    }

    /** Without a byte order mark and surrounding blanks. */
    private static String word(String cell) {
        return cell.replace("\uFEFF", "").strip().toLowerCase(Locale.ROOT);
    }

    /** One row and what is wrong with it. */
    private static final class Row {
        private final String file;
        private final CSVRecord record;
        private final Map<String, Integer> columns;
        private final List<Problem> problems;
        private final int before;

        Row(String file, CSVRecord record, Map<String, Integer> columns, List<Problem> problems) {
            this.file = file;
            this.record = record;
            this.columns = columns;
            this.problems = problems;
            this.before = problems.size();
        }

        Optional<PastTrial> trial() {
            // an empty line, or the head of another file put below the first
            if (record.stream().allMatch(String::isBlank)
                    || word(text("version")).equals("version")) {
                return Optional.empty();
            }
            if (!text("version").equals(VERSION)) {
                fault("version", VERSION, "Write the file again with this Fairturn: fairturn archive and the folder.");
                return Optional.empty();
            }
            LocalDate date = date();
            Drive drive = Stream.of(Drive.values())
                    .filter(d -> d.word().equalsIgnoreCase(text("drive")))
                    .findFirst()
                    .orElseGet(() -> {
                        fault("drive", "2WD or 4WD", "");
                        return Drive.TWO_WHEEL;
                    });
            int circles = count("circles", 1);
            int readings = count("readings", 1);
            int circleDegrees = count("circle degrees of freedom", 0);
            double circleSquares = number("circle sum of squares (mm²)", x -> x >= 0, "a number, 0 or more");
            double weight = number("readings a circle is worth", x -> x > 0, "a number above 0");
            int readingDegrees = count("reading degrees of freedom", 0);
            double readingSquares = number("reading sum of squares (mm²)", x -> x >= 0, "a number, 0 or more");
            return problems.size() > before
                    ? Optional.empty()
                    : Optional.of(new PastTrial(
                            CellText.read(text("folder")),
                            date,
                            CellText.read(text("machine")),
                            drive,
                            CellText.read(text("surface")),
                            CellText.read(text("measurer")),
                            circles,
                            readings,
                            new PastScatter(
                                    circleDegrees,
                                    circleSquares / SQUARE_MM,
                                    weight,
                                    readingDegrees,
                                    readingSquares / SQUARE_MM)));
        }

        private String text(String column) {
            int i = columns.get(column);
            return i < record.size() ? record.get(i).strip() : "";
        }

        private LocalDate date() {
            try {
                return LocalDate.parse(text("date"));
            } catch (DateTimeException unreadable) {
                fault("date", "a day such as 2026-05-14", "Where a spreadsheet changed it, write it as text.");
                return LocalDate.EPOCH;
            }
        }

        private int count(String column, int least) {
            double read =
                    number(column, x -> x >= least && x == Math.rint(x) && x <= 1e9, "a whole number from " + least);
            return (int) read;
        }

        private double number(String column, DoublePredicate sound, String accepted) {
            try {
                double read = Double.parseDouble(text(column));
                if (read < Double.POSITIVE_INFINITY && sound.test(read)) {
                    return read;
                }
            } catch (NumberFormatException unreadable) {
                // said below
            }
            fault(column, accepted, "Write the decimal sign as a point.");
            return 1;
        }

        private void fault(String column, String accepted, String mend) {
            problems.add(new Problem(file, (int) record.getRecordNumber(), column, text(column), accepted, mend, -1));
        }
    }
}
