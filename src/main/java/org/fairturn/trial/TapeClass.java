package org.fairturn.trial;

import org.fairturn.units.Length;

/**
 * Accuracy classes of tapes.
 *
 * @see "OIML R 35-1:2007, clause 4; the same limits stand in Directive 2014/32/EU, Annex X (MI-008)"
 */
public enum TapeClass {
    /** ±(0.1 + 0.1·L) mm. */
    I(0.1, 0.1),
    /** ±(0.3 + 0.2·L) mm. */
    II(0.3, 0.2),
    /** ±(0.6 + 0.4·L) mm. */
    III(0.6, 0.4);

    private final double a;
    private final double b;

    TapeClass(double a, double b) {
        this.a = a;
        this.b = b;
    }

    /**
     * Maximum permissible error ±(a + b·L) mm, L in metres rounded up to the next whole metre.
     *
     * @param length measured length, 0 or more
     * @return half-width of the limits
     */
    public Length maximumPermissibleError(Length length) {
        if (!(length.metres() >= 0)) {
            throw new IllegalArgumentException("length is " + length + "; must be 0 or more");
        }
        return Length.mm(a + b * Math.ceil(length.metres()));
    }
}
