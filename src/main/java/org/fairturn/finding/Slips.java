package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.IntPredicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.trial.Reading;
import org.fairturn.trial.TapeReading;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** What a reading was, had one of the usual slips of tape and pencil happened. Which they are is common practice, no source. */
final class Slips {
    /** Two digits with at most a point between them. */
    private static final Pattern TWO_DIGITS = Pattern.compile("(?=(\\d)(\\.?)(\\d))");
    /** The first unit in a length, if any. */
    private static final Pattern UNIT = Pattern.compile("[\\p{L}\"'″′”’]+");
    /** A number with at most one unit, behind it. */
    private static final Pattern ONE_UNIT = Pattern.compile("([^\\p{L}\"'″′”’]+)[\\p{L}\"'″′”’]*\\.?\\s*");
    /** Of a reading in another unit. */
    static final String WRONG_UNIT = "wrongUnit";

    /** A step that is easily miscounted on a tape. */
    private record Step(String words, Length length) {}

    private static final List<Step> ON_AN_INCH_TAPE =
            List.of(new Step("a foot", Length.inches(12)), new Step("ten inches", Length.inches(10)));
    private static final List<Step> ON_A_METRIC_TAPE = List.of(new Step("ten centimetres", Length.mm(100)));

    private final Observations observations;
    private final LengthUnit bareUnit;

    /**
     * One slip.
     *
     * @param code of the warning it makes
     * @param instead the reading as it was meant, as a diameter
     * @param said the same as the beginning of a sentence: {@code If … , it was …}
     */
    record Slip(String code, Observation instead, String said) {}

    Slips(Observations observations, LengthUnit bareUnit) {
        this.observations = observations;
        this.bareUnit = bareUnit;
    }

    /** Every slip that leaves lengths a circle fits; where it is not known how the reading was typed, only a radius for a diameter. */
    List<Slip> of(Reading reading) {
        List<String> each = typed(reading);
        List<Slip> slips = new ArrayList<>();
        for (int i = 0; i < each.size(); i++) {
            swappedDigits(reading, i, each.get(i), slips);
            miscounted(reading, i, each.get(i), slips);
        }
        if (reading.tape() instanceof TapeReading.Across across) {
            Length twice = new Length(2 * across.chord().metres());
            String typed = each.isEmpty() ? "" : each.get(0);
            String was = typed.isEmpty() ? across.chord().exactly(bareUnit) : typed;
            add(
                    reading,
                    0,
                    twice,
                    "radiusAsDiameter",
                    "If " + was + " is the radius, the diameter is " + shown(twice, typed),
                    slips);
        }
        slips.addAll(inOtherUnits(reading));
        return slips;
    }

    /** Its lengths as they were typed; none where that is not known. */
    private static List<String> typed(Reading reading) {
        List<String> typed = List.of(reading.written().split("; ", -1));
        return !reading.written().isEmpty()
                        && typed.size() == reading.tape().lengths().size()
                ? typed
                : List.of();
    }

    /** Each length by itself in every other unit, and all of them together. */
    List<Slip> inOtherUnits(Reading reading) {
        List<String> each = typed(reading);
        List<Slip> slips = new ArrayList<>();
        for (LengthUnit other : LengthUnit.values()) {
            for (int i = 0; i < each.size(); i++) {
                int only = i;
                inUnit(reading, other, k -> k == only).ifPresent(slips::add);
            }
            if (each.size() > 1) {
                inUnit(reading, other, k -> true).ifPresent(slips::add);
            }
        }
        return slips;
    }

    /** The lengths that were typed without a unit taken in another one; empty where all have theirs, or no circle fits then. */
    Optional<Slip> withoutUnitIn(Reading reading, LengthUnit other) {
        List<String> each = typed(reading);
        return inUnit(reading, other, i -> !UNIT.matcher(each.get(i)).find());
    }

    /** Empty where one of the lengths is in that unit already or has more than one. */
    private Optional<Slip> inUnit(Reading reading, LengthUnit other, IntPredicate which) {
        List<String> each = typed(reading);
        List<Length> lengths = new ArrayList<>(reading.tape().lengths());
        List<String> was = new ArrayList<>();
        List<String> instead = new ArrayList<>();
        for (int i = 0; i < each.size(); i++) {
            if (which.test(i)) {
                Matcher number = ONE_UNIT.matcher(each.get(i));
                if (unit(each.get(i)) == other || !number.matches()) {
                    return Optional.empty();
                }
                was.add(each.get(i));
                instead.add(number.group(1).strip() + " " + other.symbol());
                lengths.set(i, Length.parse(instead.get(was.size() - 1), other).fold(l -> l, fault -> new Length(0)));
            }
        }
        List<Slip> slips = new ArrayList<>();
        if (!was.isEmpty()) {
            add(
                    reading,
                    lengths,
                    WRONG_UNIT,
                    "If " + String.join("; ", was) + " was meant in " + other.words() + ", it was "
                            + String.join("; ", instead),
                    slips);
        }
        return slips.stream().findFirst();
    }

    private void swappedDigits(Reading reading, int i, String typed, List<Slip> slips) {
        Matcher pair = TWO_DIGITS.matcher(typed);
        while (pair.find()) {
            String swapped = typed.substring(0, pair.start())
                    + pair.group(3)
                    + pair.group(2)
                    + pair.group(1)
                    + typed.substring(pair.end(3));
            if (!swapped.equals(typed)) {
                Length.parse(swapped, bareUnit)
                        .<Optional<Length>>fold(Optional::of, fault -> Optional.empty())
                        .ifPresent(length -> add(
                                reading,
                                i,
                                length,
                                "digitSwap",
                                "If two digits of " + typed + " were swapped, it was " + swapped,
                                slips));
            }
        }
    }

    private void miscounted(Reading reading, int i, String typed, List<Slip> slips) {
        double here = reading.tape().lengths().get(i).metres();
        for (Step step : unit(typed).isInch() ? ON_AN_INCH_TAPE : ON_A_METRIC_TAPE) {
            for (int sign : new int[] {1, -1}) {
                Length length = new Length(here + sign * step.length().metres());
                add(
                        reading,
                        i,
                        length,
                        "footSlip",
                        "If " + typed + " is " + step.words() + (sign > 0 ? " short" : " too long") + ", it was "
                                + shown(length, typed),
                        slips);
            }
        }
    }

    private void add(Reading reading, int i, Length length, String code, String said, List<Slip> slips) {
        List<Length> lengths = new ArrayList<>(reading.tape().lengths());
        lengths.set(i, length);
        add(reading, lengths, code, said, slips);
    }

    private void add(Reading reading, List<Length> lengths, String code, String said, List<Slip> slips) {
        rebuilt(reading.tape(), lengths)
                .ifPresent(tape -> slips.add(new Slip(
                        code,
                        observations.of(new Reading(
                                tape,
                                reading.bearing(),
                                reading.measurer(),
                                reading.remark(),
                                reading.row(),
                                reading.written())),
                        said)));
    }

    private LengthUnit unit(String typed) {
        Matcher unit = UNIT.matcher(typed.strip().toLowerCase(Locale.ROOT));
        return unit.find() ? LengthUnit.named(unit.group()).orElse(bareUnit) : bareUnit;
    }

    private String shown(Length length, String typed) {
        LengthUnit unit = unit(typed);
        return unit.isInch() ? length.asInches(16) : length.exactly(unit);
    }

    private static Optional<TapeReading> rebuilt(TapeReading tape, List<Length> l) {
        if (l.stream().anyMatch(length -> !(length.metres() > 0))) {
            return Optional.empty();
        }
        return tape.fold(
                across -> Optional.of(new TapeReading.Across(l.get(0))),
                both -> l.get(1).metres() <= l.get(0).metres()
                        ? Optional.of(new TapeReading.ChordAndRise(l.get(0), l.get(1)))
                        : Optional.empty(),
                three -> triangle(l.get(0).metres(), l.get(1).metres(), l.get(2).metres())
                        ? Optional.of(new TapeReading.ThreeStakes(l.get(0), l.get(1), l.get(2)))
                        : Optional.empty());
    }

    /** Clearly a triangle: each side at least a thousandth shorter than the other two together. */
    private static boolean triangle(double a, double b, double c) {
        return 2 * Math.max(a, Math.max(b, c)) < 0.999 * (a + b + c);
    }
}
