package org.fairturn;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;

/** Reads the published data sets under testdata/reference; where each is from stands in the README there. */
public final class ReferenceData {
    private ReferenceData() {}

    /** The rows of a file, cells by column name. */
    public static List<CSVRecord> rows(String file) {
        Path path = Path.of("testdata/reference", file);
        try (var reader = Files.newBufferedReader(path)) {
            return CSVFormat.DEFAULT
                    .builder()
                    .setHeader()
                    .setSkipHeaderRecord(true)
                    .get()
                    .parse(reader)
                    .getRecords();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** One column as numbers. */
    public static double[] column(String file, String column) {
        return rows(file).stream()
                .mapToDouble(row -> Double.parseDouble(row.get(column)))
                .toArray();
    }

    /** A function's values worked out at 50 digits, for arguments that read back exactly. */
    public static final class Exact {
        private final double[] arguments;
        private final double[] values;

        private Exact(double[] arguments, double[] values) {
            this.arguments = arguments;
            this.values = values;
        }

        /** How many arguments there are. */
        public int arguments() {
            return arguments.length;
        }

        /** How many values there are. */
        public int values() {
            return values.length;
        }

        public double argument(int i) {
            return arguments[i];
        }

        /** From one argument up to, but not with, another. */
        public double[] arguments(int from, int to) {
            return Arrays.copyOfRange(arguments, from, to);
        }

        public double value(int i) {
            return values[i];
        }

        /** The arguments, to find the row by. */
        @Override
        public String toString() {
            return Arrays.toString(arguments);
        }
    }

    /** The rows of one function; one or more. */
    public static List<Exact> exact(String file, String function) {
        List<Exact> rows = rows(file).stream()
                .filter(row -> row.get("function").equals(function))
                .map(row -> new Exact(numbers(row.get("arguments")), numbers(row.get("values"))))
                .toList();
        if (rows.isEmpty()) {
            throw new IllegalArgumentException("no rows of " + function + " in " + file);
        }
        return rows;
    }

    private static double[] numbers(String cell) {
        return Stream.of(cell.split(" ")).mapToDouble(Double::parseDouble).toArray();
    }
}
