package org.fairturn.trial;

import java.util.List;
import java.util.Optional;

/**
 * One field session: machines, their circles and readings, and what people claim about them.
 *
 * @param folder name of the trial folder, without its path
 * @param conditions title, date, place and the settings of the analysis
 * @param machines in the order they were listed, ids unique
 * @param circles in the order they were listed, ids unique, each on a machine of this trial
 * @param claims in the order they were listed, ids unique
 * @param references what machines complained of are held against, in the order they were listed
 */
public record Trial(
        String folder,
        Conditions conditions,
        List<Machine> machines,
        List<Circle> circles,
        List<Claim> claims,
        List<Reference> references) {
    /**
     * Keeps its own copy of each list.
     *
     * @param folder name of the trial folder, without its path
     * @param conditions title, date, place and the settings of the analysis
     * @param machines in the order they were listed, ids unique
     * @param circles in the order they were listed, ids unique, each on a machine of this trial
     * @param claims in the order they were listed, ids unique
     * @param references what machines complained of are held against, in the order they were listed
     */
    public Trial {
        machines = List.copyOf(machines);
        circles = List.copyOf(circles);
        claims = List.copyOf(claims);
        references = List.copyOf(references);
    }

    /**
     * A trial of which nobody complains.
     *
     * @param folder name of the trial folder, without its path
     * @param conditions title, date, place and settings
     * @param machines ids unique
     * @param circles ids unique, each on a machine of this trial
     * @param claims ids unique
     */
    public Trial(
            String folder, Conditions conditions, List<Machine> machines, List<Circle> circles, List<Claim> claims) {
        this(folder, conditions, machines, circles, claims, List.of());
    }

    /**
     * {@return the machine of that id; empty where the trial has none}
     *
     * @param id letter case matters
     */
    public Optional<Machine> machine(String id) {
        return machines.stream().filter(m -> m.id().equals(id)).findFirst();
    }

    /**
     * {@return the same trial under other conditions}
     *
     * @param changed in place of its own
     */
    public Trial withConditions(Conditions changed) {
        return new Trial(folder, changed, machines, circles, claims, references);
    }

    /**
     * {@return the same trial with other circles}
     *
     * @param changed in place of its own, each on a machine of this trial
     */
    public Trial withCircles(List<Circle> changed) {
        return new Trial(folder, conditions, machines, changed, claims, references);
    }

    /**
     * {@return the same trial with the machine of that id changed}
     *
     * @param changed takes the place of the machine that has its id
     */
    public Trial withMachine(Machine changed) {
        return new Trial(
                folder,
                conditions,
                machines.stream()
                        .map(m -> m.id().equals(changed.id()) ? changed : m)
                        .toList(),
                circles,
                claims,
                references);
    }
}
