package org.fairturn.finding;

import java.util.List;
import java.util.function.Function;

/** What the decision rule says about a quantity q, given the practical margin m and the required confidence. */
public sealed interface Verdict {
    /**
     * P(|q| ≤ m) reached the confidence.
     *
     * @param probability P(|q| ≤ m), in [0, 1]
     */
    record Within(double probability) implements Verdict {}

    /**
     * {@code P(q > m)} or {@code P(q < −m)} reached it; the probability is that one.
     *
     * @param probability of lying beyond the margin on the side meant, in [0, 1]
     * @param sense what that side is called
     */
    record Beyond(double probability, Sense sense) implements Verdict {}

    /**
     * Neither did.
     *
     * @param probability the highest of P(|q| ≤ m), {@code P(q > m)} and {@code P(q < −m)}
     * @param outlook what more circles would change
     */
    record CannotTell(double probability, Outlook outlook) implements Verdict {}

    /**
     * The trial lacks something the question needs.
     *
     * @param missing what has to be measured or written down, in words
     */
    record NotPossible(List<String> missing) implements Verdict {
        /**
         * Keeps its own copy of the list.
         *
         * @param missing what has to be measured or written down, in words
         */
        public NotPossible {
            missing = List.copyOf(missing);
        }
    }

    /** On which side a quantity lies beyond the margin. */
    enum Sense {
        /** {@code q > m}. */
        WIDER("wider"),
        /** {@code q < −m}. */
        TIGHTER("tighter"),
        /** One of the two, the side being told by the estimate's sign. */
        EITHER("beyond");

        private final String word;

        Sense(String word) {
            this.word = word;
        }
    }

    /**
     * Answers by case.
     *
     * @param <R> type of the answer
     * @param within asked where it is within the margin
     * @param beyond asked where it is beyond the margin
     * @param cannotTell asked where neither reached the confidence
     * @param notPossible asked where something is missing
     * @return what the one that was asked answered
     */
    default <R> R fold(
            Function<Within, R> within,
            Function<Beyond, R> beyond,
            Function<CannotTell, R> cannotTell,
            Function<NotPossible, R> notPossible) {
        if (this instanceof Within w) {
            return within.apply(w);
        } else if (this instanceof Beyond b) {
            return beyond.apply(b);
        } else if (this instanceof CannotTell c) {
            return cannotTell.apply(c);
        }
        return notPossible.apply((NotPossible) this);
    }

    /** {@return the verdict as results.json writes it: within, beyond, tighter, wider, cannotTell or notPossible} */
    default String word() {
        return fold(w -> "within", b -> b.sense().word, c -> "cannotTell", n -> "notPossible");
    }

    /** {@return whether it is within or beyond the margin} */
    default boolean decided() {
        return fold(w -> true, b -> true, c -> false, n -> false);
    }

    /**
     * {@return probability of what it says, of the likelier side where it cannot tell; NaN where the question cannot be
     * asked}
     */
    default double probability() {
        return fold(Within::probability, Beyond::probability, CannotTell::probability, n -> Double.NaN);
    }
}
