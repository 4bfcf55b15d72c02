package org.fairturn.trial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.units.Angle;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Pressure;
import org.junit.jupiter.api.Test;

/** What the words of a trial say of themselves, and what changing one of them leaves alone. */
class TrialTest {
    private static final Conditions CONDITIONS = Conditions.planned(
            "A trial", LocalDate.of(2026, 5, 20), LengthUnit.MILLIMETRE, Length.mm(50), /* confidence= */ 0.9);
    private static final LearntScatter CIRCLE = new LearntScatter(Length.mm(30), 0.4, 0.1, 9, Length.mm(60));
    private static final LearntScatter READING = new LearntScatter(Length.mm(6), 0.3, 0.2, 4, Length.mm(10));
    private static final Assumption LEARNT =
            new Assumption(false, false, Optional.of(CIRCLE), Optional.of(READING), List.of("Learnt."));

    private static Machine machine(String id) {
        return new Machine(
                id,
                id,
                Optional.empty(),
                Optional.empty(),
                Optional.of(Angle.degrees(52)),
                Optional.of(Angle.degrees(50)),
                Optional.of(exactly(10)),
                Optional.empty(),
                List.of(new Blade(
                        "L", exactly(300), new Measured(Length.mm(250), Optional.of(Length.mm(3))), exactly(200))),
                List.of());
    }

    private static Measured exactly(double millimetres) {
        return new Measured(Length.mm(millimetres), Optional.empty());
    }

    private static Circle circle(String id) {
        return new Circle(
                id,
                new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE),
                OptionalInt.of(1),
                OptionalInt.of(3),
                true,
                "dry",
                2,
                List.of(reading(1600)),
                List.of());
    }

    private static Reading reading(double millimetres) {
        return new Reading(new TapeReading.Across(Length.mm(millimetres)), Optional.empty(), "Ann", "", 2, "");
    }

    private static Trial trial() {
        return new Trial(
                "folder",
                CONDITIONS,
                List.of(machine("Alder"), machine("Birch")),
                List.of(circle("A1"), circle("A2")),
                List.of());
    }

    @Test
    void machinesAreFoundByTheirId_andChangedAlone() {
        Trial trial = trial();
        assertThat(trial.machine("Birch")).contains(trial.machines().get(1));
        assertThat(trial.machine("Cedar")).isEmpty();
        Machine bare = Machine.named("Birch");
        Trial changed = trial.withMachine(bare);
        assertThat(changed.machines()).containsExactly(trial.machines().get(0), bare);
        assertThat(changed.circles()).isEqualTo(trial.circles());
    }

    @Test
    void changedConditionsAndCircles_leaveTheRest() {
        Trial trial = trial();
        Trial margin = trial.withConditions(CONDITIONS.withPracticalMargin(Length.mm(70)));
        assertThat(margin.conditions().practicalMargin()).isEqualTo(Length.mm(70));
        assertThat(margin.withConditions(CONDITIONS)).isEqualTo(trial);
        Circle out = trial.circles().get(0).withUse(false);
        assertThat(out.use()).isFalse();
        assertThat(out.withUse(true)).isEqualTo(trial.circles().get(0));
        Circle longer = trial.circles().get(1).withReadings(List.of(reading(1601), reading(1603)));
        assertThat(longer.readings()).containsExactly(reading(1601), reading(1603));
        assertThat(trial.withCircles(List.of(out, longer)).circles()).containsExactly(out, longer);
        assertThat(trial.withCircles(List.of()).machines()).isEqualTo(trial.machines());
    }

    /** 250 mm to the left and 40 more, known as well as before. */
    @Test
    void deckMoved_takesItsBladesAlong() {
        Machine moved = machine("Alder").withDeckMoved(Optional.of(exactly(50)), 0.04);
        assertThat(moved.deckOffset()).contains(exactly(50));
        Blade blade = moved.blades().get(0);
        assertThat(blade.left().value().millimetres()).isCloseTo(290, within(1e-9));
        assertThat(blade.left().standardUncertainty()).contains(Length.mm(3));
        assertThat(blade.ahead()).isEqualTo(exactly(300));
        assertThat(moved.lock(Turn.LEFT)).contains(Angle.degrees(52));
        assertThat(moved.lock(Turn.RIGHT)).contains(Angle.degrees(50));
    }

    @Test
    void confidence_liesBetweenAHalfAndOne() {
        for (double wrong : new double[] {0.5, 1, 0, Double.NaN}) {
            assertThatIllegalArgumentException()
                    .isThrownBy(() -> Conditions.planned(
                            "A trial", LocalDate.of(2026, 5, 20), LengthUnit.INCH, Length.mm(50), wrong))
                    .withMessage("confidence is " + wrong + "; must be in (0.5, 1)");
        }
    }

    @Test
    void aTrialToCome_isAgreedOnInMarginAndConfidence_theRestBeingUsual() {
        Conditions planned = Conditions.planned(
                "A trial", LocalDate.of(2026, 5, 20), LengthUnit.INCH, Length.mm(70), /* confidence= */ 0.9);
        assertThat(planned.practicalMargin()).isEqualTo(Length.mm(70));
        assertThat(planned.confidence()).isEqualTo(0.9);
        assertThat(planned.lengthUnit()).isEqualTo(LengthUnit.INCH);
        assertThat(planned.assumption()).isEqualTo(Assumption.USUAL);
        assertThat(planned.tapeClass()).isEmpty();
    }

    @Test
    void expectedScatter_isWhatPastTrialsTaught_orElseWhatIsAssumed() {
        assertThat(CONDITIONS.expectedCircleScatter()).isEqualTo(Length.mm(50));
        assertThat(CONDITIONS.expectedReadingScatter()).isEqualTo(Length.mm(20));
        Conditions learnt = CONDITIONS.withAssumption(LEARNT);
        assertThat(learnt.expectedCircleScatter()).isEqualTo(Length.mm(30));
        assertThat(learnt.expectedReadingScatter()).isEqualTo(Length.mm(6));
    }

    /** Doubled: what is assumed and what was learnt alike; how sure that is stays. */
    @Test
    void assumptionsStretched_areStretchedAltogether() {
        Conditions doubled = CONDITIONS.withAssumption(LEARNT).withAssumedRepeatability(2);
        assertThat(doubled.assumedCircleRepeatability().millimetres()).isCloseTo(100, within(1e-9));
        assertThat(doubled.assumedReadingRepeatability().millimetres()).isCloseTo(40, within(1e-9));
        LearntScatter circle = doubled.assumption().circle().orElseThrow();
        assertThat(circle.median().millimetres()).isCloseTo(60, within(1e-9));
        assertThat(circle.below95().millimetres()).isCloseTo(120, within(1e-9));
        assertThat(circle.logSpread()).isEqualTo(0.4);
        assertThat(doubled.expectedReadingScatter().millimetres()).isCloseTo(12, within(1e-9));
        assertThat(doubled.assumption().sentences()).containsExactly("Learnt.");
    }

    /** Whoever states the repeatability of circles needs no past trials for it, and still has them for readings. */
    @Test
    void statedCircleRepeatability_comesBeforeWhatWasLearnt() {
        Conditions stated = CONDITIONS.withAssumption(LEARNT).withAssumedCircleRepeatability(Length.mm(15));
        assertThat(stated.expectedCircleScatter()).isEqualTo(Length.mm(15));
        assertThat(stated.assumption().circleStated()).isTrue();
        assertThat(stated.assumption().reading()).contains(READING);
        assertThat(Assumption.stated(true, false).circleStated()).isTrue();
        assertThat(Assumption.stated(true, false).readingStated()).isFalse();
        assertThat(CONDITIONS.assumption()).isEqualTo(Assumption.USUAL);
    }

    private static Reference reference(Optional<String> knownGood, Optional<Length> value, Optional<Turn> turn) {
        return new Reference(
                "Alder",
                knownGood,
                value,
                Claim.Quantity.UNCUT_DIAMETER,
                turn,
                Optional.of(Drive.TWO_WHEEL),
                Brakes.NONE,
                Optional.empty(),
                OptionalInt.empty(),
                "manual",
                "");
    }

    @Test
    void aReference_coversWhatItNames_andBothTurnsWhereItNamesNone() {
        Reference left = reference(Optional.empty(), Optional.of(Length.mm(1600)), Optional.of(Turn.LEFT));
        assertThat(left.covers(Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE)).isTrue();
        assertThat(left.covers(Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE)).isFalse();
        assertThat(left.covers(Turn.LEFT, Drive.FOUR_WHEEL, Brakes.NONE)).isFalse();
        assertThat(left.covers(Turn.LEFT, Drive.TWO_WHEEL, Brakes.USED)).isFalse();
        assertThat(left.withTurnsExchanged().turn()).contains(Turn.RIGHT);
        Reference both = reference(Optional.of("Birch"), Optional.empty(), Optional.empty());
        assertThat(both.covers(Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE)).isTrue();
        assertThat(both.withTurnsExchanged()).isEqualTo(both);
    }

    @Test
    void aReference_isAMachineOrAFigure() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> reference(Optional.empty(), Optional.empty(), Optional.empty()));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> reference(Optional.of("Birch"), Optional.of(Length.mm(1600)), Optional.empty()));
    }

    @Test
    void readings_knowTheirKindAndTheirLengthsInTheOrderOfTheFile() {
        Length a = Length.mm(1600);
        Length b = Length.mm(200);
        Length c = Length.mm(900);
        assertThat(new TapeReading.Across(a).kind()).isEqualTo("across");
        assertThat(new TapeReading.ChordAndRise(a, b).kind()).isEqualTo("chord and rise");
        assertThat(new TapeReading.ThreeStakes(a, b, c).kind()).isEqualTo("three stakes");
        assertThat(new TapeReading.Across(a).lengths()).containsExactly(a);
        assertThat(new TapeReading.ChordAndRise(a, b).lengths()).containsExactly(a, b);
        assertThat(new TapeReading.ThreeStakes(a, b, c).lengths()).containsExactly(a, b, c);
    }

    @Test
    void cells_areCalledByMachineTurnAndDrive_brakesOnlyWhereUsed() {
        assertThat(new Cell("Alder", Turn.LEFT, Drive.FOUR_WHEEL, Brakes.NONE)).hasToString("Alder, left, 4WD");
        assertThat(new Cell("Alder", Turn.RIGHT, Drive.TWO_WHEEL, Brakes.USED))
                .hasToString("Alder, right, 2WD, brakes used");
    }

    /** Left is positive, as deck offsets are. */
    @Test
    void turns_areEachOthersOther() {
        assertThat(Turn.LEFT.other()).isEqualTo(Turn.RIGHT);
        assertThat(Turn.RIGHT.other()).isEqualTo(Turn.LEFT);
        assertThat(Turn.LEFT.sign()).isEqualTo(1);
        assertThat(Turn.RIGHT.sign()).isEqualTo(-1);
    }

    @Test
    void aTyre_isKnownByAnyOneThingOfIt() {
        assertThat(Tyre.UNKNOWN).hasSize(4).noneMatch(Tyre::known);
        Optional<Pressure> pressure = Optional.of(new Pressure(150));
        assertThat(new Tyre("front left", "18x8.50-8", Optional.empty(), Optional.empty()).known())
                .isTrue();
        assertThat(new Tyre("front left", "", pressure, Optional.empty()).known())
                .isTrue();
        assertThat(new Tyre("front left", "", Optional.empty(), pressure).known())
                .isTrue();
    }

    @Test
    void words_areThoseOfTheFiles() {
        assertThat(Claim.Quantity.values())
                .extracting(Claim.Quantity::word)
                .containsExactly(
                        "uncut diameter", "turn radius", "turning circle diameter", "clearance circle diameter");
        assertThat(Brakes.values()).extracting(Brakes::word).containsExactly("none", "used");
        assertThat(exactly(5).uncertaintyOr(Length.mm(2))).isEqualTo(Length.mm(2));
        assertThat(new Measured(Length.mm(5), Optional.of(Length.mm(1))).uncertaintyOr(Length.mm(2)))
                .isEqualTo(Length.mm(1));
    }
}
