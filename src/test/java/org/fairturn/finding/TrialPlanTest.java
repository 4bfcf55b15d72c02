package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.lang.management.ManagementFactory;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.PlannedPosterior;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;

class TrialPlanTest {
    private static final double MM = 1e-3;

    private static Conditions conditions() {
        return Trials.inMillimetres().trial().conditions();
    }

    private static List<Machine> machines(int count) {
        Trials trials = Trials.inMillimetres();
        for (int i = 1; i <= count; i++) {
            trials.machine("M" + i);
        }
        return trials.trial().machines();
    }

    private static PlanWish wish(
            Set<PlannedQuestion> questions, int machines, double scatter, double chance, OptionalDouble minutes) {
        return new PlanWish(
                conditions(),
                machines(machines),
                questions,
                Set.of(Drive.TWO_WHEEL),
                scatter * MM,
                10 * MM,
                100 * MM,
                OptionalDouble.empty(),
                PlanWish.Pace.USUAL,
                chance,
                minutes);
    }

    private static TrialPlan drive(double scatter, OptionalDouble minutes) {
        return TrialPlan.of(wish(Set.of(PlannedQuestion.DRIVE), 1, scatter, 0.9, minutes));
    }

    /** Of all designs that have the chance none is quicker. */
    @Test
    void cheapest_isTheQuickestOfAll() {
        TrialPlan plan = drive(20, OptionalDouble.empty());
        assertThat(plan.basis()).isEqualTo(TrialPlan.Basis.CHEAPEST);
        TrialPlan.Design found = plan.design();
        assertThat(plan.lowest(found)).isGreaterThanOrEqualTo(0.9);
        for (int readings = TrialPlan.LEAST_READINGS; readings <= TrialPlan.MOST_READINGS; readings++) {
            for (int circles = TrialPlan.LEAST_CIRCLES; circles <= found.circles() + 2; circles++) {
                double minutes = 4 * circles * (5 + readings * 2) + 2 * 3;
                if (minutes < found.minutes()) {
                    assertThat(plan.lowest(new TrialPlan.Design(circles, readings, 4 * circles, minutes)))
                            .as("%d circles, %d readings", circles, readings)
                            .isLessThan(0.9);
                }
            }
        }
        // what it still finds within the margin with the chance wanted is found with that chance
        TrialPlan.Foreseen seen = plan.foreseen(found).get(0);
        VerdictChance chance = plan.chance(PlannedQuestion.DRIVE, found.circles(), found.readings());
        assertThat(chance.within(seen.largestWithin().orElseThrow())).isCloseTo(0.9, within(1e-3));
        // 4 cells, 2 drives: so many circles and their tapes, and two changes of drive
        assertThat(found.allCircles()).isEqualTo(4 * found.circles());
        assertThat(found.minutes()).isCloseTo(4 * found.circles() * (5 + found.readings() * 2) + 2 * 3, within(1e-9));
    }

    @Test
    void moreChance_andMoreScatter_takeMoreCircles() {
        List<TrialPlan.Choice> choices = drive(20, OptionalDouble.empty()).choices();
        assertThat(choices).extracting(TrialPlan.Choice::chance).containsExactly(0.8, 0.9, 0.95);
        assertThat(choices).extracting(c -> c.design().orElseThrow().minutes()).isSorted();
        assertThat(drive(30, OptionalDouble.empty()).design().minutes())
                .isGreaterThan(drive(20, OptionalDouble.empty()).design().minutes());
    }

    @Test
    void aGivenTime_isKept_andTooLittleIsSaid() {
        TrialPlan hour = drive(20, OptionalDouble.of(120));
        assertThat(hour.basis()).isEqualTo(TrialPlan.Basis.TIME);
        assertThat(hour.design().minutes()).isLessThanOrEqualTo(120);
        // none of the designs that fit has a higher chance
        for (int readings = TrialPlan.LEAST_READINGS; readings <= TrialPlan.MOST_READINGS; readings++) {
            for (int circles = TrialPlan.LEAST_CIRCLES; 4 * circles * (5 + readings * 2) + 2 * 3 <= 120; circles++) {
                assertThat(hour.lowest(new TrialPlan.Design(circles, readings, 4 * circles, 0)))
                        .isLessThanOrEqualTo(hour.lowest(hour.design()));
            }
        }
        TrialPlan.Foreseen seen = hour.foreseen(hour.design()).get(0);
        // what it finds with the chance wanted is found with that chance
        VerdictChance chance = hour.chance(
                PlannedQuestion.DRIVE, hour.design().circles(), hour.design().readings());
        assertThat(chance.beyond(seen.smallestBeyond())).isCloseTo(0.9, within(1e-3));
        // two circles of four cells, two tapes each, and two changes: 4·2·(5 + 2·2) + 2·3 minutes to the minute
        assertThat(drive(20, OptionalDouble.of(78)).basis()).isEqualTo(TrialPlan.Basis.TIME);
        // read once they take 4·2·(5 + 2) + 2·3; what 4WD costs needs both drives
        TrialPlan once = drive(20, OptionalDouble.of(77.9));
        assertThat(once.basis()).isEqualTo(TrialPlan.Basis.LESS_THAN_ASKED);
        assertThat(once.design()).isEqualTo(new TrialPlan.Design(2, 1, 8, 62));
        assertThat(once.readOnce()).isTrue();
        assertThat(once.leastOfAll()).isEqualTo(new TrialPlan.Design(2, 2, 8, 78));
        assertThat(drive(20, OptionalDouble.of(62)).basis()).isEqualTo(TrialPlan.Basis.LESS_THAN_ASKED);
        TrialPlan little = drive(20, OptionalDouble.of(61.9));
        assertThat(little.basis()).isEqualTo(TrialPlan.Basis.TOO_LITTLE_TIME);
        assertThat(little.design()).isEqualTo(new TrialPlan.Design(2, 1, 8, 62));
    }

    /**
     * Two machines in both drives take 16·(5 + 2·2) + 2·2·3 = 156 minutes, read once 124. In 100 one drive of both keeps two of
     * three questions, as do both drives of one machine; more machines come first.
     */
    @Test
    void whereTheTimeDoesNotDo_lessIsAsked_andNoMoreThanNeeded() {
        Set<PlannedQuestion> all =
                Set.of(PlannedQuestion.LEFT_RIGHT, PlannedQuestion.DRIVE, PlannedQuestion.SIDE_BY_SIDE);
        PlanWish asked = wish(all, 2, 15, 0.9, OptionalDouble.of(100));
        TrialPlan plan = TrialPlan.of(asked);
        assertThat(plan.basis()).isEqualTo(TrialPlan.Basis.LESS_THAN_ASKED);
        assertThat(plan.asked()).isEqualTo(asked);
        assertThat(plan.leastOfAll().minutes()).isCloseTo(156, within(1e-9));
        assertThat(plan.design().minutes()).isLessThanOrEqualTo(100);
        assertThat(plan.wish().machines()).hasSize(2);
        assertThat(plan.wish().drives()).hasSize(1);
        assertThat(plan.wish().questions())
                .containsExactlyInAnyOrder(PlannedQuestion.LEFT_RIGHT, PlannedQuestion.SIDE_BY_SIDE);
        // of what fits with as much asked, 8 or 12 circles read once, twice or three times, none has a higher chance
        for (int[] fits : new int[][] {{2, 1}, {2, 2}, {2, 3}, {3, 1}}) {
            assertThat(plan.lowest(new TrialPlan.Design(fits[0], fits[1], 0, 0)))
                    .isLessThanOrEqualTo(plan.lowest(plan.design()));
        }
        // the chances that are looked for stay those of all that was asked
        assertThat(plan.choices())
                .isEqualTo(TrialPlan.of(wish(all, 2, 15, 0.9, OptionalDouble.empty()))
                        .choices());
        assertThat(TrialPlan.of(wish(all, 2, 15, 0.9, OptionalDouble.of(124))).wish())
                .as("read once, all of it fits")
                .isEqualTo(wish(all, 2, 15, 0.9, OptionalDouble.of(124)));
        // one machine in one drive, read once: 4·(5 + 2)
        TrialPlan none = TrialPlan.of(wish(all, 2, 15, 0.9, OptionalDouble.of(27.9)));
        assertThat(none.basis()).isEqualTo(TrialPlan.Basis.TOO_LITTLE_TIME);
        assertThat(none.design()).isEqualTo(new TrialPlan.Design(2, 1, 4, 28));
    }

    /** Each way is the cheapest plan of the wish changed that way. */
    @Test
    void whatMakesAPlanShorter_isPlannedLikeAnyOther() {
        PlanWish both = wish(Set.of(PlannedQuestion.DRIVE), 1, 25, 0.9, OptionalDouble.empty())
                .narrowed(machines(1), Set.of(PlannedQuestion.COMPLAINT), Set.of(Drive.values()));
        List<TrialPlan.Shorter> ways = TrialPlan.of(both).shorter();
        assertThat(ways)
                .extracting(TrialPlan.Shorter::by)
                .containsExactlyInAnyOrder(
                        TrialPlan.Shortening.ONE_DRIVE,
                        TrialPlan.Shortening.WIDER_MARGIN,
                        TrialPlan.Shortening.EVENER_CIRCLES);
        assertThat(ways).extracting(way -> way.design().minutes()).isSorted();
        for (TrialPlan.Shorter way : ways) {
            assertThat(way.design()).isEqualTo(TrialPlan.of(way.wish()).design());
            assertThat(way.design().minutes())
                    .isLessThan(TrialPlan.of(both).design().minutes());
            switch (way.by()) {
                case ONE_DRIVE -> assertThat(way.wish().drives()).containsExactly(Drive.TWO_WHEEL);
                case WIDER_MARGIN -> {
                    assertThat(way.wish().difference()).isCloseTo(0.150, within(1e-12));
                    assertThat(way.wish().conditions().practicalMargin().metres())
                            .isCloseTo(0.075, within(1e-12));
                }
                case EVENER_CIRCLES ->
                    assertThat(way.wish().circleRepeatability()).isCloseTo(0.0125, within(1e-12));
            }
        }
        // what 4WD costs needs both drives
        assertThat(drive(25, OptionalDouble.empty()).shorter())
                .extracting(TrialPlan.Shorter::by)
                .doesNotContain(TrialPlan.Shortening.ONE_DRIVE);
    }

    /** Blades known to the usual 5 mm leave more doubt than a margin of 50 mm and 90 % allow, however many circles. */
    @Test
    void whereNoDesignDoes_theUsualIsPlanned() {
        TrialPlan plan = TrialPlan.of(wish(Set.of(PlannedQuestion.LEFT_RIGHT), 1, 5, 0.9, OptionalDouble.empty()));
        assertThat(plan.basis()).isEqualTo(TrialPlan.Basis.USUAL);
        assertThat(plan.design().circles()).isEqualTo(3);
        assertThat(plan.deckAssumed()).isTrue();
        assertThat(plan.choices()).allMatch(c -> c.design().isEmpty());
        // not even where nothing differs is that found with the chance wanted
        TrialPlan.Foreseen seen = plan.foreseen(plan.design()).get(0);
        assertThat(seen.within()).isLessThan(0.9);
        assertThat(seen.largestWithin()).isEmpty();
        assertThat(seen.geometry()).isCloseTo(TrialPlan.DECK_NOT_KNOWN, within(1e-12));
        assertThat(plan.wish().difference()).isEqualTo(100 * MM);
    }

    /**
     * Three circles with two readings, since no design does: 2 machines in 2 turns and 2 drives make 24 circles of 5 + 2·2
     * minutes, and each machine changes its drive twice at 3 minutes.
     */
    @Test
    void severalMachines_takeTheirTimesTheCircles() {
        TrialPlan plan = TrialPlan.of(
                wish(Set.of(PlannedQuestion.DRIVE, PlannedQuestion.LEFT_RIGHT), 2, 5, 0.9, OptionalDouble.empty()));
        assertThat(plan.design()).isEqualTo(new TrialPlan.Design(3, 2, 24, 24 * 9 + 12));
    }

    @Test
    void basis_hasANameForPrograms() {
        assertThat(TrialPlan.Basis.values())
                .extracting(TrialPlan.Basis::word)
                .containsExactly("cheapest", "time", "lessThanAsked", "usual", "tooLittleTime");
    }

    /**
     * Each question has its own contrast: two cells of n circles for left against right and for the drive; one cell for a claim
     * and a reference, the claim beside one circle of its own; the mean of K cells of each of two machines side by side.
     */
    @Test
    void chances_areThoseOfEachQuestionsContrast() {
        int n = 4;
        TrialPlan plan = TrialPlan.of(wish(Set.of(PlannedQuestion.LEFT_RIGHT), 2, 15, 0.9, OptionalDouble.empty()));
        var planned = new PlannedPosterior(
                15 * MM,
                10 * MM,
                2,
                Priors.circle(conditions()),
                Priors.reading(conditions()),
                MachineEstimate.RESOLUTION);
        DecisionRule rule = new DecisionRule(0.05, 0.95);
        var outcomes = planned.outcomes(2, n, TrialPlan.BETWEEN, TrialPlan.WITHIN);
        double eye = new PlannedGeometry(plan.wish()).variance(PlannedQuestion.COMPLAINT);
        same(plan, PlannedQuestion.LEFT_RIGHT, n, VerdictChance.of(planned, outcomes, 2.0 / n, 4e-4, 0, rule));
        same(plan, PlannedQuestion.DRIVE, n, VerdictChance.of(planned, outcomes, 2.0 / n, 0, 0, rule));
        same(plan, PlannedQuestion.CLAIM, n, VerdictChance.of(planned, outcomes, 1.0 / n, 2 * eye, 1, rule));
        same(plan, PlannedQuestion.COMPLAINT, n, VerdictChance.of(planned, outcomes, 1.0 / n, eye, 0, rule));
        var fewer = planned.outcomes(2, n, TrialPlan.BETWEEN_OF_TWO, TrialPlan.WITHIN_OF_TWO);
        same(plan, PlannedQuestion.SIDE_BY_SIDE, n, VerdictChance.ofTwo(planned, fewer, 1.0 / 2 / n, 0, rule));
        // a claim that states its uncertainty brings no circle of its own
        TrialPlan stated = TrialPlan.of(new PlanWish(
                conditions(),
                machines(1),
                Set.of(PlannedQuestion.LEFT_RIGHT),
                Set.of(Drive.TWO_WHEEL),
                15 * MM,
                10 * MM,
                100 * MM,
                OptionalDouble.of(12 * MM),
                PlanWish.Pace.USUAL,
                0.9,
                OptionalDouble.empty()));
        same(
                stated,
                PlannedQuestion.CLAIM,
                n,
                VerdictChance.of(planned, outcomes, 1.0 / n, eye + 144 * MM * MM, 0, rule));
    }

    /**
     * Two machines that scatter alike differ by √2 times what one is off by: with the same scatter the plan against a known
     * good machine takes more circles than against an exact figure. What it has counts where it is not driven again, and no
     * number of circles of the other makes up for few of its own.
     */
    @Test
    void aKnownGoodMachine_isAsUncertainAsItsOwnCircles() {
        Trials trials = Trials.inMillimetres()
                .machine("M2")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1800, 1805)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1800, 1805)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1810)
                .circle("4", Turn.RIGHT, Drive.FOUR_WHEEL, 1810);
        Trial trial = trials.machine("M1").knownGood("M2").trial();
        PlanWish both = wish(Set.of(PlannedQuestion.COMPLAINT), 2, 15, 0.9, OptionalDouble.empty());
        PlanWish one = wish(Set.of(PlannedQuestion.COMPLAINT), 1, 15, 0.9, OptionalDouble.empty());
        // one circle to the left and two to the right: the fewest count; 4WD is not planned
        assertThat(one.against(trial).knownGood()).contains(new PlanWish.KnownGood("M2", 1));
        assertThat(both.against(trial.withCircles(List.of())).knownGood()).contains(new PlanWish.KnownGood("M2", 0));
        assertThat(one.against(Trials.inMillimetres().machine("M1").trial()).knownGood())
                .isEmpty();

        int n = 4;
        var planned = new PlannedPosterior(
                15 * MM,
                10 * MM,
                2,
                Priors.circle(conditions()),
                Priors.reading(conditions()),
                MachineEstimate.RESOLUTION);
        DecisionRule rule = new DecisionRule(0.05, 0.95);
        var outcomes = planned.outcomes(2, n, TrialPlan.BETWEEN_OF_TWO, TrialPlan.WITHIN_OF_TWO);
        TrialPlan driven = TrialPlan.of(both.against(trial));
        same(driven, PlannedQuestion.COMPLAINT, n, VerdictChance.ofTwo(planned, outcomes, 1.0 / n, 0, rule));
        TrialPlan there = TrialPlan.of(one.against(trial));
        same(
                there,
                PlannedQuestion.COMPLAINT,
                n,
                VerdictChance.ofTwo(
                        planned,
                        outcomes,
                        1.0 / n,
                        planned.outcomes(2, 1, TrialPlan.BETWEEN_OF_TWO, TrialPlan.WITHIN_OF_TWO),
                        1,
                        rule));
        assertThat(driven.design().circles())
                .isGreaterThan(TrialPlan.of(both).design().circles());
        assertThat(there.basis()).isEqualTo(TrialPlan.Basis.USUAL);
        assertThat(driven.ofKnownGood()).hasValue(driven.design().circles());
        assertThat(there.ofKnownGood()).hasValue(1);
        assertThat(TrialPlan.of(both).ofKnownGood()).isEmpty();
    }

    private static void same(TrialPlan plan, PlannedQuestion question, int circles, VerdictChance expected) {
        VerdictChance found = plan.chance(question, circles, 2);
        for (double truth : new double[] {0, 0.03, 0.09}) {
            assertThat(found.within(truth)).as(question.word()).isCloseTo(expected.within(truth), within(1e-9));
            assertThat(found.beyond(truth)).as(question.word()).isCloseTo(expected.beyond(truth), within(1e-9));
        }
    }

    /**
     * By hand: the eye sets the edge 5 mm off at the most on either side, 2·5/√3 = 5.77 mm of diameter; the tape's class and
     * the missed centre add less than a millimetre (class II: 0.3 + 0.2·1.8 mm; p²/D·2/√3 = 0.4 mm).
     */
    @Test
    void tapeAndEye_areInWhatIsHeldAgainstAFigure_andCancelInDifferences() {
        PlannedGeometry geometry =
                new PlannedGeometry(wish(Set.of(PlannedQuestion.values()), 2, 15, 0.8, OptionalDouble.empty()));
        double complaint = geometry.variance(PlannedQuestion.COMPLAINT);
        assertThat(Math.sqrt(complaint)).isBetween(5.77 * MM, 5.9 * MM);
        assertThat(geometry.variance(PlannedQuestion.CLAIM)).isCloseTo(2 * complaint, within(1e-15));
        assertThat(geometry.variance(PlannedQuestion.DRIVE)).isZero();
        assertThat(geometry.variance(PlannedQuestion.SIDE_BY_SIDE)).isZero();
        PlannedGeometry stated = new PlannedGeometry(new PlanWish(
                conditions(),
                machines(1),
                Set.of(PlannedQuestion.CLAIM),
                Set.of(Drive.TWO_WHEEL),
                15 * MM,
                10 * MM,
                100 * MM,
                OptionalDouble.of(12 * MM),
                PlanWish.Pace.USUAL,
                0.8,
                OptionalDouble.empty()));
        assertThat(stated.variance(PlannedQuestion.CLAIM)).isCloseTo(complaint + 144e-6, within(1e-12));
        assertThat(stated.variance(PlannedQuestion.COMPLAINT)).isCloseTo(complaint + 144e-6, within(1e-12));
    }

    /**
     * By hand, as what a deck in the middle leaves unsure of left against right: the outer blade's ρ = D/2 + 0.23 m, x ahead and
     * √(ρ² − x²) aside, cos φ the share of that; 4·cos φ·5 mm for the offset, 2·x/ρ·5 mm for each outer blade's place ahead,
     * 2·2 mm for each outer tip. With x = 0.65 m that is 18.77 mm at 1.6 m and 19.13 mm at 1.8 m; with 0.35 m 20.32 mm at 1.8 m.
     */
    @Test
    void deckKnown_countsAtTheCircleItIsDesignedFor() {
        // R = 0.44 + 0.799 m by the blade, L·cot δ + 0.475 m by the steering
        double lock = Math.toDegrees(Math.atan(1.45 / (0.44 + 0.799 - 0.475)));
        assertThat(deck(designed(lock).deckOfThree(0))).isCloseTo(18.77 * MM, within(0.02 * MM));
        assertThat(deck(Trials.inMillimetres().machine("M1").deckOfThree(0))).isCloseTo(19.13 * MM, within(0.02 * MM));
        // at 89° the outer blades would leave no 0.3 m; nobody plans with such a circle
        assertThat(deck(designed(89).blade(350, 440, 230).blade(350, -440, 230)))
                .isCloseTo(20.32 * MM, within(0.02 * MM));
    }

    private static Trials designed(double lock) {
        return Trials.inMillimetres().machine("M1").steering(1450, 950, lock, lock);
    }

    private static double deck(Trials machine) {
        PlanWish wish = new PlanWish(
                conditions(),
                machine.trial().machines(),
                Set.of(PlannedQuestion.LEFT_RIGHT),
                Set.of(Drive.TWO_WHEEL),
                20 * MM,
                10 * MM,
                100 * MM,
                OptionalDouble.empty(),
                PlanWish.Pace.USUAL,
                0.9,
                OptionalDouble.empty());
        return Math.sqrt(new PlannedGeometry(wish).variance(PlannedQuestion.LEFT_RIGHT));
    }

    /** The figure assumed of a deck is about what the model makes of blades measured as usual. */
    @Test
    void deckNotKnown_isAsGoodAsBladesMeasuredAsUsual() {
        PlanWish blades = new PlanWish(
                conditions(),
                Trials.inMillimetres().machine("M1").deckOfThree(30).trial().machines(),
                Set.of(PlannedQuestion.LEFT_RIGHT),
                Set.of(Drive.TWO_WHEEL),
                20 * MM,
                10 * MM,
                100 * MM,
                OptionalDouble.empty(),
                PlanWish.Pace.USUAL,
                0.9,
                OptionalDouble.empty());
        double known = Math.sqrt(new PlannedGeometry(blades).variance(PlannedQuestion.LEFT_RIGHT));
        assertThat(known).isBetween(0.010, PlannedGeometry.DECK_NOT_KNOWN);
        assertThat(TrialPlan.of(blades).deckAssumed()).isFalse();
    }

    @Test
    void usualPlan_takesLessThanASecond() {
        PlanWish wish = wish(
                Set.of(PlannedQuestion.LEFT_RIGHT, PlannedQuestion.SIDE_BY_SIDE, PlannedQuestion.DRIVE),
                2,
                20,
                0.9,
                OptionalDouble.empty());
        TrialPlan.of(wish); // warm
        // processor time of this thread: others share the machine
        var threads = ManagementFactory.getThreadMXBean();
        long before = threads.getCurrentThreadCpuTime();
        TrialPlan.of(wish);
        double seconds = (threads.getCurrentThreadCpuTime() - before) / 1e9;
        System.out.println("a plan for three questions took " + seconds + " s");
        assertThat(seconds).isLessThan(2); // twice what is wanted, for slow machines
    }

    @Test
    void whatCannotBePlanned_isSaid() {
        assertThat(wish(Set.of(PlannedQuestion.SIDE_BY_SIDE), 1, 20, 0.9, OptionalDouble.empty())
                        .impossible())
                .contains("side by side takes two machines or more, and 1 was named; name the others too, or leave that"
                        + " question out.");
        assertThatThrownBy(() -> TrialPlan.of(wish(Set.of(PlannedQuestion.DRIVE), 0, 20, 0.9, OptionalDouble.empty())))
                .hasMessage("no machine was named; accepted: one or more.");
    }

    /** The margin is 50 mm. */
    @Test
    void aDifferenceThatEqualsTheMargin_cannotBePlannedFor() {
        PlanWish usual = wish(Set.of(PlannedQuestion.DRIVE), 1, 20, 0.9, OptionalDouble.empty());
        assertThat(usual.impossible()).isEmpty();
        assertThat(new PlanWish(
                                usual.conditions(),
                                usual.machines(),
                                usual.questions(),
                                usual.drives(),
                                usual.circleRepeatability(),
                                usual.readingRepeatability(),
                                usual.conditions().practicalMargin().metres(),
                                usual.statedUncertainty(),
                                usual.pace(),
                                usual.chance(),
                                usual.minutes())
                        .impossible())
                .contains(
                        "the difference to be found is 50 mm (2.0 in); accepted: more than the practical margin of 50 mm"
                                + " (2.0 in), since no trial can tell a difference that equals it. Twice the margin is usual.");
        assertThat(wish(Set.of(PlannedQuestion.SIDE_BY_SIDE), 2, 20, 0.9, OptionalDouble.empty())
                        .impossible())
                .isEmpty();
    }

    /** What 4WD costs takes both drives, whichever were named. */
    @Test
    void cellsOfAMachine_areItsTurnsInEachDrive() {
        assertThat(wish(Set.of(PlannedQuestion.LEFT_RIGHT), 1, 20, 0.9, OptionalDouble.empty())
                        .cellsOfAMachine())
                .isEqualTo(2);
        assertThat(wish(Set.of(PlannedQuestion.DRIVE), 1, 20, 0.9, OptionalDouble.empty())
                        .cellsOfAMachine())
                .isEqualTo(4);
    }

    @Test
    void usualQuestions_compareMachinesWhereThereAreSeveral() {
        assertThat(PlannedQuestion.usual(1)).containsExactly(PlannedQuestion.LEFT_RIGHT);
        assertThat(PlannedQuestion.usual(2)).containsExactly(PlannedQuestion.LEFT_RIGHT, PlannedQuestion.SIDE_BY_SIDE);
    }

    @Test
    void questions_areCalledByTheWordsOfTheCommandLine_andByTitles() {
        assertThat(PlannedQuestion.values())
                .extracting(PlannedQuestion::word)
                .containsExactly("left-right", "drive", "claim", "side-by-side", "complaint");
        assertThat(PlannedQuestion.values())
                .extracting(PlannedQuestion::title)
                .containsExactly(
                        "Left against right",
                        "What 4WD costs",
                        "A claim against the trial",
                        "Side by side",
                        "A circle against its reference");
    }

    /** The largest, and none where a claim states none: then it counts like a circle driven once. */
    @Test
    void statedUncertainty_isTheLargestOfTheClaims() {
        assertThat(PlanWish.statedUncertainty(claims(12, 30, 7))).hasValueCloseTo(30 * MM, within(1e-12));
        assertThat(PlanWish.statedUncertainty(claims(12, Double.NaN, 7))).isEmpty();
        assertThat(PlanWish.statedUncertainty(claims())).isEmpty();
    }

    private static Trial claims(double... uncertainties) {
        Trials trials = Trials.inMillimetres().machine("M1");
        for (double u : uncertainties) {
            trials.claim(
                    "C" + u,
                    1600,
                    Claim.Quantity.UNCUT_DIAMETER,
                    "M1",
                    Optional.of(Turn.LEFT),
                    Optional.of(Drive.TWO_WHEEL),
                    Optional.of(Brakes.NONE),
                    Double.isNaN(u) ? Optional.empty() : Optional.of(Length.mm(u)),
                    OptionalInt.empty());
        }
        return trials.trial();
    }
}
