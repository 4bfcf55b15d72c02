package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import org.fairturn.geometry.Deck;
import org.fairturn.geometry.TurningCircle;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class ClaimsTest {
    private static final Optional<Turn> ANY_TURN = Optional.empty();
    private static final Optional<Drive> ANY_DRIVE = Optional.empty();
    private static final Optional<Brakes> ANY_BRAKES = Optional.empty();
    private static final Optional<Turn> LEFT = Optional.of(Turn.LEFT);
    private static final Optional<Turn> RIGHT = Optional.of(Turn.RIGHT);
    private static final Optional<Drive> TWO = Optional.of(Drive.TWO_WHEEL);
    private static final Optional<Drive> FOUR = Optional.of(Drive.FOUR_WHEEL);

    /** A compact tractor whose deck sits to the left, one circle a cell: common practice, no source. Lengths in inches. */
    private static Trials tradeFacts() {
        return Trials.in(LengthUnit.INCH)
                .machine("Compact")
                .blade(28, 6 + 15, 9.25)
                .blade(28, 6, 9.25)
                .blade(28, 6 - 15, 9.25)
                .steering(63, 41, 60, 60)
                .stop(Turn.LEFT, 1.1, 1.1, Double.NaN, 4)
                .stop(Turn.RIGHT, 1.1, 1.1, Double.NaN, 4)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 60, 62)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 82)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 83)
                .circle("4", Turn.RIGHT, Drive.FOUR_WHEEL, 106);
    }

    /** Two circles left and right in either drive that scatter by about 10 mm. */
    private static Trials two() {
        return Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(48)
                .steering(1450, 950, 60, 60)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1605)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1760, 1752)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1771, 1765)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, 1612, 1609)
                .circle("5", Turn.LEFT, Drive.FOUR_WHEEL, 2050, 2044)
                .circle("6", Turn.RIGHT, Drive.FOUR_WHEEL, 2230, 2221)
                .circle("7", Turn.LEFT, Drive.FOUR_WHEEL, 2062, 2057)
                .circle("8", Turn.RIGHT, Drive.FOUR_WHEEL, 2241, 2238);
    }

    private static Trials uncut(Trials trials, double value, Optional<Turn> turn, Optional<Drive> drive) {
        return trials.claim("C", value, Quantity.UNCUT_DIAMETER, "Compact", turn, drive, ANY_BRAKES);
    }

    /** Beyond the turn centre a larger radius leaves a smaller disc; the reading's probability used to come out negative. */
    @Test
    void bladeBeyondTheTurnCentre_leavesProbabilitiesFromNoneToOne() {
        ClaimCheck check = only(Trials.inMillimetres()
                .machine("Alder")
                .blade(500, 2500, 200)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 2760, 2765)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 2750, 2755)
                .claim("C", 1000, Quantity.TURN_RADIUS, "Alder", LEFT, TWO, ANY_BRAKES));
        assertThat(check.readings().get(0).probability()).isBetween(0.5, 1.0);
        assertThat(check.readings().get(0).probability() + check.noneOfThese()).isCloseTo(1, within(1e-12));
    }

    private static ClaimCheck only(Trials trials) {
        return trials.analysed().claims().get(0);
    }

    private static List<Finding> claims(Analysis analysis) {
        return analysis.findings().stream()
                .filter(f -> f.question() == Question.CLAIM)
                .toList();
    }

    private static ClaimCheck.Comparison comparison(ClaimCheck.Reading reading) {
        return reading.comparison().orElseThrow();
    }

    @Test
    void tradeFacts_claimsOf78And104_agreeWithTheRightTurn_notWithTheLeft() {
        for (Trials trials :
                List.of(uncut(tradeFacts(), 78, ANY_TURN, TWO), uncut(tradeFacts(), 104, ANY_TURN, FOUR))) {
            ClaimCheck check = only(trials);
            assertThat(check.readings()).hasSize(2);
            ClaimCheck.Reading first = check.readings().get(0);
            assertThat(first.cell().turn()).isEqualTo(Turn.RIGHT);
            assertThat(Math.abs(comparison(first).zeta())).isLessThan(2);
            assertThat(Math.abs(comparison(first).en())).isLessThan(1);
            ClaimCheck.Reading second = check.readings().get(1);
            assertThat(comparison(second).zeta()).isGreaterThan(2);
            assertThat(first.probability()).isGreaterThan(3 * second.probability());
            assertThat(claims(trials.analysed()).get(1).verdict().word()).isEqualTo("beyond");
        }
    }

    /** Where it is known that both turned left, a stop is the plausible explanation and the deck is not. */
    @Test
    void tradeFacts_ifBothTurnedLeft_aStopIsThePlausibleExplanation() {
        for (Trials trials : List.of(uncut(tradeFacts(), 78, LEFT, TWO), uncut(tradeFacts(), 104, LEFT, FOUR))) {
            ClaimCheck.Reading reading = only(trials).readings().get(0);
            assertThat(reading.wouldDiffer()).contains("the turn (as a right turn it does not contradict the trial)");
            int last = reading.wouldDiffer().size() - 1;
            assertThat(reading.wouldDiffer().get(last - 1))
                    .startsWith("the left stop of the machine the claim was made of (it would protrude 0.")
                    .contains(" more than here, ")
                    .endsWith("° less lock: a plausible amount)");
            assertThat(reading.wouldDiffer().get(last))
                    .startsWith("where the deck sits (1")
                    .endsWith(" further to the right: more than is plausible)");
            Finding finding = claims(trials.analysed()).get(0);
            assertThat(finding.sentence()).contains(" For this reading to hold, one of these would have to differ: ");
            assertThat(finding.next()).contains("A stop is never turned in past the specification to meet a claim.");
        }
    }

    /** By hand, about 60°: R 61 in circle: √(39.75² − 28²) + 21; R of 78 in: √(48.25² − 28²) + 21. */
    @Test
    void stopThatWouldFit_byHand() {
        double wider = Math.sqrt(48.25 * 48.25 - 784) - Math.sqrt(39.75 * 39.75 - 784);
        double lock = Math.toRadians(60);
        double then = Math.atan(1 / (1 / Math.tan(lock) + wider / 63));
        Trials trials = uncut(tradeFacts(), 78, LEFT, TWO);
        double found = new MachineThatFits(
                        trials.trial().machines().get(0),
                        new Cell("Compact", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE),
                        new Wording(LengthUnit.INCH))
                .lockChange(wider * 0.0254)
                .orElseThrow();
        assertThat(found).isCloseTo(then - lock, within(1e-12));
    }

    @Test
    void probabilities_sumToOne_andScoresAreThoseOfTheDifference() {
        var random = new SplittableRandom(3);
        for (int i = 0; i < 6; i++) {
            double value = random.nextDouble(1400, 2400);
            Analysis analysis = two().claim(
                            "C", value, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, ANY_DRIVE, ANY_BRAKES)
                    .analysed();
            ClaimCheck check = analysis.claims().get(0);
            assertThat(check.readings()).hasSize(4);
            double sum = check.readings().stream()
                    .mapToDouble(ClaimCheck.Reading::probability)
                    .sum();
            assertThat(sum + check.noneOfThese()).isCloseTo(1, within(1e-9));
            for (int k = 0; k < 4; k++) {
                ClaimCheck.Comparison c = comparison(check.readings().get(k));
                Finding finding = claims(analysis).get(k);
                double u = finding.estimate().orElseThrow().standardUncertainty();
                assertThat(Math.hypot(c.claimedUncertainty(), c.measuredUncertainty()))
                        .isCloseTo(u, within(1e-9));
                assertThat(c.zeta()).isCloseTo(finding.estimate().orElseThrow().value() / u, within(1e-6));
                assertThat(c.en()).isCloseTo(c.zeta() / 2, within(1e-12));
                assertThat(finding.subject())
                        .isEqualTo(check.readings().get(k).subject())
                        .containsKeys("claim", "machine", "turn", "drive", "reading");
            }
        }
    }

    @Test
    void findings_areTheSame_inAnyOrderOfCircles_andMirroredInAMirror() {
        Trial trial = two().claim("C", 1770, Quantity.TURN_RADIUS, "Alder", ANY_TURN, ANY_DRIVE, ANY_BRAKES)
                .claim("D", 1770, Quantity.UNCUT_DIAMETER, "Alder", RIGHT, TWO, ANY_BRAKES)
                .trial();
        var circles = new ArrayList<>(trial.circles());
        Collections.reverse(circles);
        Trial reversed = new Trial(trial.folder(), trial.conditions(), trial.machines(), circles, trial.claims());
        List<Finding> found = claims(Analysis.of(trial));
        List<Finding> again = claims(Analysis.of(reversed));
        assertThat(again)
                .extracting(Finding::sentence)
                .isEqualTo(found.stream().map(Finding::sentence).toList());
        ClaimCheck seen = Analysis.of(trial).claims().get(0);
        ClaimCheck mirrored = Analysis.of(Trials.mirrored(trial)).claims().get(0);
        for (int k = 0; k < 4; k++) {
            assertThat(mirrored.readings().get(k).cell().turn())
                    .isNotEqualTo(seen.readings().get(k).cell().turn());
            assertThat(mirrored.readings().get(k).probability())
                    .isCloseTo(seen.readings().get(k).probability(), within(1e-9));
        }
    }

    @Test
    void conversions_goThroughTheTurnRadius() {
        Trials trials = two().claim("R", 1500, Quantity.TURN_RADIUS, "Alder", RIGHT, TWO, ANY_BRAKES)
                .claim("T", 4900, Quantity.TURNING_CIRCLE_DIAMETER, "Alder", RIGHT, TWO, ANY_BRAKES);
        Analysis analysis = trials.analysed();
        Deck deck = DeckModel.of(trials.trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        assertThat(comparison(analysis.claims().get(0).readings().get(0)).claimed())
                .isCloseTo(deck.uncutDiameter(1.5, -1), within(1e-12));
        double radius = new TurningCircle(1.45, 0.95).turnRadius(4.9).orElseThrow();
        assertThat(comparison(analysis.claims().get(1).readings().get(0)).claimed())
                .isCloseTo(deck.uncutDiameter(radius, -1), within(1e-12));
        // geometry makes a converted claim less certain than one that needs none
        Analysis plain = two().claim("D", 1760, Quantity.UNCUT_DIAMETER, "Alder", RIGHT, TWO, ANY_BRAKES)
                .analysed();
        double u = comparison(plain.claims().get(0).readings().get(0)).claimedUncertainty();
        assertThat(analysis.claims())
                .allSatisfy(c -> assertThat(comparison(c.readings().get(0)).claimedUncertainty())
                        .isGreaterThan(u));
    }

    @Test
    void uncertainty_asStated_elseThatOfTheCirclesBehindIt() {
        double stated = uncertainty(Optional.of(Length.mm(7)), OptionalInt.of(1));
        assertThat(stated).isCloseTo(0.007, within(1e-12));
        double one = uncertainty(Optional.empty(), OptionalInt.empty());
        assertThat(uncertainty(Optional.empty(), OptionalInt.of(1))).isEqualTo(one);
        double four = uncertainty(Optional.empty(), OptionalInt.of(4));
        MachineEstimate machine = two().analysed().machines().get(0);
        double shared = machine.sharedVariance(new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE));
        assertThat(one * one - shared).isCloseTo(machine.posterior().newCircleVariance(), within(1e-12));
        assertThat(four * four - shared).isCloseTo((one * one - shared) / 4, within(1e-12));
    }

    private static double uncertainty(Optional<Length> stated, OptionalInt circles) {
        Trials trials =
                two().claim("C", 1610, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES, stated, circles);
        return comparison(only(trials).readings().get(0)).claimedUncertainty();
    }

    @Test
    void agreement_isSaidInOneSentence() {
        Analysis analysis = two().claim(
                        "C",
                        1608,
                        Quantity.UNCUT_DIAMETER,
                        "Alder",
                        LEFT,
                        TWO,
                        Optional.of(Brakes.NONE),
                        Optional.of(Length.mm(2)),
                        OptionalInt.empty())
                .margin(100)
                .analysed();
        Finding finding = claims(analysis).get(0);
        ClaimCheck check = analysis.claims().get(0);
        ClaimCheck.Comparison c = comparison(check.readings().get(0));
        assertThat(finding.verdict().word()).isEqualTo("within");
        double q = finding.estimate().orElseThrow().value();
        double low = finding.estimate().orElseThrow().low();
        double high = finding.estimate().orElseThrow().high();
        assertThat(Math.abs(q) / 0.0254)
                .as("of which tenths of an inch would leave nothing")
                .isBetween(0.02, 0.05);
        assertThat(finding.sentence())
                .startsWith(
                        "Claim C (brochure), uncut diameter 1608 mm (63.3 in), read as the left turn in 2WD of Alder: "
                                + format("%.0f", 1000 * Math.abs(q)) + " mm (" + format("%.2f", Math.abs(q) / 0.0254)
                                + " in)" + (q < 0 ? " smaller" : " larger") + " than the "
                                + both(c.measured())
                                + " measured, between " + (q < 0 ? ends(-high, -low) : ends(low, high))
                                + "; that is within the practical margin of 100 mm (3.9 in) with a probability of ")
                .contains(": claim and trial agree (zeta "
                        + format("%.1f", c.zeta()) + ", E_n "
                        + format("%.1f", c.en())
                        + "). That this is what the claim means has a probability of ");
        assertThat(finding.next())
                .isEqualTo("Nothing to settle: the claim may be used, with turn and drive beside it.");
    }

    private static String format(String pattern, double value) {
        return String.format(Locale.ROOT, pattern, value)
                .replaceFirst("^-(0(\\.0)?)$", "$1")
                .replace('-', '−');
    }

    private static String both(double metres) {
        return format("%.0f", 1000 * metres) + " mm (" + format("%.1f", metres / 0.0254) + " in)";
    }

    private static String ends(double low, double high) {
        return format("%.0f", 1000 * low) + " and " + format("%.0f", 1000 * high) + " mm ("
                + format("%.1f", low / 0.0254) + " and " + format("%.1f", high / 0.0254) + " in)";
    }

    @Test
    void whatCannotBeCompared_saysWhatToMeasure() {
        Analysis analysis = two().claim("A", 6000, Quantity.CLEARANCE_CIRCLE_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .claim("B", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, Optional.of(Brakes.USED))
                .machine("Birch")
                .blade(100, 0, 300)
                .circle("b", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .claim("D", 200, Quantity.TURN_RADIUS, "Birch", LEFT, TWO, ANY_BRAKES)
                .analysed();
        // of the pairs, A and B are of different measures, and one with brakes
        assertThat(claims(analysis)).hasSize(4).allMatch(f -> f.verdict().word().equals("notPossible"));
        // nothing was worked out that could rest on it
        assertThat(claims(analysis)).noneMatch(Finding::restsOnAssumption);
        assertThat(claims(analysis).get(0).subject())
                .isEqualTo(Map.of(
                        "claim",
                        "A",
                        "machine",
                        "Alder",
                        "turn",
                        "left",
                        "drive",
                        "2WD",
                        "reading",
                        "clearance circle diameter"));
        assertThat(claims(analysis).get(0).sentence())
                .isEqualTo(
                        "Claim A (brochure), clearance circle diameter 6000 mm (236.2 in): cannot be held against this trial yet."
                                + " Missing: where the machine's outermost point lies: how far ahead of the rear axle and from the"
                                + " centreline.");
        assertThat(claims(analysis).get(0).next())
                .isEqualTo(
                        "A clearance circle is drawn by the outermost point of the whole machine, guards and deck included. Measure"
                                + " it as such: at full lock mark on the ground where that point passes and lay the tape across."
                                + " Engine stopped and key out before anyone measures.");
        assertThat(claims(analysis).get(1).sentence())
                .isEqualTo(
                        "Claim B (brochure), uncut diameter 1600 mm (63.0 in): cannot be held against this trial yet. Missing: a"
                                + " circle of Alder to the left in 2WD with brakes.");
        assertThat(claims(analysis).get(1).next()).startsWith("A circle driven with brakes is another condition");
        assertThat(claims(analysis).get(2).sentence()).contains("with these blades this one leaves none");
        assertThat(claims(analysis).get(2).next())
                .isEqualTo(
                        "No circle driven here can settle that. Ask whoever states it what was measured, and of which"
                                + " machine: so small a figure may be a radius, or an uncut diameter.");
    }

    /** The blades were blamed for a turning circle that no wheelbase of this length can draw. */
    @Test
    void aTurningCircleTooSmallForTheWheelbase_isSaidToBeImpossible() {
        Analysis analysis = two().claim(
                        "C", 2400, Quantity.TURNING_CIRCLE_DIAMETER, "Alder", ANY_TURN, ANY_DRIVE, ANY_BRAKES)
                .analysed();
        assertThat(claims(analysis)).hasSize(1);
        // turning about the middle of the rear axle: 2·√(1450² + 475²) = 3051.6 mm = 120.1 in
        assertThat(claims(analysis).get(0).sentence())
                .isEqualTo(
                        "Claim C (brochure), turning circle diameter 2400 mm (94.5 in): cannot be held against this trial yet."
                                + " Missing: a figure that is possible: no machine with the wheelbase and front track of Alder has a"
                                + " turning circle of less than 3052 mm (120.1 in), even turning about the middle of its rear axle.");
        assertThat(claims(analysis).get(0).next())
                .isEqualTo(
                        "No circle driven here can settle that. Ask whoever states it what was measured, and of which"
                                + " machine: so small a figure may be a radius, or an uncut diameter. See that wheelbase and front track in"
                                + " machines.csv are right, too.");
        Analysis possible = two().claim("C", 3053, Quantity.TURNING_CIRCLE_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .analysed();
        assertThat(claims(possible).get(0).verdict().word()).isEqualTo("beyond");
    }

    @Test
    void brakesUnstated_areAReading_onlyWhereCirclesWereDrivenWithThem() {
        Trials without = two().claim("C", 1500, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES);
        assertThat(only(without).readings()).hasSize(1);
        Trials with = two().circle("9", Turn.LEFT, Drive.TWO_WHEEL, 1500)
                .withBrakes()
                .claim("C", 1500, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES);
        assertThat(only(with).readings()).hasSize(2);
        assertThat(only(with).readings().get(0).cell().brakes()).isEqualTo(Brakes.USED);
        // as in every other question, so that a program need not read it out of the words
        assertThat(claims(with.analysed()).get(0).subject()).containsEntry("brakes", "used");
    }

    @Test
    void readingsThatWereNotMeasured_areListed_andNotJudged() {
        Trials trials = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .claim("C", 1600, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, TWO, ANY_BRAKES);
        ClaimCheck check = only(trials);
        assertThat(check.readings()).hasSize(2);
        assertThat(check.readings().get(1).comparison()).isEmpty();
        assertThat(check.readings().get(1).missing()).isEqualTo("a circle of Alder to the right in 2WD");
        assertThat(claims(trials.analysed())).hasSize(1);
        assertThat(claims(trials.analysed()).get(0).sentence()).contains(" (1 more reading could not be compared).");
    }

    @Test
    void claimWithoutAMachine_isHeldAgainstAll() {
        Trials trials = two().machine("Birch").circle("b", Turn.LEFT, Drive.TWO_WHEEL, 1900);
        Trial trial = trials.trial();
        Claim claim = new Claim(
                "C",
                "",
                Length.mm(1895),
                Quantity.UNCUT_DIAMETER,
                Optional.empty(),
                LEFT,
                TWO,
                ANY_BRAKES,
                Optional.empty(),
                OptionalInt.empty(),
                "");
        Analysis analysis = Analysis.of(
                new Trial(trial.folder(), trial.conditions(), trial.machines(), trial.circles(), List.of(claim)));
        assertThat(analysis.claims().get(0).readings())
                .extracting(r -> r.cell().machine())
                .containsExactly("Birch", "Alder");
    }

    private static List<Finding> pairs(Trials trials) {
        return claims(trials.analysed()).stream()
                .filter(f -> f.subject().get("reading").startsWith("against"))
                .toList();
    }

    /** 400 mm apart, and each may be right of another turn or drive. What each states it is not asked for. */
    @Test
    void twoClaims_ofWhichOneLeavesTheConditionOpen_doNotContradictEachOther() {
        List<Finding> pairs = pairs(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, TWO, ANY_BRAKES)
                .claim("B", 2000, Quantity.UNCUT_DIAMETER, "Alder", LEFT, ANY_DRIVE, Optional.of(Brakes.NONE)));
        assertThat(pairs).hasSize(1);
        Finding finding = pairs.get(0);
        assertThat(finding.subject())
                .isEqualTo(Map.of(
                        "claim",
                        "A",
                        "machine",
                        "Alder",
                        "turn",
                        "left",
                        "drive",
                        "2WD",
                        "reading",
                        "against claim B, uncut diameter"));
        assertThat(finding.verdict())
                .isEqualTo(new Verdict.NotPossible(List.of("the turn of claim A", "the drive of claim B")));
        assertThat(finding.restsOnAssumption()).isFalse();
        assertThat(finding.sentence())
                .startsWith(
                        "Claims A (brochure) and B (brochure), both uncut diameter of Alder: the first is 1600 mm (63.0 in) and"
                                + " the second 2000 mm (78.7 in), a difference of 400 mm (15.7 in), between ")
                .contains(
                        "; of the same turn and drive that would be beyond the practical margin of 50 mm (2.0 in) with a"
                                + " probability of ")
                .endsWith(
                        ". But A leaves open the turn and B leaves open the drive: of different ones they do not contradict"
                                + " each other. A does not say whether brakes were used and is read as without.");
        assertThat(finding.next())
                .isEqualTo(
                        "Ask whoever states A which way it turned, whether brakes were used, how it was measured, and how many"
                                + " circles stand behind it; and whoever states B in which drive, how it was measured, and how many"
                                + " circles stand behind it.");
    }

    @Test
    void twoClaims_ofTheSameTurnAndDrive_cannotBothBeRight() {
        List<Finding> pairs = pairs(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .claim("B", 2000, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES));
        assertThat(pairs).hasSize(1);
        assertThat(pairs.get(0).verdict().word()).isEqualTo("beyond");
        assertThat(pairs.get(0).estimate().orElseThrow().value()).isCloseTo(-0.4, within(1e-9));
        assertThat(pairs.get(0).sentence())
                .contains(": they cannot both be right of the same turn and drive."
                        + " A and B do not say whether brakes were used and are read as without.");
        assertThat(pairs.get(0).next())
                .isEqualTo(
                        "Ask both whether brakes were used, how it was measured, and how many circles stand behind it.");
    }

    @Test
    void twoClaimsThatStateDifferentConditions_areNotHeldAgainstEachOther() {
        assertThat(pairs(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, TWO, ANY_BRAKES)
                        .claim("B", 1600, Quantity.UNCUT_DIAMETER, "Alder", RIGHT, FOUR, ANY_BRAKES)))
                .isEmpty();
        assertThat(pairs(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, Optional.of(Brakes.NONE))
                        .claim("B", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, Optional.of(Brakes.USED))))
                .isEmpty();
    }

    /** As a claim alone: brakes unstated are none, and either where circles were driven with them. */
    @Test
    void aClaimThatDoesNotStateItsBrakes_andOneWithBrakes_areOfDifferentConditions() {
        Optional<Brakes> used = Optional.of(Brakes.USED);
        Finding finding = pair(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, ANY_DRIVE, ANY_BRAKES)
                .claim("B", 2000, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, used));
        assertThat(finding.verdict())
                .isEqualTo(new Verdict.NotPossible(List.of("whether brakes were used in claim A")));
        assertThat(finding.sentence())
                .isEqualTo(
                        "Claims B (brochure), uncut diameter 2000 mm (78.7 in), and A (brochure), uncut diameter 1600 mm (63.0"
                                + " in), both of Alder, are not held against each other: B is of a turn with brakes; A does not say"
                                + " and is read as without, as no such circle was driven with them here. That is another condition,"
                                + " and one is never worked out from the other.");
        Finding driven = pair(two().circle("9", Turn.LEFT, Drive.TWO_WHEEL, 1500)
                .withBrakes()
                .claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .claim("B", 2000, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, used));
        assertThat(driven.verdict()).isEqualTo(new Verdict.NotPossible(List.of("whether brakes were used in claim A")));
        assertThat(driven.sentence())
                .endsWith(". But A leaves open whether brakes were used: of different ones they do not contradict each"
                        + " other.");
    }

    /** 6 mm stand with the diameter, 8 mm with the radius, which the deck stretches; what the deck puts on it is added. */
    @Test
    void twoClaimsOfDifferentQuantities_areComparedThroughTheRadius() {
        Trials trials = stated(
                stated(two(), "A", 1600, Quantity.UNCUT_DIAMETER, LEFT, 6), "B", 1500, Quantity.TURN_RADIUS, LEFT, 8);
        Machine machine = trials.trial().machines().get(0);
        DeckModel model = DeckModel.of(machine, Drive.TWO_WHEEL).orElseThrow();
        double left = model.deck().uncutDiameter(1.5, 1);
        double slope = 2 * model.deck().cosPhi(1.5, 1);
        double geometry = model.contributions(deck -> OptionalDouble.of(deck.uncutDiameter(1.5, 1))).stream()
                .mapToDouble(c -> c.effect() * c.effect())
                .sum();
        Finding finding = pair(trials);
        assertThat(finding.estimate().orElseThrow().value()).isCloseTo(1.6 - left, within(1e-9));
        assertThat(finding.estimate().orElseThrow().standardUncertainty())
                .isCloseTo(Math.sqrt(36e-6 + 64e-6 * slope * slope + geometry), within(1e-7));
        assertThat(finding.verdict().word()).isEqualTo("beyond");
        assertThat(finding.sentence())
                .startsWith(
                        "Claims A (brochure), uncut diameter 1600 mm (63.0 in), and B (brochure), turn radius 1500 mm (59.1"
                                + " in), both of Alder: as uncut diameters of the left turn in 2WD the first is 1600 mm (63.0 in) and"
                                + " the second " + both(left) + ", a difference of ");
        assertThat(finding.subject()).containsEntry("reading", "against claim B, uncut diameter and turn radius");
        // where the turn is open, of the one in which they differ least; the deck sits to the left
        double right = model.deck().uncutDiameter(1.5, -1);
        assertThat(Math.abs(2.1 - right)).isLessThan(Math.abs(2.1 - left));
        Finding open = pair(stated(
                stated(two(), "A", 2100, Quantity.UNCUT_DIAMETER, ANY_TURN, 6),
                "B",
                1500,
                Quantity.TURN_RADIUS,
                ANY_TURN,
                300));
        assertThat(open.estimate().orElseThrow().value()).isCloseTo(2.1 - right, within(1e-9));
        assertThat(open.sentence())
                .contains(": as uncut diameters of the right turn in 2WD, where they differ least, the");
    }

    /** What draws a turning circle: 2·√((R + 475)² + 1450²) mm. Blades and deck move both alike and so not the difference. */
    @Test
    void whatTheDeckPutsOnBothClaims_cancels() {
        double circle = 2 * Math.hypot(1500 + 475, 1450);
        Trials trials = stated(
                stated(two(), "A", circle, Quantity.TURNING_CIRCLE_DIAMETER, LEFT, 0.1),
                "B",
                1500,
                Quantity.TURN_RADIUS,
                LEFT,
                0.1);
        Finding finding = pair(trials);
        assertThat(finding.estimate().orElseThrow().value()).isCloseTo(0, within(1e-9));
        // dR = −L/(R + t/2) dL and −dt/2: 3.67 mm and 5 mm for 5 and 10 mm, and the shift as far as it moves the circle
        double slope = 2
                * DeckModel.of(trials.trial().machines().get(0), Drive.TWO_WHEEL)
                        .orElseThrow()
                        .deck()
                        .cosPhi(1.5, 1);
        double shift = 25 * 1450 / 1975.0;
        assertThat(finding.estimate().orElseThrow().standardUncertainty())
                .isCloseTo(
                        slope * Math.sqrt(5 * 5 * Math.pow(1450 / 1975.0, 2) + 5 * 5 + shift * shift) / 1000,
                        within(5e-4));
    }

    @Test
    void twoClaimsOfMeasuresThatCannotBeWorkedOut_areSaidNotToBeCompared() {
        Finding finding = pair(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .claim("B", 6000, Quantity.CLEARANCE_CIRCLE_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES));
        assertThat(finding.verdict().word()).isEqualTo("notPossible");
        assertThat(finding.sentence())
                .isEqualTo(
                        "Claims A (brochure), uncut diameter 1600 mm (63.0 in), and B (brochure), clearance circle diameter 6000"
                                + " mm (236.2 in), both of Alder, are not held against each other: they are different measures, and to"
                                + " work out one from the other this is missing: where the machine's outermost point lies: how far"
                                + " ahead of the rear axle and from the centreline.");
        Finding tooSmall = pair(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                .claim("B", 2400, Quantity.TURNING_CIRCLE_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES));
        assertThat(tooSmall.sentence())
                .contains("this is missing: a figure that is possible: no machine with the wheelbase");
    }

    @Test
    void aClaimFarFromEverything_meansNoneOfIt() {
        Trials trials = two().claim("C", 290_000, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, ANY_DRIVE, ANY_BRAKES);
        ClaimCheck check = only(trials);
        assertThat(check.noneOfThese()).isCloseTo(1, within(1e-9));
        assertThat(claims(trials.analysed()))
                .hasSize(4)
                .allMatch(f -> f.verdict().word().equals("beyond"));
    }

    private static Trials stated(
            Trials trials, String id, double value, Quantity quantity, Optional<Turn> turn, double u) {
        return trials.claim(
                id, value, quantity, "Alder", turn, TWO, ANY_BRAKES, Optional.of(Length.mm(u)), OptionalInt.empty());
    }

    private static Finding pair(Trials trials) {
        return claims(trials.analysed()).stream()
                .filter(f -> f.subject().get("reading").startsWith("against"))
                .findFirst()
                .orElseThrow();
    }

    /**
     * By hand: 6 and 8 mm make 10 mm. A radius counts as the uncut diameter it comes to; twice, as does its uncertainty, where no
     * blade tells that. Blades differ less than twice as much, so that twice had convicted claims that may agree.
     */
    @Test
    void twoClaimsThatStateTheirUncertainty_areComparedWithBoth() {
        Finding diameters = pair(stated(
                stated(two(), "A", 1600, Quantity.UNCUT_DIAMETER, LEFT, 6),
                "B",
                1670,
                Quantity.UNCUT_DIAMETER,
                LEFT,
                8));
        assertThat(diameters.estimate().orElseThrow().value()).isCloseTo(-0.070, within(1e-12));
        assertThat(diameters.estimate().orElseThrow().standardUncertainty()).isCloseTo(0.010, within(1e-9));
        assertThat(diameters.verdict().word()).isEqualTo("beyond"); // by 2 u, of which 1.645 are needed
        Trials bare = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1605)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, 1612, 1609);
        Finding radii = pair(stated(
                stated(bare, "A", 1600, Quantity.TURN_RADIUS, LEFT, 6), "B", 1550, Quantity.TURN_RADIUS, LEFT, 8));
        assertThat(radii.estimate().orElseThrow().value()).isCloseTo(0.100, within(1e-12));
        assertThat(radii.estimate().orElseThrow().standardUncertainty()).isCloseTo(0.020, within(1e-9));
        assertThat(radii.sentence()).contains("a difference of 100 mm (3.9 in) across the circle");
        Analysis cut = stated(
                        stated(two(), "A", 1600, Quantity.TURN_RADIUS, LEFT, 6),
                        "B",
                        1550,
                        Quantity.TURN_RADIUS,
                        LEFT,
                        8)
                .analysed();
        Finding converted = claims(cut).stream()
                .filter(f -> f.subject().get("reading").startsWith("against"))
                .findFirst()
                .orElseThrow();
        Deck deck = DeckModel.of(cut.trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        double difference = deck.uncutDiameter(1.600, 1) - deck.uncutDiameter(1.550, 1);
        assertThat(difference).isLessThan(0.095);
        assertThat(converted.estimate().orElseThrow().value()).isCloseTo(difference, within(1e-9));
        // both go through the same blades, of whose places hardly anything is left in the difference
        assertThat(converted.estimate().orElseThrow().standardUncertainty())
                .isCloseTo(
                        Math.hypot(0.006 * 2 * deck.cosPhi(1.600, 1), 0.008 * 2 * deck.cosPhi(1.550, 1)), within(5e-4));
        assertThat(converted.sentence()).contains(": as uncut diameters of the left turn in 2WD the first is ");
    }

    /** One circle and four: 1 + 1/4 times a circle's variance; one circle each: twice. */
    @Test
    void twoClaimsThatStateNone_carryTheCirclesBehindThem() {
        double[] variance = new double[2];
        for (int i = 0; i < 2; i++) {
            Finding found = pair(two().claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", LEFT, TWO, ANY_BRAKES)
                    .claim(
                            "B",
                            1620,
                            Quantity.UNCUT_DIAMETER,
                            "Alder",
                            LEFT,
                            TWO,
                            ANY_BRAKES,
                            Optional.empty(),
                            OptionalInt.of(i == 0 ? 1 : 4)));
            variance[i] = Math.pow(found.estimate().orElseThrow().standardUncertainty(), 2);
        }
        assertThat(variance[0]).isGreaterThan(1e-4);
        assertThat(variance[1] / variance[0]).isCloseTo(1.25 / 2, within(1e-9));
    }

    /** D moves 2·cos φ times as far as R: the stated 10 and 30 mm of a radius differ by so much as variances. */
    @Test
    void statedUncertaintyOfARadius_countsAsTheDeckStretchesIt() {
        Deck deck = DeckModel.of(two().trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        double slope = 2 * deck.cosPhi(1.3, 1);
        double small = claimed(stated(two(), "R", 1300, Quantity.TURN_RADIUS, LEFT, 10));
        double large = claimed(stated(two(), "R", 1300, Quantity.TURN_RADIUS, LEFT, 30));
        assertThat(large * large - small * small).isCloseTo(800e-6 * slope * slope, within(1e-9));
        assertThat(slope).isBetween(1.2, 1.9);
    }

    private static double claimed(Trials trials) {
        return comparison(only(trials).readings().get(0)).claimedUncertainty();
    }

    /**
     * Bayes' rule, worked out here: each reading and "none of these" start alike; a claim stated to 150 mm of radius is normal
     * about each reading, and 0.3 m wider about none of them; densities of D count per metre of radius.
     */
    @Test
    void probabilities_areThoseOfBayesRule() {
        Trials trials = stated(two(), "R", 1350, Quantity.TURN_RADIUS, ANY_TURN, 150);
        Deck deck = DeckModel.of(trials.trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        ClaimCheck check = only(trials);
        assertThat(check.readings()).hasSize(2);
        double[] likelihood = new double[2];
        double none = 0;
        for (int i = 0; i < 2; i++) {
            ClaimCheck.Reading reading = check.readings().get(i);
            ClaimCheck.Comparison c = comparison(reading);
            double u = Math.hypot(c.claimedUncertainty(), c.measuredUncertainty());
            double slope = 2 * deck.cosPhi(1.35, reading.cell().turn().sign());
            likelihood[i] = normal(c.claimed() - c.measured(), u) * slope;
            none += normal(c.claimed() - c.measured(), Math.hypot(u, 0.3)) * slope / 2;
        }
        double total = likelihood[0] + likelihood[1] + none;
        // the readings' part of u is no normal one, but it is a tenth of the claim's
        assertThat(check.readings().get(0).probability()).isCloseTo(likelihood[0] / total, within(1e-3));
        assertThat(check.readings().get(1).probability()).isCloseTo(likelihood[1] / total, within(1e-3));
        assertThat(check.noneOfThese()).isCloseTo(none / total, within(1e-3));
        assertThat(check.noneOfThese()).isBetween(0.1, 0.4);
    }

    private static double normal(double x, double u) {
        return Math.exp(-x * x / (2 * u * u)) / (u * Math.sqrt(2 * Math.PI));
    }

    /** Even where no reading has a probability to speak of, those that were measured come first. */
    @Test
    void readingsThatWereNotMeasured_comeLast_howeverUnlikelyTheOthers() {
        ClaimCheck check = only(stated(
                Trials.inMillimetres().machine("Alder").circle("1", Turn.RIGHT, Drive.TWO_WHEEL, 1600),
                "C",
                2_900_000,
                Quantity.UNCUT_DIAMETER,
                ANY_TURN,
                1));
        assertThat(check.readings()).extracting(r -> r.cell().turn()).containsExactly(Turn.RIGHT, Turn.LEFT);
        assertThat(check.readings()).extracting(ClaimCheck.Reading::probability).containsExactly(0.0, 0.0);
    }

    /** Left circles of 1.6 m in 2WD and 2.05 m in 4WD, right ones of 1.76 and 2.23 m: one condition changed, not both. */
    @Test
    void whatWouldHaveToDiffer_isOneThing() {
        assertThat(otherConditions(1765))
                .containsExactly("the turn (as a right turn it does not contradict the trial)");
        assertThat(otherConditions(2055)).containsExactly("the drive (as 4WD it does not contradict the trial)");
        assertThat(otherConditions(2232)).isEmpty();
        assertThat(otherConditions(1610)).isEmpty(); // it fits as it is
    }

    /** A "turn radius" of 1.61 m that is the uncut diameter of the left circle: no radius of this machine comes near it. */
    @Test
    void whatWouldHaveToDiffer_mayBeTheMeasure() {
        assertThat(only(stated(two(), "C", 1610, Quantity.TURN_RADIUS, LEFT, 2))
                        .readings()
                        .get(0)
                        .wouldDiffer())
                .contains("the measure (as a figure for the uncut diameter it does not contradict the trial)")
                .noneMatch(w -> w.startsWith("the measure (as a figure for the turn"));
    }

    private static List<String> wouldDiffer(double value, Quantity quantity) {
        return only(stated(two(), "C", value, quantity, LEFT, 2))
                .readings()
                .get(0)
                .wouldDiffer();
    }

    /** The left circle in 2WD is 1.606 m across, 803 mm from its middle. */
    @Test
    void whatWouldHaveToDiffer_mayBeThatItIsARadius() {
        assertThat(wouldDiffer(803, Quantity.UNCUT_DIAMETER))
                .contains("the measure (as a radius, half the uncut diameter, it does not contradict the trial)")
                .noneMatch(w -> w.contains("the deck sits"));
        assertThat(wouldDiffer(803, Quantity.TURN_RADIUS))
                .contains("the measure (as a radius, half the uncut diameter, it does not contradict the trial)");
        // the turn radius of that circle, and half the turning circle of it, which a brochure calls a turning radius
        Machine machine = two().trial().machines().get(0);
        double radius = DeckModel.of(machine, Drive.TWO_WHEEL)
                .orElseThrow()
                .deck()
                .turnRadius(1.606, 1)
                .orElseThrow();
        double half = 1000 * Math.hypot(radius + 0.475, 1.45);
        assertThat(wouldDiffer(half, Quantity.TURN_RADIUS))
                .contains(
                        "the measure (as a radius, half the turning circle diameter, it does not contradict the trial)");
        assertThat(wouldDiffer(half + 900, Quantity.TURN_RADIUS)).noneMatch(w -> w.startsWith("the measure"));
        // and the other way round
        assertThat(wouldDiffer(2000 * radius, Quantity.TURN_RADIUS))
                .contains("the measure (as a diameter, twice the turn radius, it does not contradict the trial)");
    }

    /** 1606 mm are 63.2 in; the trial is in millimetres, so 63.2 without a unit was read as millimetres. */
    @Test
    void whatWouldHaveToDiffer_mayBeTheUnit() {
        assertThat(wouldDiffer(63.2, Quantity.UNCUT_DIAMETER))
                .containsExactly("the unit (63.2 in instead of 63.2 mm does not contradict the trial)");
        assertThat(wouldDiffer(160.6, Quantity.UNCUT_DIAMETER))
                .containsExactly("the unit (160.6 cm instead of 160.6 mm does not contradict the trial)");
        Trials inches = uncut(tradeFacts(), 1549, LEFT, TWO); // 61 in
        assertThat(only(inches).readings().get(0).wouldDiffer())
                .containsExactly("the unit (1549 mm instead of 1549 in does not contradict the trial)");
        Finding finding = claims(inches.analysed()).get(0);
        assertThat(finding.sentence()).contains(" No ordinary change of the machine would do it.");
        assertThat(finding.next())
                .endsWith(
                        " See that figure, unit and quantity stand in claims.csv as they were stated; no stop explains it.");
    }

    private static List<String> otherConditions(double value) {
        return only(stated(two(), "C", value, Quantity.UNCUT_DIAMETER, LEFT, 2))
                .readings()
                .get(0)
                .wouldDiffer()
                .stream()
                .filter(w -> w.startsWith("the turn") || w.startsWith("the drive"))
                .toList();
    }

    /** Asked again of the same trial a claim is judged the same; of one without what it is about it is not judged at all. */
    @Test
    void askedAgain_aClaimIsJudgedTheSame() {
        Trials trials = two().machine("Birch")
                .circle("b", Turn.LEFT, Drive.TWO_WHEEL, 1900)
                .claim("A", 1600, Quantity.UNCUT_DIAMETER, "Alder", ANY_TURN, TWO, ANY_BRAKES)
                .claim("B", 2000, Quantity.UNCUT_DIAMETER, "Alder", LEFT, ANY_DRIVE, ANY_BRAKES)
                .claim("C", 1895, Quantity.UNCUT_DIAMETER, "Birch", LEFT, TWO, ANY_BRAKES)
                .claim("D", 1500, Quantity.UNCUT_DIAMETER, "Birch", LEFT, TWO, ANY_BRAKES);
        Asked asked = Trials.asked(trials.trial());
        Asked alder = new Asked(
                asked.trial(), asked.circles(), List.of(asked.machine("Alder").orElseThrow()));
        List<Answer<Asked>> answers = Claims.of(asked).answers();
        assertThat(answers).hasSize(8); // 2 + 2 + 1 + 1 readings, A against B and C against D
        for (Answer<Asked> answer : answers) {
            Map<String, String> subject = answer.finding().subject();
            if (answer.finding().verdict().word().equals("notPossible")) {
                assertThat(subject.get("reading")).isEqualTo("against claim B, uncut diameter");
                assertThat(answer.again().apply(asked)).isEmpty();
                continue;
            }
            assertThat(answer.again().apply(asked).orElseThrow().word())
                    .as("%s", subject)
                    .isEqualTo(answer.finding().verdict().word());
            assertThat(answer.again().apply(alder).isPresent())
                    .isEqualTo(subject.get("machine").equals("Alder"));
        }
    }

    /** By hand: under a deck 10 mm further left a left turn of 2000 mm radius leaves another disc, so a radius means another claim. */
    @Test
    void askedAgainUnderAnotherDeck_aRadiusIsConvertedAnew() {
        Trial trial = Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("a", Turn.LEFT, Drive.TWO_WHEEL, 1900)
                .claim("A", 2000, Quantity.TURN_RADIUS, "Alder", LEFT, TWO, ANY_BRAKES)
                .trial();
        Asked asked = Trials.asked(trial);
        Machine moved = DeckModel.movedLeft(trial.machines().get(0), 2);
        Asked changed = new Asked(
                trial.withMachine(moved),
                asked.circles(),
                List.of(asked.machines().get(0).with(moved)));
        Answer<Asked> answer = Claims.of(asked).answers().get(0);
        assertThat(answer.again().apply(changed).orElseThrow().value())
                .isCloseTo(
                        Claims.of(changed)
                                .answers()
                                .get(0)
                                .finding()
                                .estimate()
                                .orElseThrow()
                                .value(),
                        within(1e-12))
                .isNotCloseTo(answer.finding().estimate().orElseThrow().value(), within(1e-3));
    }
}
