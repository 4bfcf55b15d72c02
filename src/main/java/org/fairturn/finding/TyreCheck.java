package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Tyre;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Pressure;

/** Whether a machine's tyres stood at the pressures specified, and alike left and right. */
final class TyreCheck {
    /** How far pressures may lie apart (kPa) and still agree: a mark of a usual gauge, rounding counted. Our own choice. */
    private static final double AGREES = 10.001;

    private TyreCheck() {}

    /** What is off, in words; empty where nothing is, as far as it is known. */
    static List<String> off(Machine machine, LengthUnit unit) {
        List<String> off = new ArrayList<>();
        List<Tyre> tyres = machine.tyres();
        for (int i = 0; i < tyres.size(); i += 2) {
            Tyre left = tyres.get(i);
            Tyre right = tyres.get(i + 1);
            List<String> specified = Stream.of(left, right)
                    .flatMap(t -> differ(t, "specified ", t.specified(), unit).stream())
                    .toList();
            off.addAll(specified);
            if (specified.isEmpty()) {
                differ(left, right.wheel() + " ", right.found(), unit).ifPresent(off::add);
            }
        }
        return off;
    }

    private static Optional<String> differ(Tyre tyre, String name, Optional<Pressure> other, LengthUnit unit) {
        return tyre.found()
                .flatMap(found -> other.filter(o -> Math.abs(o.kilopascals() - found.kilopascals()) > AGREES)
                        .map(o -> tyre.wheel() + " " + found.beside(unit) + ", " + name + o.beside(unit)));
    }

    static boolean complete(Machine machine) {
        return machine.tyres().stream()
                .noneMatch(t -> t.size().isEmpty()
                        || t.specified().isEmpty()
                        || t.found().isEmpty());
    }
}
