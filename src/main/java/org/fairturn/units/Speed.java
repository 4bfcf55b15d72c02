package org.fairturn.units;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A speed, held in metres per second.
 *
 * @param metresPerSecond in (0, ∞)
 */
public record Speed(double metresPerSecond) {
    private static final Pattern WRITTEN =
            Pattern.compile("\\s*(\\d{1,3}(?:\\.\\d{0,9})?)\\s*(km/h|kmh|kph|mph|mi/h)\\s*", Pattern.CASE_INSENSITIVE);
    private static final Pattern NUMBER = Pattern.compile("\\s*\\d*(?:\\.\\d*)?");
    private static final String ACCEPTED = "a speed with its unit such as 5 km/h or 3 mph";
    /** One hour in seconds. */
    private static final double HOUR = 3600;
    /** The international mile (m). */
    private static final double MILE = 1609.344;

    /**
     * Checks what it is given.
     *
     * @param metresPerSecond in (0, ∞)
     * @throws IllegalArgumentException if the speed is not in (0, ∞) m/s
     */
    public Speed {
        if (!(metresPerSecond > 0 && metresPerSecond < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("speed is " + metresPerSecond + " m/s; must be in (0, ∞) m/s");
        }
    }

    /**
     * {@return a speed of so many kilometres an hour}
     *
     * @param amount km/h, in (0, ∞)
     * @throws IllegalArgumentException if it lies outside
     */
    public static Speed kilometresPerHour(double amount) {
        return new Speed(1000 * amount / HOUR);
    }

    static Speed milesPerHour(double amount) {
        return new Speed(MILE * amount / HOUR);
    }

    /**
     * Reads a speed: {@code 5 km/h}, {@code 3 mph}. A bare number is refused, since it could be either.
     *
     * @param text what was typed
     * @return the speed, or what is wrong with the text
     */
    public static Parsed<Speed> parse(String text) {
        Matcher matcher = WRITTEN.matcher(text);
        if (!matcher.matches()) {
            Matcher number = NUMBER.matcher(text);
            int position = number.lookingAt() ? number.end() : 0;
            boolean comma = position < text.length() && text.charAt(position) == ',';
            return fault(text, position, comma ? "If the comma is a decimal sign, write a point." : "");
        }
        double amount = Double.parseDouble(matcher.group(1));
        if (!(amount > 0)) {
            return fault(text, 0, "A speed is above 0.");
        }
        boolean miles = matcher.group(2).toLowerCase(Locale.ROOT).startsWith("m");
        return new Parsed.Read<>(miles ? milesPerHour(amount) : kilometresPerHour(amount));
    }

    private static Parsed<Speed> fault(String text, int position, String mend) {
        return new Parsed.Unreadable<>(new Parsed.Fault(text, position, ACCEPTED, mend));
    }

    /** {@return the speed to a tenth, such as {@code 5.0 km/h}} */
    public String asKilometresPerHour() {
        return Figures.fixed(metresPerSecond * HOUR / 1000, 1) + " km/h";
    }

    /** {@return the speed to a tenth, such as {@code 3.1 mph}} */
    public String asMilesPerHour() {
        return Figures.fixed(metresPerSecond * HOUR / MILE, 1) + " mph";
    }
}
