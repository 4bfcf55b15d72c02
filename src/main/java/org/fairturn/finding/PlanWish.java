package org.fairturn.finding;

import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;

/**
 * What a trial is planned for.
 *
 * @param conditions margin, confidence and what the analysis will assume of the repeatability
 * @param machines one or more, ids unique
 * @param questions one or more
 * @param drives one or more; both where {@link PlannedQuestion#DRIVE} is asked
 * @param circleRepeatability how much circles driven alike are expected to scatter (m, standard deviation), above 0
 * @param readingRepeatability the same for readings of one circle
 * @param difference size of a difference that has to be found (m), above the margin
 * @param statedUncertainty standard uncertainty (m) of the claim or reference compared with; where empty, a claim counts as
 *     one circle and a reference as exact
 * @param pace how long driving and measuring take
 * @param chance wanted of the right verdict, in (0, 1)
 * @param minutes the time there is; empty where it is free
 * @param knownGood the machine that a complaint is held against, where one is
 */
public record PlanWish(
        Conditions conditions,
        List<Machine> machines,
        Set<PlannedQuestion> questions,
        Set<Drive> drives,
        double circleRepeatability,
        double readingRepeatability,
        double difference,
        OptionalDouble statedUncertainty,
        Pace pace,
        double chance,
        OptionalDouble minutes,
        Optional<KnownGood> knownGood) {
    /**
     * A machine of the trial that another is held against: what its own circles leave uncertain is part of the comparison.
     *
     * @param machine its id
     * @param circles it has been driven in each turn and drive that is planned, the fewest; 0 where one is still to come
     */
    public record KnownGood(String machine, int circles) {}

    /**
     * How long things take, in minutes, each 0 or more and one above 0.
     *
     * @param circle to mow and mark one circle
     * @param reading to lay the tape once
     * @param driveChange to change a machine's drive
     */
    public record Pace(double circle, double reading, double driveChange) {
        /** Common practice, no source. */
        public static final Pace USUAL = new Pace(5, 2, 3);
    }

    /**
     * Keeps its own copy of each list and set.
     *
     * @param conditions margin, confidence and what the analysis will assume of the repeatability
     * @param machines one or more, ids unique
     * @param questions one or more
     * @param drives one or more; both where {@link PlannedQuestion#DRIVE} is asked
     * @param circleRepeatability how much circles driven alike are expected to scatter (m, standard deviation), above 0
     * @param readingRepeatability the same for readings of one circle
     * @param difference size of a difference that has to be found (m), above the margin
     * @param statedUncertainty standard uncertainty (m) of the claim or reference compared with; where empty, a claim
     *     counts as one circle and a reference as exact
     * @param pace how long driving and measuring take
     * @param chance wanted of the right verdict, in (0, 1)
     * @param minutes the time there is; empty where it is free
     * @param knownGood the machine that a complaint is held against, where one is
     */
    public PlanWish {
        machines = List.copyOf(machines);
        questions = Set.copyOf(questions);
        drives = Set.copyOf(questions.contains(PlannedQuestion.DRIVE) ? EnumSet.allOf(Drive.class) : drives);
    }

    /**
     * A wish where nothing is held against a machine known to be good.
     *
     * @param conditions margin, confidence and what the analysis will assume of the repeatability
     * @param machines one or more, ids unique
     * @param questions one or more
     * @param drives one or more; both where {@link PlannedQuestion#DRIVE} is asked
     * @param circleRepeatability how much circles driven alike are expected to scatter (m, standard deviation), above 0
     * @param readingRepeatability the same for readings of one circle
     * @param difference size of a difference that has to be found (m), above the margin
     * @param statedUncertainty standard uncertainty (m) of the claim or reference compared with; where empty, a claim
     *     counts as one circle and a reference as exact
     * @param pace how long driving and measuring take
     * @param chance wanted of the right verdict, in (0, 1)
     * @param minutes the time there is; empty where it is free
     */
    public PlanWish(
            Conditions conditions,
            List<Machine> machines,
            Set<PlannedQuestion> questions,
            Set<Drive> drives,
            double circleRepeatability,
            double readingRepeatability,
            double difference,
            OptionalDouble statedUncertainty,
            Pace pace,
            double chance,
            OptionalDouble minutes) {
        this(
                conditions,
                machines,
                questions,
                drives,
                circleRepeatability,
                readingRepeatability,
                difference,
                statedUncertainty,
                pace,
                chance,
                minutes,
                Optional.empty());
    }

    /**
     * {@return the same where the trial's references hold one of the machines against another that is known to be good; of
     * several the one with the fewest circles}
     *
     * @param trial with or without references
     */
    public PlanWish against(Trial trial) {
        return new PlanWish(
                conditions,
                machines,
                questions,
                drives,
                circleRepeatability,
                readingRepeatability,
                difference,
                statedUncertainty,
                pace,
                chance,
                minutes,
                trial.references().stream()
                        .filter(r -> machines.stream().anyMatch(m -> m.id().equals(r.machine())))
                        .flatMap(r -> r.knownGood().stream().map(good -> new KnownGood(good, fewest(trial, r, good))))
                        .min(Comparator.comparingInt(KnownGood::circles)));
    }

    /** The same, some of it given up; what was not asked stays so. */
    PlanWish narrowed(List<Machine> fewerMachines, Set<PlannedQuestion> fewerQuestions, Set<Drive> fewerDrives) {
        return changed(conditions, fewerMachines, fewerQuestions, fewerDrives, circleRepeatability, difference);
    }

    /** The same with circles that scatter otherwise. */
    PlanWish scattering(double circles) {
        return changed(conditions, machines, questions, drives, circles, difference);
    }

    /** The same with margin and difference larger by a factor. */
    PlanWish withMargin(double factor) {
        return changed(
                conditions.withPracticalMargin(conditions.practicalMargin().times(factor)),
                machines,
                questions,
                drives,
                circleRepeatability,
                factor * difference);
    }

    private PlanWish changed(
            Conditions under,
            List<Machine> ofMachines,
            Set<PlannedQuestion> asking,
            Set<Drive> driven,
            double circleScatter,
            double toBeFound) {
        return new PlanWish(
                under,
                ofMachines,
                asking,
                driven,
                circleScatter,
                readingRepeatability,
                toBeFound,
                statedUncertainty,
                pace,
                chance,
                minutes,
                knownGood);
    }

    private int fewest(Trial trial, Reference reference, String good) {
        return (int) Stream.of(Turn.values())
                .flatMap(turn -> drives.stream().map(drive -> new Cell(good, turn, drive, reference.brakes())))
                .filter(cell -> reference.covers(cell.turn(), cell.drive(), cell.brakes()))
                .mapToLong(cell -> trial.circles().stream()
                        .filter(Circle::use)
                        .filter(circle -> circle.cell().equals(cell))
                        .filter(circle -> !circle.readings().isEmpty()
                                || !circle.perimeter().isEmpty())
                        .count())
                .min()
                .orElse(0);
    }

    /** Whether the machine known to be good is driven as often as the others are. */
    boolean drivesKnownGood() {
        return knownGood
                .filter(good -> machines.stream().anyMatch(m -> m.id().equals(good.machine())))
                .isPresent();
    }

    /**
     * {@return the circles of each turn and drive the known good machine will have}
     *
     * @param planned of each other machine
     */
    int ofKnownGood(int planned) {
        int there = knownGood.map(KnownGood::circles).orElse(0);
        return there == 0 || drivesKnownGood() ? Math.max(there, planned) : there;
    }

    /**
     * {@return the largest standard uncertainty (m) the claims of a trial state, where all of them state one}
     *
     * @param trial with or without claims
     */
    public static OptionalDouble statedUncertainty(Trial trial) {
        return trial.claims().stream().allMatch(claim -> claim.uncertainty().isPresent())
                ? trial.claims().stream()
                        .mapToDouble(claim -> claim.uncertainty().get().metres())
                        .max()
                : OptionalDouble.empty();
    }

    /** {@return what keeps it from being planned, in words that say how to mend it; empty where nothing does} */
    public Optional<String> impossible() {
        double margin = conditions.practicalMargin().metres();
        if (machines.isEmpty()) {
            return Optional.of("no machine was named; accepted: one or more.");
        }
        if (questions.contains(PlannedQuestion.SIDE_BY_SIDE) && machines.size() < 2) {
            return Optional.of("side by side takes two machines or more, and " + machines.size()
                    + " was named; name the others too, or leave that question out.");
        }
        if (!(difference > margin)) {
            return Optional.of("the difference to be found is "
                    + new Wording(conditions.lengthUnit()).amount(difference)
                    + "; accepted: more than the practical margin of "
                    + new Wording(conditions.lengthUnit()).amount(margin)
                    + ", since no trial can tell a difference that equals it. Twice the margin is usual.");
        }
        return Optional.empty();
    }

    /** Turns and drives of each machine. */
    int cellsOfAMachine() {
        return 2 * drives.size();
    }
}
