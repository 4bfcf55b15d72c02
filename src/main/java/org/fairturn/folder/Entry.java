package org.fairturn.folder;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.trial.Claim;
import org.fairturn.units.Angle;
import org.fairturn.units.Bearing;
import org.fairturn.units.Parsed;
import org.fairturn.units.Speed;

/**
 * What may stand in a cell.
 *
 * @param <T> what it means
 */
interface Entry<T> {
    /** Told why a text is not accepted. */
    interface Refusal {
        void because(String accepted, String mend, int caret);
    }

    /** What is accepted, in words that follow "accepted:". */
    String accepted();

    /** The meaning of a text that is not blank; empty after a refusal. */
    Optional<T> read(String text, Refusal refusal);

    /** The same entry, its refusals led by what it is for. */
    default Entry<T> called(String lead) {
        Entry<T> plain = this;
        return new Entry<>() {
            @Override
            public String accepted() {
                return lead + plain.accepted();
            }

            @Override
            public Optional<T> read(String text, Refusal refusal) {
                return plain.read(text, (accepted, mend, caret) -> refusal.because(lead + accepted, mend, caret));
            }
        };
    }

    /** An entry that passes on what a parser says. */
    static <T> Entry<T> parsed(String accepted, Function<String, Parsed<T>> parser) {
        return of(
                accepted,
                (text, refusal) -> parser.apply(text).fold(Optional::of, fault -> {
                    refusal.because(fault.accepted(), fault.mend(), fault.position());
                    return Optional.empty();
                }));
    }

    /** How one kind of entry is read. */
    interface Reader<T> {
        Optional<T> read(String text, Refusal refusal);
    }

    static <T> Entry<T> of(String accepted, Reader<T> reader) {
        return new Entry<>() {
            @Override
            public String accepted() {
                return accepted;
            }

            @Override
            public Optional<T> read(String text, Refusal refusal) {
                return reader.read(text, refusal);
            }
        };
    }

    static Entry<String> text(String accepted) {
        return of(accepted, (text, refusal) -> Optional.of(text));
    }

    /** One of a few words, letter case aside. */
    static <T> Entry<T> word(Map<String, T> words) {
        List<String> names = List.copyOf(words.keySet());
        String accepted = either(names);
        Map<String, T> byWord = new LinkedHashMap<>();
        words.forEach((word, meaning) -> byWord.put(Table.word(word), meaning));
        return of(accepted, (text, refusal) -> {
            Optional<T> meaning = Optional.ofNullable(byWord.get(Table.word(text)));
            if (meaning.isEmpty()) {
                refusal.because(accepted, Nearest.question(text, names), -1);
            }
            return meaning;
        });
    }

    /** One of the constants of an enumeration, by the word people write for it. */
    static <T> Entry<T> word(T[] constants, Function<T, String> word) {
        Map<String, T> words = new LinkedHashMap<>();
        for (T constant : constants) {
            words.put(word.apply(constant), constant);
        }
        return word(words);
    }

    /** The quantities a figure may be stated of. A radius by itself may be several of them, and none is guessed. */
    static Entry<Claim.Quantity> quantity() {
        Entry<Claim.Quantity> plain = word(Claim.Quantity.values(), Claim.Quantity::word);
        return of(
                plain.accepted(),
                (text, refusal) -> plain.read(
                        text,
                        (accepted, mend, caret) -> refusal.because(
                                accepted,
                                Claim.Quantity.isLooseRadius(text) ? Claim.Quantity.LOOSE_RADIUS : mend,
                                caret)));
    }

    /** As {@link #word(Object[], Function)}, and {@code unstated} for what is left open. */
    static <T> Entry<Optional<T>> wordOrUnstated(T[] constants, Function<T, String> word) {
        Map<String, Optional<T>> words = new LinkedHashMap<>();
        for (T constant : constants) {
            words.put(word.apply(constant), Optional.of(constant));
        }
        words.put("unstated", Optional.empty());
        return word(words);
    }

    static Entry<Boolean> yesOrNo() {
        Map<String, Boolean> words = new LinkedHashMap<>();
        words.put("yes", true);
        words.put("no", false);
        return word(words);
    }

    static Entry<Integer> count(int most) {
        String accepted = "a whole number from 1 to " + most;
        return of(accepted, (text, refusal) -> {
            if (!text.isEmpty() && text.length() <= 9 && text.chars().allMatch(c -> c >= '0' && c <= '9')) {
                int count = Integer.parseInt(text);
                if (count >= 1 && count <= most) {
                    return Optional.of(count);
                }
            }
            refusal.because(accepted, "", -1);
            return Optional.empty();
        });
    }

    static Entry<LocalDate> day() {
        String accepted = "a day written year-month-day, such as 2026-05-14";
        return of(accepted, (text, refusal) -> {
            try {
                return Optional.of(LocalDate.parse(text));
            } catch (DateTimeParseException notOne) {
                boolean shaped = text.matches("[0-9]{4}-[0-9]{2}-[0-9]{2}");
                refusal.because(
                        accepted,
                        shaped
                                ? "The calendar has no such day."
                                : "Write the year first; a spreadsheet may have rearranged it.",
                        -1);
                return Optional.empty();
            }
        });
    }

    /** A probability in (0.5, 1): {@code 95}, {@code 95 %} or {@code 0.95}; a number above 1 is taken in per cent. */
    static Entry<Double> confidence() {
        Pattern number = Pattern.compile("([0-9]{0,3}(?:\\.[0-9]{1,9})?)[\\s\\h]*(%?)");
        String accepted = "a probability above 50 % and below 100 %, such as 95 %, 95 or 0.95";
        return of(accepted, (text, refusal) -> {
            Matcher matcher = number.matcher(text);
            if (matcher.matches() && !matcher.group(1).isEmpty()) {
                double written = Double.parseDouble(matcher.group(1));
                double probability = written > 1 || !matcher.group(2).isEmpty() ? written / 100 : written;
                if (probability > 0.5 && probability < 1) {
                    return Optional.of(probability);
                }
            }
            int comma = text.indexOf(',');
            refusal.because(accepted, comma < 0 ? "" : "If the comma is a decimal sign, write a point.", comma);
            return Optional.empty();
        });
    }

    static Entry<Angle> lockAngle() {
        String accepted = "a lock angle above 0° and below 90°, such as 52 or 52.5°";
        return of(
                accepted,
                (text, refusal) -> Angle.parse(text)
                        .fold(
                                angle -> {
                                    if (angle.degrees() > 0 && angle.degrees() < 90) {
                                        return Optional.of(angle);
                                    }
                                    refusal.because(accepted, "", -1);
                                    return Optional.empty();
                                },
                                fault -> {
                                    refusal.because(fault.accepted(), fault.mend(), fault.position());
                                    return Optional.empty();
                                }));
    }

    /** A speed at which a mower can be driven. */
    static Entry<Speed> speed() {
        String accepted = "a mowing speed from 0.5 km/h to 30 km/h with its unit, such as 5 km/h or 3 mph";
        return of(
                accepted,
                (text, refusal) -> Speed.parse(text)
                        .fold(
                                speed -> {
                                    if (speed.metresPerSecond() >= 0.5 / 3.6 && speed.metresPerSecond() <= 30 / 3.6) {
                                        return Optional.of(speed);
                                    }
                                    refusal.because(accepted, "Check the number and its unit.", -1);
                                    return Optional.empty();
                                },
                                fault -> {
                                    refusal.because(accepted, fault.mend(), fault.position());
                                    return Optional.empty();
                                }));
    }

    static Entry<Bearing> bearing() {
        return parsed("a clock position 1 to 12 or degrees such as 45°", Bearing::parse);
    }

    private static String either(List<String> words) {
        List<String> first = new ArrayList<>(words);
        String last = first.remove(first.size() - 1);
        return first.isEmpty() ? last : String.join(", ", first) + " or " + last;
    }
}
