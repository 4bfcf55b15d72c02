package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CircleAnova;
import org.fairturn.uncertainty.Estimate;

/**
 * Two or more machines of one trial, held against each other.
 *
 * @param compared every pair of machines in every cell both have
 * @param rankedOver the cells, of the first machine, that all machines have and that the ranking is the mean over; empty
 *     where there is none, and then no ranking either
 * @param ranking the machines, smallest mean uncut diameter first
 * @param fairness what both sides would ask, held against the trial
 * @param headland which way to turn with each machine
 * @param uncut the grass each cell leaves, and how long it takes to mow it
 */
public record SideBySide(
        List<Compared> compared,
        List<Cell> rankedOver,
        List<Standing> ranking,
        List<FairnessPoint> fairness,
        List<Headland> headland,
        List<Uncut> uncut) {
    /**
     * Keeps its own copy of each list.
     *
     * @param compared every pair of machines in every cell both have
     * @param rankedOver the cells, of the first machine, that all machines have and that the ranking is the mean over;
     *     empty where there is none, and then no ranking either
     * @param ranking the machines, smallest mean uncut diameter first
     * @param fairness what both sides would ask, held against the trial
     * @param headland which way to turn with each machine
     * @param uncut the grass each cell leaves, and how long it takes to mow it
     */
    public SideBySide {
        compared = List.copyOf(compared);
        rankedOver = List.copyOf(rankedOver);
        ranking = List.copyOf(ranking);
        fairness = List.copyOf(fairness);
        headland = List.copyOf(headland);
        uncut = List.copyOf(uncut);
    }

    /**
     * Two machines in one turn and drive.
     *
     * @param machine the cell that is taken away, of the machine with the smaller circles on the whole
     * @param other the cell it is taken from
     * @param difference D(other) − D(machine) (m)
     * @param dataOnly the same from the data alone, where they suffice
     * @param restsOnAssumption whether its uncertainty is mostly the assumed repeatability's doing
     * @param apart chassis and deck apart, where the blades of both machines are known and fit the circles
     */
    public record Compared(
            Cell machine,
            Cell other,
            Estimate difference,
            Optional<CircleAnova.DataOnly> dataOnly,
            boolean restsOnAssumption,
            Optional<Apart> apart) {}

    /**
     * Chassis and deck apart (m): at the mean R̄ of the two turn radii the decks alone make D_other(R̄) − D_machine(R̄); the
     * rest is the chassis's. The two add up to the difference. Their intervals are worked out when first asked for: only a
     * report shows them.
     */
    public static final class Apart {
        private final Parts parts;
        private final Deck deck;
        private final Deck otherDeck;
        private final double radius;
        private final double otherRadius;

        /** The three quantities. */
        record Parts(Quantity chassis, Quantity deckReach, Quantity turnRadius) {}

        Apart(Parts parts, Deck deck, Deck otherDeck, double radius, double otherRadius) {
            this.parts = parts;
            this.deck = deck;
            this.otherDeck = otherDeck;
            this.radius = radius;
            this.otherRadius = otherRadius;
        }

        Parts parts() {
            return parts;
        }

        /** {@return what the turn radii make of it} */
        public Estimate chassis() {
            return parts.chassis().estimate();
        }

        /** {@return what the decks make of it at equal turn radius} */
        public Estimate deckReach() {
            return parts.deckReach().estimate();
        }

        /** {@return how much larger the other's turn radius is, R_other − R_machine (m)} */
        public Estimate turnRadius() {
            return parts.turnRadius().estimate();
        }

        /** {@return the deck of the machine} */
        public Deck deck() {
            return deck;
        }

        /** {@return the deck of the other} */
        public Deck otherDeck() {
            return otherDeck;
        }

        /** {@return turn radius R of the machine (m)} */
        public double radius() {
            return radius;
        }

        /** {@return turn radius R of the other (m)} */
        public double otherRadius() {
            return otherRadius;
        }
    }

    /**
     * Where a machine stands.
     *
     * @param machine id
     * @param diameter mean uncut diameter (m) over the cells that all machines have
     * @param places probability of each place, the first being the smallest circles
     */
    public record Standing(String machine, Estimate diameter, List<Double> places) {
        /**
         * Keeps its own copy of the list.
         *
         * @param machine id
         * @param diameter mean uncut diameter (m) over the cells that all machines have
         * @param places probability of each place, the first being the smallest circles
         */
        public Standing {
            places = List.copyOf(places);
        }
    }

    /**
     * Which way to turn.
     *
     * @param machine id
     * @param drive the circles were driven in
     * @param tighter the side of the smaller circle, where the two differ by more than the practical margin
     * @param difference D_right − D_left (m)
     * @param verdict within, beyond or cannot tell, by the decision rule
     */
    public record Headland(String machine, Drive drive, Optional<Turn> tighter, Estimate difference, Verdict verdict) {}

    /**
     * The grass one full circle leaves standing.
     *
     * @param cell machine, turn and drive
     * @param area of it; its interval is that of the diameter, squared (m²)
     * @param mowing how long it takes to mow it; empty where the blades are not known
     */
    public record Uncut(Cell cell, Area area, Optional<Mowing> mowing) {}

    /**
     * π/4·D² at the estimate and at both ends of the interval of D (m²).
     *
     * @param value best estimate (m²)
     * @param low lower end (m²)
     * @param high upper end (m²)
     */
    public record Area(double value, double low, double high) {
        static Area of(Estimate diameter) {
            return new Area(
                    square(diameter.value()),
                    square(Math.max(0, diameter.low())),
                    square(Math.max(0, diameter.high())));
        }

        private static double square(double d) {
            return Math.PI / 4 * d * d;
        }
    }

    /**
     * Going back and mowing it: t = A/(w·v), cutting alone, without the way there and without turning.
     *
     * @param width w, what the deck cuts (m)
     * @param seconds t at the area's estimate
     */
    public record Mowing(double width, double seconds) {}
}
