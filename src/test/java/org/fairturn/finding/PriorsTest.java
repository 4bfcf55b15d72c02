package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Assumption;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.LearntScatter;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.LearntPrior;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;

class PriorsTest {
    private static final Conditions USUAL = Trials.inMillimetres().trial().conditions();

    /** 50 mm for circles and 20 mm for readings, the usual scales. */
    @Test
    void withoutPastTrials_theyAreTheUsualOnes() {
        assertThat(Priors.circle(USUAL)).isEqualTo(new HalfT(0.050));
        assertThat(Priors.reading(USUAL)).isEqualTo(new HalfT(0.020));
    }

    /** Each keeps the usual one behind what was learnt of it, and does not take the other's. */
    @Test
    void pastTrials_stepInForWhatTheyTaught() {
        LearntScatter circle = new LearntScatter(Length.mm(30), 0.4, 0.1, 9, Length.mm(60));
        LearntScatter reading = new LearntScatter(Length.mm(6), 0.3, 0.2, 4, Length.mm(10));
        Conditions both = USUAL.withAssumption(
                new Assumption(false, false, Optional.of(circle), Optional.of(reading), List.of()));
        assertThat(Priors.circle(both)).isEqualTo(new LearntPrior(0.030, 0.4, new HalfT(0.050), 0.1));
        assertThat(Priors.reading(both)).isEqualTo(new LearntPrior(0.006, 0.3, new HalfT(0.020), 0.2));
        Conditions one =
                USUAL.withAssumption(new Assumption(false, true, Optional.of(circle), Optional.empty(), List.of()));
        assertThat(Priors.reading(one)).isEqualTo(new HalfT(0.020));
    }
}
