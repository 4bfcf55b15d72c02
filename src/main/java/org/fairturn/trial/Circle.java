package org.fairturn.trial;

import java.util.List;
import java.util.OptionalInt;

/**
 * One uncut disc left by full-lock laps on the same track, with what was measured on it.
 *
 * @param id unique in its trial
 * @param cell machine, turn and drive it was mowed with
 * @param order place in the run order, where noted
 * @param laps how many laps were driven, where noted
 * @param use false where the user took it out; it is then listed, never analysed
 * @param remark free text, empty where there is none
 * @param row its row in circles.csv, the header being row 1
 * @param readings what the tape said, in the order of the file
 * @param perimeter points along the cut edge, in any ground frame; empty where none were taken
 */
public record Circle(
        String id,
        Cell cell,
        OptionalInt order,
        OptionalInt laps,
        boolean use,
        String remark,
        int row,
        List<Reading> readings,
        List<GroundPoint> perimeter) {
    /**
     * Keeps its own copy of each list.
     *
     * @param id unique in its trial
     * @param cell machine, turn and drive it was mowed with
     * @param order place in the run order, where noted
     * @param laps how many laps were driven, where noted
     * @param use false where the user took it out; it is then listed, never analysed
     * @param remark free text, empty where there is none
     * @param row its row in circles.csv, the header being row 1
     * @param readings what the tape said, in the order of the file
     * @param perimeter points along the cut edge, in any ground frame; empty where none were taken
     */
    public Circle {
        readings = List.copyOf(readings);
        perimeter = List.copyOf(perimeter);
    }

    /**
     * {@return the same circle taken out, or counted again}
     *
     * @param counted whether the analysis is to use it
     */
    public Circle withUse(boolean counted) {
        return new Circle(id, cell, order, laps, counted, remark, row, readings, perimeter);
    }

    /**
     * {@return the same circle with other readings}
     *
     * @param others in place of those it has
     */
    public Circle withReadings(List<Reading> others) {
        return new Circle(id, cell, order, laps, use, remark, row, others, perimeter);
    }
}
