package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.assertj.core.data.Offset;
import org.assertj.core.data.Percentage;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CircleAnova;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.junit.jupiter.api.Test;

/**
 * What is made of one machine's circles. Where every circle of a trial is read once straight across, a cell's mean is the plain
 * mean of its n circles, and its variance that of one new circle divided by n; most of what is expected here follows from that.
 * It is so but for 1 − 2p²/chord² in each reading's sensitivity, which makes a reading worth 1.001 and moves a mean by less
 * than 0.1 µm.
 */
class MachineEstimateTest {
    private static final Cell LEFT = cell(Turn.LEFT, Drive.TWO_WHEEL);
    private static final Cell RIGHT = cell(Turn.RIGHT, Drive.TWO_WHEEL);
    private static final Offset<Double> ALIKE = within(1e-7);
    private static final Percentage WORTH_ALIKE = withinPercentage(0.2);
    private static final DecisionRule RULE = new DecisionRule(0.05, 0.95);

    /** Of the edge, ±5 mm seen outward on either side of a diameter, rectangular. */
    private static final double EDGE = 0.010 / Math.sqrt(3);

    /** Three circles each way, each read once; means of the tape 1600 and 1710 mm. */
    private static final MachineEstimate PLAIN = only(plain());

    private static Trials plain() {
        return Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1590)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1602)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1608)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .circle("5", Turn.RIGHT, Drive.TWO_WHEEL, 1712)
                .circle("6", Turn.RIGHT, Drive.TWO_WHEEL, 1718);
    }

    private static Cell cell(Turn turn, Drive drive) {
        return new Cell("Alder", turn, drive, Brakes.NONE);
    }

    private static MachineEstimate only(Trials trials) {
        return Trials.machines(trials.trial()).get(0);
    }

    /** The same machine under the same conditions, without some of its circles. */
    private static Map<Cell, List<CircleResult>> without(MachineEstimate machine, String... ids) {
        Map<Cell, List<CircleResult>> rest = new LinkedHashMap<>();
        machine.circles().forEach((cell, all) -> {
            List<CircleResult> left = all.stream()
                    .filter(c -> !List.of(ids).contains(c.circle().id()))
                    .toList();
            if (!left.isEmpty()) {
                rest.put(cell, left);
            }
        });
        return rest;
    }

    private static Conditions conditions() {
        return plain().trial().conditions();
    }

    /** A chord that missed the centre by 25 mm, root mean square, is too short by 2p²/chord (m). */
    private static double diameter(double chord) {
        return chord + 2 * 0.025 * 0.025 / chord;
    }

    private static double square(double x) {
        return x * x;
    }

    @Test
    void cells_areInOrder_howeverCirclesCome() {
        Trials trials = Trials.inMillimetres()
                .machine("Birch")
                .circle("0", Turn.LEFT, Drive.FOUR_WHEEL, 1900)
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1500)
                .withBrakes()
                .circle("2", Turn.RIGHT, Drive.FOUR_WHEEL, 1700)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 1650)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1600)
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, 1550)
                .circle("6", Turn.LEFT, Drive.TWO_WHEEL, 1552)
                .circle("7", Turn.RIGHT, Drive.TWO_WHEEL, 9000)
                .takenOut("mark lost");
        MachineEstimate alder = Trials.machines(trials.trial()).get(1);
        assertThat(alder.machine().id()).isEqualTo("Alder");
        assertThat(alder.cells())
                .extracting(Cell::toString)
                .containsExactly(
                        "Alder, left, 2WD",
                        "Alder, right, 2WD",
                        "Alder, left, 4WD",
                        "Alder, right, 4WD",
                        "Alder, left, 2WD, brakes used");
        assertThat(alder.circles().values())
                .extracting(
                        all -> all.stream().map(c -> c.circle().id()).toList().toString())
                .containsExactly("[5, 6]", "[4]", "[3]", "[2]", "[1]");
        assertThat(alder.coefficients(Map.of(RIGHT, 2.0, cell(Turn.LEFT, Drive.FOUR_WHEEL), -3.0)))
                .containsExactly(0, 2, -3, 0, 0);
        assertThat(alder.has(RIGHT)).isTrue();
        assertThat(alder.has(new Cell("Alder", Turn.RIGHT, Drive.TWO_WHEEL, Brakes.USED)))
                .isFalse();
    }

    @Test
    void withoutACircleThatCounts_thereIsNoEstimate() {
        Trial trial = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1500)
                .takenOut("mark lost")
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                .trial();
        assertThat(MachineEstimate.of(trial.machines().get(0), trial.conditions(), Trials.circles(trial)))
                .isEmpty();
    }

    @Test
    void meanOfACell_isThatOfItsCircles() {
        double left = (diameter(1.590) + diameter(1.602) + diameter(1.608)) / 3;
        double right = (diameter(1.700) + diameter(1.712) + diameter(1.718)) / 3;
        assertThat(PLAIN.mean(LEFT)).isCloseTo(left, ALIKE);
        assertThat(PLAIN.mean(RIGHT)).isCloseTo(right, ALIKE);
        MachineEstimate.Contrast contrast = PLAIN.contrast(new double[] {-1, 2}, 0.25, 0);
        assertThat(contrast.value()).isCloseTo(0.25 + 2 * right - left, within(3e-7));
        assertThat(contrast.mixture().mean()).isCloseTo(contrast.value(), within(1e-9));
    }

    /**
     * Three circles each way: 2/3 of a new circle's variance, what tape and missed centre differ by, the geometry and the new
     * circles. The edge is the same on both sides and cancels.
     */
    @Test
    void varianceOfADifference_isTheSumOfItsParts() {
        double newCircle = PLAIN.posterior().newCircleVariance();
        double tape = (0.0003 + 0.0002 * 2) / Math.sqrt(3); // class II, both lengths begin their second metre
        double left = 0;
        double right = 0;
        double tapeLeft = 0;
        double tapeRight = 0;
        for (double chord : new double[] {1.590, 1.602, 1.608}) {
            left += 2 * 0.025 * 0.025 / chord / Math.sqrt(3) / 3;
            tapeLeft += (1 - square(0.025 / chord) * 2) * tape / 3;
        }
        for (double chord : new double[] {1.700, 1.712, 1.718}) {
            right += 2 * 0.025 * 0.025 / chord / Math.sqrt(3) / 3;
            tapeRight += (1 - square(0.025 / chord) * 2) * tape / 3;
        }
        double shared = square(right - left) + square(tapeRight - tapeLeft);
        double[] c = {-1, 1};
        assertThat(PLAIN.shared(c).variance()).isCloseTo(shared, within(1e-15));
        assertThat(PLAIN.sharedVariance(LEFT)).isCloseTo(square(EDGE) + square(left) + square(tapeLeft), within(1e-10));
        assertThat(square(PLAIN.contrast(c, 0, 4e-4, 0.5).standardUncertainty()))
                .isCloseTo(newCircle * 2 / 3 + shared + 4e-4 + newCircle / 2, WORTH_ALIKE);
        assertThat(square(PLAIN.contrast(c, 0, 4e-4).standardUncertainty()))
                .isCloseTo(newCircle * 2 / 3 + shared + 4e-4, WORTH_ALIKE);
        assertThat(PLAIN.contrast(Map.of(LEFT, -1.0, RIGHT, 1.0)).standardUncertainty())
                .isEqualTo(PLAIN.contrast(c, 0, 0).standardUncertainty());
    }

    @Test
    void estimate_isThatOfTheWholeDistribution_atTheConfidenceOfTheTrial() {
        MachineEstimate machine = only(plain().confidence(0.8));
        MachineEstimate.Contrast contrast = machine.contrast(new double[] {-1, 1}, 0, 1e-4);
        Estimate estimate = contrast.estimate();
        assertThat(estimate.level()).isEqualTo(0.8);
        assertThat(estimate.value()).isEqualTo(contrast.value());
        assertThat(estimate.standardUncertainty()).isEqualTo(contrast.standardUncertainty());
        assertThat(contrast.mixture().probabilityBelow(estimate.low())).isCloseTo(0.1, within(1e-6));
        assertThat(contrast.mixture().probabilityAbove(estimate.high())).isCloseTo(0.1, within(1e-6));
        assertThat(contrast.estimate()).isSameAs(estimate);
        assertThat(contrast.mixture()).isSameAs(contrast.mixture());
        assertThat(contrast.mixture().standardDeviation()).isCloseTo(contrast.standardUncertainty(), within(1e-9));
    }

    /** A verdict for sentences looks at few parts, one for robustness at all of them: they agree. */
    @Test
    void decided_isWhatTheDistributionSays() {
        MachineEstimate.Contrast contrast = PLAIN.contrast(new double[] {-1, 1}, 0, 0);
        Verdict verdict = contrast.decided(RULE, DecisionRule.Asks.SIGNED).orElseThrow();
        assertThat(verdict.word()).isEqualTo("wider");
        assertThat(verdict.probability()).isCloseTo(contrast.mixture().probabilityAbove(0.05), within(1e-6));
        assertThat(contrast.decided(new DecisionRule(0.11, 0.95), DecisionRule.Asks.SIGNED))
                .isEmpty();
    }

    /** σ_w stays at its median, σ_b is what is asked for: each circle then has σ_b² + σ_w² + r². */
    @Test
    void ifTheCirclesScatteredSo_isOneNormal() {
        double sigmaW = PLAIN.posterior().reading(0.5).value();
        double circle = 0.03 * 0.03 + sigmaW * sigmaW + square(MachineEstimate.RESOLUTION);
        NormalMixture then =
                PLAIN.contrast(new double[] {-1, 1}, -0.11, 4e-4, 0.25).mixtureIf(0.03);
        assertThat(then.mean()).isCloseTo(PLAIN.mean(RIGHT) - PLAIN.mean(LEFT) - 0.11, ALIKE);
        assertThat(square(then.standardDeviation()))
                .isCloseTo(
                        circle * 2 / 3
                                + circle / 4
                                + 4e-4
                                + PLAIN.shared(new double[] {-1, 1}).variance(),
                        WORTH_ALIKE);
    }

    /**
     * By hand: deviations −10, 2, 8 and −10, 2, 8, so that s² = 2·168/4 = 84 mm² with 4 degrees of freedom. u² = 84·2/3 and what
     * tape and centre differ by, which is 0.002 mm². Student's t for 95 % and 4 degrees is 2.776 (t table).
     */
    @Test
    void difference_hasTheAnswerOfTheDataAloneBesideIt() {
        Difference difference = PLAIN.difference(LEFT, RIGHT);
        assertThat(difference.from()).isEqualTo(LEFT);
        assertThat(difference.to()).isEqualTo(RIGHT);
        assertThat(difference.estimate().value()).isCloseTo(PLAIN.mean(RIGHT) - PLAIN.mean(LEFT), within(1e-12));
        CircleAnova.DataOnly alone = difference.dataOnly().orElseThrow();
        assertThat(alone.estimate().value()).isCloseTo(0.10995, within(1e-5));
        assertThat(alone.estimate().standardUncertainty()).isCloseTo(0.001 * Math.sqrt(56), WORTH_ALIKE);
        assertThat(alone.estimate().halfWidth()).isCloseTo(2.776e-3 * Math.sqrt(56), WORTH_ALIKE);
        assertThat(alone.degreesOfFreedom()).isCloseTo(4, within(0.01));
        assertThat(alone.estimate().level()).isEqualTo(0.95);
        assertThat(PLAIN.anova().degreesBetween()).isEqualTo(4);
        assertThat(PLAIN.anova()).isSameAs(PLAIN.anova());
    }

    /** From one circle each way the data alone say nothing. */
    @Test
    void oneCircleEachWay_restsOnTheAssumption() {
        MachineEstimate machine = only(Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700));
        Difference difference = machine.difference(LEFT, RIGHT);
        assertThat(difference.dataOnly()).isEmpty();
        assertThat(difference.restsOnAssumption()).isTrue();
        assertThat(machine.cell(LEFT).restsOnAssumption()).isTrue();
    }

    /** A share is the relative change of u with the assumption: twenty circles say more of the scatter than it does, two less. */
    @Test
    void assumedShare_isHowUFollowsTheAssumption() {
        SplittableRandom random = new SplittableRandom(3);
        for (int each : new int[] {1, 10}) {
            Trials trials = Trials.inMillimetres().machine("Alder");
            for (int i = 0; i < each; i++) {
                trials.circle("L" + i, Turn.LEFT, Drive.TWO_WHEEL, 1600 + random.nextDouble(-20, 20));
                trials.circle("R" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1600 + random.nextDouble(-20, 20));
            }
            Trial trial = trials.trial();
            double[] c = {-1, 1};
            double step = 0.01;
            double up = logUncertainty(trial, 1 + step, c);
            double down = logUncertainty(trial, 1 - step, c);
            double share = only(trials).assumedShare(c);
            assertThat(share).isCloseTo((up - down) / (2 * step), within(0.005));
            assertThat(only(trials).contrast(c, 0, 0).restsOnAssumption()).isEqualTo(each == 1);
            assertThat(share > MachineEstimate.MOSTLY).isEqualTo(each == 1);
        }
    }

    private static double logUncertainty(Trial trial, double factor, double[] c) {
        MachineEstimate machine = MachineEstimate.of(
                        trial.machines().get(0),
                        trial.conditions().withAssumedRepeatability(factor),
                        Trials.circles(trial))
                .orElseThrow();
        return Math.log(machine.posterior().variance(c, 0, 0)) / 2;
    }

    @Test
    void cell_hasAllThatIsKnownOfIt() {
        MachineEstimate machine = only(plain().deckOfThree(40));
        for (Cell cell : machine.cells()) {
            CellEstimate known = machine.cell(cell);
            assertThat(known.cell()).isEqualTo(cell);
            assertThat(known.diameter().value()).isEqualTo(machine.mean(cell));
            assertThat(known.shared().edge()).isCloseTo(EDGE, within(1e-12));
            assertThat(known.shared().variance()).isEqualTo(machine.sharedVariance(cell));
            assertThat(known.circles()).isEqualTo(machine.circles().get(cell));
            assertThat(known.readings()).isEqualTo(3);
            assertThat(known.weights()).hasSize(3).allSatisfy(w -> assertThat(w).isCloseTo(1.0 / 3, within(1e-3)));
            double circle = square(machine.posterior().circleToCircle(0.5).value())
                    + square(machine.posterior().reading(0.5).value())
                    + square(MachineEstimate.RESOLUTION);
            assertThat(square(known.typicalUncertainty())).isCloseTo(circle / 3, WORTH_ALIKE);
            assertThat(known.restsOnAssumption()).isFalse();
            // what leaves a circle of that diameter is its turn radius, on the side it turns to
            double radius = known.turnRadius().orElseThrow().value();
            assertThat(DeckModel.of(machine.machine(), cell.drive())
                            .orElseThrow()
                            .deck()
                            .uncutDiameter(radius, cell.turn().sign()))
                    .isCloseTo(known.diameter().value(), within(1e-9));
        }
        assertThat(PLAIN.cell(LEFT).turnRadius()).isEmpty();
    }

    /** A circle read by chord and rise has a wider tape part: what does not average goes by the circles' weights. */
    @Test
    void partsThatDoNotAverage_areWeightedAsTheCirclesAre() {
        MachineEstimate machine = only(Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                .chordAndRise(1200, 300));
        CellEstimate cell = machine.cell(LEFT);
        double first = cell.weights().get(0);
        assertThat(first).isBetween(0.5, 0.9); // two readings across against one that multiplies every slip
        assertThat(first + cell.weights().get(1)).isCloseTo(1, within(1e-12));
        List<CircleResult> circles = cell.circles();
        assertThat(cell.shared().tape())
                .isCloseTo(
                        first * circles.get(0).shared().tape()
                                + (1 - first) * circles.get(1).shared().tape(),
                        within(1e-15));
        assertThat(cell.shared().missedCentre())
                .isCloseTo(first * circles.get(0).shared().missedCentre(), within(1e-15)); // a chord misses no centre
        assertThat(machine.mean(LEFT))
                .isStrictlyBetween(
                        circles.get(1).summary().orElseThrow().mean(),
                        circles.get(0).summary().orElseThrow().mean());
    }

    @Test
    void roughly_keepsMeanAndStandardDeviation() {
        double[] c = {-1, 1};
        NormalMixture rough = PLAIN.roughly(c);
        assertThat(rough.mean()).isCloseTo(PLAIN.posterior().mean(c, 0), within(1e-12));
        assertThat(rough.standardDeviation())
                .isCloseTo(Math.sqrt(PLAIN.posterior().variance(c, 0, 0)), within(1e-9));
        assertThat(PLAIN.roughly(new double[] {-1, 1})).isSameAs(rough);
        assertThat(PLAIN.roughly(new double[] {1, 0}).mean()).isCloseTo(PLAIN.mean(LEFT), within(1e-12));
    }

    /** Circles read twice: a new one is counted as read twice too, and a cell of three has a third of its variance. */
    @Test
    void levels_areOfCirclesReadAsOftenAsTheseWere() {
        MachineEstimate machine = only(Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1590, 1592)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1602, 1598)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1608, 1613));
        List<RepeatabilityPosterior.Level> levels = machine.levels();
        assertThat(levels).hasSizeBetween(6, 8);
        assertThat(levels.stream()
                        .mapToDouble(RepeatabilityPosterior.Level::weight)
                        .sum())
                .isCloseTo(1, within(1e-9));
        for (RepeatabilityPosterior.Level level : levels) {
            assertThat(level.cellVariances().get(0))
                    .isCloseTo(level.newCircleVariances().get(0) / 3, withinPercentage(0.1));
        }
        assertThat(machine.levels()).isSameAs(levels);
    }

    /** As circles that were not driven here cannot be driven now, they stay in the way just as geometry does. */
    @Test
    void outlook_countsNewCirclesAsWhatNoCircleMakesBetter() {
        double[] c = {-1, 1};
        double offset = 0.06 - PLAIN.contrast(c, 0, 0).value();
        double newCircle = PLAIN.posterior().newCircleVariance();
        Outlook with = PLAIN.contrast(c, offset, 1e-6, 0.25).outlook(RULE);
        Outlook geometry = PLAIN.contrast(c, offset, 1e-6 + newCircle / 4).outlook(RULE);
        assertThat(with.furtherCircles()).isEqualTo(geometry.furtherCircles());
        assertThat(with.chance()).isCloseTo(geometry.chance(), within(1e-9));
        Outlook none = PLAIN.contrast(c, offset, 1e-6).outlook(RULE);
        assertThat(with.chance()).isNotCloseTo(none.chance(), within(1e-3));
        assertThat(PLAIN.contrast(c, offset, 1e-6, 3).outlook(RULE).obstacle()).isEqualTo(Outlook.Obstacle.GEOMETRY);
    }

    @Test
    void outlook_ofStatedFiguresAlone_isThatNoCircleHelps() {
        double[] nothing = {0, 0};
        Outlook outlook = PLAIN.contrast(nothing, 0.06, 4e-4, 1).outlook(RULE);
        assertThat(outlook).isEqualTo(new Outlook(Map.of(), 0, Outlook.Obstacle.GEOMETRY));
        // one cell of two is enough to look ahead
        Outlook one =
                PLAIN.contrast(new double[] {0, 1}, 0.06 - PLAIN.mean(RIGHT), 0).outlook(RULE);
        assertThat(one.chance()).isPositive();
    }

    /** What the same readings are worth on a machine whose deck is elsewhere. */
    @Test
    void withAnotherMachine_onlyTheGeometryChanges() {
        MachineEstimate machine = only(plain().deckOfThree(0));
        MachineEstimate moved = machine.with(DeckModel.movedLeft(machine.machine(), 4));
        assertThat(moved.posterior()).isSameAs(machine.posterior());
        assertThat(moved.mean(LEFT)).isEqualTo(machine.mean(LEFT));
        assertThat(moved.sharedVariance(LEFT)).isEqualTo(machine.sharedVariance(LEFT));
        assertThat(moved.cell(LEFT).turnRadius().orElseThrow().value())
                .isNotCloseTo(machine.cell(LEFT).turnRadius().orElseThrow().value(), within(1e-3));
    }

    @Test
    void nearTheSame_isTheSameButForWhatItSaysItMayBeOff() {
        MachineEstimate near = PLAIN.near(conditions(), PLAIN.circles()).orElseThrow();
        assertThat(PLAIN.posterior().isNear()).isFalse();
        assertThat(near.posterior().isNear()).isTrue();
        assertThat(near.cells()).isEqualTo(PLAIN.cells());
        assertThat(near.mean(LEFT)).isCloseTo(PLAIN.mean(LEFT), ALIKE);
        assertThat(near.sharedVariance(LEFT)).isEqualTo(PLAIN.sharedVariance(LEFT));
        double[] c = {-1, 1};
        assertThat(near.contrast(c, 0, 0).mixture().probabilityAbove(0.11))
                .isCloseTo(
                        PLAIN.contrast(c, 0, 0).mixture().probabilityAbove(0.11),
                        within(RepeatabilityPosterior.NEARLY));
        assertThat(near.posteriorInFull().isNear()).isFalse();
        assertThat(near.posteriorInFull()).isSameAs(near.posteriorInFull());
        assertThat(near.posteriorInFull().variance(c, 0, 0))
                .isCloseTo(PLAIN.posterior().variance(c, 0, 0), withinPercentage(1e-9));
        assertThat(PLAIN.posteriorInFull()).isSameAs(PLAIN.posterior());
    }

    /** A circle left out changes its own cell; with the last of a cell the cell is gone, with the last of all everything. */
    @Test
    void nearWithCirclesLeftOut_theRestIsThere() {
        MachineEstimate near = PLAIN.near(conditions(), without(PLAIN, "1")).orElseThrow();
        assertThat(near.mean(LEFT)).isCloseTo((diameter(1.602) + diameter(1.608)) / 2, ALIKE);
        assertThat(near.mean(RIGHT)).isCloseTo(PLAIN.mean(RIGHT), ALIKE);
        assertThat(near.cell(LEFT).circles()).hasSize(2);

        MachineEstimate right =
                PLAIN.near(conditions(), without(PLAIN, "1", "2", "3")).orElseThrow();
        assertThat(right.cells()).containsExactly(RIGHT);
        assertThat(right.mean(RIGHT)).isCloseTo(PLAIN.mean(RIGHT), ALIKE);
        assertThat(right.sharedVariance(RIGHT)).isEqualTo(PLAIN.sharedVariance(RIGHT));

        assertThat(PLAIN.near(conditions(), Map.of())).isEmpty();
    }

    /** What does not average is worked out again where a circle is missing: chord and rise miss no centre. */
    @Test
    void nearWithACircleLeftOut_itsPartsThatDoNotAverageAreGoneToo() {
        MachineEstimate machine = only(plain().circle("7", Turn.LEFT, Drive.TWO_WHEEL)
                .chordAndRise(1200, 300)
                .circle("8", Turn.RIGHT, Drive.TWO_WHEEL)
                .chordAndRise(1200, 290));
        MachineEstimate near = machine.near(conditions(), without(machine, "7")).orElseThrow();
        double[] left = {1, 0};
        assertThat(near.shared(left).missedCentre())
                .isCloseTo(PLAIN.shared(left).missedCentre(), withinPercentage(0.01));
        assertThat(machine.shared(left).missedCentre())
                .isLessThan(0.98 * PLAIN.shared(left).missedCentre());
        assertThat(near.shared(new double[] {0, 1})).isEqualTo(machine.shared(new double[] {0, 1}));
    }

    /** Other assumptions are those of a machine estimated under them. */
    @Test
    void nearUnderOtherAssumptions_isEstimatedUnderThem() {
        Trial trial = plain().confidence(0.9).trial();
        Conditions changed = trial.conditions().withAssumedRepeatability(2);
        MachineEstimate near = PLAIN.near(changed, PLAIN.circles()).orElseThrow();
        MachineEstimate full = MachineEstimate.of(trial.machines().get(0), changed, Trials.circles(trial))
                .orElseThrow();
        double[] c = {-1, 1};
        double x = 0.12;
        assertThat(near.contrast(c, 0, 0).mixture().probabilityAbove(x))
                .isCloseTo(full.contrast(c, 0, 0).mixture().probabilityAbove(x), within(RepeatabilityPosterior.NEARLY));
        assertThat(near.posteriorInFull().variance(c, 0, 0))
                .isCloseTo(full.posterior().variance(c, 0, 0), withinPercentage(1e-9));
        assertThat(full.posterior().variance(c, 0, 0))
                .isNotCloseTo(PLAIN.posterior().variance(c, 0, 0), withinPercentage(1));
        assertThat(near.contrast(c, 0, 0).estimate().level()).isEqualTo(0.9);
    }

    /**
     * A verdict is settled by the near posterior where it is sure, and by the one in full where a probability lies within
     * what the near one may be off: with a confidence between the two, the one in full is right.
     */
    @Test
    void verdictOfANearPosterior_fallsBackOnTheOneInFullOnlyWhereItIsClose() {
        MachineEstimate near = PLAIN.near(conditions(), without(PLAIN, "1")).orElseThrow();
        MachineEstimate full = MachineEstimate.of(
                        PLAIN.machine(),
                        conditions(),
                        near.circles().values().stream().flatMap(List::stream).toList())
                .orElseThrow();
        double[] c = {-1, 1};
        int apart = 0;
        for (double margin = 0.07; margin < 0.1; margin += 0.002) {
            double quick = rule(margin, 0.95).chances(mixture(near, c)).above();
            double right = rule(margin, 0.95).chances(mixture(full, c)).above();
            if (Math.abs(quick - right) < 1e-7 || right < 0.6) {
                continue;
            }
            apart++;
            Optional<Verdict> close =
                    near.contrast(c, 0, 0).decided(rule(margin, (quick + right) / 2), DecisionRule.Asks.UNSIGNED);
            assertThat(close.isPresent()).as("margin %s", margin).isEqualTo(right > quick);
            close.ifPresent(v -> assertThat(v.probability()).isCloseTo(right, within(1e-9)));
            Verdict clear = near.contrast(c, 0, 0)
                    .decided(rule(margin, quick - 0.05), DecisionRule.Asks.UNSIGNED)
                    .orElseThrow();
            assertThat(clear.probability()).isCloseTo(quick, within(1e-12));
        }
        assertThat(apart).isGreaterThan(3);
    }

    /** Every part of the distribution, as the verdict alone looks at it. */
    private static NormalMixture mixture(MachineEstimate machine, double[] c) {
        return machine.posterior().contrast(c, 0, machine.shared(c).variance());
    }

    private static DecisionRule rule(double margin, double confidence) {
        return new DecisionRule(margin, confidence);
    }

    /** Several questions share a contrast of readings alone. */
    @Test
    void contrastOfReadingsAlone_isWorkedOutOnce() {
        assertThat(PLAIN.contrast(Map.of(LEFT, 1.0))).isSameAs(PLAIN.contrast(Map.of(LEFT, 1.0)));
        List<MachineEstimate.Contrast> others = new ArrayList<>();
        others.add(PLAIN.contrast(Map.of(LEFT, -1.0)));
        others.add(PLAIN.contrast(Map.of(RIGHT, 1.0)));
        assertThat(others).doesNotContain(PLAIN.contrast(Map.of(LEFT, 1.0)));
        assertThat(others.get(0).value()).isCloseTo(-PLAIN.mean(LEFT), within(1e-12));
    }
}
