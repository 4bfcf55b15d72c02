package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.finding.Archive;
import org.fairturn.finding.PlanWish;
import org.fairturn.folder.PlannedCircles;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialShelf;
import org.fairturn.report.Cautions;
import org.fairturn.report.FieldSheet;
import org.fairturn.report.PlanReport;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;

/** How many circles a fair trial takes and in which order, and the trial made of it; for a new trial and for one that is there. */
public final class PlanPages {
    private static final List<Field> NEW = List.of(
            Field.text("title", "Title", "What the trial is called, such as Alder 22 on the lower meadow."),
            Field.text("date", "Date", "The day it is held, year first, such as 2026-05-14."));

    private final Trials trials;
    private final Pages pages;
    private final Optional<Archive> past;
    private final Plans plans = new Plans();

    PlanPages(Trials trials, Pages pages, Optional<Archive> past) {
        this.trials = trials;
        this.pages = pages;
        this.past = past;
    }

    /**
     * A plan.
     *
     * @param leave stops of the trial's machines that do not touch the axle, a sentence each
     * @param address of this page without anything asked
     * @param form what is asked, and its fields
     * @param unplanned why nothing can be planned yet; empty where it can
     * @param agreed margin and confidence of the trial that is there; empty for a new one
     * @param answer empty where nothing was asked yet
     * @param made fields of the trial to be made; none for one that is there, or where there is no room
     * @param there how many circles the trial holds
     * @param sheet address of the field sheet; empty where the trial's own page has it
     * @param cautions before anyone drives, a sentence each
     */
    public record PlanView(
            List<String> leave,
            String address,
            PlanForm form,
            boolean unplanned,
            String agreed,
            Optional<Answer> answer,
            List<Field> made,
            int there,
            String sheet,
            List<String> cautions) {}

    /**
     * What came of it.
     *
     * @param leave stops of the planned machines that do not touch the axle, a sentence each
     * @param sentence the answer
     * @param difference what is to be told apart from none, in words
     * @param sizes what other chances take
     * @param foreseen what each question can expect, a line each
     * @param rests what the plan rests on, a line each
     * @param seed of the run order
     * @param circles how many, all together
     * @param readings of each circle
     * @param blocks the run order
     */
    public record Answer(
            List<String> leave,
            String sentence,
            String difference,
            List<PlanReport.Size> sizes,
            List<String> foreseen,
            List<String> rests,
            long seed,
            int circles,
            int readings,
            List<BlockView> blocks) {}

    /**
     * Circles driven one after another in the same drive.
     *
     * @param drive of all of them
     * @param first place of the first in the run order, from 1
     * @param last place of the last
     * @param runs in the order they are driven
     */
    public record BlockView(String drive, int first, int last, List<Run> runs) {}

    /**
     * A circle to be driven.
     *
     * @param machine id
     * @param turn left or right
     * @param left whether it is the left one
     */
    public record Run(String machine, String turn, boolean left) {}

    void blank(Context context) {
        showNew(context, PlanForm.of(context::queryParams, Optional.empty(), past), today(), List.of());
    }

    private static Map<String, String> today() {
        return Map.of("title", "", "date", LocalDate.now(ZoneId.systemDefault()).toString());
    }

    private void showNew(Context context, PlanForm form, Map<String, String> made, List<Page.Fault> more) {
        List<Page.Fault> faults =
                Stream.concat(form.faults().stream(), more.stream()).toList();
        Optional<Plans.Plan> plan = plan(form);
        pages.show(
                context,
                "plan",
                "Plan a fair trial",
                Optional.empty(),
                "plan",
                faults,
                new PlanView(
                        List.of(),
                        "/plan",
                        form,
                        false,
                        "",
                        plan.map(p -> answer(p, form.seed())),
                        trials.single()
                                ? List.of()
                                : NEW.stream()
                                        .map(field -> field.with(made.get(field.name()))
                                                .with(faults))
                                        .toList(),
                        0,
                        plan.isPresent() ? "/plan/sheet.pdf" + form.query() : "",
                        Cautions.ALL));
    }

    private Optional<Plans.Plan> plan(PlanForm form) {
        return form.wish().map(wish -> plans.of(wish, form.seed()));
    }

    /** A plan with circles to drive, which one has not where nothing fits into the time there is. */
    private Optional<Plans.Plan> driven(PlanForm form) {
        return plan(form).filter(plan -> !plan.order().isEmpty());
    }

    private static Answer answer(Plans.Plan plan, long seed) {
        return new Answer(
                plan.leave(),
                plan.answer(),
                plan.difference(),
                plan.sizes(),
                plan.foreseen(),
                plan.rests(),
                seed,
                plan.order().size(),
                plan.readings(),
                plan.blocks().stream()
                        .map(block -> new BlockView(
                                block.drive().word(),
                                block.first(),
                                block.last(),
                                block.cells().stream()
                                        .map(cell -> new Run(
                                                cell.machine(), cell.turn().word(), cell.turn() == Turn.LEFT))
                                        .toList()))
                        .toList());
    }

    /** Makes a trial of a plan: the folder that {@code fairturn plan --out} would make. */
    void make(Context context) {
        if (trials.single()) {
            throw new Refusal(
                    404,
                    "Fairturn was started on a single trial",
                    "Start it on the folder above to make another one there.");
        }
        PlanForm form = PlanForm.of(context::formParams, Optional.empty(), past);
        Map<String, String> typed = new LinkedHashMap<>();
        NEW.forEach(field -> typed.put(field.name(), TrialPages.typed(context).apply(field.name())));
        Optional<Plans.Plan> plan = driven(form);
        if (plan.isEmpty()) {
            showNew(context, form, typed, List.of());
            return;
        }
        PlanWish wish = form.wish().orElseThrow();
        Map<String, String> facts = new LinkedHashMap<>(PlannedCircles.facts(wish.conditions()));
        facts.putAll(typed);
        List<Page.Fault> faults = TrialShelf.create(trials.folder(), facts)
                .fold(
                        made -> {
                            PlannedCircles.Added added = PlannedCircles.add(
                                    made.folder(), ids(wish), plan.get().order());
                            if (added.problems().isEmpty()) {
                                pages.next(
                                        context,
                                        "/trial/" + Trials.id(made.folder()),
                                        "The trial is in the folder " + TrialFolder.nameOf(made.folder())
                                                + ", with its "
                                                + added.circles().size() + " circles in the order to drive them; "
                                                + planned(plan.get()));
                            }
                            return problems(added);
                        },
                        refused -> TrialForm.faults(refused.problems()));
        if (!faults.isEmpty()) {
            showNew(context, form, typed, faults);
        }
    }

    private static List<Page.Fault> problems(PlannedCircles.Added added) {
        return added.problems().stream()
                .map(problem -> new Page.Fault("", problem.message()))
                .toList();
    }

    private static String planned(Plans.Plan plan) {
        return plan.readings() == 1
                ? "1 reading of each is planned."
                : plan.readings() + " readings of each are planned.";
    }

    private static List<String> ids(PlanWish wish) {
        return wish.machines().stream().map(Machine::id).toList();
    }

    void show(Context context) {
        Path folder = trials.of(context);
        Optional<Trial> trial = planned(folder);
        showOf(context, folder, trial, PlanForm.of(context::queryParams, trial, past), List.of());
    }

    /** A trial that may lack circles and readings, but nothing of what is there. */
    private static Optional<Trial> planned(Path folder) {
        return TrialFolder.readPlanned(folder).fold(read -> Optional.of(read.trial()), faulty -> Optional.empty());
    }

    private void showOf(Context context, Path folder, Optional<Trial> trial, PlanForm form, List<Page.Fault> more) {
        Page.Trial named = TrialPages.named(context, folder);
        boolean unplanned = trial.map(t -> t.machines().isEmpty()).orElse(true);
        List<Page.Fault> faults = unplanned
                ? List.of()
                : Stream.concat(form.faults().stream(), more.stream()).toList();
        pages.show(
                context,
                "plan",
                "Plan the circles",
                Optional.of(named),
                "plan",
                faults,
                new PlanView(
                        trial.map(t -> PlanReport.leave(t.machines())).orElse(List.of()),
                        named.page("plan"),
                        form,
                        unplanned,
                        trial.map(t -> PlanReport.agreed(t.conditions())).orElse(""),
                        unplanned ? Optional.empty() : plan(form).map(p -> answer(p, form.seed())),
                        List.of(),
                        there(folder),
                        "",
                        Cautions.ALL));
    }

    private static int there(Path folder) {
        return TrialEditor.of(folder)
                .shown(TrialFile.CIRCLES)
                .files()
                .get(TrialFile.CIRCLES)
                .rows()
                .size();
    }

    /** One at a time, so that a button pressed twice does not bring every circle twice. */
    synchronized void add(Context context) {
        Path folder = trials.of(context);
        Optional<Trial> trial = planned(folder);
        PlanForm form = PlanForm.of(context::formParams, trial, past);
        List<Page.Fault> faults = new ArrayList<>();
        Optional<Plans.Plan> plan = trial.filter(t -> !t.machines().isEmpty()).flatMap(t -> driven(form));
        if (plan.isPresent()) {
            if (!TrialPages.typed(context).apply("there").equals(String.valueOf(there(folder)))) {
                faults.add(new Page.Fault(
                        "",
                        "Circles were added or taken out while this page was open, perhaps these very ones, so none were"
                                + " added now. Look at the circles of the trial; to add these as well, press the button"
                                + " again."));
            } else {
                PlannedCircles.Added added = PlannedCircles.add(
                        folder, ids(form.wish().orElseThrow()), plan.get().order());
                if (added.problems().isEmpty()) {
                    pages.next(
                            context,
                            "/trial/" + context.pathParam("trial") + "/circles",
                            "Added: " + String.join(", ", added.circles())
                                    + ". The order was drawn by lot with the seed " + form.seed() + "; "
                                    + planned(plan.get()));
                    return;
                }
                faults.addAll(problems(added));
            }
        }
        showOf(context, folder, trial, form, faults);
    }

    /** The field sheet of a plan, as {@code fairturn plan --sheet} writes it. */
    void sheet(Context context) {
        PlanForm form = PlanForm.of(context::queryParams, Optional.empty(), past);
        Plans.Plan plan = driven(form)
                .orElseThrow(() -> new Refusal(
                        409,
                        "There is no plan to print",
                        "Something in its address cannot be read, or nothing fits into the time there is; open the page Plan and"
                                + " fill it in again."));
        PlanWish wish = form.wish().orElseThrow();
        send(
                context,
                "field-sheet.pdf",
                FieldSheet.of(wish.conditions(), wish.machines(), plan.order(), plan.readings(), paper(context)));
    }

    /** The field sheet of the circles that have no readings yet, as {@code fairturn sheet} writes it. */
    void sheetOfTrial(Context context) {
        Path folder = trials.of(context);
        FieldSheet sheet = planned(folder)
                .map(trial -> FieldSheet.of(trial, readings(context), paper(context)))
                .orElseThrow(() -> new Refusal(
                        409,
                        "There is no field sheet yet",
                        "Something in the trial has to be filled in or mended first; its page \"The data looked"
                                + " through\" lists what."));
        if (sheet.rows().isEmpty()) {
            throw new Refusal(
                    409,
                    "Every circle has been measured",
                    "A field sheet is for circles without readings; plan or add some first.");
        }
        send(context, context.pathParam("trial") + "-sheet.pdf", sheet);
    }

    private static int readings(Context context) {
        String typed = Optional.ofNullable(context.queryParam("readings")).orElse("2");
        if (!typed.matches("[123]")) {
            throw new Refusal(400, "Readings: read \"" + typed + "\"", "Accepted: 1, 2 or 3. Go back to the circles.");
        }
        return Integer.parseInt(typed);
    }

    private static FieldSheet.Paper paper(Context context) {
        String typed = Optional.ofNullable(context.queryParam("paper")).orElse("a4");
        return Stream.of(FieldSheet.Paper.values())
                .filter(paper -> paper.word().equals(typed))
                .findFirst()
                .orElseThrow(() -> new Refusal(
                        400, "Paper: read \"" + typed + "\"", "Accepted: a4 or letter. Go back and choose one."));
    }

    private void send(Context context, String name, FieldSheet sheet) {
        byte[] pdf;
        synchronized (plans) { // printing takes much memory: one at a time
            pdf = sheet.pdf();
        }
        ResultPages.send(context, name, "application/pdf", pdf);
    }
}
