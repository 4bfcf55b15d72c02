package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
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

    /** Two readings 1050 mm apart say nothing of where the circle lies, but a diameter is not below 0. */
    @Test
    void aDiameter_isNeverBelowNought() {
        Analysis analysis = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 90, 1140)
                .analysed();
        assertThat(analysis.cells().get(0).diameter().low()).isNegative();
        CircleProgress progress = CircleProgress.of(analysis, "1").orElseThrow();
        assertThat(progress.diameter().orElseThrow().low()).isZero();
        assertThat(progress.size()).hasSize(2).allMatch(said -> said.contains(", between 0 and "));
    }

    /** What is asked of all readings at once stands beside each circle with its own numbers. */
    @Test
    void unitsInDoubt_areAskedBesideEachCircle() {
        Analysis analysis = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .typed("64.5", 0)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL)
                .typed("70 1/4", 0)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL)
                .typed("1784", 0)
                .typed("1786", 0)
                .analysed();
        // 64.5 mm and 2·25²/64.5 mm for the missed centre make 84 mm, 1638.3 mm and 0.8 mm 1639 mm
        assertThat(CircleProgress.of(analysis, "1").orElseThrow().again())
                .containsExactly(
                        "Circle 1: across 64.5, read in millimetres because no unit stands behind the number, makes 84 mm (3.3 in);"
                                + " compact tractors mostly leave between 0.5 and 6 m. Was it inches, which would make 1639 mm"
                                + " (64.5 in)? Then write the unit behind the number, or change the length unit in trial.csv if that"
                                + " was meant throughout. If it is right, write the unit too (64.5 mm), and nobody asks again."
                                + " Nothing was changed.");
        assertThat(CircleProgress.of(analysis, "2").orElseThrow().again())
                .singleElement()
                .asString()
                .startsWith("Circle 2: across 70 1/4, read in millimetres ");
        assertThat(CircleProgress.of(analysis, "3").orElseThrow().again()).isEmpty();
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

    /** What a claim or a complaint calls what it wants, in the words of the report. */
    private static Finding open(Analysis analysis, Question question) {
        return analysis.findings().stream()
                .filter(f -> f.question() == question && !f.verdict().decided())
                .findFirst()
                .orElseThrow();
    }

    private static Outlook outlook(Finding finding) {
        return finding.verdict()
                .<Optional<Outlook>>fold(
                        w -> Optional.empty(),
                        b -> Optional.empty(),
                        c -> Optional.of(c.outlook()),
                        n -> Optional.empty())
                .orElseThrow();
    }

    /** A claim of the left turn, close enough to the circles to need more of them, but not for ever. */
    private static Trials claimedLeft(Trials trials, String id, double value) {
        return trials.claim(
                id,
                value,
                Claim.Quantity.UNCUT_DIAMETER,
                "Alder",
                Optional.of(Turn.LEFT),
                Optional.of(Drive.TWO_WHEEL),
                Optional.of(Brakes.NONE),
                Optional.of(Length.mm(5)),
                OptionalInt.of(10));
    }

    /** The fewest circles come first, and how many of this cell they are; the right turn has no part in the claim. */
    @Test
    void circlesThatWouldHelp_areCounted_theQuestionNearestItsAnswerFirst() {
        Trials trials = claimedLeft(bothTurns(1600, 1750, 1), "C", 1700);
        Analysis analysis = trials.analysed();
        Outlook turns = outlook(open(analysis, Question.LEFT_RIGHT));
        Outlook claim = outlook(open(analysis, Question.CLAIM));
        assertThat(turns.total()).isLessThan(claim.total());
        Cell left = analysis.cells().get(0).cell();
        assertThat(turns.furtherCircles()).hasSize(2).containsKey(left);
        String leftRight = "Left against right (Alder, 2WD): cannot tell yet. " + Wording.outlookOf(turns);
        assertThat(CircleProgress.of(analysis, "l0").orElseThrow().outlook())
                .containsExactly(
                        "Not enough yet: " + turns.furtherCircles().get(left)
                                + " more circles like this one and some others would probably settle a question.",
                        leftRight,
                        "Claims against this trial (C, Alder, left, 2WD, left turn in 2WD, uncut diameter): cannot tell yet. "
                                + Wording.outlookOf(claim));
        assertThat(CircleProgress.of(analysis, "r0").orElseThrow().outlook())
                .hasSize(2)
                .contains(leftRight);
    }

    @Test
    void oneCircleThatWouldHelp_isCalledOne_andCirclesOfThisCellAloneAreCalledThat() {
        Analysis one = claimedLeft(bothTurns(1600, 1900, 1), "C", 1750).analysed();
        assertThat(outlook(open(one, Question.CLAIM)).total()).isOne();
        assertThat(CircleProgress.of(one, "l0").orElseThrow().outlook().get(0))
                .isEqualTo("Not enough yet: one more circle like this one would probably settle a question.");
        Analysis more = claimedLeft(bothTurns(1600, 1900, 1), "C", 1720).analysed();
        int total = outlook(open(more, Question.CLAIM)).total();
        assertThat(total).isGreaterThan(1);
        assertThat(CircleProgress.of(more, "l0").orElseThrow().outlook().get(0))
                .isEqualTo(
                        "Not enough yet: " + total + " more circles like this one would probably settle a question.");
        assertThat(CircleProgress.of(more, "r0").orElseThrow().outlook())
                .containsExactly("Enough now: every question that hangs on circles like this one has its answer.");
    }

    /** A reference for 2WD says nothing of 4WD, whatever else the machine is held against. */
    @Test
    void complaint_isAskedOfTheCirclesItCompares() {
        Trials trials = bothTurns(1600, 1600, 3)
                .reference(1640, Turn.LEFT, Drive.TWO_WHEEL, 60, "manual")
                .circle("f", Turn.LEFT, Drive.FOUR_WHEEL, 1700)
                .reference(1740, Turn.LEFT, Drive.FOUR_WHEEL, 60, "brochure");
        assertThat(of(trials, "l0").outlook())
                .anyMatch(said -> said.startsWith("Complaints (Alder, manual): cannot tell yet."))
                .noneMatch(said -> said.contains("brochure"));
        assertThat(of(trials, "f").outlook())
                .anyMatch(said -> said.startsWith("Complaints (Alder, brochure): cannot tell yet."))
                .noneMatch(said -> said.contains("manual"));
    }

    /** The second claim has nothing to be held against; which circles it wants is its own affair, not the first one's. */
    @Test
    void claimThatFitsNoCircle_isAskedOfThoseItMeans() {
        Trials trials = bothTurns(1600, 2200, 3)
                .claim(
                        "A",
                        5000,
                        Claim.Quantity.CLEARANCE_CIRCLE_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.USED))
                .claim(
                        "B",
                        5000,
                        Claim.Quantity.CLEARANCE_CIRCLE_DIAMETER,
                        "Alder",
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE));
        assertThat(of(trials, "l0").outlook())
                .anyMatch(said -> said.startsWith("Claims against this trial (B, "))
                .noneMatch(said -> said.startsWith("Claims against this trial (A, "));
    }

    /** Two machines are compared on both their circles, all turns and drives together, and on nobody else's. */
    @Test
    void comparison_isAskedOfBothMachinesAndOfNoOther() {
        Trials trials = bothTurns(1600, 2200, 1)
                .machine("Birch")
                .deckOfThree(0)
                .circle("b", Turn.LEFT, Drive.TWO_WHEEL, 1640)
                .circle("c", Turn.RIGHT, Drive.TWO_WHEEL, 2240)
                .machine("Cedar")
                .circle("d", Turn.LEFT, Drive.FOUR_WHEEL, 1640);
        String both = "Side by side (Alder, Birch): cannot tell yet.";
        assertThat(of(trials, "l0").outlook()).anyMatch(said -> said.startsWith(both));
        assertThat(of(trials, "b").outlook()).anyMatch(said -> said.startsWith(both));
        assertThat(of(trials, "d").outlook())
                .anyMatch(said -> said.startsWith("Side by side (Birch, Cedar): missing: "))
                .noneMatch(said -> said.startsWith("Side by side (Alder, Birch"));
    }

    /** The second machine's circles scatter by 100 mm, so that its readings alone say how large its circle is. */
    @Test
    void size_isThatOfTheCirclesOwnMachine() {
        Trials second = bothTurns(1600, 1700, 3)
                .machine("Birch")
                .circle("b0", Turn.LEFT, Drive.TWO_WHEEL, 1500, 1560)
                .circle("b1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1660);
        Trials alone = Trials.inMillimetres()
                .machine("Birch")
                .circle("b0", Turn.LEFT, Drive.TWO_WHEEL, 1500, 1560)
                .circle("b1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1660);
        assertThat(of(second, "b0").diameter()).isEqualTo(of(alone, "b0").diameter());
        assertThat(of(second, "b0").size()).isEqualTo(of(alone, "b0").size());
    }

    /** An oval circle, 40 mm longer one way: what is said of tapes over all circles of a machine is not said of one. */
    @Test
    void again_leavesToTheReportWhatIsSaidOfAMachine() {
        Trials trials = Trials.inMillimetres().machine("Alder").circle("x", Turn.LEFT, Drive.TWO_WHEEL);
        for (int i = 0; i < 12; i++) {
            trials.across(2500 + 20 * Math.cos(2 * Math.toRadians(30 * i)) + i % 3)
                    .lying(30 * i);
        }
        Analysis analysis = trials.analysed();
        assertThat(analysis.warnings()).anyMatch(w -> w.code().equals("ovality"));
        assertThat(CircleProgress.of(analysis, "x").orElseThrow().again()).isEmpty();
    }
}
