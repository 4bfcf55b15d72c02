package org.fairturn.web;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.finding.Archive;
import org.fairturn.finding.PlanWish;
import org.fairturn.finding.PlannedQuestion;
import org.fairturn.finding.Wording;
import org.fairturn.report.PlanReport;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * What a trial is planned for, as an address says it.
 *
 * @param machines of the trial that is planned; none where they are typed in
 * @param questions what may be asked
 * @param main fields everybody looks at
 * @param further fields for the unusual
 * @param openFurther whether one of those says something unusual or has to be mended
 * @param sent what the address says, name by name, to be sent on
 * @param wish empty where something has to be mended or nothing was asked yet
 * @param seed of the run order
 * @param faults what has to be mended
 */
public record PlanForm(
        List<Box> machines,
        List<Box> questions,
        List<Field> main,
        List<Field> further,
        boolean openFurther,
        List<Map.Entry<String, String>> sent,
        Optional<PlanWish> wish,
        long seed,
        List<Page.Fault> faults) {
    private static final int MOST_MACHINES = 20;
    private static final String BOTH = "both";
    private static final List<String> NAMES = List.of(
            "machines",
            "machine",
            "ask",
            "drives",
            "margin",
            "find",
            "circle-scatter",
            "reading-scatter",
            "circle-minutes",
            "reading-minutes",
            "minutes",
            "chance",
            "confidence",
            "drive-minutes",
            "stated-uncertainty",
            "unit",
            "seed");

    private static final Field MACHINES =
            Field.text("machines", "Machines", "Their names, with commas between them, such as Alder 22, Basalt 25.");
    private static final Field DRIVES =
            Field.choice("drives", "Drive", "What 4WD costs always takes both.", Drive.TWO_WHEEL.word(), "4WD", BOTH);
    private static final Field MARGIN = Field.text(
            "margin",
            "Practical margin",
            "The smallest difference in uncut diameter that matters to the customer. Agree on it before anyone mows.");
    private static final Field CIRCLE_MINUTES =
            Field.text("circle-minutes", "Minutes a circle", "To mow and mark it. 5 is usual.");
    private static final Field READING_MINUTES =
            Field.text("reading-minutes", "Minutes a reading", "To lay the tape once. 2 is usual.");
    private static final Field MINUTES = Field.text(
            "minutes", "Time there is, minutes", "Such as 60: what an hour can show. Empty: as long as it takes.");
    private static final Field CHANCE = Field.text("chance", "Chance wanted, %", "Of the right verdict. Empty: 90.");
    private static final Field CONFIDENCE =
            Field.text("confidence", "Confidence, %", "What a verdict has to reach. Empty: 95.");
    private static final Field DRIVE_MINUTES =
            Field.text("drive-minutes", "Minutes to change the drive", "Of one machine. Empty: 3.");
    private static final Field STATED = Field.text(
            "stated-uncertainty",
            "Stated uncertainty",
            "Standard uncertainty of the claim or reference compared with. Empty: a claim counts as one circle, a"
                    + " reference as exact.");
    private static final Field UNIT = Field.choice(
            "unit",
            "Length unit",
            "Of every number without one, and the one shown first.",
            "mm",
            "cm",
            "m",
            "in",
            "ft");
    private static final Field SEED = Field.text(
            "seed",
            "Seed of the lot",
            "The run order is drawn by lot; the same seed gives the same order. Empty: one that machines and drives make.");

    /**
     * Keeps its own copy of each list.
     *
     * @param machines of the trial that is planned; none where they are typed in
     * @param questions what may be asked
     * @param main fields everybody looks at
     * @param further fields for the unusual
     * @param openFurther whether one of those says something unusual or has to be mended
     * @param sent what the address says, name by name, to be sent on
     * @param wish empty where something has to be mended or nothing was asked yet
     * @param seed of the run order
     * @param faults what has to be mended
     */
    public PlanForm {
        machines = List.copyOf(machines);
        questions = List.copyOf(questions);
        main = List.copyOf(main);
        further = List.copyOf(further);
        sent = List.copyOf(sent);
        faults = List.copyOf(faults);
    }

    /**
     * Something that can be ticked.
     *
     * @param id in the page
     * @param name what it is sent as
     * @param value what is sent where it is ticked
     * @param label what stands beside it
     * @param ticked whether it is
     */
    public record Box(String id, String name, String value, String label, boolean ticked) {}

    /**
     * Reads what was sent.
     *
     * @param trial that circles are planned for; empty for one that is not there yet
     */
    static PlanForm of(Function<String, List<String>> sent, Optional<Trial> trial, Optional<Archive> past) {
        return new Reading(sent, trial, past).form();
    }

    /** The address without its page. */
    String query() {
        return sent.stream()
                .map(one -> one.getKey() + "=" + URLEncoder.encode(one.getValue(), StandardCharsets.UTF_8))
                .collect(Collectors.joining("&", "?", ""));
    }

    /** What a field says before anybody typed. */
    private static String usual(String name) {
        return switch (name) {
            case "margin" -> "50 mm";
            case "circle-minutes" -> "5";
            case "reading-minutes" -> "2";
            case "drive-minutes" -> "3";
            case "drives" -> Drive.TWO_WHEEL.word();
            case "chance" -> "90";
            case "confidence" -> "95";
            case "unit" -> "mm";
            default -> "";
        };
    }

    private static final class Reading {
        private final TypedQuery typed;
        private final Optional<Trial> trial;
        private final Optional<Archive> past;
        private final List<Map.Entry<String, String>> sent = new ArrayList<>();
        private final LengthUnit unit;
        /** What was typed of it, once the wish is read. */
        private Optional<Long> seed = Optional.empty();

        Reading(Function<String, List<String>> values, Optional<Trial> trial, Optional<Archive> past) {
            this.typed = new TypedQuery(values);
            this.trial = trial;
            this.past = past;
            for (String name : NAMES) {
                typed.all(name).stream()
                        .filter(value -> !value.isEmpty())
                        .forEach(value -> sent.add(Map.entry(name, value)));
            }
            this.unit = trial.map(t -> t.conditions().lengthUnit())
                    .orElseGet(() -> LengthUnit.named(typed.text("unit", "mm")).orElse(LengthUnit.MILLIMETRE));
        }

        PlanForm form() {
            boolean asked = !sent.isEmpty();
            List<Machine> planned = machines(asked);
            Set<PlannedQuestion> questions = questions(planned.size());
            // with machines still to be named, nothing ticked stands for what is usual
            Set<PlannedQuestion> ticked = asked || trial.isPresent() ? questions : Set.of();
            Set<Drive> drives = drives(questions);
            Conditions usual = conditions();
            Conditions conditions = past.map(p -> p.taughtTo(usual, drives)).orElse(usual);
            List<Field> main = main(conditions);
            List<Field> further = further();
            Optional<PlanWish> wish = asked ? wish(conditions, planned, questions, drives, main) : Optional.empty();
            List<Page.Fault> faults = typed.faults();
            return new PlanForm(
                    machineBoxes(planned),
                    Stream.of(PlannedQuestion.values())
                            .map(q -> new Box("ask-" + q.word(), "ask", q.word(), q.title(), ticked.contains(q)))
                            .toList(),
                    shown(main, faults),
                    shown(further, faults),
                    further.stream()
                            .anyMatch(field -> !typed.text(field.name()).isEmpty()
                                    && !typed.text(field.name()).equals(usual(field.name()))),
                    sent,
                    faults.isEmpty() ? wish : Optional.empty(),
                    wish.map(w -> seed.orElseGet(() -> PlanReport.seed(PlanReport.words(w))))
                            .orElse(0L),
                    faults);
        }

        private List<Field> shown(List<Field> fields, List<Page.Fault> faults) {
            return fields.stream()
                    .map(field -> field.with(typed.text(field.name(), usual(field.name())))
                            .with(faults))
                    .toList();
        }

        private List<Machine> machines(boolean asked) {
            if (trial.isPresent()) {
                List<Machine> known = trial.get().machines();
                List<String> ticked = typed.all("machine");
                ticked.stream()
                        .filter(id -> known.stream().noneMatch(m -> m.id().equals(id)))
                        .forEach(id -> typed.fault(
                                "",
                                "Machines: read \"" + id
                                        + "\"; accepted: a machine of this trial. It may have been renamed since this address"
                                        + " was made."));
                return ticked.isEmpty()
                        ? known
                        : known.stream().filter(m -> ticked.contains(m.id())).toList();
            }
            Set<String> ids = Stream.of(typed.text("machines").split(","))
                    .map(String::strip)
                    .filter(id -> !id.isEmpty())
                    .collect(Collectors.toCollection(LinkedHashSet::new));
            if (asked && (ids.isEmpty() || ids.size() > MOST_MACHINES)) {
                typed.fault(
                        MACHINES,
                        (ids.isEmpty() ? "this is empty" : "read " + ids.size() + " machines")
                                + "; accepted: the names of 1 to " + MOST_MACHINES
                                + " machines with commas between them, such as Alder 22, Basalt 25.");
                return List.of();
            }
            return ids.stream().map(Machine::named).toList();
        }

        private List<Box> machineBoxes(List<Machine> planned) {
            return trial.map(Trial::machines).orElse(List.of()).stream()
                    .map(m -> new Box("machine-" + Slug.of(m.id()), "machine", m.id(), m.id(), planned.contains(m)))
                    .toList();
        }

        private Set<PlannedQuestion> questions(int machines) {
            Set<PlannedQuestion> questions = EnumSet.noneOf(PlannedQuestion.class);
            for (String word : typed.all("ask")) {
                Stream.of(PlannedQuestion.values())
                        .filter(q -> q.word().equalsIgnoreCase(word))
                        .findFirst()
                        .ifPresentOrElse(
                                questions::add,
                                () -> typed.fault(
                                        "",
                                        "What the trial is to answer: read \"" + word + "\"; accepted: "
                                                + Stream.of(PlannedQuestion.values())
                                                        .map(PlannedQuestion::word)
                                                        .collect(Collectors.joining(", "))
                                                + "."));
            }
            return questions.isEmpty() ? PlannedQuestion.usual(machines) : questions;
        }

        private Set<Drive> drives(Set<PlannedQuestion> questions) {
            String word = typed.text("drives", Drive.TWO_WHEEL.word());
            if (questions.contains(PlannedQuestion.DRIVE) || word.equals(BOTH)) {
                return EnumSet.allOf(Drive.class);
            }
            return EnumSet.of(typed.word(DRIVES, Drive.values(), Drive::word).orElse(Drive.TWO_WHEEL));
        }

        private Conditions conditions() {
            if (trial.isPresent()) {
                return trial.get().conditions();
            }
            typed.word(UNIT, LengthUnit.values(), LengthUnit::symbol);
            return Conditions.planned(
                    "",
                    LocalDate.EPOCH,
                    unit,
                    length(MARGIN).orElse(Conditions.DEFAULT_PRACTICAL_MARGIN),
                    typed.number(CONFIDENCE, 50.1, 99.99, "a percentage from 50.1 to 99.99")
                                    .orElse(95.0)
                            / 100);
        }

        private Optional<Length> length(Field field) {
            return typed.length(field, unit, 0.0001, 10, "a length from 0.1 mm to 10 m");
        }

        private Field find(Conditions conditions) {
            return Field.text(
                    "find",
                    "Difference to find",
                    "More than the practical margin. Empty: twice the margin, "
                            + new Wording(unit)
                                    .amount(2 * conditions.practicalMargin().metres())
                            + ".");
        }

        private Field scatter(String name, String label, Length expected, boolean learnt) {
            return Field.text(
                    name,
                    label,
                    "Standard deviation. Empty: " + new Wording(unit).amount(expected.metres())
                            + (learnt ? ", as past trials showed." : ", as the analysis assumes."));
        }

        private List<Field> main(Conditions conditions) {
            List<Field> fields = new ArrayList<>();
            if (trial.isEmpty()) {
                fields.add(MACHINES);
                fields.add(MARGIN);
            }
            fields.add(DRIVES);
            fields.add(find(conditions));
            fields.add(scatter(
                    "circle-scatter",
                    "Expected scatter of circles driven alike",
                    conditions.expectedCircleScatter(),
                    conditions.assumption().circle().isPresent()));
            fields.add(scatter(
                    "reading-scatter",
                    "Expected scatter of readings of one circle",
                    conditions.expectedReadingScatter(),
                    conditions.assumption().reading().isPresent()));
            fields.add(CIRCLE_MINUTES);
            fields.add(READING_MINUTES);
            fields.add(MINUTES);
            return fields;
        }

        private List<Field> further() {
            return trial.isPresent()
                    ? List.of(CHANCE, DRIVE_MINUTES, STATED, SEED)
                    : List.of(CHANCE, CONFIDENCE, DRIVE_MINUTES, STATED, UNIT, SEED);
        }

        private Optional<PlanWish> wish(
                Conditions conditions,
                List<Machine> planned,
                Set<PlannedQuestion> questions,
                Set<Drive> drives,
                List<Field> main) {
            Field find = named(main, "find");
            Optional<Double> minutes = minutes(MINUTES);
            PlanWish alone = new PlanWish(
                    conditions,
                    planned,
                    questions,
                    drives,
                    length(named(main, "circle-scatter"))
                            .orElse(conditions.expectedCircleScatter())
                            .metres(),
                    length(named(main, "reading-scatter"))
                            .orElse(conditions.expectedReadingScatter())
                            .metres(),
                    length(find)
                            .map(Length::metres)
                            .orElse(2 * conditions.practicalMargin().metres()),
                    length(STATED)
                            .map(l -> OptionalDouble.of(l.metres()))
                            .orElseGet(
                                    () -> trial.map(PlanWish::statedUncertainty).orElse(OptionalDouble.empty())),
                    new PlanWish.Pace(
                            minutes(CIRCLE_MINUTES).orElse(PlanWish.Pace.USUAL.circle()),
                            minutes(READING_MINUTES).orElse(PlanWish.Pace.USUAL.reading()),
                            minutes(DRIVE_MINUTES).orElse(PlanWish.Pace.USUAL.driveChange())),
                    typed.number(CHANCE, 50, 99.5, "a percentage from 50 to 99.5")
                                    .orElse(90.0)
                            / 100,
                    minutes.map(OptionalDouble::of).orElse(OptionalDouble.empty()));
            PlanWish wish = trial.map(alone::against).orElse(alone);
            seed = typed.whole(SEED);
            if (typed.faults().isEmpty()) {
                wish.impossible()
                        .ifPresent(why -> typed.fault(
                                wish.questions().contains(PlannedQuestion.SIDE_BY_SIDE) && planned.size() < 2
                                        ? ""
                                        : find.id(),
                                why.substring(0, 1).toUpperCase(Locale.ROOT) + why.substring(1)));
            }
            return Optional.of(wish);
        }

        private Optional<Double> minutes(Field field) {
            return typed.number(field, 0.1, 10_000, "minutes, from 0.1 to 10000");
        }

        private static Field named(List<Field> fields, String name) {
            return fields.stream()
                    .filter(field -> field.name().equals(name))
                    .findFirst()
                    .orElseThrow();
        }
    }
}
