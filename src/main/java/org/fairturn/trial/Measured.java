package org.fairturn.trial;

import java.util.Optional;
import org.fairturn.units.Length;

/**
 * A length of a machine, with its standard uncertainty where one was stated.
 *
 * @param value best estimate, of either sign
 * @param standardUncertainty 0 or more
 */
public record Measured(Length value, Optional<Length> standardUncertainty) {
    /**
     * {@return the stated standard uncertainty, else the one given here}
     *
     * @param assumed standard uncertainty where none was stated, 0 or more
     */
    public Length uncertaintyOr(Length assumed) {
        return standardUncertainty.orElse(assumed);
    }
}
