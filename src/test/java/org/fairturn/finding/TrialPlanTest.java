package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.lang.management.ManagementFactory;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
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
        TrialPlan.Foreseen seen = hour.foreseen(hour.design()).get(0);
        // what it finds with the chance wanted is found with that chance
        VerdictChance chance = hour.chance(
                PlannedQuestion.DRIVE, hour.design().circles(), hour.design().readings());
        assertThat(chance.beyond(seen.smallestBeyond())).isCloseTo(0.9, within(1e-3));
        TrialPlan little = drive(20, OptionalDouble.of(10));
        assertThat(little.basis()).isEqualTo(TrialPlan.Basis.TOO_LITTLE_TIME);
        assertThat(little.design().circles()).isEqualTo(2);
    }

    /** Blades known to the usual 5 mm leave more doubt than a margin of 50 mm and 90 % allow, however many circles. */
    @Test
    void whereNoDesignDoes_theUsualIsPlanned() {
        TrialPlan plan = TrialPlan.of(wish(Set.of(PlannedQuestion.LEFT_RIGHT), 1, 5, 0.9, OptionalDouble.empty()));
        assertThat(plan.basis()).isEqualTo(TrialPlan.Basis.USUAL);
        assertThat(plan.design().circles()).isEqualTo(3);
        assertThat(plan.deckAssumed()).isTrue();
        assertThat(plan.choices()).allMatch(c -> c.design().isEmpty());
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
}
