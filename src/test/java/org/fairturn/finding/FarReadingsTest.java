package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.junit.jupiter.api.Test;

/** What lies far out beside something that lies farther out. */
class FarReadingsTest {
    private static final int READINGS = 9;

    /** A reading of 300 mm too much on circle 3; on circle 4 one that is larger than the other by a gap (mm). */
    private static FarReadings readings(double gap) {
        Trial trial = Trials.inMillimetres()
                .machine("Alder")
                .circle("1", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1604)
                .circle("2", Turn.LEFT, Drive.TWO_WHEEL, 1611, 1603, 1606)
                .circle("3", Turn.LEFT, Drive.TWO_WHEEL, 1600, 1900)
                .circle("4", Turn.LEFT, Drive.TWO_WHEEL, 1610, 1610 + gap)
                .trial();
        MachineEstimate machine = Trials.machines(trial).get(0);
        return new FarReadings(machine, machine.circles(), trial.conditions(), READINGS, 4);
    }

    /**
     * As the second gap grows it goes from ordinary through rare, but not rare enough, to far out; the first is found all along,
     * and so is only what is rarer than one in a hundred trials would have by chance.
     */
    @Test
    void nearlyFarOutAfterOneThatIs_theFirstIsFoundAllTheSame() {
        int before = 1;
        boolean wasNotRareEnough = false;
        for (double gap = 20; gap <= 100; gap += 2) {
            FarReadings far = readings(gap);
            List<FarReadings.FarReading> found = far.readings();
            assertThat(found.get(0).circle().circle().id()).as("%s mm", gap).isEqualTo("3");
            assertThat(found.get(0).gap()).isBetween(0.299, 0.301);
            assertThat(found).allMatch(f -> f.chance() * READINGS < 0.01).hasSizeBetween(before, 2);
            if (found.size() == 1) {
                double chance = chance(far, gap);
                wasNotRareEnough |= chance < 0.01;
                assertThat(chance * READINGS).isGreaterThanOrEqualTo(0.01);
            }
            before = found.size();
        }
        assertThat(wasNotRareEnough).isTrue();
        assertThat(before).isEqualTo(2);
    }

    /** The second way: what is left once both are set aside, and how likely so large a gap is then. */
    private static double chance(FarReadings without, double gap) {
        Map<Cell, List<CircleResult>> rest = without.kept();
        rest.values()
                .forEach(all -> all.replaceAll(c ->
                        c.circle().id().equals("4") ? c.without(c.observations().get(1)) : c));
        var gaps = MachineEstimate.posterior(
                        MachineEstimate.data(rest),
                        Trials.inMillimetres().machine("Alder").trial().conditions())
                .readingGap(1, 1);
        return 2 * gaps.probabilityAbove(gap / 1000);
    }
}
