package org.fairturn.report;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.Mutator;

/** Makes odd trials of sound ones cell by cell and row by row, so that many are still read; each is as {@link ReportTargets#joined} has it. */
final class FolderMaker {
    private final SplittableRandom random;
    private final List<String> folders;
    private final List<String> words;
    private final Mutator mutator;

    FolderMaker(SplittableRandom random, List<String> folders, List<String> words) {
        this.random = random;
        this.folders = folders;
        this.words = words;
        this.mutator = new Mutator(random, words);
    }

    byte[] next() {
        String folder = any(folders);
        if (random.nextInt(5) == 0) {
            return mutator.changedBytes(folder, folders);
        }
        List<List<String>> rows = rows(folder);
        int changes = 1 + random.nextInt(4);
        for (int i = 0; i < changes; i++) {
            change(rows);
        }
        StringBuilder text = new StringBuilder();
        rows.forEach(row -> text.append(CSVFormat.RFC4180.format(row.toArray())).append('\n'));
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    private void change(List<List<String>> rows) {
        int at = random.nextInt(rows.size());
        List<String> row = rows.get(at);
        int cell = random.nextInt(row.size());
        if (row.get(0).startsWith(ReportTargets.HEADING)) {
            return;
        }
        switch (random.nextInt(10)) {
            case 0 -> rows.add(at, new ArrayList<>(row));
            case 1 -> rows.remove(at);
            case 2 -> rows.add(at + random.nextInt(rows.size() - at), rows.remove(at));
            case 3 -> row.set(cell, "");
            case 4 -> row.set(cell, mutator.changed(row.get(cell), words));
            case 5 -> row.set(cell, any(words));
            case 6 -> // remarks and names stand at the end most often
                row.set(row.size() - 1, mutator.changed(row.get(row.size() - 1), words));
            default -> { // the cell of another row, most often of the same file
                List<String> other = rows.get(Math.max(0, Math.min(rows.size() - 1, at + random.nextInt(7) - 3)));
                row.set(cell, other.get(Math.min(cell, other.size() - 1)));
            }
        }
    }

    private static List<List<String>> rows(String folder) {
        try (CSVParser parser = CSVParser.parse(folder, CSVFormat.RFC4180)) {
            List<List<String>> rows = new ArrayList<>();
            for (CSVRecord row : parser) {
                rows.add(new ArrayList<>(row.toList()));
            }
            return rows;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private <T> T any(List<T> list) {
        return list.get(random.nextInt(list.size()));
    }
}
