package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import org.fairturn.finding.RunOrder;
import org.fairturn.folder.PlannedCircles;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.report.Cautions;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/** The circles of a trial in the order they are driven, and one of them. */
public final class CirclePages {
    private static final String ALL = "all of them";
    private static final String BOTH = "both";
    private static final int MOST_EACH = 12;

    private static final List<Field> TAKEN = List.of(
            Field.choice("use", "Use it", "No takes it out of every result; it stays in the list.", "", "yes", "no"),
            Field.text("remark", "Remark", "What happened, such as: driver came off full lock."),
            Field.text("laps", "Laps", "How many were driven."));

    private final Trials trials;
    private final Pages pages;

    CirclePages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * The run list.
     *
     * @param leave stops that do not touch the axle, a sentence each
     * @param rows every circle, in run order
     * @param next the first circle in use without readings
     * @param add fields of a circle to be added
     * @param machines whether there is one to add circles of
     * @param cautions before anyone drives, a sentence each
     */
    public record ListView(
            List<String> leave,
            List<ListRow> rows,
            Optional<ListRow> next,
            List<Field> add,
            boolean machines,
            List<String> cautions) {}

    /**
     * A circle in the list.
     *
     * @param page its page
     * @param id what its peg says
     * @param order its place, as written
     * @param machine id
     * @param turn as written
     * @param drive as written
     * @param left whether it is turned to the left
     * @param used whether it counts
     * @param readings how many it has
     * @param state how far it is
     * @param remark as written
     */
    public record ListRow(
            String page,
            String id,
            String order,
            String machine,
            String turn,
            String drive,
            boolean left,
            boolean used,
            long readings,
            String state,
            String remark) {}

    void list(Context context) {
        show(context, trials.of(context), null, List.of());
    }

    private void show(Context context, Path folder, UnaryOperator<String> typed, List<Page.Fault> faults) {
        TrialEditor.Shown shown = read(folder);
        List<ListRow> rows = rows(shown);
        List<String> machines = machines(shown);
        UnaryOperator<String> value = typed != null
                ? typed
                : name -> switch (name) {
                    case "machine" -> machines.size() == 1 ? machines.get(0) : ALL;
                    case "turns", "drives" -> BOTH;
                    case "each" -> "3";
                    default -> String.valueOf(ThreadLocalRandom.current().nextInt(1000, 10_000));
                };
        List<Field> add = addFields(machines).stream()
                .map(field -> field.with(value.apply(field.name())).with(faults))
                .toList();
        pages.show(
                context,
                "circles",
                "Circles",
                Optional.of(TrialPages.named(context, folder, shown)),
                "circles",
                faults,
                new ListView(Contact.missing(shown), rows, next(rows), add, !machines.isEmpty(), Cautions.ALL));
    }

    private static List<Field> addFields(List<String> machines) {
        List<String> choices = new ArrayList<>(machines);
        if (machines.size() != 1) {
            choices.add(0, ALL);
        }
        return List.of(
                new Field("machine", "Machine", "", "", choices, List.of()),
                Field.choice("turns", "Turns", "", BOTH, "left", "right"),
                Field.choice("drives", "Drives", "", BOTH, "2WD", "4WD"),
                Field.text(
                        "each",
                        "Circles of each",
                        "Two at least, better three, for each machine, turn and drive; fairturn plan says how many it takes."),
                Field.text(
                        "seed",
                        "Seed of the lot",
                        "The order is drawn by lot, with machines and turns mixed and few changes of drive. The same seed gives"
                                + " the same order again."));
    }

    private static TrialEditor.Shown read(Path folder) {
        return TrialEditor.of(folder)
                .shown(
                        TrialFile.TRIAL,
                        TrialFile.MACHINES,
                        TrialFile.STOPS,
                        TrialFile.CIRCLES,
                        TrialFile.READINGS,
                        TrialFile.POINTS);
    }

    private static List<String> machines(TrialEditor.Shown shown) {
        return shown.files().get(TrialFile.MACHINES).rows().stream()
                .map(row -> row.cell("machine"))
                .filter(id -> !id.isEmpty())
                .distinct()
                .toList();
    }

    /**
     * The circles in the order they are driven.
     *
     * @param shown with circles.csv, readings.csv and points.csv
     */
    static List<ListRow> rows(TrialEditor.Shown shown) {
        List<ShownRow> circles = shown.files().get(TrialFile.CIRCLES).rows();
        List<ShownRow> read = shown.files().get(TrialFile.READINGS).rows();
        List<ShownRow> points = shown.files().get(TrialFile.POINTS).rows();
        Map<String, Long> readings = new HashMap<>();
        read.forEach(row -> readings.merge(row.cell("circle"), 1L, Long::sum));
        Set<String> pointed = new HashSet<>();
        points.forEach(row -> pointed.add(row.cell("circle")));
        return circles.stream()
                .sorted(Comparator.comparingInt(row -> place(row.cell("order"))))
                .map(row -> {
                    String id = row.cell("circle");
                    boolean used = !row.cell("use").equalsIgnoreCase("no");
                    long count = readings.getOrDefault(id, 0L);
                    String measured = count > 0
                            ? TrialPages.count(count, "reading", "readings")
                                    + (pointed.contains(id) ? " and points" : "")
                            : pointed.contains(id) ? "points" : "no reading yet";
                    return new ListRow(
                            "circle/" + Slug.of(id),
                            id,
                            row.cell("order"),
                            row.cell("machine"),
                            row.cell("turn"),
                            row.cell("drive"),
                            row.cell("turn").equalsIgnoreCase("left"),
                            used,
                            count + (pointed.contains(id) ? 1 : 0),
                            used ? measured : "taken out, " + measured,
                            row.cell("remark"));
                })
                .toList();
    }

    private static int place(String order) {
        return order.matches("[0-9]{1,9}") ? Integer.parseInt(order) : Integer.MAX_VALUE;
    }

    private static Optional<ListRow> next(List<ListRow> rows) {
        return rows.stream().filter(row -> row.used() && row.readings() == 0).findFirst();
    }

    void add(Context context) {
        Path folder = trials.of(context);
        UnaryOperator<String> typed = TrialPages.typed(context);
        List<String> known = machines(read(folder));
        List<Page.Fault> faults = new ArrayList<>();
        List<String> machines = typed.apply("machine").equals(ALL) ? known : List.of(typed.apply("machine"));
        if (machines.isEmpty() || !known.containsAll(machines)) {
            faults.add(fault("machine", typed.apply("machine"), "a machine of this trial", "Add the machine first."));
        }
        int each = number(typed.apply("each"), MOST_EACH);
        if (each < 1) {
            faults.add(fault("each", typed.apply("each"), "a whole number from 1 to " + MOST_EACH, ""));
        }
        int seed = number(typed.apply("seed"), Integer.MAX_VALUE);
        if (seed < 0) {
            faults.add(fault("seed", typed.apply("seed"), "a whole number of up to nine digits", ""));
        }
        if (!faults.isEmpty()) {
            show(context, folder, typed, faults);
            return;
        }
        List<Turn> turns = chosen(Turn.values(), Turn::word, typed.apply("turns"));
        List<Drive> drives = chosen(Drive.values(), Drive::word, typed.apply("drives"));
        List<Cell> order = RunOrder.of(machines, drives, each, seed).stream()
                .filter(cell -> turns.contains(cell.turn()))
                .toList();
        PlannedCircles.Added added = PlannedCircles.add(folder, machines, order);
        added.problems().forEach(problem -> faults.add(new Page.Fault("", problem.message())));
        if (!faults.isEmpty()) {
            show(context, folder, typed, faults);
            return;
        }
        pages.next(
                context,
                "/trial/" + context.pathParam("trial") + "/circles",
                "Added: " + String.join(", ", added.circles()) + ". The order was drawn by lot with the seed " + seed
                        + ".");
    }

    private static Page.Fault fault(String field, String read, String accepted, String mend) {
        return new Page.Fault(
                Field.id(field),
                (read.isEmpty() ? "This is empty" : "Read \"" + read + "\"") + "; accepted: " + accepted + "."
                        + (mend.isEmpty() ? "" : " " + mend));
    }

    private static int number(String text, int most) {
        return text.matches("[0-9]{1,9}") && Integer.parseInt(text) <= most ? Integer.parseInt(text) : -1;
    }

    private static <T> List<T> chosen(T[] all, Function<T, String> word, String typed) {
        List<T> chosen =
                Arrays.stream(all).filter(one -> word.apply(one).equals(typed)).toList();
        return chosen.isEmpty() ? List.of(all) : chosen;
    }

    /**
     * One circle with its readings.
     *
     * @param leave stops of its machine that do not touch the axle, a sentence each
     * @param action where the form is sent
     * @param circle its row
     * @param readings as they were written
     * @param points how many it has
     * @param taken the form that takes it out, or counts it again
     * @param before address of the circle before it in the order; empty where there is none
     * @param after address of the circle after it in the order; empty where there is none
     * @param cautions before anyone drives, a sentence each
     */
    public record CircleView(
            List<String> leave,
            String action,
            ListRow circle,
            List<ReadingRow> readings,
            int points,
            RowForm.View taken,
            String before,
            String after,
            List<String> cautions) {}

    /**
     * A reading as it was written.
     *
     * @param kind as written
     * @param lengths as written, one behind the other
     * @param bearing as written
     * @param measurer as written
     * @param remark as written
     */
    public record ReadingRow(String kind, String lengths, String bearing, String measurer, String remark) {}

    private static ShownRow row(Context context, TrialEditor.Shown shown) {
        return shown.files().get(TrialFile.CIRCLES).rows().stream()
                .filter(row -> Slug.of(row.cell("circle")).equals(context.pathParam("circle")))
                .findFirst()
                .orElseThrow(() -> new Refusal(
                        404,
                        "There is no such circle in this trial",
                        "It may have been renamed or removed. Look at the list of circles."));
    }

    private void show(Context context, Path folder, RowForm form) {
        TrialEditor.Shown shown = read(folder);
        ShownRow row = row(context, shown);
        Page.Trial trial = TrialPages.named(context, folder, shown);
        String id = row.cell("circle");
        List<ListRow> rows = rows(shown);
        int index = rows.stream().map(ListRow::id).toList().indexOf(id);
        List<ReadingRow> readings = shown.files().get(TrialFile.READINGS).rows().stream()
                .filter(reading -> reading.cell("circle").equals(id))
                .map(CirclePages::reading)
                .toList();
        int points = (int) shown.files().get(TrialFile.POINTS).rows().stream()
                .filter(point -> point.cell("circle").equals(id))
                .count();
        pages.show(
                context,
                "circle",
                "Circle " + id,
                Optional.of(trial),
                "circles",
                form.faults("circle.", "Circle " + id),
                new CircleView(
                        Contact.missing(shown, row.cell("machine")),
                        trial.page("circle/" + Slug.of(id)),
                        rows.get(index),
                        readings,
                        points,
                        form.view("circle.", "This circle", TAKEN, List.of()),
                        index > 0 ? trial.page(rows.get(index - 1).page()) : "",
                        index + 1 < rows.size() ? trial.page(rows.get(index + 1).page()) : "",
                        Cautions.ALL));
    }

    private static ReadingRow reading(ShownRow row) {
        String lengths = row.cell("value");
        for (String more : List.of(row.cell("second"), row.cell("third"))) {
            lengths += more.isEmpty() ? "" : " · " + more;
        }
        return new ReadingRow(row.cell("kind"), lengths, row.cell("bearing"), row.cell("measurer"), row.cell("remark"));
    }

    /** The form with which a circle is taken out, as a part of another page. */
    static RowForm.View taken(TrialEditor.Shown shown, String id) {
        return shown.files().get(TrialFile.CIRCLES).rows().stream()
                .filter(row -> row.cell("circle").equals(id))
                .findFirst()
                .map(row -> RowForm.of(row, TAKEN).view("circle.", "This circle", TAKEN, List.of()))
                .orElseThrow();
    }

    void save(Context context) {
        Path folder = trials.of(context);
        ShownRow row = row(context, read(folder));
        RowForm sent =
                RowForm.sent(context, "circle.", TAKEN).save(TrialEditor.of(folder), TrialFile.CIRCLES, Map.of(), "");
        if (sent.faults().isEmpty()) {
            pages.next(context, context.path(), "Circle " + row.cell("circle") + " is saved.");
            return;
        }
        show(context, folder, sent);
    }
}
