package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.chart.CircleStrip;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.CircleProgress;
import org.fairturn.finding.Observation;
import org.fairturn.folder.Outcome;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.report.Cautions;
import org.fairturn.units.LengthUnit;

/**
 * Readings entered beside the circle. A page sends each under an id made where it was typed, as often as it takes, so
 * {@link TrialEditor} keeps it once; whether the page runs its script or not, the same addresses serve.
 */
public final class EntryPages {
    private static final List<String> LENGTHS = List.of("value", "second", "third");
    private static final List<String> CELLS =
            List.of("kind", "value", "second", "third", "bearing", "measurer", "remark");
    private static final String ENTRY = "[A-Za-z0-9-]{8,64}";
    private static final int NOT_NOW = 503;

    private static final List<Kind> KINDS = List.of(
            new Kind("across", "Across", List.of("Across")),
            new Kind("chord and rise", "Chord and rise", List.of("Chord", "Rise")),
            new Kind("three stakes", "Three stakes", List.of("Stake 1 to 2", "Stake 2 to 3", "Stake 3 to 1")));

    private final Trials trials;
    private final Pages pages;
    private final Estimates estimates;

    EntryPages(Trials trials, Pages pages, Estimates estimates) {
        this.trials = trials;
        this.pages = pages;
        this.estimates = estimates;
    }

    /**
     * A kind of reading and what its lengths are called.
     *
     * @param word as readings.csv writes it
     * @param label as the page shows it
     * @param lengths what each is called, one to three
     */
    public record Kind(String word, String label, List<String> lengths) {
        /**
         * Keeps its own copy of the list.
         *
         * @param word as readings.csv writes it
         * @param label as the page shows it
         * @param lengths what each is called, one to three
         */
        public Kind {
            lengths = List.copyOf(lengths);
        }

        /**
         * {@return what the i-th length is called}
         *
         * @param i from 0
         */
        public String length(int i) {
            return i < lengths.size() ? lengths.get(i) : "";
        }
    }

    /**
     * The page.
     *
     * @param leave stops of its machine that do not touch the axle, a sentence each
     * @param address of the circle
     * @param circle its row in the list
     * @param entry id under which the form sends its reading
     * @param unit of bare numbers
     * @param typed cells by column, as they were sent where they have to be mended
     * @param faults what has to be mended
     * @param kinds to choose from
     * @param readings what is there already
     * @param estimate what they come to
     * @param taken the form that takes the circle out, or counts it again
     * @param cautions before anyone measures, a sentence each
     * @param style address of this page's style sheet
     * @param script address of this page's script
     */
    public record EntryView(
            List<String> leave,
            String address,
            CirclePages.ListRow circle,
            String entry,
            String unit,
            Map<String, String> typed,
            List<Page.Fault> faults,
            List<Kind> kinds,
            ReadingsView readings,
            EstimateView estimate,
            RowForm.View taken,
            List<String> cautions,
            String style,
            String script) {
        /**
         * {@return what stands in a cell of the row that is typed}
         *
         * @param column name as in readings.csv
         */
        public String cell(String column) {
            return typed.getOrDefault(column, "");
        }

        /**
         * {@return what has to be mended in a field; empty where nothing has}
         *
         * @param column name as in readings.csv
         */
        public String fault(String column) {
            return String.join(
                    " ",
                    faults.stream()
                            .filter(fault -> fault.field().equals(Field.id(column)))
                            .map(Page.Fault::message)
                            .toList());
        }
    }

    /**
     * The readings of a circle, and the circles to go on to.
     *
     * @param address of the circle
     * @param circle id
     * @param version of the folder
     * @param token for forms
     * @param said what was just done; empty where nothing was
     * @param rows the readings, in the order of the file
     * @param points how many it has
     * @param circles all of the trial, in run order
     */
    public record ReadingsView(
            String address,
            String circle,
            String version,
            String token,
            String said,
            List<ReadingRow> rows,
            int points,
            List<CircleLink> circles) {
        /**
         * {@return address of the circle so many places further on in the order; empty where there is none}
         *
         * @param step −1 for the one before, 1 for the next
         */
        public String beside(int step) {
            for (int i = 0; i < circles.size(); i++) {
                if (circles.get(i).here() && i + step >= 0 && i + step < circles.size()) {
                    return circles.get(i + step).address();
                }
            }
            return "";
        }
    }

    /**
     * A reading as it was written, each length in both units.
     *
     * @param place from 1, in the order of the file
     * @param kind as written
     * @param lengths as written, and in the other unit
     * @param noted bearing, measurer and remark
     * @param key finds the row again where rows above it come or go
     * @param seen stands for the row as it is shown
     * @param entry the id it was entered under; empty where it was typed into the file by hand
     */
    public record ReadingRow(
            int place, String kind, String lengths, String noted, String key, String seen, String entry) {}

    /**
     * A circle to go to.
     *
     * @param address of its page
     * @param id what its peg says
     * @param machine id
     * @param turn as written
     * @param drive as written
     * @param here whether it is the one that is shown
     * @param used whether it counts
     * @param state how far it is
     */
    public record CircleLink(
            String address,
            String id,
            String machine,
            String turn,
            String drive,
            boolean here,
            boolean used,
            String state) {}

    /**
     * What the readings so far come to.
     *
     * @param version of the folder it was worked out from
     * @param current false where a newer one is being worked out
     * @param strip a drawing; empty where there is nothing to draw
     * @param again readings worth taking again
     * @param size the circle and its cell, in sentences
     * @param outlook what more would bring, in sentences
     * @param instead why there is no estimate; empty where there is one or the first is being worked out
     * @param mend address of the page that lists what has to be mended first; empty where nothing has
     */
    public record EstimateView(
            String version,
            boolean current,
            String strip,
            List<String> again,
            List<String> size,
            List<String> outlook,
            String instead,
            String mend) {}

    /** The circle a request names, and all that its page shows of the folder, read at one moment. */
    private static final class Circle {
        private final Path folder;
        private final TrialEditor editor;
        private final TrialEditor.Shown shown;
        private final List<CirclePages.ListRow> all;
        private final CirclePages.ListRow row;
        private final String trial;
        private final String address;
        private final LengthUnit unit;

        Circle(Context context, Path folder) {
            this.folder = folder;
            this.editor = TrialEditor.of(folder);
            this.shown = editor.shown(
                    TrialFile.TRIAL, TrialFile.STOPS, TrialFile.CIRCLES, TrialFile.READINGS, TrialFile.POINTS);
            this.all = CirclePages.rows(shown);
            String page = "circle/" + context.pathParam("circle");
            this.row = all.stream()
                    .filter(one -> one.page().equals(page))
                    .findFirst()
                    .orElseThrow(() -> new Refusal(
                            404,
                            "There is no such circle in this trial",
                            "It may have been renamed or removed. Look at the list of circles."));
            this.trial = "/trial/" + context.pathParam("trial") + "/";
            this.address = trial + page;
            this.unit = TrialForm.unit(shown);
        }

        private List<ShownRow> rows(TrialFile file) {
            return shown.files().get(file).rows();
        }

        List<ShownRow> own(TrialFile file) {
            return rows(file).stream()
                    .filter(one -> one.cell("circle").equals(row.id()))
                    .toList();
        }

        /** The same as it stands now. */
        Circle now(Context context) {
            return new Circle(context, folder);
        }
    }

    void show(Context context) {
        show(
                context,
                new Circle(context, trials.of(context)),
                Map.of("kind", KINDS.get(0).word()),
                newEntry(),
                List.of());
    }

    private static String newEntry() {
        return UUID.randomUUID().toString();
    }

    private void show(
            Context context, Circle circle, Map<String, String> typed, String entry, List<Page.Fault> faults) {
        pages.show(
                context,
                "entry",
                "Circle " + circle.row.id(),
                Optional.of(TrialPages.named(context, circle.folder, circle.shown)),
                "circles",
                faults,
                new EntryView(
                        Contact.missing(circle.shown, circle.row.machine()),
                        circle.address,
                        circle.row,
                        entry,
                        circle.unit.symbol(),
                        typed,
                        faults,
                        KINDS,
                        readings(context, circle, ""),
                        estimate(circle),
                        CirclePages.taken(circle.shown, circle.row.id()),
                        Cautions.ALL,
                        pages.asset("entry.css"),
                        pages.asset("entry.js")));
    }

    private static ReadingsView readings(Context context, Circle circle, String said) {
        List<ShownRow> own = circle.own(TrialFile.READINGS);
        List<ReadingRow> rows = IntStream.range(0, own.size())
                .mapToObj(i -> row(i + 1, own.get(i), circle.unit))
                .toList();
        List<CircleLink> circles = circle.all.stream()
                .map(one -> new CircleLink(
                        circle.trial + one.page(),
                        one.id(),
                        one.machine(),
                        one.turn(),
                        one.drive(),
                        one.id().equals(circle.row.id()),
                        one.used(),
                        one.state()))
                .toList();
        return new ReadingsView(
                circle.address,
                circle.row.id(),
                circle.shown.version(),
                Visit.of(context).token(),
                said,
                rows,
                circle.own(TrialFile.POINTS).size(),
                circles);
    }

    private static ReadingRow row(int place, ShownRow row, LengthUnit unit) {
        List<String> noted = new ArrayList<>();
        if (!row.cell("bearing").isEmpty()) {
            noted.add("bearing " + row.cell("bearing"));
        }
        Stream.of(row.cell("measurer"), row.cell("remark"))
                .filter(text -> !text.isEmpty())
                .forEach(noted::add);
        return new ReadingRow(
                place,
                row.cell("kind"),
                lengths(row.cells(), unit),
                String.join(", ", noted),
                row.key().text(),
                row.seen(),
                row.cell("entry"));
    }

    private static String lengths(Map<String, String> cells, LengthUnit unit) {
        return String.join(
                " · ",
                LENGTHS.stream()
                        .map(column -> cells.getOrDefault(column, "").strip())
                        .filter(text -> !text.isEmpty())
                        .map(text -> Echo.of(text, unit).fold(read -> read, fault -> text))
                        .toList());
    }

    /** True where a page's script asks, which wants a piece of the page and no redirect. */
    private static boolean scripted(Context context) {
        return context.header("HX-Request") != null;
    }

    private static String text(Context context, String name) {
        return Optional.ofNullable(context.formParam(name)).orElse("").strip();
    }

    void save(Context context) {
        Circle circle = new Circle(context, trials.of(context));
        String entry = text(context, "entry");
        if (!entry.matches(ENTRY)) {
            throw new Refusal(400, "This was not sent by Fairturn's entry page", "Load the page again.");
        }
        Map<String, String> typed = new LinkedHashMap<>();
        CELLS.forEach(column -> typed.put(column, text(context, column)));
        Map<String, String> cells = new LinkedHashMap<>(typed);
        cells.put("circle", circle.row.id());
        Outcome outcome = circle.editor.append(TrialFile.READINGS, cells, entry);
        outcome.fold(
                saved -> saved(context, circle, saved.row()),
                unconfirmed -> refused(context, circle, typed, entry, List.of(unconfirmed.problem())),
                there -> there.removed()
                        ? done(context, circle.now(context), "This reading was taken out before, and stays out.")
                        : saved(context, circle, there.row()),
                refused -> refused(context, circle, typed, entry, refused.problems()),
                meanwhile -> done(context, circle.now(context), RowForm.MEANWHILE));
    }

    /** Says such as {@code Saved: 1.58 m (62 1/4 in), reading 2 of circle A3}. */
    private boolean saved(Context context, Circle before, ShownRow row) {
        Circle circle = before.now(context);
        List<ShownRow.Key> own =
                circle.own(TrialFile.READINGS).stream().map(ShownRow::key).toList();
        int place = own.indexOf(row.key()) + 1;
        String which = place == 0 ? "a reading of circle " : "reading " + place + " of circle ";
        return done(context, circle, "Saved: " + lengths(row.cells(), circle.unit) + ", " + which + circle.row.id());
    }

    private boolean done(Context context, Circle now, String said) {
        if (scripted(context)) {
            pages.piece(context, "anew", readings(context, now, said));
        } else {
            pages.next(context, now.address, said);
        }
        return true;
    }

    /** What lies in the cells has to be mended where it was typed; what lies in the folder keeps the reading waiting. */
    private boolean refused(
            Context context, Circle circle, Map<String, String> typed, String entry, List<Problem> problems) {
        boolean cells = problems.stream().anyMatch(problem -> !problem.column().isEmpty());
        int status = cells ? 422 : NOT_NOW;
        if (scripted(context)) {
            context.status(status)
                    .contentType("text/plain; charset=utf-8")
                    .result(String.join(
                            "\n", problems.stream().map(EntryPages::told).toList()));
            return true;
        }
        List<Page.Fault> faults = problems.stream()
                .map(problem -> new Page.Fault(
                        CELLS.contains(problem.column()) ? Field.id(problem.column()) : "",
                        CELLS.contains(problem.column()) ? Faults.beside(problem) : problem.message()))
                .toList();
        show(context, circle, typed, entry, faults);
        context.status(status);
        return true;
    }

    /** The row it would have got says nothing to whoever stands in the grass. */
    private static String told(Problem problem) {
        return CELLS.contains(problem.column())
                ? problem.column().substring(0, 1).toUpperCase(Locale.ROOT)
                        + problem.column().substring(1) + ": " + Faults.beside(problem)
                : problem.message();
    }

    void undo(Context context) {
        Circle circle = new Circle(context, trials.of(context));
        String entry = text(context, "entry");
        ShownRow.Key key = entry.isEmpty() ? new ShownRow.Key(text(context, "key")) : ShownRow.Key.entry(entry);
        // a page that has not heard yet whether its reading arrived takes back whatever is there under its id
        String seen = text(context, "seen").isEmpty()
                ? circle.own(TrialFile.READINGS).stream()
                        .filter(row -> row.key().equals(key))
                        .map(ShownRow::seen)
                        .findFirst()
                        .orElse("")
                : text(context, "seen");
        circle.editor
                .remove(TrialFile.READINGS, key, seen)
                .fold(
                        saved -> done(context, circle.now(context), takenOut(circle, saved.row())),
                        unconfirmed -> refused(
                                context,
                                circle,
                                Map.of("kind", KINDS.get(0).word()),
                                newEntry(),
                                List.of(unconfirmed.problem())),
                        there -> done(context, circle.now(context), takenOut(circle, there.row())),
                        refused -> refused(
                                context, circle, Map.of("kind", KINDS.get(0).word()), newEntry(), refused.problems()),
                        meanwhile -> meanwhile.now().isEmpty()
                                ? done(context, circle.now(context), "This reading is not there any more.")
                                : changed(context, circle.now(context)));
    }

    private static String takenOut(Circle circle, ShownRow row) {
        return "Taken out: " + lengths(row.cells(), circle.unit) + ", of circle " + circle.row.id()
                + ". It is kept in removed.csv.";
    }

    private boolean changed(Context context, Circle circle) {
        if (scripted(context)) {
            context.status(409);
        }
        return done(
                context,
                circle,
                "Somebody else changed this reading meanwhile, so it was left alone. It is shown as it stands now.");
    }

    /** The readings, where the folder is another than the page has seen. */
    void readings(Context context) {
        Path folder = trials.of(context);
        if (TrialEditor.of(folder).version().equals(context.queryParam("version"))) {
            context.status(204);
        } else {
            pages.piece(context, "anew", readings(context, new Circle(context, folder), ""));
        }
    }

    void estimate(Context context) {
        pages.piece(context, "estimate", estimate(new Circle(context, trials.of(context))));
    }

    private EstimateView estimate(Circle circle) {
        String version = circle.shown.version();
        Optional<Estimates.Known> known = estimates.of(circle.folder, version);
        boolean current = known.isPresent() && known.get().version().equals(version);
        Optional<Analysis> analysis = known.flatMap(Estimates.Known::analysis);
        Optional<CircleProgress> progress = analysis.flatMap(a -> CircleProgress.of(a, circle.row.id()));
        String instead = known.isEmpty()
                ? ""
                : analysis.isEmpty()
                        ? "The trial has something to fill in or mend before anything can be worked out."
                        : progress.isEmpty() || progress.get().size().isEmpty() ? "Nothing to work out yet." : "";
        return new EstimateView(
                known.map(Estimates.Known::version).orElse(""),
                current,
                progress.flatMap(p -> strip(p, analysis.orElseThrow())).orElse(""),
                progress.map(CircleProgress::again).orElse(List.of()),
                progress.map(CircleProgress::size).orElse(List.of()),
                progress.map(CircleProgress::outlook).orElse(List.of()),
                instead,
                known.isPresent() && analysis.isEmpty() ? circle.trial + "problems" : "");
    }

    private static Optional<String> strip(CircleProgress progress, Analysis analysis) {
        return progress.diameter()
                .map(d -> CircleStrip.draw(
                                progress.circle().circle().id(),
                                progress.circle().observations().stream()
                                        .map(Observation::diameter)
                                        .toList(),
                                d.estimate(),
                                d.low(),
                                d.high(),
                                analysis.trial().conditions().lengthUnit())
                        .svg());
    }

    /** A length told back in both units, for what the keypad did not compose. */
    void echo(Context context) {
        String typed = Optional.ofNullable(context.queryParam("text")).orElse("");
        TrialEditor.Shown trial = TrialEditor.of(trials.of(context)).shown(TrialFile.TRIAL);
        String told = Echo.of(typed, TrialForm.unit(trial))
                .fold(read -> "= " + read, fault -> "Not a length yet: " + fault.accepted() + ". " + fault.mend());
        context.contentType("text/plain; charset=utf-8").result(told);
    }
}
