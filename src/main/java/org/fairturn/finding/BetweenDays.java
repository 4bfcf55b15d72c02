package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.CircleSummary;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.uncertainty.ScatterPosterior;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;

/**
 * Does one machine turn alike on all days?
 *
 * <p>Every turn and drive has a diameter of its own on every day; circles scatter about it with a repeatability all days share.
 * Of two days the one with the larger circles is held against the other, of three or more each against the mean of those it
 * shares turns and drives with, over these. Tape and eye may be others on another day: what they put on a day's
 * diameters does not cancel between days.
 */
final class BetweenDays {
    /** Part of the practical margin below which no day is named for standing out. Our own choice, as in BetweenTesters. */
    private static final double WORTH_NAMING = 0.1;

    private final String machine;
    private final List<Days.Day> days;
    private final DecisionRule rule;
    private final Wording wording;
    /** Circles that count, by turn and drive and day, of turns and drives driven on two or more days. */
    private final Map<Cell, Map<String, List<CircleResult>>> circles = new LinkedHashMap<>();

    private final List<Warning> warnings = new ArrayList<>();
    private final List<Answer<List<Days.Day>>> answers = new ArrayList<>();
    private volatile Optional<Days.OverDays> result = Optional.empty();

    private BetweenDays(String machine, List<Days.Day> all, DecisionRule rule, Wording wording) {
        this.machine = machine;
        this.days =
                all.stream().filter(d -> d.trial().machine(machine).isPresent()).toList();
        this.rule = rule;
        this.wording = wording;
        Map<Cell, Map<String, List<CircleResult>>> driven = new TreeMap<>(MachineEstimate.CELL_ORDER);
        for (Days.Day day : days) {
            Observations observations = new Observations(day.trial().conditions());
            for (Circle circle : day.trial().circles()) {
                CircleResult found = CircleResult.of(circle, observations);
                if (found.counts() && circle.cell().machine().equals(machine)) {
                    driven.computeIfAbsent(circle.cell(), k -> new LinkedHashMap<>())
                            .computeIfAbsent(day.label(), k -> new ArrayList<>())
                            .add(found);
                }
            }
        }
        driven.forEach((cell, byDay) -> {
            if (byDay.size() > 1) {
                circles.put(cell, byDay);
            } else {
                warnings.add(new Warning(
                        "drivenOnOneDay",
                        cell.toString(),
                        "Driven on one of the days only ("
                                + byDay.keySet().iterator().next() + "); it is left out."));
            }
        });
    }

    /** Days that all list the machine among others. */
    static BetweenDays of(String machine, List<Days.Day> all, DecisionRule rule, Wording wording) {
        BetweenDays between = new BetweenDays(machine, all, rule, wording);
        List<Machine> builds = between.days.stream()
                .flatMap(d -> d.trial().machine(machine).stream())
                .toList();
        if (builds.stream().anyMatch(m -> !Days.sameBuild(builds.get(0), m))) {
            between.warnings.add(new Warning(
                    "machineChanged",
                    machine,
                    "Deck, steering stops or axles are not the same in machines.csv, blades.csv and stops.csv of all days. A"
                            + " difference between days may be the machine's, not the day's."));
        }
        if (between.circles.isEmpty()) {
            between.answers.add(Answer.open(between.notPossible()));
        } else {
            between.result = Optional.of(between.answer());
        }
        return between;
    }

    Optional<Days.OverDays> result() {
        return result;
    }

    List<Answer<List<Days.Day>>> answers() {
        return answers;
    }

    List<Warning> warnings() {
        return warnings;
    }

    private Days.OverDays answer() {
        List<Days.Level> levels = new ArrayList<>();
        circles.forEach((cell, byDay) -> {
            Map<String, List<Double>> means = new LinkedHashMap<>();
            byDay.forEach((day, driven) -> means.put(
                    day,
                    driven.stream().map(c -> c.summary().orElseThrow().mean()).toList()));
            levels.add(new Days.Level(cell, Interlaboratory.of(means)));
        });
        List<Interlaboratory> measured =
                levels.stream().map(Days.Level::measured).toList();
        List<String> counted = counted();
        ScatterPosterior ofADay = ofADay(measured, counted.size());
        double singleDay = ofADay.contrast(0, 1).estimate(rule.confidence()).halfWidth();
        boolean rests = ofADay.assumedShare() > MachineEstimate.MOSTLY;
        Fit fit = new Fit(counted);
        List<Days.Against> against = fit.against();
        Days.OverDays over = new Days.OverDays(
                machine,
                counted,
                levels,
                Interlaboratory.precision(measured),
                Interlaboratory.known(measured, counted.size() - 1, rule.confidence()),
                singleDay,
                rests,
                against,
                "");
        List<String> answered = new ArrayList<>();
        for (Days.Against day : against) {
            List<String> others = sharingWith(day.day(), counted);
            // of two days that share with each other alone one answer serves both
            if (others.size() > 1
                    || !answered.contains(others.get(0))
                    || sharingWith(others.get(0), counted).size() > 1) {
                answers.add(new Answer<>(
                        fit.finding(day, others),
                        Set.of(machine),
                        changed -> new BetweenDays(machine, changed, rule, wording).again(day.day(), others)));
                answered.add(day.day());
            }
        }
        return over.with(summary(over));
    }

    private List<String> counted() {
        return days.stream()
                .map(Days.Day::label)
                .filter(d -> circles.values().stream().anyMatch(c -> c.containsKey(d)))
                .toList();
    }

    /** A day against those others, where they are still those it can be held against. */
    private Optional<Answer.Then> again(String day, List<String> others) {
        List<String> counted = counted();
        if (!counted.contains(day) || !sharingWith(day, counted).equals(others)) {
            return Optional.empty();
        }
        Fit fit = new Fit(counted);
        return Optional.of(fit.contrast(day, fit.cells(day)).then(rule, DecisionRule.Asks.UNSIGNED));
    }

    /**
     * What is known of the standard deviation of one day's figure for one turn and drive: the means of the days about those of
     * their level, levels drawn together. Ground and weather of a day move all its circles together, so that further levels
     * add no degrees of freedom. The prior is that of the circle-to-circle standard deviation, for want of a better one.
     */
    private ScatterPosterior ofADay(List<Interlaboratory> measured, int count) {
        double squares = 0;
        int degrees = 0;
        for (Interlaboratory level : measured) {
            int p = level.groups().size();
            squares += (p - 1) * Math.pow(level.standardDeviationOfMeans(), 2);
            degrees += p - 1;
        }
        return ScatterPosterior.of(
                squares / degrees * (count - 1),
                count - 1,
                new HalfT(assumed(Conditions::assumedCircleRepeatability)),
                MachineEstimate.RESOLUTION);
    }

    /** The largest any of the days assumes (m). */
    private double assumed(Function<Conditions, Length> repeatability) {
        return days.stream()
                .mapToDouble(d -> repeatability.apply(d.trial().conditions()).metres())
                .max()
                .orElseThrow();
    }

    /** The days that have a turn and drive of this day, in their order: those it can be held against. */
    private List<String> sharingWith(String day, List<String> counted) {
        return counted.stream()
                .filter(other -> !other.equals(day)
                        && circles.values().stream().anyMatch(c -> c.containsKey(day) && c.containsKey(other)))
                .toList();
    }

    /** Where a turn and drive on a day stands in the contrasts. */
    private record Place(Cell cell, String day) {}

    /** The diameters of all turns and drives on all days, with the repeatability they share. */
    private final class Fit {
        private final List<String> counted;
        private final List<Place> places = new ArrayList<>();
        private final List<SharedParts> shared = new ArrayList<>();
        private final RepeatabilityPosterior posterior;

        Fit(List<String> counted) {
            this.counted = counted;
            List<List<CircleSummary>> summaries = new ArrayList<>();
            circles.forEach((cell, byDay) -> byDay.forEach((day, driven) -> {
                places.add(new Place(cell, day));
                summaries.add(
                        driven.stream().map(c -> c.summary().orElseThrow()).toList());
            }));
            CircleData data = new CircleData(summaries);
            posterior = RepeatabilityPosterior.of(
                    data,
                    new HalfT(assumed(Conditions::assumedCircleRepeatability)),
                    new HalfT(assumed(Conditions::assumedReadingRepeatability)),
                    MachineEstimate.RESOLUTION);
            for (int k = 0; k < places.size(); k++) {
                Place place = places.get(k);
                List<CircleResult> driven = circles.get(place.cell()).get(place.day());
                double[] weights = posterior.typicalCircleWeights(summaries.get(k));
                SharedParts sum = SharedParts.NONE;
                for (int i = 0; i < weights.length; i++) {
                    sum = sum.plus(driven.get(i).shared(), weights[i]);
                }
                shared.add(sum);
            }
        }

        /** Each day against the mean of the others, the largest first. */
        List<Days.Against> against() {
            return counted.stream()
                    .map(day -> new Days.Against(
                            day,
                            contrast(day, cells(day)).estimate(),
                            cells(day).stream()
                                    .map(c -> new Days.InCell(
                                            c, contrast(day, List.of(c)).estimate()))
                                    .toList()))
                    .sorted(Comparator.comparingDouble(
                                    (Days.Against a) -> -a.difference().value())
                            .thenComparing(Days.Against::day))
                    .toList();
        }

        private List<Cell> cells(String day) {
            return circles.keySet().stream()
                    .filter(c -> circles.get(c).containsKey(day))
                    .toList();
        }

        private Contrast contrast(String day, List<Cell> over) {
            double[] c = new double[places.size()];
            for (int k = 0; k < c.length; k++) {
                Place place = places.get(k);
                if (over.contains(place.cell())) {
                    int others = circles.get(place.cell()).size() - 1;
                    c[k] = (place.day().equals(day) ? 1.0 : -1.0 / others) / over.size();
                }
            }
            return new Contrast(c, betweenDays(c));
        }

        /** Variance of what tape, eye and method put on a contrast, a day at a time (m²). */
        private double betweenDays(double[] c) {
            double variance = 0;
            for (String day : counted) {
                SharedParts sum = SharedParts.NONE;
                for (int k = 0; k < c.length; k++) {
                    if (places.get(k).day().equals(day)) {
                        sum = sum.plus(shared.get(k), c[k]);
                    }
                }
                variance += sum.variance();
            }
            return variance;
        }

        Finding finding(Days.Against against, List<String> others) {
            String day = against.day();
            List<Cell> over = cells(day);
            Contrast quantity = contrast(day, over);
            Judgement judgement = new Judgement(quantity, rule, DecisionRule.Asks.UNSIGNED);
            Map<String, String> subject = new LinkedHashMap<>();
            subject.put("machine", machine);
            subject.put("day", day);
            if (others.size() == 1) {
                subject.put("otherDay", others.get(0));
            }
            subject.put(
                    "days",
                    counted.stream()
                            .filter(d -> d.equals(day) || others.contains(d))
                            .collect(Collectors.joining("; ")));
            return Finding.judged(
                    Question.TESTERS,
                    subject,
                    judgement,
                    quantity,
                    rule,
                    List.of(),
                    wording,
                    sentence(
                            day,
                            others,
                            others.size() == counted.size() - 1,
                            over,
                            quantity.estimate(),
                            judgement.verdict()),
                    "",
                    next(judgement.verdict()));
        }

        /** A quantity Σ c_k·D_k over turns and drives on days. */
        private final class Contrast implements Quantity {
            private final double[] c;
            private final double fixedVariance;
            private final NormalMixture mixture;
            private final Estimate estimate;

            Contrast(double[] c, double fixedVariance) {
                this.c = c.clone();
                this.fixedVariance = fixedVariance;
                this.mixture = posterior.contrast(c, 0, fixedVariance);
                this.estimate = mixture.estimate(rule.confidence());
            }

            @Override
            public NormalMixture mixture() {
                return mixture;
            }

            @Override
            public Estimate estimate() {
                return estimate;
            }

            @Override
            public boolean restsOnAssumption() {
                return posterior.assumedShare(c) > MachineEstimate.MOSTLY;
            }

            @Override
            public NormalMixture mixtureIf(double sigmaB) {
                return posterior.contrastIf(sigmaB, c, 0, fixedVariance, 0);
            }

            /** The days are over: no further circle of them can be driven. */
            @Override
            public Outlook outlook(DecisionRule asked) {
                return new Outlook(Map.of(), 0, Outlook.Obstacle.NONE);
            }
        }
    }

    private String sentence(
            String day, List<String> others, boolean allOthers, List<Cell> over, Estimate d, Verdict verdict) {
        String margin = "the practical margin of " + wording.amount(rule.margin());
        boolean two = others.size() == 1;
        return machine + ": on " + day + " its circles were " + wording.amount(d)
                + (d.value() < 0 ? " smaller than " : " larger than ")
                + (two ? "on " + others.get(0) : "the mean of " + (allOthers ? "the other days" : and(others)))
                + (over.size() == 1
                        ? " (" + turnAndDrive(over.get(0))
                        : " (mean over " + over.size() + " turns and drives")
                + "), "
                + wording.towards(d)
                + "; that "
                + verdict.<String>fold(
                        w -> "is within " + margin + Wording.surely(w.probability()) + ": "
                                + (two
                                        ? "it does not matter on which of the two days it was measured."
                                        : "this day agrees with " + (allOthers ? "the others." : "those.")),
                        b -> "is beyond " + margin + Wording.surely(b.probability())
                                + ": it matters on which day it was measured.",
                        c -> "may lie on either side of " + margin + ": these days cannot tell yet.",
                        n -> "");
    }

    private static String and(List<String> several) {
        int last = several.size() - 1;
        return String.join(", ", several.subList(0, last)) + " and " + several.get(last);
    }

    private static String turnAndDrive(Cell cell) {
        return cell.turn().word() + " turn in " + Wording.condition(cell);
    }

    private String summary(Days.OverDays over) {
        int p = over.days().size();
        int cells = over.levels().size();
        return machine + ", " + p + " days, "
                + (cells == 1 ? turnAndDrive(over.levels().get(0).cell()) : cells + " turns and drives")
                + ": "
                + over.known()
                        .map(k -> "driven again on the same day a circle repeats to " + deviation(k.repeatability())
                                + " (repeatability s_r), on another day to " + deviation(k.reproducibility())
                                + " (reproducibility s_R), both standard deviations.")
                        .orElse(
                                "no turn and drive was driven twice on any day, so that repeatability and reproducibility cannot"
                                        + " be told apart.")
                + " A single day's figure for one turn and drive can be off by "
                + wording.amount(over.singleDay()) + " either way, with a probability of "
                + Figures.percent(rule.confidence()) + ", however well it was measured on that day."
                + (over.restsOnAssumption()
                        ? " This rests on the assumed circle repeatability, because so few days show little of how days scatter."
                        : "")
                + standingOut(over);
    }

    private String deviation(Estimate s) {
        return wording.amount(s) + ", " + wording.range(s);
    }

    /** Where Mandel's h or k points at a day by more than a tenth of the practical margin. */
    private String standingOut(Days.OverDays over) {
        StringBuilder text = new StringBuilder();
        for (String day : over.days()) {
            String off = over.levels().stream()
                    .filter(l -> liesOff(l.measured(), day))
                    .map(l -> turnAndDrive(l.cell()))
                    .collect(Collectors.joining(", "));
            if (!off.isEmpty()) {
                text.append(" " + day + " lies conspicuously far from the other days: " + off + " (Mandel's h).");
            }
            Optional.ofNullable(over.scatter().get(day))
                    .filter(Interlaboratory.Scatter::standsOut)
                    .flatMap(k -> widest(over, day))
                    .ifPresent(cell -> text.append(" On " + day
                            + " circles scatter conspicuously more than on the other days, most of all "
                            + turnAndDrive(cell)
                            + " (Mandel's k): look there for a circle driven off full lock or a misread tape."));
        }
        return text.toString();
    }

    private boolean liesOff(Interlaboratory level, String day) {
        return IntStream.range(0, level.groups().size())
                .anyMatch(i -> level.groups().get(i).label().equals(day)
                        && level.standsOutByH(i, Testers.ALPHA)
                        && Math.abs(level.groups().get(i).mean() - level.mean()) > WORTH_NAMING * rule.margin());
    }

    private Optional<Cell> widest(Days.OverDays over, String day) {
        Optional<Cell> cell = Optional.empty();
        double most = WORTH_NAMING * rule.margin();
        for (Days.Level level : over.levels()) {
            for (Interlaboratory.Group group : level.measured().groups()) {
                OptionalDouble s = group.standardDeviation();
                if (group.label().equals(day) && s.orElse(0) > most) {
                    most = s.getAsDouble();
                    cell = Optional.of(level.cell());
                }
            }
        }
        return cell;
    }

    private static String next(Verdict verdict) {
        return verdict.fold(
                w -> "Any of these days may be quoted; name it with the figure.",
                b ->
                        "Say with every figure of this machine on which day it was measured. Look at what was different: ground, grass,"
                                + " tyre pressures, steering stops, who drove and who measured. Compare machines only on the same day.",
                c ->
                        "Measure the machine on a further day, with three circles in each turn and drive, and compare again.",
                n -> "");
    }

    private Finding notPossible() {
        String missing = "a turn and drive that was driven and measured on two of the days";
        Map<String, String> subject = new LinkedHashMap<>();
        subject.put("machine", machine);
        subject.put("days", days.stream().map(Days.Day::label).collect(Collectors.joining("; ")));
        return Finding.notPossible(
                Question.TESTERS,
                subject,
                List.of(missing),
                rule,
                List.of(),
                true,
                machine + ": the days cannot be compared yet. Missing: " + missing + ".",
                "Drive the same turn and drive again on another day, then compare.");
    }
}
