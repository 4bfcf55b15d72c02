package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.util.List;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Numbers in another unit than they were read in. */
class UnitsInDoubtTest {
    private static final String COMPACT = "; compact tractors mostly leave between 0.5 and 6 m. ";

    private static List<Warning> checks(Trials trials) {
        Trial trial = trials.trial();
        return DataChecks.of(trial, Trials.machines(trial));
    }

    /** Circles to the left, each with one or more readings as typed. */
    private static Trials left(LengthUnit unit, String[]... circles) {
        Trials trials = Trials.in(unit).machine("Alder");
        for (int i = 0; i < circles.length; i++) {
            trials.circle("l" + i, Turn.LEFT, Drive.TWO_WHEEL);
            for (String typed : circles[i]) {
                trials.typed(typed, 0);
            }
        }
        return trials;
    }

    private static String[] read(String... typed) {
        return typed;
    }

    /** By hand, mm: 81 and 2·25²/81 are 96.4, 2057.4 and 0.6 are 2058; 85.5 makes 100.1 and 2172. In cm 811.5 (31.95 in) and 856.5. */
    @Test
    void bareInchesThroughout_inAMillimetreTrial_areAskedAboutOnce() {
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("81", "82"), read("85.5"))))
                .containsExactly(new Warning(
                        "wrongUnit",
                        "readings.csv, rows 2–4",
                        "3 readings, read in millimetres because no unit stands behind the numbers, make 96 to 100 mm (3.8 to"
                                + " 3.9 in)" + COMPACT
                                + "Were they inches, which would make 2058 to 2172 mm (81.0 to 85.5 in),"
                                + " or centimetres, which would make 812 to 856 mm (32.0 to 33.7 in)? Then write the unit behind each"
                                + " number, or change the length unit in trial.csv if that was meant throughout. If they are right,"
                                + " write the unit too (81 mm), and nobody asks again. Nothing was changed."));
    }

    /** 162 to 247 cm typed without the unit: those beyond 25 cm as read were taken for sound, and left out of what is to be mended. */
    @Test
    void whatLiesBesideMany_isAskedAboutWithThem() {
        Trials centimetres = left(LengthUnit.MILLIMETRE, read("231", "232"), read("233", "251"), read("234", "256"));
        assertThat(checks(centimetres))
                .extracting(Warning::code, Warning::where)
                .containsExactly(tuple("wrongUnit", "readings.csv, rows 2–7"));
        // beside two of them it may be right
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("231", "232"), read("256"))))
                .extracting(Warning::where)
                .doesNotContain("readings.csv, rows 2–4");
    }

    /** Where others are sound, the unit that comes nearest to them is asked about; rows that follow each other are run together. */
    @Test
    void oneMachineInInches_isAskedAbout_byWhatTheOtherMeasured() {
        Trials trials = left(LengthUnit.MILLIMETRE, read("2060", "2045"), read("2055", "2052"))
                .machine("Birch")
                .circle("b1", Turn.LEFT, Drive.TWO_WHEEL)
                .typed("82 1/8", 0)
                .typed("82", 0)
                .circle("b2", Turn.LEFT, Drive.TWO_WHEEL)
                .typed("2070", 0)
                .circle("b3", Turn.LEFT, Drive.TWO_WHEEL)
                .typed("82.5", 0);
        assertThat(checks(trials))
                .extracting(Warning::code, Warning::where)
                .containsExactly(tuple("wrongUnit", "readings.csv, rows 6–7, 9"));
        assertThat(checks(trials).get(0).message()).contains("Were they inches, which would make 2083 to 2096 mm (");
    }

    /** Too large as well as too small: millimetres and feet in a trial in inches, and centimetres where they are beyond 12 m. */
    @Test
    void metricNumbers_inAnInchTrial_areAskedAbout() {
        assertThat(checks(left(LengthUnit.INCH, read("1580"))).get(0).message())
                .startsWith(
                        "Circle l0: across 1580, read in inches because no unit stands behind the number, makes 1580.0 in"
                                + " (40132 mm)" + COMPACT
                                + "Was it millimetres, which would make 62.2 in (1581 mm)? Then");
        assertThat(checks(left(LengthUnit.INCH, read("5.25"))).get(0).message())
                .contains("Was it feet, which would make ");
        assertThat(checks(left(LengthUnit.INCH, read("500"))).get(0).message())
                .contains("Was it centimetres, which would make ");
    }

    /** 160 in may be 160 cm, and 0.3 m an uncut circle near a blade's path: what is not far out is left alone. */
    @Test
    void whatMayBeRight_isNotAskedAbout() {
        assertThat(checks(left(LengthUnit.INCH, read("160", "161"))))
                .extracting(Warning::code)
                .doesNotContain("wrongUnit");
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("300"), read("305"))))
                .isEmpty();
        // in no unit an ordinary circle
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("15000"), read("15010"))))
                .isEmpty();
    }

    /** The way out that the question names. */
    @Test
    void aUnitBehindTheNumber_isTakenAtItsWord() {
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("81 mm", "82 mm"), read("83 mm"))))
                .isEmpty();
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("81 in"), read("82\""))))
                .isEmpty();
    }

    /** c²/(4h) + h: 47 and 10.5 mm make 63 mm, in inches 1600 mm. Both lengths are bare, so both are asked about. */
    @Test
    void chordAndRise_areAskedAboutTogether() {
        assertThat(checks(Trials.inMillimetres()
                        .machine("Alder")
                        .circle("1", Turn.LEFT, Drive.TWO_WHEEL)
                        .typedChordAndRise("47", "10.5")))
                .singleElement()
                .satisfies(w -> assertThat(w.message())
                        .startsWith(
                                "Circle 1: chord and rise 47; 10.5, read in millimetres because no unit stands behind the"
                                        + " number, makes 63 mm (2.5 in)")
                        .contains("Was it inches, which would make 1603 mm (63.1 in)")
                        .contains("write the unit too, and nobody"));
    }

    /** 69.75 in are 1772 mm; 177 cm are 1770 mm; each used to be explained by no usual slip. */
    @Test
    void aReadingInAnotherUnit_besideASoundOne_isExplained() {
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("69.75", "1765"), read("1770"))))
                .containsExactly(new Warning(
                        "wrongUnit",
                        "readings.csv, row 2",
                        "Circle l0: across 69.75 makes 88 mm (3.5 in), across 1765 beside it 1766 mm (69.5 in). If 69.75 was meant"
                                + " in inches, it was 69.75 in, which fits. Write the unit behind the number. Nothing was changed: look"
                                + " at the field sheet, or measure again."));
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("1765", "177")))
                        .get(0)
                        .message())
                .contains("If 177 was meant in centimetres, it was 177 cm, which fits.");
        // the wrong unit behind the number, too
        assertThat(checks(left(LengthUnit.MILLIMETRE, read("1765", "177 mm")))
                        .get(0)
                        .message())
                .contains("If 177 mm was meant in centimetres, it was 177 cm, which fits.");
    }

    /** Two of three are in other units: the third is the good one, and so is the other circle of the cell. */
    @Test
    void mostReadingsOfACircleInOtherUnits_accuseNoGoodOne() {
        Trials trials = left(LengthUnit.MILLIMETRE, read("64.5", "1630", "163"), read("1600"))
                .circle("r0", Turn.RIGHT, Drive.TWO_WHEEL)
                .typed("1640", 0)
                .typed("1645", 0);
        assertThat(checks(trials))
                .filteredOn(w -> !w.code().equals("singleCircle"))
                .extracting(Warning::code, Warning::where)
                .containsExactly(tuple("wrongUnit", "readings.csv, row 2"), tuple("wrongUnit", "readings.csv, row 4"));
        // alike, and as large as another machine's circle may be
        assertThat(checks(left(LengthUnit.INCH, read("163", "164", "64.5"), read("64"))))
                .extracting(Warning::code, Warning::where)
                .containsExactly(tuple("wrongUnit", "readings.csv, row 2"), tuple("wrongUnit", "readings.csv, row 3"));
    }
}
