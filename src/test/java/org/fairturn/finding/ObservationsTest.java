package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

/** From readings to diameters: values, weights, and the parts that do not average. */
class ObservationsTest {
    private static final double SQRT_3 = Math.sqrt(3);

    private static Trials trial() {
        return Trials.inMillimetres().edge(6).machine("Alder").circle("1", Turn.LEFT, Drive.TWO_WHEEL);
    }

    private static Observation only(Trials trials) {
        return trials.analysed().circles().get(0).observations().get(0);
    }

    /** 1600 mm: 2 × 25²/1600 = 0.78125 mm is added; class II: 0.3 + 0.2 × 2 = 0.7 mm (OIML R 35-1:2007). */
    @Test
    void across_isCorrectedForTheMissedCentre() {
        Observation observation = only(trial().across(1600));
        assertThat(observation.diameter()).isCloseTo(1.60078125, within(1e-12));
        double sensitivity = 1 - 0.78125 / 1600;
        assertThat(observation.varianceFactor()).isCloseTo(sensitivity * sensitivity, within(1e-12));
        assertThat(observation.shared().tape()).isCloseTo(sensitivity * 0.0007 / SQRT_3, within(1e-12));
        assertThat(observation.shared().edge()).isCloseTo(2 * 0.006 / SQRT_3, within(1e-12));
        assertThat(observation.shared().missedCentre()).isCloseTo(0.00078125 / SQRT_3, within(1e-12));
        assertThat(observation.working()).isEqualTo("chord + 2p²/chord = 1600.0 + 0.8 = 1600.8");
    }

    /** 1200² / (4 × 300) + 300 = 1500; c/(2h) = 2 and 1 − c²/(4h²) = −3: 4 + 9 = 13 times the variance. */
    @Test
    void chordAndRise_magnifiesTheTape() {
        Observation observation = only(trial().chordAndRise(1200, 300));
        assertThat(observation.diameter()).isCloseTo(1.5, within(1e-12));
        assertThat(observation.varianceFactor()).isCloseTo(13, within(1e-9));
        // the tape's slips go together: 2 × 0.7 − 3 × 0.5
        assertThat(observation.shared().tape()).isCloseTo(0.0001 / SQRT_3, within(1e-12));
        assertThat(observation.shared().missedCentre()).isZero();
        assertThat(observation.working()).isEqualTo("c²/(4h) + h = 1200.0²/(4 × 300.0) + 300.0 = 1500.0");
    }

    /** An equilateral triangle: D = 2a/√3, each ∂D/∂a = 2/(3√3), so Σ = 3 × 4/27 = 4/9. */
    @Test
    void threeStakes_evenlySpread_areBetterThanAcross() {
        Observation observation = only(trial().threeStakes(1400, 1400, 1400));
        assertThat(observation.diameter()).isCloseTo(2.8 / SQRT_3, within(1e-12));
        assertThat(observation.varianceFactor()).isCloseTo(4.0 / 9, within(1e-9));
        assertThat(observation.shared().tape()).isCloseTo(2 / SQRT_3 * 0.0007 / SQRT_3, within(1e-12));
    }

    /** n points around a whole circle: the radius has 1/n of a point's variance, the diameter 4/n, a point half a tape's. */
    @Test
    void points_countAsHalfATapeEach() {
        for (int n : new int[] {4, 8, 12}) {
            Observation observation = only(trial().points(n, 1600));
            assertThat(observation.diameter()).isCloseTo(1.6, within(1e-9));
            assertThat(observation.varianceFactor()).isCloseTo(2.0 / n, within(1e-6));
        }
    }

    @Test
    void readingsOfOneCircle_areWeightedByWhatTheyAreWorth() {
        CircleResult circle = trial().across(1600)
                .chordAndRise(1200, 300)
                .analysed()
                .circles()
                .get(0);
        double w1 = 1 / circle.observations().get(0).varianceFactor();
        double w2 = 1.0 / 13;
        assertThat(circle.summary().orElseThrow().mean())
                .isCloseTo((1.60078125 * w1 + 1.5 * w2) / (w1 + w2), within(1e-12));
        assertThat(circle.shared().missedCentre()).isCloseTo(0.00078125 / SQRT_3 * w1 / (w1 + w2), within(1e-12));
    }

    @Test
    void edge_widensADiameterAndCancelsInADifference() {
        double[] cell = new double[2];
        double[] difference = new double[2];
        for (int i = 0; i < 2; i++) {
            Analysis analysis = Trials.inMillimetres()
                    .edge(i == 0 ? 0 : 30)
                    .machine("Alder")
                    .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1610)
                    .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1720, 1725)
                    .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1590, 1585)
                    .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1740, 1735)
                    .analysed();
            cell[i] = analysis.cells().get(0).diameter().standardUncertainty();
            difference[i] = analysis.differences().get(0).estimate().halfWidth();
        }
        assertThat(cell[1] * cell[1] - cell[0] * cell[0]).isCloseTo(4 * 0.03 * 0.03 / 3, within(1e-9));
        assertThat(difference[1]).isCloseTo(difference[0], within(1e-12));
    }

    /** Two diameters on the same metre of tape: all that is left is the 0.06 mm by which the centre's corrections differ. */
    @Test
    void sharedParts_cancelInADifferenceAsFarAsTheyAreAlike() {
        Analysis analysis = Trials.inMillimetres()
                .edge(30)
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600)
                .circle("2", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .analysed();
        MachineEstimate machine = analysis.machines().get(0);
        double shared = machine.contrast(new double[] {-1, 1}, 0, 0).mixture().standardDeviation();
        double readingsAlone =
                machine.posterior().contrast(new double[] {-1, 1}, 0, 0).standardDeviation();
        double tape = 0.0007 / SQRT_3 * (2 * 625 / 1600.0 / 1600 - 2 * 625 / 1700.0 / 1700);
        double centre = 1.25 * (1 / 1600.0 - 1 / 1700.0) / SQRT_3;
        assertThat(shared * shared - readingsAlone * readingsAlone)
                .isCloseTo(tape * tape + centre * centre, within(1e-12));
        assertThat(centre).isLessThan(3e-5);
    }

    /** Points on 1600 mm: class II is off by 0.3 + 0.2 × 2 = 0.7 mm, the edge by twice 6 mm, and no centre was missed. */
    @Test
    void points_sayWhereTheyStand_andShareTapeAndEdge() {
        Observation observation = only(trial().points(8, 1600));
        assertThat(observation.where()).isEqualTo("points.csv");
        assertThat(observation.shared().tape()).isCloseTo(0.0007 / SQRT_3, within(1e-12));
        assertThat(observation.shared().edge()).isCloseTo(0.012 / SQRT_3, within(1e-12));
        assertThat(observation.shared().missedCentre()).isZero();
        assertThat(observation.working())
                .isEqualTo(
                        "least-squares circle through 8 points, which lie within 0.0 mm (root mean square) of it = 1600.0");
        assertThat(only(trial().across(1600)).where()).isEqualTo("readings.csv, row 2");
    }

    /** (1, 2, 2) mm and twice (1, 0, 5) mm make (3, 2, 12) mm: 9 + 4 + 144 = 157. */
    @Test
    void sharedParts_addWithTheirSigns_andVaryTogether() {
        SharedParts parts = new SharedParts(1, 2, 2).plus(new SharedParts(1, 0, 5), 2);
        assertThat(parts).isEqualTo(new SharedParts(3, 2, 12));
        assertThat(parts.variance()).isEqualTo(157);
        assertThat(parts.standardUncertainty()).isEqualTo(Math.sqrt(157));
        assertThat(new SharedParts(1, 2, 2).standardUncertainty()).isEqualTo(3);
    }

    /** Two readings and the points: without each of them the other two are left, and the circle's own list with them. */
    @Test
    void circleWithoutOneOfItsReadings_keepsTheOthers() {
        CircleResult circle =
                trial().across(1600, 1620).points(8, 1610).analysed().circles().get(0);
        for (int out = 0; out < 3; out++) {
            Observation gone = circle.observations().get(out);
            CircleResult rest = circle.without(gone);
            assertThat(rest.observations()).hasSize(2).doesNotContain(gone);
            assertThat(rest.circle().readings()).hasSize(out < 2 ? 1 : 2);
            assertThat(rest.summary().orElseThrow().readings()).isEqualTo(2);
        }
        assertThat(circle.without(circle.observations().get(0)).circle().readings())
                .containsExactly(circle.circle().readings().get(1));
    }

    @Test
    void cell_countsItsReadings() {
        Analysis analysis = trial().across(1600, 1604, 1603)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1610, 1609)
                .analysed();
        assertThat(analysis.cells().get(0).readings()).isEqualTo(5);
    }
}
