package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class ComplaintsTest {
    private static final double NOT_NOTED = Double.NaN;

    /** Two circles each way in either drive that scatter by about 10 mm; the deck is where it should be. */
    private static Trials machine(LengthUnit unit, String id, double left, double right, double four) {
        double mm = 0.001 / unit.metres();
        return add(Trials.in(unit).margin(50 * mm).edge(5 * mm), mm, id, left, right, four);
    }

    private static Trials add(Trials trials, double mm, String id, double left, double right, double four) {
        trials.machine(id).deckOfThree(48).specifiedDeckOffset(48 * mm).steering(1450 * mm, 950 * mm, 60, 60);
        for (Drive drive : Drive.values()) {
            double more = drive == Drive.FOUR_WHEEL ? four : 0;
            trials.circle(id + drive + 1, Turn.LEFT, drive, (left + more - 4) * mm, (left + more + 3) * mm)
                    .circle(id + drive + 2, Turn.RIGHT, drive, (right + more - 6) * mm, (right + more + 4) * mm)
                    .circle(id + drive + 3, Turn.RIGHT, drive, (right + more + 8) * mm, (right + more + 1) * mm)
                    .circle(id + drive + 4, Turn.LEFT, drive, (left + more + 5) * mm, (left + more - 7) * mm);
        }
        return trials;
    }

    private static Trials manual(Trials trials, double mm) {
        return trials.reference(1610 * mm, Turn.LEFT, Drive.TWO_WHEEL, 5 * mm, "manual")
                .reference(1764 * mm, Turn.RIGHT, Drive.TWO_WHEEL, 5 * mm, "manual")
                .reference(2050 * mm, Turn.LEFT, Drive.FOUR_WHEEL, 5 * mm, "manual")
                .reference(2204 * mm, Turn.RIGHT, Drive.FOUR_WHEEL, 5 * mm, "manual");
    }

    private static Trials metric(double left, double right, double four) {
        return machine(LengthUnit.MILLIMETRE, "Alder", left, right, four);
    }

    private static Trials stops(Trials trials, double left, double right) {
        return trials.stop(Turn.LEFT, 28, left, NOT_NOTED, 80).stop(Turn.RIGHT, 28, right, NOT_NOTED, 80);
    }

    private static Complaint complaint(Trials trials) {
        return trials.analysed().complaints().get(0);
    }

    private static Complaint.Cause cause(Complaint complaint, Kind kind) {
        return complaint.causes().stream()
                .filter(c -> c.kind() == kind)
                .findFirst()
                .orElseThrow();
    }

    private static Map<Kind, Double> probabilities(Complaint complaint) {
        return complaint.causes().stream()
                .collect(Collectors.toMap(Complaint.Cause::kind, Complaint.Cause::probability));
    }

    private static List<Finding> findings(Analysis analysis) {
        return analysis.findings().stream()
                .filter(f -> f.question() == Question.COMPLAINT)
                .toList();
    }

    private static void same(Complaint found, Complaint expected) {
        Map<Kind, Double> p = probabilities(expected);
        probabilities(found).forEach((kind, q) -> assertThat(q).isCloseTo(p.get(kind), within(1e-9)));
        for (int i = 0; i < expected.checks().size(); i++) {
            assertThat(found.checks().get(i).bits())
                    .isCloseTo(expected.checks().get(i).bits(), within(1e-6));
        }
    }

    @Test
    void aLeftStopTooFarOut_isNamed_withItsSizeInShopTerms() {
        // 150 mm and 160 mm over dD/dR = 2·cos φ and dR/db = L/(sin²δ·a): about 4 mm
        Analysis analysis = manual(stops(metric(1760, 1764, 450), NOT_NOTED, 28).threadPitch(1.75), 1)
                .analysed();
        Complaint complaint = analysis.complaints().get(0);
        Complaint.Cause first = complaint.causes().get(0);
        assertThat(first.kind()).isEqualTo(Kind.LEFT_STOP);
        assertThat(first.probability()).isGreaterThan(0.95);
        assertThat(first.size().orElseThrow().value()).isBetween(3.0, 5.0);
        assertThat(first.size().orElseThrow().words())
                .matches(
                        "it protrudes about [34]\\.\\d mm \\(0\\.1\\d in\\) too far out, about [23]\\.\\d° less lock; to have it in"
                                + " turns of the bolt, write its thread pitch into stops.csv");
        assertThat(first.speaksFor())
                .contains(
                        "the right circles are hardly off the reference",
                        "the right stop was measured at its specification",
                        "the excess is about the same in 2WD and 4WD");
        assertThat(cause(complaint, Kind.RIGHT_STOP).against())
                .contains("the right stop was measured at its specification");
        assertThat(complaint.checks()).noneMatch(c -> c.name().equals("measure the right stop"));
        Finding whole = findings(analysis).get(0);
        assertThat(whole.subject()).containsExactly(Map.entry("machine", "Alder"), Map.entry("reference", "manual"));
        assertThat(whole.sentence())
                .startsWith("Alder, held against manual: on the whole (4 turns and drives compared) its circles are ")
                .contains(" Most probable cause: the left stop with a probability of ");
        assertThat(whole.next())
                .isEqualTo(
                        "Measure how far the left stop protrudes and hold it against the service manual. A stop that is off is"
                                + " set to its specification and must touch the axle at full lock; contact comes first, and a stop is never"
                                + " turned in past the specification. Chocks and rated stands first. The service manual and a qualified"
                                + " technician have the last word.");
    }

    @Test
    void turnsOfTheBolt_areSaidWithTheStatedPitch() {
        Trials trials = metric(1610, 1900, 440)
                .stop(Turn.RIGHT, 28, NOT_NOTED, NOT_NOTED, 80)
                .threadPitch(1.75);
        assertThat(cause(complaint(manual(trials, 1)), Kind.RIGHT_STOP)
                        .size()
                        .orElseThrow()
                        .words())
                .matches(
                        "it protrudes about \\d\\.\\d mm \\(0\\.\\d\\d in\\) too far out, about \\d\\.\\d° less lock, with a pitch of"
                                + " 1\\.75 mm about \\d\\.\\d turns of the bolt");
    }

    @Test
    void aHealthyMachine_whoseStopsWereMeasured_isCalledHealthy() {
        Analysis analysis = manual(stops(metric(1611, 1765, 440), 28, 28), 1).analysed();
        Complaint.Cause first = analysis.complaints().get(0).causes().get(0);
        assertThat(first.kind()).isEqualTo(Kind.NOTHING);
        Finding whole = findings(analysis).get(0);
        assertThat(whole.sentence())
                .contains(
                        first.probability() >= 0.95
                                ? " Most probably there is nothing wrong with the machine with a probability of "
                                : " What is behind it cannot be told yet; most probably nothing wrong with the machine (");
        assertThat(findings(analysis)).hasSize(5);
    }

    /** What a stop was measured to be weighs the causes: at its specification it is hardly the stop. */
    @Test
    void aMeasuredStop_countsAsEvidence() {
        double open = cause(complaint(manual(stops(metric(1710, 1764, 440), NOT_NOTED, NOT_NOTED), 1)), Kind.LEFT_STOP)
                .probability();
        double fine = cause(complaint(manual(stops(metric(1710, 1764, 440), 28, NOT_NOTED), 1)), Kind.LEFT_STOP)
                .probability();
        double off = cause(complaint(manual(stops(metric(1710, 1764, 440), 31, NOT_NOTED), 1)), Kind.LEFT_STOP)
                .probability();
        assertThat(fine).isLessThan(open / 3);
        assertThat(off).isGreaterThan(open);
    }

    @Test
    void aStopMeasuredOff_bringsTheAdviceToSetItBack() {
        Analysis analysis = manual(stops(metric(1760, 1764, 440), 32, 28), 1).analysed();
        assertThat(findings(analysis).get(0).next())
                .startsWith(
                        "See that each stop touches the axle at full lock; then set the left stop in by 4.0 mm (0.16 in) to its"
                                + " specified 28.0 mm (1.10 in)")
                .contains("a stop is never turned in past the specification");
    }

    @Test
    void theFrontAxle_isToldByItsExcessIn4wdAlone() {
        Complaint complaint = complaint(manual(stops(metric(1610, 1764, 600), 28, 28), 1));
        Complaint.Cause first = complaint.causes().get(0);
        assertThat(first.kind()).isEqualTo(Kind.FRONT_AXLE);
        assertThat(first.size().orElseThrow().unit()).isEqualTo("%");
        assertThat(first.size().orElseThrow().words())
                .matches(
                        "in 4WD it makes the circles 1\\d\\d mm \\(\\d\\.\\d in\\) wider, as if the front tyres rolled about \\d\\.\\d %"
                                + " less against the rear ones than they should, about \\d+ mm for each metre of circumference"
                                + " \\(kinematics only; tyres give way\\)");
    }

    @Test
    void theOtherDirection_isToldWhereTheReferenceDiffersBetweenTurns() {
        Trials trials = stops(metric(1764, 1610, 440), 28, 28);
        assertThat(complaint(manual(trials, 1)).causes().get(0).kind()).isEqualTo(Kind.DIRECTION);
        Trials alike = stops(metric(1764, 1610, 440), 28, 28)
                .reference(1700, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual")
                .reference(1700, Turn.RIGHT, Drive.TWO_WHEEL, 5, "manual");
        assertThat(probabilities(complaint(alike))).doesNotContainKey(Kind.DIRECTION);
    }

    @Test
    void aRadiusReadAsADiameter_isToldAsAMatterOfMeasure() {
        Trials trials = metric(1610, 1764, 440)
                .reference(805, Turn.LEFT, Drive.TWO_WHEEL, 3, "manual")
                .reference(882, Turn.RIGHT, Drive.TWO_WHEEL, 3, "manual");
        Complaint complaint = complaint(trials);
        assertThat(complaint.causes().get(0).kind()).isEqualTo(Kind.CONVENTION);
        assertThat(complaint.causes().get(0).name()).isEqualTo("the reference really being of an uncut radius");
        assertThat(complaint.compared()).hasSize(2);
        assertThat(findings(trials.analysed()).get(0).sentence())
                .contains(" Left out, the reference saying nothing of it: left turn in 4WD; right turn in 4WD.");
    }

    /** The other turn follows from the one stated: R(D) and D(R) under the deck where the manual puts it. */
    @Test
    void aTurnTheReferenceLeavesOut_isWorkedOut() {
        Trials trials = metric(1610, 1764, 440).reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual");
        Complaint complaint = complaint(trials);
        assertThat(complaint.compared()).hasSize(2);
        var deck = DeckModel.of(trials.trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        double right = deck.uncutDiameter(deck.turnRadius(1.610, 1).orElseThrow(), -1);
        assertThat(complaint.compared().get(1).workedOut()).isTrue();
        assertThat(complaint.compared().get(1).reference()).isCloseTo(right, within(1e-12));
        assertThat(complaint.compared().get(1).excess().standardUncertainty())
                .isGreaterThan(complaint.compared().get(0).excess().standardUncertainty());
    }

    @Test
    void aMachineKnownToBeGood_standsInForTheManual() {
        Trials trials =
                add(metric(1610, 1764, 440), 1, "Birch", 1790, 1764, 440).knownGood("Alder");
        Complaint complaint = complaint(trials);
        assertThat(complaint.machine()).isEqualTo("Birch");
        assertThat(complaint.source()).isEqualTo("Alder");
        assertThat(complaint.causes().get(0).kind()).isEqualTo(Kind.LEFT_STOP);
        assertThat(complaint.compared().get(0).excess().value())
                .isCloseTo(0.180, within(1e-3)); // the missed centre is worth a little less on a larger circle
        assertThat(probabilities(complaint)).doesNotContainKeys(Kind.DIRECTION, Kind.CONVENTION);
    }

    @Test
    void whatIsMissing_isNamed() {
        Analysis nothingDriven = metric(1610, 1764, 440)
                .machine("Birch")
                .reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual")
                .analysed();
        assertThat(findings(nothingDriven).get(0).sentence())
                .isEqualTo("Birch, held against manual: cannot be compared yet. Missing: a circle of Birch.");
        Analysis clearance = metric(1610, 1764, 440)
                .reference(
                        5000,
                        Quantity.CLEARANCE_CIRCLE_DIAMETER,
                        Optional.empty(),
                        Optional.empty(),
                        NOT_NOTED,
                        "manual")
                .analysed();
        assertThat(findings(clearance).get(0).sentence())
                .isEqualTo(
                        "Alder, held against manual: cannot be compared yet. Missing: where the machine's outermost point lies:"
                                + " how far ahead of the rear axle and from the centreline.");
        assertThat(findings(clearance).get(0).verdict().word()).isEqualTo("notPossible");
    }

    @Test
    void dimensionsNotKnown_areNamed_insteadOfASize() {
        Trials trials = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1900, 1905)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700, 1705)
                .reference(1700, Turn.LEFT, Drive.TWO_WHEEL, 10, "manual")
                .reference(1700, Turn.RIGHT, Drive.TWO_WHEEL, 10, "manual");
        Complaint.Size size = cause(complaint(trials), Kind.LEFT_STOP).size().orElseThrow();
        assertThat(size.value()).isNaN();
        assertThat(size.words())
                .isEqualTo(
                        "it protrudes too far out; to say by how much, write down the arm of the left stop (stops.csv), the"
                                + " wheelbase (machines.csv), the designed left lock angle (machines.csv), the blade positions"
                                + " (blades.csv)");
    }

    @Test
    void cellSentence_saysHowFarOffItIs() {
        Finding left = findings(manual(metric(1760, 1764, 440), 1).analysed()).get(1);
        assertThat(left.verdict().word()).isEqualTo("wider");
        assertThat(left.subject())
                .containsExactly(
                        Map.entry("machine", "Alder"),
                        Map.entry("turn", "left"),
                        Map.entry("drive", "2WD"),
                        Map.entry("reference", "manual"));
        assertThat(left.sentence())
                .matches(
                        "Alder, left turn in 2WD, held against manual: the uncut circle is 1\\d\\d mm \\(\\d\\.\\d in\\) larger than"
                                + " the 1610 mm \\(63\\.4 in\\) of the reference, between \\d+ and \\d+ mm \\(.*\\); that is beyond the"
                                + " practical margin of 50 mm \\(2\\.0 in\\) with a probability of .* %: here it turns wider\\.");
    }

    @Test
    void inTheMirror_leftAndRightChangePlaces() {
        Trial trial = manual(stops(metric(1700, 1764, 450), NOT_NOTED, 29), 1).trial();
        Map<Kind, Double> here = probabilities(Analysis.of(trial).complaints().get(0));
        Map<Kind, Double> there =
                probabilities(Analysis.of(Trials.mirrored(trial)).complaints().get(0));
        here.forEach((kind, p) -> assertThat(there.get(mirrored(kind))).isCloseTo(p, within(1e-9)));
    }

    private static Kind mirrored(Kind kind) {
        return switch (kind) {
            case LEFT_STOP -> Kind.RIGHT_STOP;
            case RIGHT_STOP -> Kind.LEFT_STOP;
            case NOTHING, BOTH_STOPS, DECK, FRONT_AXLE, DIRECTION, CONVENTION, OTHER -> kind;
        };
    }

    @Test
    void inchAndMetric_areTheSameComplaint() {
        double mm = 1 / 25.4;
        same(
                complaint(manual(machine(LengthUnit.INCH, "Alder", 1700, 1764, 450), mm)),
                complaint(manual(metric(1700, 1764, 450), 1)));
    }

    @Test
    void orderAndNames_changeNothing() {
        Trial trial = manual(metric(1700, 1764, 450), 1).trial();
        var circles = new ArrayList<>(trial.circles());
        List<Reference> references = new ArrayList<>(trial.references());
        Collections.shuffle(circles, new Random(1));
        Collections.shuffle(references, new Random(2));
        same(
                Analysis.of(new Trial("t", trial.conditions(), trial.machines(), circles, List.of(), references))
                        .complaints()
                        .get(0),
                Analysis.of(trial).complaints().get(0));
        same(
                complaint(manual(machine(LengthUnit.MILLIMETRE, "Zelkova", 1700, 1764, 450), 1)),
                Analysis.of(trial).complaints().get(0));
    }

    @Test
    void onTheWhole_isTheMeanOfTheTurnsAndDrives_andEachAnswerSaysWhatNext() {
        Analysis analysis = manual(stops(metric(1760, 1764, 440), 28, 28), 1).analysed();
        Complaint complaint = analysis.complaints().get(0);
        List<Finding> findings = findings(analysis);
        double mean = complaint.compared().stream()
                .mapToDouble(c -> c.excess().value())
                .average()
                .orElseThrow();
        assertThat(findings.get(0).estimate().orElseThrow().value()).isCloseTo(mean, within(1e-9));
        assertThat(mean).isCloseTo(0.075, within(0.002));
        assertThat(findings.get(1).next()).isEqualTo("See what is most probably behind it, above.");
        assertThat(findings.get(2).verdict().word()).isEqualTo("within");
        assertThat(findings.get(2).next()).isEqualTo("Nothing to set right here.");
        // 150 mm stand whatever circle is left out
        assertThat(findings).allSatisfy(f -> assertThat(f.robustness()).isPresent());
        assertThat(findings.get(1).robustness().orElseThrow().fallsWithout()).isEmpty();
    }

    @Test
    void whatMayLieOnEitherSide_asksForMoreCircles() {
        List<Finding> findings =
                findings(manual(stops(metric(1662, 1764, 440), 28, 28), 1).analysed());
        assertThat(findings.get(1).verdict().word()).isEqualTo("cannotTell");
        assertThat(findings.get(1).next()).contains("circle");
    }

    /** Circle against figure of the same turn: no deck comes into that, so no deck is to be measured for it. */
    @Test
    void whatHangsOnTheReference_isNotLaidOnTheDeck() {
        Finding cell =
                findings(metric(1610, 1764, 440)
                                .reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 60, "manual")
                                .analysed())
                        .stream()
                        .filter(f -> f.subject()
                                .equals(Map.of(
                                        "machine", "Alder", "turn", "left", "drive", "2WD", "reference", "manual")))
                        .findFirst()
                        .orElseThrow();
        assertThat(cell.verdict().decided()).isFalse();
        assertThat(cell.next())
                .matches(
                        "Even 24 more circles would bring a verdict with a chance of (only about \\d+|under 1) %: the rest hangs on the"
                                + " reference\\. The more closely it is known, and the more circles stand behind it, the more a machine can be held"
                                + " to it; write its uncertainty, or the circles behind it, into references\\.csv\\.");
    }

    /** The turns by themselves, 2WD by itself, and how much larger the excess is in 4WD, as anyone would work them out. */
    @Test
    void whatSpeaksForACause_isSaidWithItsNumbers() {
        Complaint complaint = complaint(manual(stops(metric(1610, 1764, 600), 28, 28), 1));
        double two = (complaint.compared().get(0).excess().value()
                        + complaint.compared().get(1).excess().value())
                / 2;
        double four = (complaint.compared().get(2).excess().value()
                        + complaint.compared().get(3).excess().value())
                / 2;
        String larger = new Wording(LengthUnit.MILLIMETRE).amount(four - two);
        assertThat(larger).isEqualTo("160 mm (6.3 in)");
        assertThat(cause(complaint, Kind.FRONT_AXLE).speaksFor())
                .containsExactly(
                        "the excess is " + larger + " larger in 4WD than in 2WD",
                        "the circles in 2WD are hardly off the reference");
        assertThat(cause(complaint, Kind.NOTHING).speaksFor())
                .containsExactly(
                        "the left stop was measured at its specification",
                        "the right stop was measured at its specification",
                        "the deck was measured where it should sit");
        assertThat(cause(complaint, Kind.NOTHING).against())
                .hasSize(2)
                .allMatch(w -> w.endsWith(" wider than the reference"));
    }

    @Test
    void oneTurnInOneDrive_isNotToldOfTheOthers() {
        Trials trials = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.FOUR_WHEEL, 1900, 1905)
                .reference(1700, Turn.LEFT, Drive.FOUR_WHEEL, 10, "manual");
        Complaint complaint = complaint(trials);
        assertThat(cause(complaint, Kind.NOTHING).against())
                .singleElement()
                .asString()
                .startsWith("the left circles are ");
        assertThat(cause(complaint, Kind.FRONT_AXLE).against())
                .containsExactly("no turn was compared in both 2WD and 4WD");
        assertThat(cause(complaint, Kind.FRONT_AXLE).speaksFor()).isEmpty();
        assertThat(cause(complaint, Kind.LEFT_STOP).speaksFor()).hasSize(1);
        assertThat(cause(complaint, Kind.LEFT_STOP).against()).isEmpty();
    }

    /** One cell far off by itself is no single cause's doing. */
    @Test
    void somethingElse_isNotItsOwnRival() {
        Trials trials = stops(metric(1610, 1764, 440), 28, 28);
        trials.reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual")
                .reference(1500, Turn.RIGHT, Drive.TWO_WHEEL, 5, "manual")
                .reference(2050, Turn.LEFT, Drive.FOUR_WHEEL, 5, "manual")
                .reference(2204, Turn.RIGHT, Drive.FOUR_WHEEL, 5, "manual");
        Complaint complaint = complaint(trials);
        assertThat(complaint.causes().get(0).kind()).isEqualTo(Kind.OTHER);
        assertThat(complaint.causes().get(0).probability()).isGreaterThan(0.5);
        assertThat(complaint.causes().get(0).speaksFor()).containsExactly("no single cause stands out");
    }

    @Test
    void referencesOfTwoSources_areTwoComplaints() {
        Trials trials = metric(1610, 1764, 440)
                .reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual")
                .reference(1500, Turn.LEFT, Drive.TWO_WHEEL, 5, "brochure");
        assertThat(trials.analysed().complaints()).extracting(Complaint::source).containsExactly("manual", "brochure");
    }

    @Test
    void aCircleTheReferenceWaitsFor_isNamedWithTurnDriveAndBrakes() {
        Trials trials = Trials.inMillimetres().machine("Alder").circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1610);
        Trial trial = trials.reference(1764, Turn.RIGHT, Drive.FOUR_WHEEL, 5, "manual")
                .trial();
        assertThat(findings(Analysis.of(trial)).get(0).sentence())
                .isEqualTo(
                        "Alder, held against manual: cannot be compared yet. Missing: a circle of Alder to the right in 4WD.");
        Reference r = trial.references().get(0);
        Reference braked = new Reference(
                r.machine(),
                r.knownGood(),
                r.value(),
                r.quantity(),
                Optional.empty(),
                Optional.empty(),
                Brakes.USED,
                r.uncertainty(),
                r.circlesBehindIt(),
                r.source(),
                r.remark());
        assertThat(findings(Analysis.of(with(trial, braked))).get(0).sentence())
                .endsWith(" Missing: a circle of Alder with brakes.");
        Trials alike = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1610)
                .machine("Birch")
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1610)
                .knownGood("Alder");
        assertThat(findings(alike.analysed()).get(0).sentence())
                .isEqualTo(
                        "Birch, held against Alder: cannot be compared yet. Missing: a circle of both Birch and Alder.");
    }

    private static Trial with(Trial trial, Reference reference) {
        return new Trial("t", trial.conditions(), trial.machines(), trial.circles(), List.of(), List.of(reference));
    }

    private static Trials deck(Trials trials, String id, double offset) {
        return trials.machine(id).deckOfThree(offset).steering(1450, 950, 60, 60);
    }

    /** The manual's deck sits 30 mm further to the right than the one that was driven; its other turn follows from its own deck. */
    @Test
    void aDeckOffItsSpecification_countsAsEvidence() {
        Trials trials = deck(Trials.inMillimetres(), "Alder", 78).specifiedDeckOffset(48);
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1560, 1565)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1812, 1815)
                .reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual");
        Complaint complaint = complaint(trials);
        assertThat(cause(complaint, Kind.DECK).speaksFor())
                .contains("the deck was measured 30 mm (1.2 in) too far to the left");
        assertThat(complaint.checks()).noneMatch(c -> c.name().startsWith("measure the deck"));
        var specified = DeckModel.of(
                        deck(Trials.inMillimetres(), "Alder", 48)
                                .trial()
                                .machines()
                                .get(0),
                        Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        assertThat(complaint.compared().get(1).reference())
                .isCloseTo(
                        specified.uncutDiameter(specified.turnRadius(1.610, 1).orElseThrow(), -1), within(1e-9));
        assertThat(cause(complaint, Kind.DECK).size().orElseThrow().value()).isBetween(20.0, 35.0);
    }

    /** Without blades the offset that was written down tells it; 1 mm is not seen with 5 mm and 3 mm of uncertainty. */
    @Test
    void aDeckOffset_isEnoughToTell() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOffset(20).specifiedDeckOffset(60);
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1610).reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual");
        assertThat(cause(complaint(trials), Kind.DECK).speaksFor())
                .contains("the deck was measured 40 mm (1.6 in) too far to the right");
        Trials close = Trials.inMillimetres().machine("Alder").deckOffset(59).specifiedDeckOffset(60);
        close.circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1610).reference(1610, Turn.LEFT, Drive.TWO_WHEEL, 5, "manual");
        assertThat(cause(complaint(close), Kind.DECK).against()).contains("the deck was measured where it should sit");
    }

    /** Of a machine known to be good the deck it has counts, else the manual's; only turns and drives both have are compared. */
    @Test
    void heldAgainstAGoodMachine_itsDeckIsTheMeasure() {
        Trials trials = deck(Trials.inMillimetres(), "Alder", 20);
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1612).circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1764);
        deck(trials, "Birch", 60).specifiedDeckOffset(60);
        trials.circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1560)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1830)
                .circle("5", Turn.RIGHT, Drive.FOUR_WHEEL, 2200)
                .knownGood("Alder");
        Complaint complaint = complaint(trials);
        assertThat(complaint.compared()).hasSize(2);
        assertThat(complaint.compared().get(0).reference()).isCloseTo(1.612, within(1e-3));
        assertThat(complaint.compared().get(0).workedOut()).isFalse();
        assertThat(cause(complaint, Kind.DECK).speaksFor())
                .contains("the deck was measured 40 mm (1.6 in) too far to the left");
        Trial trial = trials.trial();
        Reference r = trial.references().get(0);
        Reference left = new Reference(
                r.machine(),
                r.knownGood(),
                r.value(),
                r.quantity(),
                Optional.of(Turn.LEFT),
                r.drive(),
                r.brakes(),
                r.uncertainty(),
                r.circlesBehindIt(),
                r.source(),
                r.remark());
        assertThat(Analysis.of(with(trial, left)).complaints().get(0).compared())
                .extracting(c -> c.cell().turn())
                .containsExactly(Turn.LEFT);
        Trials bare = Trials.inMillimetres().machine("Alder").circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1612);
        deck(bare, "Birch", 60).specifiedDeckOffset(48);
        bare.circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1560).knownGood("Alder");
        assertThat(cause(complaint(bare), Kind.DECK).speaksFor())
                .contains("the deck was measured 12 mm (0.5 in) too far to the left");
    }

    /** An edge seen by 60 mm otherwise than the manual's eye did moves all circles alike; between two machines it cancels. */
    @Test
    void theEyeForTheEdge_weighsAgainstAManual_butNotAgainstAnotherMachine() {
        double sharp = cause(complaint(manual(metric(1690, 1844, 440), 1).edge(1)), Kind.NOTHING)
                .probability();
        double blurred = cause(complaint(manual(metric(1690, 1844, 440), 1).edge(60)), Kind.NOTHING)
                .probability();
        assertThat(blurred).isGreaterThan(3 * sharp);
        Map<Kind, Double> machines = probabilities(complaint(add(metric(1610, 1764, 440), 1, "Birch", 1690, 1844, 440)
                .edge(1)
                .knownGood("Alder")));
        probabilities(complaint(add(metric(1610, 1764, 440), 1, "Birch", 1690, 1844, 440)
                        .edge(60)
                        .knownGood("Alder")))
                .forEach((kind, p) -> assertThat(p).isCloseTo(machines.get(kind), within(1e-6)));
    }

    /** A figure without an uncertainty is one circle's, so that it scatters like one; what is stated adds its square. */
    @Test
    void aFiguresOwnUncertainty_isPartOfTheExcess() {
        double exact = squareOfExcess(0.001);
        assertThat(squareOfExcess(30) - exact).isCloseTo(30e-3 * 30e-3, within(1e-9));
        assertThat(squareOfExcess(NOT_NOTED)).isGreaterThan(1.8 * exact);
    }

    /**
     * Where nothing is stated of two figures, one circle each is behind them, measured with a tape and an eye like these: half a
     * figure each makes a quarter of a new circle's variance twice, and tape and eye, which they share, once.
     */
    @Test
    void figuresOfWhichNothingIsStated_areLikeACircleEach() {
        Asked asked = Trials.asked(twoFigures(NOT_NOTED));
        MachineEstimate alder = asked.machine("Alder").orElseThrow();
        double tapeAndEye = alder.cells().stream()
                .filter(c -> c.drive() == Drive.TWO_WHEEL)
                .mapToDouble(alder::sharedVariance)
                .average()
                .orElseThrow();
        assertThat(squareOfTheWhole(asked) - squareOfTheWhole(Trials.asked(twoFigures(0.001))))
                .isCloseTo(alder.posterior().newCircleVariance() / 2 + tapeAndEye, within(1e-9));
    }

    private static Trial twoFigures(double stated) {
        return metric(1610, 1764, 440)
                .reference(1610, Turn.LEFT, Drive.TWO_WHEEL, stated, "manual")
                .reference(1764, Turn.RIGHT, Drive.TWO_WHEEL, stated, "manual")
                .trial();
    }

    private static double squareOfTheWhole(Asked asked) {
        Finding whole = Complaints.of(asked).answers().get(0).finding();
        return Math.pow(whole.estimate().orElseThrow().standardUncertainty(), 2);
    }

    /** 100 mm more than the manual's in 4WD, in both turns and on average. */
    @Test
    void theExcessIn4wd_isTheMeanOfBothTurns() {
        assertThat(cause(complaint(manual(metric(1610, 1764, 540), 1)), Kind.FRONT_AXLE)
                        .speaksFor())
                .contains("the excess is 100 mm (3.9 in) larger in 4WD than in 2WD");
    }

    private static double squareOfExcess(double stated) {
        Trials trials = metric(1610, 1764, 440).reference(1610, Turn.LEFT, Drive.TWO_WHEEL, stated, "manual");
        return Math.pow(complaint(trials).compared().get(0).excess().standardUncertainty(), 2);
    }

    /** A turn radius that was written down as an uncut diameter, and the uncut diameter written down as a turn radius. */
    @Test
    void figuresOfAnotherQuantity_areToldAsAMatterOfMeasure() {
        var deck = DeckModel.of(metric(1610, 1764, 440).trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        double left = 1000 * deck.turnRadius(1.610, 1).orElseThrow();
        double right = 1000 * deck.turnRadius(1.764, -1).orElseThrow();
        Trials radius = stops(metric(1610, 1764, 440), 28, 28)
                .reference(left, Turn.LEFT, Drive.TWO_WHEEL, 3, "manual")
                .reference(right, Turn.RIGHT, Drive.TWO_WHEEL, 3, "manual");
        Complaint.Cause first = complaint(radius).causes().get(0);
        assertThat(first.kind()).isEqualTo(Kind.CONVENTION);
        assertThat(first.name()).isEqualTo("the reference really being of a turn radius");
        assertThat(first.effects().get(0)).isCloseTo(1.610 - left / 1000, within(1e-6));
        Trials diameter = stops(metric(1610, 1764, 440), 28, 28)
                .reference(
                        2 * left,
                        Quantity.TURN_RADIUS,
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.TWO_WHEEL),
                        3,
                        "manual")
                .reference(
                        2 * right,
                        Quantity.TURN_RADIUS,
                        Optional.of(Turn.RIGHT),
                        Optional.of(Drive.TWO_WHEEL),
                        3,
                        "manual");
        assertThat(complaint(diameter).causes().get(0).name())
                .isEqualTo("the reference really being of a turn diameter");
    }

    private static ComplaintWords words() {
        return new ComplaintWords(new DecisionRule(0.05, 0.95), new Wording(LengthUnit.MILLIMETRE));
    }

    private static String next(Kind kind, String name, Trials trials) {
        Complaint complaint = new Complaint(
                "Alder",
                "manual",
                Map.of("machine", "Alder"),
                List.of(),
                List.of(new Complaint.Cause(kind, name, 0.1, 0.99, List.of(), Optional.empty(), List.of(), List.of())),
                List.of());
        return words().next(complaint, new CauseSlopes(trials.trial().machines().get(0), List.of(), List.of()));
    }

    /** The right stop is off as well, but it is the left one that is behind the complaint. */
    @Test
    void theRemedy_isForTheStopThatIsNamed() {
        Trials trials = stops(metric(1760, 1764, 440), 32, 30);
        assertThat(next(Kind.LEFT_STOP, "the left stop", trials))
                .contains("then set the left stop in by 4.0 mm (0.16 in)")
                .doesNotContain("right stop");
        assertThat(next(Kind.RIGHT_STOP, "the right stop", trials))
                .contains("then set the right stop in by 2.0 mm (0.08 in)")
                .doesNotContain("left stop");
        assertThat(next(Kind.BOTH_STOPS, "both stops alike", trials))
                .contains("then set the left stop in by 4.0 mm (0.16 in)")
                .contains("set the right stop in by 2.0 mm (0.08 in)");
        // what was not measured is to be measured, whatever is known of the other
        assertThat(next(Kind.LEFT_STOP, "the left stop", stops(metric(1760, 1764, 440), NOT_NOTED, 30)))
                .startsWith("Measure how far the left stop protrudes and hold it against the service manual.")
                .doesNotContain("right stop");
        assertThat(next(Kind.BOTH_STOPS, "both stops alike", stops(metric(1760, 1764, 440), NOT_NOTED, 30)))
                .contains("then set the right stop in by 2.0 mm (0.08 in)")
                .endsWith(" Measure how far the left stop protrudes too and hold it against the service manual.");
    }

    /** What makes one turn wider and the other tighter is not both stops alike, whatever each of them shows. */
    @Test
    void oppositeSigns_doNotSpeakForBothStops() {
        Complaint circles = complaint(manual(stops(metric(1760, 1614, 440), NOT_NOTED, NOT_NOTED), 1));
        Complaint.Cause both = cause(circles, Kind.BOTH_STOPS);
        assertThat(both.speaksFor()).noneMatch(w -> w.contains(" circles are "));
        assertThat(both.against())
                .anyMatch(w -> w.startsWith("the left circles are ") && w.endsWith(" wider than the reference"))
                .anyMatch(w -> w.startsWith("the right circles are ") && w.endsWith(" tighter than the reference"));
        Complaint.Cause stops = cause(complaint(manual(stops(metric(1760, 1914, 440), 31, 25), 1)), Kind.BOTH_STOPS);
        assertThat(stops.speaksFor()).noneMatch(w -> w.contains(" was measured "));
        assertThat(stops.against())
                .contains(
                        "the left stop was measured 3.0 mm (0.12 in) too far out",
                        "the right stop was measured 3.0 mm (0.12 in) too far in");
        Complaint.Cause alike = cause(complaint(manual(stops(metric(1760, 1914, 440), 31, 31), 1)), Kind.BOTH_STOPS);
        assertThat(alike.speaksFor())
                .contains(
                        "the left stop was measured 3.0 mm (0.12 in) too far out",
                        "the right stop was measured 3.0 mm (0.12 in) too far out")
                .filteredOn(w -> w.contains(" circles are "))
                .hasSize(2);
    }

    /** A stop too far in makes its turn tighter: that it was found so does not explain wider circles. */
    @Test
    void aStopOffTheOtherWay_speaksAgainstItsTurnBeingWider() {
        Complaint.Cause wider = cause(complaint(manual(stops(metric(1760, 1764, 440), 25, 28), 1)), Kind.LEFT_STOP);
        assertThat(wider.against()).contains("the left stop was measured 3.0 mm (0.12 in) too far in");
        Complaint.Cause tighter = cause(complaint(manual(stops(metric(1460, 1764, 440), 25, 28), 1)), Kind.LEFT_STOP);
        assertThat(tighter.speaksFor()).contains("the left stop was measured 3.0 mm (0.12 in) too far in");
    }

    /** A protrusion that was measured is no longer off by the same factor as a typical arm, so no angle comes of the two. */
    /** A machine that turns too wide in one turn and drive only was called open on the whole, and the turn folded away. */
    @Test
    void aTurnThatIsOffByItself_isReadFirst() {
        Trials trials = Trials.in(LengthUnit.MILLIMETRE).margin(50).edge(5);
        trials.machine("Alder").deckOfThree(48).specifiedDeckOffset(48).steering(1450, 950, 60, 60);
        for (Drive drive : Drive.values()) {
            for (Turn turn : Turn.values()) {
                double d = (turn == Turn.LEFT ? 1610 : 1764)
                        + (drive == Drive.FOUR_WHEEL ? turn == Turn.LEFT ? 440 : 440 + 190 : 0);
                for (int i = 0; i < 3; i++) {
                    trials.circle("" + drive + turn + i, turn, drive, d - 6 + 5 * i, d - 3 + 5 * i);
                }
            }
        }
        Analysis analysis = manual(trials, 1).analysed();
        List<Finding> first = analysis.findings().stream()
                .filter(f -> f.question() == Question.COMPLAINT && analysis.leads(f))
                .toList();
        assertThat(first).extracting(f -> f.verdict().word()).containsExactly("cannotTell", "wider");
        assertThat(first.get(1).subject()).containsEntry("turn", "right").containsEntry("drive", "4WD");
        // where the whole says so already, the turns need not
        Analysis wide = manual(metric(1760, 1920, 440), 1).analysed();
        assertThat(wide.findings().stream().filter(f -> f.question() == Question.COMPLAINT && wide.leads(f)))
                .hasSize(1)
                .allMatch(f -> f.verdict().word().equals("wider"));
    }

    /** A stop too far in makes circles smaller: it was blamed for larger ones with 93 %, since nothing else explained its deviation. */
    @Test
    void aStopOffTheOtherWay_isNotBlamedForCirclesThatAreTooWide() {
        for (double in : new double[] {3, 6, 12}) {
            Complaint wide = complaint(stops(manual(metric(1610, 1764 + 120, 440), 1), 28, 28 - in));
            assertThat(wide.causes().get(0).kind()).as("%s mm too far in", in).isEqualTo(Kind.OTHER);
            assertThat(cause(wide, Kind.RIGHT_STOP).probability()).isLessThan(0.02);
            assertThat(cause(wide, Kind.BOTH_STOPS).probability()).isLessThan(0.02);
        }
        // as far out as makes so much of a circle, it is: 3 mm over an arm of 80 mm at a lock of 60° is some 120 mm
        assertThat(complaint(stops(manual(metric(1610, 1764 + 120, 440), 1), 28, 31))
                        .causes()
                        .get(0)
                        .kind())
                .isEqualTo(Kind.RIGHT_STOP);
    }

    @Test
    void aMeasuredStopWithoutAnArm_hasItsProtrusion_butNoAngle() {
        Trials trials = metric(1760, 1764, 440)
                .stop(Turn.LEFT, 28, 32, NOT_NOTED, NOT_NOTED)
                .stop(Turn.RIGHT, 28, 28, NOT_NOTED, 80);
        Complaint.Size size =
                cause(complaint(manual(trials, 1)), Kind.LEFT_STOP).size().orElseThrow();
        assertThat(size.words())
                .matches(
                        "it protrudes about [34]\\.\\d mm \\(0\\.1\\d in\\) too far out; to have it in turns of the bolt, write its"
                                + " thread pitch into stops\\.csv; to have it as an angle, write down the arm of the left stop"
                                + " \\(stops\\.csv\\)");
        assertThat(size.value()).isBetween(3.0, 4.5);
        Complaint.Size open = cause(
                        complaint(manual(
                                metric(1760, 1764, 440).stop(Turn.LEFT, 28, NOT_NOTED, NOT_NOTED, NOT_NOTED), 1)),
                        Kind.LEFT_STOP)
                .size()
                .orElseThrow();
        assertThat(open.words())
                .matches(
                        "it protrudes too far out, about \\d\\.\\d° less lock; to say by how much, write down the arm of the left stop"
                                + " \\(stops\\.csv\\)");
    }

    /** A right turn that is hardly off its reference is not the other side of a deck that sits sideways. */
    @Test
    void oneTurnOff_isNotTwoInOppositeDirections() {
        Complaint complaint = complaint(manual(stops(metric(1760, 1760, 440), NOT_NOTED, NOT_NOTED), 1));
        assertThat(complaint.compared().get(1).excess().value()).isNegative();
        assertThat(cause(complaint, Kind.DECK).against())
                .contains("left and right are not off the reference in opposite directions");
        Complaint.Cause deck = cause(complaint(manual(metric(1760, 1614, 440), 1)), Kind.DECK);
        assertThat(deck.speaksFor()).contains("one turn is wider and the other tighter than the reference");
    }

    /** A turn radius becomes an uncut circle by the blades, so these are named beside the reference. */
    @Test
    void whatHangsOnAFigureThatIsConverted_isLaidOnTheMachinesDimensionsToo() {
        Trials trials = metric(1610, 1764, 440);
        double radius = DeckModel.of(trials.trial().machines().get(0), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck()
                .turnRadius(1.610, 1)
                .orElseThrow();
        Finding cell = findings(trials.reference(
                                1000 * radius,
                                Quantity.TURN_RADIUS,
                                Optional.of(Turn.LEFT),
                                Optional.of(Drive.TWO_WHEEL),
                                30,
                                "manual")
                        .analysed())
                .get(1);
        assertThat(cell.subject()).containsEntry("turn", "left");
        assertThat(cell.next())
                .matches(
                        "Even 24 more circles would bring a verdict with a chance of (only about \\d+|under 1) %: the rest hangs on the"
                                + " reference, whose turn radius is made an uncut circle by the machine's dimensions\\. Best is an uncut"
                                + " diameter in references\\.csv; else write the figure's uncertainty, or the circles behind it, there,"
                                + " and measure the machine more closely\\.");
    }

    /** Another machine of the trial was spoken of as a figure in references.csv. */
    @Test
    void whatHangsOnAMachineKnownGood_isLaidOnItsCircles() {
        Trials trials = Trials.inMillimetres().readingRepeatability(1).machine("Alder");
        for (int i = 0; i < 4; i++) { // by short chords, which lay a tape's limits on the diameter forty times over
            trials.circle("a" + i, Turn.LEFT, Drive.TWO_WHEEL);
            for (int j = 0; j < 6; j++) {
                trials.chordAndRise(500, 40.06);
            }
        }
        trials.machine("Birch");
        for (int i = 0; i < 4; i++) {
            trials.circle("b" + i, Turn.LEFT, Drive.TWO_WHEEL, 1645, 1646, 1644, 1645);
        }
        Finding cell = findings(trials.knownGood("Alder").analysed()).get(1);
        assertThat(cell.verdict().word()).isEqualTo("cannotTell");
        assertThat(cell.next())
                .matches(
                        "Even 24 more circles would bring a verdict with a chance of (only about \\d+|under 1) %: the rest hangs on how"
                                + " the circles of both machines were measured\\. Measure those of Alder as those of Birch are"
                                + " measured: with the same tape, the same kinds of reading and the same eye for the edge\\.");
    }

    /** Whose circles are few was not said either: "2 more circles to the left" of which machine. */
    @Test
    void furtherCirclesAgainstAMachineKnownGood_nameTheMachine() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        trials.margin(150).circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1602);
        trials.machine("Birch")
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1604, 1600)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1606, 1598);
        Finding cell = findings(trials.knownGood("Alder").analysed()).get(1);
        assertThat(cell.verdict().word()).isEqualTo("cannotTell");
        assertThat(cell.next())
                .matches(
                        "With (\\d+ more circles? of (Alder|Birch) to the left in 2WD( and )?)+ the chance of a verdict is about"
                                + " \\d+ %\\.")
                .contains("of Alder to the left");
    }

    /** One tolerance for what is said of a stop and what is advised: half a millimetre. */
    @Test
    void aStop_isAtItsSpecification_whereNobodyIsToldToSetIt() {
        for (double off : new double[] {-0.6, -0.5, -0.3, 0, 0.3, 0.5, 0.6}) {
            Trials trials = stops(metric(1710, 1764, 440), 28 + off, 28);
            boolean at = Math.abs(off) < 0.55;
            Complaint.Cause cause = cause(complaint(manual(trials, 1)), Kind.LEFT_STOP);
            List<String> said = new ArrayList<>(cause.speaksFor());
            said.addAll(cause.against());
            assertThat(said.contains("the left stop was measured at its specification"))
                    .as("%s mm off", off)
                    .isEqualTo(at);
            assertThat(new SteeringStops(trials.trial().machines().get(0))
                            .advice(new Wording(LengthUnit.MILLIMETRE))
                            .isEmpty())
                    .as("%s mm off", off)
                    .isEqualTo(at);
        }
    }

    /** A turning circle smaller than the wheelbase allows, such as a radius that was taken for a diameter. */
    @Test
    void aFigureTooSmallForTheMachine_isNamed_andNotACircle() {
        Finding finding = findings(metric(1610, 1764, 440)
                        .reference(
                                2000,
                                Quantity.TURNING_CIRCLE_DIAMETER,
                                Optional.of(Turn.LEFT),
                                Optional.of(Drive.TWO_WHEEL),
                                5,
                                "manual")
                        .analysed())
                .get(0);
        assertThat(finding.sentence())
                .isEqualTo(
                        "Alder, held against manual: cannot be compared yet. Missing: a figure this machine can turn: a"
                                + " turning circle diameter of 2000 mm (78.7 in) is too small for it.");
        assertThat(finding.next())
                .isEqualTo("Ask how the figure was come by, mend it in references.csv, then compare again.");
        Finding whole = findings(metric(1610, 1764, 440)
                        .reference(
                                2000,
                                Quantity.TURNING_CIRCLE_DIAMETER,
                                Optional.of(Turn.LEFT),
                                Optional.of(Drive.TWO_WHEEL),
                                5,
                                "manual")
                        .reference(1764, Turn.RIGHT, Drive.TWO_WHEEL, 5, "manual")
                        .analysed())
                .get(0);
        assertThat(whole.sentence())
                .contains(
                        " Left out, the figure being too small for this machine: left turn in 2WD. Left out, the reference"
                                + " saying nothing of it: left turn in 4WD; right turn in 4WD.");
    }

    @Test
    void namesInTheResults_stay() {
        assertThat(Kind.values())
                .extracting(Kind::word)
                .containsExactly(
                        "nothingWrong",
                        "leftStop",
                        "rightStop",
                        "bothStops",
                        "deckShifted",
                        "frontAxle",
                        "wrongDirection",
                        "measuringConvention",
                        "somethingElse");
    }

    private static List<Answer<Asked>> againstAlder(Trial trial) {
        return Complaints.of(Trials.asked(trial)).answers();
    }

    private static Trial without(Trial trial, String machine, Turn turn, Drive drive) {
        return trial.withCircles(trial.circles().stream()
                .filter(c -> !(c.cell().machine().equals(machine)
                        && c.cell().turn() == turn
                        && c.cell().drive() == drive))
                .toList());
    }

    /** What Alder turned goes into it as well as what Birch did; a turn that is gone cannot be asked for, the whole can. */
    @Test
    void askedAgain_itHangsOnBothMachines() {
        Trial trial = add(metric(1610, 1764, 440), 1, "Birch", 1790, 1764, 440)
                .knownGood("Alder")
                .trial();
        List<Answer<Asked>> answers = againstAlder(trial);
        assertThat(answers).hasSize(5).allMatch(a -> a.machines().equals(Set.of("Alder", "Birch")));
        for (Answer<Asked> answer : answers) {
            Answer.Then then = answer.again().apply(Trials.asked(trial)).orElseThrow();
            assertThat(then.value())
                    .isCloseTo(answer.finding().estimate().orElseThrow().value(), within(1e-9));
        }
        Asked less = Trials.asked(without(trial, "Alder", Turn.LEFT, Drive.TWO_WHEEL));
        List<Optional<Answer.Then>> then =
                answers.stream().map(a -> a.again().apply(less)).toList();
        assertThat(then.stream().map(Optional::isPresent)).containsExactly(true, false, true, true, true);
        // 180 mm to the left and nothing to the right: over four cells 90 mm, without one of those to the left 60 mm
        assertThat(answers.get(0).finding().estimate().orElseThrow().value()).isCloseTo(0.09, within(1e-3));
        assertThat(then.get(0).orElseThrow().value()).isCloseTo(0.06, within(1e-3));
    }

    /** No figure is too small where the reference is a machine: what it did not turn, it says nothing of. */
    @Test
    void againstAMachineKnownToBeGood_whatItDidNotTurn_isLeftOut() {
        Trial trial = without(
                add(metric(1610, 1764, 440), 1, "Birch", 1790, 1764, 440)
                        .knownGood("Alder")
                        .trial(),
                "Alder",
                Turn.RIGHT,
                Drive.FOUR_WHEEL);
        List<Answer<Asked>> answers = againstAlder(trial);
        assertThat(answers).hasSize(4);
        assertThat(answers.get(0).finding().sentence())
                .contains(": on the whole (3 turns and drives compared) ")
                .contains(" Left out, no circle of Alder showing it: right turn in 4WD.")
                .doesNotContain("too small");
    }

    @Test
    void aCircleThatIsMissing_isToBeMeasured() {
        Finding finding = againstAlder(Trials.inMillimetres()
                        .machine("Alder")
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                        .reference(1700, Turn.RIGHT, Drive.FOUR_WHEEL, 5, "manual")
                        .trial())
                .get(0)
                .finding();
        assertThat(finding.verdict().word()).isEqualTo("notPossible");
        assertThat(finding.next()).isEqualTo("Measure what is missing or write it down, then compare again.");
    }
}
