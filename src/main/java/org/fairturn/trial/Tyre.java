package org.fairturn.trial;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.units.Pressure;

/**
 * One tyre as the machine check found it; what is not known is empty.
 *
 * @param wheel such as front left
 * @param size as it stands both on the tyre and in the manual
 * @param specified pressure by the manual
 * @param found pressure the circles were mowed with
 */
public record Tyre(String wheel, String size, Optional<Pressure> specified, Optional<Pressure> found) {
    /** All four, of which nothing is known; a machine's tyres always come in this order. */
    public static final List<Tyre> UNKNOWN = Stream.of("front left", "front right", "rear left", "rear right")
            .map(wheel -> new Tyre(wheel, "", Optional.empty(), Optional.empty()))
            .toList();

    /** {@return whether anything is known of it} */
    public boolean known() {
        return !size.isEmpty() || specified.isPresent() || found.isPresent();
    }
}
