package org.fairturn.trial;

import org.fairturn.units.Length;

/**
 * What an archive of past trials makes one expect of a standard deviation: normal on the scale of its logarithm, and with a
 * small probability as it is usually assumed instead.
 *
 * @param median above 0
 * @param logSpread standard deviation of its logarithm, above 0
 * @param usualShare probability that past trials tell nothing of this one, in (0, 1]
 * @param trials how many past trials it was learnt from, 1 or more
 * @param below95 what 95 % of trials are expected to stay below
 */
public record LearntScatter(Length median, double logSpread, double usualShare, int trials, Length below95) {
    /** The same stretched by a factor above 0. */
    LearntScatter times(double factor) {
        return new LearntScatter(
                new Length(factor * median.metres()),
                logSpread,
                usualShare,
                trials,
                new Length(factor * below95.metres()));
    }
}
