package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/**
 * Every verdict of both questions as a whole text, inch and metric. The numbers in it are formatted a second time here, from
 * the finding itself; what they have to be is the business of other tests.
 */
class SentencesTest {
    private static final String LOOK_AT_STOPS =
            "Look at the steering stops on both sides against the service manual, whether each touches the axle at full lock,"
                    + " and at tyre sizes and pressures, before anything is adjusted. A stop is never turned in past the"
                    + " specification. Chocks and rated stands first; a qualified technician has the last word.";

    private static String mm(double metres) {
        return format("%.0f", 1000 * metres);
    }

    private static String in(double metres) {
        return format("%.1f", metres / 0.0254);
    }

    private static String format(String pattern, double value) {
        return String.format(Locale.ROOT, pattern, value)
                .replaceFirst("^-(0(\\.0)?)$", "$1")
                .replace('-', '−');
    }

    private static String metric(double metres) {
        return mm(metres) + " mm (" + in(metres) + " in)";
    }

    private static String inch(double metres) {
        return in(metres) + " in (" + mm(metres) + " mm)";
    }

    private static String metric(Estimate e) {
        return "between " + mm(e.low()) + " and " + mm(e.high()) + " mm (" + in(e.low()) + " and " + in(e.high())
                + " in)";
    }

    private static String inch(Estimate e) {
        return "between " + in(e.low()) + " and " + in(e.high()) + " in (" + mm(e.low()) + " and " + mm(e.high())
                + " mm)";
    }

    private static String percent(Finding finding) {
        double p = finding.verdict().probability();
        return p > 0.999 ? "over 99.9 %" : format("%.1f", 100 * p) + " %";
    }

    /** Three circles each way that agree within 10 mm or so. */
    private static Trials leftRight(LengthUnit unit, double left, double right) {
        double mm = 0.001 / unit.metres();
        return Trials.in(unit)
                .margin(50 * mm)
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, (left - 4) * mm, left * mm)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, right * mm, (right + 5) * mm)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, (right - 6) * mm)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, (left + 3) * mm)
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, left * mm)
                .circle("6", Turn.RIGHT, Drive.TWO_WHEEL, (right + 1) * mm);
    }

    private static Finding first(Trials trials) {
        return trials.analysed().findings().get(0);
    }

    private static double part(Finding finding, String name) {
        return finding.part(name).orElseThrow().estimate();
    }

    private static Estimate estimate(Finding finding) {
        return finding.estimate().orElseThrow();
    }

    private static String remains(Finding finding) {
        return ". What remains is " + metric(estimate(finding).value()) + ", " + metric(estimate(finding))
                + " (plus: wider to the right); that ";
    }

    @Test
    void leftRight_within_showsThatTheDeckAccountsForIt() {
        Finding finding = first(
                leftRight(LengthUnit.MILLIMETRE, 1600, 1768).deckOfThree(50).confidence(0.9));
        assertThat(finding.verdict().word()).isEqualTo("within");
        assertThat(finding.sentence())
                .isEqualTo("Alder, 2WD: the right circle is " + metric(part(finding, "measured"))
                        + " larger than the left; the deck offset explains " + metric(part(finding, "deckOffset"))
                        + " of that" + remains(finding)
                        + "is within the practical margin of 50 mm (2.0 in) with a probability of " + percent(finding)
                        + ": the machine itself turns alike both ways; what differs comes from where the deck sits.");
        assertThat(finding.next())
                .isEqualTo(
                        "Nothing to mend in the steering: show the customer the plan view. Turn to the side of the smaller"
                                + " circle where tightness counts.");
    }

    @Test
    void leftRight_within_withTheDeckInTheMiddle_hasNothingToExplain() {
        Finding finding = first(
                leftRight(LengthUnit.MILLIMETRE, 1600, 1600).deckOfThree(0).confidence(0.9));
        assertThat(finding.verdict().word()).isEqualTo("within");
        assertThat(finding.sentence())
                .isEqualTo("Alder, 2WD: both circles are the same size" + remains(finding)
                        + "is within the practical margin of 50 mm (2.0 in) with a probability of " + percent(finding)
                        + ": the machine turns alike both ways.");
        assertThat(finding.next()).isEqualTo("Nothing to mend in the steering.");
    }

    @Test
    void leftRight_beyond_saysWhichTurnIsWider() {
        Finding wider = first(leftRight(LengthUnit.INCH, 1600, 1900).deckOfThree(1));
        assertThat(wider.verdict().word()).isEqualTo("beyond");
        assertThat(wider.sentence())
                .startsWith(
                        "Alder, 2WD: the right circle is " + inch(part(wider, "measured")) + " larger than the left; ")
                .endsWith(" What remains is " + inch(estimate(wider).value()) + ", " + inch(estimate(wider))
                        + " (plus: wider to the right); that is beyond the practical margin of 2.0 in (50 mm) with a"
                        + " probability of over 99.9 %: where the deck sits does not account for it; the machine itself turns"
                        + " wider to the right than to the left.");
        assertThat(wider.next()).isEqualTo(LOOK_AT_STOPS);

        Finding tighter = first(leftRight(LengthUnit.MILLIMETRE, 1900, 1600).deckOfThree(50));
        assertThat(tighter.sentence())
                .isEqualTo(
                        "Alder, 2WD: the right circle is " + metric(-part(tighter, "measured"))
                                + " smaller than the left; the deck offset alone would make it "
                                + metric(part(tighter, "deckOffset")) + " larger" + remains(tighter)
                                + "is beyond the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: where the deck"
                                + " sits does not account for it; the machine itself turns tighter to the right than to the left.");
    }

    /** A cause is part of a difference only where it is smaller and of the same sign. */
    @Test
    void leftRight_causeThatIsMoreThanTheDifference_doesNotExplainIt() {
        Finding finding = first(leftRight(LengthUnit.MILLIMETRE, 1600, 1700).deckOfThree(50));
        assertThat(part(finding, "deckOffset")).isGreaterThan(part(finding, "measured"));
        assertThat(finding.sentence())
                .startsWith("Alder, 2WD: the right circle is " + metric(part(finding, "measured"))
                        + " larger than the left; the deck offset alone would make it "
                        + metric(part(finding, "deckOffset")) + " larger" + remains(finding));
    }

    @Test
    void leftRight_designedLockAngles_areNamed() {
        // L·(cot 58° − cot 60°): the right turn is designed 69 mm wider in R
        Finding asDesigned = first(leftRight(LengthUnit.MILLIMETRE, 1600, 1713)
                .steering(1450, 950, 60, 58)
                .deckOfThree(0)
                .confidence(0.9));
        assertThat(asDesigned.verdict().word()).isEqualTo("within");
        assertThat(asDesigned.sentence())
                .isEqualTo("Alder, 2WD: the right circle is " + metric(part(asDesigned, "measured"))
                        + " larger than the left; the designed lock angles explain "
                        + metric(part(asDesigned, "lockAngles"))
                        + " of that" + remains(asDesigned)
                        + "is within the practical margin of 50 mm (2.0 in) with a probability of "
                        + percent(asDesigned)
                        + ": the machine itself turns as its lock angles are designed; what else differs comes from where the"
                        + " deck sits.");
        Finding beyond = first(leftRight(LengthUnit.MILLIMETRE, 1600, 1500)
                .steering(1450, 950, 60, 58)
                .deckOfThree(0));
        assertThat(beyond.sentence())
                .contains("; the designed lock angles alone would make it " + metric(part(beyond, "lockAngles"))
                        + " larger. What remains is ")
                .endsWith(
                        ": where the deck sits and the designed lock angles do not account for it; beyond its design the"
                                + " machine itself turns tighter to the right than to the left.");
    }

    @Test
    void leftRight_cannotTell_saysSo() {
        Finding finding = first(leftRight(LengthUnit.MILLIMETRE, 1600, 1655).deckOfThree(0));
        assertThat(finding.verdict().word()).isEqualTo("cannotTell");
        assertThat(finding.sentence())
                .isEqualTo(
                        "Alder, 2WD: the right circle is " + metric(part(finding, "measured"))
                                + " larger than the left" + remains(finding)
                                + "may lie on either side of the practical margin of 50 mm (2.0 in): this trial cannot tell yet.");
    }

    @Test
    void leftRight_withoutBlades_usesTheRuleOfThumbAndSaysSo() {
        Finding finding = first(leftRight(LengthUnit.INCH, 1600, 1790).deckOffset(50 / 25.4));
        assertThat(part(finding, "deckOffset")).isCloseTo(0.2, within(1e-12));
        // hypot(4 × 5 mm, a quarter of 200 mm)
        assertThat(finding.part("deckOffset").orElseThrow().standardUncertainty())
                .isCloseTo(Math.hypot(0.02, 0.05), within(1e-12));
        assertThat(finding.sentence())
                .endsWith(
                        " The blade positions are not known, so the rule of thumb of four times the deck offset was used, with a"
                                + " wide uncertainty.");
    }

    @Test
    void leftRight_withoutDeck_saysWhatToMeasure() {
        Finding finding = first(leftRight(LengthUnit.MILLIMETRE, 1600, 1790));
        assertThat(finding.verdict().word()).isEqualTo("notPossible");
        assertThat(finding.estimate()).isEmpty();
        assertThat(finding.sentence())
                .isEqualTo("Alder, 2WD: the right circle is " + metric(part(finding, "measured"))
                        + " larger than the left, but whether the deck explains that cannot be said yet. Missing: the blade"
                        + " positions (blades.csv) or at least the deck offset (machines.csv).");
        assertThat(finding.next())
                .isEqualTo(
                        "Measure for each blade how far its spindle lies ahead of the rear axle and left of the centreline, and"
                                + " the tip radius; blades disengaged, engine stopped, key out.");
    }

    @Test
    void leftRight_withOneTurn_saysWhatToDrive() {
        Finding finding = first(
                Trials.inMillimetres().machine("Alder").deckOfThree(0).circle("1", Turn.RIGHT, Drive.FOUR_WHEEL, 1700));
        assertThat(finding.verdict()).isInstanceOf(Verdict.NotPossible.class);
        assertThat(finding.sentence())
                .isEqualTo("Alder, 4WD: left and right cannot be compared yet. Missing: a circle to the left in 4WD.");
        assertThat(finding.next()).isEqualTo("Drive and measure it, then compare again.");
    }

    @Test
    void assumption_isSaidWithHowFarTheVerdictStands() {
        Finding finding = first(Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 2300));
        assertThat(finding.verdict().word()).isEqualTo("beyond");
        assertThat(finding.restsOnAssumption()).isTrue();
        assertThat(finding.sentence())
                .endsWith(
                        " This rests on the assumed repeatability; it stands as long as circles driven alike scatter by no more"
                                + " than " + metric(finding.standsUpTo().orElseThrow()) + " (standard deviation).");
        Finding open = first(Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1620));
        assertThat(open.sentence())
                .endsWith(
                        ": this trial cannot tell yet. This rests on the assumed repeatability: too few circles were driven to"
                                + " show how much they scatter.");
    }

    private static Map<String, Finding> drive(LengthUnit unit, double costLeft, double costRight) {
        double mm = 0.001 / unit.metres();
        Trials trials = Trials.in(unit).margin(50 * mm).machine("Alder");
        for (int i = 0; i < 4; i++) {
            double slip = (i % 2 == 0 ? 3 : -3) * mm;
            trials.circle("l2" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 * mm + slip)
                    .circle("r2" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1700 * mm - slip)
                    .circle("l4" + i, Turn.LEFT, Drive.FOUR_WHEEL, (1600 + costLeft) * mm + slip)
                    .circle("r4" + i, Turn.RIGHT, Drive.FOUR_WHEEL, (1700 + costRight) * mm + slip);
        }
        return trials.analysed().findings().stream()
                .filter(f -> f.question() == Question.DRIVE)
                .collect(Collectors.toMap(f -> f.subject().get("turn"), f -> f));
    }

    @Test
    void drive_everyVerdict() {
        Map<String, Finding> findings = drive(LengthUnit.INCH, 400, 2);
        Finding wider = findings.get("left");
        assertThat(wider.verdict().word()).isEqualTo("wider");
        assertThat(wider.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle "
                        + inch(estimate(wider).value()) + " larger, "
                        + inch(estimate(wider))
                        + "; that is beyond the practical margin of 2.0 in (50 mm) with a probability of over 99.9 %: in 4WD it"
                        + " turns wider.");
        assertThat(wider.next())
                .isEqualTo(
                        "Compare machines in the same drive only, and mow in 2WD where the ground allows it and tightness"
                                + " counts. How much 4WD costs depends on tyres and ground; on slopes and wet grass follow the operator's"
                                + " manual.");
        Finding within = findings.get("right");
        assertThat(within.verdict().word()).isEqualTo("within");
        assertThat(within.sentence())
                .isEqualTo("Alder, right turn: 4WD makes the uncut circle "
                        + inch(estimate(within).value()) + " larger, "
                        + inch(estimate(within))
                        + "; that is within the practical margin of 2.0 in (50 mm) with a probability of over 99.9 %, so the"
                        + " drive makes no difference that matters.");
        assertThat(within.next()).isEqualTo("Compare machines in either drive; say which.");
        Finding unlike = findings.get("both");
        assertThat(unlike.verdict().word()).isEqualTo("beyond");
        Estimate d = estimate(unlike);
        assertThat(unlike.sentence())
                .isEqualTo("Alder: 4WD costs " + inch(-d.value()) + " less to the right than to the left, between "
                        + in(-d.high()) + " and " + in(-d.low()) + " in (" + mm(-d.high()) + " and " + mm(-d.low())
                        + " mm); that is beyond the practical margin of 2.0 in (50 mm) with a probability of over 99.9 %: it"
                        + " does not cost both turns alike.");
        assertThat(unlike.next())
                .isEqualTo(
                        "Look at front tyre sizes and pressures left against right, and whether both stops touch the axle in"
                                + " 4WD; a qualified technician has the last word.");
    }

    @Test
    void drive_tighterAndOpenAndAlike() {
        Map<String, Finding> findings = drive(LengthUnit.MILLIMETRE, -300, -52);
        Finding tighter = findings.get("left");
        assertThat(tighter.verdict().word()).isEqualTo("tighter");
        Estimate d = estimate(tighter);
        assertThat(tighter.sentence())
                .isEqualTo("Alder, left turn: 4WD makes the uncut circle " + metric(-d.value()) + " smaller, between "
                        + mm(-d.high()) + " and " + mm(-d.low()) + " mm (" + in(-d.high()) + " and " + in(-d.low())
                        + " in); that is beyond the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: in"
                        + " 4WD it turns tighter.");
        Finding open = findings.get("right");
        assertThat(open.sentence())
                .endsWith(
                        "; that may lie on either side of the practical margin of 50 mm (2.0 in): this trial cannot tell yet.");
        Finding alike = drive(LengthUnit.MILLIMETRE, 400, 400).get("both");
        assertThat(alike.sentence())
                .startsWith("Alder: 4WD costs 0 mm (0.0 in) ")
                .endsWith(
                        "; that is within the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %, so it costs"
                                + " both turns alike.");
        assertThat(alike.next()).isEqualTo("Nothing to do.");
    }

    @Test
    void drive_missingCell_saysWhatToDrive() {
        Finding finding = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 2100)
                .analysed()
                .findings()
                .get(3);
        assertThat(finding.verdict().word()).isEqualTo("notPossible");
        assertThat(finding.sentence())
                .isEqualTo(
                        "Alder, right turn: what 4WD costs cannot be said yet. Missing: a circle to the right in 4WD.");
        assertThat(finding.next()).isEqualTo("Drive and measure it, then compare again.");
    }

    private static List<String> driveSentences(Trials trials) {
        return trials.analysed().findings().stream()
                .filter(f -> f.question() == Question.DRIVE)
                .map(Finding::sentence)
                .toList();
    }

    @Test
    void drive_isAskedOnlyWhereTheMachineWasDrivenInBoth() {
        Trials inTwo = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700);
        assertThat(driveSentences(inTwo)).isEmpty();
        // with brakes is another condition
        assertThat(driveSentences(
                        inTwo.circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 1100).withBrakes()))
                .isEmpty();
        assertThat(driveSentences(Trials.inMillimetres()
                        .machine("Alder")
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                        .circle("2", Turn.RIGHT, Drive.FOUR_WHEEL, 2200)))
                .containsExactly(
                        "Alder, left turn: what 4WD costs cannot be said yet. Missing: a circle to the left in 4WD.",
                        "Alder, right turn: what 4WD costs cannot be said yet. Missing: a circle to the right in 2WD.");
    }

    @Test
    void drive_open_saysWhatWouldSettleIt() {
        Finding turn = drive(LengthUnit.MILLIMETRE, 100, -48).get("right");
        assertThat(turn.verdict().word()).isEqualTo("cannotTell");
        assertThat(turn.next()).matches("(With|Even) .* chance of .*");
        Finding both = drive(LengthUnit.MILLIMETRE, 100, 155).get("both");
        assertThat(both.verdict().word()).isEqualTo("cannotTell");
        assertThat(both.sentence())
                .isEqualTo(
                        "Alder: 4WD costs " + metric(estimate(both).value()) + " more to the right than to the left, "
                                + metric(estimate(both))
                                + "; that may lie on either side of the practical margin of 50 mm (2.0 in): this trial cannot tell"
                                + " yet.");
        assertThat(both.next()).matches("(With|Even) .* chance of .*");
        assertThat(turn.parts()).extracting(Part::name).containsExactly("2WD", "4WD");
        assertThat(part(turn, "4WD") - part(turn, "2WD"))
                .isCloseTo(estimate(turn).value(), within(1e-12));
    }

    @Test
    void aDeckThatExplainsTheOpposite_isDoubtedBeforeTheStops() {
        // the deck sits to the right by the folder, yet the right circle is the larger one by far
        Finding finding = Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(-60)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1604)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1606, 1602)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1800, 1804)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1806, 1802)
                .analysed()
                .findings()
                .get(0);
        assertThat(finding.verdict().word()).isEqualTo("beyond");
        assertThat(finding.next())
                .startsWith(
                        "First check the blade positions, and on which side of the centreline the deck sits: what they explain"
                                + " runs against the circles or goes far beyond them. If they are right: Look at the steering stops");
    }
}
