package org.fairturn.folder;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Cell;

/** Puts a plan into a trial folder: rows are added, and no cell that is there is changed. */
public final class PlannedCircles {
    private PlannedCircles() {}

    /**
     * Makes a folder for a plan, with the circles in it.
     *
     * @param fields what trial.csv states, by field
     * @return what kept it from being made, the trial that is there already among it; empty where it stands ready
     */
    public static List<Problem> create(
            Path folder, Map<String, String> fields, List<String> machineIds, List<Cell> order) {
        List<Problem> problems = TrialFolder.create(folder);
        if (!problems.isEmpty()) {
            return problems;
        }
        Sheet trial = sheet(TrialFolder.sheets(folder), TrialFile.TRIAL).orElseThrow();
        Optional<Problem> refused = TrialFolder.save(
                folder,
                new Sheet(
                        trial.file(),
                        trial.header(),
                        trial.rows().stream()
                                .map(row -> List.of(row.get(0), fields.getOrDefault(row.get(0), row.get(1))))
                                .toList()));
        return refused.map(List::of).orElseGet(() -> add(folder, machineIds, order));
    }

    /**
     * Adds circles to the folder of a trial, behind those that are there, with ids and places in the run order that follow
     * theirs; and the machines that are not listed yet. The files have to be sound.
     *
     * @return what kept them from being added; empty where they are on disk
     */
    public static List<Problem> add(Path folder, List<String> machineIds, List<Cell> order) {
        TrialFolder.Sheets sheets = TrialFolder.sheets(folder);
        if (!sheets.problems().isEmpty()) {
            return sheets.problems();
        }
        Sheet machines = sheet(sheets, TrialFile.MACHINES).orElse(empty(TrialFile.MACHINES));
        Sheet circles = sheet(sheets, TrialFile.CIRCLES).orElse(empty(TrialFile.CIRCLES));
        List<String> listed = column(machines, "machine");
        List<Map<String, String>> newMachines = machineIds.stream()
                .filter(id -> !listed.contains(id))
                .map(id -> Map.of("machine", id))
                .toList();
        int id = highest(column(circles, "circle"));
        int place = Math.max(
                highest(column(circles, "order")), column(circles, "order").size());
        List<Map<String, String>> newCircles = new ArrayList<>();
        for (Cell cell : order) {
            id++;
            place++;
            newCircles.add(Map.of(
                    "circle", Integer.toString(id),
                    "machine", cell.machine(),
                    "turn", cell.turn().word(),
                    "drive", cell.drive().word(),
                    "order", Integer.toString(place)));
        }
        List<Problem> problems = new ArrayList<>();
        if (!newMachines.isEmpty()) {
            TrialFolder.save(folder, with(machines, newMachines)).ifPresent(problems::add);
        }
        if (problems.isEmpty()) {
            TrialFolder.save(folder, with(circles, newCircles)).ifPresent(problems::add);
        }
        return problems;
    }

    private static Optional<Sheet> sheet(TrialFolder.Sheets sheets, TrialFile file) {
        return sheets.sheets().stream()
                .filter(s -> s.file().equals(file.fileName()))
                .findFirst();
    }

    private static Sheet empty(TrialFile file) {
        return new Sheet(file.fileName(), file.blankColumns(), List.of());
    }

    private static int index(Sheet sheet, String column) {
        return sheet.header().stream().map(Table::word).toList().indexOf(column);
    }

    /** The cells of a column, blank rows left out. */
    private static List<String> column(Sheet sheet, String column) {
        int at = index(sheet, column);
        return sheet.rows().stream()
                .filter(row ->
                        row.stream().anyMatch(cell -> !Table.trimmed(cell).isEmpty()))
                .map(row -> at < 0 || at >= row.size() ? "" : Table.trimmed(row.get(at)))
                .toList();
    }

    /** The highest whole number there; 0 where there is none. */
    private static int highest(List<String> cells) {
        return cells.stream()
                .filter(cell -> cell.matches("\\d{1,6}"))
                .mapToInt(Integer::parseInt)
                .max()
                .orElse(0);
    }

    /** The sheet with rows added; a column it lacks, such as the order, is put behind the others. */
    private static Sheet with(Sheet sheet, List<Map<String, String>> rows) {
        List<String> header = new ArrayList<>(sheet.header());
        rows.stream().flatMap(row -> row.keySet().stream()).distinct().sorted().forEach(column -> {
            if (index(sheet, column) < 0) {
                header.add(column);
            }
        });
        List<List<String>> all = new ArrayList<>(sheet.rows());
        for (Map<String, String> row : rows) {
            Map<String, String> left = new HashMap<>(row);
            List<String> cells = new ArrayList<>();
            for (String column : header) {
                String cell = left.remove(Table.word(column));
                cells.add(cell == null ? "" : cell);
            }
            all.add(cells);
        }
        return new Sheet(sheet.file(), header, all);
    }
}
