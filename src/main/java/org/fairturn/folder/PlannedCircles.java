package org.fairturn.folder;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;

/** Puts a plan into a trial folder: rows are added, and no cell that is there is changed. */
public final class PlannedCircles {
    private PlannedCircles() {}

    /**
     * What came of it.
     *
     * @param circles the ids of those that were added
     * @param problems what kept them from being added; empty where they are on disk
     */
    public record Added(List<String> circles, List<Problem> problems) {
        /**
         * Keeps its own copy of each list.
         *
         * @param circles the ids of those that were added
         * @param problems what kept them from being added; empty where they are on disk
         */
        public Added {
            circles = List.copyOf(circles);
            problems = List.copyOf(problems);
        }
    }

    /**
     * Makes a folder for a plan, with the circles in it.
     *
     * @param folder not to be there yet, or empty of trial files
     * @param fields what trial.csv states, by field
     * @param machineIds in the order they are to be listed
     * @param order the cells in the order they are to be driven, a circle each
     * @return with what kept it from being made, the trial that is there already among it
     */
    public static Added create(Path folder, Map<String, String> fields, List<String> machineIds, List<Cell> order) {
        List<Problem> problems = TrialFolder.create(folder, field -> Optional.ofNullable(fields.get(field)));
        return problems.isEmpty() ? add(folder, machineIds, order) : new Added(List.of(), problems);
    }

    /**
     * What trial.csv of a folder made for a plan states, by field.
     *
     * @param conditions of the trial that is planned
     * @return texts as trial.csv would hold them, in the order they are written
     */
    public static Map<String, String> facts(Conditions conditions) {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("title", conditions.title());
        facts.put("date", conditions.date().toString());
        facts.put("length unit", conditions.lengthUnit().symbol());
        facts.put("practical margin", conditions.practicalMargin().exactly(conditions.lengthUnit()));
        facts.put("confidence", Double.toString(conditions.confidence()));
        return facts;
    }

    /**
     * Adds circles to the folder of a trial, behind those that are there, with places in the run order that follow theirs;
     * and the machines that are not listed yet. Ids go on as those that are there: plain numbers, or led by the first letter
     * of the machine, short enough for a peg.
     *
     * @param folder one that holds a trial
     * @param machineIds those the plan is about
     * @param order the cells in the order they are to be driven, a circle each
     * @return the circles, or what kept them from being added
     */
    public static Added add(Path folder, List<String> machineIds, List<Cell> order) {
        TrialEditor editor = TrialEditor.of(folder);
        List<Problem> refused = problems(editor.append(TrialFile.MACHINES, there -> newMachines(there, machineIds)));
        List<String> ids = new ArrayList<>();
        if (refused.isEmpty()) {
            refused = problems(editor.append(TrialFile.CIRCLES, there -> {
                List<Map<String, String>> rows = circles(there.rows(), order);
                ids.clear();
                rows.forEach(row -> ids.add(row.get("circle")));
                return rows;
            }));
        }
        return new Added(refused.isEmpty() ? ids : List.of(), refused);
    }

    private static List<Problem> problems(Outcome outcome) {
        return outcome.fold(
                saved -> List.of(),
                unconfirmed -> List.of(unconfirmed.problem()),
                there -> List.of(),
                Outcome.Refused::problems,
                meanwhile -> {
                    throw new IllegalStateException("rows are only added");
                });
    }

    private static List<Map<String, String>> newMachines(TrialEditor.Rows there, List<String> machineIds) {
        List<String> listed = column(there.rows(), "machine");
        return machineIds.stream()
                .filter(id -> !listed.contains(id))
                .map(id -> Map.of("machine", id))
                .toList();
    }

    private static List<Map<String, String>> circles(List<ShownRow> there, List<Cell> order) {
        Set<String> taken = new HashSet<>(column(there, "circle"));
        boolean numbered = taken.stream().allMatch(id -> number(id) > 0);
        int place = Math.max(highest(column(there, "order")), there.size());
        List<Map<String, String>> rows = new ArrayList<>();
        for (Cell cell : order) {
            String lead = numbered ? "" : initial(cell.machine());
            int number = numbered ? highest(taken) + 1 : 1;
            while (!taken.add(lead + number)) {
                number++;
            }
            place++;
            Map<String, String> row = new LinkedHashMap<>();
            row.put("circle", lead + number);
            row.put("machine", cell.machine());
            row.put("turn", cell.turn().word());
            row.put("drive", cell.drive().word());
            row.put("order", Integer.toString(place));
            rows.add(row);
        }
        return rows;
    }

    private static String initial(String machine) {
        return machine.substring(0, machine.offsetByCodePoints(0, 1)).toUpperCase(Locale.ROOT);
    }

    private static List<String> column(List<ShownRow> rows, String column) {
        return rows.stream().map(row -> row.cell(column)).toList();
    }

    /** The highest whole number there; 0 where there is none. */
    private static int highest(Iterable<String> cells) {
        int highest = 0;
        for (String cell : cells) {
            highest = Math.max(highest, number(cell));
        }
        return highest;
    }

    /** Of up to six digits; 0 for all else. */
    private static int number(String cell) {
        return cell.matches("\\d{1,6}") ? Integer.parseInt(cell) : 0;
    }
}
