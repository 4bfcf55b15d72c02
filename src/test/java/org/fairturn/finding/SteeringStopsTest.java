package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.BladeDisc;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class SteeringStopsTest {
    private static final double MM = 0.001;

    /** Wheelbase 1450, track 950, 60° both ways, deck in the middle; three circles each way. */
    private static Trials machine(double left, double right) {
        return Trials.inMillimetres()
                .machine("Alder")
                .deckOfThree(0)
                .steering(1450, 950, 60, 60)
                .threeEachWay(left, right);
    }

    private static StopEffect.Change driven(Analysis analysis, int stop) {
        return analysis.stops().get(stop).driven().orElseThrow();
    }

    private static Finding leftRight(Analysis analysis) {
        return analysis.asymmetries().get(0).finding();
    }

    private static double estimate(Finding finding) {
        return finding.estimate().orElseThrow().value();
    }

    /** Invented machine, truths worked out by hand for the demo folder: 4.4 mm over 77 mm, 3.27°, 132 mm of R. */
    @Test
    void demo_findsTheStopThatWasLeftOut() {
        Trial demo = TrialFolder.read(Path.of("testdata", "demo")).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
        Analysis analysis = Analysis.of(demo);
        StopEffect.Change right = driven(analysis, 3);
        assertThat(right.deviation()).isCloseTo(4.4 * MM, within(1e-12));
        assertThat(Math.toDegrees(right.lock().value())).isCloseTo(-3.27, within(0.005));
        // half a millimetre is the last digit of the truths
        assertThat(right.radius().value()).isCloseTo(132 * MM, within(0.5 * MM));
        // the Alder's right stop was set before the trial: as driven it explains nothing, as found it would have
        StopEffect alder = analysis.stops().get(1);
        assertThat(alder.driven().orElseThrow().radius().value()).isCloseTo(0, within(1e-12));
        assertThat(alder.found().orElseThrow().deviation()).isCloseTo(0.15 * 0.0254, within(1e-12));
        assertThat(alder.found().orElseThrow().radius().value()).isPositive();
        Finding basalt = analysis.findings().stream()
                .filter(f -> f.question() == Question.LEFT_RIGHT
                        && f.subject().get("machine").equals("Basalt 25"))
                .findFirst()
                .orElseThrow();
        // the truth: 237.9 mm, of which the deck makes 16 mm
        assertThat(basalt.part("steeringStops").orElseThrow().estimate())
                .isCloseTo(
                        222 * MM,
                        within(2 * basalt.part("steeringStops").orElseThrow().standardUncertainty()));
    }

    @Test
    void radius_followsTheFirstOrderFormula_andTheExactOne() {
        // dR = −L·dδ/sin²δ about 60°: 1450 × 0.01/0.75 for a hundredth of a radian, to first order
        StopEffect.Change small = driven(
                machine(1600, 1600).stop(Turn.LEFT, 28, 28.001, Double.NaN, 100).analysed(), 0);
        assertThat(small.radius().value()).isCloseTo(1.450 * 1e-5 / 0.75, within(1e-9));
        StopEffect.Change large = driven(
                machine(1600, 1600).stop(Turn.LEFT, 28, 38, Double.NaN, 100).analysed(), 0);
        double lock = Math.toRadians(60) - 0.1;
        assertThat(large.radius().value())
                .isCloseTo(1.450 * (1 / Math.tan(lock) - 1 / Math.tan(Math.toRadians(60))), within(1e-12));
        // the deck makes of it what its geometry does
        assertThat(large.diameter().orElseThrow().value())
                .isBetween(1.4 * large.radius().value(), 2 * large.radius().value());
    }

    @Test
    void radius_ofAStopOnTheOutside_goesThroughTheOuterWheel() {
        Analysis analysis = machine(1600, 1600)
                .stop(Turn.RIGHT, Turn.LEFT, 28, 30, Double.NaN, 80, Optional.empty())
                .analysed();
        double designed = 1.450 / Math.tan(Math.toRadians(60)) + 0.475;
        double outer = Math.atan2(1.450, designed + 0.475);
        assertThat(driven(analysis, 0).radius().value())
                .isCloseTo(1.450 / Math.tan(outer - 2.0 / 80) - 0.475 - designed, within(1e-12));
    }

    /** Common practice, no source: 0.2 in on an arm of about 4 in is near 3° of lock and several inches of uncut circle. */
    @Test
    void twoTenthsOfAnInch_onAnArmOfFour_areThreeDegreesAndSeveralInches() {
        Analysis analysis = Trials.in(LengthUnit.INCH)
                .machine("Compact")
                .blade(28, 15, 9.25)
                .blade(28, -15, 9.25)
                .steering(63, 41, 58, 58)
                .stop(Turn.RIGHT, 1.1, 1.3, Double.NaN, 4)
                .stop(Turn.LEFT, 1.2, 1.2, Double.NaN, 4) // specifications that differ by design are no deviation
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 78)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 85)
                .analysed();
        StopEffect.Change right = driven(analysis, 1);
        assertThat(Math.toDegrees(right.lock().value())).isCloseTo(-3, within(0.2));
        assertThat(right.diameter().orElseThrow().value() / 0.0254).isBetween(5.0, 10.0);
        assertThat(driven(analysis, 0).radius().value()).isCloseTo(0, within(1e-12));
    }

    @Test
    void parts_addUp_andTheStopsTakeTheirsOffTheRemainder() {
        for (int seed = 0; seed < 8; seed++) {
            var random = new SplittableRandom(seed);
            double right = random.nextDouble(1500, 1900);
            double out = random.nextDouble(-3, 5);
            Trials without = machine(1600, right);
            Trials with = machine(1600, right)
                    .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                    .stop(Turn.RIGHT, 30, 40, 30 + out, 80); // driven as set, whatever was found
            Finding plain = leftRight(without.analysed());
            Finding stops = leftRight(with.analysed());
            double part = stops.part("steeringStops").orElseThrow().estimate();
            assertThat(part).isCloseTo(estimate(plain) - estimate(stops), within(1e-9));
            assertThat(Math.signum(part)).isEqualTo(Math.signum(out));
            double sum = stops.parts().stream()
                    .filter(p -> !p.name().equals("measured"))
                    .mapToDouble(Part::estimate)
                    .sum();
            assertThat(sum + estimate(stops))
                    .isCloseTo(stops.part("measured").orElseThrow().estimate(), within(1e-9));
            assertThat(stops.estimate().orElseThrow().standardUncertainty())
                    .isGreaterThan(plain.estimate().orElseThrow().standardUncertainty());
            // in a mirror the stops change sides and the answer its sign
            Finding mirrored = leftRight(Analysis.of(Trials.mirrored(with.trial())));
            assertThat(mirrored.part("steeringStops").orElseThrow().estimate()).isCloseTo(-part, within(1e-9));
            assertThat(estimate(mirrored)).isCloseTo(-estimate(stops), within(1e-9));
        }
    }

    @Test
    void whereTwoStopsLimitATurn_theWiderGoverns() {
        Analysis analysis = machine(1600, 1650)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 28, Double.NaN, 80)
                .stop(Turn.LEFT, Turn.RIGHT, 28, 29, Double.NaN, 80, Optional.empty())
                .analysed();
        double outside = analysis.stops().stream()
                .filter(s -> s.stop().side() != s.stop().limits())
                .findFirst()
                .orElseThrow()
                .driven()
                .orElseThrow()
                .radius()
                .value();
        assertThat(outside).isPositive();
        assertThat(leftRight(analysis).part("steeringStops").orElseThrow().estimate())
                .isBetween(1.4 * outside, 2 * outside);
    }

    @Test
    void sentence_andAdvice_towardsTheSpecificationOnly() {
        Finding finding = leftRight(machine(1600, 1830)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 33, Double.NaN, 80)
                .analysed());
        double part = finding.part("steeringStops").orElseThrow().estimate();
        String amount = String.format(Locale.ROOT, "%.0f mm (%.1f in)", 1000 * part, part / 0.0254);
        assertThat(finding.sentence())
                .contains("; the steering stops explain " + amount + " of that. What remains is ")
                .endsWith(" Known already: steering stops off their specification alone make the right circle " + amount
                        + " larger against the left, which is beyond the practical margin. That is worked out from ideal steering, not"
                        + " measured.");
        assertThat(finding.next())
                .startsWith(
                        "See that each stop touches the axle at full lock; then set the right stop in by 5.0 mm (0.20 in) to its"
                                + " specified 28.0 mm (1.10 in), and see again that it touches; where it does not, turn it out until it does."
                                + " Contact comes first, and a stop is never turned in past the specification. Chocks and rated stands first; the service manual and a"
                                + " qualified technician have the last word.");
        // a stop that protrudes too little is turned out, never the other one in
        Finding low = leftRight(machine(1600, 1500)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 25, Double.NaN, 80)
                .analysed());
        assertThat(low.next()).contains("then set the right stop out by 3.0 mm (0.12 in) to its specified 28.0 mm");
    }

    @Test
    void whatIsMissing_isNamed_andLeavesTheRemainderAlone() {
        Finding plain = leftRight(machine(1600, 1700).analysed());
        Finding missing = leftRight(machine(1600, 1700)
                .stop(Turn.RIGHT, 28, 31, Double.NaN, Double.NaN)
                .analysed());
        assertThat(missing.part("steeringStops")).isEmpty();
        assertThat(estimate(missing)).isEqualTo(estimate(plain));
        assertThat(missing.sentence())
                .isEqualTo(plain.sentence()
                        + " What the steering stops make of it cannot be said; missing: the stop that limits the left turn"
                        + " (stops.csv); the arm of the right stop (stops.csv).");
    }

    @Test
    void aStopWithoutContact_leadsTheReport() {
        Analysis analysis = machine(1600, 1700)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, Turn.RIGHT, 28, 20, Double.NaN, 80, Optional.of(false))
                .analysed();
        Finding first = analysis.findings().get(0);
        assertThat(first.question()).isEqualTo(Question.LEFT_RIGHT);
        assertThat(first.subject()).containsEntry("stop", "right").containsEntry("machine", "Alder");
        assertThat(first.verdict()).isInstanceOf(Verdict.NotPossible.class);
        assertThat(first.sentence())
                .isEqualTo(
                        "Alder: the right stop does not touch the axle at full lock, so something else limits the right turn, and"
                                + " linkage, cylinder or tyre take the load. This comes before every other result: the right"
                                + " circles show whatever limits the turn, not the stop.");
        assertThat(first.next()).contains("Contact comes first; a stop is never turned in past the specification.");
        Finding turning = analysis.asymmetries().get(0).finding();
        assertThat(turning.part("steeringStops")).isEmpty();
        assertThat(turning.next()).doesNotContain("set the right stop");
        assertThat(analysis.warnings()).extracting(Warning::code).contains("stopDoesNotTouch");
    }

    @Test
    void anAngleOutsideTheQuarterTurn_isNoResult() {
        Analysis analysis = machine(1600, 1700)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 0, 20, Double.NaN, 15)
                .analysed();
        assertThat(analysis.stops().get(1).driven()).isEmpty();
        assertThat(analysis.stops().get(1).missing()).startsWith("protrusions and arms that leave a lock angle");
        assertThat(leftRight(analysis).part("steeringStops")).isEmpty();
        assertThat(leftRight(analysis).sentence())
                .contains("protrusions and arms that leave a lock angle between 0° and 90°");
    }

    /** A decimal point that slipped made 142 turns of the bolt of it, and a certain cause. */
    @Test
    void aStopThatCannotBeSoFarOff_isASlip_andNothingIsMadeOfIt() {
        Finding without = leftRight(machine(1600, 1700).analysed());
        for (double slip : new double[] {2.8, 82, 280}) { // for 28
            Analysis analysis = machine(1600, 1700)
                    .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                    .stop(Turn.RIGHT, 28, slip, Double.NaN, 80)
                    .analysed();
            assertThat(analysis.stops().get(1).driven()).isEmpty();
            assertThat(analysis.stops().get(1).missing())
                    .isEqualTo("a protrusion that can be of the right stop (stops.csv)");
            assertThat(estimate(leftRight(analysis))).isEqualTo(estimate(without));
            assertThat(leftRight(analysis).next()).doesNotContain("set the right stop");
            assertThat(analysis.warnings())
                    .filteredOn(w -> w.code().equals("stopUnlikely"))
                    .singleElement()
                    .satisfies(w -> {
                        assertThat(w.where()).isEqualTo("Alder, right stop");
                        assertThat(w.message())
                                .startsWith("The protrusion in column found, "
                                        + Length.mm(slip).as(LengthUnit.MILLIMETRE, 1) + " (")
                                .contains(" off the specified 28.0 mm (1.10 in). No stop can be turned so far")
                                .endsWith("or measure the stop again.");
                    });
        }
        // as set it counts in the other's stead, and is looked at likewise
        Analysis set = machine(1600, 1700)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 31, 280, 80)
                .analysed();
        assertThat(set.stops().get(1).found()).isPresent();
        assertThat(set.stops().get(1).driven()).isEmpty();
        assertThat(set.warnings())
                .extracting(Warning::message)
                .anyMatch(m -> m.startsWith("The protrusion in column set, "));
        // an inch off is the most that is believed
        assertThat(machine(1600, 1700)
                        .stop(Turn.RIGHT, 28, 53, Double.NaN, 80)
                        .analysed()
                        .warnings())
                .extracting(Warning::code)
                .doesNotContain("stopUnlikely");
    }

    @Test
    void stopsAtTheirSpecification_explainNothing_andAreNotSpokenOf() {
        Finding plain = leftRight(machine(1600, 1603).analysed());
        Finding atIt = leftRight(machine(1600, 1603)
                .stop(Turn.LEFT, 27, 27, Double.NaN, 80)
                .stop(Turn.RIGHT, 31, 31, Double.NaN, 80)
                .analysed());
        assertThat(atIt.part("steeringStops").orElseThrow().estimate()).isCloseTo(0, within(1e-12));
        assertThat(estimate(atIt)).isCloseTo(estimate(plain), within(1e-12));
        assertThat(List.of(atIt.sentence(), atIt.next())).noneMatch(text -> text.contains("the steering stops"));
    }

    private static final Ackermann STEERING = new Ackermann(1.450, 0.950);

    /** The circle the deck leaves at a lock angle of the inner wheel (mm). */
    private static double circle(double degrees, int side) {
        Deck deck = new Deck(
                List.of(
                        new BladeDisc(0.650, 0.440, 0.230),
                        new BladeDisc(0.840, 0, 0.230),
                        new BladeDisc(0.650, -0.440, 0.230)),
                0);
        return 1000 * deck.uncutDiameter(STEERING.turnRadius(Math.toRadians(degrees)), side);
    }

    /** Built for 60° both ways; the right stop protrudes 5 mm too far over 80 mm; nobody knows the 60°. */
    private static Trials withoutDesignedAngles(Drive... drives) {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0).axles(1450, 950);
        double right = 60 - Math.toDegrees(5.0 / 80);
        for (Drive drive : drives) {
            double skid = drive == Drive.FOUR_WHEEL ? 400 : 0;
            for (int i = 0; i < 3; i++) {
                trials.circle("L" + drive + i, Turn.LEFT, drive, circle(60, 1) + skid + i - 1)
                        .circle("R" + drive + i, Turn.RIGHT, drive, circle(right, -1) + skid + i - 1);
            }
        }
        return trials.stop(Turn.LEFT, 28, 28, Double.NaN, 80).stop(Turn.RIGHT, 28, 33, Double.NaN, 80);
    }

    @Test
    void whereNoAngleIsDesigned_theCirclesTellIt() {
        Analysis analysis =
                withoutDesignedAngles(Drive.TWO_WHEEL, Drive.FOUR_WHEEL).analysed();
        StopEffect right = analysis.stops().get(1);
        StopEffect.Lock lock = right.fromCircles().orElseThrow();
        assertThat(lock.drive()).isEqualTo(Drive.TWO_WHEEL);
        // as driven: 3.58° less than built; the correction for the missed centre is under a millimetre, 0.03°
        assertThat(Math.toDegrees(lock.angle().value())).isCloseTo(60 - Math.toDegrees(5.0 / 80), within(0.05));
        double built = STEERING.turnRadius(Math.toRadians(60));
        double driven = STEERING.turnRadius(Math.toRadians(60) - 5.0 / 80);
        assertThat(right.driven().orElseThrow().radius().value()).isCloseTo(driven - built, within(0.5 * MM));
        assertThat(analysis.stops().get(0).driven().orElseThrow().radius().value())
                .isCloseTo(0, within(1e-12));
        assertThat(leftRight(analysis).sentence())
                .contains("; the steering stops explain ")
                .endsWith(
                        " What the stops make of it is worked out about the lock angles the circles show by ideal steering"
                                + " (left 60.0°, shown in 2WD; right 56.4°, shown in 2WD), because machines.csv gives no designed ones.");
        // with the angles known the answer is the same, and surer
        Analysis known = withoutDesignedAngles(Drive.TWO_WHEEL)
                .steering(1450, 950, 60, 60)
                .analysed();
        assertThat(known.stops().get(1).fromCircles()).isEmpty();
        assertThat(leftRight(analysis).part("steeringStops").orElseThrow().estimate())
                .isCloseTo(leftRight(known).part("steeringStops").orElseThrow().estimate(), within(1 * MM));
    }

    @Test
    void theUncertaintyOfTheRadius_isInTheAngleAndTheEffect() {
        StopEffect right =
                withoutDesignedAngles(Drive.TWO_WHEEL).analysed().stops().get(1);
        CellEstimate cell =
                withoutDesignedAngles(Drive.TWO_WHEEL).analysed().cells().get(1);
        double u = cell.turnRadius().orElseThrow().standardUncertainty();
        double delta = right.fromCircles().orElseThrow().angle().value();
        double sin2 = Math.pow(Math.sin(delta), 2);
        // dδ = −sin²δ·dR/L, beside 1° of the linkage, 25 mm of half the king-pin distance, and 5 mm of the wheelbase
        double byRadius = sin2 / 1.450 * u;
        double byKingPins = sin2 / 1.450 * 0.025;
        double byWheelbase = Math.sin(delta) * Math.cos(delta) / 1.450 * 0.005;
        assertThat(right.fromCircles().orElseThrow().angle().standardUncertainty())
                .isCloseTo(
                        Math.sqrt(byRadius * byRadius
                                + byKingPins * byKingPins
                                + byWheelbase * byWheelbase
                                + Math.pow(Math.toRadians(1), 2)),
                        within(1e-4));
        StopEffect known = withoutDesignedAngles(Drive.TWO_WHEEL)
                .steering(1450, 950, 60, 60)
                .analysed()
                .stops()
                .get(1);
        assertThat(right.driven().orElseThrow().radius().standardUncertainty())
                .isGreaterThan(known.driven().orElseThrow().radius().standardUncertainty());
    }

    @Test
    void in4WD_theIdealSteeringIsSaid_andItsCirclesTellTheAngleOnlyWhereNoOthersDo() {
        Analysis both = withoutDesignedAngles(Drive.TWO_WHEEL, Drive.FOUR_WHEEL).analysed();
        String ideal =
                " In 4WD the front axle skids and widens the path; what the stops make of it is the value for ideal"
                        + " steering.";
        assertThat(leftRight(both).sentence()).doesNotContain(ideal);
        assertThat(both.asymmetries().get(1).finding().sentence())
                .contains("shown in 2WD")
                .endsWith(ideal);
        Analysis only = withoutDesignedAngles(Drive.FOUR_WHEEL).analysed();
        assertThat(only.stops().get(1).fromCircles().orElseThrow().drive()).isEqualTo(Drive.FOUR_WHEEL);
        assertThat(leftRight(only).sentence()).contains("shown in 4WD").endsWith(ideal);
    }

    @Test
    void withoutAngleAndBlades_itCannotBeSaid() {
        Finding finding = leftRight(Trials.inMillimetres()
                .machine("Alder")
                .deckOffset(10)
                .axles(1450, 950)
                .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                .stop(Turn.RIGHT, 28, 33, Double.NaN, 80)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .analysed());
        assertThat(finding.part("steeringStops")).isEmpty();
        assertThat(finding.sentence())
                .endsWith(" What the steering stops make of it cannot be said; missing: the designed left lock angle"
                        + " (machines.csv), or the blade positions (blades.csv), by which left circles without brakes tell it;"
                        + " the designed right lock angle (machines.csv), or the blade positions (blades.csv), by which right"
                        + " circles without brakes tell it.");
    }

    private static Contribution contribution(Analysis analysis, String name) {
        return analysis.asymmetries().get(0).geometry().orElseThrow().contributions().stream()
                .filter(c -> c.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    /** Each turn has a linkage of its own that strays by itself. */
    @Test
    void linkagesOfBothTurns_areInTheUncertainty() {
        Analysis analysis = withoutDesignedAngles(Drive.TWO_WHEEL).analysed();
        assertThat(contribution(analysis, "linkage against ideal steering, left")
                        .standardUncertainty())
                .isEqualTo(Math.toRadians(1));
        assertThat(Math.abs(contribution(analysis, "linkage against ideal steering, right")
                        .effect()))
                .isGreaterThan(0.001);
    }

    @Test
    void effects_comeLeftBeforeRight_howeverTheyWereNoted() {
        Analysis analysis = machine(1600, 1650)
                .stop(Turn.RIGHT, 28, 28, Double.NaN, 80)
                .stop(Turn.LEFT, Turn.RIGHT, 28, 29, Double.NaN, 80, Optional.empty())
                .stop(Turn.LEFT, 28, 33, Double.NaN, 80)
                .analysed();
        assertThat(analysis.stops())
                .extracting(s -> s.stop().side(), s -> s.stop().limits())
                .containsExactly(
                        tuple(Turn.LEFT, Turn.LEFT), tuple(Turn.LEFT, Turn.RIGHT), tuple(Turn.RIGHT, Turn.RIGHT));
        assertThat(analysis.stops()).extracting(StopEffect::missing).containsOnly("");
        assertThat(analysis.stops().get(0).driven().orElseThrow().deviation()).isCloseTo(5 * MM, within(1e-12));
    }

    /** What both stops lack is asked for once. */
    @Test
    void whatBothStopsLack_isNamedOnce() {
        String sentence = leftRight(Trials.inMillimetres()
                        .machine("Alder")
                        .deckOfThree(0)
                        .stop(Turn.LEFT, 28, 28, Double.NaN, 80)
                        .stop(Turn.RIGHT, 28, 33, Double.NaN, 80)
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                        .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                        .analysed())
                .sentence();
        assertThat(sentence.split("wheelbase and front track", -1)).hasSize(2);
    }

    /**
     * By hand: an arm of 1.5 mm is known to 2 mm, and none is below 0, so the longer one alone tells it: 0.03/1.5 = 0.02 rad
     * less 0.03/3.5. Beside it 0.1 mm of protrusion over 1.5 mm.
     */
    @Test
    void armThatIsHardlyKnown_isMovedToWhereItCanBe() {
        StopEffect.Change change = driven(
                machine(1600, 1600).stop(Turn.LEFT, 28, 28.03, Double.NaN, 1.5).analysed(), 0);
        assertThat(change.lock().value()).isCloseTo(-0.02, within(1e-9));
        assertThat(change.lock().standardUncertainty())
                .isCloseTo(Math.hypot(0.1 / 1.5, 0.02 - 0.03 / 3.5), within(1e-9));
    }

    /** Designed for 89.5°, known to 1°: no wheel turns in beyond 90°, so what 88.5° would make tells it. */
    @Test
    void lockAngleNearTheQuarterTurn_isMovedToWhereItCanBe() {
        StopEffect.Change change = driven(
                Trials.inMillimetres()
                        .machine("Alder")
                        .deckOfThree(0)
                        .steering(1450, 950, 89.5, 89.5)
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                        .stop(Turn.LEFT, 28, 38, Double.NaN, 100)
                        .analysed(),
                0);
        double out = Math.toDegrees(0.1);
        double here = wider(89.5, 89.5 - out);
        assertThat(change.radius().value()).isCloseTo(here, within(1e-9));
        double byLock = here - wider(88.5, 88.5 - out);
        double slope = 1.45 / Math.pow(Math.sin(Math.toRadians(89.5 - out)), 2);
        double byArm = slope * 0.1 * 2 / 100;
        double byProtrusion = slope * 0.1 / 100;
        double byWheelbase = here * 5 / 1450;
        assertThat(change.radius().standardUncertainty())
                .isCloseTo(
                        Math.sqrt(byLock * byLock
                                + byArm * byArm
                                + byProtrusion * byProtrusion
                                + byWheelbase * byWheelbase),
                        within(1e-5));
    }

    private static double wider(double built, double driven) {
        return 1.45 * (1 / Math.tan(Math.toRadians(driven)) - 1 / Math.tan(Math.toRadians(built)));
    }
}
