package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What becomes of a whole trial: which part comes from where, in which order, and what leads. */
class AnalysisTest {
    private static Analysis analysis;

    /**
     * Cedar turned one way only, Alder both ways in both drives, far wider to the right, Birch both ways; a claim about either
     * turn of Alder, a reference for both, and a stop of Birch that does not touch.
     */
    @BeforeAll
    static void analyse() {
        analysis = Trials.inMillimetres()
                .machine("Cedar")
                .circle("C1", Turn.LEFT, Drive.TWO_WHEEL, 1702)
                .machine("Alder")
                .circle("A5", Turn.RIGHT, Drive.FOUR_WHEEL, 1980)
                .circle("A6", Turn.RIGHT, Drive.FOUR_WHEEL, 1984)
                .circle("A4", Turn.LEFT, Drive.FOUR_WHEEL, 1808)
                .circle("A3", Turn.RIGHT, Drive.TWO_WHEEL, 1780)
                .circle("A2", Turn.LEFT, Drive.TWO_WHEEL, 1603)
                .circle("A1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .deckOfThree(0)
                .claim(
                        "K",
                        1650,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.empty(),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.empty())
                .reference(1600, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual")
                .reference(1600, Turn.RIGHT, Drive.TWO_WHEEL, 5, "manual")
                .machine("Birch")
                .circle("B1", Turn.LEFT, Drive.TWO_WHEEL, 1760)
                .circle("B2", Turn.RIGHT, Drive.TWO_WHEEL, 1790)
                .circle("B3", Turn.RIGHT, Drive.TWO_WHEEL, 1793)
                .stop(Turn.RIGHT, 10, 12, false)
                .analysed();
    }

    private static String said(Finding finding) {
        List<String> words = new ArrayList<>();
        for (String key : List.of("machine", "other", "stop", "turn", "drive")) {
            words.add(finding.subject().getOrDefault(key, "-"));
        }
        return finding.question().word() + " " + String.join(" ", words);
    }

    @Test
    void findings_comeInReadingOrder_whatIsMissingAtAStopFirst() {
        assertThat(analysis.findings())
                .extracting(AnalysisTest::said)
                .containsExactly(
                        "leftRight Birch - right right -",
                        "leftRight Cedar - - - 2WD",
                        "leftRight Alder - - - 2WD",
                        "leftRight Alder - - - 4WD",
                        "leftRight Birch - - - 2WD",
                        "drive Alder - - left -",
                        "drive Alder - - right -",
                        "drive Alder - - both -",
                        "claim Alder - - left 2WD",
                        "claim Alder - - right 2WD",
                        "complaint Alder - - - -",
                        "complaint Alder - - left 2WD",
                        "complaint Alder - - right 2WD",
                        // by the mean of the first, then of the second: Cedar 1702, Birch 1776, Alder 1793 mm
                        "sideBySide Cedar Birch - left 2WD",
                        "sideBySide Alder Cedar - left 2WD",
                        "sideBySide Alder Birch - all all",
                        "sideBySide Alder Birch - left 2WD",
                        "sideBySide Alder Birch - right 2WD");
    }

    /** Not the less likely reading of a claim, nor single turns where something is said on the whole. */
    @Test
    void whatLeads_isReadFirst() {
        assertThat(analysis.findings().stream().filter(f -> !analysis.leads(f)))
                .extracting(AnalysisTest::said)
                .containsExactly(
                        "claim Alder - - right 2WD",
                        "complaint Alder - - left 2WD",
                        "complaint Alder - - right 2WD",
                        "sideBySide Alder Birch - left 2WD",
                        "sideBySide Alder Birch - right 2WD");
    }

    /** A reading that is most probably a slip decided between two machines, and what to do next did not mention it. */
    @Test
    void whatAnAnswerHangsOn_isLookedAtFirst_whereTheDataChecksDoubtIt() {
        Analysis slipped = Trials.inMillimetres()
                .machine("Birch")
                .circle("b1", Turn.LEFT, Drive.TWO_WHEEL, 1630, 1634)
                .circle("b2", Turn.RIGHT, Drive.TWO_WHEEL, 1654, 1652)
                .machine("Cedar")
                .circle("c1", Turn.LEFT, Drive.TWO_WHEEL, 1735, 2190)
                .circle("c2", Turn.RIGHT, Drive.TWO_WHEEL, 1830, 1832)
                .analysed();
        Warning doubt = slipped.warnings().stream()
                .filter(w -> w.where().equals("circle c1"))
                .findFirst()
                .orElseThrow();
        Finding whole = slipped.findings().stream()
                .filter(f -> "all".equals(f.subject().get("turn")))
                .findFirst()
                .orElseThrow();
        assertThat(whole.verdict().word()).isEqualTo("beyond");
        assertThat(whole.robustness().orElseThrow().fallsWithout()).contains("circle c1");
        assertThat(whole.next())
                .startsWith("First look at what the data checks say of circle c1: without it this answer falls. ");
        assertThat(whole.mindfulOf(List.of(new Warning(doubt.code(), "circle b3", "elsewhere")), List.of()))
                .isEqualTo(whole);
    }

    /** All readings typed in inches without a unit: the question stood in the data checks alone, and verdicts beside it. */
    @Test
    void unitsInDoubtThroughout_comeBeforeEveryFigure() {
        Analysis sound = Trials.inMillimetres()
                .machine("Birch")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1700, 1702)
                .circle("2", Turn.LEFT, Drive.FOUR_WHEEL, 1900, 1904)
                .analysed();
        List<Warning> asked = List.of(new Warning("wrongUnit", "readings.csv, rows 2–5", "4 readings, read in"));
        List<Warning> ofOne = List.of(new Warning("wrongUnit", "readings.csv, row 2", "A reading, read in"));
        for (Finding finding : sound.findings()) {
            assertThat(finding.mindfulOf(ofOne, List.of())).isEqualTo(finding);
            Finding mindful = finding.mindfulOf(asked, List.of());
            assertThat(mindful.next())
                    .isEqualTo((finding.estimate().isPresent()
                                    ? "First settle what the data checks ask of the unit in readings.csv, rows 2–5: until then"
                                            + " every figure is open. "
                                    : "")
                            + finding.next());
        }
        assertThat(sound.findings()).anyMatch(f -> f.estimate().isPresent());
    }

    /** What is open sends people out to drive: not with a stop that does not touch. */
    @Test
    void aStopThatDoesNotTouch_comesBeforeWhatIsOpen() {
        Analysis loose = Trials.inMillimetres()
                .machine("Birch")
                .deckOfThree(0)
                .stop(Turn.LEFT, 28, 28, false)
                .stop(Turn.RIGHT, 28, 28, true)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1700, 1702)
                .analysed();
        Finding turning = loose.asymmetries().get(0).finding();
        assertThat(turning.verdict().decided()).isFalse();
        assertThat(turning.next())
                .startsWith("Leave Birch until the stop that does not touch is mended, as said above. Then: Drive and");
        assertThat(loose.findings().get(0).next()).startsWith("Leave the machine until this is mended");
    }

    @Test
    void cellsAndDifferences_comeByMachine_driveAndTurn() {
        Analysis driven = Trials.inMillimetres()
                .machine("Cedar")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1702)
                .machine("Alder")
                .circle("2", Turn.RIGHT, Drive.FOUR_WHEEL, 1980)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 1808)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1780)
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .analysed();
        assertThat(driven.cells())
                .extracting(c -> c.cell().toString())
                .containsExactly(
                        "Cedar, left, 2WD",
                        "Alder, left, 2WD",
                        "Alder, right, 2WD",
                        "Alder, left, 4WD",
                        "Alder, right, 4WD");
        assertThat(driven.circles()).extracting(c -> c.circle().id()).containsExactly("1", "2", "3", "4", "5");
        assertThat(driven.machines()).extracting(m -> m.machine().id()).containsExactly("Cedar", "Alder");
        assertThat(driven.differences())
                .extracting(d -> d.to() + " less " + d.from())
                .containsExactly(
                        "Alder, right, 2WD less Alder, left, 2WD",
                        "Alder, right, 4WD less Alder, left, 4WD",
                        "Alder, left, 4WD less Alder, left, 2WD",
                        "Alder, right, 4WD less Alder, right, 2WD");
        for (Difference difference : driven.differences()) {
            assertThat(difference.estimate().value())
                    .isCloseTo(diameter(driven, difference.to()) - diameter(driven, difference.from()), within(1e-9));
        }
    }

    private static double diameter(Analysis driven, Cell cell) {
        return driven.cells().stream()
                .filter(c -> c.cell().equals(cell))
                .findFirst()
                .orElseThrow()
                .diameter()
                .value();
    }

    /** What 4WD costs is asked of circles without brakes, in turns driven both ways. */
    @Test
    void costOf4wd_isNotTakenFromCirclesWithBrakes() {
        Analysis brakes = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .withBrakes()
                .circle("2", Turn.LEFT, Drive.FOUR_WHEEL, 1800)
                .circle("3", Turn.RIGHT, Drive.FOUR_WHEEL, 1810)
                .analysed();
        assertThat(brakes.differences())
                .extracting(Difference::from)
                .containsExactly(new Cell("Alder", Turn.LEFT, Drive.FOUR_WHEEL, Brakes.NONE));
    }

    /** Each carries the finding about its own cells, as it stands among all, with what would overturn it. */
    @Test
    void asymmetries_haveTheirFindings() {
        assertThat(analysis.asymmetries()).hasSize(4);
        for (Asymmetry asymmetry : analysis.asymmetries()) {
            Cell left = asymmetry.left();
            assertThat(asymmetry.finding())
                    .isEqualTo(analysis.findings().stream()
                            .filter(f -> f.question() == Question.LEFT_RIGHT
                                    && f.subject()
                                            .equals(Map.of(
                                                    "machine",
                                                    left.machine(),
                                                    "drive",
                                                    left.drive().word())))
                            .findFirst()
                            .orElseThrow());
            asymmetry
                    .measured()
                    .ifPresent(d -> assertThat(List.of(d.from(), d.to())).containsExactly(left, asymmetry.right()));
        }
        Finding alder = analysis.asymmetries().get(1).finding();
        assertThat(alder.verdict().word()).isEqualTo("beyond"); // 178 mm, with blades that sit even
        assertThat(alder.robustness()).isPresent();
        assertThat(analysis.findings())
                .allMatch(f -> f.robustness().isPresent() == f.verdict().decided());
    }

    /**
     * Fourteen questions could be asked: left against right twice, what 4WD costs three times, one claim, however many readings
     * it has, a complaint on the whole and in two turns, five pairs of circles. A less likely reading is no question of its own.
     */
    @Test
    void family_countsEveryQuestionOnce() {
        assertThat(analysis.findings().stream()
                        .filter(f -> f.estimate().isPresent())
                        .count())
                .isEqualTo(14 + 1);
        List<Finding> doubtful =
                analysis.findings().stream().filter(f -> !f.holdsInFamily()).toList();
        assertThat(doubtful)
                .isNotEmpty()
                .allSatisfy(
                        f -> assertThat(f.sentence()).contains("Counting all 14 questions of this trial together,"));
    }

    /** One question of left and right and one claim, whose other reading is a guess at the same. */
    @Test
    void family_isNotLargerForAGuess() {
        Analysis two = Trials.inMillimetres()
                .confidence(0.985)
                .machine("Alder")
                .deckOfThree(0)
                .threeEachWay(1600, 1600)
                .claim(
                        "K",
                        1650,
                        Claim.Quantity.UNCUT_DIAMETER,
                        "Alder",
                        Optional.empty(),
                        Optional.of(Drive.TWO_WHEEL),
                        Optional.of(Brakes.NONE))
                .analysed();
        Finding leftRight = two.findings().get(0);
        assertThat(leftRight.verdict().word()).isEqualTo("within");
        // enough for one question, too little for the first of two
        assertThat(1 - leftRight.verdict().probability()).isBetween(0.015 / 2, 0.015);
        assertThat(leftRight.holdsInFamily()).isFalse();
        assertThat(leftRight.sentence()).contains("Counting all 2 questions of this trial together,");
    }

    @Test
    void stopsClaimsComplaintsAndComparison_areHandedOn() {
        assertThat(analysis.stops())
                .extracting(s -> s.machine() + " " + s.stop().side())
                .containsExactly("Birch RIGHT");
        assertThat(analysis.claims()).extracting(c -> c.claim().id()).containsExactly("K");
        assertThat(analysis.claims().get(0).readings())
                .extracting(r -> r.cell().turn())
                .containsExactly(Turn.LEFT, Turn.RIGHT);
        assertThat(analysis.complaints()).extracting(Complaint::machine).containsExactly("Alder");
        assertThat(analysis.sideBySide()).isPresent();
        assertThat(analysis.testers()).isEmpty();
    }

    @Test
    void warnings_endWithWhatTheDataChecksFound() {
        Analysis slip = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .typed("1600", 0)
                .typed("801", 0)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1604, 1601)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1603, 1600)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL)
                .analysed();
        assertThat(slip.warnings()).extracting(Warning::code).containsExactly("noReadings", "radiusAsDiameter");
        assertThat(slip.trial().circles()).hasSize(4);
    }

    /** All circles share one repeatability, whoever's they are: it is that of one machine which drove them all. */
    @Test
    void repeatability_isThatOfAllMachinesTogether() {
        RepeatabilityPosterior together = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1604)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1612)
                .machine("Birch")
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1700, 1701)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, 1740, 1738)
                .analysed()
                .repeatability()
                .orElseThrow();
        Analysis one = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1604)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1612)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1700, 1701)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1740, 1738)
                .analysed();
        RepeatabilityPosterior alone = one.repeatability().orElseThrow();
        assertThat(alone).isSameAs(one.machines().get(0).posterior());
        Estimate expected = alone.circleToCircle(0.95);
        assertThat(together.circleToCircle(0.95).value()).isCloseTo(expected.value(), within(1e-9));
        assertThat(together.circleToCircle(0.95).high()).isCloseTo(expected.high(), within(1e-9));
        assertThat(together.reading(0.95).value()).isCloseTo(alone.reading(0.95).value(), within(1e-9));
    }

    @Test
    void withoutACircleThatCounts_nothingIsSaid() {
        Analysis nothing = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .takenOut("mark lost")
                .analysed();
        assertThat(nothing.repeatability()).isEmpty();
        assertThat(nothing.machines()).isEmpty();
        assertThat(nothing.cells()).isEmpty();
        assertThat(nothing.findings()).isEmpty();
        assertThat(nothing.circles()).hasSize(1);
        assertThat(nothing.warnings()).extracting(Warning::code).containsExactly("excluded", "machineWithoutCircles");
    }
}
