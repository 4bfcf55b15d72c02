package org.fairturn.units;

import java.util.Locale;

/** Numbers as text: the one place that decides how many digits a reader sees. */
public final class Figures {
    private static final long[] TEN_TO = {1, 10, 100, 1_000, 10_000, 100_000, 1_000_000};
    /** Beyond that a long would not hold it scaled. */
    private static final double MOST = 1e9;
    /** So near to a tie the decimal digits decide, not the binary ones. */
    private static final double TIE = 1e-4;
    /** Half a hundredth of a millimetre (m): no calliper tells less, and computing leaves as much of a zero. */
    private static final double NOTHING = 5e-6;

    private Figures() {}

    /**
     * {@return a number with a fixed count of decimals, point as the decimal sign, never {@code -0}}
     *
     * @param value of any sign; finite
     * @param decimals digits after the point, 0 or more
     */
    public static String fixed(double value, int decimals) {
        if (Math.abs(value) < MOST && decimals < TEN_TO.length) {
            double scaled = Math.abs(value) * TEN_TO[decimals];
            long whole = (long) scaled;
            double rest = scaled - whole;
            if (Math.abs(rest - 0.5) > TIE) {
                return fixed(value < 0, rest > 0.5 ? whole + 1 : whole, decimals);
            }
        }
        String text = String.format(Locale.ROOT, "%." + decimals + "f", value);
        boolean minusZero = text.startsWith("-") && text.chars().allMatch(c -> c == '-' || c == '0' || c == '.');
        return minusZero ? text.substring(1) : text;
    }

    /** What formatting would write, many times faster: figures are what a result is made of. */
    private static String fixed(boolean minus, long scaled, int decimals) {
        StringBuilder text = new StringBuilder(16);
        if (minus && scaled != 0) {
            text.append('-');
        }
        text.append(scaled / TEN_TO[decimals]);
        if (decimals > 0) {
            text.append('.');
            String rest = Long.toString(scaled % TEN_TO[decimals]);
            text.append("000000", 0, decimals - rest.length()).append(rest);
        }
        return text.toString();
    }

    /**
     * The same for people to read: with a minus sign as long as a plus, where {@link #fixed} has a hyphen.
     *
     * @param value of any sign; finite
     * @param decimals digits after the point, 0 or more
     * @return the text, its minus sign U+2212
     */
    public static String typeset(double value, int decimals) {
        return fixed(value, decimals).replace('-', '−');
    }

    /**
     * {@return how many decimals show an uncertainty to two significant figures (JCGM 100:2008, 7.2.6): 2 for 0.94, 1 for
     * 9.4, 0 for 94 or 940}
     *
     * @param uncertainty in the unit it will be shown in; where it is 0 or not finite, 3 decimals are shown
     */
    public static int decimalsFor(double uncertainty) {
        double size = Math.abs(uncertainty);
        if (!(size > 0) || Double.isInfinite(size)) {
            return 3;
        }
        int decimals = 1 - (int) Math.floor(Math.log10(size));
        // 0.0996 rounds up to 0.100, which has one figure more than was asked for
        if (Math.round(size * Math.pow(10, decimals)) >= 100) {
            decimals--;
        }
        return Math.max(0, Math.min(6, decimals));
    }

    /**
     * {@return the fewest decimals that leave something of a length, and no fewer than asked for: 2 for 1 mm in inches, where
     * 1 was asked for}
     *
     * @param metres of either sign; less than half a hundredth of a millimetre counts as nothing
     * @param unit it will be shown in
     * @param least digits after the point that anything is shown with, 0 or more
     */
    public static int decimalsLeaving(double metres, LengthUnit unit, int least) {
        int decimals = least;
        while (isLength(metres) && !shows(metres / unit.metres(), decimals)) {
            decimals++;
        }
        return decimals;
    }

    /** Written so that NaN is none. */
    static boolean isLength(double metres) {
        return Math.abs(metres) >= NOTHING;
    }

    /** Whether a number so rounded is something other than zero. */
    static boolean shows(double value, int decimals) {
        double scaled = Math.abs(value) * Math.pow(10, decimals);
        return Math.abs(scaled - 0.5) > TIE ? scaled > 0.5 : Double.parseDouble(fixed(value, decimals)) != 0;
    }

    /**
     * {@return a probability for reading: {@code 62 %}, {@code 94.9 %}, {@code over 99.9 %}, {@code under 0.1 %}}
     *
     * @param probability in [0, 1]
     */
    public static String percent(double probability) {
        if (probability > 0.999) {
            return probability == 1 ? "100 %" : "over 99.9 %";
        }
        if (probability < 0.001) {
            return probability == 0 ? "0 %" : "under 0.1 %";
        }
        if (Math.abs(100 * probability - Math.rint(100 * probability)) < 1e-9) {
            return fixed(100 * probability, 0) + " %"; // a chosen confidence, such as 0.95
        }
        boolean nearEnd = probability > 0.9 || probability < 0.1;
        return fixed(100 * probability, nearEnd ? 1 : 0) + " %";
    }
}
