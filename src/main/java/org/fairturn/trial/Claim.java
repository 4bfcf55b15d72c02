package org.fairturn.trial;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.units.Length;

/**
 * A figure somebody states for a machine; what the claim leaves open is empty.
 *
 * @param id unique in its trial
 * @param who states it, empty where not noted
 * @param value the figure stated
 * @param quantity which diameter or radius the value is said to be
 * @param machine id of the machine it is about
 * @param turn the turn it is said of
 * @param drive the drive it is said of
 * @param brakes whether it is said of a turn with brakes
 * @param uncertainty standard uncertainty stated with it
 * @param circlesBehindIt how many circles it rests on, 1 or more
 * @param remark free text, empty where there is none
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

    /**
     * {@return the claim with its figure stretched, and its uncertainty with it: in another unit, or a radius made a diameter}
     *
     * @param factor above 0
     */
    public Claim times(double factor) {
        return new Claim(
                id,
                who,
                value.times(factor),
                quantity,
                machine,
                turn,
                drive,
                brakes,
                uncertainty.map(u -> u.times(factor)),
                circlesBehindIt,
                remark);
    }

    /** The quantities a claim can state. Turning and clearance circle are those of ISO 789-3. */
    public enum Quantity {
        /** D, the diameter of the standing grass left inside the circle. */
        UNCUT_DIAMETER("uncut diameter"),
        /** R, from the turn centre to the midpoint of the rear axle. */
        TURN_RADIUS("turn radius"),
        /** By ISO 789-3: of the circle that the centre of the outermost wheel's track runs on. */
        TURNING_CIRCLE_DIAMETER("turning circle diameter"),
        /** By ISO 789-3: of the circle that the outermost point of the machine runs on. */
        CLEARANCE_CIRCLE_DIAMETER("clearance circle diameter");

        /**
         * What to do with a figure that is called a radius and no more. That such a word is used of all of these is common
         * practice, no source.
         */
        public static final String LOOSE_RADIUS =
                "A radius may be half of any of three circles: write twice the figure, as turning circle diameter where it is"
                        + " measured to the outermost wheel, as clearance circle diameter where it is to the outermost point of the"
                        + " machine, as uncut diameter where it is to the grass left standing. Only a radius to the middle of the"
                        + " rear axle is a turn radius, written as it is. Where nothing says which, ask whoever states it.";

        private final String word;

        Quantity(String word) {
            this.word = word;
        }

        /** {@return what claims.csv calls it} */
        public String word() {
            return word;
        }

        /**
         * {@return whether a text names a radius other than the turn radius, as brochures do: turning radius, min. radius}
         *
         * @param text as typed
         */
        public static boolean isLooseRadius(String text) {
            List<String> words = List.of(text.strip().toLowerCase(Locale.ROOT).split("[^a-z]+"));
            return words.contains("radius") && !words.equals(List.of("turn", "radius"));
        }
    }
}
