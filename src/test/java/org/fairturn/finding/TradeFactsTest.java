package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * A compact tractor whose deck sits to the left, one circle a cell, end to end. What the trade reports of such a machine:
 * common practice, no source.
 */
class TradeFactsTest {
    private static final double INCH = LengthUnit.INCH.metres();
    private static Analysis analysis;

    @BeforeAll
    static void analyse() {
        analysis = Trials.in(LengthUnit.INCH)
                .machine("Compact")
                .blade(28, 6 + 15, 9.25)
                .blade(28, 6, 9.25)
                .blade(28, 6 - 15, 9.25)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 60, 62)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 82)
                .circle("3", Turn.LEFT, Drive.FOUR_WHEEL, 83)
                .circle("4", Turn.RIGHT, Drive.FOUR_WHEEL, 106)
                .analysed();
    }

    /** By hand: half of √(50.25² − 28²) − √(39.75² − 28²) in 2WD, of √(62.25² − 28²) − √(50.75² − 28²) in 4WD. */
    @Test
    void offsetThatWouldMakeBothTurnsEquallyTight_isAlikeInBothDrives() {
        double inTwo = equalising(0);
        double inFour = equalising(1);
        // 0.05 in: the trade's figures have one decimal; the missed centre moves each diameter by 0.04 in at most
        assertThat(inTwo).isCloseTo(6.8, within(0.05));
        assertThat(inFour).isCloseTo(6.6, within(0.05));
        assertThat(inTwo).isCloseTo(6.756, within(0.01));
        assertThat(inFour).isCloseTo(6.635, within(0.01));
    }

    @Test
    void ruleOfThumb_asksForLess() {
        // a quarter of the measured differences, 21 and 23 in
        assertThat(measured(0) / 4).isCloseTo(5.25, within(0.01));
        assertThat(measured(1) / 4).isCloseTo(5.75, within(0.01));
        assertThat(analysis.asymmetries().get(0).ruleOfThumb().orElseThrow() / INCH)
                .isCloseTo(24, within(1e-9));
        assertThat(analysis.asymmetries()
                        .get(0)
                        .finding()
                        .part("deckOffset")
                        .orElseThrow()
                        .estimate())
                .isBetween(0.7 * 24 * INCH, 0.85 * 24 * INCH);
    }

    @Test
    void fourWheelDrive_isWiderInBothTurns() {
        assertThat(analysis.findings())
                .filteredOn(f -> f.question() == Question.DRIVE
                        && !f.subject().get("turn").equals("both"))
                .hasSize(2)
                .allSatisfy(f -> assertThat(f.verdict().word()).isEqualTo("wider"));
    }

    @Test
    void everythingRests_onTheAssumedRepeatability() {
        assertThat(analysis.cells()).hasSize(4).allMatch(CellEstimate::restsOnAssumption);
        assertThat(analysis.differences()).hasSize(4).allMatch(Difference::restsOnAssumption);
        assertThat(analysis.findings()).hasSize(5).allMatch(Finding::restsOnAssumption);
        assertThat(analysis.differences()).allMatch(d -> d.dataOnly().isEmpty());
    }

    private static double equalising(int drive) {
        return analysis.asymmetries().get(drive).geometry().orElseThrow().equalisingOffset() / INCH;
    }

    private static double measured(int drive) {
        return analysis.asymmetries()
                        .get(drive)
                        .measured()
                        .orElseThrow()
                        .estimate()
                        .value()
                / INCH;
    }
}
