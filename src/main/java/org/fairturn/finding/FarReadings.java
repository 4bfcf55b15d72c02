package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;

/**
 * Readings far from their circle and circles far from their cell, on one machine.
 *
 * <p>The one that lies farthest out is held against what the rest says of the repeatability: how likely is so large a gap for
 * one further reading of its circle, or one further circle of its cell, with the repeatability's posterior worked out without
 * it? Where that is rarer than the false alarms allowed, it is set aside and the next one is looked at. With one sample and no
 * prior this is Grubbs' test, which is the t test of a value against the rest of its sample at α/n.
 */
final class FarReadings {
    /**
     * Share of sound trials that may raise a false alarm over a reading, and the same over a circle; it is divided by the
     * number looked at (Bonferroni).
     */
    private static final double FALSE_ALARMS = 0.01;
    /** A slip explains a reading where, mended, it would lie no farther out than one in a hundred does. */
    private static final double FITS = 0.01;

    /** So many times as rare is plainly the wrong one of two. Our own choice. */
    private static final double PLAINLY = 10;

    /** Gaps are equal where they differ by less than rounding does. */
    private static final double EQUAL = 1e-9;

    /** A chance so far above any that would be called rare is looked at no closer. */
    private static final double PLAINLY_ORDINARY = 10;

    /** Of the last circles that it was worked out in full for. */
    private volatile RepeatabilityPosterior last;

    private final Conditions conditions;
    private final int readings;
    private final int comparable;
    private final Map<Cell, List<CircleResult>> kept = new LinkedHashMap<>();

    /**
     * A reading far from the rest of its circle.
     *
     * @param circle as measured, the reading among the others
     * @param gap how much larger it is than the rest (m)
     * @param rest mean of the rest (m)
     * @param chance of so large a gap
     * @param gaps what is to be expected of the gap
     * @param open whether it may as well be the other one of a pair
     */
    record FarReading(
            CircleResult circle,
            Observation reading,
            double gap,
            double rest,
            double chance,
            NormalMixture gaps,
            boolean open) {
        /** Whether nothing is strange about another gap (m). */
        boolean fits(double other) {
            return twoSided(gaps, other) >= FITS;
        }
    }

    /**
     * A circle far from the rest of its cell.
     *
     * @param cell the circles it is held against; with one alone it is open which of the two is far out
     * @param gap how much larger it is than the rest (m)
     * @param chance of so large a gap
     * @param expected what a further circle of the cell would measure
     */
    record FarCircle(CircleResult circle, List<CircleResult> cell, double gap, double chance, NormalMixture expected) {
        boolean fits(double diameter) {
            return FarReadings.chance(expected, diameter) >= FITS;
        }
    }

    /** A circle or reading that could be looked at: how far out it is, for picking the farthest. */
    private record Candidate(CircleResult circle, Optional<Observation> reading, double gap, double rank, double tie) {}

    /**
     * Looks at one machine.
     *
     * @param machine whose circles they are
     * @param held the circles that are held against each other, at least one
     * @param readings of the whole trial that lie on circles with two or more
     * @param comparable circles of the whole trial that lie in cells with two or more
     */
    FarReadings(
            MachineEstimate machine,
            Map<Cell, List<CircleResult>> held,
            Conditions conditions,
            int readings,
            int comparable) {
        this.last = held.equals(machine.circles())
                ? machine.posterior()
                : MachineEstimate.posterior(MachineEstimate.data(held), conditions);
        this.conditions = conditions;
        this.readings = readings;
        this.comparable = comparable;
        held.forEach((cell, all) -> kept.put(cell, new ArrayList<>(all)));
    }

    /** The circles without what was found to be far out so far. */
    Map<Cell, List<CircleResult>> kept() {
        return kept;
    }

    /**
     * Whether the other circles of the cell show which reading of a pair is off: the one would be so much rarer than the other
     * among them.
     *
     * @param rest all circles, this one with the other reading alone
     * @param without the circle with the other reading alone
     */
    private boolean decided(Map<Cell, List<CircleResult>> rest, CircleResult without, Observation reading) {
        Map<Cell, List<CircleResult>> others = new LinkedHashMap<>();
        rest.forEach((cell, all) ->
                others.put(cell, all.stream().filter(c -> !c.equals(without)).toList()));
        Cell cell = without.circle().cell();
        if (others.get(cell).isEmpty()) {
            return false;
        }
        int k = List.copyOf(others.keySet()).indexOf(cell);
        RepeatabilityPosterior posterior = MachineEstimate.posterior(MachineEstimate.data(others), conditions);
        Observation other = without.observations().get(0);
        return PLAINLY * chance(posterior.furtherCircle(k, 1 / reading.varianceFactor()), reading.diameter())
                < chance(posterior.furtherCircle(k, 1 / other.varianceFactor()), other.diameter());
    }

    /** Sets the readings far from their circle aside, the farthest first. */
    List<FarReading> readings() {
        Map<String, CircleResult> measured = new LinkedHashMap<>();
        kept.values().forEach(all -> all.forEach(c -> measured.put(c.circle().id(), c)));
        List<FarReading> found = new ArrayList<>();
        while (true) {
            Optional<Candidate> farthest = farthestReading();
            if (farthest.isEmpty()) {
                return found;
            }
            CircleResult with = farthest.get().circle();
            Observation reading = farthest.get().reading().orElseThrow();
            CircleResult without = with.without(reading);
            double gap = farthest.get().gap();
            double weight = without.summary().orElseThrow().weight();
            Map<Cell, List<CircleResult>> rest = replaced(c -> c.equals(with) ? without : c);
            RepeatabilityPosterior nearly = nearly(rest);
            if (ordinary(twoSided(nearly.readingGap(reading.varianceFactor(), weight), gap), readings)) {
                return found;
            }
            last = nearly.inFull();
            NormalMixture gaps = last.readingGap(reading.varianceFactor(), weight);
            double chance = twoSided(gaps, gap);
            if (!(chance * readings < FALSE_ALARMS)) {
                return found;
            }
            CircleResult whole = measured.get(with.circle().id());
            boolean open = whole.observations().size() == 2 && !decided(rest, without, reading);
            found.add(new FarReading(
                    whole, reading, gap, without.summary().orElseThrow().mean(), chance, gaps, open));
            if (open) {
                kept.values().forEach(all -> all.remove(with));
                kept.values().removeIf(List::isEmpty);
            } else {
                kept.values().forEach(all -> all.replaceAll(c -> c.equals(with) ? without : c));
            }
        }
    }

    /** The circles far from their cell, the farthest first; those given are known to be wrong and stay out of it. */
    List<FarCircle> circles(List<CircleResult> known) {
        kept.values()
                .forEach(all -> all.removeIf(c -> known.stream()
                        .anyMatch(k -> k.circle().id().equals(c.circle().id()))));
        kept.values().removeIf(List::isEmpty);
        List<FarCircle> found = new ArrayList<>();
        while (true) {
            Optional<Candidate> farthest = farthestCircle();
            if (farthest.isEmpty()) {
                return found;
            }
            CircleResult circle = farthest.get().circle();
            Cell cell = circle.circle().cell();
            Map<Cell, List<CircleResult>> rest = new LinkedHashMap<>();
            kept.forEach((key, all) ->
                    rest.put(key, all.stream().filter(c -> !c.equals(circle)).toList()));
            int k = List.copyOf(rest.keySet()).indexOf(cell);
            double weight = circle.summary().orElseThrow().weight();
            double diameter = circle.summary().orElseThrow().mean();
            RepeatabilityPosterior nearly = nearly(rest);
            if (ordinary(chance(nearly.furtherCircle(k, weight), diameter), comparable)) {
                return found;
            }
            last = nearly.inFull();
            NormalMixture expected = last.furtherCircle(k, weight);
            double chance = chance(expected, diameter);
            if (!(chance * comparable < FALSE_ALARMS)) {
                return found;
            }
            found.add(new FarCircle(circle, rest.get(cell), diameter - expected.mean(), chance, expected));
            kept.put(cell, new ArrayList<>(rest.get(cell)));
        }
    }

    /** Whether a chance by a posterior that is only near is far above what would be rare among as many. */
    private static boolean ordinary(double chance, int among) {
        return chance > PLAINLY_ORDINARY * Math.max(FALSE_ALARMS / among, RepeatabilityPosterior.NEARLY);
    }

    private RepeatabilityPosterior nearly(Map<Cell, List<CircleResult>> circles) {
        return last.near(MachineEstimate.data(circles), Priors.circle(conditions), Priors.reading(conditions));
    }

    private Map<Cell, List<CircleResult>> replaced(UnaryOperator<CircleResult> change) {
        Map<Cell, List<CircleResult>> result = new LinkedHashMap<>();
        kept.forEach((cell, all) -> result.put(cell, all.stream().map(change).toList()));
        return result;
    }

    /**
     * The reading with the largest gap for its weight; of the two of a pair, whose gaps are equal, the one farther from the
     * other circles of the cell.
     */
    private Optional<Candidate> farthestReading() {
        List<Candidate> all = new ArrayList<>();
        kept.forEach((cell, circles) -> circles.stream()
                .filter(c -> c.observations().size() > 1)
                .forEach(c -> c.observations().forEach(o -> {
                    var rest = c.without(o).summary().orElseThrow();
                    double gap = o.diameter() - rest.mean();
                    double others = circles.stream()
                            .filter(d -> !d.equals(c))
                            .mapToDouble(d -> d.summary().orElseThrow().mean())
                            .average()
                            .orElse(o.diameter());
                    all.add(new Candidate(
                            c,
                            Optional.of(o),
                            gap,
                            Math.abs(gap) / Math.sqrt(o.varianceFactor() + 1 / rest.weight()),
                            Math.abs(o.diameter() - others)));
                })));
        return farthest(all);
    }

    private Optional<Candidate> farthestCircle() {
        List<Candidate> all = new ArrayList<>();
        kept.forEach((cell, circles) -> circles.stream()
                .filter(c -> circles.size() > 1)
                .forEach(c -> {
                    double others = circles.stream()
                            .filter(d -> !d.equals(c))
                            .mapToDouble(d -> d.summary().orElseThrow().mean())
                            .average()
                            .orElseThrow();
                    double gap = c.summary().orElseThrow().mean() - others;
                    all.add(new Candidate(
                            c,
                            Optional.empty(),
                            gap,
                            Math.abs(gap) / Math.sqrt(1 + 1.0 / (circles.size() - 1)),
                            -c.observations().size()));
                }));
        return farthest(all);
    }

    /** By rank; where ranks are equal by the tie break, then the smaller one: a radius or a short foot. */
    private static Optional<Candidate> farthest(List<Candidate> all) {
        double most = all.stream().mapToDouble(Candidate::rank).max().orElse(0);
        return all.stream()
                .filter(c -> c.rank() > 0 && c.rank() >= most * (1 - EQUAL))
                .max(Comparator.comparingDouble(Candidate::tie)
                        .thenComparing(
                                Comparator.comparingDouble(Candidate::gap).reversed()));
    }

    /** Chance of lying as far out as that on either side. */
    private static double chance(NormalMixture expected, double value) {
        return 2 * Math.min(expected.probabilityAbove(value), expected.probabilityBelow(value));
    }

    private static double twoSided(NormalMixture gaps, double gap) {
        return gaps.probabilityAbove(Math.abs(gap)) + gaps.probabilityBelow(-Math.abs(gap));
    }
}
