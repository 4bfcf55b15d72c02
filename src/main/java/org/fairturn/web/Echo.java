package org.fairturn.web;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.units.Figures;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Parsed;

/**
 * A length told back to whoever typed it: as typed, and in the other units beside it, so that a slip shows at once. The keypad
 * in {@code entry.js} works out the same without the server.
 */
final class Echo {
    /** The first unit in a length, if any. */
    private static final Pattern UNIT = Pattern.compile("[\\p{L}\"'″′”’]+");

    /** Lifts what lies halfway, such as 63.5 mm, over the rounding of binary fractions. */
    private static final double HALFWAY = 1e-7;

    private Echo() {}

    /** Such as {@code 1.58 m (62 1/4 in)}, {@code 5 ft 2 in (1.575 m)}; or why it cannot be read. */
    static Parsed<String> of(String text, LengthUnit bareUnit) {
        String typed = text.strip();
        return Length.parse(typed, bareUnit).map(length -> both(typed, length, bareUnit));
    }

    private static String both(String typed, Length length, LengthUnit bareUnit) {
        Matcher written = UNIT.matcher(typed.toLowerCase(Locale.ROOT));
        boolean bare = !written.find();
        LengthUnit unit = bare ? bareUnit : LengthUnit.named(written.group()).orElse(bareUnit);
        String other = unit.isInch()
                ? Figures.fixed(Math.floor(length.millimetres() + 0.5 + HALFWAY) / 1000, 3) + " m"
                : length.asInches(8);
        return typed + (bare ? " " + bareUnit.symbol() : "") + " (" + other + ")";
    }
}
