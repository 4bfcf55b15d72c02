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
 * What would overturn a verdict: the trial is analysed again without each circle, without each reading of circles that have
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
    /** A change of less than this (m) is the grid of the re-run, not the deck. */
    private static final double UNMOVED = 1e-5;

    public Robustness {
        fallsWithout = List.copyOf(fallsWithout);
    }

    /** What kind of change to a trial. */
    private enum Kind {
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
     * @param machines the estimates with it
     */
    private record Change(Kind kind, String what, Optional<String> machine, Supplier<List<MachineEstimate>> machines) {
        boolean touches(String id) {
            return machine.map(id::equals).orElse(true);
        }

        boolean touches(Finding finding) {
            return !finding.subject().containsKey("machine")
                    || finding.subject().values().stream().anyMatch(this::touches);
        }
    }

    /** A change and what the questions answer then. */
    private record Outcome(Change change, List<Finding> findings) {
        /** The answer to the question of a finding; empty where it is not even asked any more. */
        Optional<Finding> to(Finding finding) {
            return findings.stream()
                    .filter(f ->
                            f.question() == finding.question() && f.subject().equals(finding.subject()))
                    .findFirst();
        }

        boolean overturns(Finding finding) {
            return change.touches(finding)
                    && to(finding).map(f -> !f.saysTheSameAs(finding)).orElse(true);
        }
    }

    /** The findings, each decided one with what would overturn it. */
    static List<Finding> of(List<Finding> findings, Trial trial, List<MachineEstimate> machines) {
        if (findings.stream().noneMatch(Robustness::isTried)) {
            return findings;
        }
        // side by side, since each is an analysis of its own; the order stays
        List<Outcome> outcomes = new Changes(trial, machines)
                .all().parallelStream()
                        .map(change -> new Outcome(
                                change,
                                Analysis.findings(
                                        trial,
                                        change.machines().get(),
                                        m -> change.touches(m.machine().id()))))
                        .toList();
        return findings.stream()
                .map(f -> isTried(f) ? f.with(of(f, outcomes)) : f)
                .toList();
    }

    /** Verdicts about single machines; what is said across machines is not tried. */
    private static boolean isTried(Finding finding) {
        return finding.verdict().decided()
                && (finding.question() == Question.LEFT_RIGHT || finding.question() == Question.DRIVE);
    }

    /** Every change that is tried, for verdicts only; what a change leaves alone is worked out once. */
    private static final class Changes {
        private final Trial trial;
        private final List<MachineEstimate> machines;
        private final List<MachineEstimate> unchanged;

        Changes(Trial trial, List<MachineEstimate> machines) {
            this.trial = trial;
            this.machines = machines;
            this.unchanged = machines.stream()
                    .map(m -> m.forVerdicts(m.machine(), trial.conditions(), m.circles())
                            .orElseThrow())
                    .toList();
        }

        List<Change> all() {
            List<Change> changes = new ArrayList<>();
            for (int i = 0; i < machines.size(); i++) {
                leftOut(i, changes);
                deckMoved(i, 1, "left", changes);
                deckMoved(i, -1, "right", changes);
            }
            changes.add(new Change(Kind.HALVED, "", Optional.empty(), () -> assuming(0.5)));
            changes.add(new Change(Kind.DOUBLED, "", Optional.empty(), () -> assuming(2)));
            return changes;
        }

        private void deckMoved(int i, int side, String words, List<Change> changes) {
            Machine machine = machines.get(i).machine();
            changes.add(new Change(Kind.DECK, words, Optional.of(machine.id()), () -> {
                Machine moved = DeckModel.movedLeft(machine, side * DECK_RANGE);
                return with(i, Optional.of(unchanged.get(i).forVerdicts(moved)));
            }));
        }

        private void leftOut(int i, List<Change> changes) {
            Optional<String> only = Optional.of(machines.get(i).machine().id());
            for (List<CircleResult> cell : machines.get(i).circles().values()) {
                for (CircleResult circle : cell) {
                    String id = "circle " + circle.circle().id();
                    changes.add(new Change(Kind.CIRCLE, id, only, () -> replaced(i, circle, Optional.empty())));
                    if (circle.observations().size() > 1) {
                        for (Observation reading : circle.observations()) {
                            changes.add(new Change(
                                    Kind.READING,
                                    reading.kind().equals(Observations.PERIMETER) ? "points of " + id : reading.where(),
                                    only,
                                    () -> replaced(i, circle, Optional.of(circle.without(reading)))));
                        }
                    }
                }
            }
        }

        private List<MachineEstimate> assuming(double factor) {
            return machines.stream()
                    .map(m -> m.forVerdicts(
                            m.machine(), trial.conditions().withAssumedRepeatability(factor), m.circles()))
                    .flatMap(Optional::stream)
                    .toList();
        }

        /** With one circle of one machine replaced or left out. */
        private List<MachineEstimate> replaced(int i, CircleResult out, Optional<CircleResult> in) {
            Map<Cell, List<CircleResult>> circles = new LinkedHashMap<>();
            machines.get(i).circles().forEach((cell, all) -> {
                List<CircleResult> rest = all.stream()
                        .flatMap(c -> c.equals(out) ? in.stream() : Stream.of(c))
                        .toList();
                if (!rest.isEmpty()) {
                    circles.put(cell, rest);
                }
            });
            return with(i, machines.get(i).forVerdicts(machines.get(i).machine(), trial.conditions(), circles));
        }

        private List<MachineEstimate> with(int i, Optional<MachineEstimate> changed) {
            List<MachineEstimate> all = new ArrayList<>(unchanged);
            all.remove(i);
            changed.ifPresent(m -> all.add(i, m));
            return all;
        }
    }

    private static Robustness of(Finding finding, List<Outcome> outcomes) {
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

    private static String stands(Finding finding, List<Outcome> outcomes) {
        boolean readings = outcomes.stream()
                .anyMatch(o -> o.change().kind() == Kind.READING && o.change().touches(finding));
        boolean deck = outcomes.stream().anyMatch(o -> o.change().kind() == Kind.DECK && moves(finding, o.to(finding)));
        return "Stands whatever single circle " + (readings ? "or reading " : "") + "is left out"
                + (deck ? ", " : ", and ") + "with the assumed repeatability halved or doubled"
                + (deck ? ", and with the deck offset at either end of its range." : ".");
    }

    private static boolean moves(Finding finding, Optional<Finding> changed) {
        double here = finding.estimate().orElseThrow().value();
        return changed.flatMap(Finding::estimate)
                .map(e -> Math.abs(e.value() - here) > UNMOVED)
                .orElse(false);
    }

    private static String falls(Finding finding, List<Outcome> fatal) {
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
