package org.fairturn.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.units.LengthUnit;

/**
 * Trials of the same machines on several days, held against each other: a day is what ISO 5725 calls a laboratory, a turn and
 * drive of a machine a level, a circle's mean diameter a test result.
 *
 * @param days by date, then by label
 * @param margin practical margin (m): the smallest any of the days asks for
 * @param confidence the highest any of them asks for
 * @param lengthUnit of the first day
 * @param machines those that have circles in a turn and drive of two or more days, in the order of the first day that has them
 * @param findings every answer, machine by machine
 * @param warnings what a reader of the results should know
 */
public record Days(
        List<Day> days,
        double margin,
        double confidence,
        LengthUnit lengthUnit,
        List<OverDays> machines,
        List<Finding> findings,
        List<Warning> warnings) {
    /**
     * Keeps its own copy of each list.
     *
     * @param days by date, then by label
     * @param margin practical margin (m): the smallest any of the days asks for
     * @param confidence the highest any of them asks for
     * @param lengthUnit of the first day
     * @param machines those that have circles in a turn and drive of two or more days, in the order of the first day that
     *     has them
     * @param findings every answer, machine by machine
     * @param warnings what a reader of the results should know
     */
    public Days {
        days = List.copyOf(days);
        machines = List.copyOf(machines);
        findings = List.copyOf(findings);
        warnings = List.copyOf(warnings);
    }

    /**
     * A trial and where it came from.
     *
     * @param path as it was typed; tells folders of one name, date and title apart
     * @param trial as it was read
     */
    public record Folder(String path, Trial trial) {}

    /**
     * One day.
     *
     * @param label date and title, with the folder where two days would be called the same
     * @param trial of that day
     */
    public record Day(String label, Trial trial) {}

    /**
     * One machine over the days.
     *
     * @param machine id
     * @param days labels of the days it counts on
     * @param levels the turns and drives driven on two or more of them
     * @param precision repeatability and reproducibility over all of them (m)
     * @param known the same with their intervals; empty where no circle was driven twice on a day
     * @param singleDay how far a single day's figure for one turn and drive may lie off, either way, at the confidence (m)
     * @param restsOnAssumption whether that is mostly the assumed repeatability's doing
     * @param against each day against the others, the largest circles first
     * @param summary all of it in plain words
     */
    public record OverDays(
            String machine,
            List<String> days,
            List<Level> levels,
            Interlaboratory.Precision precision,
            Optional<Interlaboratory.Known> known,
            double singleDay,
            boolean restsOnAssumption,
            List<Against> against,
            String summary) {
        /**
         * Keeps its own copy of each list.
         *
         * @param machine id
         * @param days labels of the days it counts on
         * @param levels the turns and drives driven on two or more of them
         * @param precision repeatability and reproducibility over all of them (m)
         * @param known the same with their intervals; empty where no circle was driven twice on a day
         * @param singleDay how far a single day's figure for one turn and drive may lie off, either way, at the confidence
         *     (m)
         * @param restsOnAssumption whether that is mostly the assumed repeatability's doing
         * @param against each day against the others, the largest circles first
         * @param summary all of it in plain words
         */
        public OverDays {
            days = List.copyOf(days);
            levels = List.copyOf(levels);
            against = List.copyOf(against);
        }

        OverDays with(String words) {
            return new OverDays(machine, days, levels, precision, known, singleDay, restsOnAssumption, against, words);
        }

        /** {@return Mandel's k of each day over all turns and drives together; without those of which it says nothing} */
        public SortedMap<String, Interlaboratory.Scatter> scatter() {
            return Interlaboratory.scatter(levels.stream().map(Level::measured).toList(), Testers.ALPHA);
        }
    }

    /**
     * One turn and drive, and what each day's circles showed (m).
     *
     * @param cell machine, turn and drive
     * @param measured the diameters of a day's circles (m), by the day's label
     */
    public record Level(Cell cell, Interlaboratory measured) {}

    /**
     * One day against the mean of the others.
     *
     * @param day its label
     * @param difference over all turns and drives it shares with another day (m), positive where its circles are larger
     * @param cells the same turn by turn and drive by drive
     */
    public record Against(String day, Estimate difference, List<InCell> cells) {
        /**
         * Keeps its own copy of the list.
         *
         * @param day its label
         * @param difference over all turns and drives it shares with another day (m), positive where its circles are larger
         * @param cells the same turn by turn and drive by drive
         */
        public Against {
            cells = List.copyOf(cells);
        }
    }

    /**
     * D on the day less the mean of D on the other days, in one turn and drive (m).
     *
     * @param cell machine, turn and drive
     * @param difference (m), positive where the day's circles are larger
     */
    public record InCell(Cell cell, Estimate difference) {}

    /**
     * {@return the machines that are listed in two or more of the folders, by id}
     *
     * @param folders one or more
     */
    public static List<String> inCommon(List<Folder> folders) {
        Set<String> ids = new LinkedHashSet<>();
        folders.forEach(f -> f.trial().machines().forEach(m -> ids.add(m.id())));
        return ids.stream()
                .filter(id -> folders.stream()
                                .filter(f -> f.trial().machine(id).isPresent())
                                .count()
                        > 1)
                .toList();
    }

    /**
     * Holds the days against each other. The order of the folders changes nothing.
     *
     * @param folders two or more
     * @return with a finding for each machine and day that shares a turn and drive with another day, one where two share with
     *     each other alone
     */
    public static Days of(List<Folder> folders) {
        List<Day> days = labelled(folders);
        double margin = least(days, t -> t.conditions().practicalMargin().metres());
        double confidence = -least(days, t -> -t.conditions().confidence());
        LengthUnit unit = days.get(0).trial().conditions().lengthUnit();
        DecisionRule rule = new DecisionRule(margin, confidence);
        Wording wording = new Wording(unit);
        List<OverDays> machines = new ArrayList<>();
        List<Answer<List<Day>>> answers = new ArrayList<>();
        List<Warning> warnings = new ArrayList<>(settings(days, wording));
        for (String id :
                inCommon(days.stream().map(d -> new Folder("", d.trial())).toList())) {
            BetweenDays between = BetweenDays.of(id, days, rule, wording);
            between.result().ifPresent(machines::add);
            answers.addAll(between.answers());
            warnings.addAll(between.warnings());
        }
        return new Days(
                days,
                margin,
                confidence,
                unit,
                machines,
                Robustness.of(
                        Answer.with(
                                answers, Family.adjust(Answer.findings(answers), f -> true, confidence, "these days")),
                        () -> changes(days)),
                warnings);
    }

    /** What is tried on the verdicts: each circle and each reading left out, the assumed repeatability halved and doubled. */
    private static List<Robustness.Change<List<Day>>> changes(List<Day> days) {
        List<Robustness.Change<List<Day>>> changes = new ArrayList<>();
        changes.add(new Robustness.Change<>(Robustness.Kind.UNCHANGED, "", Optional.empty(), () -> days));
        for (Day day : days) {
            for (Circle circle : day.trial().circles()) {
                if (circle.use()) {
                    leftOut(days, day, circle, changes);
                }
            }
        }
        changes.add(new Robustness.Change<>(Robustness.Kind.HALVED, "", Optional.empty(), () -> assuming(days, 0.5)));
        changes.add(new Robustness.Change<>(Robustness.Kind.DOUBLED, "", Optional.empty(), () -> assuming(days, 2)));
        return changes;
    }

    private static void leftOut(List<Day> days, Day day, Circle circle, List<Robustness.Change<List<Day>>> changes) {
        Optional<String> machine = Optional.of(circle.cell().machine());
        String of = " of " + day.label();
        changes.add(new Robustness.Change<>(
                Robustness.Kind.CIRCLE,
                "circle " + circle.id() + of,
                machine,
                () -> with(days, day, circle, Optional.empty())));
        if (circle.readings().size() > 1) {
            for (Reading reading : circle.readings()) {
                List<Reading> rest = circle.readings().stream()
                        .filter(r -> !r.equals(reading))
                        .toList();
                changes.add(new Robustness.Change<>(
                        Robustness.Kind.READING,
                        Observations.where(reading) + of,
                        machine,
                        () -> with(days, day, circle, Optional.of(circle.withReadings(rest)))));
            }
        }
    }

    /** The days with a circle of one of them replaced or left out. */
    private static List<Day> with(List<Day> days, Day day, Circle out, Optional<Circle> in) {
        List<Circle> circles = day.trial().circles().stream()
                .flatMap(c -> c.id().equals(out.id()) ? in.stream() : Stream.of(c))
                .toList();
        return days.stream()
                .map(d -> d.label().equals(day.label())
                        ? new Day(d.label(), d.trial().withCircles(circles))
                        : d)
                .toList();
    }

    private static List<Day> assuming(List<Day> days, double factor) {
        return days.stream()
                .map(d -> new Day(
                        d.label(),
                        d.trial().withConditions(d.trial().conditions().withAssumedRepeatability(factor))))
                .toList();
    }

    private static double least(List<Day> days, ToDoubleFunction<Trial> setting) {
        return days.stream()
                .mapToDouble(d -> setting.applyAsDouble(d.trial()))
                .min()
                .orElseThrow();
    }

    private static List<Day> labelled(List<Folder> folders) {
        List<Day> days = new ArrayList<>();
        for (Folder folder : folders) {
            String plain = label(folder);
            boolean alone = folders.stream().filter(f -> label(f).equals(plain)).count() == 1;
            days.add(new Day(alone ? plain : plain + " (" + apart(folder, folders) + ")", folder.trial()));
        }
        days.sort(Comparator.comparing((Day d) -> d.trial().conditions().date()).thenComparing(Day::label));
        return days;
    }

    /** The folder's name, or its path where another folder has the same. */
    private static String apart(Folder folder, List<Folder> folders) {
        String name = folder.trial().folder();
        return folders.stream().filter(f -> f.trial().folder().equals(name)).count() == 1 ? name : folder.path();
    }

    private static String label(Folder folder) {
        LocalDate date = folder.trial().conditions().date();
        String title = folder.trial().conditions().title();
        return date + ", " + (title.isBlank() ? folder.trial().folder() : title);
    }

    private static List<Warning> settings(List<Day> days, Wording wording) {
        List<Warning> warnings = new ArrayList<>();
        if (days.stream()
                        .map(d -> d.trial().conditions().practicalMargin())
                        .distinct()
                        .count()
                > 1) {
            warnings.add(new Warning(
                    "marginsDiffer",
                    "trial.csv, practical margin",
                    "The folders state different margins; the smallest, "
                            + wording.amount(least(
                                    days, t -> t.conditions().practicalMargin().metres()))
                            + ", is used for all days."));
        }
        if (days.stream()
                        .map(d -> d.trial().conditions().confidence())
                        .distinct()
                        .count()
                > 1) {
            warnings.add(new Warning(
                    "confidencesDiffer",
                    "trial.csv, confidence",
                    "The folders state different confidences; the highest is used for all days."));
        }
        return warnings;
    }

    /** A machine as its trial describes it, where that has to be the same on all days. */
    static boolean sameBuild(Machine a, Machine b) {
        return a.wheelbase().equals(b.wheelbase())
                && a.frontTrack().equals(b.frontTrack())
                && a.deckOffset().equals(b.deckOffset())
                && counted(a.blades(), x -> List.of(x.ahead(), x.left(), x.tipRadius()))
                        .equals(counted(b.blades(), x -> List.of(x.ahead(), x.left(), x.tipRadius())))
                && counted(a.stops(), s -> List.of(s.side(), s.limits(), SteeringStops.driven(s)))
                        .equals(counted(b.stops(), s -> List.of(s.side(), s.limits(), SteeringStops.driven(s))));
    }

    /** How many parts there are of each kind, whatever their order and names. */
    private static <T> Map<List<Object>, Long> counted(List<T> parts, Function<T, List<Object>> kind) {
        return parts.stream().collect(Collectors.groupingBy(kind, Collectors.counting()));
    }
}
