package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import org.assertj.core.data.Offset;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

class ConversionTest {
    private static Measured metres(double metres) {
        return new Measured(new Length(metres), Optional.empty());
    }

    private static Blade blade(double ahead, double left, double tip) {
        return new Blade("middle", metres(ahead), metres(left), metres(tip));
    }

    private static Machine machine(double wheelbase, double track, List<Blade> blades) {
        return new Machine(
                "Cedar 20",
                "Cedar 20",
                Optional.of(metres(wheelbase)),
                Optional.of(metres(track)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                blades,
                List.of());
    }

    private static final Machine CEDAR = machine(1.5, 1.0, List.of(blade(0.9, 0.3, 0.5)));
    private static final OutermostPoint CORNER = new OutermostPoint(metres(2.1), metres(0.5));

    private static Conversion convert(Machine machine, Quantity quantity, double value, Optional<Turn> turn) {
        return Conversion.of(new Conversion.Given(
                machine,
                Optional.of(CORNER),
                quantity,
                new Length(value),
                Length.mm(0),
                turn,
                Drive.TWO_WHEEL,
                LengthUnit.MILLIMETRE));
    }

    private static Estimate figure(Conversion conversion, Quantity quantity, Turn turn) {
        return conversion.figure(quantity, turn).orElseThrow();
    }

    /**
     * Own derivation, by right triangles. R = 1.5 m. The outer front wheel runs 1.5 m ahead and 1.5 + 0.5 m out: 3-4-5, 2.5 m.
     * The corner 2.1 m ahead and 2.0 m out: 20-21-29, 2.9 m. In a left turn the blade lies 0.9 m ahead and 1.5 − 0.3 m out:
     * 3-4-5, 1.5 m, less its tip 1.0 m; in a right turn 1.5 + 0.3 m out. Definitions: ISO 789-3, from memory.
     */
    @Test
    void aTurnRadius_byHand() {
        Conversion c = convert(CEDAR, Quantity.TURN_RADIUS, 1.5, Optional.empty());
        assertThat(c.rows()).hasSize(8);
        for (Turn turn : Turn.values()) {
            assertThat(figure(c, Quantity.TURNING_CIRCLE_DIAMETER, turn).value())
                    .isCloseTo(5.0, within(1e-12));
            assertThat(figure(c, Quantity.CLEARANCE_CIRCLE_DIAMETER, turn).value())
                    .isCloseTo(5.8, within(1e-12));
            assertThat(figure(c, Quantity.TURN_RADIUS, turn).value()).isEqualTo(1.5);
        }
        assertThat(figure(c, Quantity.UNCUT_DIAMETER, Turn.LEFT).value()).isCloseTo(2.0, within(1e-12));
        assertThat(figure(c, Quantity.UNCUT_DIAMETER, Turn.RIGHT).value())
                .isCloseTo(2 * (Math.sqrt(0.81 + 3.24) - 0.5), within(1e-12));
    }

    /**
     * Own derivation. With ρ = hypot(a, r) a circle 2ρ moves by 2a/ρ per metre of a, by 2r/ρ of r, and by −2a/ρ of the turn
     * centre shift (25 mm in 2WD). Front wheel: 1.2 · 5 mm, 1.6 · 10/2 mm, 1.2 · 25 mm. Corner: 4.2/2.9 · 10 mm, 4/2.9 · 10 mm,
     * 4.2/2.9 · 25 mm. Blade: 1.2 · 5 mm ahead, 1.6 · 5 mm sideways, 2 · 2 mm of tip radius, 1.2 · 25 mm.
     */
    @Test
    void itsUncertainty_isTheGeometrys_byHand() {
        Conversion c = convert(CEDAR, Quantity.TURN_RADIUS, 1.5, Optional.of(Turn.LEFT));
        double curvature = 2e-5; // a step of 25 mm is not quite straight: third order
        assertThat(figure(c, Quantity.TURNING_CIRCLE_DIAMETER, Turn.LEFT).standardUncertainty())
                .isCloseTo(Math.sqrt(6 * 6 + 8 * 8 + 30 * 30) / 1000, within(curvature));
        assertThat(figure(c, Quantity.CLEARANCE_CIRCLE_DIAMETER, Turn.LEFT).standardUncertainty())
                .isCloseTo(Math.sqrt(42 * 42 + 40 * 40 + 105 * 105) / 2.9 / 1000, within(curvature));
        assertThat(figure(c, Quantity.UNCUT_DIAMETER, Turn.LEFT).standardUncertainty())
                .isCloseTo(Math.sqrt(6 * 6 + 8 * 8 + 4 * 4 + 30 * 30) / 1000, within(curvature));
        assertThat(figure(c, Quantity.TURN_RADIUS, Turn.LEFT).standardUncertainty())
                .isZero();
    }

    @Test
    void theStatedUncertainty_goesAlong() {
        Conversion c = Conversion.of(new Conversion.Given(
                CEDAR,
                Optional.empty(),
                Quantity.TURN_RADIUS,
                new Length(1.5),
                Length.mm(40),
                Optional.of(Turn.LEFT),
                Drive.TWO_WHEEL,
                LengthUnit.MILLIMETRE));
        assertThat(figure(c, Quantity.TURN_RADIUS, Turn.LEFT).standardUncertainty())
                .isEqualTo(0.040);
        // dD/dR = 2 · 1.2/1.5
        assertThat(figure(c, Quantity.UNCUT_DIAMETER, Turn.LEFT).standardUncertainty())
                .isCloseTo(Math.sqrt(1016 + 64 * 64) / 1000, within(2e-5));
    }

    @Test
    void thereAndBack_isTheSame_fromEveryQuantityToEveryOther() {
        SplittableRandom random = new SplittableRandom(789);
        for (int i = 0; i < 200; i++) {
            List<Blade> blades = new ArrayList<>();
            for (int b = random.nextInt(1, 4); b > 0; b--) {
                blades.add(
                        blade(random.nextDouble(-0.2, 1.2), random.nextDouble(-0.5, 0.5), random.nextDouble(0.2, 0.3)));
            }
            Machine machine = machine(random.nextDouble(1.2, 1.9), random.nextDouble(0.8, 1.2), blades);
            Turn turn = random.nextBoolean() ? Turn.LEFT : Turn.RIGHT;
            double radius = random.nextDouble(1.6, 4);
            Conversion start = convert(machine, Quantity.TURN_RADIUS, radius, Optional.of(turn));
            for (Quantity through : Quantity.values()) {
                Conversion back =
                        convert(machine, through, figure(start, through, turn).value(), Optional.of(turn));
                for (Quantity to : Quantity.values()) {
                    assertThat(figure(back, to, turn).value())
                            .as("%s by %s", to, through)
                            .isCloseTo(figure(start, to, turn).value(), within(1e-9));
                }
            }
        }
    }

    /**
     * By hand, right turn: ρ = √(0.9² + 1.8²) = 2.0125 m, D = 2 (ρ − 0.5) = 3.0249 m; u² = 4.47² + 8.94² + 4² + 22.36² mm²
     * (ahead, sideways, tip radius, turn centre), so 1.96 u = 48.6 mm.
     */
    @Test
    void theSentence_answersForBothTurns() {
        assertThat(convert(CEDAR, Quantity.TURN_RADIUS, 1.5, Optional.empty()).sentence())
                .isEqualTo(
                        "A turn radius of 1500 mm (59.1 in) means that Cedar 20 leaves an uncut circle of 2000 mm (78.7 in)"
                                + " in the left turn (between 1938 and 2062 mm (76.3 and 81.2 in) with a probability of 95 %) and"
                                + " 3025 mm (119.1 in) in the right turn (between 2976 and 3074 mm (117.2 and 121.0 in) with a"
                                + " probability of 95 %), in 2WD and without brakes.");
    }

    @Test
    void anUncutDiameter_isAnsweredWithTheTurnRadius() {
        assertThat(convert(CEDAR, Quantity.UNCUT_DIAMETER, 2, Optional.of(Turn.LEFT))
                        .sentence())
                .startsWith(
                        "An uncut diameter of 2000 mm (78.7 in) means that Cedar 20 turns at a radius of 1500 mm (59.1 in)"
                                + " in the left turn (between ");
    }

    @Test
    void whatIsNotKnown_isNamed_andTheRestStands() {
        Machine bare = machine(1.5, 1.0, List.of());
        Conversion c = Conversion.of(new Conversion.Given(
                bare,
                Optional.empty(),
                Quantity.TURNING_CIRCLE_DIAMETER,
                new Length(5),
                Length.mm(0),
                Optional.of(Turn.LEFT),
                Drive.TWO_WHEEL,
                LengthUnit.MILLIMETRE));
        assertThat(figure(c, Quantity.TURN_RADIUS, Turn.LEFT).value()).isCloseTo(1.5, within(1e-12));
        assertThat(c.rows().get(3).missing())
                .containsExactly(
                        "where the machine's outermost point lies: how far ahead of the rear axle and from the centreline");
        assertThat(c.sentence())
                .isEqualTo(
                        "A turning circle diameter of 5000 mm (196.9 in): what Cedar 20 would leave uncut cannot be said."
                                + " In the left turn it cannot be worked out: the blade positions (blades.csv).");
    }

    @Test
    void tooSmallAFigure_isNoTurn_inTheTurnItIsTooSmallFor() {
        // the blade reaches 1 m to the left of the centreline, past a turn centre 0.9 m to the left; to the right its
        // 1.4 m
        // less 0.5 m stay, u² = 10² + 4² mm², since level with the axle neither ahead nor the turn centre matters
        Machine machine = machine(1.5, 1.0, List.of(blade(0, 0.5, 0.5)));
        assertThat(convert(machine, Quantity.TURN_RADIUS, 0.9, Optional.empty()).sentence())
                .isEqualTo(
                        "A turn radius of 900 mm (35.4 in) means that Cedar 20 leaves an uncut circle of 1800 mm (70.9 in)"
                                + " in the right turn (between 1779 and 1821 mm (70.0 and 71.7 in) with a probability of 95 %), in"
                                + " 2WD and without brakes."
                                + " In the left turn it cannot be worked out: so small a figure leaves this machine no turn, or no"
                                + " disc.");
        assertThat(convert(CEDAR, Quantity.TURNING_CIRCLE_DIAMETER, 3, Optional.of(Turn.LEFT))
                        .sentence())
                .endsWith("so small a figure leaves this machine no turn, or no disc.");
    }

    private static Map<String, Double> effects(
            Machine machine, Quantity from, double value, Quantity to, Optional<OutermostPoint> outermost) {
        return CircleConversion.of(value, from, to, machine, outermost, Turn.LEFT, Drive.TWO_WHEEL)
                .orElseThrow()
                .contributions()
                .stream()
                .collect(Collectors.toMap(Contribution::name, Contribution::effect));
    }

    private static Machine shifted(List<Blade> blades) {
        return new Machine(
                "Cedar 20",
                "Cedar 20",
                Optional.of(metres(1.8)),
                Optional.of(metres(1.0)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.of(metres(0.3)),
                blades,
                List.of());
    }

    /**
     * By hand, signs included: 2a/ρ = 1.2 for the front wheel's 5 mm ahead, 2r/ρ = 1.6 for half the track's 10 mm, −1.2 for
     * the turn centre's 25 mm. Back from a turning circle of 5 m: R = √(2.5² − a²) − t/2, so −1.5/2 and −1/2, +1.5/2.
     */
    @Test
    void pointsAtEitherEnd_moveTheFigureTheirWay_withoutBladesToo() {
        for (List<Blade> blades : List.of(List.<Blade>of(), List.of(blade(0.9, 0.3, 0.5)))) {
            Machine machine = machine(1.5, 1.0, blades);
            Offset<Double> curvature = within(1e-5);
            var to = effects(machine, Quantity.TURN_RADIUS, 1.5, Quantity.TURNING_CIRCLE_DIAMETER, Optional.empty());
            assertThat(to.get("wheelbase")).isCloseTo(1.2 * 0.005, curvature);
            assertThat(to.get("front track")).isCloseTo(1.6 * 0.005, curvature);
            assertThat(to.get("turn centre shift")).isCloseTo(-1.2 * 0.025, curvature);
            var from = effects(machine, Quantity.TURNING_CIRCLE_DIAMETER, 5, Quantity.TURN_RADIUS, Optional.empty());
            assertThat(from.get("wheelbase")).isCloseTo(-0.75 * 0.005, curvature);
            assertThat(from.get("front track")).isCloseTo(-0.5 * 0.010, curvature);
            assertThat(from.get("turn centre shift")).isCloseTo(0.75 * 0.025, curvature);
        }
    }

    /** A turn centre 0.3 m ahead of the axle leaves 1.5 m of a wheelbase of 1.8 m: the 3-4-5 triangle again. */
    @Test
    void turnCentreShift_shortensWhatLiesAhead() {
        for (List<Blade> blades : List.of(List.<Blade>of(), List.of(blade(0.9, 0.3, 0.5)))) {
            Conversion c = convert(shifted(blades), Quantity.TURN_RADIUS, 1.5, Optional.of(Turn.LEFT));
            assertThat(figure(c, Quantity.TURNING_CIRCLE_DIAMETER, Turn.LEFT).value())
                    .isCloseTo(5.0, within(1e-12));
        }
        var effects = effects(
                shifted(List.of()), Quantity.TURN_RADIUS, 1.5, Quantity.TURNING_CIRCLE_DIAMETER, Optional.empty());
        assertThat(effects.get("turn centre shift")).isCloseTo(-1.2 * 0.025, within(1e-5));
    }

    /**
     * A circle of 3.163 m is hardly more than the least, 2·√(1.5² + 0.5²) = 3.162 m: a wheelbase 5 mm longer leaves no turn, so
     * the shorter one alone tells it, R = √(1.5815² − 1.5²) − 0.5 = 1.1 mm less √(1.5815² − 1.495²) − 0.5 = 15.9 mm.
     */
    @Test
    void whereOneSideIsOutOfReach_theOtherTellsIt() {
        double rho = 1.5815;
        double here = Math.sqrt(rho * rho - 1.5 * 1.5) - 0.5;
        double shorter = Math.sqrt(rho * rho - 1.495 * 1.495) - 0.5;
        assertThat(here).isCloseTo(0.0011, within(5e-5));
        var effects = effects(
                machine(1.5, 1.0, List.of()),
                Quantity.TURNING_CIRCLE_DIAMETER,
                3.163,
                Quantity.TURN_RADIUS,
                Optional.empty());
        assertThat(effects.get("wheelbase")).isCloseTo(here - shorter, within(1e-9));
    }

    /** A point on the centreline, 1.5 m ahead, with the rear axle 2 m from the turn centre: 3-4-5. Its place aside has one side. */
    @Test
    void outermostPointOnTheCentreline_drawsACircleToo() {
        OutermostPoint nose = new OutermostPoint(metres(1.5), metres(0));
        CircleConversion c = CircleConversion.of(
                        2,
                        Quantity.TURN_RADIUS,
                        Quantity.CLEARANCE_CIRCLE_DIAMETER,
                        CEDAR,
                        Optional.of(nose),
                        Turn.LEFT,
                        Drive.TWO_WHEEL)
                .orElseThrow();
        assertThat(c.figure()).isCloseTo(5, within(1e-12));
        assertThat(c.contributions())
                .filteredOn(k -> k.name().equals("outermost point, out"))
                .singleElement()
                // 2·√(1.5² + 2.01²) − 5: 10 mm further out, and nothing on the other side
                .satisfies(k -> assertThat(k.effect()).isCloseTo(2 * Math.hypot(1.5, 2.01) - 5, within(1e-12)));
    }

    @Test
    void wheelbaseWithoutTrack_isNotEnough() {
        Machine noTrack = new Machine(
                "Cedar 20",
                "Cedar 20",
                Optional.of(metres(1.5)),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                List.of());
        assertThat(CircleConversion.missing(
                        Quantity.TURNING_CIRCLE_DIAMETER, Quantity.TURN_RADIUS, noTrack, Optional.empty()))
                .containsExactly("wheelbase and front track (machines.csv)");
        assertThat(CircleConversion.missing(
                        Quantity.TURNING_CIRCLE_DIAMETER, Quantity.TURNING_CIRCLE_DIAMETER, noTrack, Optional.empty()))
                .isEmpty();
    }

    /** Under a deck that is given, as a reference is worked out: 2.0 m by the 3-4-5 triangle; a diameter is itself. */
    @Test
    void figureUnderADeck_isThatOfTheConversion() {
        Deck deck = DeckModel.of(CEDAR, Drive.TWO_WHEEL).orElseThrow().deck();
        Cell cell = new Cell("Cedar 20", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
        assertThat(ClaimConversion.diameter(1.5, Quantity.TURN_RADIUS, CEDAR, deck, cell)
                        .orElseThrow())
                .isCloseTo(2.0, within(1e-12));
        assertThat(ClaimConversion.diameter(2.2, Quantity.UNCUT_DIAMETER, CEDAR, deck, cell)
                        .orElseThrow())
                .isEqualTo(2.2);
    }
}
