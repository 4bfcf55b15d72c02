package org.fairturn.finding;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.DoubleFunction;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;

/**
 * Changes to a trial that somebody wants to try without touching its folder. A trial changed this way is the one its folder would
 * hold with the same changes typed into the CSV files.
 *
 * @param practicalMargin another practical margin; empty for the trial's own
 * @param assumedCircleRepeatability another scale of the prior for the circle-to-circle standard deviation; empty for the trial's
 *     own
 * @param deckOffsets where decks are put, by machine, + to the left; the blades move along
 * @param circlesLeftOut ids of circles that are not to count
 */
public record WhatIf(
        Optional<Length> practicalMargin,
        Optional<Length> assumedCircleRepeatability,
        Map<String, Length> deckOffsets,
        Set<String> circlesLeftOut) {
    /** Leaves a trial as it is. */
    public static final WhatIf NOTHING = new WhatIf(Optional.empty(), Optional.empty(), Map.of(), Set.of());

    /**
     * Keeps its own copy of each map and set.
     *
     * @param practicalMargin another practical margin; empty for the trial's own
     * @param assumedCircleRepeatability another scale of the prior for the circle-to-circle standard deviation; empty for
     *     the trial's own
     * @param deckOffsets where decks are put, by machine, + to the left; the blades move along
     * @param circlesLeftOut ids of circles that are not to count
     */
    public WhatIf {
        deckOffsets = Map.copyOf(deckOffsets);
        circlesLeftOut = Set.copyOf(circlesLeftOut);
    }

    /** {@return whether it leaves every trial as it is} */
    public boolean isNothing() {
        return equals(NOTHING);
    }

    /**
     * Without what the trial has already, or has not at all: what two people ask in different words becomes the same.
     *
     * @param trial as it was measured
     * @return what is left of it; the effect is the same
     */
    public WhatIf beside(Trial trial) {
        Conditions stated = trial.conditions();
        Map<String, Length> moved = new TreeMap<>();
        for (Machine machine : trial.machines()) {
            Optional.ofNullable(deckOffsets.get(machine.id()))
                    .filter(offset -> distance(machine, offset) != 0
                            || deckOffset(machine).isEmpty())
                    .ifPresent(offset -> moved.put(machine.id(), offset));
        }
        Set<String> out = new HashSet<>();
        trial.circles().stream()
                .filter(c -> c.use() && circlesLeftOut.contains(c.id()))
                .forEach(c -> out.add(c.id()));
        return new WhatIf(
                practicalMargin.filter(m -> !m.equals(stated.practicalMargin())),
                assumedCircleRepeatability.filter(r -> !r.equals(stated.assumedCircleRepeatability())),
                moved,
                out);
    }

    /**
     * {@return the trial with these changes; the trial itself where there are none}
     *
     * @param trial as it was measured
     */
    public Trial appliedTo(Trial trial) {
        WhatIf changes = beside(trial);
        if (changes.isNothing()) {
            return trial;
        }
        Conditions conditions = trial.conditions();
        conditions =
                changes.practicalMargin.map(conditions::withPracticalMargin).orElse(conditions);
        conditions = changes.assumedCircleRepeatability
                .map(conditions::withAssumedCircleRepeatability)
                .orElse(conditions);
        Trial changed = trial.withConditions(conditions)
                .withCircles(trial.circles().stream()
                        .map(c -> changes.circlesLeftOut.contains(c.id()) ? c.withUse(false) : c)
                        .toList());
        for (Machine machine : trial.machines()) {
            Length offset = changes.deckOffsets.get(machine.id());
            if (offset != null) {
                changed = changed.withMachine(moved(machine, offset));
            }
        }
        return changed;
    }

    /**
     * {@return where a machine's deck is (m), + to the left: as stated, else the middle between the outermost blade tips;
     * empty where neither is known}
     *
     * @param machine with or without blades
     */
    public static OptionalDouble deckOffset(Machine machine) {
        return machine.deckOffset()
                .map(stated -> OptionalDouble.of(stated.value().metres()))
                .orElseGet(() -> DeckModel.of(machine, Drive.TWO_WHEEL)
                        .map(model -> OptionalDouble.of(model.deck().offset()))
                        .orElse(OptionalDouble.empty()));
    }

    private static double distance(Machine machine, Length offset) {
        OptionalDouble now = deckOffset(machine);
        return now.isPresent() ? offset.metres() - now.getAsDouble() : 0;
    }

    /** Blades move as far as the offset does; an offset that only the blades tell stays unstated. */
    private static Machine moved(Machine machine, Length offset) {
        double distance = distance(machine, offset);
        Optional<Measured> stated = machine.deckOffset().isEmpty()
                        && !machine.blades().isEmpty()
                ? Optional.empty()
                : Optional.of(new Measured(offset, machine.deckOffset().flatMap(Measured::standardUncertainty)));
        return machine.withDeckMoved(stated, distance);
    }

    /**
     * {@return what it changes in a trial, a sentence each; none where nothing}
     *
     * @param trial as it was measured
     */
    public List<String> sentences(Trial trial) {
        WhatIf changes = beside(trial);
        Conditions stated = trial.conditions();
        Wording wording = new Wording(stated.lengthUnit());
        List<String> sentences = new ArrayList<>();
        changes.practicalMargin.ifPresent(margin -> sentences.add("Practical margin "
                + instead(margin.metres(), stated.practicalMargin().metres(), wording::amount, wording::fine)));
        changes.assumedCircleRepeatability.ifPresent(assumed -> sentences.add("Assumed circle repeatability "
                + instead(
                        assumed.metres(),
                        stated.assumedCircleRepeatability().metres(),
                        wording::amount,
                        wording::fine)));
        for (Machine machine : trial.machines()) {
            Length offset = changes.deckOffsets.get(machine.id());
            if (offset != null) {
                OptionalDouble now = deckOffset(machine);
                sentences.add("Deck of " + machine.id() + " "
                        + (now.isEmpty()
                                ? side(offset.metres(), wording) + "; so far it is not known."
                                : instead(
                                        offset.metres(),
                                        now.getAsDouble(),
                                        metres -> side(metres, wording),
                                        metres -> side(metres, wording))));
            }
        }
        List<String> out = trial.circles().stream()
                .map(Circle::id)
                .filter(changes.circlesLeftOut::contains)
                .toList();
        if (!out.isEmpty()) {
            sentences.add((out.size() == 1 ? "Circle " : "Circles ") + String.join(", ", out) + " left out.");
        }
        return sentences;
    }

    /** As coarse as results are said, or finer where that would say the same twice. */
    private static String instead(double with, double now, DoubleFunction<String> coarse, DoubleFunction<String> fine) {
        boolean alike = coarse.apply(with).equals(coarse.apply(now));
        DoubleFunction<String> words = alike ? fine : coarse;
        return words.apply(with) + " instead of " + words.apply(now) + ".";
    }

    private static String side(double offset, Wording wording) {
        return wording.fine(offset) + (offset == 0 ? "" : offset < 0 ? " to the right" : " to the left");
    }
}
