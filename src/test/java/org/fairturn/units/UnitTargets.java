package org.fairturn.units;

import static org.fairturn.Fuzzing.promise;

import java.nio.charset.StandardCharsets;
import org.fairturn.Fuzzing;

/** Everything that is read from one cell or field. */
public final class UnitTargets {
    private static final double MICROMETRE = 1e-6;
    private static final double FARTHEST = 2e7;

    private UnitTargets() {}

    /** A length in any unit reads back from what is written of it. */
    public static boolean lengths(byte[] input) {
        String text = text(input);
        boolean read = false;
        for (LengthUnit bare : LengthUnit.values()) {
            read |= Length.parse(text, bare).fold(UnitTargets::readsBack, fault -> explains(fault, text));
        }
        return read;
    }

    private static boolean readsBack(Length length) {
        promise(Double.isFinite(length.metres()) && Math.abs(length.metres()) <= FARTHEST, "a finite length");
        for (LengthUnit unit : LengthUnit.values()) {
            String written = length.exactly(unit);
            Length again = Length.parse(written, LengthUnit.METRE).fold(l -> l, fault -> {
                // at the very limit a micrometre of rounding may lie beyond it
                promise(Math.abs(length.metres()) > FARTHEST - 1, fault.toString());
                return length;
            });
            promise(Math.abs(again.metres() - length.metres()) <= MICROMETRE, written);
        }
        promise(!length.asInches(8).isEmpty() && !length.as(LengthUnit.METRE, 3).isEmpty(), "shown");
        return true;
    }

    /** Angles, bearings, speeds and pressures. */
    public static boolean others(byte[] input) {
        String text = text(input);
        boolean angle = Angle.parse(text)
                .fold(
                        a -> {
                            promise(Double.isFinite(a.radians()), "a finite angle");
                            double again = Angle.parse(a.toString()).orThrow().degrees();
                            promise(Math.abs(again - a.degrees()) <= 5.1e-4, a.toString()); // three decimals
                            return true;
                        },
                        fault -> explains(fault, text));
        boolean bearing = Bearing.parse(text)
                .fold(
                        b -> {
                            Bearing again = Bearing.parse(b.toString()).orThrow();
                            double apart =
                                    again.clockwise().degrees() - b.clockwise().degrees();
                            promise(Math.abs(Math.IEEEremainder(apart, 360)) <= 5.1e-4, b.toString());
                            return true;
                        },
                        fault -> explains(fault, text));
        boolean speed = Speed.parse(text)
                .fold(
                        s -> {
                            promise(s.metresPerSecond() > 0 && Double.isFinite(s.metresPerSecond()), "a finite speed");
                            promise(s.asMilesPerHour().endsWith(" mph"), s.asMilesPerHour());
                            return true;
                        },
                        fault -> explains(fault, text));
        boolean pressure = Pressure.parse(text)
                .fold(
                        p -> {
                            promise(p.kilopascals() >= 10 && p.kilopascals() <= 700, "a tyre pressure");
                            double again = Pressure.parse(Figures.fixed(p.kilopascals(), 3) + " kPa")
                                    .orThrow()
                                    .kilopascals();
                            promise(Math.abs(again - p.kilopascals()) <= 5.1e-4, p.toString()); // three decimals
                            return true;
                        },
                        fault -> explains(fault, text));
        return angle || bearing || speed || pressure;
    }

    private static boolean explains(Parsed.Fault fault, String text) {
        promise(fault.text().equals(text), "what was read");
        promise(fault.position() >= 0 && fault.position() <= text.length(), "a place in the text");
        promise(!fault.accepted().isEmpty(), "what is accepted");
        promise(fault.pointer().endsWith("^"), fault.pointer());
        Fuzzing.neverATrace(fault.toString(), text);
        return false;
    }

    private static String text(byte[] input) {
        return new String(input, StandardCharsets.UTF_8);
    }
}
