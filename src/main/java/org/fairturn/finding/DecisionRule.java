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

    /**
     * What the rule asks of a quantity.
     *
     * @param above {@code P(q > m)}
     * @param below {@code P(q < −m)}
     */
    record Chances(double above, double below) {
        /** P(|q| ≤ m). */
        double within() {
            return Math.max(0, 1 - above - below);
        }

        /** The highest of the three. */
        double likeliest() {
            return Math.max(within(), Math.max(above, below));
        }
    }

    Chances chances(NormalMixture q) {
        return new Chances(q.probabilityAbove(margin), q.probabilityBelow(-margin));
    }

    /** Whether one of the three probabilities lies so near the confidence that being off by as much could change the verdict. */
    boolean isClose(Chances q, double off) {
        return Math.abs(q.above() - confidence) < off
                || Math.abs(q.below() - confidence) < off
                || Math.abs(1 - q.above() - q.below() - confidence) < 2 * off;
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
        return decide(chances(q), asks);
    }

    /** The verdict where there is one. */
    Optional<Verdict> decide(Chances q, Asks asks) {
        if (q.above() >= confidence) {
            return Optional.of(new Verdict.Beyond(q.above(), sense(1, asks)));
        }
        if (q.below() >= confidence) {
            return Optional.of(new Verdict.Beyond(q.below(), sense(-1, asks)));
        }
        return q.within() >= confidence ? Optional.of(new Verdict.Within(q.within())) : Optional.empty();
    }

    /** How probable what a verdict says is of another quantity, less the confidence; on either side where it names none. */
    double excess(Verdict verdict, Chances q) {
        return verdict.<Double>fold(
                        w -> q.within(),
                        b -> switch (b.sense()) {
                            case WIDER -> q.above();
                            case TIGHTER -> q.below();
                            case EITHER -> Math.max(q.above(), q.below());
                        },
                        c -> 0.0,
                        n -> 0.0)
                - confidence;
    }
}
