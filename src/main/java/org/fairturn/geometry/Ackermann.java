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

    /** Angle of the inner wheel (rad) at a turn radius (m). */
    public double innerLock(double turnRadius) {
        return Math.atan2(wheelbase, turnRadius - kingPinTrack / 2);
    }

    /** Angle of the outer wheel (rad) at a turn radius (m). */
    public double outerLock(double turnRadius) {
        return Math.atan2(wheelbase, turnRadius + kingPinTrack / 2);
    }
}
