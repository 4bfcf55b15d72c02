package org.fairturn.uncertainty;

/**
 * How far two independent results x and X lie apart, measured by their uncertainties. The sign is kept: plus where x is the
 * larger.
 *
 * @see "ISO 13528, E_n score and zeta score: |E_n| ≤ 1 and |ζ| ≤ 2 are satisfactory; from memory"
 */
public final class Agreement {
    /** |ζ| up to which two results are said to agree. */
    public static final double SATISFACTORY_ZETA = 2;

    private Agreement() {}

    /**
     * ζ = (x − X)/√(u_x² + u_X²).
     *
     * @param x one value
     * @param ux standard uncertainty of x, in [0, ∞); not both 0
     * @param bigX X, the value it is held against, in the same unit
     * @param uX standard uncertainty of X, in [0, ∞)
     * @return dimensionless; satisfactory within ±2
     */
    public static double zeta(double x, double ux, double bigX, double uX) {
        double u = Math.hypot(ux, uX);
        if (!(ux >= 0 && uX >= 0 && u > 0 && u < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "uncertainties are " + ux + " and " + uX + "; must be in [0, ∞), one of them above 0");
        }
        return (x - bigX) / u;
    }

    /**
     * E_n = (x − X)/√(U_x² + U_X²).
     *
     * @param x one value
     * @param expandedX U_x = 2·u_x, coverage factor k = 2
     * @param bigX X, the value it is held against, in the same unit
     * @param expandedBigX U_X = 2·u_X
     * @return dimensionless; satisfactory within ±1
     */
    public static double en(double x, double expandedX, double bigX, double expandedBigX) {
        return zeta(x, expandedX, bigX, expandedBigX);
    }
}
