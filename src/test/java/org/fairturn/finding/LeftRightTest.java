package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** How left against right is taken apart, and what is said and advised of each part. */
class LeftRightTest {
    private static final double MM = 0.001;
    private static final String FIRST_CHECK =
            "First check the blade positions, and on which side of the centreline the deck sits:";

    /** Three circles each way. */
    private static Trials circles(double left, double right) {
        return Trials.inMillimetres().machine("Alder").threeEachWay(left, right);
    }

    private static Trials stops(Trials trials, double leftFound, double rightFound, double rightArm) {
        return trials.stop(Turn.LEFT, 28, leftFound, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, rightFound, Double.NaN, rightArm);
    }

    private static Finding finding(Trials trials) {
        return trials.analysed().asymmetries().get(0).finding();
    }

    private static double value(Finding finding) {
        return finding.estimate().orElseThrow().value();
    }

    private static double u(Finding finding) {
        return finding.estimate().orElseThrow().standardUncertainty();
    }

    private static Part part(Finding finding, String name) {
        return finding.part(name).orElseThrow();
    }

    private static double cot(double degrees) {
        return 1 / Math.tan(Math.toRadians(degrees));
    }

    /** By hand: 4 × 40 mm, 2 × 1450 × (cot 56° − cot 58°), 2 × what 5 mm over 80 mm make of R; a quarter of each unsure. */
    @Test
    void ruleOfThumb_countsLocksAndStops() {
        Finding finding = finding(stops(circles(1600, 1900).deckOffset(40).steering(1450, 950, 58, 56), 28, 33, 80));
        double driven = 56 - Math.toDegrees(5.0 / 80);
        double locks = 2 * 1.45 * (cot(56) - cot(58));
        double stops = 2 * 1.45 * (cot(driven) - cot(56));
        assertThat(part(finding, "lockAngles").estimate()).isCloseTo(locks, within(1e-12));
        assertThat(part(finding, "lockAngles").standardUncertainty()).isCloseTo(locks / 4, within(1e-12));
        assertThat(part(finding, "deckOffset").standardUncertainty())
                .isCloseTo(Math.hypot(4 * 5 * MM, 40 * MM), within(1e-12));
        assertThat(part(finding, "steeringStops").estimate()).isCloseTo(stops, within(1e-12));
        // to first order dR = (L/sin²δ)·dδ; what each dimension of the steering does to R_right − R_left
        double slope = 1.45 / Math.pow(Math.sin(Math.toRadians(driven)), 2);
        double slopeBuilt = 1.45 / Math.pow(Math.sin(Math.toRadians(56)), 2);
        double slopeLeft = 1.45 / Math.pow(Math.sin(Math.toRadians(58)), 2);
        double rightProtrusion = slope * 0.1 / 80;
        double leftProtrusion = slopeLeft * 0.1 / 80;
        double rightArm = slope * 5 / 80 * 2 / 80;
        double lock = (slope - slopeBuilt) * Math.toRadians(1);
        double wheelbase = 5 * MM * (cot(driven) - cot(56));
        double steering = Math.sqrt(Stream.of(rightProtrusion, leftProtrusion, rightArm, lock, wheelbase)
                .mapToDouble(x -> x * x)
                .sum());
        assertThat(part(finding, "steeringStops").standardUncertainty())
                .isCloseTo(Math.hypot(stops / 4, 2 * steering), within(1e-5)); // second order of the arm: 2.5 % of 5 mm
        assertThat(value(finding))
                .isCloseTo(part(finding, "measured").estimate() - 0.16 - locks - stops, within(1e-12));
        // the quarter is one and the same for all three: where the blades are not known
        double own = Math.pow(part(finding, "steeringStops").standardUncertainty(), 2) - stops * stops / 16;
        assertThat(u(finding) * u(finding))
                .isCloseTo(
                        Math.pow(part(finding, "measured").standardUncertainty(), 2)
                                + Math.pow(4 * 5 * MM, 2)
                                + own
                                + Math.pow((0.16 + locks + stops) / 4, 2),
                        within(1e-9));
    }

    /** A deck and a stop that pull opposite ways are scaled by the same blades: as far as they cancel, so does not knowing these. */
    @Test
    void ruleOfThumb_isUnsureOfWhatItExplainsInAll() {
        Finding together = finding(stops(circles(1600, 1900).deckOffset(40).steering(1450, 950, 58, 58), 28, 31, 80));
        Finding apart = finding(stops(circles(1600, 1900).deckOffset(-40).steering(1450, 950, 58, 58), 28, 31, 80));
        double stops = part(together, "steeringStops").estimate();
        assertThat(stops).isGreaterThan(0.1);
        assertThat(u(together) * u(together) - u(apart) * u(apart))
                .isCloseTo((Math.pow(stops + 0.16, 2) - Math.pow(stops - 0.16, 2)) / 16, within(1e-9));
    }

    /** What a dimension puts on the remainder is half of what moving it up and down in the folder makes of the remainder. */
    @Test
    void contributions_areWhatMovingEachDimensionDoes() {
        Analysis analysis = stops(circles(1600, 1830).deckOfThree(20).steering(1450, 950, 60, 59), 29, 33, 80)
                .analysed();
        Map<String, Contribution> found =
                analysis.asymmetries().get(0).geometry().orElseThrow().contributions().stream()
                        .collect(Collectors.toMap(Contribution::name, c -> c));
        double byProtrusion = (remainder(20, 29, 33.1, 80) - remainder(20, 29, 32.9, 80)) / 2;
        double byLeftProtrusion = (remainder(20, 29.1, 33, 80) - remainder(20, 28.9, 33, 80)) / 2;
        double byArm = (remainder(20, 29, 33, 82) - remainder(20, 29, 33, 78)) / 2;
        double byOffset = (remainder(25, 29, 33, 80) - remainder(15, 29, 33, 80)) / 2;
        assertThat(byProtrusion).isNegative(); // a right stop further out explains more
        assertThat(byLeftProtrusion).isPositive();
        // both take the change from the same place; only the bend over ±u is left between them
        assertThat(found.get("right stop, protrusion").effect()).isCloseTo(byProtrusion, within(1e-7));
        assertThat(found.get("left stop, protrusion").effect()).isCloseTo(byLeftProtrusion, within(1e-7));
        assertThat(found.get("right stop, arm").effect()).isCloseTo(byArm, within(1e-5));
        assertThat(found.get("deck offset").effect()).isCloseTo(byOffset, within(1e-9));
        assertThat(found.get("right stop, protrusion").standardUncertainty()).isEqualTo(0.1 * MM);
        // and the remainder's uncertainty is theirs and the readings'
        Finding finding = analysis.asymmetries().get(0).finding();
        double geometry = found.values().stream()
                .mapToDouble(c -> c.effect() * c.effect())
                .sum();
        assertThat(u(finding) * u(finding)).isGreaterThan(geometry);
    }

    private static double remainder(double offset, double leftFound, double rightFound, double rightArm) {
        return value(finding(stops(
                circles(1600, 1830).deckOfThree(offset).steering(1450, 950, 60, 59), leftFound, rightFound, rightArm)));
    }

    @Test
    void partsOfDeckLocksAndStops_addUpToWhatWasMeasured() {
        Finding finding = finding(stops(circles(1600, 1830).deckOfThree(20).steering(1450, 950, 60, 59), 29, 33, 80));
        assertThat(finding.parts())
                .extracting(Part::name)
                .containsExactly("measured", "lockAngles", "deckOffset", "steeringStops");
        assertThat(part(finding, "lockAngles").estimate()
                        + part(finding, "deckOffset").estimate()
                        + part(finding, "steeringStops").estimate()
                        + value(finding))
                .isCloseTo(part(finding, "measured").estimate(), within(1e-12));
        // the stops come on top of what the locks make by themselves
        Finding locksAlone = finding(circles(1600, 1830).deckOfThree(20).steering(1450, 950, 60, 59));
        assertThat(part(finding, "lockAngles").estimate())
                .isCloseTo(part(locksAlone, "lockAngles").estimate(), within(1e-12));
        assertThat(part(finding, "steeringStops").estimate())
                .isCloseTo(value(locksAlone) - value(finding), within(1e-12));
    }

    /**
     * By hand, a deck of three in the middle and two circles of 1.6 m: the outer blade cuts at ρ = 0.8 + 0.23 = 1.03 m, 0.799 m
     * of it aside, cos φ = 0.7757. An offset of 5 mm makes 2·2·cos φ·5 = 15.51 mm, each outer blade's 5 mm ahead
     * 2·0.65/1.03·5 = 6.31 mm, each outer tip's 2 mm twice that; the middle blade and the turn centre nothing:
     * √(15.51² + 2·6.31² + 2·4²) = 18.77 mm.
     */
    @Test
    void uncertaintyOfWhatTheDeckExplains_isThatOfItsDimensions() {
        Finding finding = finding(circles(1600, 1600).deckOfThree(0));
        assertThat(part(finding, "deckOffset").estimate()).isCloseTo(0, within(1e-5));
        assertThat(part(finding, "deckOffset").standardUncertainty()).isCloseTo(18.77 * MM, within(0.02 * MM));
        double measured = part(finding, "measured").standardUncertainty();
        assertThat(u(finding)).isCloseTo(Math.hypot(measured, 18.77 * MM), within(0.02 * MM));
    }

    @Test
    void ruleOfThumb_isFourTimesTheOffset_besideTheExactPart() {
        Asymmetry asymmetry =
                circles(1600, 1768).deckOfThree(50).analysed().asymmetries().get(0);
        assertThat(asymmetry.ruleOfThumb().orElseThrow()).isCloseTo(0.2, within(1e-12));
    }

    @Test
    void brakes_areNamed() {
        Finding finding = Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1000)
                .withBrakes()
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1010)
                .withBrakes()
                .analysed()
                .asymmetries()
                .get(0)
                .finding();
        assertThat(finding.subject()).isEqualTo(Map.of("machine", "Alder", "drive", "2WD", "brakes", "used"));
        assertThat(finding.sentence()).startsWith("Alder, 2WD with brakes: the right circle is ");
        assertThat(finding(circles(1600, 1600).deckOfThree(0)).subject())
                .isEqualTo(Map.of("machine", "Alder", "drive", "2WD"));
    }

    /** A cause that makes up the difference to within what whole millimetres show explains it all; one that makes more does not. */
    @Test
    void aCauseAsLargeAsTheDifference_explainsIt() {
        assertThat(finding(explained(-0.4)).sentence())
                .contains("; the deck offset explains ")
                .contains(" of that");
        assertThat(finding(explained(0.4)).sentence()).contains("; the deck offset explains ");
        assertThat(finding(explained(0.6)).sentence()).contains("; the deck offset alone would make it ");
    }

    /** 250 mm of which the deck would make about 160 and a stop 5 mm out about 230: together more, so neither is said to explain a part. */
    @Test
    void causesThatTogetherMakeMoreThanTheDifference_doNotEachExplainAPartOfIt() {
        Trials trials = circles(1610, 1860)
                .deckOfThree(48)
                .steering(1450, 950, 58, 58)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 33, Double.NaN, 80);
        Finding finding = finding(trials);
        double deck = finding.part("deckOffset").orElseThrow().estimate();
        double stops = finding.part("steeringStops").orElseThrow().estimate();
        assertThat(Math.max(deck, stops)).isLessThan(0.25);
        assertThat(deck + stops).isGreaterThan(0.3);
        assertThat(finding.sentence())
                .contains("; the deck offset alone would make it ")
                .contains("; the steering stops alone would make it ")
                .doesNotContain(" of that");
    }

    /** Circles that differ by so many mm less than the deck explains. */
    private static Trials explained(double missing) {
        double right = 1760;
        for (int i = 0; i < 6; i++) {
            Finding finding = finding(circles(1600, right).deckOfThree(50));
            right += 1000
                            * (part(finding, "deckOffset").estimate()
                                    - part(finding, "measured").estimate())
                    - missing;
        }
        Finding settled = finding(circles(1600, right).deckOfThree(50));
        assertThat(1000
                        * (part(settled, "deckOffset").estimate()
                                - part(settled, "measured").estimate()))
                .isCloseTo(missing, within(0.01));
        return circles(1600, right).deckOfThree(50);
    }

    @Test
    void withStopsCounted_theSentenceNamesThem() {
        // 5 mm over 80 mm about 60° make 130 mm of R, by the deck 211 mm of circle
        Finding within = finding(stops(
                circles(1600, 1813).deckOfThree(0).steering(1450, 950, 60, 60).confidence(0.8), 28, 33, 80));
        assertThat(within.verdict().word()).isEqualTo("within");
        assertThat(within.sentence())
                .contains(
                        ": nothing that matters remains once the steering stops are counted; what differs comes from how the"
                                + " stops stand and where the deck sits.");
        assertThat(within.next())
                .startsWith("See that each stop touches the axle at full lock; then set the right stop in");
        Finding withLocks = finding(stops(
                circles(1600, 1873).deckOfThree(0).steering(1450, 950, 60, 59).confidence(0.8), 28, 33, 80));
        assertThat(withLocks.verdict().word()).isEqualTo("within");
        assertThat(withLocks.sentence())
                .contains(
                        ": nothing that matters remains once the steering stops are counted; beyond its designed lock angles"
                                + " what differs comes from how the stops stand and where the deck sits.");
        Finding beyond = finding(stops(circles(1600, 2100).deckOfThree(0).steering(1450, 950, 60, 60), 28, 33, 80));
        assertThat(beyond.verdict().word()).isEqualTo("beyond");
        assertThat(beyond.sentence())
                .contains(
                        ": where the deck sits and how the stops stand do not account for it; besides, the machine itself"
                                + " turns wider to the right than to the left.");
        assertThat(beyond.next())
                .startsWith("See that each stop touches the axle at full lock; then set the right stop in")
                .endsWith(" Look at tyre sizes and pressures too.");
        Finding both = finding(stops(circles(1600, 1400).deckOfThree(0).steering(1450, 950, 60, 59), 28, 33, 80));
        assertThat(both.sentence())
                .contains(
                        ": where the deck sits, how the stops stand and the designed lock angles do not account for it; beyond"
                                + " its design the machine itself turns tighter to the right than to the left.");
    }

    /** What stops that stand right make of it is nothing, so nothing is said of how it was worked out. */
    @Test
    void stopsAtTheirSpecification_needNoExplaining() {
        for (Drive drive : Drive.values()) {
            Finding finding = finding(stops(
                    Trials.inMillimetres()
                            .machine("Alder")
                            .deckOfThree(0)
                            .axles(1450, 950)
                            .circle("1", Turn.LEFT, drive, 1600)
                            .circle("2", Turn.RIGHT, drive, 1604),
                    28,
                    28,
                    80));
            assertThat(part(finding, "steeringStops").estimate()).isCloseTo(0, within(1e-12));
            assertThat(finding.sentence())
                    .doesNotContain("lock angles the circles show")
                    .doesNotContain("skids");
        }
    }

    @Test
    void aDeckThatExplainsFarTooMuch_isDoubted() {
        // 60 mm of offset explain some 190 mm; the circles show 40 mm
        Finding tooMuch = finding(circles(1600, 1640).deckOfThree(60));
        assertThat(tooMuch.verdict().word()).isEqualTo("beyond");
        assertThat(tooMuch.next()).startsWith(FIRST_CHECK);
        // less than twice what the circles show: no reason to doubt it
        Finding half = finding(circles(1600, 1720).deckOfThree(65));
        assertThat(part(half, "deckOffset").estimate())
                .isBetween(
                        1.5 * part(half, "measured").estimate(),
                        1.95 * part(half, "measured").estimate());
        assertThat(half.verdict().word()).isEqualTo("beyond");
        assertThat(half.next()).startsWith("Look at the steering stops on both sides");
        // against the circles, but by less than the margin
        Finding little = finding(circles(1600, 1800).deckOfThree(-10));
        assertThat(part(little, "deckOffset").estimate()).isBetween(-0.05, -0.02);
        assertThat(little.verdict().word()).isEqualTo("beyond");
        assertThat(little.next()).startsWith("Look at the steering stops on both sides");
        // lock angles that explain the opposite are no doubt about the deck
        Finding locks = finding(circles(1600, 1450).deckOfThree(0).steering(1450, 950, 60, 57));
        assertThat(locks.verdict().word()).isEqualTo("beyond");
        assertThat(part(locks, "lockAngles").estimate()).isGreaterThan(0.05);
        assertThat(locks.next()).startsWith("Look at the steering stops on both sides");
        // and in inches, seen in a mirror
        Finding mirrored = Analysis.of(
                        Trials.mirrored(circles(1600, 1640).deckOfThree(60).trial()))
                .asymmetries()
                .get(0)
                .finding();
        assertThat(mirrored.next()).startsWith(FIRST_CHECK);
    }

    /** The plan view is worth showing where the deck alone makes a difference that matters. */
    @Test
    void nothingToMend_sendsToThePlanView_onlyWhereTheDeckMakesADifferenceThatMatters() {
        String alone = "Nothing to mend in the steering.";
        assertThat(List.of(
                        finding(circles(1600, 1634).deckOfThree(10).confidence(0.8)),
                        finding(circles(1600, 1713)
                                .steering(1450, 950, 60, 58)
                                .deckOfThree(0)
                                .confidence(0.8))))
                .allSatisfy(f -> {
                    assertThat(f.verdict().word()).isEqualTo("within");
                    assertThat(f.next()).isEqualTo(alone);
                });
        Finding toTheRight = finding(circles(1768, 1600).deckOfThree(-50).confidence(0.8));
        assertThat(toTheRight.verdict().word()).isEqualTo("within");
        assertThat(toTheRight.next())
                .startsWith(alone.substring(0, alone.length() - 1) + ": show the customer the plan view.");
    }

    /** Blades this far ahead leave no disc smaller than 2·(0.84 − 0.23) m however tightly the machine turns. */
    @Test
    void circlesTooSmallForTheDeck_areNoResult() {
        Asymmetry asymmetry = Trials.in(LengthUnit.MILLIMETRE)
                .machine("Alder")
                .deckOfThree(0)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 800)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 700)
                .analysed()
                .asymmetries()
                .get(0);
        assertThat(asymmetry.finding().verdict()).isInstanceOf(Verdict.NotPossible.class);
        assertThat(asymmetry.finding().sentence())
                .contains(
                        "Missing: blade positions and a turn centre shift that fit the circles: with those given, no turn"
                                + " radius leaves so small a disc.");
        assertThat(asymmetry.finding().part("measured")).isPresent();
        assertThat(asymmetry.geometry()).isEmpty();
    }
}
