package org.fairturn.trial;

import java.util.Optional;
import org.fairturn.units.Bearing;

/**
 * One measurement on one circle.
 *
 * @param tape the lengths that were read and what they mean
 * @param bearing which way the tape lay, where noted
 * @param measurer who read the tape, empty where not noted
 * @param remark free text, empty where there is none
 * @param row its row in readings.csv, the header being row 1
 * @param written the lengths as they were typed
 */
public record Reading(
        TapeReading tape, Optional<Bearing> bearing, String measurer, String remark, int row, String written) {}
