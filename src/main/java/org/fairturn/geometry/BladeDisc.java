package org.fairturn.geometry;

/**
 * The disc one blade sweeps.
 *
 * @param x how far its spindle lies ahead of the rear axle (m)
 * @param y how far it lies to the left of the centreline (m)
 * @param r tip radius (m), in (0, ∞)
 */
public record BladeDisc(double x, double y, double r) {
    /**
     * Checks what it is given.
     *
     * @param x how far its spindle lies ahead of the rear axle (m)
     * @param y how far it lies to the left of the centreline (m)
     * @param r tip radius (m), in (0, ∞)
     * @throws IllegalArgumentException if a number is not finite or the radius not above 0
     */
    public BladeDisc {
        if (!(r > 0) || !Double.isFinite(x) || !Double.isFinite(y) || !Double.isFinite(r)) {
            throw new IllegalArgumentException("blade at (" + x + ", " + y + ") m with tip radius " + r
                    + " m; must be finite, radius in (0, ∞) m");
        }
    }
}
