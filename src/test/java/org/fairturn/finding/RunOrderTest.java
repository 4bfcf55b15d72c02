package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

class RunOrderTest {
    private static final List<Drive> BOTH = List.of(Drive.values());

    private record Case(List<String> machines, List<Drive> drives, int circles, long seed) {
        List<Cell> order() {
            return RunOrder.of(machines, drives, circles, seed);
        }

        int block() {
            return 2 * machines.size();
        }
    }

    private static List<Case> cases() {
        SplittableRandom random = new SplittableRandom(20260523);
        return IntStream.range(0, 400)
                .mapToObj(i -> new Case(
                        List.of("Alder", "Basalt", "Cedar", "Dogwood").subList(0, 1 + i % 4),
                        i / 4 % 2 == 0 ? BOTH : List.of(Drive.FOUR_WHEEL),
                        1 + random.nextInt(8),
                        random.nextLong()))
                .toList();
    }

    @Test
    void everyCell_comesAsOftenAsPlanned() {
        for (Case c : cases()) {
            Map<Cell, Long> counts =
                    c.order().stream().collect(Collectors.groupingBy(cell -> cell, Collectors.counting()));
            assertThat(counts).hasSize(c.block() * c.drives().size());
            assertThat(counts.values()).allMatch(n -> n == c.circles());
        }
    }

    /** A block holds each of its cells once and is driven in one drive. */
    @Test
    void blocks_areWhole() {
        for (Case c : cases()) {
            List<Cell> order = c.order();
            for (int at = 0; at < order.size(); at += c.block()) {
                Set<Cell> block = new HashSet<>(order.subList(at, at + c.block()));
                assertThat(block).hasSize(c.block());
                assertThat(block.stream().map(Cell::drive).distinct()).hasSize(1);
            }
        }
    }

    /** Both drives are on average within half a block of the middle, which is as near as an odd number of blocks allows. */
    @Test
    void everyCell_liesAboutTheMiddle() {
        for (Case c : cases()) {
            List<Cell> order = c.order();
            Map<Cell, Double> sums = new HashMap<>();
            for (int i = 0; i < order.size(); i++) {
                sums.merge(order.get(i), (double) i, Double::sum);
            }
            double middle = (order.size() - 1) / 2.0;
            double blocksOff = c.drives().size() == 1 ? 0 : c.circles() % 2 == 0 ? 0 : 0.5;
            // within a block a cell is off by less than half of it
            double allowed = (blocksOff + 0.5) * c.block();
            sums.forEach((cell, sum) -> assertThat(Math.abs(sum / c.circles() - middle))
                    .as("%s in %s", cell, c)
                    .isLessThan(allowed));
        }
    }

    /** Over all blocks left comes before right as often as after it, the odd block aside. */
    @Test
    void turns_haveNoTrendAlongTheOrder() {
        for (Case c : cases()) {
            List<Cell> order = c.order();
            for (String machine : c.machines()) {
                List<Cell> own =
                        order.stream().filter(x -> x.machine().equals(machine)).toList();
                int leftFirst = 0;
                for (int i = 0; i < own.size(); i += 2) {
                    assertThat(own.get(i).turn()).isNotEqualTo(own.get(i + 1).turn());
                    leftFirst += own.get(i).turn() == Turn.LEFT ? 1 : -1;
                }
                boolean odd = c.drives().size() == 1 && c.circles() % 2 == 1;
                assertThat(Math.abs(leftFirst)).isEqualTo(odd ? 1 : 0);
            }
            // Each pair of turns of a machine lies as many places apart as there are machines, with left now before and
            // now
            // after right: the sums, and with them the correlation of turn and place, are 0 save for a single odd
            // block.
            int trend = IntStream.range(0, order.size())
                    .map(i -> i * order.get(i).turn().sign())
                    .sum();
            boolean leftOver = c.drives().size() == 1
                    && c.circles() % 2 == 1
                    && c.machines().size() % 2 == 1;
            assertThat(Math.abs(trend))
                    .as("%s", c)
                    .isEqualTo(leftOver ? c.machines().size() : 0);
        }
    }

    @Test
    void drive_changesTwiceAtMost() {
        for (Case c : cases()) {
            List<Cell> order = c.order();
            long changes = IntStream.range(1, order.size())
                    .filter(i -> order.get(i).drive() != order.get(i - 1).drive())
                    .count();
            assertThat(changes)
                    .isEqualTo(RunOrder.driveChanges(c.circles(), c.drives().size()));
        }
    }

    @Test
    void machines_alternate() {
        for (Case c : cases()) {
            List<Cell> order = c.order();
            int m = c.machines().size();
            for (int i = m; i < order.size(); i++) {
                assertThat(order.get(i).machine()).isEqualTo(order.get(i - m).machine());
            }
        }
    }

    @Test
    void sameSeed_sameOrder_andOtherSeedsOthers() {
        List<String> machines = List.of("Alder", "Basalt");
        assertThat(RunOrder.of(machines, BOTH, 3, 42)).isEqualTo(RunOrder.of(machines, BOTH, 3, 42));
        Set<List<Cell>> orders = new HashSet<>();
        for (int seed = 0; seed < 200; seed++) {
            orders.add(RunOrder.of(machines, BOTH, 3, seed));
        }
        // 2 drives and 2 machines to begin, a lot for the odd block, 3 places for it in each of 4 rows of blocks: 648
        // orders
        assertThat(orders).hasSizeGreaterThan(120);
    }

    /** The seed alone draws: which drive was named first is no part of it. */
    @Test
    void drivesInAnotherOrder_makeNoDifference() {
        for (int seed = 0; seed < 20; seed++) {
            assertThat(RunOrder.of(List.of("Alder"), List.of(Drive.FOUR_WHEEL, Drive.TWO_WHEEL), 3, seed))
                    .isEqualTo(RunOrder.of(List.of("Alder"), BOTH, 3, seed));
        }
    }

    /** Of 900 lots each way comes as often as any other, to four standard deviations √(n·p·(1 − p)). */
    @Test
    void whatBegins_isDrawnByLot() {
        List<String> machines = List.of("Alder", "Basalt", "Cedar");
        Map<Object, Integer> begins = new HashMap<>();
        for (int seed = 0; seed < 900; seed++) {
            List<Cell> order = RunOrder.of(machines, BOTH, 3, seed);
            begins.merge(order.subList(0, 3).stream().map(Cell::machine).toList(), 1, Integer::sum);
            begins.merge(order.get(0).drive(), 1, Integer::sum);
            begins.merge(order.get(0).turn(), 1, Integer::sum);
        }
        assertThat(begins).hasSize(6 + 2 + 2);
        begins.forEach((what, times) -> {
            double p = what instanceof List ? 1.0 / 6 : 0.5;
            assertThat(times).as("%s", what).isCloseTo((int) (900 * p), within((int)
                    (4 * Math.sqrt(900 * p * (1 - p)))));
        });
    }

    @Test
    void nothingToOrder_isRefused() {
        assertThatThrownBy(() -> RunOrder.of(List.of(), BOTH, 3, 1))
                .hasMessage("machines [], drives [TWO_WHEEL, FOUR_WHEEL], circles 3; must be one or more, one or two,"
                        + " and 1 or more");
    }
}
