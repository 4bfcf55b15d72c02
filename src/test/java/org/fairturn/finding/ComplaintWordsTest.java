package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.finding.ComplaintModel.Deviation;
import org.fairturn.finding.ComplaintWords.Evidence;
import org.fairturn.finding.ComplaintWords.Pattern;
import org.fairturn.finding.ComplaintWords.Seen;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/**
 * What is said of complaints, sentence by sentence. The machine is the one of {@link CauseSlopesTest}: one blade 0.6 m ahead and
 * 0.1 m to the left, wheelbase 1.5 m; an uncut circle of 1.6 m is a turn radius of 0.9 m to the left and of 0.7 m to the right.
 */
class ComplaintWordsTest {
    private static final ComplaintWords WORDS =
            new ComplaintWords(new DecisionRule(0.05, 0.95), new Wording(LengthUnit.MILLIMETRE));
    private static final double NOT_NOTED = Double.NaN;
    private static final Cell LEFT = cell(Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
    private static final Cell LEFT_4WD = cell(Turn.LEFT, Drive.FOUR_WHEEL, Brakes.NONE);
    private static final Cell RIGHT_4WD = cell(Turn.RIGHT, Drive.FOUR_WHEEL, Brakes.NONE);
    private static final List<Cell> CELLS =
            List.of(LEFT, cell(Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE), LEFT_4WD, RIGHT_4WD);
    private static final Verdict WITHIN = new Verdict.Within(0.97);
    private static final Verdict BEYOND = new Verdict.Beyond(0.97, Verdict.Sense.WIDER);
    private static final Verdict OPEN =
            new Verdict.CannotTell(0.6, new Outlook(Map.of(), 0.4, Outlook.Obstacle.NEAR_MARGIN));
    private static final Estimate LARGER = new Estimate(0.04, 0.015, 0.01, 0.07, 0.95);
    private static final Estimate SMALLER = new Estimate(-0.04, 0.015, -0.07, -0.01, 0.95);
    private static final String MARGIN = "the practical margin of 50 mm (2.0 in)";
    private static final String LAST_WORD = " The service manual and a qualified technician have the last word.";
    private static final Seen WIDER = new Seen(0.04, 0.01);
    private static final Seen TIGHTER = new Seen(-0.04, 0.01);
    private static final Seen HARDLY = new Seen(0.04, 0.03);
    private static final Seen HARDLY_TIGHTER = new Seen(-0.04, 0.03);
    private static final Optional<Deviation> DECK_NOT_MEASURED = Optional.empty();

    private static Cell cell(Turn turn, Drive drive, Brakes brakes) {
        return new Cell("Alder", turn, drive, brakes);
    }

    private static Trials bare() {
        return Trials.inMillimetres().machine("Alder");
    }

    private static Trials machine() {
        return bare().blade(600, 100, 200).steering(1500, 1000, 45, 45);
    }

    /** Both specified to protrude by 28 mm, with arms of 100 mm. */
    private static Trials stops(Trials trials, double left, double right) {
        return trials.stop(Turn.LEFT, 28, left, NOT_NOTED, 100).stop(Turn.RIGHT, 28, right, NOT_NOTED, 100);
    }

    private static Trials contact(Trials trials, Turn turn, boolean touches) {
        return trials.stop(turn, turn, 28, 28, NOT_NOTED, 100, Optional.of(touches));
    }

    private static CauseSlopes slopes(Trials trials) {
        return new CauseSlopes(trials.trial().machines().get(0), CELLS, List.of(1.6, 1.6, 1.6, 1.6));
    }

    /** Only what was measured of the machine is told from it here. */
    private static ComplaintModel model(Trials trials, Optional<Deviation> deck) {
        CauseRanking.Level level =
                new CauseRanking.Level(1, List.of(0.0, 0.0, 0.0, 0.0), List.of(1e-4, 1e-4, 1e-4, 1e-4), 1e-4);
        return new ComplaintModel(slopes(trials), List.of(), List.of(), List.of(), List.of(level), deck, 0.007, 0.05);
    }

    private static Optional<Deviation> deckOff(double metres) {
        return Optional.of(new Deviation(metres, 0.006));
    }

    private static Pattern turns(Seen left, Seen right) {
        return new Pattern(
                new EnumMap<>(Map.of(Turn.LEFT, left, Turn.RIGHT, right)),
                Optional.empty(),
                Optional.empty(),
                List.of());
    }

    private static Pattern leftOnly(Seen left) {
        return new Pattern(Map.of(Turn.LEFT, left), Optional.empty(), Optional.empty(), List.of());
    }

    /** Circles of both turns on the reference, in 2WD by themselves and by how much more in 4WD. */
    private static Pattern drives(Seen twoWheel, Seen frontAxle) {
        return new Pattern(turns(HARDLY, HARDLY).turns(), Optional.of(twoWheel), Optional.of(frontAxle), List.of());
    }

    private static ComplaintModel.Ranked ranked(Kind kind, double... effects) {
        return new ComplaintModel.Ranked(
                kind, "a cause", 0.1, 0.5, Arrays.stream(effects).boxed().toList(), Optional.empty());
    }

    private static Evidence evidence(Kind kind, Trials trials, Optional<Deviation> deck, Pattern pattern) {
        return WORDS.evidence(ranked(kind), model(trials, deck), pattern, List.of());
    }

    private static Evidence says(List<String> speaksFor, List<String> against) {
        return new Evidence(speaksFor, against);
    }

    private static String circles(String turn, String how) {
        return "the " + turn + " circles are " + how;
    }

    private static final String OFF_WIDER = "40 mm (1.6 in) wider than the reference";
    private static final String OFF_TIGHTER = "40 mm (1.6 in) tighter than the reference";
    private static final String NOT_OFF = "hardly off the reference";
    private static final String TOO_FAR_OUT = " stop was measured 4.0 mm (0.16 in) too far out";
    private static final String TOO_FAR_IN = " stop was measured 4.0 mm (0.16 in) too far in";
    private static final String AT_ITS_PLACE = " stop was measured at its specification";
    private static final String NO_CONTACT = " stop was seen not to touch the axle: mend this before all else";
    private static final String MORE_IN_4WD = "the excess is 40 mm (1.6 in) larger in 4WD than in 2WD";
    private static final String LESS_IN_4WD = "the excess is 40 mm (1.6 in) smaller in 4WD than in 2WD";
    private static final String ALIKE_IN_BOTH = "the excess is about the same in 2WD and 4WD";

    @Test
    void whatIsOff_speaksAgainstNothingBeingWrong() {
        assertThat(evidence(Kind.NOTHING, stops(machine(), 32, 28), deckOff(0.03), turns(WIDER, HARDLY)))
                .isEqualTo(says(
                        List.of(circles("right", NOT_OFF), "the right" + AT_ITS_PLACE),
                        List.of(
                                circles("left", OFF_WIDER),
                                "the left" + TOO_FAR_OUT,
                                "the deck was measured 30 mm (1.2 in) too far to the left")));
        assertThat(evidence(Kind.NOTHING, stops(machine(), 28, 24), deckOff(-0.03), turns(HARDLY, TIGHTER)))
                .isEqualTo(says(
                        List.of(circles("left", NOT_OFF), "the left" + AT_ITS_PLACE),
                        List.of(
                                circles("right", OFF_TIGHTER),
                                "the right" + TOO_FAR_IN,
                                "the deck was measured 30 mm (1.2 in) too far to the right")));
        assertThat(evidence(Kind.NOTHING, machine(), deckOff(0.01), leftOnly(HARDLY)))
                .isEqualTo(says(
                        List.of(circles("left", NOT_OFF), "the deck was measured where it should sit"), List.of()));
    }

    @Test
    void oneStop_isSpokenForByItsOwnTurnAlone() {
        assertThat(evidence(Kind.LEFT_STOP, stops(machine(), 32, 28), DECK_NOT_MEASURED, turns(WIDER, HARDLY)))
                .isEqualTo(says(
                        List.of(
                                circles("left", OFF_WIDER),
                                circles("right", NOT_OFF),
                                "the left" + TOO_FAR_OUT,
                                "the right" + AT_ITS_PLACE),
                        List.of()));
        assertThat(evidence(Kind.RIGHT_STOP, stops(machine(), 32, 28), DECK_NOT_MEASURED, turns(WIDER, HARDLY)))
                .isEqualTo(says(
                        List.of(),
                        List.of(
                                circles("right", NOT_OFF),
                                circles("left", OFF_WIDER),
                                "the right" + AT_ITS_PLACE,
                                "the left" + TOO_FAR_OUT)));
        assertThat(evidence(Kind.LEFT_STOP, machine(), DECK_NOT_MEASURED, leftOnly(TIGHTER)))
                .isEqualTo(says(List.of(circles("left", OFF_TIGHTER)), List.of()));
    }

    /** Further out is wider, so off the other way it does not explain its circles; where they hardly are off, off it still is. */
    @Test
    void aStop_isExplainedByCirclesOffItsOwnWay() {
        assertThat(evidence(Kind.LEFT_STOP, stops(machine(), 32, 28), DECK_NOT_MEASURED, leftOnly(TIGHTER))
                        .against())
                .containsExactly("the left" + TOO_FAR_OUT);
        for (Seen with : List.of(WIDER, HARDLY_TIGHTER)) {
            assertThat(evidence(Kind.LEFT_STOP, stops(machine(), 32, 28), DECK_NOT_MEASURED, leftOnly(with))
                            .speaksFor())
                    .contains("the left" + TOO_FAR_OUT);
        }
        assertThat(evidence(Kind.LEFT_STOP, stops(machine(), 24, 28), DECK_NOT_MEASURED, leftOnly(TIGHTER))
                        .speaksFor())
                .contains("the left" + TOO_FAR_IN);
    }

    @Test
    void bothStops_areSpokenForByBothTurnsOffAlike() {
        assertThat(evidence(Kind.BOTH_STOPS, stops(machine(), 32, 32), DECK_NOT_MEASURED, turns(WIDER, WIDER)))
                .isEqualTo(says(
                        List.of(
                                circles("left", OFF_WIDER),
                                circles("right", OFF_WIDER),
                                "the left" + TOO_FAR_OUT,
                                "the right" + TOO_FAR_OUT),
                        List.of()));
        assertThat(evidence(Kind.BOTH_STOPS, stops(machine(), 32, 24), DECK_NOT_MEASURED, turns(WIDER, TIGHTER)))
                .isEqualTo(says(
                        List.of(),
                        List.of(
                                circles("left", OFF_WIDER),
                                circles("right", OFF_TIGHTER),
                                "the left" + TOO_FAR_OUT,
                                "the right" + TOO_FAR_IN)));
        assertThat(evidence(Kind.BOTH_STOPS, stops(machine(), 28, 24), DECK_NOT_MEASURED, turns(HARDLY, TIGHTER)))
                .isEqualTo(says(
                        List.of(circles("right", OFF_TIGHTER), "the right" + TOO_FAR_IN),
                        List.of(circles("left", NOT_OFF), "the left" + AT_ITS_PLACE)));
    }

    /** One that does not touch holds nothing: what was measured of it tells nothing, and no machine with one is sound. */
    @Test
    void aStopThatDoesNotTouchTheAxle_isSaidOfEveryCauseThatIsAboutStops() {
        Trials trials = contact(contact(machine(), Turn.LEFT, /* touches= */ false), Turn.RIGHT, /* touches= */ true);
        Pattern pattern = turns(HARDLY, HARDLY);
        assertThat(evidence(Kind.NOTHING, trials, DECK_NOT_MEASURED, pattern))
                .isEqualTo(says(
                        List.of(circles("left", NOT_OFF), circles("right", NOT_OFF), "the right" + AT_ITS_PLACE),
                        List.of("the left" + NO_CONTACT)));
        assertThat(evidence(Kind.LEFT_STOP, trials, DECK_NOT_MEASURED, pattern))
                .isEqualTo(says(
                        List.of(circles("right", NOT_OFF), "the left" + NO_CONTACT, "the right" + AT_ITS_PLACE),
                        List.of(circles("left", NOT_OFF))));
        assertThat(evidence(Kind.RIGHT_STOP, trials, DECK_NOT_MEASURED, pattern).against())
                .containsExactly(circles("right", NOT_OFF), "the right" + AT_ITS_PLACE, "the left" + NO_CONTACT);
        assertThat(evidence(Kind.BOTH_STOPS, trials, DECK_NOT_MEASURED, pattern).speaksFor())
                .containsExactly("the left" + NO_CONTACT);
    }

    @Test
    void aDeckToTheSide_isSpokenForByOneTurnWiderAndTheOtherTighter() {
        String opposite = "one turn is wider and the other tighter than the reference";
        String notOpposite = "left and right are not off the reference in opposite directions";
        for (Pattern pattern : List.of(turns(WIDER, TIGHTER), turns(TIGHTER, WIDER))) {
            assertThat(evidence(Kind.DECK, machine(), DECK_NOT_MEASURED, pattern))
                    .isEqualTo(says(List.of(opposite), List.of()));
        }
        for (Pattern pattern :
                List.of(turns(WIDER, WIDER), turns(TIGHTER, TIGHTER), turns(WIDER, HARDLY), turns(HARDLY, TIGHTER))) {
            assertThat(evidence(Kind.DECK, machine(), DECK_NOT_MEASURED, pattern))
                    .isEqualTo(says(List.of(), List.of(notOpposite)));
        }
        assertThat(evidence(Kind.DECK, machine(), DECK_NOT_MEASURED, leftOnly(WIDER)))
                .isEqualTo(says(List.of(), List.of()));
        assertThat(evidence(Kind.DECK, machine(), DECK_NOT_MEASURED, drives(HARDLY, HARDLY)))
                .isEqualTo(says(List.of(ALIKE_IN_BOTH), List.of(notOpposite)));
    }

    /** Further to the left it cuts closer to the centre of a left turn, so that one is tighter and the right one wider. */
    @Test
    void aDeckMeasuredOff_isExplainedByCirclesOffItsWay() {
        String toTheLeft = "the deck was measured 30 mm (1.2 in) too far to the left";
        String toTheRight = "the deck was measured 30 mm (1.2 in) too far to the right";
        for (Pattern pattern : List.of(
                turns(TIGHTER, WIDER),
                turns(WIDER, WIDER), // both wider for some other reason: the right one still goes its way
                leftOnly(HARDLY),
                leftOnly(TIGHTER))) {
            assertThat(evidence(Kind.DECK, machine(), deckOff(0.03), pattern).speaksFor())
                    .as("%s", pattern)
                    .contains(toTheLeft);
        }
        for (Pattern pattern : List.of(turns(WIDER, TIGHTER), turns(HARDLY_TIGHTER, TIGHTER), leftOnly(WIDER))) {
            assertThat(evidence(Kind.DECK, machine(), deckOff(0.03), pattern).against())
                    .as("%s", pattern)
                    .contains(toTheLeft);
        }
        assertThat(evidence(Kind.DECK, machine(), deckOff(-0.03), leftOnly(WIDER)))
                .isEqualTo(says(List.of(toTheRight), List.of()));
        assertThat(evidence(Kind.DECK, machine(), deckOff(-0.03), leftOnly(TIGHTER)))
                .isEqualTo(says(List.of(), List.of(toTheRight)));
        assertThat(evidence(Kind.DECK, machine(), deckOff(0.01), leftOnly(WIDER)))
                .isEqualTo(says(List.of(), List.of("the deck was measured where it should sit")));
    }

    @Test
    void theFrontAxle_isSpokenForByADifferenceBetweenTheDrives_whichSpeaksAgainstStopsAndDeck() {
        String twoWheel = "the circles in 2WD are ";
        assertThat(evidence(Kind.FRONT_AXLE, machine(), DECK_NOT_MEASURED, drives(HARDLY, WIDER)))
                .isEqualTo(says(List.of(MORE_IN_4WD, twoWheel + NOT_OFF), List.of()));
        assertThat(evidence(Kind.FRONT_AXLE, machine(), DECK_NOT_MEASURED, drives(WIDER, TIGHTER)))
                .isEqualTo(says(List.of(LESS_IN_4WD), List.of(twoWheel + OFF_WIDER)));
        assertThat(evidence(Kind.FRONT_AXLE, machine(), DECK_NOT_MEASURED, drives(TIGHTER, HARDLY)))
                .isEqualTo(says(List.of(), List.of(ALIKE_IN_BOTH, twoWheel + OFF_TIGHTER)));
        assertThat(evidence(Kind.FRONT_AXLE, machine(), DECK_NOT_MEASURED, leftOnly(WIDER)))
                .isEqualTo(says(List.of(), List.of("no turn was compared in both 2WD and 4WD")));
        for (Kind kind : List.of(Kind.LEFT_STOP, Kind.RIGHT_STOP, Kind.BOTH_STOPS, Kind.DECK)) {
            assertThat(evidence(kind, machine(), DECK_NOT_MEASURED, drives(HARDLY, WIDER))
                            .against())
                    .contains(MORE_IN_4WD);
            assertThat(evidence(kind, machine(), DECK_NOT_MEASURED, drives(HARDLY, TIGHTER))
                            .against())
                    .contains(LESS_IN_4WD);
            assertThat(evidence(kind, machine(), DECK_NOT_MEASURED, drives(HARDLY, HARDLY))
                            .speaksFor())
                    .contains(ALIKE_IN_BOTH);
        }
    }

    private static Evidence readOtherwise(Kind kind, double... effects) {
        Pattern pattern = new Pattern(
                Map.of(Turn.LEFT, WIDER),
                Optional.empty(),
                Optional.empty(),
                List.of(new Seen(0.14, 0.01), new Seen(-0.10, 0.01)));
        return WORDS.evidence(ranked(kind, effects), model(machine(), DECK_NOT_MEASURED), pattern, List.of());
    }

    /** +140 and −100 mm as it stands; less +150 and −70 mm that is 10 and 30 mm off, less −150 and +70 mm 290 and 170. */
    @Test
    void anotherWayToReadTheReference_isSpokenForWhereItLeavesLess() {
        String asItStands = " off the reference on average; as it stands, 120 mm (4.7 in)";
        for (Kind kind : List.of(Kind.DIRECTION, Kind.CONVENTION)) {
            assertThat(readOtherwise(kind, 0.15, -0.07))
                    .isEqualTo(says(List.of("read so, the circles lie 20 mm (0.8 in)" + asItStands), List.of()));
            assertThat(readOtherwise(kind, -0.15, 0.07))
                    .isEqualTo(says(List.of(), List.of("read so, the circles lie 230 mm (9.1 in)" + asItStands)));
        }
        // what leaves as much speaks for nothing
        assertThat(readOtherwise(Kind.CONVENTION, 0, 0).against())
                .containsExactly("read so, the circles lie 120 mm (4.7 in)" + asItStands);
    }

    @Test
    void somethingElse_isSpokenForWhereNoSingleCauseHasMostOfTheProbability() {
        ComplaintModel model = model(machine(), DECK_NOT_MEASURED);
        assertThat(WORDS.evidence(ranked(Kind.OTHER), model, leftOnly(WIDER), List.of(0.5, 0.4)))
                .isEqualTo(says(List.of("no single cause stands out"), List.of()));
        assertThat(WORDS.evidence(ranked(Kind.OTHER), model, leftOnly(WIDER), List.of(0.3, 0.51)))
                .isEqualTo(says(List.of(), List.of("one cause alone makes the same pattern")));
    }

    private static Complaint.Size size(
            Kind kind, double estimate, Trials trials, Optional<Deviation> deck, double... effects) {
        ComplaintModel.Ranked cause = new ComplaintModel.Ranked(
                kind,
                "a cause",
                0.1,
                0.5,
                Arrays.stream(effects).boxed().toList(),
                Optional.of(new Part(kind.word(), estimate, Math.abs(estimate) / 10)));
        return WORDS.size(cause, model(trials, deck)).orElseThrow();
    }

    private static Complaint.Size size(Kind kind, double estimate, Trials trials) {
        return size(kind, estimate, trials, DECK_NOT_MEASURED);
    }

    private static void is(Complaint.Size size, double value, double uncertainty, String unit, String words) {
        assertThat(size.words()).isEqualTo(words);
        assertThat(size.unit()).isEqualTo(unit);
        if (Double.isNaN(value)) {
            assertThat(size.value()).isNaN();
            assertThat(size.standardUncertainty()).isNaN();
        } else {
            assertThat(size.value()).isCloseTo(value, within(1e-9));
            assertThat(size.standardUncertainty()).isCloseTo(uncertainty, within(1e-9));
        }
    }

    private static final String NO_PITCH = "; to have it in turns of the bolt, write its thread pitch into stops.csv";

    /** 4 mm over an arm of 100 mm are 0.04 rad or 2.29°, and 3.2 turns of a thread of 1.25 mm. */
    @Test
    void aStop_isAsBigAsItProtrudes_inDegreesAndTurnsOfTheBolt() {
        Trials known = stops(machine(), NOT_NOTED, NOT_NOTED);
        is(
                size(Kind.LEFT_STOP, 0.004, known),
                4,
                0.4,
                "mm",
                "it protrudes about 4.0 mm (0.16 in) too far out, about 2.3° less lock" + NO_PITCH);
        is(
                size(Kind.RIGHT_STOP, -0.004, known),
                -4,
                0.4,
                "mm",
                "it protrudes about 4.0 mm (0.16 in) too far in, about 2.3° more lock" + NO_PITCH);
        is(
                size(
                        Kind.RIGHT_STOP,
                        -0.004,
                        stops(machine(), NOT_NOTED, NOT_NOTED).threadPitch(1.25)),
                -4,
                0.4,
                "mm",
                "it protrudes about 4.0 mm (0.16 in) too far in, about 2.3° more lock, with a pitch of 1.25 mm about 3.2"
                        + " turns of the bolt");
        assertThat(WORDS.size(ranked(Kind.LEFT_STOP), model(known, DECK_NOT_MEASURED)))
                .isEmpty();
    }

    /** Arms of 100 and 60 mm are 80 mm on average: 4 mm over that are 0.05 rad or 2.86°. */
    @Test
    void bothStops_areTakenTogether_eachWithItsOwnBolt() {
        Trials unlike = machine()
                .stop(Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, 100)
                .threadPitch(1.25)
                .stop(Turn.RIGHT, 28, NOT_NOTED, NOT_NOTED, 60);
        String each = "each protrudes about 4.0 mm (0.16 in) too far out, about 2.9° less lock, with a pitch of 1.25 mm"
                + " about 3.2";
        assertThat(size(Kind.BOTH_STOPS, 0.004, unlike).words()).isEqualTo(each + " turns of the bolt");
        assertThat(size(Kind.BOTH_STOPS, 0.004, unlike.threadPitch(2.5)).words())
                .isEqualTo(each + " and with a pitch of 2.5 mm about 1.6 turns of the bolt");
    }

    @Test
    void aStopHardlyOff_wouldStandAtItsSpecification() {
        Trials known = stops(machine(), NOT_NOTED, NOT_NOTED);
        for (double off : new double[] {0.0005, -0.0005}) {
            is(size(Kind.LEFT_STOP, off, known), 1000 * off, 0.05, "mm", "it would stand at its specification");
            is(size(Kind.BOTH_STOPS, off, known), 1000 * off, 0.05, "mm", "each would stand at its specification");
        }
    }

    @Test
    void whereDimensionsAreNotKnown_aStopHasNoSize_butSaysWhatIsMissing() {
        // by circles, protrusion and arm are off alike, so that the angle can be said
        is(
                size(Kind.BOTH_STOPS, -0.004, machine()),
                NOT_NOTED,
                NOT_NOTED,
                "mm",
                "each protrudes too far in, about 2.9° more lock; to say by how much, write down the arm of the left stop"
                        + " (stops.csv), the arm of the right stop (stops.csv)");
        is(
                size(Kind.BOTH_STOPS, 0.004, bare()),
                NOT_NOTED,
                NOT_NOTED,
                "mm",
                "each protrudes too far out; to say by how much, write down the arm of the left stop (stops.csv), the"
                        + " wheelbase (machines.csv), the designed left lock angle (machines.csv), the blade positions"
                        + " (blades.csv), the arm of the right stop (stops.csv), the designed right lock angle (machines.csv)");
        // with a calliper, nothing but the arm stands between a protrusion and its angle
        is(
                size(Kind.LEFT_STOP, 0.004, stops(bare(), 32, 28)),
                4,
                0.4,
                "mm",
                "it protrudes about 4.0 mm (0.16 in) too far out, about 2.3° less lock" + NO_PITCH);
        Trials noArms =
                machine().stop(Turn.LEFT, 28, 32, NOT_NOTED, NOT_NOTED).stop(Turn.RIGHT, 28, 32, NOT_NOTED, NOT_NOTED);
        is(
                size(Kind.BOTH_STOPS, 0.004, noArms.threadPitch(1.25)),
                4,
                0.4,
                "mm",
                "each protrudes about 4.0 mm (0.16 in) too far out, with a pitch of 1.25 mm about 3.2 turns of the bolt; to"
                        + " have it as an angle, write down the arm of the left stop (stops.csv), the arm of the right stop"
                        + " (stops.csv)");
        assertThat(size(
                                Kind.BOTH_STOPS,
                                0.004,
                                machine()
                                        .stop(Turn.LEFT, 28, 32, NOT_NOTED, NOT_NOTED)
                                        .stop(Turn.RIGHT, 28, NOT_NOTED, NOT_NOTED, NOT_NOTED))
                        .words())
                .isEqualTo(
                        "each protrudes too far out; to say by how much, write down the arm of the right stop (stops.csv)");
    }

    @Test
    void aDeck_isAsBigAsItSitsToASide() {
        is(size(Kind.DECK, 0.03, bare()), 30, 3, "mm", "it sits about 30 mm (1.2 in) too far to the left");
        is(size(Kind.DECK, -0.03, bare()), -30, 3, "mm", "it sits about 30 mm (1.2 in) too far to the right");
    }

    /**
     * A circle of 1.78 m takes the spindle round at 1.09 m, 0.91 m of that across, so that R = 1.01 m to the left and 0.81 m to the
     * right. The front axle's middle goes round at √(R² + 1.5²): 1.7904 and 2.1046 times as far as the rear one, where it was 1.9437
     * and 2.3647 times; 7.9 % and 11.0 % less, 9.441 % on average. 1.34 m take it round at 0.87 m, 0.63 m across, R = 0.73 and
     * 0.53 m: 2.2852 and 3.0016 times, 17.57 % and 26.93 % further.
     */
    @Test
    void theFrontAxle_isAsBigAsItsTyresRollUnlike_in4wdAlone() {
        double share = 100
                * ((Math.hypot(1.01, 1.5) / 1.01) / (Math.hypot(0.9, 1.5) / 0.9)
                        + (Math.hypot(0.81, 1.5) / 0.81) / (Math.hypot(0.7, 1.5) / 0.7)
                        - 2)
                / 2;
        assertThat(share).isCloseTo(-9.441, within(1e-3));
        is(
                size(Kind.FRONT_AXLE, 0.18, machine(), DECK_NOT_MEASURED, 0, 0, 0.18, 0.18),
                share,
                -share / 10,
                "%",
                "in 4WD it makes the circles 180 mm (7.1 in) wider, as if the front tyres rolled about 9.4 % less against the"
                        + " rear ones than they should, about 94 mm for each metre of circumference (kinematics only; tyres give way)");
        assertThat(size(Kind.FRONT_AXLE, -0.26, machine(), DECK_NOT_MEASURED, 0, 0, -0.26, -0.26)
                        .words())
                .isEqualTo(
                        "in 4WD it makes the circles 260 mm (10.2 in) tighter, as if the front tyres rolled about 22.3 % further"
                                + " against the rear ones than they should, about 223 mm for each metre of circumference (kinematics"
                                + " only; tyres give way)");
    }

    private static Complaint.Size frontAxle(Trials trials, double more) {
        return size(Kind.FRONT_AXLE, more, trials, DECK_NOT_MEASURED, 0, 0, more, more);
    }

    @Test
    void theFrontAxle_hasNoShareWithoutDimensions_andSaysWhichAreMissing() {
        String wider = "in 4WD it makes the circles 180 mm (7.1 in) wider";
        String share = "; to have it as a share of the tyres' rolling circumference, write down ";
        is(
                frontAxle(bare(), 0.18),
                NOT_NOTED,
                NOT_NOTED,
                "%",
                wider + share + "the wheelbase (machines.csv) and the blade positions (blades.csv)");
        assertThat(frontAxle(bare().blade(600, 100, 200), 0.18).words())
                .isEqualTo(wider + share + "the wheelbase (machines.csv)");
        assertThat(frontAxle(bare().axles(1500, 1000), 0.18).words())
                .isEqualTo(wider + share + "the blade positions (blades.csv)");
        // 0.81 m take the spindle round at 0.605 m, 0.078 m of that across: to the right that is R = −0.022 m
        is(
                frontAxle(machine(), -0.79),
                NOT_NOTED,
                NOT_NOTED,
                "%",
                "in 4WD it makes the circles 790 mm (31.1 in) tighter");
    }

    private static Complaint.Cause cause(Kind kind, String name, double probability, Optional<Complaint.Size> size) {
        return new Complaint.Cause(kind, name, 0.1, probability, List.of(), size, List.of(), List.of());
    }

    private static Complaint.Cause cause(Kind kind, String name, double probability) {
        return cause(kind, name, probability, Optional.empty());
    }

    private static Complaint.Compared compared(Cell cell, boolean workedOut, Estimate excess) {
        return new Complaint.Compared(cell, 1.6, workedOut, excess);
    }

    private static Complaint complaint(List<Complaint.Cause> causes, List<Complaint.Check> checks, int compared) {
        List<Complaint.Compared> cells = new ArrayList<>();
        for (int k = 0; k < compared; k++) {
            cells.add(compared(CELLS.get(k), /* workedOut= */ false, LARGER));
        }
        return new Complaint("Alder", "manual", Map.of("machine", "Alder"), cells, causes, checks);
    }

    private static String sentence(Complaint complaint, Estimate q, Verdict verdict) {
        return WORDS.sentence(complaint, slopes(machine()), q, verdict, Optional.empty(), List.of(), List.of());
    }

    @Test
    void onTheWhole_aCauseIsNamedWithItsSize_fromTheConfidenceAskedForOn() {
        Optional<Complaint.Size> size = Optional.of(new Complaint.Size(4, 1, "mm", "it protrudes"));
        String whole =
                " its circles are 40 mm (1.6 in) larger than the reference, between 10 and 70 mm (0.4 and 2.8 in);"
                        + " that is beyond " + MARGIN + " with a probability of 97 %.";
        assertThat(sentence(
                        complaint(List.of(cause(Kind.LEFT_STOP, "the left stop", 0.95, size)), List.of(), 1),
                        LARGER,
                        BEYOND))
                .isEqualTo("Alder, held against manual: in the left turn in 2WD, the only one compared," + whole
                        + " Most probable cause: the left stop with a probability of 95 %; it protrudes.");
        assertThat(sentence(
                        complaint(List.of(cause(Kind.OTHER, "something else", 0.97)), List.of(), 2), LARGER, BEYOND))
                .isEqualTo("Alder, held against manual: on the whole (2 turns and drives compared)" + whole
                        + " Most probable cause: something else with a probability of 97 %.");
        assertThat(sentence(
                        complaint(List.of(cause(Kind.NOTHING, "nothing wrong with the machine", 0.97)), List.of(), 4),
                        SMALLER,
                        WITHIN))
                .isEqualTo(
                        "Alder, held against manual: on the whole (4 turns and drives compared) its circles are 40 mm (1.6 in)"
                                + " smaller than the reference, between 10 and 70 mm (0.4 and 2.8 in); that is within "
                                + MARGIN
                                + " with a probability of 97 %. Most probably there is nothing wrong with the machine"
                                + " with a probability of 97 %.");
    }

    @Test
    void whereNoCauseReachesTheConfidence_threeAreNamedAtMost_noneThatIsUnlikely() {
        String lead =
                "Alder, held against manual: on the whole (2 turns and drives compared) its circles are 40 mm (1.6 in)"
                        + " larger than the reference, between 10 and 70 mm (0.4 and 2.8 in); that may lie on either side of "
                        + MARGIN
                        + ". What is behind it cannot be told yet; most probably the left stop (";
        assertThat(sentence(
                        complaint(
                                List.of(
                                        cause(Kind.LEFT_STOP, "the left stop", 0.55),
                                        cause(Kind.DECK, "the deck", 0.20),
                                        cause(Kind.FRONT_AXLE, "the front axle", 0.15),
                                        cause(Kind.OTHER, "something else", 0.10)),
                                List.of(),
                                2),
                        LARGER,
                        OPEN))
                .isEqualTo(lead + "55 %), then the deck (20 %), then the front axle (15 %).");
        assertThat(sentence(
                        complaint(
                                List.of(
                                        cause(Kind.LEFT_STOP, "the left stop", 0.901),
                                        cause(Kind.DECK, "the deck", 0.05),
                                        cause(Kind.OTHER, "something else", 0.049)),
                                List.of(),
                                2),
                        LARGER,
                        OPEN))
                .isEqualTo(lead + "90.1 %), then the deck (5 %).");
    }

    /** A machine with a stop that does not hold is not sound, whatever its circles show: it was called so all the same. */
    @Test
    void onTheWhole_noMachineIsSoundWhoseStopDoesNotTouch() {
        Trials one = contact(contact(machine(), Turn.LEFT, /* touches= */ true), Turn.RIGHT, /* touches= */ false);
        Trials two = contact(contact(machine(), Turn.LEFT, /* touches= */ false), Turn.RIGHT, /* touches= */ false);
        Trials none = contact(contact(machine(), Turn.LEFT, /* touches= */ true), Turn.RIGHT, /* touches= */ true);
        Complaint.Cause nothing = cause(Kind.NOTHING, "nothing wrong that its circles show", 0.97);
        assertThat(lead(one, nothing))
                .isEqualTo(
                        "Most probably there is nothing wrong that its circles show with a probability of 97 %; but the right stop does not touch"
                                + " the axle at full lock.");
        assertThat(lead(two, nothing))
                .isEqualTo(
                        "Most probably there is nothing wrong that its circles show with a probability of 97 %; but the left stop and the right"
                                + " stop do not touch the axle at full lock.");
        assertThat(lead(none, nothing))
                .isEqualTo("Most probably there is nothing wrong that its circles show with a probability of 97 %.");

        Complaint.Cause deck = cause(Kind.DECK, "the deck", 0.6);
        Complaint.Cause maybe = cause(Kind.NOTHING, "nothing wrong that its circles show", 0.3);
        String open = "What is behind it cannot be told yet; most probably the deck (60 %)";
        assertThat(lead(one, deck, maybe))
                .isEqualTo(open
                        + ", then nothing wrong that its circles show (30 %); but the right stop does not touch the"
                        + " axle at full lock.");
        assertThat(lead(none, deck, maybe)).isEqualTo(open + ", then nothing wrong that its circles show (30 %).");
        // of a sound machine nothing is said then
        assertThat(lead(one, deck)).isEqualTo(open + ".");
        assertThat(lead(one, cause(Kind.DECK, "the deck", 0.97)))
                .isEqualTo(
                        "Most probable cause: the deck with a probability of 97 %; but the right stop does not touch the axle at"
                                + " full lock.");
        // a stop that does not touch has no size: it was said to protrude too far, by circles it did not limit
        Complaint.Cause stop = cause(
                Kind.RIGHT_STOP,
                "the right stop",
                0.98,
                Optional.of(new Complaint.Size(5, 1, "mm", "it protrudes about 5 mm too far out")));
        assertThat(lead(one, stop))
                .isEqualTo(
                        "Most probable cause: the right stop with a probability of 98 %; but the right stop does not touch the"
                                + " axle at full lock.");
        assertThat(lead(none, stop)).endsWith("98 %; it protrudes about 5 mm too far out.");
    }

    /** What is said of the causes. */
    private static String lead(Trials trials, Complaint.Cause... causes) {
        String sentence = WORDS.sentence(
                complaint(List.of(causes), List.of(), 2),
                slopes(trials),
                LARGER,
                OPEN,
                Optional.empty(),
                List.of(),
                List.of());
        String before = "Alder, held against manual: on the whole (2 turns and drives compared) its circles are ";
        String after = "that may lie on either side of " + MARGIN + ". ";
        assertThat(sentence).startsWith(before).contains(after);
        return sentence.substring(sentence.indexOf(after) + after.length());
    }

    private static String sentence(Complaint complaint, List<String> tooSmall, List<String> notStated) {
        return WORDS.sentence(complaint, slopes(machine()), LARGER, OPEN, Optional.empty(), tooSmall, notStated);
    }

    @Test
    void onTheWhole_whatWasLeftOutIsSaid_withWhy() {
        Complaint complaint = complaint(List.of(cause(Kind.OTHER, "something else", 0.97)), List.of(), 1);
        String tooSmall = " Left out, the figure being too small for this machine: left turn in 2WD; left turn in 4WD.";
        String notStated = " Left out, the reference saying nothing of it: right turn in 2WD.";
        List<String> left = List.of("left turn in 2WD", "left turn in 4WD");
        List<String> right = List.of("right turn in 2WD");
        assertThat(sentence(complaint, left, right)).contains(MARGIN + "." + tooSmall + notStated + " Most");
        assertThat(sentence(complaint, left, List.of())).contains(MARGIN + "." + tooSmall + " Most");
        assertThat(sentence(complaint, List.of(), right)).contains(MARGIN + "." + notStated + " Most");
    }

    @Test
    void ofOneTurnAndDrive_itIsSaidHowFarOffItIs_andWhatThatMeans() {
        String larger =
                "Alder, left turn in 2WD, held against manual: the uncut circle is 40 mm (1.6 in) larger than the 1600 mm"
                        + " (63.0 in) of the reference, between 10 and 70 mm (0.4 and 2.8 in); that ";
        String with = MARGIN + " with a probability of 97 %: here ";
        Complaint.Compared wide = compared(LEFT, /* workedOut= */ false, LARGER);
        assertThat(WORDS.cell(wide, "manual", WITHIN))
                .isEqualTo(larger + "is within " + with + "the machine turns as it should.");
        assertThat(WORDS.cell(wide, "manual", BEYOND)).isEqualTo(larger + "is beyond " + with + "it turns wider.");
        assertThat(WORDS.cell(wide, "manual", OPEN))
                .isEqualTo(larger + "may lie on either side of " + MARGIN + ": this trial cannot tell yet.");
        Cell braked = cell(Turn.RIGHT, Drive.FOUR_WHEEL, Brakes.USED);
        assertThat(WORDS.cell(
                        compared(braked, /* workedOut= */ true, SMALLER),
                        "manual",
                        new Verdict.Beyond(0.97, Verdict.Sense.TIGHTER)))
                .isEqualTo(
                        "Alder, right turn in 4WD with brakes, held against manual: the uncut circle is 40 mm (1.6 in) smaller"
                                + " than the 1600 mm (63.0 in) worked out from its other turn, between 10 and 70 mm (0.4 and 2.8 in);"
                                + " that is beyond " + with + "it turns tighter.");
    }

    private static Complaint.Check check(double bits) {
        return new Complaint.Check("look", "Look.", bits);
    }

    private static String next(Complaint.Cause cause, Trials trials, Complaint.Check... checks) {
        return WORDS.next(complaint(List.of(cause), List.of(checks), 1), slopes(trials));
    }

    /** Of a check that is expected to tell less than 0.02 bits nothing is said. */
    @Test
    void next_whereNoCauseIsNamed_isTheCheckThatTellsMost() {
        Complaint.Cause open = cause(Kind.DECK, "the deck", 0.94);
        String none =
                "No single check is expected to tell much more; a qualified technician looks at steering, deck and front axle by"
                        + " the service manual.";
        assertThat(next(open, machine(), check(0.02), new Complaint.Check("b", "Other.", 0.01)))
                .isEqualTo("Look." + LAST_WORD);
        assertThat(next(open, machine(), check(0.019))).isEqualTo(none);
        assertThat(next(open, machine())).isEqualTo(none);
    }

    @Test
    void next_whereACauseIsNamed_isItsRemedy_thenTheCheck() {
        Map<Kind, String> remedies = Map.of(
                Kind.NOTHING,
                "Nothing to set right: hand over these figures, with turn and drive beside each.",
                Kind.DECK,
                "Have the deck's hangers and linkage looked at and the deck set to its place by the service manual. Blades"
                        + " disengaged, brake set, engine stopped and key out before anyone touches the deck."
                        + LAST_WORD,
                Kind.FRONT_AXLE,
                "Have tyre sizes, wear and pressures, front and rear, brought to what the service manual states, then mow again"
                        + " in 4WD." + LAST_WORD,
                Kind.OTHER,
                "None of the single causes explains it: a qualified technician looks at steering, deck and front axle by the"
                        + " service manual.");
        remedies.forEach((kind, remedy) -> {
            Complaint.Cause named = cause(kind, "a cause", 0.95);
            assertThat(next(named, machine(), check(0.5))).isEqualTo(remedy + " To make sure: Look.");
            assertThat(next(named, machine(), check(0.01))).isEqualTo(remedy);
        });
    }

    /** Asking is the check already; it stood there twice. */
    @Test
    void next_whereTheReferenceIsMisread_isToAsk_andNothingElse() {
        String untilThen = " and compare again. Leave the machine as it is until then.";
        assertThat(next(cause(Kind.DIRECTION, "the other turn", 0.97), machine(), check(0.5)))
                .isEqualTo("Ask which turn each figure of the reference means, write that into references.csv"
                        + untilThen);
        assertThat(next(cause(Kind.CONVENTION, "a radius", 0.97), machine(), check(0.5)))
                .isEqualTo("Ask what the reference figure measures, write it into the column quantity of references.csv"
                        + untilThen);
    }

    private static String setStop(String... steps) {
        return "See that each stop touches the axle at full lock; then " + String.join(", and ", steps)
                + ", and see again that it touches; where it does not, turn it out until it does. Contact comes first, and a"
                + " stop is never turned in past the specification. Chocks and rated stands first; the service manual and a"
                + " qualified technician have the last word.";
    }

    @Test
    void next_whereAStopIsNamed_isToMeasureIt_orToSetItWhereThatWasDone() {
        String measured =
                " and hold it against the service manual. A stop that is off is set to its specification and must touch"
                        + " the axle at full lock; contact comes first, and a stop is never turned in past the specification."
                        + " Chocks and rated stands first." + LAST_WORD;
        Complaint.Cause left = cause(Kind.LEFT_STOP, "the left stop", 0.97);
        Complaint.Cause right = cause(Kind.RIGHT_STOP, "the right stop", 0.97);
        Complaint.Cause both = cause(Kind.BOTH_STOPS, "both stops alike", 0.97);
        assertThat(next(left, machine(), check(0.5))).isEqualTo("Measure how far the left stop protrudes" + measured);
        assertThat(next(right, stops(machine(), 32, NOT_NOTED), check(0.5)))
                .isEqualTo("Measure how far the right stop protrudes" + measured);
        assertThat(next(both, machine(), check(0.5))).isEqualTo("Measure how far both stops protrude" + measured);
        String setLeft = "set the left stop in by 4.0 mm (0.16 in) to its specified 28.0 mm (1.10 in)";
        String setRight = "set the right stop out by 4.0 mm (0.16 in) to its specified 28.0 mm (1.10 in)";
        assertThat(next(left, stops(machine(), 32, 24), check(0.5))).isEqualTo(setStop(setLeft));
        assertThat(next(right, stops(machine(), 32, 24), check(0.5))).isEqualTo(setStop(setRight));
        assertThat(next(both, stops(machine(), 32, 24), check(0.5))).isEqualTo(setStop(setLeft, setRight));
        assertThat(next(both, stops(machine(), 32, NOT_NOTED), check(0.5)))
                .isEqualTo(setStop(setLeft)
                        + " Measure how far the right stop protrudes too and hold it against the service manual.");
    }

    /** Nobody drives one more circle at full lock against a stop that does not hold, however much it would tell. */
    @Test
    void next_whereNoCauseIsNamed_butAStopDoesNotTouch_isToMendThat() {
        Complaint.Cause open = cause(Kind.DECK, "the deck", 0.94);
        Trials loose = contact(machine(), Turn.RIGHT, /* touches= */ false);
        for (Complaint.Check[] checks : new Complaint.Check[][] {{check(0.5)}, {}}) {
            assertThat(next(open, loose, checks))
                    .startsWith(
                            "The right stop does not touch the axle at full lock: leave the machine until this is mended,"
                                    + " then mow the circles again. Chocks and rated stands first.");
        }
        assertThat(next(open, contact(machine(), Turn.RIGHT, /* touches= */ true), check(0.5)))
                .doesNotContain("leave the machine");
    }

    /** Circles that agree with the manual do not make a machine sound whose stop does not hold. */
    @Test
    void next_whereNothingIsWrongWithTheCircles_butAStopDoesNotTouch_isToMendThat() {
        Complaint.Cause nothing = cause(Kind.NOTHING, "nothing wrong that its circles show", 0.97);
        String mend =
                " not touch the axle at full lock: leave the machine until this is mended, then mow the circles again."
                        + " Chocks and rated stands first." + LAST_WORD;
        Trials one = contact(contact(machine(), Turn.LEFT, /* touches= */ true), Turn.RIGHT, /* touches= */ false);
        assertThat(next(nothing, one, check(0.5)))
                .isEqualTo("The circles show nothing to set right, but the right stop does" + mend);
        Trials two = contact(contact(machine(), Turn.LEFT, /* touches= */ false), Turn.RIGHT, /* touches= */ false);
        assertThat(next(nothing, two, check(0.5)))
                .isEqualTo("The circles show nothing to set right, but the left stop and the right stop do" + mend);
        // no other remedy comes before it, least of all to set the stop by circles it did not limit
        for (Complaint.Cause other : List.of(
                cause(Kind.OTHER, "something else", 0.97),
                cause(Kind.RIGHT_STOP, "the right stop", 0.98),
                cause(Kind.DECK, "the deck", 0.98))) {
            assertThat(next(other, one, check(0.5))).isEqualTo("The right stop does" + mend);
        }
        assertThat(next(nothing, stops(machine(), 28, 28))).startsWith("Nothing to set right: ");
    }

    @Test
    void checks_sayWhatToDo_andWhereToWriteIt() {
        assertThat(ComplaintWords.measureStop("left stop", 0.5))
                .isEqualTo(new Complaint.Check(
                        "measure the left stop",
                        "Measure how far the left stop protrudes, hold it against the service manual, and see that it touches"
                                + " the axle at full lock; write both into stops.csv. Chocks and rated stands first.",
                        0.5));
        assertThat(ComplaintWords.measureDeck(0.4))
                .isEqualTo(new Complaint.Check(
                        "measure the deck offset from the blade tips",
                        "Measure from the centreline to the outermost blade tips on both sides and hold the deck offset against"
                                + " the service manual; write both into machines.csv. Blades disengaged, brake set, engine"
                                + " stopped and key out before anyone touches the deck.",
                        0.4));
        assertThat(ComplaintWords.rollOut(0.3))
                .isEqualTo(new Complaint.Check(
                        "roll out front and rear tyres",
                        "Hold tyre sizes and pressures against the service manual, then roll the machine straight ahead in 2WD,"
                                + " slowly and on level ground, and measure how far it goes in ten turns of a front and of a"
                                + " rear wheel.",
                        0.3));
        assertThat(ComplaintWords.oneMoreCircle(RIGHT_4WD, 0.2))
                .isEqualTo(new Complaint.Check(
                        "one more circle to the right in 4WD",
                        "Mow and measure one more circle to the right in 4WD.",
                        0.2));
        assertThat(ComplaintWords.oneMoreCircle(cell(Turn.LEFT, Drive.TWO_WHEEL, Brakes.USED), 0.2))
                .isEqualTo(new Complaint.Check(
                        "one more circle to the left in 2WD with brakes",
                        "Mow and measure one more circle to the left in 2WD with brakes. With brakes only where the operator's"
                                + " manual allows it.",
                        0.2));
        assertThat(ComplaintWords.askForTheReference(0.1))
                .isEqualTo(new Complaint.Check(
                        "ask how the reference was measured",
                        "Ask which turn and drive the reference means, and whether it is an uncut diameter, a radius, a turn"
                                + " radius, a turning circle or a clearance circle.",
                        0.1));
    }

    @Test
    void whatHangsOnTheReference_saysWhatWouldMakeItBetter() {
        assertThat(ComplaintWords.hangsOn(Quantity.UNCUT_DIAMETER, /* workedOut= */ false))
                .isEqualTo(
                        ": the rest hangs on the reference. The more closely it is known, and the more circles stand behind it, the"
                                + " more a machine can be held to it; write its uncertainty, or the circles behind it, into"
                                + " references.csv.");
        assertThat(ComplaintWords.hangsOn(Quantity.TURNING_CIRCLE_DIAMETER, /* workedOut= */ false))
                .isEqualTo(
                        ": the rest hangs on the reference, whose turning circle diameter is made an uncut circle by the machine's"
                                + " dimensions. Best is an uncut diameter in references.csv; else write the figure's uncertainty, or"
                                + " the circles behind it, there, and measure the machine more closely.");
        for (Quantity quantity : List.of(Quantity.UNCUT_DIAMETER, Quantity.TURN_RADIUS)) {
            assertThat(ComplaintWords.hangsOn(quantity, /* workedOut= */ true))
                    .isEqualTo(
                            ": the rest hangs on the reference, which is worked out from its other turn. Best is a figure of this"
                                    + " turn and drive in references.csv; else measure the blade positions more closely.");
        }
        assertThat(ComplaintWords.hangsOnCirclesOf("Birch", "Alder"))
                .isEqualTo(
                        ": the rest hangs on how the circles of both machines were measured. Measure those of Birch as those of"
                                + " Alder are measured: with the same tape, the same kinds of reading and the same eye for the edge.");
    }

    @Test
    void aComplaintThatCannotBeLookedInto_saysWhatIsMissing() {
        assertThat(WORDS.notPossible("Alder", "manual", List.of("a circle", "the wheelbase")))
                .isEqualTo("Alder, held against manual: cannot be compared yet. Missing: a circle; the wheelbase.");
        Reference radius = new Reference(
                "Alder",
                Optional.empty(),
                Optional.of(Length.mm(300)),
                Quantity.TURN_RADIUS,
                Optional.empty(),
                Optional.empty(),
                Brakes.NONE,
                Optional.empty(),
                OptionalInt.empty(),
                "manual",
                "");
        assertThat(WORDS.tooSmall(radius))
                .isEqualTo("a figure this machine can turn: a turn radius of 300 mm (11.8 in) is too small for it");
    }
}
