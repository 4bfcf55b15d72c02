package org.fairturn.units;

import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The pressure in a tyre, above that of the air around it.
 *
 * @param kilopascals in [10, 700]
 */
public record Pressure(double kilopascals) {
    private static final Pattern WRITTEN =
            Pattern.compile("(\\d{1,3}(?:\\.\\d{0,3})?)[\\s\\h]*(psi|bar|kpa)", Pattern.CASE_INSENSITIVE);
    private static final double BAR = 100;
    /** A pound-force on a square inch, 4.448 221 615 260 5 N on (25.4 mm)² (kPa): NIST SP 811:2008, appendix B.8. */
    private static final double PSI = 6.894757;

    private static final Map<String, Double> UNITS = Map.of("psi", PSI, "bar", BAR, "kpa", 1.0);
    private static final String ACCEPTED =
            "a tyre pressure from 0.1 bar to 7 bar with its unit, such as 22 psi, 1.5 bar or 150 kPa";

    /**
     * Checks what it is given.
     *
     * @param kilopascals in [10, 700]
     * @throws IllegalArgumentException if it lies outside
     */
    public Pressure {
        if (!holds(kilopascals)) {
            throw new IllegalArgumentException("kilopascals is " + kilopascals + "; must be in [10, 700]");
        }
    }

    private static boolean holds(double kilopascals) {
        return kilopascals >= 10 && kilopascals <= 700;
    }

    /**
     * Reads a pressure: {@code 22 psi}, {@code 1.5 bar}, {@code 150 kPa}. A bare number is refused, since it could be any.
     *
     * @param text what was typed
     * @return the pressure, or what is wrong with the text
     */
    public static Parsed<Pressure> parse(String text) {
        Matcher matcher = WRITTEN.matcher(text);
        if (matcher.matches()) {
            double read = Double.parseDouble(matcher.group(1))
                    * UNITS.get(matcher.group(2).toLowerCase(Locale.ROOT));
            if (holds(read)) {
                return new Parsed.Read<>(new Pressure(read));
            }
        }
        int comma = text.indexOf(',');
        String mend = comma < 0 ? "Check the number and its unit." : "If the comma is a decimal sign, write a point.";
        return new Parsed.Unreadable<>(new Parsed.Fault(text, Math.max(0, comma), ACCEPTED, mend));
    }

    /**
     * {@return the pressure in both units: {@code 22 psi (1.52 bar)}}
     *
     * @param shown the length unit it stands beside; with inches psi come first
     */
    public String beside(LengthUnit shown) {
        String psi = Figures.fixed(kilopascals / PSI, 0) + " psi";
        String bar = Figures.fixed(kilopascals / BAR, 2) + " bar";
        return shown.isInch() ? psi + " (" + bar + ")" : bar + " (" + psi + ")";
    }
}
