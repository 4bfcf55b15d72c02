package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Reading;
import org.fairturn.trial.TapeReading;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Which slips a reading may be, by hand. */
class SlipsTest {
    private static List<Slips.Slip> slips(LengthUnit bare, TapeReading tape, String written) {
        return new Slips(new Observations(Trials.in(bare).trial().conditions()), bare)
                .of(new Reading(tape, Optional.empty(), "", "", 2, written));
    }

    private static List<String> said(TapeReading tape, String written) {
        return slips(LengthUnit.MILLIMETRE, tape, written).stream()
                .map(Slips.Slip::said)
                .toList();
    }

    private static TapeReading stakes(double a, double b, double c) {
        return new TapeReading.ThreeStakes(Length.mm(a), Length.mm(b), Length.mm(c));
    }

    @Test
    void across_digitsStepsAndTheRadius() {
        assertThat(said(new TapeReading.Across(Length.mm(1580)), "1580"))
                .containsExactly(
                        "If two digits of 1580 were swapped, it was 5180",
                        "If two digits of 1580 were swapped, it was 1850",
                        "If two digits of 1580 were swapped, it was 1508",
                        "If 1580 is ten centimetres short, it was 1680 mm",
                        "If 1580 is ten centimetres too long, it was 1480 mm",
                        "If 1580 is the radius, the diameter is 3160 mm",
                        "If 1580 was meant in centimetres, it was 1580 cm",
                        "If 1580 was meant in metres, it was 1580 m",
                        "If 1580 was meant in inches, it was 1580 in",
                        "If 1580 was meant in feet, it was 1580 ft");
        // no length is left where the step is the whole of it
        assertThat(said(new TapeReading.Across(Length.mm(100)), "100"))
                .containsExactly(
                        "If two digits of 100 were swapped, it was 010",
                        "If 100 is ten centimetres short, it was 200 mm",
                        "If 100 is the radius, the diameter is 200 mm",
                        "If 100 was meant in centimetres, it was 100 cm",
                        "If 100 was meant in metres, it was 100 m",
                        "If 100 was meant in inches, it was 100 in",
                        "If 100 was meant in feet, it was 100 ft");
    }

    @Test
    void inches_byTheFootAndByTen_whereTheWrittenUnitSaysSo() {
        assertThat(said(new TapeReading.Across(Length.inches(66)), "66 in"))
                .containsExactly(
                        "If 66 in is a foot short, it was 78 in",
                        "If 66 in is a foot too long, it was 54 in",
                        "If 66 in is ten inches short, it was 76 in",
                        "If 66 in is ten inches too long, it was 56 in",
                        "If 66 in is the radius, the diameter is 132 in",
                        "If 66 in was meant in millimetres, it was 66 mm",
                        "If 66 in was meant in centimetres, it was 66 cm",
                        "If 66 in was meant in metres, it was 66 m",
                        "If 66 in was meant in feet, it was 66 ft");
    }

    /** By hand: 47 and 10 1/2 in are 1193.8 and 266.7 mm, so 1193.8²/(4·266.7) + 266.7 mm. Feet and inches are one length of two. */
    @Test
    void anotherUnit_isOfOneLength_orOfAll_whateverUnitStandsBehindThem() {
        TapeReading both = new TapeReading.ChordAndRise(Length.mm(47), Length.mm(10.5));
        assertThat(slips(LengthUnit.MILLIMETRE, both, "47; 10 1/2"))
                .filteredOn(s -> s.said().equals("If 47; 10 1/2 was meant in inches, it was 47 in; 10 1/2 in"))
                .singleElement()
                .satisfies(s -> {
                    assertThat(s.code()).isEqualTo("wrongUnit");
                    assertThat(s.instead().diameter()).isCloseTo(1.1938 * 1.1938 / (4 * 0.2667) + 0.2667, within(1e-9));
                });
        assertThat(said(new TapeReading.ChordAndRise(Length.mm(1200), Length.mm(26)), "1200; 26"))
                .contains("If 26 was meant in centimetres, it was 26 cm")
                // a rise longer than its chord
                .doesNotContain("If 26 was meant in metres, it was 26 m");
        assertThat(said(new TapeReading.Across(Length.inches(62)), "5 ft 2 in")).noneMatch(s -> s.contains("meant in"));
        assertThat(said(new TapeReading.Across(Length.inches(62.375)), "62-3/8\""))
                .contains("If 62-3/8\" was meant in centimetres, it was 62-3/8 cm")
                .noneMatch(s -> s.contains("meant in inches"));
    }

    /** A rise as long as its chord is still one; a longer one is not. Only a tape across can be a radius. */
    @Test
    void chordAndRise_staysWithinItsChord() {
        assertThat(said(new TapeReading.ChordAndRise(Length.mm(1000), Length.mm(900)), "1000; 900"))
                .contains("If 900 is ten centimetres short, it was 1000 mm")
                .contains("If 1000 is ten centimetres too long, it was 900 mm")
                .noneMatch(s -> s.contains("radius"));
        assertThat(said(new TapeReading.ChordAndRise(Length.mm(1000), Length.mm(901)), "1000; 901"))
                .doesNotContain("If 901 is ten centimetres short, it was 1001 mm")
                .contains("If 901 is ten centimetres too long, it was 801 mm");
    }

    /** By hand: 1500, 1500 and 1500 mm make a circle of 1500·2/√3; with one side 1600, of abc/(2K), K by Heron. */
    @Test
    void threeStakes_eachSideBySteps() {
        List<Slips.Slip> found = slips(LengthUnit.MILLIMETRE, stakes(1500, 1500, 1500), "1500; 1500; 1500");
        List<Slips.Slip> short100 =
                found.stream().filter(s -> s.said().contains("short")).toList();
        assertThat(short100).hasSize(3);
        double half = 2.3;
        double area = Math.sqrt(half * 0.8 * 0.8 * 0.7);
        assertThat(short100).allSatisfy(s -> {
            assertThat(s.code()).isEqualTo("footSlip");
            assertThat(s.instead().diameter()).isCloseTo(1.5 * 1.5 * 1.6 / (2 * area), within(1e-9));
        });
        assertThat(found).noneMatch(s -> s.code().equals("radiusAsDiameter"));
    }

    /** Clearly a triangle: 2·1996 mm is less than 0.999·3996 mm, 2·1997 mm is not less than 0.999·3997 mm. */
    @Test
    void threeStakes_thatLeaveNoTriangle_areNoSlip() {
        for (int side = 0; side < 3; side++) {
            for (int length : new int[] {1896, 1897}) {
                int[] l = {1000, 1000, 1000};
                l[side] = length;
                List<String> said = said(stakes(l[0], l[1], l[2]), l[0] + "; " + l[1] + "; " + l[2]);
                String longer = "If " + length + " is ten centimetres short, it was " + (length + 100) + " mm";
                if (length == 1896) {
                    assertThat(said).contains(longer);
                } else {
                    assertThat(said).doesNotContain(longer);
                }
                assertThat(said)
                        .contains("If " + length + " is ten centimetres too long, it was " + (length - 100) + " mm");
            }
        }
    }

    /** Where it is not known how it was typed only a radius can be told: it used to say "If  is ten centimetres short". */
    @Test
    void whatWasNotTyped_canOnlyBeARadius() {
        assertThat(said(new TapeReading.Across(Length.mm(800)), ""))
                .containsExactly("If 800 mm is the radius, the diameter is 1600 mm");
        assertThat(said(stakes(1500, 1500, 1500), "")).isEmpty();
    }
}
