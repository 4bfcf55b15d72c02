package org.fairturn.geometry;

import java.util.OptionalDouble;

/**
 * The turning circle of a machine: what the centre plane of its outermost wheel's track draws on the ground, taken to be the
 * outer front wheel's. Any point of the machine draws such a circle, so the clearance circle is the one of its outermost
 * point, with that point and its likeness on the other side in the place of the wheels.
 *
 * @param ahead how far the front axle lies ahead of the turn centre (m): wheelbase less turn centre shift
 * @param track distance t between the centre planes of the front wheels (m), in [0, ∞)
 * @see "The definition: ISO 789-3, from memory. The formulae: own derivation, Pythagoras"
 */
public record TurningCircle(double ahead, double track) {
    /** A radius of 0 (m) must survive there and back. */
    private static final double ROUNDING = 1e-9;

    /**
     * Checks what it is given.
     *
     * @param ahead how far the front axle lies ahead of the turn centre (m): wheelbase less turn centre shift
     * @param track distance t between the centre planes of the front wheels (m), in [0, ∞)
     * @throws IllegalArgumentException if the axle's place is not finite or the track not in [0, ∞) m
     */
    public TurningCircle {
        if (!Double.isFinite(ahead) || !(track >= 0 && track < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "front axle " + ahead + " m ahead, track " + track + " m; must be finite and in [0, ∞) m");
        }
    }

    /**
     * {@return diameter 2·√(ahead² + (R + t/2)²) (m) at a turn radius R (m)}
     *
     * @param turnRadius R (m), in [0, ∞)
     */
    public double diameter(double turnRadius) {
        return 2 * Math.hypot(ahead, turnRadius + track / 2);
    }

    /**
     * {@return turn radius R = √((diameter/2)² − ahead²) − t/2 (m), its inverse; empty where no R of 0 or more has so small
     * a circle}
     *
     * @param diameter of the circle (m), in [0, ∞)
     */
    public OptionalDouble turnRadius(double diameter) {
        double radius = Math.sqrt((diameter / 2 - ahead) * (diameter / 2 + ahead)) - track / 2;
        return radius > -ROUNDING ? OptionalDouble.of(Math.max(0, radius)) : OptionalDouble.empty();
    }
}
