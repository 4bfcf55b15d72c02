package org.fairturn.finding;

import java.util.Optional;
import org.fairturn.uncertainty.NormalMixture;

/**
 * The one decision rule: within the margin if P(|q| ≤ m) reaches the confidence, beyond it if {@code P(q > m)} or
 * {@code P(q < −m)} does, else undecided. The two tails are not added up to a verdict: where q is hardly known they reach
 * the confidence together, and knowing nothing would pass for knowing that it matters.
 *
 * @param margin practical margin m (m), in (0, ∞)
 * @param confidence required probability, in (0.5, 1)
 * @see "The idea of guard bands: JCGM 106:2012, clauses 8 and 9"
 */
record DecisionRule(double margin, double confidence) {
    public DecisionRule {
        if (!(margin > 0) || !(confidence > 0.5 && confidence < 1)) {
            throw new IllegalArgumentException(
                    "margin is " + margin + " m, confidence " + confidence + "; must be in (0, ∞) m and (0.5, 1)");
        }
    }

    /** Whether a question has a wide and a tight side, or asks for a difference of either sign. */
    enum Asks {
        SIGNED,
        UNSIGNED
    }

    /** P(|q| ≤ m). */
    double probabilityWithin(NormalMixture q) {
        return Math.max(0, 1 - q.probabilityAbove(margin) - q.probabilityBelow(-margin));
    }

    /** The highest of P(|q| ≤ m), {@code P(q > m)} and {@code P(q < −m)}. */
    double likeliest(NormalMixture q) {
        double above = q.probabilityAbove(margin);
        double below = q.probabilityBelow(-margin);
        return Math.max(Math.max(0, 1 - above - below), Math.max(above, below));
    }

    /** Whether one of the three probabilities lies so near the confidence that being off by as much could change the verdict. */
    boolean isClose(NormalMixture q, double off) {
        double above = q.probabilityAbove(margin);
        double below = q.probabilityBelow(-margin);
        return Math.abs(above - confidence) < off
                || Math.abs(below - confidence) < off
                || Math.abs(1 - above - below - confidence) < 2 * off;
    }

    /** Whether a quantity with a normal standard uncertainty (m) is beyond the margin by this rule. */
    boolean surelyBeyond(double value, double standardUncertainty) {
        NormalMixture q = new NormalMixture(
                new double[] {1}, new double[] {value}, new double[] {standardUncertainty * standardUncertainty});
        return decide(q, Asks.UNSIGNED).filter(v -> v.word().equals("beyond")).isPresent();
    }

    /**
     * The verdict that holds for every distribution with this mean and standard deviation (m); empty where some would have
     * another. Its probability is the least it may have.
     *
     * @see "F. P. Cantelli's inequality: P(q − μ ≥ d) ≤ σ²/(σ² + d²)"
     */
    Optional<Verdict> whateverTheShape(double mean, double standardDeviation, Asks asks) {
        double v = standardDeviation * standardDeviation;
        double gap = Math.abs(mean) - margin;
        double outside = 1 - v / (v + gap * gap);
        if (gap > 0 && outside >= confidence) {
            return Optional.of(new Verdict.Beyond(outside, sense(mean, asks)));
        }
        double room = margin + Math.abs(mean);
        double inside = outside - v / (v + room * room);
        return gap < 0 && inside >= confidence ? Optional.of(new Verdict.Within(inside)) : Optional.empty();
    }

    private static Verdict.Sense sense(double q, Asks asks) {
        return asks != Asks.SIGNED ? Verdict.Sense.EITHER : q > 0 ? Verdict.Sense.WIDER : Verdict.Sense.TIGHTER;
    }

    /** The verdict where there is one. */
    Optional<Verdict> decide(NormalMixture q, Asks asks) {
        double above = q.probabilityAbove(margin);
        double below = q.probabilityBelow(-margin);
        if (above >= confidence) {
            return Optional.of(new Verdict.Beyond(above, sense(1, asks)));
        }
        if (below >= confidence) {
            return Optional.of(new Verdict.Beyond(below, sense(-1, asks)));
        }
        double within = Math.max(0, 1 - above - below);
        return within >= confidence ? Optional.of(new Verdict.Within(within)) : Optional.empty();
    }
}
