package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking.Influence;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;

/**
 * By hand on one blade 0.6 m ahead and 0.1 m to the left with a tip radius of 0.2 m: R = √((D/2 + 0.2)² − 0.36) ± 0.1, and 1.6 m
 * are R = 0.9 m in a left turn.
 */
class ReferenceFiguresTest {
    private static final Cell LEFT = cell(Turn.LEFT, Drive.TWO_WHEEL);
    private static final Cell RIGHT = cell(Turn.RIGHT, Drive.TWO_WHEEL);
    private static final Cell RIGHT_4WD = cell(Turn.RIGHT, Drive.FOUR_WHEEL);
    private static final double ROUNDED = 1e-9;
    /** Slopes are difference quotients over 1 mm. */
    private static final double SLOPE = 1e-6;

    private static Cell cell(Turn turn, Drive drive) {
        return new Cell("Alder", turn, drive, Brakes.NONE);
    }

    private static Trials oneBlade() {
        return Trials.inMillimetres().machine("Alder").blade(600, 100, 200);
    }

    private static Machine machine(Trials trials) {
        return trials.trial().machines().get(0);
    }

    private static Reference said(double metres, Quantity quantity, Turn turn, Optional<Length> uncertainty) {
        return new Reference(
                "Alder",
                Optional.empty(),
                Optional.of(new Length(metres)),
                quantity,
                Optional.of(turn),
                Optional.empty(),
                Brakes.NONE,
                uncertainty,
                OptionalInt.empty(),
                "manual",
                "");
    }

    private static ReferenceFigures left(double metres, Quantity quantity, Trials trials) {
        return new ReferenceFigures(
                List.of(said(metres, quantity, Turn.LEFT, Optional.of(Length.mm(5)))), machine(trials));
    }

    private static double across(double r, double ahead, double left) {
        return 2 * (Math.hypot(ahead, r + left) - 0.2);
    }

    private static Map<String, Double> effects(ReferenceFigures.Figure figure) {
        return figure.contributions().stream().collect(Collectors.toMap(Contribution::name, Contribution::effect));
    }

    @Test
    void aTurnThatIsStated_isTakenAsItIs() {
        ReferenceFigures.Figure said =
                left(1.6, Quantity.UNCUT_DIAMETER, oneBlade()).of(LEFT).orElseThrow();
        assertThat(said.diameter()).isEqualTo(1.6);
        assertThat(said.slope()).isEqualTo(1);
        assertThat(said.workedOut()).isFalse();
        assertThat(said.cell()).isEqualTo(LEFT);
    }

    @Test
    void theOtherTurn_hasTheSameTurnRadius() {
        ReferenceFigures.Figure right =
                left(1.6, Quantity.UNCUT_DIAMETER, oneBlade()).of(RIGHT).orElseThrow();
        assertThat(right.workedOut()).isTrue();
        assertThat(right.diameter()).isCloseTo(across(0.9, 0.6, 0.1), within(ROUNDED));
        // dD/dR of the right turn over that of the left: (1/√1.36)/0.8
        assertThat(right.slope()).isCloseTo(1 / Math.sqrt(1.36) / 0.8, within(SLOPE));
        Map<String, Double> effects = effects(right);
        // with the deck d further to the left the same left circle is of an R larger by d, and the blade d further out
        assertThat(effects.get("deck offset"))
                .isCloseTo((across(0.905, 0.6, 0.105) - across(0.895, 0.6, 0.095)) / 2, within(ROUNDED));
        double up = Math.sqrt(1 - 0.575 * 0.575) + 0.1;
        double down = Math.sqrt(1 - 0.625 * 0.625) + 0.1;
        assertThat(effects.get("turn centre shift"))
                .isCloseTo((across(up, 0.575, 0.1) - across(down, 0.625, 0.1)) / 2, within(ROUNDED));
    }

    /** A figure that is a turn radius: the deck moves the circle of the other turn alone. */
    @Test
    void aTurnRadius_isTheSameWhateverTheDeck() {
        ReferenceFigures figures = left(0.9, Quantity.TURN_RADIUS, oneBlade());
        assertThat(figures.of(LEFT).orElseThrow().diameter()).isCloseTo(1.6, within(ROUNDED));
        ReferenceFigures.Figure right = figures.of(RIGHT).orElseThrow();
        assertThat(right.diameter()).isCloseTo(across(0.9, 0.6, 0.1), within(ROUNDED));
        // 2·cos φ of the right turn for a metre of R
        assertThat(right.slope()).isCloseTo(2 / Math.sqrt(1.36), within(SLOPE));
        assertThat(effects(right).get("deck offset"))
                .isCloseTo((across(0.9, 0.6, 0.105) - across(0.9, 0.6, 0.095)) / 2, within(ROUNDED));
    }

    /** What a figure owes to axles goes over into the other turn by the slope between the two circles. */
    @Test
    void whatTheFigureOwesToOtherDimensions_goesOverIntoTheOtherTurn() {
        ReferenceFigures figures =
                left(5, Quantity.TURNING_CIRCLE_DIAMETER, oneBlade().axles(1500, 1000));
        ReferenceFigures.Figure said = figures.of(LEFT).orElseThrow();
        ReferenceFigures.Figure right = figures.of(RIGHT).orElseThrow();
        // 2.5² = 1.5² + 2²: R = 2 − 0.5; its own blade runs √(0.36 + 1.4²) round, the other √(0.36 + 1.6²)
        assertThat(said.diameter()).isCloseTo(across(1.5, 0.6, -0.1), within(ROUNDED));
        assertThat(right.diameter()).isCloseTo(across(1.5, 0.6, 0.1), within(ROUNDED));
        double slope = (1.6 / Math.hypot(0.6, 1.6)) / (1.4 / Math.hypot(0.6, 1.4));
        assertThat(right.slope()).isCloseTo(slope * said.slope(), within(SLOPE));
        for (String name : List.of("wheelbase", "front track")) {
            assertThat(effects(said).get(name)).isNotZero();
            assertThat(effects(right).get(name)).isCloseTo(slope * effects(said).get(name), within(SLOPE));
        }
        // each dimension once
        assertThat(right.contributions()).extracting(Contribution::name).doesNotHaveDuplicates();
    }

    /** 60° to the left and 50° to the right: R is larger by L·(cot 50° − cot 60°). */
    @Test
    void designedLockAngles_makeTheOtherTurnWider() {
        ReferenceFigures.Figure right = left(
                        1.6, Quantity.UNCUT_DIAMETER, oneBlade().steering(1500, 1000, 60, 50))
                .of(RIGHT)
                .orElseThrow();
        double more = 1.5 * (1 / Math.tan(Math.toRadians(50)) - 1 / Math.tan(Math.toRadians(60)));
        assertThat(right.diameter()).isCloseTo(across(0.9 + more, 0.6, 0.1), within(ROUNDED));
    }

    @Test
    void whatCannotBeWorkedOut_isEmpty() {
        Trials nothingKnown = Trials.inMillimetres().machine("Alder");
        assertThat(left(1.6, Quantity.UNCUT_DIAMETER, nothingKnown).of(LEFT)).isPresent();
        assertThat(left(1.6, Quantity.UNCUT_DIAMETER, nothingKnown).of(RIGHT)).isEmpty();
        // no blade leaves so small a circle
        assertThat(left(0.1, Quantity.UNCUT_DIAMETER, oneBlade()).of(RIGHT)).isEmpty();
        // a blade far to the left cuts through the centre of the left turn that goes with 1 m in a right one
        ReferenceFigures right = new ReferenceFigures(
                List.of(said(1, Quantity.UNCUT_DIAMETER, Turn.RIGHT, Optional.empty())),
                machine(Trials.inMillimetres().machine("Alder").blade(100, 300, 300)));
        assertThat(right.of(RIGHT)).isPresent();
        assertThat(right.of(LEFT)).isEmpty();
        // with brakes it is another thing
        assertThat(left(1.6, Quantity.UNCUT_DIAMETER, oneBlade())
                        .of(new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.USED)))
                .isEmpty();
    }

    @Test
    void readOtherwise_valueAndUncertaintyGoAlong() {
        ReferenceFigures figures = left(0.9, Quantity.TURN_RADIUS, oneBlade());
        assertThat(figures.withTurnsExchanged().of(RIGHT).orElseThrow().workedOut())
                .isFalse();
        ReferenceFigures.Figure twice =
                figures.takenFor(Quantity.UNCUT_DIAMETER, 2).of(LEFT).orElseThrow();
        assertThat(twice.diameter()).isCloseTo(1.8, within(ROUNDED));
        assertThat(twice.row().uncertainty()).contains(Length.mm(10));
        assertThat(figures.quantity()).contains(Quantity.TURN_RADIUS);
        ReferenceFigures mixed = new ReferenceFigures(
                List.of(
                        said(0.9, Quantity.TURN_RADIUS, Turn.LEFT, Optional.empty()),
                        said(1.6, Quantity.UNCUT_DIAMETER, Turn.RIGHT, Optional.empty())),
                machine(Trials.inMillimetres().machine("Alder")));
        assertThat(mixed.quantity()).isEmpty();
        assertThat(mixed.missing()).containsExactly("the blade positions (blades.csv)");
        assertThat(figures.missing()).isEmpty();
    }

    /** One row for a turn, both drives of the other worked out from it. */
    @Test
    void influences_areSharedAsFarAsTheyAreTheSame() {
        ReferenceFigures stated = left(1.6, Quantity.UNCUT_DIAMETER, oneBlade());
        List<ReferenceFigures.Figure> figures = new ArrayList<>();
        for (Cell cell : List.of(LEFT, RIGHT, RIGHT_4WD)) {
            figures.add(stated.of(cell).orElseThrow());
        }
        double slope = figures.get(1).slope();
        List<Influence> all = ReferenceFigures.influences(figures, 0.007);
        // what is stated with the figure, and nothing of another tape and eye
        assertThat(all.get(0)).isEqualTo(new Influence(0.005 * 0.005, 0, List.of(1.0, slope, slope)));
        Map<String, Double> two = effects(figures.get(1));
        Map<String, Double> four = effects(figures.get(2));
        assertThat(all).contains(new Influence(1, 0, List.of(0.0, two.get("deck offset"), four.get("deck offset"))));
        assertThat(all).contains(new Influence(1, 0, List.of(0.0, two.get("turn centre shift"), 0.0)));
        assertThat(all).contains(new Influence(1, 0, List.of(0.0, 0.0, four.get("turn centre shift"))));
        assertThat(all).last().isEqualTo(new Influence(0.025 * 0.025, 0, List.of(0.0, 1.0, 1.0)));
        assertThat(all).noneMatch(i -> i.loadings().equals(List.of(0.0, 0.0, 0.0)));
        // deck offset, ahead of rear axle, tip radius; the shift for either drive; the row; the two alike
        assertThat(all).hasSize(7);
    }

    /** Where no uncertainty is stated the figure is as good as the circles behind it, measured by another tape and eye. */
    @Test
    void withoutAStatedUncertainty_theFigureIsACircleOfAnotherTape() {
        Reference alone = said(1.6, Quantity.UNCUT_DIAMETER, Turn.LEFT, Optional.empty());
        Reference four = new Reference(
                "Alder",
                Optional.empty(),
                Optional.of(new Length(1.7)),
                Quantity.UNCUT_DIAMETER,
                Optional.of(Turn.RIGHT),
                Optional.empty(),
                Brakes.NONE,
                Optional.empty(),
                OptionalInt.of(4),
                "manual",
                "");
        ReferenceFigures figures = new ReferenceFigures(List.of(alone, four), machine(oneBlade()));
        List<Influence> all = ReferenceFigures.influences(
                List.of(figures.of(LEFT).orElseThrow(), figures.of(RIGHT).orElseThrow()), 0.007);
        assertThat(all)
                .containsExactly(
                        new Influence(0, 1, List.of(1.0, 0.0)),
                        new Influence(0, 0.25, List.of(0.0, 1.0)),
                        new Influence(0.007 * 0.007, 0, List.of(1.0, 1.0)));
    }

    /**
     * Circles, tape and eye scatter uncut diameters, whatever the figure is of: a claim of the same radius has it so. Both were
     * widened as if they were radii, and a verdict fell with it.
     */
    @Test
    void withoutAStatedUncertainty_aRadiusScattersAsTheCircleItStandsFor() {
        ReferenceFigures radius = new ReferenceFigures(
                List.of(said(0.9, Quantity.TURN_RADIUS, Turn.LEFT, Optional.empty())), machine(oneBlade()));
        ReferenceFigures.Figure left = radius.of(LEFT).orElseThrow();
        ReferenceFigures.Figure right = radius.of(RIGHT).orElseThrow();
        ReferenceFigures.Figure ofCircle = new ReferenceFigures(
                        List.of(said(left.diameter(), Quantity.UNCUT_DIAMETER, Turn.LEFT, Optional.empty())),
                        machine(oneBlade()))
                .of(RIGHT)
                .orElseThrow();
        assertThat(left.slope()).isGreaterThan(1.5);
        List<Influence> all = ReferenceFigures.influences(List.of(left, right), 0.007);
        assertThat(all.get(0).newCircles()).isEqualTo(1);
        assertThat(all.get(0).loadings().get(0)).isEqualTo(1);
        assertThat(all.get(0).loadings().get(1)).isCloseTo(ofCircle.slope(), within(1e-9));
        assertThat(all.get(1))
                .isEqualTo(new Influence(0.007 * 0.007, 0, all.get(0).loadings()));
    }
}
