package org.fairturn.finding;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.Estimate;

/**
 * What would overturn a verdict, whatever the question: the trial is analysed again without each circle, without each reading of circles that have
 * more, with the assumed repeatability halved and doubled, and with each deck at either end of its range.
 *
 * @param standsWithoutAnyCircle whichever single circle is left out
 * @param standsWithoutAnyReading whichever single reading is left out, of circles with two or more
 * @param fallsWithout the circles and readings it falls without, such as {@code circle C3} or {@code readings.csv, row 10}
 * @param standsWithHalvedRepeatability with half the assumed repeatabilities
 * @param standsWithDoubledRepeatability with twice the assumed repeatabilities
 * @param standsWithDeckAtEitherEnd with the deck offset two standard uncertainties to either side
 * @param sentence all of that in a line
 */
public record Robustness(
        boolean standsWithoutAnyCircle,
        boolean standsWithoutAnyReading,
        List<String> fallsWithout,
        boolean standsWithHalvedRepeatability,
        boolean standsWithDoubledRepeatability,
        boolean standsWithDeckAtEitherEnd,
        String sentence) {
    /** The range of a deck offset, in standard uncertainties to either side. */
    private static final double DECK_RANGE = 2;
    /** What moves a finding by less than this (m) has no part in it. */
    private static final double UNMOVED = 1e-9;

    /**
     * Keeps its own copy of the list.
     *
     * @param standsWithoutAnyCircle whichever single circle is left out
     * @param standsWithoutAnyReading whichever single reading is left out, of circles with two or more
     * @param fallsWithout the circles and readings it falls without, such as {@code circle C3} or {@code readings.csv, row
     *     10}
     * @param standsWithHalvedRepeatability with half the assumed repeatabilities
     * @param standsWithDoubledRepeatability with twice the assumed repeatabilities
     * @param standsWithDeckAtEitherEnd with the deck offset two standard uncertainties to either side
     * @param sentence all of that in a line
     */
    public Robustness {
        fallsWithout = List.copyOf(fallsWithout);
    }

    /** What kind of change to a trial. */
    enum Kind {
        /** None: what the changes are held against to see whether they do anything at all. */
        UNCHANGED,
        CIRCLE,
        READING,
        HALVED,
        DOUBLED,
        DECK
    }

    /**
     * One change to a trial.
     *
     * @param what the circle or reading left out, or how the deck was moved
     * @param machine the only machine it touches; empty where it touches all
     * @param answers what is found with it
     */
    record Change(Kind kind, String what, Optional<String> machine, Supplier<List<Finding>> answers) {
        /** A change whose answers are worked out for verdicts only. */
        static Change asking(Kind kind, String what, Optional<String> machine, Supplier<Asked> asked) {
            return new Change(kind, what, machine, () -> Answers.of(asked.get()).findings());
        }

        boolean touches(Finding finding) {
            Map<String, String> subject = finding.subject();
            return machine.isEmpty()
                    || finding.question() == Question.COMPLAINT // its reference may be another machine
                    || !subject.containsKey("machine")
                    || machine.get().equals(subject.get("machine"))
                    || machine.get().equals(subject.get("other"));
        }
    }

    /** What a finding is about, the same however often it is asked. */
    private record About(Question question, Map<String, String> subject) {}

    /** Where the answer to each finding is kept. */
    private static final class Places {
        private final Map<About, Integer> places = new HashMap<>();

        /** The places of what the decided findings are about, counted either way round. */
        Places(List<Finding> findings) {
            findings.stream().filter(f -> f.verdict().decided()).forEach(f -> {
                places.putIfAbsent(new About(f.question(), f.subject()), places.size());
                places.putIfAbsent(new About(f.question(), Finding.reversed(f.subject())), places.size());
            });
        }

        boolean hold(Question question, Map<String, String> subject) {
            return places.containsKey(new About(question, subject));
        }

        int of(Question question, Map<String, String> subject) {
            return places.getOrDefault(new About(question, subject), -1);
        }

        int size() {
            return places.size();
        }
    }

    /** A finding, and where its answers are. */
    private record Tried(Finding finding, int place, int reversed) {
        static Tried of(Finding finding, Places places) {
            return new Tried(
                    finding,
                    places.of(finding.question(), finding.subject()),
                    places.of(finding.question(), Finding.reversed(finding.subject())));
        }
    }

    /** A change and what the questions answer then, by place. */
    private static final class Outcome {
        private final Change change;
        private final Finding[] findings;

        private Outcome(Change change, Finding[] findings) {
            this.change = change;
            this.findings = findings;
        }

        Change change() {
            return change;
        }

        static Outcome of(Change change, Places places) {
            Finding[] findings = new Finding[places.size()];
            for (Finding finding : change.answers().get()) {
                int place = places.of(finding.question(), finding.subject());
                if (place >= 0 && findings[place] == null) {
                    findings[place] = finding;
                }
            }
            return new Outcome(change, findings);
        }

        /** The answer to the question of a finding; empty where it is not even asked any more. */
        Optional<Finding> to(Tried tried) {
            return Optional.ofNullable(
                    findings[tried.place()] != null ? findings[tried.place()] : findings[tried.reversed()]);
        }

        boolean overturns(Tried tried) {
            return change.touches(tried.finding())
                    && to(tried)
                            .map(f -> !tried.finding().saysTheSameAs(f, findings[tried.place()] == null))
                            .orElse(true);
        }

        /** Whether the answer is any other than that of another outcome. */
        boolean differsFrom(Outcome other, Tried tried) {
            Optional<Estimate> here = to(tried).flatMap(Finding::estimate);
            Optional<Estimate> there = other.to(tried).flatMap(Finding::estimate);
            return here.isEmpty()
                    || there.isEmpty()
                    || !(Math.abs(here.get().value() - there.get().value()) < UNMOVED)
                    || !(Math.abs(here.get().standardUncertainty() - there.get().standardUncertainty()) < UNMOVED);
        }
    }

    /** The findings, each decided one with what would overturn it. */
    static List<Finding> of(
            List<Finding> findings, Trial trial, List<CircleResult> circles, List<MachineEstimate> machines) {
        Set<Question> decided = findings.stream()
                .filter(f -> f.verdict().decided())
                .map(Finding::question)
                .collect(Collectors.toCollection(() -> EnumSet.noneOf(Question.class)));
        return of(findings, places -> new Changes(trial, circles, machines, decided, places).all());
    }

    /**
     * The same for any findings.
     *
     * @param changes what is tried, the first of them changing nothing
     */
    static List<Finding> of(List<Finding> findings, Supplier<List<Change>> changes) {
        return of(findings, places -> changes.get());
    }

    private static List<Finding> of(List<Finding> findings, Function<Places, List<Change>> changes) {
        if (findings.stream().noneMatch(f -> f.verdict().decided())) {
            return findings;
        }
        Places places = new Places(findings);
        // side by side, since each is an analysis of its own; the order stays
        List<Outcome> outcomes = changes.apply(places).parallelStream()
                .map(change -> Outcome.of(change, places))
                .toList();
        return findings.stream()
                .map(f -> f.verdict().decided() ? f.with(of(Tried.of(f, places), outcomes)) : f)
                .toList();
    }

    /** Every change that is tried, for verdicts only; what a change leaves alone is worked out once. */
    private static final class Changes {
        private final Trial trial;
        private final List<CircleResult> circles;
        private final List<MachineEstimate> machines;
        private final List<MachineEstimate> unchanged;
        private final Set<Question> questions;
        private final Places places;
        private final Map<Asked.ClaimReading, Boolean> wantedReadings = new ConcurrentHashMap<>();

        Changes(
                Trial trial,
                List<CircleResult> circles,
                List<MachineEstimate> machines,
                Set<Question> questions,
                Places places) {
            this.questions = questions;
            this.places = places;
            this.trial = trial;
            this.circles = circles;
            this.machines = machines;
            this.unchanged = machines.stream()
                    .map(m -> m.forVerdicts(m.machine(), trial.conditions(), m.circles())
                            .orElseThrow())
                    .toList();
        }

        List<Change> all() {
            List<Change> changes = new ArrayList<>();
            changes.add(Change.asking(
                    Kind.UNCHANGED, "", Optional.empty(), () -> asked(trial, circles, unchanged, Optional.empty())));
            for (int i = 0; i < machines.size(); i++) {
                leftOut(i, changes);
                deckMoved(i, 1, "left", changes);
                deckMoved(i, -1, "right", changes);
            }
            changes.add(Change.asking(Kind.HALVED, "", Optional.empty(), () -> assuming(0.5)));
            changes.add(Change.asking(Kind.DOUBLED, "", Optional.empty(), () -> assuming(2)));
            return changes;
        }

        private Asked asked(
                Trial trial, List<CircleResult> circles, List<MachineEstimate> machines, Optional<String> about) {
            return new Asked(
                    trial,
                    circles,
                    machines,
                    questions,
                    id -> about.map(id::equals).orElse(true),
                    places::hold,
                    wantedReadings,
                    /* verdictsOnly= */ true);
        }

        private void deckMoved(int i, int side, String words, List<Change> changes) {
            Machine machine = machines.get(i).machine();
            Optional<String> only = Optional.of(machine.id());
            changes.add(Change.asking(Kind.DECK, words, only, () -> {
                Machine moved = DeckModel.movedLeft(machine, side * DECK_RANGE);
                return asked(
                        trial.withMachine(moved),
                        circles,
                        with(i, Optional.of(unchanged.get(i).forVerdicts(moved))),
                        only);
            }));
        }

        private void leftOut(int i, List<Change> changes) {
            Optional<String> only = Optional.of(machines.get(i).machine().id());
            for (List<CircleResult> cell : machines.get(i).circles().values()) {
                for (CircleResult circle : cell) {
                    String id = "circle " + circle.circle().id();
                    changes.add(Change.asking(Kind.CIRCLE, id, only, () -> replaced(i, circle, Optional.empty())));
                    if (circle.observations().size() > 1) {
                        for (Observation reading : circle.observations()) {
                            changes.add(Change.asking(
                                    Kind.READING,
                                    reading.kind().equals(Observations.PERIMETER) ? "points of " + id : reading.where(),
                                    only,
                                    () -> replaced(i, circle, Optional.of(circle.without(reading)))));
                        }
                    }
                }
            }
        }

        private Asked assuming(double factor) {
            Trial changed = trial.withConditions(trial.conditions().withAssumedRepeatability(factor));
            return asked(
                    changed,
                    circles,
                    machines.stream()
                            .map(m -> m.forVerdicts(m.machine(), changed.conditions(), m.circles()))
                            .flatMap(Optional::stream)
                            .toList(),
                    Optional.empty());
        }

        /** With one circle of one machine replaced or left out. */
        private Asked replaced(int i, CircleResult out, Optional<CircleResult> in) {
            Map<Cell, List<CircleResult>> byCell =
                    new LinkedHashMap<>(machines.get(i).circles());
            byCell.computeIfPresent(out.circle().cell(), (cell, all) -> {
                List<CircleResult> rest = replaced(all, out, in);
                return rest.isEmpty() ? null : rest;
            });
            Machine machine = machines.get(i).machine();
            return asked(
                    trial,
                    replaced(circles, out, in),
                    with(i, machines.get(i).forVerdicts(machine, trial.conditions(), byCell)),
                    Optional.of(machine.id()));
        }

        private static List<CircleResult> replaced(
                List<CircleResult> all, CircleResult out, Optional<CircleResult> in) {
            List<CircleResult> rest = new ArrayList<>();
            for (CircleResult circle : all) {
                if (!circle.circle().id().equals(out.circle().id())) {
                    rest.add(circle);
                } else {
                    in.ifPresent(rest::add);
                }
            }
            return rest;
        }

        private List<MachineEstimate> with(int i, Optional<MachineEstimate> changed) {
            List<MachineEstimate> all = new ArrayList<>(unchanged);
            all.remove(i);
            changed.ifPresent(m -> all.add(i, m));
            return all;
        }
    }

    private static Robustness of(Tried finding, List<Outcome> outcomes) {
        List<Outcome> fatal =
                outcomes.stream().filter(o -> o.overturns(finding)).toList();
        return new Robustness(
                of(Kind.CIRCLE, fatal).isEmpty(),
                of(Kind.READING, fatal).isEmpty(),
                Stream.of(Kind.CIRCLE, Kind.READING)
                        .flatMap(kind -> of(kind, fatal).stream())
                        .toList(),
                of(Kind.HALVED, fatal).isEmpty(),
                of(Kind.DOUBLED, fatal).isEmpty(),
                of(Kind.DECK, fatal).isEmpty(),
                fatal.isEmpty() ? stands(finding, outcomes) : falls(finding, fatal));
    }

    private static List<String> of(Kind kind, List<Outcome> outcomes) {
        return outcomes.stream()
                .filter(o -> o.change().kind() == kind)
                .map(o -> o.change().what())
                .toList();
    }

    /** Only what has a part in the finding is said to have been tried. */
    private static String stands(Tried finding, List<Outcome> outcomes) {
        List<String> tried = new ArrayList<>();
        boolean readings = tells(Kind.READING, finding, outcomes);
        if (readings || tells(Kind.CIRCLE, finding, outcomes)) {
            tried.add("whatever single circle " + (readings ? "or reading " : "") + "is left out");
        }
        if (tells(Kind.HALVED, finding, outcomes) || tells(Kind.DOUBLED, finding, outcomes)) {
            tried.add("with the assumed repeatability halved or doubled");
        }
        if (tells(Kind.DECK, finding, outcomes)) {
            tried.add("with the deck offset at either end of its range");
        }
        int last = tried.size() - 1;
        return last < 0
                ? "Rests on the stated figures alone: no circle, no reading and no assumed repeatability has a part in it."
                : "Stands "
                        + (last == 0
                                ? tried.get(0)
                                : String.join(", ", tried.subList(0, last)) + ", and " + tried.get(last))
                        + ".";
    }

    /** Whether a kind of change moves the finding at all. */
    private static boolean tells(Kind kind, Tried finding, List<Outcome> outcomes) {
        Outcome unchanged = outcomes.get(0);
        return outcomes.stream()
                .anyMatch(o -> o.change().kind() == kind
                        && o.change().touches(finding.finding())
                        && o.differsFrom(unchanged, finding));
    }

    private static String falls(Tried finding, List<Outcome> fatal) {
        List<String> ways = new ArrayList<>();
        List<String> out = Stream.of(Kind.CIRCLE, Kind.READING)
                .flatMap(kind -> of(kind, fatal).stream())
                .toList();
        if (out.size() == 1) {
            ways.add("if " + spoken(out.get(0)) + " left out");
        } else if (out.size() > 1) {
            ways.add("if one of these is left out: " + String.join("; ", out));
        }
        if (!of(Kind.HALVED, fatal).isEmpty()) {
            ways.add("with the assumed repeatability halved");
        }
        if (!of(Kind.DOUBLED, fatal).isEmpty()) {
            ways.add("with the assumed repeatability doubled");
        }
        for (String side : new LinkedHashSet<>(of(Kind.DECK, fatal))) {
            ways.add("with the deck offset two standard uncertainties further " + side);
        }
        Set<String> then = new LinkedHashSet<>();
        fatal.forEach(o -> then.add(o.to(finding).map(f -> said(f.verdict())).orElse("not possible")));
        return "Falls " + String.join(", or ", ways) + " (then: " + String.join(" or ", then)
                + "). Otherwise it stands.";
    }

    private static String spoken(String what) {
        return what.startsWith("circle")
                ? what + " is"
                : what.startsWith("points") ? "the " + what + " are" : what + " is";
    }

    private static String said(Verdict verdict) {
        return switch (verdict.word()) {
            case "within" -> "within the margin";
            case "beyond" -> "beyond the margin";
            case "cannotTell" -> "cannot tell yet";
            case "notPossible" -> "not possible";
            default -> verdict.word();
        };
    }
}
