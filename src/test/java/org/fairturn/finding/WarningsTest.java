package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;

/** Every warning as a whole text, and nothing beside it. */
class WarningsTest {
    private static Trials twoCirclesEach() {
        return Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1605)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1610)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 1700)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 1705);
    }

    @Test
    void soundTrial_hasNone() {
        assertThat(twoCirclesEach().analysed().warnings()).isEmpty();
    }

    @Test
    void assumptions_areSaid() {
        assertThat(twoCirclesEach().nothingStatedOfTapeAndEdge().analysed().warnings())
                .containsExactly(
                        new Warning(
                                "tapeClassAssumed",
                                "trial.csv",
                                "The tape class is not stated; class III was assumed, the widest limits. The class is printed on"
                                        + " the first part of the tape."),
                        new Warning(
                                "edgeDefinitionAssumed",
                                "trial.csv",
                                "How well the cut edge can be seen is not stated; ±5 mm (0.2 in) was assumed. It widens each"
                                        + " diameter's interval and cancels in differences."));
    }

    @Test
    void circlesThatDoNotCount_areNamedAndLeftOut() {
        Analysis analysis = twoCirclesEach()
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, 9000)
                .takenOut("slid off the track")
                .circle("6", Turn.LEFT, Drive.TWO_WHEEL, 9000)
                .takenOut("")
                .circle("7", Turn.LEFT, Drive.TWO_WHEEL)
                .circle("8", Turn.LEFT, Drive.TWO_WHEEL, 9000)
                .takenOut("Slid.")
                .analysed();
        assertThat(analysis.warnings())
                .containsExactly(
                        new Warning(
                                "excluded",
                                "circle 5",
                                "Taken out by use = no; listed, not analysed. Remark: slid off the track."),
                        new Warning(
                                "excluded",
                                "circle 6",
                                "Taken out by use = no; listed, not analysed. No remark says why."),
                        new Warning(
                                "noReadings",
                                "circle 7",
                                "It has no reading that makes a circle, so it does not count. Measure it or set use = no."),
                        new Warning(
                                "excluded", "circle 8", "Taken out by use = no; listed, not analysed. Remark: Slid."));
        assertThat(analysis.circles()).hasSize(8);
        assertThat(analysis.cells()).isEqualTo(twoCirclesEach().analysed().cells());
        assertThat(analysis.findings()).isEqualTo(twoCirclesEach().analysed().findings());
    }

    @Test
    void brakes_areKeptApart() {
        Analysis analysis = twoCirclesEach()
                .circle("5", Turn.LEFT, Drive.TWO_WHEEL, 900)
                .withBrakes()
                .analysed();
        assertThat(analysis.warnings())
                .containsExactly(
                        new Warning(
                                "brakesUsed",
                                "Alder",
                                "Circle 5: driven with brakes, a different condition, kept apart from circles without and never"
                                        + " converted."),
                        new Warning(
                                "singleCircle",
                                "Alder, left, 2WD, brakes used",
                                "Only one circle, 5: nothing here shows how much circles driven this way would scatter."));
        assertThat(analysis.cells()).hasSize(3);
        assertThat(analysis.cells().get(0).diameter().value()).isBetween(1.60, 1.61);
        assertThat(analysis.cells().get(2).diameter().value()).isBetween(0.90, 0.91);
        assertThat(analysis.findings().get(1).sentence())
                .isEqualTo(
                        "Alder, 2WD with brakes: left and right cannot be compared yet. Missing: a circle to the right in"
                                + " 2WD with brakes.");
    }

    @Test
    void machineWithoutCircles_isNamed() {
        assertThat(twoCirclesEach().machine("Birch").analysed().warnings())
                .containsExactly(new Warning(
                        "machineWithoutCircles",
                        "Birch",
                        "No circle of this machine counts, so nothing is said of it."));
    }

    @Test
    void noCircleAtAll_isAnAnalysisToo() {
        Analysis analysis = Trials.inMillimetres().machine("Alder").analysed();
        assertThat(analysis.warnings()).extracting(Warning::code).containsExactly("machineWithoutCircles");
        assertThat(analysis.repeatability()).isEmpty();
        assertThat(analysis.findings()).isEmpty();
    }

    @Test
    void deckOffsetThatDisagreesWithTheBlades_isSaidWithItsSides() {
        Trials trials = twoCirclesEach().deckOfThree(20).deckOffset(-15);
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "deckOffsetDisagrees",
                        "Alder",
                        "The deck offset is stated as 15 mm (0.6 in) to the right, but the outermost blade tips put it at 20 mm"
                                + " (0.8 in) to the left. The blades were used; measure both again."));
        // twice the standard uncertainty of 5 mm is let pass
        assertThat(twoCirclesEach().deckOfThree(20).deckOffset(10.5).analysed().warnings())
                .isEmpty();
        assertThat(twoCirclesEach().deckOfThree(20).deckOffset(9.5).analysed().warnings())
                .hasSize(1);
    }

    @Test
    void discTooSmallForTheDeck_isSaidAndNotExplained() {
        Analysis analysis = Trials.in(LengthUnit.INCH)
                .machine("Alder")
                .blade(30, 0, 9)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 40)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 40)
                .circle("3", Turn.RIGHT, Drive.TWO_WHEEL, 70)
                .circle("4", Turn.RIGHT, Drive.TWO_WHEEL, 70)
                .analysed();
        assertThat(analysis.warnings())
                .containsExactly(new Warning(
                        "impossibleDisc",
                        "Alder, left, 2WD",
                        "With the blade positions given, no turn radius leaves so small a disc. Check the readings' unit and"
                                + " the blade positions."));
        assertThat(analysis.cells().get(0).turnRadius()).isEmpty();
        assertThat(analysis.cells().get(1).turnRadius()).isPresent();
        assertThat(analysis.findings().get(0).sentence())
                .isEqualTo(
                        "Alder, 2WD: the right circle is 30.0 in (761 mm) larger than the left, but whether the deck explains"
                                + " that cannot be said yet. Missing: blade positions and a turn centre shift that fit the circles: with"
                                + " those given, no turn radius leaves so small a disc.");
    }

    @Test
    void pointsThatMakeNoCircle_areNotDroppedSilently() {
        Analysis analysis = twoCirclesEach().points(2, 1700).analysed();
        assertThat(analysis.warnings())
                .containsExactly(new Warning(
                        "pointsMakeNoCircle",
                        "circle 4",
                        "No circle can be laid through its points in points.csv, so they were left out. Check their"
                                + " coordinates."));
        assertThat(analysis.cells()).isNotEmpty();
    }

    /** R = √((D/2 + r)² − x²) + y with x = 0.65 ± 0.05 m, so that 4WD bends it; in 2WD, ± 0.025 m, it does so four times less. */
    @Test
    void turnRadiusNearTheLimitOfTheBlades_isCalledRough() {
        Trials trials = Trials.inMillimetres().machine("Alder").deckOfThree(0);
        for (Drive drive : Drive.values()) {
            for (int i = 0; i < 3; i++) {
                trials.circle(drive + " " + i, Turn.LEFT, drive, 1500 + i, 1505 + i);
            }
        }
        assertThat(trials.analysed().warnings())
                .filteredOn(w -> w.code().equals("turnRadiusRough"))
                .containsExactly(new Warning(
                        "turnRadiusRough",
                        "Alder, left, 4WD",
                        "So small a circle lies near the limit of what these blades can leave. The range of its turn radius"
                                + " is rough: the true one lies lower by about 7 % of its width. The remainder of left"
                                + " against right hardly feels it. Check the blade positions, and state a turn centre shift"
                                + " with its uncertainty (machines.csv) where they are known."));
    }

    @Test
    void stopThatDoesNotTouch_isSaid_andOneThatDoesIsNot() {
        Trials trials = Trials.inMillimetres()
                .machine("Alder")
                .stop(Turn.LEFT, 28, 28, false)
                .stop(Turn.RIGHT, 28, 28, true)
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1605)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1610);
        assertThat(trials.analysed().warnings())
                .containsExactly(new Warning(
                        "stopDoesNotTouch",
                        "Alder, left stop",
                        "It does not touch the axle at full lock in the left turn. Mend this first."));
    }

    @Test
    void pointsThatMakeACircle_areNoMatter() {
        assertThat(twoCirclesEach().points(8, 1700).analysed().warnings()).isEmpty();
    }

    /** Two machines alike but for the names and the size of their circles: only the one with small circles is warned of. */
    @Test
    void turnRadius_isJudgedByTheMachinesOwnBlades() {
        Trials trials = Trials.inMillimetres();
        for (String machine : new String[] {"Birch", "Alder"}) {
            trials.machine(machine).deckOfThree(0);
            for (int i = 0; i < 3; i++) {
                double d = (machine.equals("Alder") ? 1500 : 3000) + i;
                trials.circle(machine + i, Turn.LEFT, Drive.FOUR_WHEEL, d, d + 5);
            }
        }
        assertThat(trials.analysed().warnings())
                .filteredOn(w -> w.code().equals("turnRadiusRough"))
                .extracting(Warning::where)
                .containsExactly("Alder, left, 4WD");
    }
}
