package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.folder.Problem;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/** What somebody states of the machines, and what a machine complained of is held against. */
public final class ClaimPages {
    private static final String QUANTITIES =
            "Uncut diameter: across the grass that is left standing. Turning circle diameter: across the circle on which the"
                    + " outermost wheel runs, to the centre of its track. Clearance circle diameter: across the circle of the"
                    + " machine's outermost point. Turn radius: from the turn centre to the middle of the rear axle. What a brochure"
                    + " calls its turning radius is commonly half of one of the circles: enter twice the figure, as the diameter of"
                    + " that circle.";

    private final Trials trials;
    private final Pages pages;

    ClaimPages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * Both lists, each with a form for one more.
     *
     * @param action where the forms are sent
     * @param lists claims first
     */
    public record ClaimsView(String action, List<Listed> lists) {
        /**
         * Keeps its own copy of the list.
         *
         * @param action where the forms are sent
         * @param lists claims first
         */
        public ClaimsView {
            lists = List.copyOf(lists);
        }
    }

    /**
     * The rows of one file, and a form for one more.
     *
     * @param file its name without the ending
     * @param title of the list
     * @param lead what belongs there
     * @param rows as they stand there
     * @param fields of the form
     * @param button what unfolds the form
     * @param open whether the form is unfolded
     */
    public record Listed(
            String file,
            String title,
            String lead,
            List<ListRow> rows,
            List<Field> fields,
            String button,
            boolean open) {
        /**
         * Keeps its own copy of each list.
         *
         * @param file its name without the ending
         * @param title of the list
         * @param lead what belongs there
         * @param rows as they stand there
         * @param fields of the form
         * @param button what unfolds the form
         * @param open whether the form is unfolded
         */
        public Listed {
            rows = List.copyOf(rows);
            fields = List.copyOf(fields);
        }
    }

    /**
     * One row.
     *
     * @param page of the trial where it is changed or taken out
     * @param name who states it, or which machine is complained of
     * @param facts the rest of it in a line
     */
    public record ListRow(String page, String name, String facts) {}

    void list(Context context) {
        show(context, Optional.empty(), column -> "", List.of());
    }

    void add(Context context) {
        Path folder = trials.of(context);
        UnaryOperator<String> typed = TrialPages.typed(context);
        TrialFile file = Stream.of(TrialFile.CLAIMS, TrialFile.REFERENCES)
                .filter(f -> RowPages.name(f).equals(typed.apply("file")))
                .findFirst()
                .orElseThrow(Refusal::noSuchPage);
        Map<String, String> cells = new LinkedHashMap<>();
        file.columns().forEach(column -> cells.put(column, typed.apply(fieldOf(file, column))));
        TrialEditor.of(folder)
                .append(file, cells)
                .fold(
                        saved -> next(context, file),
                        unconfirmed -> again(context, file, typed, List.of(unconfirmed.problem())),
                        there -> next(context, file),
                        refused -> again(context, file, typed, refused.problems()),
                        meanwhile -> again(context, file, typed, List.of()));
    }

    private boolean next(Context context, TrialFile file) {
        pages.next(
                context,
                "/trial/" + context.pathParam("trial") + "/claims",
                "It is noted in " + file.fileName() + ". The findings hold it against the circles.");
        return true;
    }

    private boolean again(Context context, TrialFile file, UnaryOperator<String> typed, List<Problem> problems) {
        show(context, Optional.of(file), typed, Faults.beside(problems, column -> fieldOf(file, column)));
        return true;
    }

    private void show(Context context, Optional<TrialFile> sent, UnaryOperator<String> typed, List<Page.Fault> faults) {
        Path folder = trials.of(context);
        TrialEditor.Shown shown = TrialEditor.of(folder)
                .shown(TrialFile.TRIAL, TrialFile.MACHINES, TrialFile.CLAIMS, TrialFile.REFERENCES);
        Page.Trial trial = TrialPages.named(context, folder, shown);
        List<Listed> lists = List.of(
                listed(
                        TrialFile.CLAIMS,
                        shown,
                        "Claims",
                        "A figure somebody states: a brochure, a seller, another owner. What is left open – the turn, the drive"
                                + " – is held against everything it may mean.",
                        "Note a claim",
                        sent,
                        typed,
                        faults),
                listed(
                        TrialFile.REFERENCES,
                        shown,
                        "What a machine complained of is held against",
                        "A figure of the service manual, or another machine of this trial that is known to be good.",
                        "Note a reference",
                        sent,
                        typed,
                        faults));
        pages.show(
                context,
                "claims",
                "Claims and references",
                Optional.of(trial),
                "claims",
                faults,
                new ClaimsView(trial.page("claims"), lists));
    }

    private static Listed listed(
            TrialFile file,
            TrialEditor.Shown shown,
            String title,
            String lead,
            String button,
            Optional<TrialFile> sent,
            UnaryOperator<String> typed,
            List<Page.Fault> faults) {
        List<ShownRow> rows = shown.files().get(file).rows();
        boolean again = sent.equals(Optional.of(file));
        UnaryOperator<String> value = again
                ? column -> typed.apply(fieldOf(file, column))
                : column -> column.equals("claim") ? freeName(rows) : "";
        List<Field> fields = new ArrayList<>();
        for (Field field : fields(file, machines(shown))) {
            fields.add(new Field(
                            fieldOf(file, field.name()),
                            field.label(),
                            field.help(),
                            value.apply(field.name()),
                            field.choices(),
                            List.of())
                    .with(faults));
        }
        return new Listed(
                RowPages.name(file),
                title,
                lead,
                rows.stream().map(row -> row(file, row)).toList(),
                fields,
                button,
                again || (rows.isEmpty() && file == TrialFile.CLAIMS));
    }

    /** Both forms stand on one page, so the file is part of a field's name. */
    private static String fieldOf(TrialFile file, String column) {
        return RowPages.name(file) + "." + column;
    }

    private static List<String> machines(TrialEditor.Shown shown) {
        return shown.files().get(TrialFile.MACHINES).rows().stream()
                .map(row -> row.cell("machine"))
                .filter(machine -> !machine.isBlank())
                .toList();
    }

    private static String freeName(List<ShownRow> rows) {
        Set<String> taken = rows.stream().map(row -> row.cell("claim")).collect(Collectors.toSet());
        return IntStream.rangeClosed(1, rows.size() + 1)
                .mapToObj(n -> "C" + n)
                .filter(name -> !taken.contains(name))
                .findFirst()
                .orElseThrow();
    }

    private static ListRow row(TrialFile file, ShownRow row) {
        boolean claim = file == TrialFile.CLAIMS;
        String who = row.cell(claim ? "who" : "source");
        String what = row.cell(claim ? "claim" : "machine");
        String facts = Stream.of(
                        stated(row, "known good", "against ", ""),
                        stated(row, "value", "", ""),
                        stated(row, "quantity", "", ""),
                        claim ? stated(row, "machine", "", "") : "",
                        stated(row, "turn", "", " turn"),
                        stated(row, "drive", "", ""),
                        row.cell("brakes").equals(Brakes.USED.word()) ? "with brakes" : "")
                .filter(fact -> !fact.isEmpty())
                .collect(Collectors.joining(", "));
        return new ListRow(RowPages.page(file, row.number()), who.isBlank() ? what : what + ", " + who, facts);
    }

    private static String stated(ShownRow row, String column, String before, String after) {
        String cell = row.cell(column);
        return cell.isBlank() || cell.equals("unstated") ? "" : before + cell.replace("both", "either") + after;
    }

    private static List<Field> fields(TrialFile file, List<String> machines) {
        boolean claim = file == TrialFile.CLAIMS;
        String[] known = orEmpty(machines.stream());
        List<Field> fields = new ArrayList<>();
        if (claim) {
            fields.add(Field.text("claim", "Name", "Short, so that findings can speak of it."));
            fields.add(Field.text("who", "Who states it", ""));
        } else {
            fields.add(Field.choice("machine", "Machine complained of", "", known));
            fields.add(Field.choice(
                    "known good", "Machine known to be good", "One of this trial; then no figure is needed.", known));
        }
        fields.add(Field.text("value", claim ? "Figure" : "Figure instead", "Such as 62 3/8 in or 158 cm."));
        fields.add(Field.choice(
                "quantity",
                "What it is the measure of",
                QUANTITIES,
                orEmpty(Stream.of(Claim.Quantity.values()).map(Claim.Quantity::word))));
        if (claim) {
            fields.add(Field.choice("machine", "Machine", "", known));
        }
        Stream<String> turns = Stream.of(Turn.values()).map(Turn::word);
        Stream<String> drives = Stream.of(Drive.values()).map(Drive::word);
        fields.add(Field.choice(
                "turn",
                "Turn",
                claim ? "Empty where it is not said." : "",
                orEmpty(claim ? turns : Stream.concat(turns, Stream.of("both")))));
        fields.add(Field.choice(
                "drive",
                "Drive",
                claim ? "Empty where it is not said." : "",
                orEmpty(claim ? drives : Stream.concat(drives, Stream.of("both")))));
        fields.add(Field.choice(
                "brakes", "Brakes", "", orEmpty(Stream.of(Brakes.values()).map(Brakes::word))));
        fields.add(Field.text(
                "uncertainty",
                "Standard uncertainty",
                "Where it is stated; else it is taken for as many circles as stand behind it."));
        fields.add(Field.text("circles behind it", "Circles behind it", "Empty: one."));
        if (!claim) {
            fields.add(Field.text("source", "Source", "Such as workshop manual, page 12."));
        }
        fields.add(Field.text("remark", "Remark", ""));
        return fields;
    }

    private static String[] orEmpty(Stream<String> words) {
        return Stream.concat(Stream.of(""), words).toArray(String[]::new);
    }
}
