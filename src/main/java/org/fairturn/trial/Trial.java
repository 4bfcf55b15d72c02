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
    public Trial {
        machines = List.copyOf(machines);
        circles = List.copyOf(circles);
        claims = List.copyOf(claims);
        references = List.copyOf(references);
    }

    /** A trial of which nobody complains. */
    public Trial(
            String folder, Conditions conditions, List<Machine> machines, List<Circle> circles, List<Claim> claims) {
        this(folder, conditions, machines, circles, claims, List.of());
    }

    public Optional<Machine> machine(String id) {
        return machines.stream().filter(m -> m.id().equals(id)).findFirst();
    }

    public Trial withConditions(Conditions changed) {
        return new Trial(folder, changed, machines, circles, claims);
    }

    /** The same trial with the machine of that id changed. */
    public Trial withMachine(Machine changed) {
        return new Trial(
                folder,
                conditions,
                machines.stream()
                        .map(m -> m.id().equals(changed.id()) ? changed : m)
                        .toList(),
                circles,
                claims);
    }
}
