package org.fairturn.units;

import java.math.BigDecimal;
import java.math.RoundingMode;

/**
 * A length, held in metres.
 *
 * @param metres finite; negative where a side is meant (a deck offset to the right)
 */
public record Length(double metres) implements Comparable<Length> {
    private static final double MM = LengthUnit.MILLIMETRE.metres();
    private static final double IN = LengthUnit.INCH.metres();

    /**
     * Checks what it is given.
     *
     * @param metres finite; negative where a side is meant (a deck offset to the right)
     * @throws IllegalArgumentException if the length is not finite
     */
    public Length {
        if (!Double.isFinite(metres)) {
            throw new IllegalArgumentException("metres is " + metres + "; must be finite");
        }
    }

    /**
     * {@return a length given in some unit}
     *
     * @param amount finite; how many of the unit
     * @param unit which one
     */
    public static Length of(double amount, LengthUnit unit) {
        return new Length(amount * unit.metres());
    }

    /**
     * {@return a length of so many millimetres}
     *
     * @param millimetres finite
     */
    public static Length mm(double millimetres) {
        return new Length(millimetres * MM);
    }

    /**
     * {@return a length of so many inches}
     *
     * @param inches finite
     */
    public static Length inches(double inches) {
        return new Length(inches * IN);
    }

    /**
     * Reads a length as people write it: {@code 1.58 m}, {@code 158 cm}, {@code 1580 mm}, {@code 62 in},
     * {@code 62 3/8 in}, {@code 62-3/8"}, {@code 5 ft 2 in}, {@code 5' 2 3/8"}, or a bare number.
     *
     * @param text what was typed
     * @param bareUnit the unit of a bare number
     * @return the length, or what is wrong with the text
     */
    public static Parsed<Length> parse(String text, LengthUnit bareUnit) {
        return new LengthReader(text, bareUnit).read();
    }

    /**
     * {@return the length stretched}
     *
     * @param factor finite, of either sign
     */
    public Length times(double factor) {
        return new Length(metres * factor);
    }

    /**
     * {@return how many of a unit the length is}
     *
     * @param unit of the number returned
     */
    public double in(LengthUnit unit) {
        return metres / unit.metres();
    }

    /** {@return the length in millimetres} */
    public double millimetres() {
        return metres / MM;
    }

    /**
     * {@return the length as a tape shows it, to the nearest fraction of an inch: {@code 62 3/8 in}, {@code -3/4 in},
     * {@code 62 in}}
     *
     * @param denominator fractions of an inch, a power of two in [1, 64]
     */
    public String asInches(int denominator) {
        long parts = Math.round(in(LengthUnit.INCH) * denominator);
        long whole = Math.abs(parts) / denominator;
        long rest = Math.abs(parts) % denominator;
        String sign = parts < 0 ? "-" : "";
        if (rest == 0) {
            return sign + whole + " in";
        }
        long common = Long.lowestOneBit(rest | denominator);
        String fraction = rest / common + "/" + denominator / common;
        return sign + (whole == 0 ? fraction : whole + " " + fraction) + " in";
    }

    /**
     * {@return the length in a unit with a fixed number of decimals, for people to read: {@code 1.580 m}}
     *
     * @param unit which the number is in, and whose symbol follows it
     * @param decimals digits after the point, in [0, 9]
     */
    public String as(LengthUnit unit, int decimals) {
        return Figures.typeset(in(unit), decimals) + " " + unit.symbol();
    }

    /**
     * {@return the length in a unit with as many digits as it takes to read the same value back to 1 µm}
     *
     * @param unit which the number is in, and whose symbol follows it
     */
    public String exactly(LengthUnit unit) {
        BigDecimal digits = BigDecimal.valueOf(in(unit)).setScale(9, RoundingMode.HALF_UP);
        return digits.stripTrailingZeros().toPlainString() + " " + unit.symbol();
    }

    @Override
    public int compareTo(Length other) {
        return Double.compare(metres, other.metres);
    }

    @Override
    public String toString() {
        return exactly(LengthUnit.MILLIMETRE);
    }
}
