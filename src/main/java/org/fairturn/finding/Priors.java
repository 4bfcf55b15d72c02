package org.fairturn.finding;

import java.util.Optional;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.LearntScatter;
import org.fairturn.uncertainty.HalfT;
import org.fairturn.uncertainty.LearntPrior;
import org.fairturn.uncertainty.ScatterPrior;
import org.fairturn.units.Length;

/** What a trial assumes of its two standard deviations before a reading is looked at. */
final class Priors {
    private Priors() {}

    /** Of the circle-to-circle standard deviation. */
    static ScatterPrior circle(Conditions conditions) {
        return prior(conditions.assumption().circle(), conditions.assumedCircleRepeatability());
    }

    /** Of the reading-to-reading standard deviation. */
    static ScatterPrior reading(Conditions conditions) {
        return prior(conditions.assumption().reading(), conditions.assumedReadingRepeatability());
    }

    private static ScatterPrior prior(Optional<LearntScatter> learnt, Length usual) {
        HalfT vague = new HalfT(usual.metres());
        return learnt.<ScatterPrior>map(l -> new LearntPrior(l.median().metres(), l.logSpread(), vague, l.usualShare()))
                .orElse(vague);
    }
}
