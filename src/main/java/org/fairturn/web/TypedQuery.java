package org.fairturn.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** What was sent with an address or a form, read field by field; what cannot be read becomes a fault beside its field. */
final class TypedQuery {
    private final Function<String, List<String>> sent;
    private final List<Page.Fault> faults = new ArrayList<>();

    TypedQuery(Function<String, List<String>> sent) {
        this.sent = sent;
    }

    /** All values of that name; none where it was not sent. */
    List<String> all(String name) {
        return sent.apply(name).stream().map(String::strip).toList();
    }

    /** The first value; empty where it was not sent. */
    String text(String name) {
        return all(name).stream().findFirst().orElse("");
    }

    /** The same, or what stands in the field before anybody typed. */
    String text(String name, String otherwise) {
        return all(name).stream().findFirst().orElse(otherwise);
    }

    void fault(Field field, String message) {
        faults.add(new Page.Fault(field.id(), field.label() + ": " + message));
    }

    /** A fault that belongs to no field, or to one that is not a line of text. */
    void fault(String id, String message) {
        faults.add(new Page.Fault(id, message));
    }

    List<Page.Fault> faults() {
        return List.copyOf(faults);
    }

    /** A length in a range that is told in words; empty where nothing was typed or it cannot be taken. */
    Optional<Length> length(Field field, LengthUnit bare, double least, double most, String accepted) {
        String typed = text(field.name());
        if (typed.isEmpty()) {
            return Optional.empty();
        }
        return Length.parse(typed, bare)
                .fold(
                        length -> {
                            if (length.metres() >= least && length.metres() <= most) {
                                return Optional.of(length);
                            }
                            fault(field, "read \"" + typed + "\"; accepted: " + accepted + ".");
                            return Optional.empty();
                        },
                        fault -> {
                            fault(field, fault.toString());
                            return Optional.empty();
                        });
    }

    /** A number; empty where nothing was typed or it cannot be taken. */
    Optional<Double> number(Field field, double least, double most, String accepted) {
        String typed = text(field.name());
        if (typed.isEmpty()) {
            return Optional.empty();
        }
        if (typed.matches("[0-9]{1,9}(\\.[0-9]{1,9})?")) {
            double number = Double.parseDouble(typed);
            if (number >= least && number <= most) {
                return Optional.of(number);
            }
        }
        fault(field, "read \"" + typed + "\"; accepted: " + accepted + ".");
        return Optional.empty();
    }

    /** A whole number of up to nine digits; empty where nothing was typed or it is another text. */
    Optional<Long> whole(Field field) {
        String typed = text(field.name());
        if (typed.isEmpty()) {
            return Optional.empty();
        }
        if (typed.matches("[0-9]{1,9}")) {
            return Optional.of(Long.parseLong(typed));
        }
        fault(field, "read \"" + typed + "\"; accepted: a whole number of up to nine digits.");
        return Optional.empty();
    }

    /** One of several words; empty where nothing was typed or it is none of them. */
    <T> Optional<T> word(Field field, T[] values, Function<T, String> word) {
        String typed = text(field.name());
        Optional<T> found = Stream.of(values)
                .filter(value -> word.apply(value).equalsIgnoreCase(typed))
                .findFirst();
        if (found.isEmpty() && !typed.isEmpty()) {
            fault(
                    field,
                    "read \"" + typed + "\"; accepted: "
                            + Stream.of(values).map(word).collect(Collectors.joining(", ")) + ".");
        }
        return found;
    }
}
