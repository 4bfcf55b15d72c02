package org.fairturn.units;

/**
 * How lengths are shown that are told in millimetres and in inches: with so many decimals that neither unit says 0 where the
 * other says something, and the ends of an interval with the same.
 *
 * @param decimalsOfMillimetres digits after the point, 0 or more
 * @param decimalsOfInches digits after the point, 0 or more
 */
public record BothUnits(int decimalsOfMillimetres, int decimalsOfInches) {
    private static final double MM = LengthUnit.MILLIMETRE.metres();
    private static final double IN = LengthUnit.INCH.metres();

    /**
     * {@return whole millimetres and tenths of an inch, as fine as a tape in grass tells, and finer where nothing would be
     * left}
     *
     * @param metres the length, of either sign
     */
    public static BothUnits coarse(double metres) {
        return leaving(metres, 0, 1);
    }

    /**
     * {@return tenths of a millimetre and hundredths of an inch, as fine as a calliper tells, and finer where nothing would be
     * left}
     *
     * @param metres the length, of either sign
     */
    public static BothUnits fine(double metres) {
        return leaving(metres, 1, 2);
    }

    /**
     * {@return the coarse way, finer where nothing would be left of half the interval's width; an end that is small beside
     * that is 0 in both units or in none}
     *
     * @param low lower end (m)
     * @param high upper end (m)
     */
    public static BothUnits interval(double low, double high) {
        double half = (high - low) / 2;
        return coarse(Figures.isLength(half) ? half : high).agreeingOn(low, high);
    }

    /**
     * {@return as fine as half the width of its interval, or its standard uncertainty, bears out; an estimate that is small
     * beside that is 0 in both units or in none}
     *
     * @param value the estimate (m)
     * @param half width or uncertainty (m), 0 or more
     */
    public static BothUnits estimate(double value, double half) {
        return coarse(Figures.isLength(half) ? half : value).agreeingOn(value);
    }

    private static BothUnits leaving(double metres, int millimetres, int inches) {
        return new BothUnits(
                Figures.decimalsLeaving(metres, LengthUnit.MILLIMETRE, millimetres),
                Figures.decimalsLeaving(metres, LengthUnit.INCH, inches));
    }

    /** As fine in the unit that says 0 as it takes to say what the other does; none where both would. */
    private BothUnits agreeingOn(double... lengths) {
        BothUnits shown = this;
        for (BothUnits before = null; !shown.equals(before); ) {
            before = shown;
            for (double metres : lengths) {
                shown = shown.agreed(metres)
                        ? shown
                        : leaving(metres, shown.decimalsOfMillimetres, shown.decimalsOfInches);
            }
        }
        return shown;
    }

    private boolean agreed(double metres) {
        return !Figures.isLength(metres)
                || Figures.shows(metres / MM, decimalsOfMillimetres) == Figures.shows(metres / IN, decimalsOfInches);
    }

    /**
     * {@return the number of millimetres, without its unit}
     *
     * @param metres finite, of either sign
     */
    public String millimetres(double metres) {
        return number(metres, MM, decimalsOfMillimetres);
    }

    /**
     * {@return the number of inches, without its unit}
     *
     * @param metres finite, of either sign
     */
    public String inches(double metres) {
        return number(metres, IN, decimalsOfInches);
    }

    private static String number(double metres, double unit, int decimals) {
        return Figures.typeset(Figures.isLength(metres) ? metres / unit : 0, decimals);
    }
}
