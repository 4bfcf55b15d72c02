package org.fairturn.trial;

import java.util.List;
import java.util.function.Function;
import org.fairturn.units.Length;

/** What was laid out with the tape. Each kind becomes a diameter in its own way and with its own uncertainty. */
public sealed interface TapeReading {
    /**
     * The chord through the judged centre.
     *
     * @param chord above 0
     */
    record Across(Length chord) implements TapeReading {}

    /**
     * A chord and the greatest distance from it to the cut edge.
     *
     * @param chord above 0
     * @param rise h, from the middle of the chord to the edge, above 0
     */
    record ChordAndRise(Length chord, Length rise) implements TapeReading {}

    /**
     * The three distances between three stakes set on the cut edge.
     *
     * @param first a, above 0 and shorter than the other two together
     * @param second b, likewise
     * @param third c, likewise
     */
    record ThreeStakes(Length first, Length second, Length third) implements TapeReading {}

    /** {@return the name of the kind as readings.csv writes it} */
    default String kind() {
        return fold(across -> "across", chordAndRise -> "chord and rise", threeStakes -> "three stakes");
    }

    /** {@return the lengths in the order readings.csv has them: value, second, third} */
    default List<Length> lengths() {
        return fold(
                across -> List.of(across.chord()),
                both -> List.of(both.chord(), both.rise()),
                three -> List.of(three.first(), three.second(), three.third()));
    }

    /**
     * Answers by kind; a new kind makes every caller say what it does with it.
     *
     * @param <R> type of the answer
     * @param across asked of a chord through the judged centre
     * @param chordAndRise asked of a chord and its rise
     * @param threeStakes asked of three distances between stakes
     * @return what the one that was asked answered
     */
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
