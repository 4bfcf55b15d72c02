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
     * @param machines the estimates with it
     */
    private record Change(Kind kind, String what, Supplier<List<MachineEstimate>> machines) {}

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
            return to(finding).map(f -> !f.saysWhat(finding)).orElse(true);
        }
    }

    /** The findings, each decided one with what would overturn it. */
    static List<Finding> of(List<Finding> findings, Trial trial, List<MachineEstimate> machines) {
        if (findings.stream().noneMatch(f -> f.verdict().decided())) {
            return findings;
        }
        List<MachineEstimate> asTheyAre =
                machines.stream().map(m -> m.forVerdicts(m.machine())).toList();
        // side by side, since each is an analysis of its own; the order stays
        List<Outcome> outcomes = changes(trial, asTheyAre).toList().parallelStream()
                .map(change -> new Outcome(
                        change, Analysis.findings(trial, change.machines().get())))
                .toList();
        return findings.stream()
                .map(f -> f.verdict().decided() ? f.with(of(f, outcomes)) : f)
                .toList();
    }

    private static Stream<Change> changes(Trial trial, List<MachineEstimate> machines) {
        List<Change> changes = new ArrayList<>();
        for (MachineEstimate machine : machines) {
            for (List<CircleResult> cell : machine.circles().values()) {
                for (CircleResult circle : cell) {
                    changes.add(new Change(
                            Kind.CIRCLE,
                            "circle " + circle.circle().id(),
                            () -> replaced(machines, machine, trial, circle, Optional.empty())));
                    if (circle.observations().size() > 1) {
                        circle.observations()
                                .forEach(reading -> changes.add(new Change(
                                        Kind.READING,
                                        reading.kind().equals(Observations.PERIMETER)
                                                ? "points of circle "
                                                        + circle.circle().id()
                                                : reading.where(),
                                        () -> replaced(
                                                machines,
                                                machine,
                                                trial,
                                                circle,
                                                Optional.of(circle.without(reading))))));
                    }
                }
            }
            for (int side : new int[] {1, -1}) {
                changes.add(new Change(
                        Kind.DECK,
                        side > 0 ? "left" : "right",
                        () -> machines.stream()
                                .map(m -> m.equals(machine)
                                        ? m.forVerdicts(DeckModel.movedLeft(m.machine(), side * DECK_RANGE))
                                        : m)
                                .toList()));
            }
        }
        changes.add(new Change(Kind.HALVED, "", () -> assuming(0.5, machines, trial)));
        changes.add(new Change(Kind.DOUBLED, "", () -> assuming(2, machines, trial)));
        return changes.stream();
    }

    private static List<MachineEstimate> assuming(double factor, List<MachineEstimate> machines, Trial trial) {
        return machines.stream()
                .map(m -> MachineEstimate.forVerdicts(
                        m.machine(), trial.conditions().withAssumedRepeatability(factor), m.circles()))
                .flatMap(Optional::stream)
                .toList();
    }

    /** The estimates with one circle of one machine replaced or left out. */
    private static List<MachineEstimate> replaced(
            List<MachineEstimate> machines,
            MachineEstimate changed,
            Trial trial,
            CircleResult out,
            Optional<CircleResult> in) {
        Map<Cell, List<CircleResult>> circles = new LinkedHashMap<>();
        changed.circles().forEach((cell, all) -> {
            List<CircleResult> rest = all.stream()
                    .flatMap(c -> c.equals(out) ? in.stream() : Stream.of(c))
                    .toList();
            if (!rest.isEmpty()) {
                circles.put(cell, rest);
            }
        });
        return machines.stream()
                .flatMap(m -> m.equals(changed)
                        ? MachineEstimate.forVerdicts(m.machine(), trial.conditions(), circles).stream()
                        : Stream.of(m))
                .toList();
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
        boolean readings = !of(Kind.READING, outcomes).isEmpty();
        boolean deck = outcomes.stream().anyMatch(o -> o.change().kind() == Kind.DECK && moves(finding, o.to(finding)));
        return "Stands whatever single circle " + (readings ? "or reading " : "") + "is left out"
                + (deck ? ", " : ", and ") + "with the assumed repeatability halved or doubled"
                + (deck ? ", and with the deck offset at either end of its range." : ".");
    }

    private static boolean moves(Finding finding, Optional<Finding> changed) {
        double here = finding.estimate().orElseThrow().value();
        return changed.flatMap(Finding::estimate)
                .map(e -> Math.abs(e.value() - here) > 1e-9)
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
