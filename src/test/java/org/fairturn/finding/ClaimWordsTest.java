package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
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

/** What is said of claims, sentence by sentence. By hand: 1640 mm are 64.57 in, 1600 mm 62.99 in, 40 mm 1.57 in. */
class ClaimWordsTest {
    private static final ClaimWords WORDS =
            new ClaimWords(new DecisionRule(0.05, 0.95), new Wording(LengthUnit.MILLIMETRE));
    private static final Cell LEFT = new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
    private static final Verdict WITHIN = new Verdict.Within(0.97);
    private static final Verdict BEYOND = new Verdict.Beyond(0.97, Verdict.Sense.EITHER);
    private static final Estimate LARGER = new Estimate(0.04, 0.015, 0.01, 0.07, 0.95);
    private static final Estimate SMALLER = new Estimate(-0.04, 0.015, -0.07, -0.01, 0.95);
    private static final String ASK =
            "Ask whoever states it which way it turned, in which drive, whether brakes were used, how it was measured, and how"
                    + " many circles stand behind it.";
    private static final String HANGS =
            "Further circles here would hardly settle it: most of what is open hangs on the claim itself. The more circles stand"
                    + " behind a claim, and the better its uncertainty is stated, the more it can be held to.";
    private static final String MARGIN = "the practical margin of 50 mm (2.0 in)";

    private static Claim claim(String id, String who, Claim.Quantity quantity, Optional<Brakes> brakes) {
        return new Claim(
                id,
                who,
                Length.mm(1640),
                quantity,
                Optional.of("Alder"),
                Optional.empty(),
                Optional.empty(),
                brakes,
                Optional.empty(),
                OptionalInt.empty(),
                "");
    }

    private static Claim claim(Claim.Quantity quantity) {
        return claim("C", "brochure", quantity, Optional.empty());
    }

    private static ClaimCheck.Reading reading(double zeta, double probability, String... wouldDiffer) {
        return new ClaimCheck.Reading(
                LEFT,
                Map.of(),
                Optional.of(new ClaimCheck.Comparison(1.64, 0.02, 1.6, 0.01, zeta, zeta / 2)),
                probability,
                "",
                List.of(wouldDiffer),
                ClaimCheck.Remedy.STOP);
    }

    private static ClaimCheck.Reading notMeasured() {
        return new ClaimCheck.Reading(
                LEFT, Map.of(), Optional.empty(), 0, "a circle", List.of(), ClaimCheck.Remedy.STOP);
    }

    /** The reading, others that were compared, and those of which no circle was driven. */
    private static ClaimCheck check(ClaimCheck.Reading reading, int others, int notMeasured, double none) {
        List<ClaimCheck.Reading> readings = new ArrayList<>(List.of(reading));
        for (int i = 0; i < others; i++) {
            readings.add(reading(0, 0.1));
        }
        for (int i = 0; i < notMeasured; i++) {
            readings.add(notMeasured());
        }
        return new ClaimCheck(claim(Claim.Quantity.UNCUT_DIAMETER), readings, none);
    }

    private static Verdict open(Map<Cell, Integer> further, Outlook.Obstacle obstacle) {
        return new Verdict.CannotTell(0.6, new Outlook(further, 0.84, obstacle));
    }

    private static String sentence(ClaimCheck.Reading reading, Estimate q, Verdict verdict) {
        return WORDS.sentence(check(reading, 0, 0, 0.2), reading, q, verdict, /* likeliest= */ true);
    }

    @Test
    void agreement_isSaidWithEveryFigure() {
        assertThat(sentence(reading(1.24, 0.8), LARGER, WITHIN))
                .isEqualTo(
                        "Claim C (brochure), uncut diameter 1640 mm (64.6 in), read as the left turn in 2WD of Alder: 40 mm"
                                + " (1.6 in) larger than the 1600 mm (63.0 in) measured, between 10 and 70 mm (0.4 and 2.8 in); that is"
                                + " within " + MARGIN
                                + " with a probability of 97 %: claim and trial agree (zeta 1.2, E_n 0.6). That this"
                                + " is what the claim means has a probability of 80 %; that something else is meant 20 %.");
    }

    @Test
    void aSmallerClaimThatDoesNotAgree_isSaidWithWhatWouldHaveToDiffer() {
        ClaimCheck.Reading reading = reading(-3.14, 0.8, "the left stop", "where the deck sits");
        assertThat(sentence(reading, SMALLER, BEYOND))
                .isEqualTo(
                        "Claim C (brochure), uncut diameter 1640 mm (64.6 in), read as the left turn in 2WD of Alder: 40 mm"
                                + " (1.6 in) smaller than the 1600 mm (63.0 in) measured, between 10 and 70 mm (0.4 and 2.8 in); that is"
                                + " beyond " + MARGIN
                                + " with a probability of 97 %: so read, claim and trial do not agree (zeta −3.1,"
                                + " E_n −1.6). That this is what the claim means has a probability of 80 %; that something else is meant"
                                + " 20 %. For this reading to hold, one of these would have to differ: the left stop; where the deck"
                                + " sits.");
    }

    /** ISO 13528:2022 calls |ζ| up to 2 satisfactory (from memory); 2 itself is. */
    @Test
    void whereTheTrialCannotTell_zetaSaysWhetherTheyContradictEachOther() {
        Verdict open = open(Map.of(), Outlook.Obstacle.NEAR_MARGIN);
        String either = "; that may lie on either side of " + MARGIN + ": so read, ";
        for (double zeta : new double[] {1.2, -1.2, 2, -2}) {
            assertThat(sentence(reading(zeta, 0.8), LARGER, open))
                    .contains(either
                            + "claim and trial do not contradict each other, but that they agree is not shown (zeta ");
        }
        for (double zeta : new double[] {2.1, -2.1}) {
            assertThat(sentence(reading(zeta, 0.8), LARGER, open))
                    .contains(either + "they hardly agree, but this trial cannot tell yet (zeta ");
        }
    }

    @Test
    void whatTheLikeliestReadingIs_isSaidOfIt_andOfTheOthersHowLikelyTheyAre() {
        ClaimCheck.Reading reading = reading(1, 0.8, "the left stop");
        assertThat(WORDS.sentence(check(reading, 1, 0, 0.05), reading, LARGER, WITHIN, /* likeliest= */ true))
                .endsWith(
                        "E_n 0.5). Of 2 readings of this claim it fits best, with a probability of 80 %; that none of them is"
                                + " meant 5 %. For this reading to hold, one of these would have to differ: the left stop.");
        assertThat(WORDS.sentence(check(reading, 1, 1, 0.05), reading, LARGER, WITHIN, /* likeliest= */ true))
                .contains(" that none of them is meant 5 % (1 more reading could not be compared). For");
        assertThat(WORDS.sentence(check(reading, 1, 2, 0.05), reading, LARGER, WITHIN, /* likeliest= */ true))
                .contains(" that none of them is meant 5 % (2 more readings could not be compared). For");
        // what would have to differ is said of the likeliest alone
        assertThat(WORDS.sentence(check(reading, 1, 2, 0.05), reading, LARGER, WITHIN, /* likeliest= */ false))
                .endsWith("E_n 0.5). Of the readings of this claim it has a probability of 80 %.");
        // or where it is the only one
        assertThat(WORDS.sentence(check(reading, 0, 1, 0.05), reading, LARGER, WITHIN, /* likeliest= */ false))
                .endsWith(
                        " That this is what the claim means has a probability of 80 %; that something else is meant 5 % (1 more"
                                + " reading could not be compared). For this reading to hold, one of these would have to differ: the left"
                                + " stop.");
    }

    @Test
    void noReadingOfAClaim_isCertainOrImpossible() {
        ClaimCheck.Reading reading = reading(1, 1);
        assertThat(WORDS.sentence(check(reading, 0, 0, 0), reading, LARGER, WITHIN, /* likeliest= */ true))
                .endsWith(" has a probability of over 99.9 %; that something else is meant under 0.1 %.");
    }

    @Test
    void anotherQuantity_isSaidWithTheCircleItWouldLeave() {
        ClaimCheck.Reading reading = reading(1, 0.8);
        ClaimCheck check =
                new ClaimCheck(claim("C", "", Claim.Quantity.TURN_RADIUS, Optional.empty()), List.of(reading), 0.2);
        assertThat(WORDS.sentence(check, reading, LARGER, WITHIN, /* likeliest= */ true))
                .startsWith(
                        "Claim C, turn radius 1640 mm (64.6 in), read as the left turn in 2WD of Alder, which would leave an"
                                + " uncut circle of 1640 mm (64.6 in): 40 mm");
    }

    /** Where several readings stand open, whoever states the claim is asked which is meant, before anything else. */
    @Test
    void next_asksWhichReadingIsMeant_elseSaysWhatToDo() {
        ClaimCheck.Reading reading = reading(1, 0.8);
        ClaimCheck one = check(reading, 0, 1, 0.1);
        ClaimCheck two = check(reading, 1, 0, 0.1);
        assertThat(WORDS.next(two, reading, WITHIN)).isEqualTo(ASK);
        assertThat(WORDS.next(two, reading, BEYOND)).isEqualTo(ASK);
        assertThat(WORDS.next(one, reading, WITHIN))
                .isEqualTo("Nothing to settle: the claim may be used, with turn and drive beside it.");
        assertThat(WORDS.next(one, reading, BEYOND))
                .isEqualTo("Use the measured figure. " + ASK
                        + " Have the stops of the machine it was made of held against the service manual, and whether they touch the"
                        + " axle, before anyone speaks of a wrong figure. A stop is never turned in past the specification to meet a"
                        + " claim.");
    }

    /** Nobody is sent to look at what cannot be it. */
    @Test
    void whatNoChangeOfTheMachineDoes_isSaid_andNotLookedFor() {
        Map<ClaimCheck.Remedy, String> next = Map.of(
                ClaimCheck.Remedy.DECK,
                " Have it looked at where the deck of the machine it was made of sits, before anyone speaks of a wrong figure; no"
                        + " stop explains it.",
                ClaimCheck.Remedy.NONE,
                " See that figure, unit and quantity stand in claims.csv as they were stated; no stop explains it.");
        next.forEach((remedy, words) -> {
            ClaimCheck.Reading reading = with(remedy);
            assertThat(WORDS.next(check(reading, 0, 0, 0.1), reading, BEYOND))
                    .isEqualTo("Use the measured figure. " + ASK + words);
        });
        assertThat(sentence(with(ClaimCheck.Remedy.NONE), LARGER, BEYOND))
                .endsWith(" 20 %. No ordinary change of the machine would make this reading hold.");
        assertThat(with(ClaimCheck.Remedy.NONE).remedies()).isEqualTo("no ordinary change of the machine would do");
        ClaimCheck.Reading unit = with(ClaimCheck.Remedy.NONE, "the unit", "the measure");
        assertThat(sentence(unit, LARGER, BEYOND))
                .endsWith(
                        " one of these would have to differ: the unit; the measure. No ordinary change of the machine would"
                                + " do it.");
        assertThat(unit.remedies()).isEqualTo("the unit; or the measure; no ordinary change of the machine would do");
        assertThat(with(ClaimCheck.Remedy.DECK, "where the deck sits").remedies())
                .isEqualTo("where the deck sits");
    }

    private static ClaimCheck.Reading with(ClaimCheck.Remedy remedy, String... wouldDiffer) {
        ClaimCheck.Reading reading = reading(5, 0.8, wouldDiffer);
        return new ClaimCheck.Reading(LEFT, Map.of(), reading.comparison(), 0.8, "", List.of(wouldDiffer), remedy);
    }

    @Test
    void next_whereItIsOpen_saysWhatCirclesWouldDo_orThatItHangsOnTheClaim() {
        ClaimCheck.Reading reading = reading(1, 0.8);
        ClaimCheck one = check(reading, 0, 0, 0.1);
        ClaimCheck two = check(reading, 1, 0, 0.1);
        String circles = "With 3 more circles to the left in 2WD the chance of a verdict is about 84 %.";
        Verdict further = open(Map.of(LEFT, 3), Outlook.Obstacle.NONE);
        assertThat(WORDS.next(one, reading, further)).isEqualTo(circles);
        assertThat(WORDS.next(two, reading, further)).isEqualTo(circles + " " + ASK);
        assertThat(WORDS.next(one, reading, open(Map.of(), Outlook.Obstacle.GEOMETRY)))
                .isEqualTo(HANGS);
        assertThat(WORDS.next(one, reading, open(Map.of(LEFT, 3), Outlook.Obstacle.GEOMETRY)))
                .isEqualTo(circles);
        assertThat(WORDS.next(one, reading, open(Map.of(), Outlook.Obstacle.NEAR_MARGIN)))
                .startsWith(
                        "Even 24 more circles would bring a verdict with a chance of only about 84 %, because the answer"
                                + " seems to lie near the practical margin.");
    }

    @Test
    void aClaimThatCannotBeHeldAgainstTheTrial_saysWhatToMeasure() {
        assertThat(WORDS.notPossible(claim(Claim.Quantity.UNCUT_DIAMETER), List.of("a circle", "the wheelbase")))
                .isEqualTo(
                        "Claim C (brochure), uncut diameter 1640 mm (64.6 in): cannot be held against this trial yet. Missing: a"
                                + " circle; the wheelbase.");
        assertThat(WORDS.measure(claim(Claim.Quantity.CLEARANCE_CIRCLE_DIAMETER)))
                .startsWith("A clearance circle is drawn by the outermost point of the whole machine, ");
        assertThat(WORDS.measure(claim("C", "", Claim.Quantity.UNCUT_DIAMETER, Optional.of(Brakes.USED))))
                .isEqualTo(
                        "A circle driven with brakes is another condition and is never worked out from one without. Drive it"
                                + " with brakes, where the operator's manual allows that, or ask for the figure without.");
        for (Optional<Brakes> brakes : List.of(Optional.of(Brakes.NONE), Optional.<Brakes>empty())) {
            assertThat(WORDS.measure(claim("C", "", Claim.Quantity.UNCUT_DIAMETER, brakes)))
                    .isEqualTo("Measure what is missing, then compare again.");
        }
    }

    private static Claim stated(String id, Claim.Quantity quantity, Optional<Brakes> brakes) {
        return new Claim(
                id,
                "",
                Length.mm(1640),
                quantity,
                Optional.of("Alder"),
                Optional.of(Turn.LEFT),
                Optional.of(Drive.TWO_WHEEL),
                brakes,
                Optional.empty(),
                OptionalInt.of(2),
                "");
    }

    private static ClaimPairs.Pair pair(Claim.Quantity quantity) {
        Optional<Brakes> none = Optional.of(Brakes.NONE);
        return new ClaimPairs.Pair(
                claim("C", "brochure", quantity, none),
                stated("D", quantity, none),
                LEFT,
                /* converted= */ false,
                /* leastOfSeveral= */ false,
                1.64,
                1.6,
                List.of(ClaimPairs.TURN, ClaimPairs.DRIVE),
                List.of(),
                null);
    }

    @Test
    void twoClaims_areHeldAgainstEachOther() {
        ClaimPairs.Pair pair = pair(Claim.Quantity.UNCUT_DIAMETER);
        String both =
                "Claims C (brochure) and D, both uncut diameter of Alder: the first is 1640 mm (64.6 in) and the second 1600"
                        + " mm (63.0 in), a difference of 40 mm (1.6 in), between 10 and 70 mm (0.4 and 2.8 in); ";
        assertThat(WORDS.against(pair, LARGER, WITHIN))
                .isEqualTo(both + "that is within " + MARGIN
                        + " with a probability of 97 %: if both mean the same turn and drive, they agree.");
        assertThat(WORDS.against(pair, SMALLER, BEYOND))
                .isEqualTo(both + "that is beyond " + MARGIN
                        + " with a probability of 97 %: they cannot both be right of the same turn and drive.");
        Verdict open = open(Map.of(), Outlook.Obstacle.GEOMETRY);
        assertThat(WORDS.against(pair, LARGER, open))
                .isEqualTo(both + "that may lie on either side of " + MARGIN
                        + ": whether they contradict each other cannot be told.");
        assertThat(WORDS.against(pair(Claim.Quantity.TURN_RADIUS), LARGER, open))
                .contains("a difference of 40 mm (1.6 in) across the circle, between 10 and 70 mm");
        assertThat(WORDS.perhapsOfOthers(pair, LARGER, BEYOND))
                .isEqualTo(both + "of the same turn and drive that would be beyond " + MARGIN
                        + " with a probability of 97 %. But C leaves open the turn and the drive: of different ones they do"
                        + " not contradict each other.");
    }

    /** What a claim states nobody is asked for. */
    @Test
    void next_asksEachForWhatItLeavesOpen() {
        Claim open = claim(Claim.Quantity.UNCUT_DIAMETER);
        Claim stated = stated("D", Claim.Quantity.UNCUT_DIAMETER, Optional.of(Brakes.NONE));
        Claim brakes = stated("E", Claim.Quantity.UNCUT_DIAMETER, Optional.empty());
        assertThat(ClaimWords.nextAgainst(open, stated, WITHIN)).isEqualTo("Nothing to settle between the two.");
        for (Verdict verdict :
                List.of(BEYOND, open(Map.of(), Outlook.Obstacle.GEOMETRY), new Verdict.NotPossible(List.of()))) {
            assertThat(ClaimWords.nextAgainst(open, stated, verdict))
                    .isEqualTo(
                            "Ask whoever states C which way it turned, in which drive, whether brakes were used, how it"
                                    + " was measured, and how many circles stand behind it; and whoever states D how it was measured.");
        }
        assertThat(ClaimWords.nextAgainst(stated, stated, BEYOND)).isEqualTo("Ask both how it was measured.");
        assertThat(ClaimWords.nextAgainst(brakes, stated, BEYOND))
                .isEqualTo(
                        "Ask whoever states E whether brakes were used and how it was measured; and whoever states D how"
                                + " it was measured.");
        ClaimCheck.Reading reading = reading(1, 0.8);
        ClaimCheck two = new ClaimCheck(brakes, List.of(reading, reading), 0.1);
        assertThat(WORDS.next(two, reading, WITHIN))
                .isEqualTo("Ask whoever states it whether brakes were used and how it was measured.");
    }
}
