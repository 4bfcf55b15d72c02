package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/**
 * By hand on one blade 0.6 m ahead and 0.1 m to the left with a tip radius of 0.2 m: 1.34 m are R = 0.73 m in a left turn, 1.6 m
 * are 0.9 m, 170 mm more. The left wheel is designed to lock at 45°, which is R = 2 m with 1.5 m between the axles and 1 m
 * between the wheels; 170 mm more are atan(1.5/1.67) = 41.9°, 170 mm less atan(1.5/1.33) = 48.4°.
 */
class MachineThatFitsTest {
    private static final double SMALL = 1.34;
    private static final double LARGE = 1.6;
    private static final double NOT_NOTED = Double.NaN;
    private static final String STOP = "the left stop of the machine the claim was made of ";

    private static Trials blade() {
        return Trials.inMillimetres().machine("Alder").blade(600, 100, 200);
    }

    private static Trials steered() {
        return blade().steering(1500, 1000, 45, 45);
    }

    private static List<String> causes(Trials trials, Turn turn, double claimed, double measured) {
        return changes(trials, turn, claimed, measured).causes();
    }

    private static MachineThatFits.Changes changes(Trials trials, Turn turn, double claimed, double measured) {
        return new MachineThatFits(
                        trials.trial().machines().get(0),
                        new Cell("Alder", turn, Drive.TWO_WHEEL, Brakes.NONE),
                        new Wording(LengthUnit.MILLIMETRE))
                .changes(claimed, measured);
    }

    @Test
    void aLargerClaim_needsAStopFurtherOut_orADeckFurtherToTheRight() {
        assertThat(causes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 80), Turn.LEFT, LARGE, SMALL))
                .containsExactly(
                        STOP
                                + "(it would protrude 4.3 mm (0.17 in) more than here, 3.1° less lock: a plausible amount)",
                        "where the deck sits (170 mm (6.7 in) further to the right: more than is plausible)");
    }

    /**
     * A stop at its specification is not turned in; one that was 6 mm out may be. That one stands at 45° less 6/80 rad, 40.70°, which
     * is R = 2.244 m; 170 mm less are atan(1.5/1.574) = 43.63°, 2.92° more, over 80 mm 4.1 mm.
     */
    @Test
    void aSmallerClaim_needsAStopFurtherIn_neverPastTheSpecification() {
        assertThat(causes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 80), Turn.LEFT, SMALL, LARGE))
                .containsExactly(
                        STOP + "(it would protrude 4.8 mm (0.19 in) less than here, 3.4° more lock: a plausible amount,"
                                + " but past the specification, to which no stop is ever turned in)",
                        "where the deck sits (170 mm (6.7 in) further to the left: more than is plausible)");
        assertThat(causes(steered().stop(Turn.LEFT, 28, 34, NOT_NOTED, 80), Turn.LEFT, SMALL, LARGE))
                .first()
                .isEqualTo(STOP
                        + "(it would protrude 4.1 mm (0.16 in) less than here, 2.9° more lock: a plausible amount)");
    }

    /** In a right turn the spindle's 0.1 m to the left lie on the outside; 80 mm of deck are plausible. */
    @Test
    void inARightTurn_theDeckGoesTheOtherWay() {
        // 0.08 m less than the 0.8 m across that 1.6 m are
        double tighter = 2 * (Math.hypot(0.6, 0.72) - 0.2);
        assertThat(causes(blade(), Turn.RIGHT, LARGE, tighter))
                .containsExactly("where the deck sits (80 mm (3.1 in) further to the left: a plausible amount)");
        assertThat(causes(blade(), Turn.RIGHT, tighter, LARGE))
                .containsExactly("where the deck sits (80 mm (3.1 in) further to the right: a plausible amount)");
    }

    /** 3.07° over 0.4 m are 21 mm, more than any stop is off; 10° are more than any lock angle is. */
    @Test
    void whatNoStopIsOffBy_isCalledImplausible() {
        assertThat(causes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 400), Turn.LEFT, LARGE, SMALL))
                .first()
                .isEqualTo(
                        STOP
                                + "(it would protrude 21.4 mm (0.84 in) more than here, 3.1° less lock: more than is plausible)");
        assertThat(causes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 400), Turn.LEFT, SMALL, LARGE))
                .first()
                .isEqualTo(STOP
                        + "(it would protrude 24.0 mm (0.94 in) less than here, 3.4° more lock: more than is plausible, and past"
                        + " the specification, to which no stop is ever turned in)");
        // 0.72 m more: atan(1.5/2.22) = 34.0°, over 0.08 m 15.3 mm
        double wide = 2 * (Math.hypot(0.6, 1.35) - 0.2);
        assertThat(causes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 80), Turn.LEFT, wide, SMALL))
                .first()
                .isEqualTo(
                        STOP
                                + "(it would protrude 15.3 mm (0.60 in) more than here, 11.0° less lock: more than is plausible)");
        assertThat(causes(steered(), Turn.LEFT, wide, SMALL))
                .first()
                .isEqualTo(STOP + "(11.0° less lock: more than is plausible)");
    }

    /** The arm and the specification are those of the stop on the inner wheel of this turn. */
    @Test
    void withoutAnArm_theAngleIsSaidAlone() {
        Trials others = steered()
                .stop(Turn.RIGHT, 28, 28, NOT_NOTED, 80)
                .stop(Turn.RIGHT, Turn.LEFT, 28, 28, NOT_NOTED, 80, Optional.empty());
        assertThat(causes(others, Turn.LEFT, SMALL, LARGE))
                .first()
                .isEqualTo(STOP + "(3.4° more lock: a plausible amount)");
        // 12 mm out: 36.41°, R = 2.534 m; 170 mm less are 38.82°
        Trials both = others.stop(Turn.LEFT, 28, 40, NOT_NOTED, 80);
        assertThat(causes(both, Turn.LEFT, SMALL, LARGE))
                .first()
                .isEqualTo(STOP
                        + "(it would protrude 3.4 mm (0.13 in) less than here, 2.4° more lock: a plausible amount)");
    }

    @Test
    void whatIsNotKnown_isLeftOut() {
        assertThat(causes(Trials.inMillimetres().machine("Alder"), Turn.LEFT, LARGE, SMALL))
                .isEmpty();
        assertThat(causes(blade().axles(1500, 1000), Turn.LEFT, LARGE, SMALL)).hasSize(1);
        // no blade leaves so small a circle
        assertThat(causes(steered(), Turn.LEFT, 0.1, SMALL)).isEmpty();
        assertThat(causes(steered(), Turn.LEFT, LARGE, 0.1)).isEmpty();
        // a turn about a point between the wheels takes more lock than there is: 2 m less 1.6 m
        assertThat(new MachineThatFits(
                                steered().trial().machines().get(0),
                                new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE),
                                new Wording(LengthUnit.MILLIMETRE))
                        .lockChange(-1.6))
                .isEmpty();
    }

    private static double across(double radius) {
        return 2 * (Math.hypot(0.6, radius - 0.1) - 0.2);
    }

    /**
     * The blade cuts 400 mm, so a deck 201 mm elsewhere is none; R is 2 m at the designed 45°, 2.75 m at 33.7°, and 7.75 m at 11.7°,
     * which is 33.3° less.
     */
    @Test
    void whatNoMachineHas_isLeftOut() {
        Trials stops = steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 80);
        assertThat(causes(stops, Turn.LEFT, across(1.1), across(0.901)))
                .last()
                .asString()
                .startsWith("where the deck sits (199 mm (7.8 in) further to the right");
        MachineThatFits.Changes stopAlone = changes(stops, Turn.LEFT, across(1.65), across(0.9));
        assertThat(stopAlone.causes()).hasSize(1).first().asString().startsWith(STOP);
        assertThat(stopAlone.remedy()).isEqualTo(ClaimCheck.Remedy.STOP);
        MachineThatFits.Changes neither = changes(stops, Turn.LEFT, across(6.65), across(0.9));
        assertThat(neither.causes()).isEmpty();
        assertThat(neither.remedy()).isEqualTo(ClaimCheck.Remedy.NONE);
    }

    /**
     * 1.3 m less than R = 2 m are atan(1.5/0.2) = 82.4°, above 80°; 16.2° more at 0.2 m of arm are 56 mm, more than the stop's 28 mm.
     */
    @Test
    void aLockNoFrontWheelHas_andAStopShorterThanNothing_areLeftOut() {
        assertThat(changes(steered(), Turn.LEFT, across(0.7), across(2.0)).remedy())
                .isEqualTo(ClaimCheck.Remedy.NONE);
        // 0.67 m less: atan(1.5/0.83) = 61.0°, 16.0° more
        MachineThatFits.Changes free = changes(steered(), Turn.LEFT, across(0.83), across(1.5));
        assertThat(free.causes()).containsExactly(STOP + "(16.0° more lock: more than is plausible)");
        MachineThatFits.Changes bolted =
                changes(steered().stop(Turn.LEFT, 28, 28, NOT_NOTED, 150), Turn.LEFT, across(0.83), across(1.5));
        assertThat(bolted.causes()).isEmpty(); // 42 mm less than 28
        assertThat(bolted.remedy()).isEqualTo(ClaimCheck.Remedy.NONE);
    }

    /** Where no lock angle is designed, the measured turn tells about where the wheel stood: 1.5 m between the axles, 1 m track. */
    @Test
    void withoutADesignedAngle_theMeasuredTurnExcludesWhatNoStopDoes() {
        Trials axles = blade().axles(1500, 1000);
        // 0.9 m are 75.1°, 1.4 m 59.0°: a stop may do that; 6.65 m are 13.7°
        assertThat(changes(axles, Turn.LEFT, across(1.4), across(0.9)).remedy()).isEqualTo(ClaimCheck.Remedy.STOP);
        assertThat(changes(axles, Turn.LEFT, across(6.65), across(0.9)).remedy())
                .isEqualTo(ClaimCheck.Remedy.NONE);
        // and nothing is excluded where nothing is known
        assertThat(changes(blade(), Turn.LEFT, across(6.65), across(0.9)).remedy())
                .isEqualTo(ClaimCheck.Remedy.STOP);
        // no turn leaves so small a disc, wherever the deck sits to the side
        assertThat(changes(axles, Turn.LEFT, 0.1, SMALL).remedy()).isEqualTo(ClaimCheck.Remedy.NONE);
        // 0.6 m are 86.2°: the deck alone, as far as one may plausibly sit elsewhere
        assertThat(changes(axles, Turn.LEFT, across(0.6), across(0.68)).remedy())
                .isEqualTo(ClaimCheck.Remedy.DECK);
        assertThat(changes(axles, Turn.LEFT, across(0.55), across(0.7)).remedy())
                .isEqualTo(ClaimCheck.Remedy.NONE);
    }
}
