package org.fairturn.geometry;

/**
 * Ideal steering about the rear axle line: cot δ_inner = (R − t/2)/L and cot δ_outer = (R + t/2)/L, with wheelbase L and
 * distance t between the king-pin axes.
 *
 * @param wheelbase L (m), in (0, ∞)
 * @param kingPinTrack t (m), in [0, ∞)
 * @see "The condition is Ackermann's (British patent 4212, 1818); from memory. It stands in any text on vehicle steering"
 */
public record Ackermann(double wheelbase, double kingPinTrack) {
    /**
     * Checks what it is given.
     *
     * @param wheelbase L (m), in (0, ∞)
     * @param kingPinTrack t (m), in [0, ∞)
     * @throws IllegalArgumentException if the wheelbase is not in (0, ∞) m or the track not in [0, ∞) m
     */
    public Ackermann {
        if (!(wheelbase > 0 && wheelbase < Double.POSITIVE_INFINITY)
                || !(kingPinTrack >= 0 && kingPinTrack < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("wheelbase is " + wheelbase + " m, king-pin track " + kingPinTrack
                    + " m; must be in (0, ∞) m and [0, ∞) m");
        }
    }

    /**
     * Turn radius at an angle of the inner wheel: R = L·cot δ + t/2.
     *
     * @param innerLock δ (rad), in (0, π/2)
     * @return R (m), turn centre to the midpoint of the rear axle
     */
    public double turnRadius(double innerLock) {
        if (!(innerLock > 0 && innerLock < Math.PI / 2)) {
            throw new IllegalArgumentException("inner lock angle is " + innerLock + " rad; must be in (0, π/2) rad");
        }
        return wheelbase / Math.tan(innerLock) + kingPinTrack / 2;
    }

    /**
     * Turn radius at an angle of the outer wheel: R = L·cot δ − t/2.
     *
     * @param outerLock δ (rad), in (0, π/2)
     * @return R (m), turn centre to the midpoint of the rear axle
     */
    public double turnRadiusByOuter(double outerLock) {
        return turnRadius(outerLock) - kingPinTrack;
    }

    /**
     * {@return angle of the inner wheel (rad) at a turn radius (m)}
     *
     * @param turnRadius R (m), in [0, ∞)
     */
    public double innerLock(double turnRadius) {
        return Math.atan2(wheelbase, turnRadius - kingPinTrack / 2);
    }

    /**
     * How the turn radius changes with the angle of either wheel: dR/dδ = −L/sin²δ (m/rad).
     *
     * @param lock δ (rad) of the wheel meant, in (0, π/2)
     * @return in (−∞, −L]
     */
    public double slope(double lock) {
        if (!(lock > 0 && lock < Math.PI / 2)) {
            throw new IllegalArgumentException("lock angle is " + lock + " rad; must be in (0, π/2) rad");
        }
        double sine = Math.sin(lock);
        return -wheelbase / (sine * sine);
    }

    /**
     * How much longer the path of the front axle's midpoint is than that of the rear axle's: √(R² + L²)/R. A front axle
     * geared in to roll exactly so much faster would run this circle without skidding; a smaller ratio belongs to a wider one.
     *
     * @param turnRadius R (m), in (0, ∞)
     * @return in (1, ∞)
     * @see "Own derivation: both midpoints circle the same centre, the front one at √(R² + L²) by Pythagoras; kinematics only, no
     *     tyre gives way"
     */
    public double pathRatio(double turnRadius) {
        if (!(turnRadius > 0 && turnRadius < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("turn radius is " + turnRadius + " m; must be in (0, ∞) m");
        }
        return Math.hypot(turnRadius, wheelbase) / turnRadius;
    }

    /**
     * {@return angle of the outer wheel (rad) at a turn radius (m)}
     *
     * @param turnRadius R (m), in [0, ∞)
     */
    public double outerLock(double turnRadius) {
        return Math.atan2(wheelbase, turnRadius + kingPinTrack / 2);
    }
}
