package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.fairturn.chart.StopSketch;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
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

    /**
     * The machines there are.
     *
     * @param leave stops that do not touch the axle, a sentence each
     * @param rows one for each machine
     */
    public record ListView(List<String> leave, List<ListRow> rows) {}

    /**
     * A machine, and what is known of it.
     *
     * @param page its page
     * @param name id
     * @param label what people call it
     * @param facts what is known of it, in a line
     */
    public record ListRow(String page, String name, String label, String facts) {}

    void list(Context context) {
        Path folder = trials.of(context);
        TrialEditor.Shown shown =
                TrialEditor.of(folder).shown(TrialFile.TRIAL, TrialFile.MACHINES, TrialFile.BLADES, TrialFile.STOPS);
        List<ListRow> rows = shown.files().get(TrialFile.MACHINES).rows().stream()
                .map(row -> {
                    String id = row.cell("machine");
                    String label = row.cell("label");
                    return new ListRow(
                            "machine/" + Slug.of(id),
                            id,
                            label.equals(id) ? "" : label,
                            TrialPages.count(of(shown, TrialFile.BLADES, id), "blade", "blades") + ", "
                                    + TrialPages.count(
                                            of(shown, TrialFile.STOPS, id), "steering stop", "steering stops")
                                    + " noted");
                })
                .toList();
        pages.show(
                context,
                "machines",
                "Machines",
                TrialPages.named(context, folder, shown),
                "machines",
                new ListView(Contact.missing(shown), rows));
    }

    private static long of(TrialEditor.Shown shown, TrialFile file, String machine) {
        return shown.files().get(file).rows().stream()
                .filter(row -> row.cell("machine").equals(machine))
                .count();
    }

    /**
     * One machine.
     *
     * @param leave stops of it that do not touch the axle, a sentence each
     * @param action where the form is sent
     * @param unit of numbers without one, in words
     * @param machine its row in machines.csv
     * @param blades a form for each row of blades.csv
     * @param stops a form for each row of stops.csv
     * @param drawing of the machine, an SVG element
     * @param stopDrawing of a steering stop, an SVG element
     * @param cautions before anyone measures, a sentence each
     */
    public record EditView(
            List<String> leave,
            String action,
            String unit,
            RowForm.View machine,
            List<RowForm.View> blades,
            List<RowForm.View> stops,
            String drawing,
            String stopDrawing,
            List<String> cautions) {}

    /**
     * The drawing alone.
     *
     * @param drawing an SVG element
     */
    public record DrawingView(String drawing) {}

    void blank(Context context) {
        Path folder = trials.of(context);
        show(context, folder, read(folder), "", MachineForm.blank());
    }

    void edit(Context context) {
        Path folder = trials.of(context);
        TrialEditor.Shown shown = read(folder);
        ShownRow row = find(shown, context.pathParam("machine"))
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such machine in this trial",
                        "It may have been renamed or removed. Look at the list of machines."));
        show(context, folder, shown, row.cell("machine"), MachineForm.read(shown, row));
    }

    private static TrialEditor.Shown read(Path folder) {
        return TrialEditor.of(folder).shown(TrialFile.TRIAL, TrialFile.MACHINES, TrialFile.BLADES, TrialFile.STOPS);
    }

    private static Optional<ShownRow> find(TrialEditor.Shown shown, String slug) {
        return shown.files().get(TrialFile.MACHINES).rows().stream()
                .filter(row -> Slug.of(row.cell("machine")).equals(slug))
                .findFirst();
    }

    /**
     * The form.
     *
     * @param id of the machine; empty for a new one
     */
    private void show(Context context, Path folder, TrialEditor.Shown shown, String id, MachineForm form) {
        Page.Trial trial = TrialPages.named(context, folder, shown);
        LengthUnit unit = TrialForm.unit(shown);
        pages.show(
                context,
                "machine",
                id.isEmpty() ? "New machine" : id,
                Optional.of(trial),
                "machines",
                form.faults(),
                new EditView(
                        Contact.missing(shown, id),
                        trial.page(id.isEmpty() ? "machine" : "machine/" + Slug.of(id)),
                        unit.words(),
                        form.machineView(),
                        form.bladeViews(),
                        form.stopViews(),
                        form.drawing(id, unit).svg(),
                        StopSketch.draw().svg(),
                        Cautions.ALL));
    }

    void add(Context context) {
        Path folder = trials.of(context);
        MachineForm sent = MachineForm.sent(context);
        if (sent.isNew()) {
            save(context, folder, sent, sent.name());
        } else { // of a machine that was there when the page was shown, or nothing would be written of it
            TrialEditor.Shown shown = read(folder);
            show(context, folder, shown, "", sent.putBack(shown));
        }
    }

    void save(Context context) {
        Path folder = trials.of(context);
        TrialEditor.Shown shown = read(folder);
        MachineForm sent = MachineForm.sent(context);
        Optional<ShownRow> row = find(shown, context.pathParam("machine"));
        if (row.isPresent()) {
            save(context, folder, sent, row.get().cell("machine"));
        } else {
            show(context, folder, shown, "", sent.putBack(shown));
        }
    }

    private void save(Context context, Path folder, MachineForm sent, String id) {
        MachineForm form = sent.save(TrialEditor.of(folder), id);
        if (!form.isFaulty()) {
            String page = "/trial/" + context.pathParam("trial") + "/machine/" + Slug.of(sent.name());
            pages.next(context, page, sent.name() + " is saved.");
            return;
        }
        TrialEditor.Shown shown = read(folder);
        Optional<ShownRow> saved = form.isNew() ? Optional.empty() : find(shown, Slug.of(id));
        show(
                context,
                folder,
                shown,
                saved.isPresent() ? id : "",
                saved.map(row -> form.over(MachineForm.read(shown, row))).orElse(form));
    }

    /** The drawing with what is typed so far; nothing is saved. */
    void drawing(Context context) {
        Path folder = trials.of(context);
        MachineForm form = MachineForm.sent(context);
        pages.piece(
                context,
                "drawing",
                new DrawingView(
                        form.drawing(form.name(), TrialForm.unit(read(folder))).svg()));
    }
}
