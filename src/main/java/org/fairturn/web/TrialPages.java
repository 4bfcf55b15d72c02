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
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.finding.NoContact;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.folder.TrialShelf;
import org.fairturn.report.Cautions;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;

/** The list of trials, a new one, and what one holds. */
public final class TrialPages {
    private final Trials trials;
    private final Pages pages;

    TrialPages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * The list.
     *
     * @param folder where they lie
     * @param open whether another trial can be made there
     * @param rows by folder
     */
    public record ListView(String folder, boolean open, List<ListRow> rows) {}

    /**
     * One trial in the list.
     *
     * @param trial as its pages name it
     * @param folder name of it
     * @param facts date, machines and circles in a line
     * @param toMend whether something has to be mended before it can be read
     */
    public record ListRow(Page.Trial trial, String folder, String facts, boolean toMend) {}

    void list(Context context) {
        List<ListRow> rows = trials.listed().entrySet().stream()
                .map(entry -> row(entry.getKey(), entry.getValue()))
                .toList();
        pages.showAt(
                context,
                "list",
                "Trials",
                "list",
                new ListView(TrialFolder.nameOf(trials.folder()), !trials.single(), rows));
    }

    private static ListRow row(String id, Path folder) {
        return TrialFolder.read(folder)
                .fold(
                        read -> new ListRow(
                                new Page.Trial(id, read.trial().conditions().title()),
                                TrialFolder.nameOf(folder),
                                read.trial().conditions().date() + ", " + counted(read.trial()),
                                false),
                        faulty -> new ListRow(
                                new Page.Trial(id, title(folder)),
                                TrialFolder.nameOf(folder),
                                faulty.problems().size() == 1
                                        ? "1 thing to fill in or mend"
                                        : faulty.problems().size() + " things to fill in or mend",
                                true));
    }

    /** The title as typed, whatever else is wrong with the folder; its name where there is none. */
    private static String title(Path folder, TrialEditor.Shown shown) {
        String title = TrialForm.stated(shown, "title");
        return title.isEmpty() ? TrialFolder.nameOf(folder) : title;
    }

    private static String title(Path folder) {
        return title(folder, TrialEditor.of(folder).shown(TrialFile.TRIAL));
    }

    static Page.Trial named(Context context, Path folder) {
        return named(context.pathParam("trial"), folder);
    }

    static Page.Trial named(String id, Path folder) {
        return new Page.Trial(id, title(folder));
    }

    /**
     * The trial of a page.
     *
     * @param shown with trial.csv
     */
    static Page.Trial named(Context context, Path folder, TrialEditor.Shown shown) {
        return new Page.Trial(context.pathParam("trial"), title(folder, shown));
    }

    private static String counted(Trial trial) {
        int readings =
                trial.circles().stream().mapToInt(c -> c.readings().size()).sum();
        return count(trial.machines().size(), "machine", "machines") + ", "
                + count(trial.circles().size(), "circle", "circles") + ", " + count(readings, "reading", "readings");
    }

    static String count(long number, String one, String more) {
        return number + " " + (number == 1 ? one : more);
    }

    /**
     * A form of fields.
     *
     * @param action where it is sent
     * @param fields in their order
     * @param hidden what was shown and its fingerprints, by the name of the field that carries each
     * @param lead what stands above them
     * @param button what sending it does
     */
    public record FormView(String action, List<Field> fields, Map<String, String> hidden, String lead, String button) {}

    void blank(Context context) {
        showNew(
                context,
                name -> switch (name) {
                    case "date" -> LocalDate.now(ZoneId.systemDefault()).toString();
                    case "length unit" -> "mm";
                    case "practical margin" -> "50 mm";
                    default -> "";
                },
                List.of());
    }

    private void showNew(Context context, UnaryOperator<String> value, List<Page.Fault> faults) {
        onlyWithRoom();
        pages.show(
                context,
                "form",
                "New trial",
                Optional.empty(),
                "new",
                faults,
                new FormView(
                        "/new",
                        TrialForm.filled(value, faults),
                        Map.of(),
                        "Makes a folder of CSV files, which any spreadsheet opens too. Everything here can be changed later.",
                        "Make this trial"));
    }

    private void onlyWithRoom() {
        if (trials.single()) {
            throw new Refusal(
                    404,
                    "Fairturn was started on a single trial",
                    "Start it on the folder above to make another one there.");
        }
    }

    void create(Context context) {
        onlyWithRoom();
        UnaryOperator<String> value = typed(context);
        TrialShelf.create(trials.folder(), TrialForm.typed(value))
                .fold(
                        made -> {
                            pages.next(
                                    context,
                                    "/trial/" + Trials.id(made.folder()),
                                    "The trial is in the folder " + TrialFolder.nameOf(made.folder()) + ".");
                            return true;
                        },
                        refused -> {
                            showNew(context, value, TrialForm.faults(refused.problems()));
                            return false;
                        });
    }

    /** What was typed into a field of that name, without blanks around it; empty where it was not sent. */
    static UnaryOperator<String> typed(Context context) {
        return name -> Optional.ofNullable(context.formParam(name)).orElse("").strip();
    }

    void edit(Context context) {
        Path folder = trials.of(context);
        TrialEditor.Shown shown = TrialEditor.of(folder).shown(TrialFile.TRIAL);
        showEdit(context, folder, shown, name -> Field.line(TrialForm.stated(shown, name)), List.of());
    }

    private void showEdit(
            Context context,
            Path folder,
            TrialEditor.Shown shown,
            UnaryOperator<String> value,
            List<Page.Fault> faults) {
        Page.Trial trial = named(context, folder, shown);
        Map<String, ShownRow> rows = TrialForm.rows(shown);
        Map<String, String> hidden = new LinkedHashMap<>();
        TrialForm.FIELDS.forEach(field -> {
            Optional<ShownRow> row = Optional.ofNullable(rows.get(field.name()));
            hidden.put("seen:" + field.name(), row.map(ShownRow::seen).orElse(""));
            hidden.put(
                    "was:" + field.name(),
                    Field.line(row.map(one -> one.cell("value")).orElse("")));
        });
        pages.show(
                context,
                "form",
                "Facts of the trial",
                Optional.of(trial),
                "facts",
                faults,
                new FormView(
                        trial.page("facts"),
                        TrialForm.filled(value, faults),
                        hidden,
                        "Each is a row of trial.csv.",
                        "Save"));
    }

    void save(Context context) {
        Path folder = trials.of(context);
        UnaryOperator<String> value = typed(context);
        UnaryOperator<String> was = name -> value.apply("was:" + name);
        TrialEditor editor = TrialEditor.of(folder);
        List<Page.Fault> faults = TrialForm.save(editor, value, was, name -> value.apply("seen:" + name));
        if (faults.isEmpty()) {
            pages.next(context, "/trial/" + context.pathParam("trial"), "The facts of the trial are saved.");
            return;
        }
        TrialEditor.Shown shown = editor.shown(TrialFile.TRIAL);
        showEdit(
                context,
                folder,
                shown,
                name -> value.apply(name).equals(was.apply(name))
                        ? Field.line(TrialForm.stated(shown, name))
                        : value.apply(name),
                faults);
    }

    /**
     * What a trial holds and lacks.
     *
     * @param leave stops that do not touch the axle, a sentence each
     * @param steps from the machine to the findings
     * @param problems what has to be mended; files without a row yet are steps that are not done, and not among them
     * @param notes how many things there are to bear in mind
     * @param files that can be taken along
     * @param cautions before anyone goes out, a sentence each
     */
    public record OverviewView(
            List<String> leave,
            List<Step> steps,
            List<ProblemPages.Item> problems,
            int notes,
            ResultPages.FilesView files,
            List<String> cautions) {}

    /**
     * A step on the way to findings.
     *
     * @param page of the trial where it is done
     * @param name what it is called
     * @param state what is there
     * @param done whether it is
     * @param next true for the first that is missing
     * @param halt whether nobody is to go on before it is mended
     */
    public record Step(String page, String name, String state, boolean done, boolean next, boolean halt) {
        /** {@return the sign before it; its words say the same} */
        public String mark() {
            return halt ? "⚠" : done ? "✓" : next ? "→" : "·";
        }
    }

    void overview(Context context) {
        Path folder = trials.of(context);
        TrialRead read = TrialFolder.read(folder);
        Page.Trial trial = named(context, folder);
        TrialEditor.Shown shown = TrialEditor.of(folder)
                .shown(
                        TrialFile.MACHINES,
                        TrialFile.STOPS,
                        TrialFile.CIRCLES,
                        TrialFile.READINGS,
                        TrialFile.POINTS,
                        TrialFile.CLAIMS,
                        TrialFile.REFERENCES);
        Places places = new Places(folder);
        List<ProblemPages.Item> problems =
                read.fold(complete -> List.<Problem>of(), faulty -> faulty.problems()).stream()
                        .filter(problem -> !isBlankFile(problem))
                        .map(places::item)
                        .toList();
        pages.show(
                context,
                "overview",
                title(folder),
                trial,
                "",
                new OverviewView(
                        Contact.missing(shown),
                        steps(shown, read),
                        problems,
                        read.fold(complete -> complete.notes(), faulty -> faulty.notes())
                                .size(),
                        new ResultPages.FilesView(
                                trial,
                                read.fold(complete -> true, faulty -> false),
                                Bundle.nameOf(folder) + ".zip",
                                ResultPages.sheets(folder),
                                List.of(),
                                false),
                        Cautions.ALL));
    }

    /** A file with no row yet: a step that is not done, rather than something to mend. */
    static boolean isBlankFile(Problem problem) {
        return problem.row() == 0
                && problem.column().isEmpty()
                && problem.read().matches("no (machine|circle|reading) yet");
    }

    private static List<Step> steps(TrialEditor.Shown shown, TrialRead read) {
        Map<TrialFile, TrialEditor.Rows> rows = shown.files();
        int machines = rows.get(TrialFile.MACHINES).rows().size();
        int circles = rows.get(TrialFile.CIRCLES).rows().size();
        int readings = rows.get(TrialFile.READINGS).rows().size();
        int points = rows.get(TrialFile.POINTS).rows().size();
        Optional<Trial> trial = read.fold(complete -> Optional.of(complete.trial()), faulty -> Optional.empty());
        long unmeasured = trial.map(t -> t.circles().stream()
                        .filter(Circle::use)
                        .filter(TrialPages::isUnmeasured)
                        .count())
                .orElse(0L);
        List<Step> steps = new ArrayList<>();
        add(
                steps,
                "machines",
                "Machines",
                machines == 0 ? "none yet" : count(machines, "machine", "machines"),
                machines > 0);
        stops(steps, shown);
        add(steps, "circles", "Circles", circles == 0 ? "none yet" : count(circles, "circle", "circles"), circles > 0);
        add(
                steps,
                "circles",
                "Readings",
                readings + points == 0
                        ? "none yet"
                        : count(readings, "reading", "readings")
                                + (points > 0 ? ", " + count(points, "point", "points") : "")
                                + (unmeasured > 0
                                        ? "; " + count(unmeasured, "circle has", "circles have") + " none yet"
                                        : ""),
                readings + points > 0 && unmeasured == 0);
        steps.add(claims(
                rows.get(TrialFile.CLAIMS).rows().size(),
                rows.get(TrialFile.REFERENCES).rows().size()));
        add(
                steps,
                "findings",
                "Findings",
                trial.isPresent() ? "ready to read" : "once the rest is filled in",
                trial.isPresent());
        return List.copyOf(steps);
    }

    /** Done once a stop is noted for each turn of each machine, and none was seen not to touch the axle. */
    private static void stops(List<Step> steps, TrialEditor.Shown shown) {
        List<ShownRow> stops = shown.files().get(TrialFile.STOPS).rows();
        int noted = 0;
        int lacking = 0;
        for (ShownRow machine : shown.files().get(TrialFile.MACHINES).rows()) {
            List<ShownRow> own = stops.stream()
                    .filter(stop -> stop.cell("machine").equals(machine.cell("machine")))
                    .toList();
            noted += own.size();
            lacking += Turn.values().length
                    - (int) own.stream()
                            .flatMap(stop -> Contact.limits(stop).stream())
                            .distinct()
                            .count();
        }
        List<NoContact> apart = Contact.all(shown).toList();
        String state = noted == 0
                ? "none noted yet"
                : lacking > 0
                        ? noted + " of " + (noted + lacking) + " stops noted"
                        : count(noted, "stop", "stops") + " noted";
        if (apart.isEmpty()) {
            add(steps, "machines", "Steering stops", state, noted > 0 && lacking == 0);
        } else {
            String which = apart.stream()
                    .map(stop -> "the " + stop.stop() + " of " + stop.machine())
                    .collect(Collectors.joining(", "));
            steps.add(new Step(
                    "machines",
                    "Steering stops",
                    state + "; not touching the axle: " + which + ". Leave the machine until this is mended",
                    false,
                    steps.stream().noneMatch(Step::next),
                    true));
        }
    }

    /** Never the next thing to do: a trial may be held against nothing. */
    private static Step claims(int claims, int references) {
        String state = Stream.of(
                        claims == 0 ? "" : count(claims, "claim", "claims"),
                        references == 0 ? "" : count(references, "reference", "references"))
                .filter(part -> !part.isEmpty())
                .collect(Collectors.joining(", "));
        return new Step(
                "claims",
                "Claims and references",
                state.isEmpty() ? "none noted" : state,
                !state.isEmpty(),
                false,
                false);
    }

    private static void add(List<Step> steps, String page, String name, String state, boolean done) {
        boolean next = !done && steps.stream().noneMatch(Step::next);
        steps.add(new Step(page, name, state, done, next, false));
    }

    static boolean isUnmeasured(Circle circle) {
        return circle.readings().isEmpty() && circle.perimeter().isEmpty();
    }
}
