package org.fairturn.report;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * What goes out on the clipboard: cautions, what to check on each machine, how to measure, and the run order with boxes to
 * write into.
 *
 * @param title of the trial, empty where it has none yet
 * @param day of the trial, empty where it is not known yet
 * @param place empty where it is not known yet
 * @param unit symbol of bare numbers
 * @param stopUnit symbol of the unit the stops' protrusions are shown in
 * @param leave stops that do not touch the axle, a sentence each
 * @param machines what to check on each
 * @param rows in the order they are driven
 * @param readings boxes of each circle
 * @param paper it is laid out for
 */
public record FieldSheet(
        String title,
        String day,
        String place,
        String unit,
        String stopUnit,
        List<String> leave,
        List<Checked> machines,
        List<Row> rows,
        int readings,
        Paper paper) {
    /**
     * Keeps its own copy of each list.
     *
     * @param title of the trial, empty where it has none yet
     * @param day of the trial, empty where it is not known yet
     * @param place empty where it is not known yet
     * @param unit symbol of bare numbers
     * @param stopUnit symbol of the unit the stops' protrusions are shown in
     * @param leave stops that do not touch the axle, a sentence each
     * @param machines what to check on each
     * @param rows in the order they are driven
     * @param readings boxes of each circle
     * @param paper it is laid out for
     */
    public FieldSheet {
        leave = List.copyOf(leave);
        machines = List.copyOf(machines);
        rows = List.copyOf(rows);
    }

    /** Sizes of paper. */
    public enum Paper {
        /** 210 mm by 297 mm. */
        A4("a4", "210mm 297mm", "297mm 210mm", "277mm"),
        /** 8.5 in by 11 in. */
        LETTER("letter", "8.5in 11in", "11in 8.5in", "259mm");

        private final String word;
        private final String upright;
        private final String across;
        private final String acrossInside;

        Paper(String word, String upright, String across, String acrossInside) {
            this.word = word;
            this.upright = upright;
            this.across = across;
            this.acrossInside = acrossInside;
        }

        /** {@return what the command line calls it} */
        public String word() {
            return word;
        }

        /** {@return width and height as a style sheet writes them} */
        public String upright() {
            return upright;
        }

        /** {@return the same turned on its side} */
        public String across() {
            return across;
        }

        /** {@return width between margins of 10 mm when turned on its side} */
        public String acrossInside() {
            return acrossInside;
        }
    }

    /**
     * A circle to be driven.
     *
     * @param place in the run order
     * @param circle its id, which goes on the peg
     * @param cell machine, turn and drive
     */
    public record Row(int place, String circle, Cell cell) {}

    /**
     * A machine with its tyres and steering stops; what the folder does not state is empty.
     *
     * @param machine what it is called
     * @param tyres to be looked at before mowing: wheel, size, specified pressure
     * @param stops likewise
     */
    public record Checked(String machine, List<List<String>> tyres, List<Stop> stops) {
        /**
         * Keeps its own copy of each list.
         *
         * @param machine what it is called
         * @param tyres to be looked at before mowing: wheel, size, specified pressure
         * @param stops likewise
         */
        public Checked {
            tyres = List.copyOf(tyres);
            stops = List.copyOf(stops);
        }
    }

    /**
     * One stop to be checked.
     *
     * @param name which stop, in words
     * @param specified protrusion as the folder states it
     * @param found protrusion as recorded
     * @param set likewise
     * @param touches yes or no, as recorded
     */
    public record Stop(String name, String specified, String found, String set, String touches) {}

    /**
     * The circles of a trial that have not been measured yet, in their run order; those without a place come last.
     *
     * @param trial with circles
     * @param readings rows to fill in for each circle, 1 or more
     * @param paper to print on
     * @return with the circles of a trial that have not been measured yet
     */
    public static FieldSheet of(Trial trial, int readings, Paper paper) {
        List<Circle> open = trial.circles().stream()
                .filter(c -> c.use() && c.readings().isEmpty() && c.perimeter().isEmpty())
                .sorted(Comparator.comparingInt((Circle c) -> c.order().orElse(Integer.MAX_VALUE)))
                .toList();
        int next = trial.circles().stream()
                .mapToInt(c -> c.order().orElse(0))
                .max()
                .orElse(0);
        List<Row> rows = new ArrayList<>();
        for (Circle circle : open) {
            rows.add(new Row(
                    circle.order().isPresent() ? circle.order().getAsInt() : ++next, circle.id(), circle.cell()));
        }
        return sheet(trial.conditions(), trial.machines(), rows, readings, paper);
    }

    /**
     * The circles of a plan, numbered as they come.
     *
     * @param conditions of the trial that is planned
     * @param machines those that are driven
     * @param order the cells in the order they are driven
     * @param readings rows to fill in for each circle, 1 or more
     * @param paper to print on
     * @return with an empty row for each circle
     */
    public static FieldSheet of(
            Conditions conditions, List<Machine> machines, List<Cell> order, int readings, Paper paper) {
        List<Row> rows = new ArrayList<>();
        for (Cell cell : order) {
            int place = rows.size() + 1;
            rows.add(new Row(place, Integer.toString(place), cell));
        }
        return sheet(conditions, machines, rows, readings, paper);
    }

    private static FieldSheet sheet(
            Conditions conditions, List<Machine> machines, List<Row> rows, int readings, Paper paper) {
        List<Machine> driven = machines.stream()
                .filter(m -> rows.stream().anyMatch(r -> r.cell().machine().equals(m.id())))
                .toList();
        return new FieldSheet(
                conditions.title(),
                conditions.date().equals(LocalDate.EPOCH)
                        ? ""
                        : conditions.date().toString(),
                conditions.place(),
                conditions.lengthUnit().symbol(),
                small(conditions).symbol(),
                PlanReport.leave(driven),
                driven.stream()
                        .map(m -> new Checked(m.id(), tyres(m, conditions), stops(m, conditions)))
                        .toList(),
                rows,
                readings,
                paper);
    }

    private static List<List<String>> tyres(Machine machine, Conditions conditions) {
        return machine.tyres().stream()
                .map(t -> List.of(
                        t.wheel(),
                        t.size(),
                        t.specified()
                                .map(p -> p.beside(conditions.lengthUnit()))
                                .orElse("")))
                .toList();
    }

    /** What a protrusion is read in, whatever the circles are. */
    private static LengthUnit small(Conditions conditions) {
        return conditions.lengthUnit().isInch() ? LengthUnit.INCH : LengthUnit.MILLIMETRE;
    }

    /** Every stop that is known, and one for each turn of which none is. */
    private static List<Stop> stops(Machine machine, Conditions conditions) {
        LengthUnit unit = small(conditions);
        List<Stop> stops = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            List<SteeringStop> known =
                    machine.stops().stream().filter(s -> s.limits() == turn).toList();
            known.forEach(s -> stops.add(new Stop(
                    name(s.side(), turn),
                    protrusion(s.specified(), unit),
                    protrusion(s.found(), unit),
                    protrusion(s.set(), unit),
                    s.touchesAxle().map(touches -> touches ? "yes" : "no").orElse(""))));
            if (known.isEmpty()) {
                stops.add(new Stop(name(turn, turn), "", "", "", ""));
            }
        }
        return stops;
    }

    private static String protrusion(Optional<Length> noted, LengthUnit unit) {
        return noted.map(l -> l.as(unit, Figures.decimalsLeaving(l.metres(), unit, unit.isInch() ? 2 : 1)))
                .orElse("");
    }

    private static String name(Turn side, Turn limits) {
        return side.word() + " stop (limits the " + limits.word() + " turn)";
    }

    /** {@return the sheet, ready to print; tagged, with its letters in it} */
    public byte[] pdf() {
        StringOutput page = new StringOutput();
        TemplateEngine.createPrecompiled(null, ContentType.Html, null, "org.fairturn.report.template")
                .render("sheet.jte", this, page);
        return Pdf.of(page.toString());
    }
}
