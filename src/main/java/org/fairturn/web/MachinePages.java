package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.chart.StopSketch;
import org.fairturn.report.Cautions;
import org.fairturn.units.LengthUnit;

/** The machines of a trial, with blades and steering stops. */
public final class MachinePages {
    private final Trials trials;
    private final Pages pages;

    MachinePages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /** The machines there are. */
    public record ListView(List<ListRow> rows) {}

    /** A machine, and what is known of it. */
    public record ListRow(String page, String name, String label, String facts) {}

    void list(Context context) {
        Path folder = trials.of(context);
        Editor editor = new SheetEditor(folder);
        List<SheetRow> blades = editor.rows(MachineForm.BLADES);
        List<SheetRow> stops = editor.rows(MachineForm.STOPS);
        List<ListRow> rows = editor.rows(MachineForm.MACHINES).stream()
                .map(row -> {
                    String id = row.cell("machine");
                    String label = row.cell("label");
                    return new ListRow(
                            "machine/" + Slug.of(id),
                            id,
                            label.equals(id) ? "" : label,
                            TrialPages.count(of(blades, id), "blade", "blades") + ", "
                                    + TrialPages.count(of(stops, id), "steering stop", "steering stops") + " noted");
                })
                .toList();
        pages.show(context, "machines", "Machines", TrialPages.named(context, folder), "machines", new ListView(rows));
    }

    private static long of(List<SheetRow> rows, String machine) {
        return rows.stream().filter(row -> row.cell("machine").equals(machine)).count();
    }

    /**
     * One machine.
     *
     * @param action where the form is sent
     * @param unit of numbers without one, in words
     * @param drawing of the machine, an SVG element
     * @param stopDrawing of a steering stop, an SVG element
     */
    public record EditView(
            String action,
            String unit,
            RowForm.View machine,
            List<RowForm.View> blades,
            List<RowForm.View> stops,
            String drawing,
            String stopDrawing,
            List<String> cautions) {}

    /** The drawing alone. */
    public record DrawingView(String drawing) {}

    void blank(Context context) {
        Path folder = trials.of(context);
        show(context, folder, "", MachineForm.blank());
    }

    void edit(Context context) {
        Path folder = trials.of(context);
        SheetRow row = row(context, folder);
        show(context, folder, row.cell("machine"), MachineForm.read(new SheetEditor(folder), row));
    }

    private static SheetRow row(Context context, Path folder) {
        return find(folder, context.pathParam("machine"))
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such machine in this trial",
                        "It may have been renamed or removed. Look at the list of machines."));
    }

    private static Optional<SheetRow> find(Path folder, String slug) {
        return new SheetEditor(folder)
                .rows(MachineForm.MACHINES).stream()
                        .filter(row -> Slug.of(row.cell("machine")).equals(slug))
                        .findFirst();
    }

    private void show(Context context, Path folder, String id, MachineForm form) {
        Page.Trial trial = TrialPages.named(context, folder);
        pages.show(
                context,
                "machine",
                id.isEmpty() ? "New machine" : id,
                Optional.of(trial),
                "machines",
                form.faults(),
                new EditView(
                        trial.page(id.isEmpty() ? "machine" : "machine/" + Slug.of(id)),
                        words(unit(folder)),
                        form.machineView(),
                        form.bladeViews(),
                        form.stopViews(),
                        form.drawing(id, unit(folder)).svg(),
                        StopSketch.draw().svg(),
                        Cautions.ALL));
    }

    private static String words(LengthUnit unit) {
        return switch (unit) {
            case MILLIMETRE -> "millimetres";
            case CENTIMETRE -> "centimetres";
            case METRE -> "metres";
            case INCH -> "inches";
            case FOOT -> "feet";
        };
    }

    static LengthUnit unit(Path folder) {
        return Optional.ofNullable(TrialForm.rows(new SheetEditor(folder)).get("length unit"))
                .flatMap(row -> LengthUnit.named(row.cell("value")))
                .orElse(LengthUnit.MILLIMETRE);
    }

    void add(Context context) {
        save(context, trials.of(context), TrialPages.typed(context).apply("machine.machine"), true);
    }

    void save(Context context) {
        Path folder = trials.of(context);
        save(context, folder, row(context, folder).cell("machine"), false);
    }

    private void save(Context context, Path folder, String id, boolean isNew) {
        Editor editor = new SheetEditor(folder);
        MachineForm form = MachineForm.sent(context, isNew).save(editor, id);
        if (!form.isFaulty()) {
            String page = "/trial/" + context.pathParam("trial") + "/machine/" + Slug.of(id);
            pages.next(context, page, id + " is saved.");
            return;
        }
        Optional<SheetRow> saved =
                form.machine().faults().isEmpty() || !isNew ? find(folder, Slug.of(id)) : Optional.empty();
        show(
                context,
                folder,
                saved.isPresent() ? id : "",
                saved.map(row -> form.over(MachineForm.read(editor, row))).orElse(form));
    }

    /** The drawing with what is typed so far; nothing is saved. */
    void drawing(Context context) {
        Path folder = trials.of(context);
        MachineForm form = MachineForm.sent(context, true);
        pages.piece(
                context,
                "drawing",
                new DrawingView(form.drawing(form.machine().cell("machine"), unit(folder))
                        .svg()));
    }

    static Map<String, String> ids(Path folder) {
        Map<String, String> ids = new java.util.LinkedHashMap<>();
        new SheetEditor(folder)
                .rows(MachineForm.MACHINES)
                .forEach(row -> ids.put(row.cell("machine"), row.cell("label")));
        return ids;
    }
}
