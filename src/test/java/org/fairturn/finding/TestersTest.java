package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.uncertainty.ScatterPosterior;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Those who measured against each other. */
class TestersTest {
    private static List<Finding> findings(Trials trials) {
        return trials.analysed().findings().stream()
                .filter(f -> f.question() == Question.TESTERS)
                .toList();
    }

    private static Finding only(Trials trials) {
        List<Finding> findings = findings(trials);
        assertThat(findings).hasSize(1);
        return findings.get(0);
    }

    private static Trials trials() {
        return Trials.inMillimetres().machine("Alder");
    }

    /** Circles of unlike size that two measure twice each, the second reading more by a difference. */
    private static Trials two(Trials trials, int circles, double more) {
        double[] slip = {3, -2, 1, -4, 5, -1};
        for (int i = 0; i < circles; i++) {
            double d = 1600 + 40 * i;
            trials.circle("" + (i + 1), Turn.LEFT, Drive.TWO_WHEEL)
                    .measuredBy("Ann")
                    .across(d + slip[i], d - slip[(i + 2) % 6])
                    .measuredBy("Ben")
                    .across(d + more + slip[(i + 1) % 6], d + more - slip[(i + 3) % 6]);
        }
        return trials;
    }

    private static String metric(double metres) {
        return text(1000 * metres, 0) + " mm (" + text(metres / 0.0254, 1) + " in)";
    }

    private static String text(double value, int decimals) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value).replace('-', '−');
    }

    private static String between(Estimate d) {
        return between(d, 1);
    }

    /** With as many decimals of an inch as tell the ends apart. */
    private static String between(Estimate d, int decimals) {
        return "between " + text(1000 * d.low(), 0) + " and " + text(1000 * d.high(), 0) + " mm ("
                + text(d.low() / 0.0254, decimals) + " and " + text(d.high() / 0.0254, decimals) + " in)";
    }

    private static String precision(Trials trials) {
        var precision = trials.analysed().testers().orElseThrow().precision();
        return " The same measurer on the same circle repeats to "
                + metric(precision.repeatability().orElseThrow()) + " (repeatability s_r), another one to "
                + metric(precision.reproducibility().orElseThrow())
                + " (reproducibility s_R), both standard deviations.";
    }

    @Test
    void within_saysThatItDoesNotMatterWhoMeasures() {
        Trials trials = two(trials(), 5, 10);
        Finding finding = only(trials);
        Estimate d = finding.estimate().orElseThrow();
        assertThat(finding.subject()).isEqualTo(Map.of("measurer", "Ben", "others", "Ann"));
        assertThat(finding.verdict().word()).isEqualTo("within");
        assertThat(finding.sentence())
                .isEqualTo("Ben reads " + metric(d.value()) + " more than Ann on the same circles (5 in common), "
                        + between(d)
                        + "; that is within the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: it"
                        + " does not matter which of them measures." + precision(trials));
        assertThat(finding.next()).isEqualTo("Let any of them measure.");
    }

    @Test
    void beyond_saysThatItMatters() {
        Trials trials = two(trials(), 4, -90);
        Finding finding = only(trials);
        Estimate d = finding.estimate().orElseThrow();
        assertThat(finding.subject()).isEqualTo(Map.of("measurer", "Ann", "others", "Ben"));
        assertThat(finding.sentence())
                .isEqualTo("Ann reads " + metric(d.value()) + " more than Ben on the same circles (4 in common), "
                        + between(d)
                        + "; that is beyond the practical margin of 50 mm (2.0 in) with a probability of over 99.9 %: it"
                        + " matters who measures." + precision(trials));
        assertThat(finding.next())
                .isEqualTo(
                        "Agree at the circle where the cut edge is, mark it, and let both of them lay the tape across it"
                                + " again. Until then compare only what the same one measured.");
        // the balanced difference is the plain one, but for the correction for the missed centre, under 0.1 mm
        assertThat(d.value()).isCloseTo(0.09, within(0.005));
    }

    @Test
    void cannotTell_asksForMoreCirclesInCommon() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600)
                .measuredBy("Ben")
                .across(1628);
        Finding finding = only(trials);
        Estimate d = finding.estimate().orElseThrow();
        assertThat(finding.verdict().word()).isEqualTo("cannotTell");
        assertThat(finding.sentence())
                .isEqualTo("Ben reads " + metric(d.value()) + " more than Ann on the same circles (1 in common), "
                        + between(d)
                        + "; that may lie on either side of the practical margin of 50 mm (2.0 in): this trial cannot tell"
                        + " yet. This rests on the assumed reading repeatability: they measured too little in common to"
                        + " show how much readings scatter. Nobody laid the tape across the same circle twice, so that"
                        + " repeatability and reproducibility cannot be told apart.");
        assertThat(finding.next())
                .matches(
                        "Let both of them lay the tape across \\d+ more circles?; then the chance of a verdict is about"
                                + " \\d\\d %\\.");
    }

    @Test
    void noCircleInCommon_cannotBeAnswered() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ann").across(1600, 1602);
        trials.circle("2", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ben").across(1628, 1630);
        Finding finding = only(trials);
        assertThat(finding.sentence())
                .isEqualTo("Ann and Ben: whether they read alike cannot be said yet. Missing: a circle that two of them"
                        + " measured straight across.");
        assertThat(finding.next()).isEqualTo("Let each of them lay the tape across the same two or three circles.");
        assertThat(trials.analysed().testers()).isEmpty();
    }

    @Test
    void oneMeasurerOrNone_isNotAsked() {
        assertThat(findings(trials().circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1602)))
                .isEmpty();
        assertThat(findings(trials().measuredBy("Ann").circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1602)))
                .isEmpty();
    }

    @Test
    void misreadTape_isTracedToItsMeasurerAndCircle() {
        Trials trials = two(trials(), 6, 0);
        trials.circle("7", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1905, 1906)
                .measuredBy("Ben")
                .across(1985, 1910);
        assertThat(only(trials).sentence())
                .endsWith(
                        " Ben's readings scatter conspicuously more than the others', most of all on circle 7 (Mandel's k):"
                                + " look there for a misread tape.");
    }

    @Test
    void ofThree_eachIsHeldAgainstTheMeanOfTheOthers_andHPointsAtTheOneThatLiesOff() {
        Trials trials = trials();
        for (int i = 0; i < 3; i++) {
            trials.circle("" + i, Turn.LEFT, Drive.TWO_WHEEL);
            for (String who : List.of("Ann", "Ben", "Cai", "Dee", "Eve")) {
                trials.measuredBy(who).across(1600 + 30 * i + (who.equals("Eve") ? 60 : 0), 1602 + 30 * i);
            }
        }
        List<Finding> findings = findings(trials);
        assertThat(findings).hasSize(5);
        assertThat(findings.get(0).subject()).isEqualTo(Map.of("measurer", "Eve", "others", "Ann, Ben, Cai, Dee"));
        // Eve's two readings lie 60 and 0 mm above the others'
        assertThat(findings.get(0).estimate().orElseThrow().value()).isCloseTo(0.03, within(1e-4));
        assertThat(findings.get(0).sentence())
                .contains(" more than the mean of Ann, Ben, Cai and Dee on the same circles (3 in common), ")
                .contains(" Eve lies conspicuously far from the others on circles 0, 1 and 2 (Mandel's h).")
                .contains(" Eve's readings scatter conspicuously more than the others', most of all on circle ");
        assertThat(findings.get(1).sentence()).doesNotContain("conspicuously");
    }

    /** A chain of circles in common: Ann with Ben, Ben with Cai. Least squares carries the differences along it. */
    @Test
    void differences_areCarriedAlongAChain() {
        Trials trials = trials();
        for (int i = 0; i < 3; i++) {
            trials.circle("a" + i, Turn.LEFT, Drive.TWO_WHEEL)
                    .measuredBy("Ann")
                    .across(1600)
                    .measuredBy("Ben")
                    .across(1610);
            trials.circle("b" + i, Turn.LEFT, Drive.TWO_WHEEL)
                    .measuredBy("Ben")
                    .across(1800)
                    .measuredBy("Cai")
                    .across(1806);
        }
        List<Finding> findings = findings(trials);
        assertThat(findings.stream().map(f -> f.subject().get("measurer"))).containsExactly("Cai", "Ben", "Ann");
        // effects 0, 10, 16: Cai less the mean of the others is 11, Ben's 2, Ann's −13
        assertThat(findings.get(0).estimate().orElseThrow().value()).isCloseTo(0.011, within(1e-5));
        assertThat(findings.get(1).estimate().orElseThrow().value()).isCloseTo(0.002, within(1e-5));
        assertThat(findings.get(2).estimate().orElseThrow().value()).isCloseTo(-0.013, within(1e-5));
        assertThat(findings.get(2).sentence())
                .startsWith(
                        "Ann reads 13 mm (0.51 in) less than the mean of Ben and Cai on the same circles (6 in common), "
                                + less(findings.get(2).estimate().orElseThrow()) + "; that ");
    }

    @Test
    void orderNamesAndUnits_changeNothing() {
        for (int seed = 0; seed < 5; seed++) {
            Estimate plain = only(random(seed, LengthUnit.MILLIMETRE, "Ann", "Ben", false))
                    .estimate()
                    .orElseThrow();
            Estimate other = only(random(seed, LengthUnit.INCH, "Zoe", "Yan", true))
                    .estimate()
                    .orElseThrow();
            assertThat(other.value()).isCloseTo(plain.value(), within(1e-9));
            assertThat(other.low()).isCloseTo(plain.low(), within(1e-9));
            assertThat(other.high()).isCloseTo(plain.high(), within(1e-9));
        }
    }

    private static Trials random(int seed, LengthUnit unit, String first, String second, boolean backwards) {
        double mm = 0.001 / unit.metres();
        Trials trials = Trials.in(unit).margin(50 * mm).machine("Alder");
        for (int n = 0; n < 5; n++) {
            int i = backwards ? 4 - n : n;
            var random = new SplittableRandom(100L * seed + i);
            double d = 1600 + 20 * i;
            trials.circle("" + i, Turn.LEFT, Drive.TWO_WHEEL)
                    .measuredBy(first)
                    .across((d + random.nextDouble(20)) * mm);
            trials.measuredBy(second);
            for (int j = 1 + i % 2; j > 0; j--) {
                trials.across((d + 8 + random.nextDouble(20)) * mm);
            }
        }
        return trials;
    }

    /** Ann with Ben and Cai with Dee, on circles that have nobody in common: nothing ties the pairs together. */
    @Test
    void pairsWithoutAChain_areEachAnsweredByThemselves() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600, 1601)
                .measuredBy("Ben")
                .across(1620, 1621);
        trials.circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Cai")
                .across(1710, 1711)
                .measuredBy("Dee")
                .across(1700, 1701);
        List<Finding> findings = findings(trials);
        assertThat(findings)
                .extracting(Finding::subject)
                .containsExactly(
                        Map.of("measurer", "Ben", "others", "Ann"), Map.of("measurer", "Cai", "others", "Dee"));
        assertThat(findings.get(0).estimate().orElseThrow().value()).isCloseTo(0.020, within(1e-5));
        assertThat(findings.get(1).estimate().orElseThrow().value()).isCloseTo(0.010, within(1e-5));
        assertThat(findings).allMatch(f -> f.sentence().contains(" on the same circles (1 in common), "));
    }

    private static String less(Estimate d) {
        return between(new Estimate(-d.value(), d.standardUncertainty(), -d.high(), -d.low(), d.level()), 2);
    }

    @Test
    void whoSharesNoCircle_isHeldAgainstNobody() {
        Trials trials = two(trials(), 3, 10);
        trials.circle("alone", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Cai").across(1700, 1702);
        assertThat(only(trials).subject()).isEqualTo(Map.of("measurer", "Ben", "others", "Ann"));
    }

    /** Stakes are another method; what the tape says straight across is all that tells two readers apart. */
    @Test
    void readingsOfAnotherKind_areNotCompared() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ann").across(1600, 1602);
        trials.measuredBy("Ben").threeStakes(1000, 1100, 1200);
        assertThat(findings(trials)).isEmpty();
        trials.circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                .across(1600)
                .measuredBy("")
                .across(1700);
        assertThat(only(trials).verdict().word()).isEqualTo("notPossible");
    }

    /**
     * By hand in mm: on circle 1 Ann reads 0 and 2, Ben 10 and 14; on circle 2 Ann 0 and 2, Ben 12 twice, 11 more each time. About
     * their means 2 + 8 + 2 + 0 = 12 mm² are left of eight readings, two circles and one difference, so 5 degrees of freedom, and
     * a circle weighs 2·2/(2 + 2) = 1, so that u² = σ²/2. Circle 3, which Ann alone measured, 0 and 4, adds 8 mm² and a degree.
     */
    @Test
    void howSureADifferenceIs_isWhatTheReadingsLeaveOver() {
        Trials trials = byHand(trials());
        assertEstimate(only(trials), 11e-3, 12e-6, 5);
        trials.circle("3", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ann").across(1900, 1904);
        assertEstimate(only(trials), 11e-3, 20e-6, 6);
        assertThat(only(trials).sentence()).contains(" on the same circles (2 in common), ");
    }

    private static Trials byHand(Trials trials) {
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600, 1602)
                .measuredBy("Ben")
                .across(1610, 1614);
        return trials.circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1700, 1702)
                .measuredBy("Ben")
                .across(1712, 1712);
    }

    private static void assertEstimate(Finding finding, double difference, double squares, int degrees) {
        Estimate wanted = ScatterPosterior.of(squares, degrees, new HalfT(0.020), MachineEstimate.RESOLUTION)
                .contrast(difference, 0.5)
                .estimate(0.95);
        Estimate found = finding.estimate().orElseThrow();
        // readings of unlike size get corrections for the missed centre that differ by up to 0.01 mm
        assertThat(found.value()).isCloseTo(wanted.value(), within(1e-5));
        assertThat(found.standardUncertainty()).isCloseTo(wanted.standardUncertainty(), within(1e-5));
        assertThat(found.high() - found.low()).isCloseTo(wanted.high() - wanted.low(), within(4e-5));
    }

    /** To the last digit where more than a verdict is wanted: nothing of it was worked out roughly. */
    @Test
    void aWholeAnswer_isWorkedOutInFull() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600, 1602)
                .measuredBy("Ben")
                .across(1630, 1634);
        double[] d = Trials.circles(trials.trial()).get(0).observations().stream()
                .mapToDouble(Observation::diameter)
                .toArray();
        double squares = (Math.pow(d[1] - d[0], 2) + Math.pow(d[3] - d[2], 2)) / 2;
        Estimate wanted = ScatterPosterior.of(squares, 2, new HalfT(0.020), MachineEstimate.RESOLUTION)
                .contrast((d[2] + d[3] - d[0] - d[1]) / 2, 1)
                .estimate(0.95);
        Estimate found = only(trials).estimate().orElseThrow();
        assertThat(found.value()).isCloseTo(wanted.value(), within(1e-12));
        assertThat(found.standardUncertainty()).isCloseTo(wanted.standardUncertainty(), within(1e-12));
        assertThat(found.high()).isCloseTo(wanted.high(), within(1e-12));
    }

    /** Asked again they are held against each other roughly first; the verdicts are the same, from far off the margin to near. */
    @Test
    void askedAgain_theVerdictIsTheSame() {
        for (double more : new double[] {0, 10, 35, 47, 50, 53, 70, -90}) {
            for (int circles : new int[] {1, 4}) {
                Asked asked = Trials.asked(two(trials(), circles, more).trial());
                Answer<Asked> answer = BetweenTesters.of(asked).answers().get(0);
                Answer.Then then = answer.again().apply(asked).orElseThrow();
                assertThat(then.word()).isEqualTo(answer.finding().verdict().word());
                Estimate estimate = answer.finding().estimate().orElseThrow();
                assertThat(then.value()).isCloseTo(estimate.value(), within(1e-12));
                assertThat(then.standardUncertainty()).isCloseTo(estimate.standardUncertainty(), withinPercentage(0.1));
            }
        }
    }

    /**
     * The rough distribution has its probability off by less than it says, and is asked no further where that leaves the verdict
     * as it is; with a confidence between the two, the exact one decides.
     */
    @Test
    void askedAgain_whereTheRoughDistributionLeavesItOpen_theExactOneDecides() {
        int apart = 0;
        for (double more = 30; more <= 46; more += 2) {
            double exact = ofTwo(more, 0.6).finding().verdict().probability();
            double rough = again(more, exact - 0.01).orElseThrow().probability();
            assertThat(rough).isCloseTo(exact, within(ScatterPosterior.ROUGHLY));
            if (Math.abs(rough - exact) > 1e-9) {
                apart++;
                assertThat(again(more, (rough + exact) / 2).isPresent())
                        .as("%s mm", more)
                        .isEqualTo(exact > rough);
            }
        }
        assertThat(apart).isGreaterThan(3);
    }

    private static Answer<Asked> ofTwo(double more, double confidence) {
        return BetweenTesters.of(Trials.asked(
                        two(trials(), 2, more).confidence(confidence).trial()))
                .answers()
                .get(0);
    }

    private static Optional<Verdict> again(double more, double confidence) {
        Trials trials = two(trials(), 2, more).confidence(confidence);
        return ofTwo(more, confidence)
                .again()
                .apply(Trials.asked(trials.trial()))
                .orElseThrow()
                .verdict();
    }

    /** One that measures nothing in common with another any more, or with a third one too, is another question. */
    @Test
    void askedAgainOfOthers_thereIsNoAnswer() {
        Asked asked = Trials.asked(two(trials(), 2, 70).trial());
        Answer<Asked> answer = BetweenTesters.of(asked).answers().get(0);
        Trials apart = trials();
        apart.circle("1", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ann").across(1600, 1602);
        apart.circle("2", Turn.LEFT, Drive.TWO_WHEEL).measuredBy("Ben").across(1628, 1630);
        assertThat(answer.again().apply(Trials.asked(apart.trial()))).isEmpty();
        Trials three = two(trials(), 2, 70);
        three.circle("another", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600)
                .measuredBy("Cy")
                .across(1601);
        assertThat(answer.again().apply(Trials.asked(three.trial()))).isEmpty();
        Answer<Asked> open =
                BetweenTesters.of(Trials.asked(apart.trial())).answers().get(0);
        assertThat(open.finding().verdict().word()).isEqualTo("notPossible");
        assertThat(open.again().apply(asked)).isEmpty();
    }

    /** Where no number of circles would settle it, as it lies on the margin, one of them is to measure. */
    @Test
    void whatNoFurtherCircleSettles_isLeftToOneOfThem() {
        Finding finding = only(two(trials(), 5, 50));
        assertThat(finding.verdict().word()).isEqualTo("cannotTell");
        assertThat(finding.next())
                .isEqualTo("Let one of them measure everything, or let both of them measure every circle.");
    }

    /** Beyond the margin but for a hair: one circle more would settle it, and it is called one. */
    @Test
    void oneCircleThatWouldSettleIt_isCalledOne() {
        Trials trials = trials();
        trials.circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                .measuredBy("Ann")
                .across(1600)
                .measuredBy("Ben")
                .across(1704);
        Finding finding = only(trials);
        Outlook outlook = outlook(finding);
        assertThat(outlook.total()).isOne();
        assertThat(finding.next())
                .isEqualTo("Let both of them lay the tape across 1 more circle; then the chance of a verdict is "
                        + Wording.chance(outlook) + ".");
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

    /**
     * One less the mean of two others has the variance (1 + 2·(1/2)²)σ² = 1.5 σ² on the circle they have, and as much on each
     * one more; three readings of one circle leave nothing over to tell σ by.
     */
    @Test
    void ofThree_aFurtherCircleTellsAsMuchAsTheFirst() {
        Trials trials = trials().circle("1", Turn.LEFT, Drive.TWO_WHEEL);
        trials.measuredBy("Ann").across(1600).measuredBy("Ben").across(1600);
        trials.measuredBy("Cai").across(1690);
        List<RepeatabilityPosterior.Level> levels =
                ScatterPosterior.of(0, 0, new HalfT(0.020), MachineEstimate.RESOLUTION).levels(8).stream()
                        .map(l -> new RepeatabilityPosterior.Level(l[0], List.of(1.5 * l[1]), List.of(1.5 * l[1])))
                        .toList();
        Finding cai = findings(trials).get(0);
        assertThat(cai.subject()).containsEntry("measurer", "Cai");
        Outlook wanted = Outlook.of(
                List.of(trials.trial().circles().get(0).cell()),
                new double[] {1},
                cai.estimate().orElseThrow().value(),
                0,
                levels,
                new DecisionRule(0.05, 0.95));
        assertThat(wanted.total()).isGreaterThan(1);
        assertThat(outlook(cai).furtherCircles()).isEqualTo(wanted.furtherCircles());
        assertThat(outlook(cai).chance()).isCloseTo(wanted.chance(), within(1e-9));
    }

    /** A tenth of the margin is 5 mm: what is less is the tape's rounding, and nobody is named for it. */
    @Test
    void nobodyIsNamed_forLessThanATenthOfTheMargin() {
        assertThat(findings(five(5.5)).get(0).sentence())
                .contains(" Eve lies conspicuously far from the others on circle 0 (Mandel's h).");
        assertThat(findings(five(4)).get(0).subject()).containsEntry("measurer", "Eve");
        assertThat(findings(five(4)).get(0).sentence()).doesNotContain("conspicuously");
    }

    /** Five read one circle once; the last reads more, by 4/5 of it more than the mean of all. */
    private static Trials five(double more) {
        Trials trials = trials().circle("0", Turn.LEFT, Drive.TWO_WHEEL);
        for (String who : List.of("Ann", "Ben", "Cai", "Dee", "Eve")) {
            trials.measuredBy(who).across(1600 + (who.equals("Eve") ? more / 0.8 : 0));
        }
        return trials;
    }
}
