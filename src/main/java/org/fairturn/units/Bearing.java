package org.fairturn.units;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The direction in which a tape lay across a circle, clockwise from twelve o'clock.
 *
 * @param clockwise in [0, 2π) radians
 */
public record Bearing(Angle clockwise) {
    private static final Pattern CLOCK =
            Pattern.compile("\\s*+(\\d{1,2})\\s*+(?:o['’]?\\s*+clock|h)?\\s*+", Pattern.CASE_INSENSITIVE);
    private static final String ACCEPTED = "a clock position 1 to 12 or degrees such as 45°";

    /**
     * Checks what it is given.
     *
     * @param clockwise in [0, 2π) radians
     * @throws IllegalArgumentException if it lies outside [0°, 360°)
     */
    public Bearing {
        if (!(clockwise.radians() >= 0 && clockwise.radians() < 2 * Math.PI)) {
            throw new IllegalArgumentException("clockwise is " + clockwise + "; must be in [0°, 360°)");
        }
    }

    /**
     * Reads a clock position ({@code 3}, {@code 3 o'clock}) or degrees ({@code 45°}; a bare number above 12 is degrees too).
     *
     * @param text what was typed
     * @return the bearing, or what is wrong with the text
     */
    public static Parsed<Bearing> parse(String text) {
        Matcher clock = CLOCK.matcher(text);
        if (clock.matches()) {
            int hour = Integer.parseInt(clock.group(1));
            if (hour >= 1 && hour <= 12) {
                return new Parsed.Read<>(new Bearing(Angle.degrees(hour % 12 * 30)));
            }
        }
        if (text.toLowerCase(Locale.ROOT).contains("clock")) {
            return new Parsed.Unreadable<>(new Parsed.Fault(text, 0, ACCEPTED, "A clock has the hours 1 to 12."));
        }
        return Angle.parse(text)
                .fold(
                        angle -> angle.degrees() >= 0 && angle.degrees() <= 360
                                ? new Parsed.Read<>(new Bearing(Angle.degrees(angle.degrees() % 360)))
                                : new Parsed.Unreadable<>(
                                        new Parsed.Fault(text, 0, ACCEPTED, "Degrees run from 0 to 360.")),
                        fault -> new Parsed.Unreadable<>(
                                new Parsed.Fault(text, fault.position(), ACCEPTED, fault.mend())));
    }

    /** {@code 3 o'clock} where the bearing is a whole hour, else degrees. */
    @Override
    public String toString() {
        double hours = clockwise.degrees() / 30;
        long whole = Math.round(hours);
        return Math.abs(hours - whole) < 1e-9 ? (whole == 0 ? 12 : whole) + " o'clock" : clockwise.toString();
    }
}
