package org.fairturn.units;

import java.util.function.Function;

/**
 * What came of reading a piece of text: a value, or a fault that says where the reading stopped.
 *
 * @param <T> type of the value
 */
public sealed interface Parsed<T> {
    /**
     * The text was understood.
     *
     * @param <T> type of the value
     * @param value what the text says
     */
    record Read<T>(T value) implements Parsed<T> {}

    /**
     * The text was not understood.
     *
     * @param <T> type of the value there would have been
     * @param fault where and why
     */
    record Unreadable<T>(Fault fault) implements Parsed<T> {}

    /**
     * Why a text could not be read.
     *
     * @param text the text as typed
     * @param position index of the first character that could not be read, in [0, text.length()]
     * @param accepted what would have been accepted, in plain words
     * @param mend how to mend it, a sentence; empty where {@code accepted} says it all
     */
    record Fault(String text, int position, String accepted, String mend) {
        /** The text and, below it, a caret under the first character that could not be read. */
        String pointer() {
            return text + "\n" + " ".repeat(position) + "^";
        }

        @Override
        public String toString() {
            return "read \"" + text + "\"; accepted: " + accepted + "." + (mend.isEmpty() ? "" : " " + mend);
        }
    }

    /**
     * Answers with the value or the fault, whichever there is.
     *
     * @param <R> type of the answer
     * @param read is given the value
     * @param unreadable is given the fault
     * @return what the one that was asked answered
     */
    default <R> R fold(Function<? super T, ? extends R> read, Function<? super Fault, ? extends R> unreadable) {
        if (this instanceof Read<T> ok) {
            return read.apply(ok.value());
        }
        return unreadable.apply(((Unreadable<T>) this).fault());
    }

    /**
     * {@return the same outcome with the value changed; a fault stays as it is}
     *
     * @param <R> type of the new value
     * @param change is given the value, where there is one
     */
    default <R> Parsed<R> map(Function<? super T, ? extends R> change) {
        return fold(value -> new Read<>(change.apply(value)), Unreadable::new);
    }

    /**
     * {@return the value, for texts that are known to be good}
     *
     * @throws IllegalArgumentException if the text could not be read; the message is the fault's
     */
    default T orThrow() {
        return fold(value -> value, fault -> {
            throw new IllegalArgumentException(fault.toString());
        });
    }
}
