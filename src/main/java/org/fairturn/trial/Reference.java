package org.fairturn.trial;

import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.units.Length;

/**
 * What a machine that somebody complains of is held against: a stated figure, or another machine of the trial.
 *
 * @param machine id of the machine complained of
 * @param knownGood id of the machine it is held against; empty where a figure is
 * @param value the figure; empty where a machine is given
 * @param quantity which diameter or radius the figure is
 * @param turn the turn it stands for; empty for both
 * @param drive the drive it stands for; empty for both
 * @param brakes whether it stands for turns with brakes
 * @param uncertainty standard uncertainty stated with the figure
 * @param circlesBehindIt how many circles the figure rests on, 1 or more
 * @param source where it comes from; references of one machine with the same source belong together
 * @param remark free text, empty where there is none
 */
public record Reference(
        String machine,
        Optional<String> knownGood,
        Optional<Length> value,
        Claim.Quantity quantity,
        Optional<Turn> turn,
        Optional<Drive> drive,
        Brakes brakes,
        Optional<Length> uncertainty,
        OptionalInt circlesBehindIt,
        String source,
        String remark) {
    /**
     * Checks what it is given.
     *
     * @param machine id of the machine complained of
     * @param knownGood id of the machine it is held against; empty where a figure is
     * @param value the figure; empty where a machine is given
     * @param quantity which diameter or radius the figure is
     * @param turn the turn it stands for; empty for both
     * @param drive the drive it stands for; empty for both
     * @param brakes whether it stands for turns with brakes
     * @param uncertainty standard uncertainty stated with the figure
     * @param circlesBehindIt how many circles the figure rests on, 1 or more
     * @param source where it comes from; references of one machine with the same source belong together
     * @param remark free text, empty where there is none
     * @throws IllegalArgumentException if it holds both a machine and a figure, or neither
     */
    public Reference {
        if (knownGood.isPresent() == value.isPresent()) {
            throw new IllegalArgumentException("a reference is either a machine or a figure, not both or neither");
        }
    }

    /**
     * {@return whether it speaks of circles driven that way}
     *
     * @param driven turn of the circles
     * @param in their drive
     * @param with their brakes, which have to be the same
     */
    public boolean covers(Turn driven, Drive in, Brakes with) {
        return turn.map(driven::equals).orElse(true) && drive.map(in::equals).orElse(true) && brakes == with;
    }

    /** {@return the same reference said of the other turn; one that stands for both stays as it is} */
    public Reference withTurnsExchanged() {
        return new Reference(
                machine,
                knownGood,
                value,
                quantity,
                turn.map(Turn::other),
                drive,
                brakes,
                uncertainty,
                circlesBehindIt,
                source,
                remark);
    }
}
