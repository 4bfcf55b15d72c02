package org.fairturn.trial;

import java.util.Optional;
import org.fairturn.units.Length;

/**
 * A length of a machine, with its standard uncertainty where one was stated.
 *
 * @param standardUncertainty 0 or more
 */
public record Measured(Length value, Optional<Length> standardUncertainty) {
    /** The stated standard uncertainty, else the one given here. */
    public Length uncertaintyOr(Length assumed) {
        return standardUncertainty.orElse(assumed);
    }
}
