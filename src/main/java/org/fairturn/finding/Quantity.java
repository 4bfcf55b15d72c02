package org.fairturn.finding;

import java.util.Optional;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;

/** A quantity with all that the decision rule and its sentence need to know of it. */
interface Quantity {
    NormalMixture mixture();

    Estimate estimate();

    /** Its best estimate (m), which is in {@link #estimate} too. */
    default double value() {
        return mixture().mean();
    }

    /** The standard uncertainty (m) of that. */
    default double standardUncertainty() {
        return mixture().standardDeviation();
    }

    /** Whether its uncertainty is mostly the assumed repeatability's doing. */
    boolean restsOnAssumption();

    /** The quantity if the circle-to-circle standard deviation were σ_b (m). */
    NormalMixture mixtureIf(double sigmaB);

    Outlook outlook(DecisionRule rule);

    /** Whether the verdict is all that is wanted of it, so that what explains a verdict is left out. */
    default boolean verdictOnly() {
        return false;
    }

    /**
     * The verdict where there is one. Where nothing but the verdict is wanted its probability may be too low, and a quantity
     * that knows a quicker way to the same verdict takes it.
     */
    default Optional<Verdict> verdict(DecisionRule rule, DecisionRule.Asks asks) {
        if (!verdictOnly()) {
            return rule.decide(mixture(), asks);
        }
        return rule.whateverTheShape(value(), standardUncertainty(), asks).or(() -> decided(rule, asks));
    }

    /** The verdict where there is one, by the shape of the distribution. */
    default Optional<Verdict> decided(DecisionRule rule, DecisionRule.Asks asks) {
        return rule.decide(mixture(), asks);
    }
}
