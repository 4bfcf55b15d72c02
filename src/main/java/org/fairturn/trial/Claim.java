package org.fairturn.trial;

import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.units.Length;

/**
 * A figure somebody states for a machine; what the claim leaves open is empty.
 *
 * @param id unique in its trial
 * @param who states it, empty where not noted
 * @param quantity which diameter or radius the value is said to be
 * @param machine id of the machine it is about
 * @param uncertainty standard uncertainty stated with it
 * @param circlesBehindIt how many circles it rests on, 1 or more
 */
public record Claim(
        String id,
        String who,
        Length value,
        Quantity quantity,
        Optional<String> machine,
        Optional<Turn> turn,
        Optional<Drive> drive,
        Optional<Brakes> brakes,
        Optional<Length> uncertainty,
        OptionalInt circlesBehindIt,
        String remark) {

    /** The quantities a claim can state. Turning and clearance circle are those of ISO 789-3. */
    public enum Quantity {
        UNCUT_DIAMETER("uncut diameter"),
        TURN_RADIUS("turn radius"),
        TURNING_CIRCLE_DIAMETER("turning circle diameter"),
        CLEARANCE_CIRCLE_DIAMETER("clearance circle diameter");

        private final String word;

        Quantity(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }
}
