package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/**
 * The order circles are driven in, so that drying grass, worn ground or a tiring driver does not land on one cell alone.
 *
 * <p>A block holds one circle of every cell of one drive. Within it the machines alternate, and each drives one turn in the
 * first half and the other in the second; which comes first is drawn by lot, left as often as right. The blocks of the drive
 * that begins stand half before and half after those of the other: two changes of drive, the fewest with which neither
 * drive comes early on the whole. Which drive and which machine begin is drawn by lot. The same seed gives the same order.
 *
 * @see "Blocking and restricted randomisation: R. A. Fisher, The Design of Experiments (1935), chapter IV (from memory);
 *     the arrangement is our own"
 */
public final class RunOrder {
    private final SplittableRandom lots;
    private final List<String> machines;
    private final int circles;

    private RunOrder(List<String> machines, int circles, long seed) {
        this.machines = new ArrayList<>(machines);
        this.circles = circles;
        this.lots = new SplittableRandom(seed);
        shuffle(this.machines);
    }

    /**
     * {@return the cells in the order they are driven}
     *
     * @param machines ids, one or more
     * @param drives one or two
     * @param circles of each cell, 1 or more
     * @param seed the same one gives the same order
     */
    public static List<Cell> of(List<String> machines, List<Drive> drives, int circles, long seed) {
        if (machines.isEmpty() || drives.isEmpty() || circles < 1) {
            throw new IllegalArgumentException("machines " + machines + ", drives " + drives + ", circles " + circles
                    + "; must be one or more, one or two, and 1 or more");
        }
        return new RunOrder(machines, circles, seed).order(drives);
    }

    /** How often each machine changes its drive. */
    static int driveChanges(int circles, int drives) {
        return drives < 2 ? 0 : Math.min(2, circles);
    }

    private List<Cell> order(List<Drive> given) {
        List<Drive> drives = new ArrayList<>(given);
        Collections.sort(drives);
        shuffle(drives);
        // the odd block starts with a turn drawn by lot for the first machine and the first drive, and with the other
        // turn for
        // the next machine and for the second drive, so that what is left over cancels as far as it can
        Turn lot = lots.nextBoolean() ? Turn.LEFT : Turn.RIGHT;
        List<Turn> odd = IntStream.range(0, machines.size())
                .mapToObj(m -> m % 2 == 0 ? lot : lot.other())
                .toList();
        List<List<Cell>> first = blocks(drives.get(0), odd);
        List<List<Cell>> order = new ArrayList<>(first.subList(0, (circles + 1) / 2));
        if (drives.size() > 1) {
            order.addAll(blocks(drives.get(1), odd.stream().map(Turn::other).toList()));
        }
        order.addAll(first.subList((circles + 1) / 2, circles));
        return order.stream().flatMap(List::stream).toList();
    }

    private List<List<Cell>> blocks(Drive drive, List<Turn> odd) {
        List<List<Turn>> starts = IntStream.range(0, machines.size())
                .mapToObj(m -> starts(odd.get(m)))
                .toList();
        return IntStream.range(0, circles)
                .mapToObj(b -> block(
                        drive,
                        starts.stream().map(ofMachine -> ofMachine.get(b)).toList()))
                .toList();
    }

    /** The turn each block of a machine starts with. */
    private List<Turn> starts(Turn odd) {
        List<Turn> starts = new ArrayList<>();
        for (int b = 0; b + 1 < circles; b += 2) {
            starts.addAll(List.of(Turn.values()));
        }
        if (starts.size() < circles) {
            starts.add(odd);
        }
        shuffle(starts);
        return starts;
    }

    private List<Cell> block(Drive drive, List<Turn> starts) {
        List<Cell> block = new ArrayList<>();
        for (boolean firstHalf : new boolean[] {true, false}) {
            for (int m = 0; m < machines.size(); m++) {
                Turn turn = firstHalf ? starts.get(m) : starts.get(m).other();
                block.add(new Cell(machines.get(m), turn, drive, Brakes.NONE));
            }
        }
        return block;
    }

    /** Fisher and Yates, after D. E. Knuth, The Art of Computer Programming 2, 3.4.2, algorithm P (from memory). */
    private <T> void shuffle(List<T> list) {
        for (int i = list.size() - 1; i > 0; i--) {
            Collections.swap(list, i, lots.nextInt(i + 1));
        }
    }
}
