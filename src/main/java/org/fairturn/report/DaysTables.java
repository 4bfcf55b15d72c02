package org.fairturn.report;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.fairturn.finding.Days;
import org.fairturn.finding.Wording;
import org.fairturn.folder.DataCode;
import org.fairturn.trial.Conditions;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.units.Figures;

/** The tables and workings of several days. */
final class DaysTables {
    private static final String NONE = "–";

    private final Days days;
    private final Wording wording;
    private final String level;

    DaysTables(Days days) {
        this.days = days;
        this.wording = new Wording(days.lengthUnit());
        this.level = Figures.percent(days.confidence());
    }

    List<Table> results() {
        List<Table> tables = new ArrayList<>();
        tables.add(precision());
        days.machines().forEach(m -> tables.add(against(m)));
        days.machines().forEach(m -> tables.add(levels(m)));
        tables.add(tests());
        return tables;
    }

    /** What each day was. */
    Table days() {
        return new Table(
                "The days",
                List.of(
                        "Day",
                        "Folder",
                        "Place",
                        "Operator",
                        "Surface",
                        "Grass",
                        "Weather",
                        "Machines",
                        "Circles",
                        "Data code"),
                days.days().stream().map(this::day).toList());
    }

    private List<String> day(Days.Day day) {
        Conditions c = day.trial().conditions();
        return List.of(
                day.label(),
                day.trial().folder(),
                orNone(c.place()),
                orNone(c.operator()),
                orNone(c.surface()),
                orNone(c.grass()),
                orNone(c.weather()),
                day.trial().machines().stream().map(m -> m.id()).collect(Collectors.joining("; ")),
                Integer.toString(day.trial().circles().size()),
                DataCode.of(day.trial()));
    }

    private static String orNone(String text) {
        return text.isEmpty() ? NONE : text;
    }

    private Table precision() {
        List<List<String>> rows = new ArrayList<>();
        for (Days.OverDays m : days.machines()) {
            m.known().ifPresent(k -> {
                rows.add(spread(m, "repeatability s_r", k.repeatability(), Integer.toString(k.repeatabilityDegrees())));
                rows.add(List.of(
                        m.machine(),
                        "added by the day s_L",
                        wording.amount(m.precision().betweenLaboratories().orElseThrow()),
                        NONE,
                        Integer.toString(k.betweenDegrees())));
                rows.add(spread(m, "reproducibility s_R", k.reproducibility(), NONE));
            });
            rows.add(List.of(
                    m.machine(),
                    "a single day's figure can be off by",
                    "±" + wording.amount(m.singleDay()),
                    NONE,
                    m.restsOnAssumption() ? "rests on the assumed repeatability" : NONE));
        }
        return new Table(
                "Repeatability on one day and reproducibility over the days (standard deviations), and what they mean for one day",
                List.of("Machine", "What", "Amount", level + " interval", "Degrees of freedom"),
                rows);
    }

    private List<String> spread(Days.OverDays m, String what, Estimate s, String degrees) {
        return List.of(m.machine(), what, wording.amount(s), wording.interval(s), degrees);
    }

    private Table against(Days.OverDays m) {
        List<List<String>> rows = new ArrayList<>();
        for (Days.Against against : m.against()) {
            rows.add(difference(
                    against.day(),
                    against.cells().size() == 1 ? "all it shares" : "mean over all it shares",
                    against.difference()));
            against.cells()
                    .forEach(in -> rows.add(difference(against.day(), Drawings.name(in.cell()), in.difference())));
        }
        return new Table(
                m.machine() + ": each day less the mean of the other days",
                List.of("Day", "Turn, drive", "Difference", level + " interval"),
                rows);
    }

    private List<String> difference(String day, String where, Estimate e) {
        return List.of(day, where, wording.signed(e), wording.interval(e));
    }

    private Table levels(Days.OverDays m) {
        List<List<String>> rows = new ArrayList<>();
        for (Days.Level l : m.levels()) {
            Interlaboratory measured = l.measured();
            rows.addAll(HAndK.rows(Drawings.name(l.cell()), measured, wording));
        }
        m.scatter().forEach((day, k) -> rows.add(HAndK.row("all turns and drives, " + day, k)));
        return new Table(
                m.machine()
                        + ": what each day's circles showed; Mandel's h and k with a mark where they pass the critical value"
                        + " at 0.5 %",
                List.of("Turn, drive, day", "Circles", "Mean diameter", "Standard deviation", "h", "k"),
                rows);
    }

    private Table tests() {
        List<List<String>> rows = new ArrayList<>();
        for (Days.OverDays m : days.machines()) {
            for (Days.Level l : m.levels()) {
                l.measured().cochran().ifPresent(c -> rows.add(test(l, "Cochran: largest scatter", c)));
                l.measured().grubbs().ifPresent(g -> rows.add(test(l, "Grubbs: farthest mean", g)));
            }
        }
        return new Table(
                "Cochran's and Grubbs' tests, day against day",
                List.of(
                        "Machine, turn, drive",
                        "Test",
                        "Day it points at",
                        "Statistic",
                        "Critical 5 %",
                        "Critical 1 %",
                        "Says"),
                rows);
    }

    private static List<String> test(Days.Level level, String name, Interlaboratory.Pointed p) {
        return List.of(
                level.cell().toString(),
                name,
                p.label(),
                Figures.fixed(p.statistic(), 3),
                Figures.fixed(p.critical5(), 3),
                Figures.fixed(p.critical1(), 3),
                p.statistic() > p.critical1() ? "outlier" : p.statistic() > p.critical5() ? "straggler" : "nothing");
    }

    /** How s_r, s_L and s_R of each machine come about, with the numbers put in. */
    List<Working> workings() {
        List<Working> workings = new ArrayList<>();
        for (Days.OverDays m : days.machines()) {
            m.known().ifPresent(k -> workings.add(working(m)));
        }
        return workings;
    }

    private static Working working(Days.OverDays m) {
        List<Interlaboratory> levels =
                m.levels().stream().map(Days.Level::measured).toList();
        double squares = 0;
        int nu = 0;
        double between = 0;
        int degrees = 0;
        double size = 0;
        for (Interlaboratory l : levels) {
            double n = 0;
            double n2 = 0;
            for (Interlaboratory.Group g : l.groups()) {
                squares += g.sumOfSquares();
                nu += g.n() - 1;
                between += g.n() * (g.mean() - l.mean()) * (g.mean() - l.mean());
                n += g.n();
                n2 += (double) g.n() * g.n();
            }
            degrees += l.groups().size() - 1;
            size += n - n2 / n;
        }
        double r2 = squares / nu;
        double l2 = Math.max(0, (between - degrees * r2) / size);
        return new Working(
                m.machine() + ": repeatability and reproducibility",
                List.of(
                        new Working.Step(
                                "Squared distances of circles from the mean of their turn, drive and day, all added up, over the"
                                        + " number of circles beyond the first of each.",
                                "s_r² = " + mm2(squares) + "/" + nu + " = " + mm2(r2) + " mm², s_r = " + mm(r2)
                                        + " mm"),
                        new Working.Step(
                                "Squared distances of the days' means from the mean of their turn and drive, each times its circles,"
                                        + " all added up; less what circles alone make of it; over Σ(n − Σnᵢ²/n), n being the circles"
                                        + " of a turn and drive and nᵢ those on one day.",
                                "s_L² = max(0, (" + mm2(between) + " − " + degrees + " × " + mm2(r2) + ")/"
                                        + Figures.fixed(size, 3) + ") = " + mm2(l2) + " mm², s_L = " + mm(l2) + " mm"),
                        new Working.Step(
                                "Both together.",
                                "s_R = √(" + mm2(r2) + " + " + mm2(l2) + ") = " + mm(r2 + l2) + " mm")));
    }

    private static String mm2(double squareMetres) {
        return Figures.fixed(1e6 * squareMetres, 1);
    }

    private static String mm(double squareMetres) {
        return Figures.fixed(1000 * Math.sqrt(squareMetres), 1);
    }
}
