package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.fairturn.folder.Outcome;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;

/** One row of one file, cell by cell: for what no other form has a field for. */
public final class RowPages {
    private static final String GROUP = "cell.";
    private static final String ENTRY = "entry";

    private final Trials trials;
    private final Pages pages;

    RowPages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * The row.
     *
     * @param action where the form is sent
     * @param file which one
     * @param fields its cells
     * @param key finds it again where rows above it come or go
     * @param seen stands for the row as it is shown
     * @param list page of the trial to go back to
     */
    public record RowView(String action, String file, List<Field> fields, String key, String seen, String list) {}

    /** The page of a row of a trial. */
    static String page(TrialFile file, int number) {
        return "row/" + name(file) + "/" + number;
    }

    /** How addresses and fields call a file: without its ending. */
    static String name(TrialFile file) {
        return file.fileName().replace(".csv", "");
    }

    /** The page of the trial that lists such rows. */
    private static String list(TrialFile file) {
        return file == TrialFile.CLAIMS || file == TrialFile.REFERENCES ? "claims" : "problems";
    }

    /** The name under which the page sends a cell. */
    static String fieldOf(String column) {
        return GROUP + column;
    }

    void edit(Context context) {
        Path folder = trials.of(context);
        ShownRow row = row(context, folder);
        show(context, folder, row, column -> row.cells().getOrDefault(column, ""), Map.of(), List.of());
    }

    private static TrialFile file(Context context) {
        return Places.file(context.pathParam("file") + ".csv").orElseThrow(Refusal::noSuchPage);
    }

    private static ShownRow row(Context context, Path folder) {
        String number = context.pathParam("number");
        return TrialEditor.of(folder).rows(file(context)).rows().stream()
                .filter(row -> String.valueOf(row.number()).equals(number))
                .findFirst()
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such row",
                        "It may have been taken out or moved, or the file has to be mended first. Look the data through"
                                + " again."));
    }

    private void show(
            Context context,
            Path folder,
            ShownRow row,
            Function<String, String> value,
            Map<String, String> now,
            List<Page.Fault> faults) {
        Page.Trial trial = TrialPages.named(context, folder);
        List<Field> fields = new ArrayList<>();
        for (String column : row.file().columns()) {
            if (!column.equals(ENTRY)) {
                fields.add(Field.text(
                                fieldOf(column),
                                column,
                                now.containsKey(column) ? "There now: " + shown(now.get(column)) : "")
                        .with(value.apply(column))
                        .with(faults));
            }
        }
        pages.show(
                context,
                "editrow",
                row.file().fileName() + ", row " + row.number(),
                Optional.of(trial),
                list(row.file()),
                faults,
                new RowView(
                        trial.page(page(row.file(), row.number())),
                        row.file().fileName(),
                        fields,
                        row.key().text(),
                        row.seen(),
                        list(row.file())));
    }

    private static String shown(String cell) {
        return cell.isEmpty() ? "nothing" : "\"" + cell + "\"";
    }

    void save(Context context) {
        Path folder = trials.of(context);
        TrialFile file = file(context);
        TrialEditor editor = TrialEditor.of(folder);
        String key = text(context, "key");
        String seen = text(context, "seen");
        Map<String, String> typed = new LinkedHashMap<>();
        for (String column : file.columns()) {
            if (context.formParam(fieldOf(column)) != null) {
                typed.put(column, text(context, fieldOf(column)));
            }
        }
        boolean out = context.formParam("out") != null;
        Outcome outcome = out
                ? editor.remove(file, new ShownRow.Key(key), seen)
                : editor.change(file, new ShownRow.Key(key), typed, seen);
        String done =
                file.fileName() + (out ? ": the row is taken out. It is kept in removed.csv." : ": the row is saved.");
        outcome.fold(
                saved -> next(context, file, done),
                unconfirmed -> again(
                        context, folder, unconfirmed.row(), typed, Map.of(), faults(List.of(unconfirmed.problem()))),
                there -> next(context, file, done),
                refused -> again(
                        context,
                        folder,
                        // wherever it stands by now: another must not be saved over with what was typed for it
                        editor.find(file, new ShownRow.Key(key), seen).orElseThrow(RowPages::gone),
                        typed,
                        Map.of(),
                        faults(refused.problems())),
                meanwhile -> {
                    ShownRow now = meanwhile.now().orElseThrow(RowPages::gone);
                    return again(
                            context,
                            folder,
                            now,
                            typed,
                            now.cells(),
                            List.of(new Page.Fault(
                                    "",
                                    "Somebody else changed this row while the page was open, so nothing was saved. What is"
                                            + " there now stands beside what you typed; saving again writes what you"
                                            + " typed.")));
                });
    }

    private static Refusal gone() {
        return new Refusal(
                409,
                "This row is not there any more",
                "Somebody took it out while the page was open, so nothing was saved. Look the data through again; what was"
                        + " taken out is kept in removed.csv.");
    }

    private static String text(Context context, String name) {
        return Optional.ofNullable(context.formParam(name)).orElse("").strip();
    }

    private boolean next(Context context, TrialFile file, String said) {
        pages.next(context, "/trial/" + context.pathParam("trial") + "/" + list(file), said);
        return true;
    }

    private boolean again(
            Context context,
            Path folder,
            ShownRow row,
            Map<String, String> typed,
            Map<String, String> now,
            List<Page.Fault> faults) {
        Map<String, String> other = new LinkedHashMap<>(now);
        other.entrySet().removeIf(cell -> cell.getValue().equals(typed.getOrDefault(cell.getKey(), "")));
        show(context, folder, row, column -> typed.getOrDefault(column, ""), other, faults);
        return true;
    }

    private static List<Page.Fault> faults(List<Problem> problems) {
        return Faults.beside(problems, RowPages::fieldOf);
    }
}
