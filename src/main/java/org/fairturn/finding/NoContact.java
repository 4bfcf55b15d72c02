package org.fairturn.finding;

import java.util.List;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Turn;

/**
 * A steering stop that was seen not to touch the axle at full lock: wherever anyone is about to drive the machine it is said,
 * in the words the report says it in.
 *
 * @param machine id
 * @param side the front wheel the stop belongs to
 * @param limits the turn it should limit
 */
public record NoContact(String machine, Turn side, Turn limits) {
    /**
     * {@return those of some machines, in their order, left wheel before right}
     *
     * @param machines with what was noted of their stops
     */
    public static List<NoContact> of(List<Machine> machines) {
        return machines.stream()
                .flatMap(machine -> new SteeringStops(machine).withoutContact().stream())
                .toList();
    }

    /** {@return the stop in words, such as "right stop"} */
    public String stop() {
        return SteeringStops.name(side, limits);
    }

    /** What it means for whoever drives. */
    String why() {
        return machine + ": the " + stop() + " does not touch the axle at full lock, so something else limits the "
                + limits.word() + " turn, and linkage, cylinder or tyre take the load.";
    }

    /** What is done about it, before anything else. */
    static String leave() {
        return "Leave the machine until this is mended: a qualified technician finds out what limits the turn and sets the stop by"
                + " the service manual so that it touches the axle at full lock. Contact comes first; a stop is never turned"
                + " in past the specification. Chocks and rated stands first.";
    }

    /** {@return what it means and what is done about it, before anyone drives} */
    public String sentence() {
        return why() + " " + leave();
    }
}
