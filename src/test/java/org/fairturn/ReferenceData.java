package org.fairturn;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
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
}
