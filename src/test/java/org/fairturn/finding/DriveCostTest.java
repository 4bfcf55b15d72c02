package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Figures;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** What 4WD costs, asked of small trials: of whom it is asked, and each verdict's words. */
class DriveCostTest {
    private static final Wording WORDING = new Wording(LengthUnit.MILLIMETRE);
    private static final String MARGIN = "the practical margin of 50 mm (2.0 in)";
    private static final String OPEN = "that may lie on either side of " + MARGIN + ": this trial cannot tell yet.";

    private static Trials alder() {
        return Trials.inMillimetres().machine("Alder");
    }

    /** Circles in one turn and drive, alike but for a few millimetres. */
    private static Trials driven(Trials trials, Turn turn, Drive drive, int circles, double across) {
        for (int i = 0; i < circles; i++) {
            trials.circle(turn.word() + drive.word() + i, turn, drive, across + 3 * (i % 3) - 3);
        }
        return trials;
    }

    /** So many in each drive, to the left. */
    private static Trials left(int circles, double twoWheel, double fourWheel) {
        return driven(
                driven(alder(), Turn.LEFT, Drive.TWO_WHEEL, circles, twoWheel),
                Turn.LEFT,
                Drive.FOUR_WHEEL,
                circles,
                fourWheel);
    }

    /** So many in each turn and drive; what 4WD adds in either turn. */
    private static Trials bothTurns(int circles, double toTheLeft, double toTheRight) {
        Trials trials = left(circles, 1600, 1600 + toTheLeft);
        driven(trials, Turn.RIGHT, Drive.TWO_WHEEL, circles, 1650);
        return driven(trials, Turn.RIGHT, Drive.FOUR_WHEEL, circles, 1650 + toTheRight);
    }

    private static List<Answer<Asked>> answers(Trials trials) {
        Asked asked = Trials.asked(trials.trial());
        return DriveCost.of(asked.machines().get(0), asked);
    }

    private static Finding finding(Trials trials, String turn) {
        return answers(trials).stream()
                .map(Answer::finding)
                .filter(f -> turn.equals(f.subject().get("turn")))
                .findFirst()
                .orElseThrow();
    }

    private static String turnsAsked(Trials trials) {
        return String.join(
                " ",
                answers(trials).stream()
                        .map(a -> a.finding().subject().get("turn") + ":"
                                + a.finding().verdict().word())
                        .toList());
    }

    private static String surely(Finding finding) {
        return " with a probability of "
                + Figures.percent(Math.min(finding.verdict().probability(), 0.9999));
    }

    private static String between(Finding finding) {
        return WORDING.towards(finding.estimate().orElseThrow());
    }

    @Test
    void itIsAskedOfTurns_driven_inBothDrives() {
        assertThat(answers(driven(alder(), Turn.LEFT, Drive.TWO_WHEEL, 2, 1600)))
                .isEmpty();
        // held in one drive the question is not asked, nor where only circles with brakes have the other
        assertThat(answers(driven(
                        driven(alder(), Turn.LEFT, Drive.TWO_WHEEL, 2, 1600), Turn.RIGHT, Drive.TWO_WHEEL, 2, 1650)))
                .isEmpty();
        assertThat(answers(driven(alder(), Turn.LEFT, Drive.TWO_WHEEL, 2, 1600)
                        .circle("b", Turn.LEFT, Drive.FOUR_WHEEL, 1400)
                        .withBrakes()))
                .isEmpty();
        assertThat(turnsAsked(left(6, 1600, 1900))).isEqualTo("left:wider");
        assertThat(turnsAsked(bothTurns(6, 300, 300))).isEqualTo("left:wider right:wider both:within");
        assertThat(turnsAsked(driven(left(6, 1600, 1900), Turn.RIGHT, Drive.TWO_WHEEL, 2, 1650)))
                .isEqualTo("left:wider right:notPossible");
    }

    @Test
    void aTurnDrivenInOneDriveOnly_isMissed_whereTheOtherTurnHasBoth() {
        Finding four = finding(driven(left(2, 1600, 1700), Turn.RIGHT, Drive.TWO_WHEEL, 2, 1650), "right");
        assertThat(four.sentence())
                .isEqualTo(
                        "Alder, right turn: what 4WD costs cannot be said yet. Missing: a circle to the right in 4WD.");
        assertThat(four.next()).isEqualTo("Drive and measure it, then compare again.");
        assertThat(four.restsOnAssumption()).isTrue();
        assertThat(four.margin()).isEqualTo(0.05);
        Finding two = finding(driven(left(2, 1600, 1700), Turn.RIGHT, Drive.FOUR_WHEEL, 2, 1650), "right");
        assertThat(two.verdict()).isEqualTo(new Verdict.NotPossible(List.of("a circle to the right in 2WD")));
        // one turn in either drive: neither has both
        Trials apart =
                driven(driven(alder(), Turn.LEFT, Drive.TWO_WHEEL, 2, 1600), Turn.RIGHT, Drive.FOUR_WHEEL, 2, 1700);
        assertThat(turnsAsked(apart)).isEqualTo("left:notPossible right:notPossible");
        assertThat(finding(apart, "left").sentence()).contains("Missing: a circle to the left in 4WD.");
        assertThat(finding(apart, "right").sentence()).contains("Missing: a circle to the right in 2WD.");
    }

    /** A chord longer by 300 mm that missed the centre as far is a circle larger by a tenth of a millimetre less. */
    @Test
    void ofATurn_itIsSaidHowMuchLarger_andWhatThatMeans() {
        String much =
                "Compare machines in the same drive only, and mow in 2WD where the ground allows it and tightness counts."
                        + " How much 4WD costs depends on tyres and ground; on slopes and wet grass follow the operator's manual.";
        Finding wider = finding(left(6, 1600, 1900), "left");
        assertThat(wider.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle 300 mm (11.8 in) larger, " + between(wider)
                        + "; that is beyond " + MARGIN + surely(wider) + ": in 4WD it turns wider.");
        assertThat(wider.next()).isEqualTo(much);
        Finding tighter = finding(left(6, 1900, 1600), "left");
        assertThat(tighter.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle 300 mm (11.8 in) smaller, " + between(tighter)
                        + "; that is beyond " + MARGIN + surely(tighter) + ": in 4WD it turns tighter.");
        assertThat(tighter.next()).isEqualTo(much);
        Finding alike = finding(left(6, 1600, 1604), "left");
        assertThat(alike.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle 4 mm (0.2 in) larger, " + between(alike)
                        + "; that is within " + MARGIN + surely(alike)
                        + ", so the drive makes no difference that matters.");
        assertThat(alike.next()).isEqualTo("Compare machines in either drive; say which.");
        Finding open = finding(left(6, 1600, 1650), "left");
        assertThat(open.verdict().word()).isEqualTo("cannotTell");
        assertThat(open.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle 50 mm (2.0 in) larger, " + between(open) + "; "
                        + OPEN);
        assertThat(open.next()).isNotEmpty();
    }

    @Test
    void ofBothTurns_itIsSaidWhichCostsMore_andWhatThatMeans() {
        Finding more = finding(bothTurns(6, 100, 300), "both");
        assertThat(more.sentence())
                .isEqualTo("Alder: 4WD costs 200 mm (7.9 in) more to the right than to the left, " + between(more)
                        + "; that is beyond " + MARGIN + surely(more) + ": it does not cost both turns alike.");
        assertThat(more.verdict().word()).isEqualTo("beyond");
        assertThat(more.next())
                .isEqualTo(
                        "Look at front tyre sizes and pressures left against right, and whether both stops touch the axle in"
                                + " 4WD; a qualified technician has the last word.");
        Finding less = finding(bothTurns(6, 300, 100), "both");
        assertThat(less.sentence()).startsWith("Alder: 4WD costs 200 mm (7.9 in) less to the right than to the left, ");
        Finding alike = finding(bothTurns(8, 100, 104), "both");
        assertThat(alike.sentence())
                .isEqualTo("Alder: 4WD costs 4 mm (0.2 in) more to the right than to the left, " + between(alike)
                        + "; that is within " + MARGIN + surely(alike) + ", so it costs both turns alike.");
        assertThat(alike.next()).isEqualTo("Nothing to do.");
        Finding open = finding(bothTurns(6, 100, 150), "both");
        assertThat(open.sentence())
                .isEqualTo("Alder: 4WD costs 50 mm (2.0 in) more to the right than to the left, " + between(open) + "; "
                        + OPEN);
        assertThat(open.next()).isNotEmpty();
    }

    /** By hand: 1600 mm becomes 1600.78 mm and 1900 mm 1900.66 mm with the centre missed by 25 mm. */
    @Test
    void aTurn_hasBothDrivesAsItsParts() {
        Finding finding = finding(left(6, 1600, 1900), "left");
        assertThat(finding.question()).isEqualTo(Question.DRIVE);
        assertThat(finding.subject()).isEqualTo(Map.of("machine", "Alder", "turn", "left"));
        assertThat(finding.parts()).extracting(Part::name).containsExactly("2WD", "4WD");
        Part two = finding.part("2WD").orElseThrow();
        Part four = finding.part("4WD").orElseThrow();
        assertThat(two.estimate()).isCloseTo(1.60078, within(1e-5));
        assertThat(four.estimate()).isCloseTo(1.90066, within(1e-5));
        Estimate cost = finding.estimate().orElseThrow();
        assertThat(cost.value()).isCloseTo(four.estimate() - two.estimate(), within(1e-9));
        // the edge that both share is in each of them and not in the difference
        assertThat(Math.hypot(two.standardUncertainty(), four.standardUncertainty()))
                .isGreaterThan(cost.standardUncertainty());
        assertThat(finding(bothTurns(2, 100, 200), "both").parts()).isEmpty();
        assertThat(finding(bothTurns(2, 100, 200), "both")
                        .estimate()
                        .orElseThrow()
                        .value())
                .isCloseTo(0.1, within(2e-4));
    }

    @Test
    void askedAgain_itIsTheSameQuestion() {
        Trial trial = bothTurns(3, 100, 300).trial();
        Asked asked = Trials.asked(trial);
        Asked less = Trials.asked(trial.withCircles(trial.circles().stream()
                .filter(c -> !(c.cell().turn() == Turn.RIGHT && c.cell().drive() == Drive.FOUR_WHEEL))
                .toList()));
        List<Answer<Asked>> answers = answers(bothTurns(3, 100, 300));
        assertThat(answers).hasSize(3);
        for (Answer<Asked> answer : answers) {
            assertThat(answer.machines()).isEqualTo(Set.of("Alder"));
            Answer.Then then = answer.again().apply(asked).orElseThrow();
            assertThat(then.value())
                    .isCloseTo(answer.finding().estimate().orElseThrow().value(), within(1e-9));
            assertThat(then.upholds(answer.finding())
                            || !answer.finding().verdict().decided())
                    .isTrue();
        }
        assertThat(answers.get(0).again().apply(less)).isPresent();
        assertThat(answers.get(1).again().apply(less)).isEmpty();
        assertThat(answers.get(2).again().apply(less)).isEmpty();
    }
}
