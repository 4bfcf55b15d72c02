package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalDouble;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Amounts by hand from 1 in = 25.4 mm: 104.2 mm are 4.102 in, −30.1 mm −1.185 in, 50.8 mm 2 in, 4.36 mm 0.1717 in. */
class WordingTest {
    private static final Wording INCH = new Wording(LengthUnit.INCH);
    private static final Wording METRIC = new Wording(LengthUnit.METRE);
    private static final Cell LEFT = new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
    private static final Cell RIGHT = new Cell("Alder", Turn.RIGHT, Drive.FOUR_WHEEL, Brakes.USED);
    private static final Cell OTHER = new Cell("Birch", Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE);

    @Test
    void amounts_standInTheTrialsUnitFirst_withoutTheirSign() {
        assertThat(INCH.amount(-0.1042)).isEqualTo("4.1 in (104 mm)");
        assertThat(METRIC.amount(-0.1042)).isEqualTo("104 mm (4.1 in)");
        assertThat(new Wording(LengthUnit.FOOT).amount(0.1042)).isEqualTo("4.1 in (104 mm)");
        assertThat(INCH.fine(-0.00436)).isEqualTo("0.17 in (4.4 mm)");
        assertThat(METRIC.fine(0.00436)).isEqualTo("4.4 mm (0.17 in)");
    }

    @Test
    void signs_areKeptWhereTheyMatter_asLongAsAPlus() {
        assertThat(METRIC.signed(-0.1042)).isEqualTo("−104 mm (−4.1 in)");
        assertThat(INCH.signed(0.1042)).isEqualTo("4.1 in (104 mm)");
        assertThat(INCH.fineSigned(-0.00436)).isEqualTo("−0.17 in (−4.4 mm)");
        assertThat(METRIC.range(-0.0301, 0.0508)).isEqualTo("between −30 and 51 mm (−1.2 and 2.0 in)");
        assertThat(INCH.interval(-0.0301, 0.0508)).isEqualTo("−1.2 to 2.0 in (−30 to 51 mm)");
    }

    @Test
    void nothingATapeHasShown_isCertain() {
        assertThat(Wording.surely(1)).isEqualTo(" with a probability of over 99.9 %");
        assertThat(Wording.surely(0.962)).isEqualTo(" with a probability of 96.2 %");
        assertThat(Wording.chance(new Outlook(Map.of(), 1, Outlook.Obstacle.NONE)))
                .isEqualTo("about 99 %");
        assertThat(Wording.chance(new Outlook(Map.of(), 0.8451, Outlook.Obstacle.NONE)))
                .isEqualTo("about 85 %");
        // 0.3 % in whole percents would be none at all
        assertThat(Wording.chance(new Outlook(Map.of(), 0.003, Outlook.Obstacle.NONE)))
                .isEqualTo("under 1 %");
        assertThat(Wording.chance(new Outlook(Map.of(), 0, Outlook.Obstacle.NONE)))
                .isEqualTo("under 1 %");
        assertThat(METRIC.outlook(new Outlook(Map.of(), 0.003, Outlook.Obstacle.NONE)))
                .isEqualTo("Even 24 more circles would bring a verdict with a chance of under 1 %.");
    }

    @Test
    void conditions_nameBrakesWhereTheyWereUsed() {
        assertThat(Wording.condition(LEFT)).isEqualTo("2WD");
        assertThat(Wording.condition(RIGHT)).isEqualTo("4WD with brakes");
    }

    private static Outlook with(Cell... cells) {
        Map<Cell, Integer> further = new LinkedHashMap<>();
        for (Cell cell : cells) {
            further.put(cell, further.size() + 1);
        }
        return new Outlook(further, 0.84, Outlook.Obstacle.NONE);
    }

    /** Several machines are named; of one it is plain which is meant, unless the question is about several anyway. */
    @Test
    void furtherCircles_areListed_machinesNamedWhereThereAreSeveral() {
        String chance = " the chance of a verdict is about 84 %.";
        assertThat(Wording.outlookOf(with(LEFT, RIGHT)))
                .isEqualTo("With 1 more circle to the left in 2WD and 2 more circles to the right in 4WD with brakes"
                        + chance);
        assertThat(Wording.outlookOf(with(LEFT, RIGHT, OTHER)))
                .isEqualTo(
                        "With 1 more circle of Alder to the left in 2WD, 2 more circles of Alder to the right in 4WD with"
                                + " brakes and 3 more circles of Birch to the right in 2WD" + chance);
        assertThat(METRIC.outlookByMachine(with(LEFT)))
                .isEqualTo("With 1 more circle of Alder to the left in 2WD" + chance);
        assertThat(METRIC.outlook(with(LEFT))).isEqualTo("With 1 more circle to the left in 2WD" + chance);
    }

    /** What is fixed may be something else than geometry: a claim, a reference. */
    @Test
    void whatNoCircleMakesBetter_isSaidInTheQuestionsOwnWords() {
        String even = "Even 24 more circles would bring a verdict with a chance of only about 30 %";
        Outlook geometry = new Outlook(Map.of(), 0.3, Outlook.Obstacle.GEOMETRY);
        assertThat(METRIC.outlook(geometry, ": the rest hangs on the claim."))
                .isEqualTo(even + ": the rest hangs on the claim.");
        assertThat(METRIC.outlook(geometry)).startsWith(even + ": the rest hangs on the deck offset, ");
        assertThat(METRIC.outlook(new Outlook(Map.of(), 0.3, Outlook.Obstacle.NEAR_MARGIN), ": never."))
                .startsWith(even + ", because the answer seems to lie near the practical margin.");
        assertThat(METRIC.outlook(new Outlook(Map.of(), 0.3, Outlook.Obstacle.NONE), ": never."))
                .isEqualTo(even + ".");
        assertThat(METRIC.outlook(with(LEFT), ": never.")).startsWith("With 1 more circle to the left");
        Outlook both = new Outlook(Map.of(LEFT, 2), 0.84, Outlook.Obstacle.GEOMETRY);
        assertThat(METRIC.outlook(both, ": never.")).startsWith("With 2 more circles to the left");
    }

    @Test
    void leaningOnTheAssumption_isSaid_withHowFarItHolds() {
        assertThat(METRIC.assumption(false, OptionalDouble.of(0.03))).isEmpty();
        assertThat(METRIC.assumption(true, OptionalDouble.of(0.0301)))
                .isEqualTo(
                        " This rests on the assumed repeatability; it stands as long as circles driven alike scatter by no"
                                + " more than 30 mm (1.2 in) (standard deviation).");
        assertThat(METRIC.assumption(true, OptionalDouble.empty()))
                .isEqualTo(" This rests on the assumed repeatability: too few circles were driven to show how much they"
                        + " scatter.");
    }

    @Test
    void outlook_everyForm() {
        Wording wording = new Wording(LengthUnit.MILLIMETRE);
        Cell left = new Cell("Alder", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE);
        Cell right = new Cell("Alder", Turn.RIGHT, Drive.TWO_WHEEL, Brakes.NONE);
        Map<Cell, Integer> further = new LinkedHashMap<>();
        further.put(left, 1);
        further.put(right, 2);
        assertThat(wording.outlook(new Outlook(further, 0.84, Outlook.Obstacle.NONE)))
                .isEqualTo(
                        "With 1 more circle to the left in 2WD and 2 more circles to the right in 2WD the chance of a verdict is"
                                + " about 84 %.");
        assertThat(wording.outlook(new Outlook(Map.of(), 0.41, Outlook.Obstacle.NEAR_MARGIN)))
                .isEqualTo(
                        "Even 24 more circles would bring a verdict with a chance of only about 41 %, because the answer"
                                + " seems to lie near the practical margin. Accept that it stays open, or agree on another margin"
                                + " before the next trial.");
        assertThat(wording.outlook(new Outlook(Map.of(), 0.33, Outlook.Obstacle.GEOMETRY)))
                .isEqualTo(
                        "Even 24 more circles would bring a verdict with a chance of only about 33 %: the rest hangs on the deck"
                                + " offset, the blade positions and the turn centre. Measure the blade positions and the deck offset more"
                                + " closely, and write both, and how closely, into blades.csv and machines.csv.");
        assertThat(wording.outlook(new Outlook(Map.of(), 0.512, Outlook.Obstacle.UNCERTAIN_TODAY)))
                .isEqualTo(
                        "How many more circles it takes cannot be said yet: today's figure is so uncertain that the answer may turn"
                                + " out to lie near the practical margin, and then even 24 more leave it open (as it looks today, they"
                                + " bring a verdict with a chance of about 51 %). Drive one or two more in each of these turns and"
                                + " drives, and look again.");
    }
}
