package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;

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
     * One change to what was analysed.
     *
     * @param <T> what is changed
     * @param what the circle or reading left out, or how the deck was moved
     * @param machine the only machine it touches; empty where it touches all
     * @param changed what there is then
     */
    record Change<T>(Kind kind, String what, Optional<String> machine, Supplier<T> changed) {
        boolean touches(Answer<?> answer) {
            return machine.isEmpty()
                    || answer.machines().isEmpty()
                    || answer.machines().contains(machine.get());
        }
    }

    /** What a change makes of one answer; no answer where it cannot be asked any more. */
    private record Outcome(Kind kind, String what, Optional<Answer.Then> then) {}

    /** The findings, each decided one with what would overturn it. */
    static List<Finding> of(List<Answer<Asked>> answers, Asked asked) {
        return of(answers, () -> new Changes(asked).all());
    }

    /**
     * The same for answers about anything.
     *
     * @param changes what is tried, the first of them changing nothing
     */
    static <T> List<Finding> of(List<Answer<T>> answers, Supplier<List<Change<T>>> changes) {
        List<Answer<T>> decided =
                answers.stream().filter(a -> a.finding().verdict().decided()).toList();
        if (decided.isEmpty()) {
            return Answer.findings(answers);
        }
        List<Change<T>> all = changes.get();
        // side by side, since none waits for another; the order stays
        List<List<Optional<Outcome>>> outcomes =
                all.parallelStream().map(change -> outcomes(change, decided)).toList();
        List<Finding> findings = new ArrayList<>();
        int place = 0;
        for (Answer<T> answer : answers) {
            Finding finding = answer.finding();
            if (finding.verdict().decided()) {
                List<Outcome> here = new ArrayList<>();
                for (List<Optional<Outcome>> outcome : outcomes) {
                    outcome.get(place).ifPresent(here::add);
                }
                place++;
                finding = finding.with(of(finding, here));
            }
            findings.add(finding);
        }
        return findings;
    }

    /** What one change makes of each answer; empty for those it does not touch. */
    private static <T> List<Optional<Outcome>> outcomes(Change<T> change, List<Answer<T>> answers) {
        T changed = change.changed().get();
        return answers.stream()
                .map(answer -> change.touches(answer)
                        ? Optional.of(new Outcome(
                                change.kind(), change.what(), answer.again().apply(changed)))
                        : Optional.<Outcome>empty())
                .toList();
    }

    /** Every change that is tried; what a change leaves alone is worked out once. */
    private static final class Changes {
        private final Asked asked;
        private final List<MachineEstimate> unchanged;

        Changes(Asked asked) {
            this.asked = asked;
            this.unchanged = asked.machines().stream()
                    .flatMap(m -> m.near(asked.trial().conditions(), m.circles()).stream())
                    .toList();
        }

        List<Change<Asked>> all() {
            List<Change<Asked>> changes = new ArrayList<>();
            changes.add(new Change<>(
                    Kind.UNCHANGED, "", Optional.empty(), () -> new Asked(asked.trial(), asked.circles(), unchanged)));
            for (int i = 0; i < unchanged.size(); i++) {
                leftOut(i, changes);
                deckMoved(i, 1, "left", changes);
                deckMoved(i, -1, "right", changes);
            }
            changes.add(new Change<>(Kind.HALVED, "", Optional.empty(), () -> assuming(0.5)));
            changes.add(new Change<>(Kind.DOUBLED, "", Optional.empty(), () -> assuming(2)));
            return changes;
        }

        private void deckMoved(int i, int side, String words, List<Change<Asked>> changes) {
            MachineEstimate machine = unchanged.get(i);
            changes.add(new Change<>(
                    Kind.DECK, words, Optional.of(machine.machine().id()), () -> {
                        Machine moved = DeckModel.movedLeft(machine.machine(), side * DECK_RANGE);
                        return new Asked(
                                asked.trial().withMachine(moved),
                                asked.circles(),
                                with(i, Optional.of(machine.with(moved))));
                    }));
        }

        private void leftOut(int i, List<Change<Asked>> changes) {
            Optional<String> only = Optional.of(unchanged.get(i).machine().id());
            for (List<CircleResult> cell : unchanged.get(i).circles().values()) {
                for (CircleResult circle : cell) {
                    String id = "circle " + circle.circle().id();
                    changes.add(new Change<>(Kind.CIRCLE, id, only, () -> replaced(i, circle, Optional.empty())));
                    if (circle.observations().size() > 1) {
                        for (Observation reading : circle.observations()) {
                            changes.add(new Change<>(
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
            Trial changed =
                    asked.trial().withConditions(asked.trial().conditions().withAssumedRepeatability(factor));
            return new Asked(
                    changed,
                    asked.circles(),
                    asked.machines().stream()
                            .flatMap(m -> m.near(changed.conditions(), m.circles()).stream())
                            .toList());
        }

        /** With one circle of one machine replaced or left out. */
        private Asked replaced(int i, CircleResult out, Optional<CircleResult> in) {
            MachineEstimate machine = asked.machines().get(i);
            Map<Cell, List<CircleResult>> byCell = new LinkedHashMap<>(machine.circles());
            byCell.computeIfPresent(out.circle().cell(), (cell, all) -> {
                List<CircleResult> rest = replaced(all, out, in);
                return rest.isEmpty() ? null : rest;
            });
            return new Asked(
                    asked.trial(),
                    replaced(asked.circles(), out, in),
                    with(i, machine.near(asked.trial().conditions(), byCell)));
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

    /**
     * What is to be said of a finding.
     *
     * @param outcomes of all changes that touch it, first of none
     */
    private static Robustness of(Finding finding, List<Outcome> outcomes) {
        List<Outcome> fatal = outcomes.stream()
                .filter(o -> !o.then().map(then -> then.upholds(finding)).orElse(false))
                .toList();
        return new Robustness(
                of(Kind.CIRCLE, fatal).isEmpty(),
                of(Kind.READING, fatal).isEmpty(),
                Stream.of(Kind.CIRCLE, Kind.READING)
                        .flatMap(kind -> of(kind, fatal).stream())
                        .toList(),
                of(Kind.HALVED, fatal).isEmpty(),
                of(Kind.DOUBLED, fatal).isEmpty(),
                of(Kind.DECK, fatal).isEmpty(),
                fatal.isEmpty() ? stands(outcomes) : falls(fatal, hangsOnEvery(outcomes, fatal)));
    }

    private static List<String> of(Kind kind, List<Outcome> outcomes) {
        return outcomes.stream()
                .filter(o -> o.kind() == kind)
                .map(Outcome::what)
                .toList();
    }

    /** Only what has a part in the finding is said to have been tried. */
    private static String stands(List<Outcome> outcomes) {
        List<String> tried = new ArrayList<>();
        boolean readings = tells(Kind.READING, outcomes);
        if (readings || tells(Kind.CIRCLE, outcomes)) {
            tried.add("whatever single circle " + (readings ? "or reading " : "") + "is left out");
        }
        if (tells(Kind.HALVED, outcomes) || tells(Kind.DOUBLED, outcomes)) {
            tried.add("with the assumed repeatability halved or doubled");
        }
        if (tells(Kind.DECK, outcomes)) {
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
    private static boolean tells(Kind kind, List<Outcome> outcomes) {
        Optional<Answer.Then> unchanged = outcomes.get(0).then();
        return outcomes.stream().anyMatch(o -> o.kind() == kind && isMoved(o.then(), unchanged));
    }

    private static boolean isMoved(Optional<Answer.Then> there, Optional<Answer.Then> here) {
        return there.isEmpty()
                || here.isEmpty()
                || !(Math.abs(there.get().value() - here.get().value()) < UNMOVED)
                || !(Math.abs(there.get().standardUncertainty() - here.get().standardUncertainty()) < UNMOVED);
    }

    /** Whether no circle that has a part in the finding may be missing. */
    private static boolean hangsOnEvery(List<Outcome> outcomes, List<Outcome> fatal) {
        Optional<Answer.Then> unchanged = outcomes.get(0).then();
        long circles = outcomes.stream()
                .filter(o -> o.kind() == Kind.CIRCLE && isMoved(o.then(), unchanged))
                .count();
        return circles > 1 && of(Kind.CIRCLE, fatal).size() == circles;
    }

    private static String falls(List<Outcome> fatal, boolean everyCircle) {
        List<String> ways = new ArrayList<>();
        List<String> out = Stream.of(Kind.CIRCLE, Kind.READING)
                .flatMap(kind -> of(kind, fatal).stream())
                .toList();
        if (everyCircle) {
            ways.add("whichever of its circles is left out");
        } else if (out.size() == 1) {
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
        fatal.forEach(o -> then.add(o.then().map(t -> said(t.word())).orElse("not possible")));
        return "Falls " + String.join(", or ", ways) + " (then: " + String.join(" or ", then)
                + (everyCircle
                        ? "). It hangs on every single circle, too few to be relied on."
                        : "). Otherwise it stands.");
    }

    private static String spoken(String what) {
        return what.startsWith("circle")
                ? what + " is"
                : what.startsWith("points") ? "the " + what + " are" : what + " is";
    }

    private static String said(String word) {
        return switch (word) {
            case "within" -> "within the margin";
            case "beyond" -> "beyond the margin";
            case "cannotTell" -> "cannot tell yet";
            default -> word;
        };
    }
}
