package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.function.DoublePredicate;
import org.assertj.core.data.Offset;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.uncertainty.RepeatabilityPosterior.Level;
import org.junit.jupiter.api.Test;

/** How many further circles, and with what chance, against the decision rule itself asked at every estimate. */
class OutlookChanceTest {
    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);
    private static final Offset<Double> PRECISE = within(1e-6);
    private static final Cell LEFT = new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
    private static final Cell RIGHT = new Cell("Alder", Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE);
    private static final Cell FOUR = new Cell("Alder", Turn.LEFT, Drive.FOUR_WHEEL, Brakes.NONE);
    private static final List<Cell> CELLS = List.of(LEFT, RIGHT, FOUR);

    /** Scatter and uncertainty today of three cells (mm). */
    private static Level level(double weight, double scatter, double... today) {
        double v = 1e-6 * scatter * scatter;
        return new Level(
                weight,
                List.of(v, v, v),
                List.of(1e-6 * today[0] * today[0], 1e-6 * today[1] * today[1], 1e-6 * today[2] * today[2]));
    }

    private static Outlook outlook(double[] c, double mean, double fixed, Level... levels) {
        return Outlook.of(CELLS, c, mean, fixed, List.of(levels), RULE);
    }

    private static double variance(double[] c, int[] further, Level level) {
        double sum = 0;
        for (int k = 0; k < c.length; k++) {
            double now = level.cellVariances().get(k);
            double each = level.newCircleVariances().get(k);
            sum += c[k] * c[k] * now * each / (each + further[k] * now);
        }
        return sum;
    }

    /** Limits of the estimate by asking the rule, and how often a normal estimate about today's lies beyond them. */
    private static double chance(double[] c, int[] further, double mean, double fixed, Level... levels) {
        double sum = 0;
        double weights = 0;
        for (Level level : levels) {
            double then = variance(c, further, level);
            double s2 = then + fixed;
            double spread = Math.sqrt(variance(c, new int[c.length], level) - then);
            double most = last(x -> word(x, s2).equals("within"));
            double least = last(x -> !word(x, s2).equals("beyond"));
            double settled = below(-least - mean, spread) + below(mean - least, spread);
            if (most >= 0) {
                settled += below(most - mean, spread) - below(-most - mean, spread);
            }
            sum += level.weight() * settled;
            weights += level.weight();
        }
        return sum / weights;
    }

    private static double below(double x, double spread) {
        return Quantiles.normalProbability(x / spread);
    }

    private static String word(double estimate, double variance) {
        return RULE.decide(
                        new NormalMixture(new double[] {1}, new double[] {estimate}, new double[] {variance}),
                        DecisionRule.Asks.UNSIGNED)
                .map(Verdict::word)
                .orElse("cannotTell");
    }

    /** The last value from 0 on at which something holds; −1 where it does not hold at 0. */
    private static double last(DoublePredicate holds) {
        if (!holds.test(0)) {
            return -1;
        }
        double low = 0;
        double high = 2;
        for (int i = 0; i < 50; i++) {
            double middle = (low + high) / 2;
            if (holds.test(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** All ways to share n circles among the three cells, and of these the one that leaves the least variance over the levels. */
    private static int[] best(double[] c, int n, Level... levels) {
        int[] best = null;
        double least = Double.POSITIVE_INFINITY;
        for (int a = 0; a <= n; a++) {
            for (int b = 0; a + b <= n; b++) {
                int[] further = {a, b, n - a - b};
                double after = 0;
                for (Level level : levels) {
                    after += level.weight() * variance(c, further, level);
                }
                if (after < least - 1e-18) {
                    least = after;
                    best = further;
                }
            }
        }
        return best;
    }

    /** The fewest that have 80 %, by trying all; cells that are not in the question are never driven. */
    @Test
    void furtherCircles_areTheFewestThatSettleIt() {
        double[][] contrasts = {{-1, 1, 0}, {1, 0, 0}, {0.5, 0.5, -1}};
        Level[] levels = {level(0.4, 8, 9, 14, 6), level(1, 16, 17, 25, 10), level(0.6, 30, 28, 40, 18)};
        int settled = 0;
        for (double[] c : contrasts) {
            for (double mean : new double[] {-0.13, -0.02, 0, 0.01, 0.09, 0.12}) {
                Outlook found = outlook(c, mean, 2e-5, levels);
                int n = 1;
                while (n <= 24 && chance(c, best(c, n, levels), mean, 2e-5, levels) < 0.8) {
                    n++;
                }
                if (n > 24) {
                    assertThat(found.furtherCircles()).isEmpty();
                    assertThat(found.total()).isZero();
                    assertThat(found.chance()).isCloseTo(chance(c, best(c, 24, levels), mean, 2e-5, levels), PRECISE);
                    continue;
                }
                settled++;
                int[] further = best(c, n, levels);
                assertThat(found.total()).as("%s", mean).isEqualTo(n);
                assertThat(found.chance()).isCloseTo(chance(c, further, mean, 2e-5, levels), PRECISE);
                assertThat(found.obstacle()).isEqualTo(Outlook.Obstacle.NONE);
                for (int k = 0; k < 3; k++) {
                    assertThat(found.furtherCircles().getOrDefault(CELLS.get(k), 0))
                            .isEqualTo(further[k]);
                    assertThat(found.furtherCircles().containsKey(CELLS.get(k))).isEqualTo(further[k] > 0);
                }
            }
        }
        assertThat(settled).isGreaterThan(8);
    }

    /** A deck known so badly that nothing can be found within: only what lies far beyond counts. */
    @Test
    void whereWithinIsOutOfReach_onlyBeyondCounts() {
        Level known = level(1, 10, 30, 30, 30);
        double fixed = 0.026 * 0.026; // 1.96 × 26 mm are more than the margin
        for (double mean : new double[] {0, 0.15}) {
            Outlook found = outlook(new double[] {1, 0, 0}, mean, fixed, known);
            int n = found.furtherCircles().isEmpty() ? 24 : found.total();
            assertThat(found.chance())
                    .isCloseTo(chance(new double[] {1, 0, 0}, new int[] {n, 0, 0}, mean, fixed, known), PRECISE);
        }
        assertThat(outlook(new double[] {1, 0, 0}, 0, fixed, known).chance()).isLessThan(0.01);
        // both tails count where the margin is 1.96 to 2 of them: just within reach
        double reached = 0.0252 * 0.0252;
        Outlook barely = outlook(new double[] {1, 0, 0}, 0.001, reached, level(1, 10, 12, 30, 30));
        assertThat(barely.chance())
                .isCloseTo(
                        chance(new double[] {1, 0, 0}, new int[] {24, 0, 0}, 0.001, reached, level(1, 10, 12, 30, 30)),
                        PRECISE);
        assertThat(barely.chance()).isGreaterThan(0.01);
    }

    /** Circles that do not scatter at all: one more tells all, on whichever side of the margin it will lie. */
    @Test
    void withoutScatter_oneMoreCircleSettlesIt() {
        Outlook found = outlook(new double[] {0, 1, 0}, 0.04, 0, level(1, 0, 20, 20, 20));
        assertThat(found.furtherCircles()).isEqualTo(Map.of(RIGHT, 1));
        assertThat(found.chance()).isCloseTo(1, within(1e-12));
    }

    /**
     * By hand: 50 mm today and a scatter of 50 mm leave 50/√25 = 10 mm after 24 circles, so that a geometry of more than 10 mm
     * is most of it. With 9.95 mm, room for a verdict is 2·√(10² + 9.95²) = 28.2 mm, and half the margin 25 mm counts as near.
     */
    @Test
    void obstacle_isTheGeometry_elseTheMargin_elseTodaysFigure() {
        assertThat(obstacle(0.070, 10.05)).isEqualTo(Outlook.Obstacle.GEOMETRY);
        for (int side : new int[] {-1, 1}) {
            assertThat(obstacle(side * 0.026, 9.95)).isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
            assertThat(obstacle(side * 0.024, 9.95)).isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
            assertThat(obstacle(side * 0.074, 9.95)).isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
            assertThat(obstacle(side * 0.076, 9.95)).isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
        }
        // 70 or 80 mm today leave the same 10 mm, but one that is unsure by 1.5 margins and more seems to lie nowhere
        assertThat(outlook(new double[] {1, 0, 0}, 0.060, 99e-6, level(1, 50, 70, 70, 70))
                        .obstacle())
                .isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
        assertThat(outlook(new double[] {1, 0, 0}, 0.060, 99e-6, level(1, 50, 80, 80, 80))
                        .obstacle())
                .isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
        // a margin of 28 mm leaves no room
        Outlook narrow = Outlook.of(
                CELLS,
                new double[] {1, 0, 0},
                0.028,
                99e-6,
                List.of(level(1, 50, 50, 50, 50)),
                new DecisionRule(0.028, 0.95));
        assertThat(narrow.obstacle()).isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
        // with room of 28.2 mm and a margin of 60 mm no more than that room is near
        Outlook wide = Outlook.of(
                CELLS,
                new double[] {1, 0, 0},
                0.060 - 0.029,
                99e-6,
                List.of(level(1, 50, 50, 50, 50)),
                new DecisionRule(0.060, 0.95));
        assertThat(wide.obstacle()).isEqualTo(Outlook.Obstacle.UNCERTAIN_TODAY);
    }

    /** The middle level says what the readings leave: 10 mm here, where the others leave 1 and 100. */
    @Test
    void obstacle_isSeenAtTheMiddleLevel() {
        Level[] levels = {level(0.4, 5, 5, 5, 5), level(0.3, 50, 50, 50, 50), level(0.3, 500, 500, 500, 500)};
        assertThat(outlook(new double[] {1, 0, 0}, 0.06, 101e-6, levels).obstacle())
                .isEqualTo(Outlook.Obstacle.GEOMETRY);
        assertThat(outlook(new double[] {1, 0, 0}, 0.06, 99e-6, levels).obstacle())
                .isEqualTo(Outlook.Obstacle.NEAR_MARGIN);
    }

    private static Outlook.Obstacle obstacle(double mean, double geometry) {
        Outlook found = outlook(new double[] {1, 0, 0}, mean, 1e-6 * geometry * geometry, level(1, 50, 50, 50, 50));
        assertThat(found.furtherCircles()).isEqualTo(Map.of());
        return found.obstacle();
    }
}
