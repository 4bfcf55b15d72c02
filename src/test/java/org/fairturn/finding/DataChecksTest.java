package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Each check with the whole text of what it says, and nothing beside it. */
class DataChecksTest {
    private static final String UNCHANGED = " Nothing was changed: look at the field sheet, or measure again.";

    private static Trial demo() {
        return TrialFolder.read(Path.of("testdata/demo")).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    /** Left and right, three sound circles each; the readings of a circle agree within a quarter of an inch. */
    private static Trials inInches() {
        Trials trials = Trials.in(LengthUnit.INCH).machine("Alder");
        for (int i = 0; i < 3; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL)
                    .typed("63 1/8", 0)
                    .typed("63 3/8", 0)
                    .typed("63", 0);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL)
                    .typed("70 1/8", 0)
                    .typed("70 3/8", 0);
        }
        return trials;
    }

    @Test
    void demo_hasOneDigitSwap_foundWithWhatItWas_andNoOtherAlarmOverAReading() {
        // testdata/demo/README.md, "Deliberate flaws": row 10, circle B4, 1.985 m stands where the tape showed 1.895 m
        List<Warning> warnings = Analysis.of(demo()).warnings();
        assertThat(warnings)
                .extracting(Warning::code)
                .containsExactly("excluded", "singleCircle", "orderConfounded", "digitSwap", "orderConfounded");
        assertThat(warnings)
                .contains(new Warning(
                        "digitSwap",
                        "readings.csv, row 10",
                        "Circle B4: across 1.985 m makes 78.2 in (1986 mm), 3.1 in (78 mm) more than the other readings of the"
                                + " circle; so large a gap has a chance of under 0.1 % (Grubbs' test of this circle alone: 1.497,"
                                + " limit 1.481). If two digits of 1.985 m were swapped, it was 1.895 m, which fits."
                                + UNCHANGED));
    }

    @Test
    void footTooLong() {
        assertThat(inInches()
                        .circle("r3", Turn.RIGHT, Drive.TWO_WHEEL)
                        .typed("82 1/8", 0)
                        .typed("70 3/8", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "footSlip",
                        "readings.csv, row 17",
                        "Circle r3: across 82 1/8 makes 82.1 in (2087 mm), 11.7 in (298 mm) more than the other reading of the"
                                + " circle; so large a gap has a chance of under 0.1 %. If 82 1/8 is a foot too long, it was 70 1/8"
                                + " in, which fits."
                                + UNCHANGED));
    }

    @Test
    void tenInchesInARise() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typedChordAndRise("59 7/8", "31 5/8")
                        .typed("63", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "footSlip",
                        "readings.csv, row 17",
                        "Circle l3: chord and rise 59 7/8; 31 5/8 makes 60.0 in (1523 mm), 3.1 in (78 mm) less than the other"
                                + " reading of the circle; so large a gap has a chance of under 0.1 %. If 31 5/8 is ten inches too"
                                + " long, it was 21 5/8 in, which fits."
                                + UNCHANGED));
    }

    @Test
    void radiusReadAsDiameter() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("31 5/8", 0)
                        .typed("63", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "radiusAsDiameter",
                        "readings.csv, row 17",
                        "Circle l3: across 31 5/8 makes 31.7 in (805 mm), 31.3 in (796 mm) less than the other reading of the"
                                + " circle; so large a gap has a chance of under 0.1 %. If 31 5/8 is the radius, the diameter is 63"
                                + " 1/4 in, which fits."
                                + UNCHANGED));
    }

    @Test
    void whatNoSlipExplains_isSaidToo() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("68", 0)
                        .typed("63", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "readingFarFromCircle",
                        "readings.csv, row 17",
                        "Circle l3: across 68 makes 68.0 in (1728 mm), 5.0 in (127 mm) more than the other reading of the"
                                + " circle; so large a gap has a chance of under 0.1 %. No usual slip explains it."
                                + UNCHANGED));
    }

    @Test
    void circleWithOneReading_isHeldAgainstItsCell() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("75", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "footSlip",
                        "readings.csv, row 17",
                        "Circle l3 is 75.0 in (1906 mm), 11.8 in (300 mm) more than the other circles of Alder, left, 2WD; so"
                                + " large a gap has a chance of under 0.1 %. If 75 is a foot too long, it was 63 in, which fits."
                                + UNCHANGED));
    }

    @Test
    void circleMeasuredInRadiiThroughout_isNamed() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("31 5/8", 0)
                        .typed("31 1/2", 0)
                        .analysed()
                        .warnings())
                .extracting(Warning::code, Warning::where)
                .containsExactly(tuple("radiusAsDiameter", "circle l3"));
    }

    @Test
    void circleOfAnotherCell_isToldWhereItWouldFit() {
        assertThat(inInches()
                        .circle("l3", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("70 1/8", 0)
                        .typed("70 1/4", 0)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "circleFarFromCell",
                        "circle l3",
                        "Circle l3 is 70.2 in (1783 mm), 7.0 in (178 mm) more than the other circles of Alder, left, 2WD; so"
                                + " large a gap has a chance of under 0.1 %. It would fit the circles of Alder, right, 2WD: its turn or"
                                + " drive may be noted wrongly."
                                + UNCHANGED));
    }

    @Test
    void twoCirclesOfACell_cannotSayWhichIsOff() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 3; i++) {
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1700 + 7 * i, 1705 + 7 * i);
            trials.circle("L" + i, Turn.LEFT, Drive.FOUR_WHEEL, 2100 + 7 * i, 2105 + 7 * i);
        }
        trials.circle("l0", Turn.LEFT, Drive.TWO_WHEEL, 1400, 1405).circle("l1", Turn.LEFT, Drive.TWO_WHEEL, 1800);
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "circleFarFromCell",
                        "readings.csv, row 16",
                        "Circle l1 is 1801 mm (70.9 in), 397 mm (15.6 in) more than circle l0, the only other one of Alder,"
                                + " left, 2WD, and nothing here shows which of them is off; so large a gap has a chance of under 0.1 %."
                                + " No usual slip explains it."
                                + UNCHANGED));
    }

    @Test
    void exchangedTurns_areNamedInPairs_andNotSaidTwice() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 4; i++) {
            int left = i == 2 ? 1790 : 1600 + 7 * i;
            int right = i == 1 ? 1607 : 1790 - 6 * i;
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL, left, left + 5);
            trials.circle("r" + i, Turn.RIGHT, Drive.TWO_WHEEL, right, right + 7);
        }
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "labelsSwapped",
                        "circles l2, r1",
                        "With the turns of l2 and r1 exchanged, the circles of Alder, left, 2WD and Alder, right, 2WD would"
                                + " agree much better. Nothing was changed: look at the field sheet and the pegs."));
    }

    @Test
    void exchangedDrives_withTwoCirclesACell_leaveTwoPairsOpen() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 2; i++) {
            trials.circle("two" + i, Turn.LEFT, Drive.TWO_WHEEL, i == 0 ? 2000 : 1600, i == 0 ? 2004 : 1604);
            trials.circle("four" + i, Turn.LEFT, Drive.FOUR_WHEEL, i == 0 ? 1606 : 2003, i == 0 ? 1603 : 2005);
            trials.circle("right" + i, Turn.RIGHT, Drive.TWO_WHEEL, 1700 + 6 * i, 1704 + 6 * i);
            trials.circle("rightFour" + i, Turn.RIGHT, Drive.FOUR_WHEEL, 2100 + 6 * i, 2104 + 6 * i);
        }
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "labelsSwapped",
                        "circles two0, four0, two1, four1",
                        "With the drives of two0 and four0, or of two1 and four1 exchanged, the circles of Alder, left, 2WD and"
                                + " Alder, left, 4WD would agree much better. Nothing was changed: look at the field sheet and the"
                                + " pegs."));
    }

    /** By hand: slopes 237/20 to the left and 246/20 to the right, s² = 42.5/5, t = 4.032, so 7 × (12.075 ± 4.032 × 0.461). */
    @Test
    void drift_isSaidWithItsInterval() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 8; i++) {
            int d = 1600 + 12 * i + 3 * (i % 3);
            trials.circle("c" + i, i % 2 == 0 ? Turn.LEFT : Turn.RIGHT, Drive.TWO_WHEEL, d, d - 4)
                    .order(i + 1);
        }
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "drift",
                        "Alder",
                        "Along the run order, from number 1 to number 8, circles driven alike grew by 84 mm (3.3 in), between 71"
                                + " and 97 mm (2.8 and 3.8 in) (99 % interval). Ground, grass, tyres or driver may have changed; the"
                                + " scatter counts it in, a comparison of early circles with late ones does not."));
    }

    @Test
    void allOfOneTurnFirst_isSaid_mixedTurnsAreNot() {
        Trials trials = Trials.inMillimetres().machine("Alder");
        Trials mixed = Trials.inMillimetres().machine("Alder");
        int[] d = {1600, 1612, 1597, 1700, 1706, 1695};
        int[] order = {1, 2, 3, 4, 5, 6};
        int[] mixedOrder = {1, 4, 5, 2, 3, 6};
        for (int i = 0; i < 6; i++) {
            Turn turn = i < 3 ? Turn.LEFT : Turn.RIGHT;
            trials.circle("c" + i, turn, Drive.TWO_WHEEL, d[i], d[i] + 4).order(order[i]);
            mixed.circle("c" + i, turn, Drive.TWO_WHEEL, d[i], d[i] + 4).order(mixedOrder[i]);
        }
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "orderConfounded",
                        "Alder, 2WD",
                        "All left turns were driven before all right turns, so a change of ground, grass or driver in between"
                                + " would pass for a difference between the turns. Next time mix left and right."));
        assertThat(mixed.analysed().warnings()).isEmpty();
    }

    /** By hand: 20.5, 0 and 5 mm at twice 60°, 150° and 0° are 10.25 mm − 5.25 mm·cos + 8.80 mm·sin, amplitude 10.25 mm. */
    @Test
    void ovalCircles_areTheSameWhicheverEndOfTheTapeIsNamed() {
        for (int clock : new int[] {2, 8}) {
            Trials trials = Trials.inMillimetres().machine("Alder");
            for (int i = 0; i < 4; i++) {
                int d = 1600 + 9 * i;
                trials.circle("c" + i, Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("" + (d + 20 + i % 2), clock)
                        .typed("" + d, 5)
                        .typed("" + (d + 5), 12);
            }
            assertThat(trials.analysed().warnings())
                    .containsExactly(new Warning(
                            "ovality",
                            "Alder",
                            "How the tape lay matters: across its circles it reads 20 mm (0.8 in) more towards 2 o'clock than at"
                                    + " right angles to it. The circles may be oval, or one side harder to reach. Lay the tape in the"
                                    + " same directions on every circle."));
        }
    }

    @Test
    void tapesLaidAlike_areNamed() {
        assertThat(Trials.inMillimetres()
                        .machine("Alder")
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("1640", 1)
                        .typed("1645", 7)
                        .circle("2", Turn.LEFT, Drive.TWO_WHEEL)
                        .typed("1640", 1)
                        .typed("1645", 4)
                        .analysed()
                        .warnings())
                .containsExactly(new Warning(
                        "bearingsAlike",
                        "Alder",
                        "Circle 1: the tape lay the same way each time, so an oval circle or a missed centre would not show. Lay"
                                + " it in different directions."));
    }

    @Test
    void oneReading_orEqualOnes_raiseNothing() {
        Trials one = Trials.inMillimetres().machine("Alder").circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600);
        assertThat(one.analysed().warnings()).extracting(Warning::code).containsExactly("singleCircle");
        Trials equal = Trials.inMillimetres().machine("Alder");
        for (int i = 0; i < 6; i++) {
            equal.circle("" + i, i % 2 == 0 ? Turn.LEFT : Turn.RIGHT, Drive.TWO_WHEEL)
                    .order(i + 1)
                    .typed("1600", 1)
                    .typed("1600", 4);
        }
        assertThat(equal.analysed().warnings()).isEmpty();
        // a millimetre beside equal readings is the tape's, not a slip
        equal.circle("6", Turn.LEFT, Drive.TWO_WHEEL).typed("1600", 1).typed("1601", 4);
        assertThat(equal.analysed().warnings()).isEmpty();
    }

    @Test
    void orderOfRows_changesNoCheck() {
        Trial demo = demo();
        List<Warning> expected = Analysis.of(demo).warnings();
        Random random = new Random(7);
        for (int i = 0; i < 5; i++) {
            List<Circle> circles = new ArrayList<>();
            for (Circle circle : demo.circles()) {
                List<Reading> readings = new ArrayList<>(circle.readings());
                Collections.shuffle(readings, random);
                circles.add(circle.withReadings(readings));
            }
            Collections.shuffle(circles, random);
            assertThat(Analysis.of(new Trial(demo.folder(), demo.conditions(), demo.machines(), circles, demo.claims()))
                            .warnings())
                    .containsExactlyElementsOf(expected);
        }
    }
}
