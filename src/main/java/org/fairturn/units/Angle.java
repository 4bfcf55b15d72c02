package org.fairturn.units;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * An angle, held in radians.
 *
 * @param radians finite
 */
public record Angle(double radians) {
    /** Possessive where blanks may stand, or a cell full of them would take hours. */
    private static final Pattern DEGREES = Pattern.compile(
            "\\s*+([+-]?\\d{1,4}(?:\\.\\d*+)?)\\s*+(?:°|º|degrees?|deg\\.?)?(?:(?<!\\d)\\s*+(\\d{1,2}(?:\\.\\d*+)?)\\s*+['′’])?\\s*+",
            Pattern.CASE_INSENSITIVE);

    private static final int LONGEST = 60;
    private static final String ACCEPTED = "an angle in degrees such as 52, 52.5°, 52 deg or 52° 30'";

    /**
     * Checks what it is given.
     *
     * @param radians finite
     * @throws IllegalArgumentException if the angle is not finite
     */
    public Angle {
        if (!Double.isFinite(radians)) {
            throw new IllegalArgumentException("radians is " + radians + "; must be finite");
        }
    }

    /**
     * {@return the angle of so many degrees}
     *
     * @param degrees finite
     * @throws IllegalArgumentException if not finite
     */
    public static Angle degrees(double degrees) {
        return new Angle(Math.toRadians(degrees));
    }

    /** {@return the angle in degrees} */
    public double degrees() {
        return Math.toDegrees(radians);
    }

    /**
     * Reads an angle in degrees: {@code 52}, {@code 52.5°}, {@code 52 deg}, {@code 52° 30'}.
     *
     * @param text what was typed; minutes of arc after the degrees are read too
     * @return the angle, or what is wrong with the text
     */
    public static Parsed<Angle> parse(String text) {
        Matcher matcher = DEGREES.matcher(text);
        if (!matcher.matches()) {
            // as far as the pattern could follow the text, which is never far
            int position = Math.min(text.length(), LONGEST);
            while (position > 0) {
                Matcher part = DEGREES.matcher(text.substring(0, position));
                if (part.matches()) {
                    break;
                }
                position--;
            }
            boolean comma = position < text.length() && text.charAt(position) == ',';
            String mend = comma ? "If the comma is a decimal sign, write a point." : "";
            return new Parsed.Unreadable<>(new Parsed.Fault(text, position, ACCEPTED, mend));
        }
        double degrees = Double.parseDouble(matcher.group(1));
        if (matcher.group(2) != null) {
            double minutes = Double.parseDouble(matcher.group(2));
            if (minutes >= 60) {
                return new Parsed.Unreadable<>(
                        new Parsed.Fault(text, matcher.start(2), ACCEPTED, "Minutes of arc must be below 60."));
            }
            degrees += Math.copySign(minutes / 60, matcher.group(1).startsWith("-") ? -1 : 1);
        }
        return new Parsed.Read<>(degrees(degrees));
    }

    /**
     * {@return the angle in degrees with a fixed number of decimals: {@code 52.5°}}
     *
     * @param decimals digits after the point, 0 or more
     */
    public String asDegrees(int decimals) {
        return Figures.fixed(degrees(), decimals) + "°";
    }

    @Override
    public String toString() {
        return asDegrees(3).replaceFirst("\\.?0+°$", "°");
    }
}
