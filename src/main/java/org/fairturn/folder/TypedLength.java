package org.fairturn.folder;

import java.util.Optional;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Parsed;

/** Lengths that were typed elsewhere than into a folder, held to what its cells accept. */
public enum TypedLength {
    /** As in trial.csv. */
    PRACTICAL_MARGIN(Sensible.PRACTICAL_MARGIN),
    /** Assumed circle-to-circle repeatability, as in trial.csv. */
    CIRCLE_REPEATABILITY(Sensible.REPEATABILITY),
    /** As in machines.csv, + to the left. */
    DECK_OFFSET(Sensible.DECK_OFFSET);

    private final Sensible range;

    TypedLength(Sensible range) {
        this.range = range;
    }

    /**
     * {@return what was typed, or why a cell would not accept it}
     *
     * @param text what was typed
     * @param bareUnit the unit of a bare number
     */
    public Parsed<Length> read(String text, LengthUnit bareUnit) {
        Parsed.Fault[] refused = new Parsed.Fault[1];
        Optional<Length> length = new Lengths(bareUnit, true)
                .in(range)
                .read(
                        text,
                        (accepted, mend, caret) ->
                                refused[0] = new Parsed.Fault(text, Math.max(0, caret), accepted, mend));
        return length.<Parsed<Length>>map(Parsed.Read::new).orElseGet(() -> new Parsed.Unreadable<>(refused[0]));
    }
}
