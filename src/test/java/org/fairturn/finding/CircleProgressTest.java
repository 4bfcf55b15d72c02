package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What is said beside a circle while the tape is still out. */
class CircleProgressTest {
    private static final Wording WORDING = new Wording(LengthUnit.MILLIMETRE);

    /** Three circles to the left, then three to the right, that agree within 12 mm. */
    private static Trials bothTurns(double left, double right, int circles) {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (int i = 0; i < circles; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, left + 5 * i, left + 5 * i + 2);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, right + 5 * i);
        }
        return trials;
    }

    private static CircleProgress of(Trials trials, String circle) {
        return CircleProgress.of(trials.analysed(), circle).orElseThrow();
    }

    private static String sized(double value, double low, double high) {
        return WORDING.amount(value) + ", " + WORDING.range(low, high);
    }

    @Test
    void aCircleThatIsNotThere_hasNone() {
        assertThat(CircleProgress.of(bothTurns(1600, 2200, 1).analysed(), "l9")).isEmpty();
    }

    /** 1605 and 1607 mm, each 0.78 mm more for the missed centre; the tape's edge alone is 5.8 mm either way, times two. */
    @Test
    void size_isTheCirclesOwn_andThatOfAllLikeIt() {
        Analysis analysis = bothTurns(1600, 2200, 3).analysed();
        CircleProgress progress = CircleProgress.of(analysis, "l1").orElseThrow();
        CircleProgress.Diameter own = progress.diameter().orElseThrow();
        assertThat(own.estimate()).isCloseTo(1.60678, within(1e-5));
        assertThat(own.high() - own.low()).isBetween(4 * 0.0058, 0.08);
        CellEstimate cell = analysis.cells().get(0);
        Estimate all = cell.diameter();
        assertThat(progress.size())
                .containsExactly(
                        "This circle: " + sized(own.estimate(), own.low(), own.high()) + ".",
                        "Alder, left, 2WD, 3 circles together: " + sized(all.value(), all.low(), all.high())
                                + (cell.restsOnAssumption() ? "; rests on the assumed repeatability." : "."));
        Analysis one = bothTurns(1600, 2200, 1).analysed();
        Estimate alone = one.cells().get(1).diameter();
        assertThat(CircleProgress.of(one, "r0").orElseThrow().size().get(1))
                .isEqualTo("Alder, right, 2WD, 1 circle: " + sized(alone.value(), alone.low(), alone.high())
                        + "; rests on the assumed repeatability.");
    }

    @Test
    void enough_isSaidOnlyWhereEveryQuestionHasItsAnswer() {
        assertThat(of(bothTurns(1600, 2200, 3), "l0").outlook())
                .containsExactly("Enough now: every question that hangs on circles like this one has its answer.");
    }

    /** A remainder that lies on the margin: no number of circles takes it off. */
    @Test
    void questionThatNoCircleSettles_isCalledThat() {
        CircleProgress progress = of(bothTurns(1600, 1650, 3), "l0");
        assertThat(progress.outlook().get(0))
                .isEqualTo("More circles like this one would probably settle nothing that is still open.");
        assertThat(progress.outlook()).hasSize(2);
        assertThat(progress.outlook().get(1)).startsWith("Left against right (Alder, 2WD): cannot tell yet. ");
    }

    /** A 4WD circle to the left alone: its own questions lack circles; that of 2WD, which is answered, is not its own. */
    @Test
    void missingCircles_areNamed_forTheQuestionsOfThisCircleAlone() {
        Trials trials = bothTurns(1600, 2200, 3).circle("x", Turn.LEFT, Drive.FOUR_WHEEL, 2500, 2502);
        assertThat(of(trials, "x").outlook())
                .contains("Left against right (Alder, 4WD): missing: a circle to the right in 4WD.")
                .noneMatch(said -> said.contains("2WD)"));
        assertThat(of(bothTurns(1600, 2200, 3).machine("Birch").circle("b", Turn.LEFT, Drive.FOUR_WHEEL, 1600), "b")
                        .outlook())
                .startsWith("Something is missing before the questions about this circle can be answered.")
                .contains("Left against right (Birch, 4WD): missing: a circle to the right in 4WD.")
                .noneMatch(said -> said.contains("(Alder, 2WD)"));
    }

    /** What keeps it open is what the claim states of itself, 60 mm; no blade has a part in an uncut diameter. */
    @Test
    void whatHangsOnAClaimOrAReference_isNotLaidOnTheBlades() {
        Trials claimed = bothTurns(1600, 2200, 3)
                .claim(
                        "C",
                        1640,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE),
                        Optional.of(Length.mm(60)),
                        OptionalInt.empty());
        assertThat(of(claimed, "l0").outlook())
                .containsExactly(
                        "More circles like this one would probably settle nothing that is still open.",
                        "Claims against this trial (C, Alder, left, 2WD, left turn in 2WD, uncut diameter): cannot tell yet. Further"
                                + " circles here would hardly settle it: most of what is open hangs on the claim itself. The more"
                                + " circles stand behind a claim, and the better its uncertainty is stated, the more it can be"
                                + " held to.");
        Trials complained = bothTurns(1600, 1600, 3).reference(1640, Turn.LEFT, Drive.TWO_WHEEL, 60, "manual");
        assertThat(of(complained, "l0").outlook().get(1))
                .startsWith("Complaints (Alder, manual): cannot tell yet. Even 24 more circles ")
                .contains(": the rest hangs on the reference.")
                .doesNotContain("blade");
    }

    /** With brakes it is another circle: what is open without them is not asked of it, nor the other way round. */
    @Test
    void circlesWithBrakes_haveQuestionsOfTheirOwn() {
        Trials open = braked(bothTurns(1600, 1650, 3), 1500, 2100);
        assertThat(of(open, "bl0").outlook())
                .containsExactly("Enough now: every question that hangs on circles like this one has its answer.");
        assertThat(of(open, "l0").outlook()).hasSize(2);
        Trials enough = braked(bothTurns(1600, 2200, 3), 1500, 1550);
        assertThat(of(enough, "l0").outlook())
                .containsExactly("Enough now: every question that hangs on circles like this one has its answer.");
        assertThat(of(enough, "bl0").outlook().get(1))
                .startsWith("Left against right (Alder, 2WD, with brakes): cannot tell yet. ");
    }

    /** A complaint about circles without brakes, and a claim that states brakes: each is the circles' it is about. */
    @Test
    void complaintsAndClaims_hangOnTheCirclesTheyAreAbout() {
        Trials complained =
                braked(bothTurns(1600, 2200, 3), 1500, 2100).reference(1640, Turn.LEFT, Drive.TWO_WHEEL, 60, "manual");
        assertThat(of(complained, "bl0").outlook())
                .containsExactly("Enough now: every question that hangs on circles like this one has its answer.");
        Trials claimed = braked(bothTurns(1600, 2200, 3), 1500, 2100)
                .claim(
                        "C",
                        5000,
                        Claim.Quantity.CLEARANCE_CIRCLE_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.USED));
        assertThat(of(claimed, "l0").outlook()).hasSize(1);
        assertThat(of(claimed, "bl0").outlook())
                .startsWith("Something is missing before the questions about this circle can be answered.");
        // a stop without contact spoils every circle of its turn
        Trials stop = braked(bothTurns(1600, 2200, 3), 1500, 2100).stop(Turn.LEFT, 28, 28, false);
        assertThat(of(stop, "bl0").outlook()).anyMatch(said -> said.contains("contact of the left stop"));
    }

    private static Trials braked(Trials trials, double left, double right) {
        for (int i = 0; i < 3; i++) {
            trials.circle("bl" + i, Turn.LEFT, Drive.TWO_WHEEL, left + 5 * i, left + 5 * i + 2)
                    .withBrakes()
                    .circle("br" + i, Turn.RIGHT, Drive.TWO_WHEEL, right + 5 * i)
                    .withBrakes();
        }
        return trials;
    }

    @Test
    void circleWithoutReadings_isToBeMeasured() {
        CircleProgress progress = of(bothTurns(1600, 2200, 3).circle("x", Turn.LEFT, Drive.TWO_WHEEL), "x");
        assertThat(progress.diameter()).isEmpty();
        assertThat(progress.again())
                .containsExactly(
                        "It has no reading that makes a circle, so it does not count. Measure it or set use = no.");
        assertThat(progress.size()).hasSize(1);
    }

    /** That it is the only one of its cell is no fault of this circle's; that all its tapes lay alike is. */
    @Test
    void again_saysWhatSpeaksForMeasuringThisCircleAgain() {
        Trials trials = bothTurns(1600, 2200, 3).circle("x", Turn.LEFT, Drive.FOUR_WHEEL);
        for (int i = 0; i < 4; i++) {
            trials.across(2500 + i).lying(30);
        }
        assertThat(of(trials, "x").again())
                .containsExactly(
                        "Circle x: the tape lay the same way each time, so an oval circle or a missed centre would"
                                + " not show. Lay it in different directions.");
        assertThat(of(bothTurns(1600, 2200, 3), "l0").again()).isEmpty();
    }
}
