package org.fairturn.trial;

import java.util.function.Function;
import org.fairturn.units.Length;

/** What was laid out with the tape. Each kind becomes a diameter in its own way and with its own uncertainty. */
public sealed interface TapeReading {
    /** The chord through the judged centre. */
    record Across(Length chord) implements TapeReading {}

    /** A chord and the greatest distance from it to the cut edge. */
    record ChordAndRise(Length chord, Length rise) implements TapeReading {}

    /** The three distances between three stakes set on the cut edge. */
    record ThreeStakes(Length first, Length second, Length third) implements TapeReading {}

    /** The name of the kind as readings.csv writes it. */
    default String kind() {
        return fold(across -> "across", chordAndRise -> "chord and rise", threeStakes -> "three stakes");
    }

    /** Answers by kind; a new kind makes every caller say what it does with it. */
    default <R> R fold(
            Function<Across, R> across, Function<ChordAndRise, R> chordAndRise, Function<ThreeStakes, R> threeStakes) {
        if (this instanceof Across a) {
            return across.apply(a);
        } else if (this instanceof ChordAndRise c) {
            return chordAndRise.apply(c);
        }
        return threeStakes.apply((ThreeStakes) this);
    }
}
