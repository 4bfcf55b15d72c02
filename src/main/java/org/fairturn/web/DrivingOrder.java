package org.fairturn.web;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/**
 * In which order new circles are driven: machine by machine and drive by drive, so that little is changed over, and turns
 * mixed, so that drying grass or a tiring driver does not land on one side alone. Common practice, no source.
 */
final class DrivingOrder {
    private DrivingOrder() {}

    /**
     * Left, right, right, left, and so on: what drifts steadily falls on both turns alike.
     *
     * @param each circles of each cell
     */
    static List<Cell> alternating(List<String> machines, List<Drive> drives, List<Turn> turns, int each) {
        List<Cell> order = new ArrayList<>();
        for (String machine : machines) {
            for (Drive drive : drives) {
                for (int i = 0; i < each; i++) {
                    List<Turn> pair = new ArrayList<>(turns);
                    if (i % 2 == 1) {
                        Collections.reverse(pair);
                    }
                    pair.forEach(turn -> order.add(new Cell(machine, turn, drive, Brakes.NONE)));
                }
            }
        }
        return order;
    }

    /** The same circles with the turns of each machine and drive in an order drawn by lot; the same seed, the same order. */
    static List<Cell> shuffled(List<String> machines, List<Drive> drives, List<Turn> turns, int each, long seed) {
        List<Cell> order = new ArrayList<>();
        SplittableRandom lot = new SplittableRandom(seed);
        for (String machine : machines) {
            for (Drive drive : drives) {
                List<Cell> block = new ArrayList<>(alternating(List.of(machine), List.of(drive), turns, each));
                for (int i = block.size() - 1; i > 0; i--) { // Fisher and Yates
                    Collections.swap(block, i, lot.nextInt(i + 1));
                }
                order.addAll(block);
            }
        }
        return order;
    }
}
