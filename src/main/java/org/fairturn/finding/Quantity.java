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

    /** The verdict alone where there is one, by the quickest way to it. */
    default Optional<Verdict> decided(DecisionRule rule, DecisionRule.Asks asks) {
        return rule.decide(mixture(), asks);
    }

    /** What it comes to, without all that only explains a verdict; its shape is looked at only where that may matter. */
    default Answer.Then then(DecisionRule rule, DecisionRule.Asks asks) {
        double value = value();
        double u = standardUncertainty();
        return new Answer.Then(rule.whateverTheShape(value, u, asks).or(() -> decided(rule, asks)), value, u);
    }
}
