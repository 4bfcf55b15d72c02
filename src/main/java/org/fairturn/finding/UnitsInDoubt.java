package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.DoublePredicate;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.units.LengthUnit;

/**
 * Readings that seem to be in another unit than they were read in: those that lie beside another reading of their circle once
 * the unit is changed, and bare numbers that make no ordinary circle unless it is.
 *
 * <p>Two units differ by a factor of 2.5 or more, so that it shows in the circle itself, whatever the scatter. A small uncut
 * circle can exist, where a blade passes near the turn centre: so a bare number by itself is only asked about, and no more once
 * its unit stands behind it.
 */
final class UnitsInDoubt {
    /** Uncut circles of compact tractors (m): common practice, no source. */
    private static final double LEAST_ORDINARY = 0.5;

    private static final double MOST_ORDINARY = 6;
    /** From so many readings in doubt on, those that lie no farther from them than this share are in doubt with them. */
    private static final int MANY = 3;

    private static final double BESIDE_MANY = 1.25;
    private static final double MIDDLE = Math.sqrt(LEAST_ORDINARY * MOST_ORDINARY);
    /** Far outside is beyond half or twice of that. Our own choice. */
    private static final double FAR = 2;
    /** Two readings of a circle lie beside each other within this part. Our own choice. */
    private static final double BESIDE = 0.05;

    /** Diameters that need not be told apart in a question (m). Our own choice. */
    private static final double LIKE = 0.002;

    private final LengthUnit bare;
    private final Wording wording;
    private final Slips slips;
    private final List<Slipped> slipped = new ArrayList<>();
    /** Those that may be in the same unit together. */
    private final List<List<Doubt>> doubts;

    private final Set<Observation> inDoubt = Collections.newSetFromMap(new IdentityHashMap<>());

    /** A reading that would lie beside another one of its circle. */
    private record Slipped(
            CircleResult circle, Reading typed, Observation reading, Slips.Slip slip, Observation beside) {}

    /** A reading of a circle with the slips of unit it may be. */
    private record Read(Observation reading, Optional<Reading> typed, List<Slips.Slip> slips) {}

    /** A reading of a bare number, and the diameters (m) that other units make of it, the likeliest first. */
    private record Doubt(CircleResult circle, Reading typed, Observation reading, Map<LengthUnit, Double> instead) {
        LengthUnit likeliest() {
            return instead.keySet().iterator().next();
        }

        /** With the one unit that brings it nearest to a diameter (m). */
        Doubt nearest(double near) {
            return only(List.of(instead.entrySet().stream()
                    .min(Comparator.comparingDouble(e -> away(e.getValue(), near)))
                    .orElseThrow()
                    .getKey()));
        }

        /** With those units only. */
        Doubt only(List<LengthUnit> units) {
            Map<LengthUnit, Double> some = new LinkedHashMap<>();
            units.forEach(unit -> some.put(unit, instead.get(unit)));
            return new Doubt(circle, typed, reading, some);
        }
    }

    /**
     * Looks at a trial.
     *
     * @param circles those that count
     */
    UnitsInDoubt(Trial trial, List<CircleResult> circles) {
        this.bare = trial.conditions().lengthUnit();
        this.wording = new Wording(bare);
        this.slips = new Slips(new Observations(trial.conditions()), bare);
        circles.forEach(circle -> slipped.addAll(besideOthers(circle)));
        slipped.sort(Comparator.comparingInt(s -> s.typed().row()));
        slipped.forEach(s -> inDoubt.add(s.reading()));
        double usual = LEAST_ORDINARY / FAR;
        List<Double> small = doubts(circles, usual).stream()
                .map(d -> d.reading().diameter())
                .filter(d -> d < usual)
                .toList();
        double least = small.size() < MANY
                ? usual
                : Math.min(LEAST_ORDINARY, Math.max(usual, BESIDE_MANY * Collections.max(small)));
        List<Doubt> each = doubts(circles, least);
        each.forEach(d -> inDoubt.add(d.reading()));
        Sound sound = new Sound(circles, d -> far(d, least));
        List<Doubt> answered = sound.isEmpty()
                ? Stream.of(true, false)
                        .flatMap(low ->
                                together(each.stream()
                                                .filter(d -> d.reading().diameter() < LEAST_ORDINARY == low)
                                                .toList())
                                        .stream())
                        .toList()
                : each.stream().map(d -> d.nearest(sound.near(d.circle()))).toList();
        doubts = List.copyOf(answered.stream()
                .collect(Collectors.groupingBy(Doubt::likeliest, LinkedHashMap::new, Collectors.toList()))
                .values());
    }

    /** The circles without the readings in doubt; as they are where no other would be left to hold them against. */
    Map<Cell, List<CircleResult>> without(Map<Cell, List<CircleResult>> ofMachine) {
        Map<Cell, List<CircleResult>> rest = new LinkedHashMap<>();
        ofMachine.forEach((cell, all) -> {
            List<CircleResult> sound = all.stream()
                    .map(this::without)
                    .filter(c -> !c.observations().isEmpty())
                    .toList();
            if (!sound.isEmpty()) {
                rest.put(cell, sound);
            }
        });
        return rest.isEmpty() ? ofMachine : rest;
    }

    private CircleResult without(CircleResult circle) {
        CircleResult rest = circle;
        for (Observation out : circle.observations()) {
            if (inDoubt.contains(out)) {
                rest = rest.without(out);
            }
        }
        return rest;
    }

    /** What is said, reading by reading or of all that may be in the same unit together. */
    List<Warning> warnings() {
        List<Warning> warnings = new ArrayList<>();
        slipped.forEach(s -> warnings.add(warning(s)));
        doubts.forEach(alike -> warnings.add(new Warning(Slips.WRONG_UNIT, where(alike), question(alike))));
        return warnings;
    }

    /** What is asked of the readings of one circle that are asked about together with those of others. */
    List<String> ofCircle(String id) {
        return doubts.stream()
                .filter(alike -> !ofOneCircle(alike))
                .map(alike -> alike.stream()
                        .filter(d -> d.circle().circle().id().equals(id))
                        .toList())
                .filter(own -> !own.isEmpty())
                .map(this::question)
                .toList();
    }

    /** The readings that another unit puts beside one that most of the others agree with, as read or in another unit too. */
    private List<Slipped> besideOthers(CircleResult circle) {
        DoubleSummaryStatistics diameters = circle.observations().stream()
                .mapToDouble(Observation::diameter)
                .summaryStatistics();
        if (circle.observations().size() < 2 || beside(diameters.getMax(), diameters.getMin())) {
            return List.of(); // as nearly always
        }
        List<Read> all =
                circle.observations().stream().map(o -> read(circle, o)).toList();
        List<Slipped> best = List.of();
        int most = 0;
        for (Read anchor : all) {
            double there = anchor.reading().diameter();
            List<Slipped> found = new ArrayList<>();
            int agreeing = 0;
            for (Read other : all) {
                if (beside(other.reading().diameter(), there)) {
                    agreeing++;
                } else {
                    other.slips().stream()
                            .filter(s -> beside(s.instead().diameter(), there))
                            .min(Comparator.comparingDouble(
                                    s -> away(s.instead().diameter(), there)))
                            .ifPresent(slip -> found.add(new Slipped(
                                    circle, other.typed().orElseThrow(), other.reading(), slip, anchor.reading())));
                }
            }
            if (!found.isEmpty() && found.size() + agreeing > most) {
                most = found.size() + agreeing;
                best = found;
            }
        }
        return best;
    }

    private Read read(CircleResult circle, Observation reading) {
        Optional<Reading> typed = typed(circle, reading);
        return new Read(reading, typed, typed.map(slips::inOtherUnits).orElse(List.of()));
    }

    private static Optional<Reading> typed(CircleResult circle, Observation reading) {
        return circle.circle().readings().stream()
                .filter(r -> Observations.where(r).equals(reading.where()))
                .findFirst();
    }

    private static boolean beside(double a, double b) {
        return away(a, b) <= BESIDE;
    }

    /** How far two lengths are apart as a ratio, whichever is the larger. */
    private static double away(double a, double b) {
        return Math.abs(Math.log(a / b));
    }

    private static boolean far(double diameter, double least) {
        return diameter < least || diameter > MOST_ORDINARY * FAR;
    }

    private static boolean ordinary(double diameter) {
        return diameter >= LEAST_ORDINARY && diameter <= MOST_ORDINARY;
    }

    private List<Doubt> doubts(List<CircleResult> circles, double least) {
        return circles.stream()
                .flatMap(circle -> doubts(circle, least))
                .sorted(Comparator.comparingInt(d -> d.typed().row()))
                .toList();
    }

    private Stream<Doubt> doubts(CircleResult circle, double least) {
        return circle.observations().stream()
                .filter(o -> far(o.diameter(), least) && !inDoubt.contains(o))
                .flatMap(o -> typed(circle, o).flatMap(typed -> doubt(circle, o, typed)).stream());
    }

    private Optional<Doubt> doubt(CircleResult circle, Observation reading, Reading typed) {
        Map<LengthUnit, Double> instead = new LinkedHashMap<>();
        for (LengthUnit unit : LengthUnit.values()) {
            slips.withoutUnitIn(typed, unit)
                    .map(s -> s.instead().diameter())
                    .filter(UnitsInDoubt::ordinary)
                    .ifPresent(d -> instead.put(unit, d));
        }
        return instead.isEmpty() ? Optional.empty() : Optional.of(new Doubt(circle, typed, reading, instead));
    }

    /** What was read where nothing is asked, as a mean of logarithms by circle, cell, machine and trial. */
    private static final class Sound {
        private final Map<Object, double[]> sums = new HashMap<>();

        Sound(List<CircleResult> circles, DoublePredicate far) {
            for (CircleResult circle : circles) {
                circle.observations().stream()
                        .mapToDouble(Observation::diameter)
                        .filter(d -> !far.test(d))
                        .forEach(d -> closest(circle).forEach(key -> {
                            double[] sum = sums.computeIfAbsent(key, k -> new double[2]);
                            sum[0] += Math.log(d);
                            sum[1]++;
                        }));
            }
        }

        private static List<Object> closest(CircleResult circle) {
            Cell cell = circle.circle().cell();
            return List.of(circle.circle(), cell, cell.machine(), "");
        }

        boolean isEmpty() {
            return sums.isEmpty();
        }

        /** The diameter (m) of what is closest to a circle. */
        double near(CircleResult circle) {
            return closest(circle).stream()
                    .map(sums::get)
                    .filter(Objects::nonNull)
                    .mapToDouble(sum -> Math.exp(sum[0] / sum[1]))
                    .findFirst()
                    .orElseThrow();
        }
    }

    /** All with the units that make ordinary circles of them all, the one nearest to the middle of what is ordinary first. */
    private static List<Doubt> together(List<Doubt> each) {
        List<LengthUnit> units = Arrays.stream(LengthUnit.values())
                .filter(unit -> !each.isEmpty()
                        && each.stream().allMatch(d -> d.instead().containsKey(unit)))
                .sorted(Comparator.comparingDouble(unit -> offMiddle(unit, each)))
                .toList();
        return units.isEmpty()
                ? each.stream().map(d -> d.nearest(MIDDLE)).toList()
                : each.stream().map(d -> d.only(units)).toList();
    }

    private static double offMiddle(LengthUnit unit, List<Doubt> each) {
        double mean = each.stream()
                .mapToDouble(d -> Math.log(d.instead().get(unit)))
                .average()
                .orElseThrow();
        return away(Math.exp(mean), MIDDLE);
    }

    private Warning warning(Slipped s) {
        return new Warning(
                Slips.WRONG_UNIT,
                s.reading().where(),
                "Circle " + s.circle().circle().id() + ": " + DataChecks.as(s.reading()) + " makes "
                        + wording.amount(s.reading().diameter()) + ", " + DataChecks.as(s.beside()) + " beside it "
                        + wording.amount(s.beside().diameter()) + ". "
                        + s.slip().said()
                        + ", which fits. Write the unit behind the number." + DataChecks.UNCHANGED);
    }

    private static boolean ofOneCircle(List<Doubt> alike) {
        return alike.stream().map(d -> d.circle().circle().id()).distinct().count() == 1;
    }

    private static String where(List<Doubt> alike) {
        return alike.size() == 1
                ? alike.get(0).reading().where()
                : ofOneCircle(alike)
                        ? "circle " + alike.get(0).circle().circle().id()
                        : "readings.csv, rows " + rows(alike);
    }

    /** Such as {@code 2–5, 8}. */
    private static String rows(List<Doubt> alike) {
        int[] rows = alike.stream().mapToInt(d -> d.typed().row()).sorted().toArray();
        List<String> runs = new ArrayList<>();
        for (int from = 0, to; from < rows.length; from = to + 1) {
            to = from;
            while (to + 1 < rows.length && rows[to + 1] == rows[to] + 1) {
                to++;
            }
            runs.add(from == to ? "" + rows[from] : rows[from] + "–" + rows[to]);
        }
        return String.join(", ", runs);
    }

    private String question(List<Doubt> alike) {
        boolean one = alike.size() == 1;
        String who = ofOneCircle(alike)
                ? "Circle " + alike.get(0).circle().circle().id() + ": "
                        + alike.stream().map(d -> DataChecks.as(d.reading())).collect(Collectors.joining(" and "))
                : alike.size() + " readings";
        String units = alike.get(0).instead().keySet().stream()
                .map(unit -> unit.words() + ", which would make "
                        + made(alike, d -> d.instead().get(unit)))
                .collect(Collectors.joining(", or "));
        String first = alike.get(0).reading().written();
        return who + ", read in " + bare.words() + " because no unit stands behind the "
                + (one ? "number, makes " : "numbers, make ")
                + made(alike, d -> d.reading().diameter())
                + "; compact tractors mostly leave between 0.5 and 6 m. " + (one ? "Was it " : "Were they ") + units
                + "? Then write the unit behind " + (one ? "the number" : "each number")
                + ", or change the length unit in trial.csv if that was meant throughout. If "
                + (one ? "it is" : "they are") + " right, write the unit too"
                + (first.contains(";") ? "" : " (" + first + " " + bare.symbol() + ")")
                + ", and nobody asks again. Nothing was changed.";
    }

    private String made(List<Doubt> alike, ToDoubleFunction<Doubt> diameter) {
        double low = alike.stream().mapToDouble(diameter).min().orElseThrow();
        double high = alike.stream().mapToDouble(diameter).max().orElseThrow();
        return high - low < LIKE ? wording.amount((low + high) / 2) : wording.interval(low, high);
    }
}
