package org.fairturn.folder;

import java.util.Optional;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * Reads the lengths of one folder.
 *
 * @param bareUnit unit of a bare number
 * @param unitKnown false where the trial names no unit: bare numbers are then read to find other faults, and any size is let pass
 */
record Lengths(LengthUnit bareUnit, boolean unitKnown) {
    Entry<Length> in(Sensible range) {
        return Entry.of(
                range.accepted(),
                (text, refusal) -> Length.parse(text, bareUnit)
                        .fold(
                                length -> {
                                    boolean bare = text.chars().noneMatch(Lengths::belongsToUnit);
                                    if (range.holds(length) || (bare && !unitKnown)) {
                                        return Optional.of(length);
                                    }
                                    String mend = bare
                                            ? "A number without a unit is read as " + bareUnit.symbol()
                                                    + " here; write the unit with it if it is another."
                                            : "Check the number and its unit.";
                                    refusal.because(range.accepted(), mend, -1);
                                    return Optional.empty();
                                },
                                fault -> {
                                    refusal.because(fault.accepted(), fault.mend(), fault.position());
                                    return Optional.empty();
                                }));
    }

    private static boolean belongsToUnit(int c) {
        return Character.isLetter(c) || "\"'″′”’".indexOf(c) >= 0;
    }
}
