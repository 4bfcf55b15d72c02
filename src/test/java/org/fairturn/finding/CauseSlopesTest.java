package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

/**
 * By hand on one blade 0.6 m ahead and 0.1 m to the left with a tip radius of 0.2 m. An uncut circle of 1.6 m takes its spindle
 * round at 1 m, so that 0.8 m of that lie across: R = 0.9 m in a left turn and 0.7 m in a right one, cos φ = 0.8 in both.
 */
class CauseSlopesTest {
    private static final Cell LEFT = cell(Turn.LEFT, Drive.TWO_WHEEL);
    private static final Cell RIGHT = cell(Turn.RIGHT, Drive.TWO_WHEEL);
    private static final double NOT_NOTED = Double.NaN;
    private static final double ROUNDED = 1e-9;

    private static Cell cell(Turn turn, Drive drive) {
        return new Cell("Alder", turn, drive, Brakes.NONE);
    }

    private static Trials machine() {
        return Trials.inMillimetres().machine("Alder");
    }

    private static Trials oneBlade() {
        return machine().blade(600, 100, 200);
    }

    private static CauseSlopes slopes(Trials trials) {
        return new CauseSlopes(trials.trial().machines().get(0), List.of(LEFT, RIGHT), List.of(1.6, 1.6));
    }

    @Test
    void turnRadius_isThatOfTheBladeThatCutsClosest() {
        CauseSlopes slopes = slopes(oneBlade());
        assertThat(slopes.turnRadius(0, 1.6).orElseThrow()).isCloseTo(0.9, within(ROUNDED));
        assertThat(slopes.turnRadius(1, 1.6).orElseThrow()).isCloseTo(0.7, within(ROUNDED));
        assertThat(slopes(machine()).turnRadius(0, 1.6)).isEmpty();
    }

    /** Further to the left the deck comes closer to the centre of a left turn by cos φ of its way, and the circle by twice that. */
    @Test
    void deckToTheLeft_tightensTheLeftTurnAndWidensTheRight() {
        CauseSlopes slopes = slopes(oneBlade());
        assertThat(slopes.deckToTheLeft(0)).isCloseTo(-1.6, within(ROUNDED));
        assertThat(slopes.deckToTheLeft(1)).isCloseTo(1.6, within(ROUNDED));
        // a typical cosine where no blade is known
        assertThat(slopes(machine()).deckToTheLeft(0)).isCloseTo(-1.7, within(ROUNDED));
    }

    /** 45°: sin² = 1/2, dR/dδ = −1.5/(1/2) = −3 m, over an arm of 0.1 m 30 m a metre, times 2·0.8. */
    @Test
    void protrusion_atTheDesignedLockAngle() {
        CauseSlopes slopes = slopes(oneBlade()
                .steering(1500, 1000, 45, 30)
                .stop(Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, 100)
                .stop(Turn.RIGHT, 28, NOT_NOTED, NOT_NOTED, 50));
        assertThat(slopes.protrusion(Turn.LEFT, 0)).isCloseTo(48, within(ROUNDED));
        // 30°: sin² = 1/4, 6 m over 0.05 m
        assertThat(slopes.protrusion(Turn.RIGHT, 1)).isCloseTo(192, within(ROUNDED));
        assertThat(slopes.protrusion(Turn.LEFT, 1)).isZero();
        assertThat(slopes.protrusion(Turn.RIGHT, 0)).isZero();
        assertThat(slopes.arm(Turn.RIGHT)).isEqualTo(0.05);
        assertThat(slopes.missing(Turn.LEFT)).isEmpty();
        assertThat(slopes.missingForLock(Turn.RIGHT)).isEmpty();
    }

    /** The inner wheel at 45° makes R = 1.5 + 0.5 = 2 m; the outer one stands at tan δ = 1.5/2.5, sin² = 0.36/1.36. */
    @Test
    void protrusionOfTheOuterWheelsStop_isAboutTheOuterAngle() {
        CauseSlopes slopes = slopes(oneBlade()
                .steering(1500, 1000, 45, 45)
                .stop(Turn.RIGHT, Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, 100, Optional.empty()));
        assertThat(slopes.protrusion(Turn.LEFT, 0)).isCloseTo(1.6 * 1.5 * 1.36 / 0.36 / 0.1, within(1e-7));
        assertThat(slopes.name(Turn.LEFT)).isEqualTo("right stop in the left turn");
    }

    /** Without a designed angle the reference tells it: tan δ = 1.5/(R − 0.5), sin² = 1.5²/(1.5² + (R − 0.5)²). */
    @Test
    void protrusion_atTheLockAngleOfTheReference() {
        CauseSlopes slopes = slopes(oneBlade().axles(1500, 1000));
        assertThat(slopes.protrusion(Turn.LEFT, 0))
                .isCloseTo(1.6 * 1.5 * (2.25 + 0.4 * 0.4) / 2.25 / 0.08, within(1e-7));
        assertThat(slopes.protrusion(Turn.RIGHT, 1))
                .isCloseTo(1.6 * 1.5 * (2.25 + 0.2 * 0.2) / 2.25 / 0.08, within(1e-7));
        // a centre between the wheels is no lock angle: the typical 58° then
        CauseSlopes wide = slopes(oneBlade().axles(1500, 2000));
        double sine = Math.sin(Math.toRadians(58));
        assertThat(wide.protrusion(Turn.LEFT, 0)).isCloseTo(1.6 * 1.5 / (sine * sine) / 0.08, within(1e-7));
    }

    @Test
    void whatTheFolderDoesNotSay_isTypical_andNamed() {
        CauseSlopes slopes = slopes(machine());
        double sine = Math.sin(Math.toRadians(58));
        assertThat(slopes.protrusion(Turn.LEFT, 0)).isCloseTo(2 * 0.85 * 1.5 / (sine * sine) / 0.08, within(1e-7));
        // axles without blades tell no lock angle
        assertThat(slopes(machine().axles(1500, 1000)).protrusion(Turn.LEFT, 0))
                .isCloseTo(2 * 0.85 * 1.5 / (sine * sine) / 0.08, within(1e-7));
        assertThat(slopes.arm(Turn.LEFT)).isEqualTo(0.08);
        assertThat(slopes.name(Turn.LEFT)).isEqualTo("left stop");
        assertThat(slopes.missing(Turn.RIGHT))
                .containsExactly(
                        "the arm of the right stop (stops.csv)",
                        "the wheelbase (machines.csv)",
                        "the designed right lock angle (machines.csv)",
                        "the blade positions (blades.csv)");
        // with axles and blades the reference tells the lock angle
        assertThat(slopes(oneBlade().axles(1500, 1000)).missing(Turn.RIGHT))
                .containsExactly("the arm of the right stop (stops.csv)");
        assertThat(slopes(machine().axles(1500, 1000)).missingForLock(Turn.LEFT))
                .containsExactly("the designed left lock angle (machines.csv)", "the blade positions (blades.csv)");
        assertThat(slopes(oneBlade()).missingForLock(Turn.LEFT))
                .containsExactly("the wheelbase (machines.csv)", "the designed left lock angle (machines.csv)");
    }

    /** Of two stops of a turn the one that touches governs; where both do, the inner wheel's. */
    @Test
    void ofTwoStops_theOneThatTouchesIsMeant() {
        Optional<Boolean> touches = Optional.of(true);
        Optional<Boolean> doesNot = Optional.of(false);
        for (Optional<Boolean> inner : List.of(touches, doesNot, Optional.<Boolean>empty())) {
            for (Optional<Boolean> outer : List.of(touches, doesNot, Optional.<Boolean>empty())) {
                Trials trials = machine()
                        .stop(Turn.RIGHT, Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, 90, outer)
                        .stop(Turn.LEFT, Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, 70, inner);
                boolean outerMeant = inner.equals(doesNot) && !outer.equals(doesNot);
                assertThat(slopes(trials).noted(Turn.LEFT).orElseThrow().side())
                        .as("inner %s, outer %s", inner, outer)
                        .isEqualTo(outerMeant ? Turn.RIGHT : Turn.LEFT);
                assertThat(slopes(trials).noted(Turn.RIGHT)).isEmpty();
            }
        }
    }

    /** Of two stops that touch, the one that leaves the wider turn governs, as it does for what the stops explain. */
    @Test
    void ofTwoStopsThatTouch_theOneThatStandsFurtherOutIsMeant() {
        assertThat(side(28, 28)).as("both at their specification").isEqualTo(Turn.LEFT);
        assertThat(side(28, 31)).as("the outer too far out").isEqualTo(Turn.RIGHT);
        assertThat(side(31, 28)).as("the inner too far out").isEqualTo(Turn.LEFT);
        assertThat(side(25, 28)).as("the inner too far in").isEqualTo(Turn.RIGHT);
        assertThat(side(28, NOT_NOTED)).as("the outer not measured").isEqualTo(Turn.RIGHT);
        assertThat(side(NOT_NOTED, 28)).as("the inner not measured").isEqualTo(Turn.LEFT);
        assertThat(side(28.3, 28))
                .as("both at their specification, as near as can be told")
                .isEqualTo(Turn.LEFT);
        assertThat(side(28, 28.3)).as("the same the other way round").isEqualTo(Turn.LEFT);
        // 45° inside are 31° outside: a protrusion there turns the machine 1.9 times as wide
        assertThat(side(32, 31)).as("the outer wheel's moves the turn more").isEqualTo(Turn.RIGHT);
        assertThat(side(34, 31))
                .as("until the inner one stands twice as far out")
                .isEqualTo(Turn.LEFT);
    }

    private static Turn side(double inner, double outer) {
        Optional<Boolean> touches = Optional.of(true);
        Trials trials = oneBlade()
                .steering(1500, 1000, 45, 45)
                .stop(Turn.RIGHT, Turn.LEFT, 28, outer, NOT_NOTED, 100, touches)
                .stop(Turn.LEFT, Turn.LEFT, 28, inner, NOT_NOTED, 100, touches);
        return slopes(trials).noted(Turn.LEFT).orElseThrow().side();
    }

    /** From R = 0.9 m to the R at which the spindle runs round at 1.05 m; the front axle's midpoint runs √(R² + 1.5²)/R as far. */
    @Test
    void frontRolling_isTheShareByWhichItsPathGrowsLess() {
        CauseSlopes slopes = slopes(oneBlade().axles(1500, 1000));
        double r = Math.sqrt(1.05 * 1.05 - 0.36) + 0.1;
        double share = Math.hypot(r, 1.5) / r / (Math.hypot(0.9, 1.5) / 0.9) - 1;
        assertThat(share).isNegative();
        assertThat(slopes.frontRolling(0, 0.1).orElseThrow()).isCloseTo(share, within(ROUNDED));
        assertThat(slopes(oneBlade()).frontRolling(0, 0.1)).isEmpty();
        assertThat(slopes(machine().axles(1500, 1000)).frontRolling(0, 0.1)).isEmpty();
        // a circle that no blade leaves, and one about a centre inside the machine
        assertThat(slopes.frontRolling(0, -1.5)).isEmpty();
        assertThat(slopes.frontRolling(1, 2 * (Math.hypot(0.6, 0.05) - 1))).isEmpty();
    }
}
