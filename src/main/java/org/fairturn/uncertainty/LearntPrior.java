package org.fairturn.uncertainty;

import org.apache.commons.math3.analysis.solvers.BrentSolver;

/**
 * Prior for a standard deviation as past trials show it: ln σ is normal, and with a small probability σ comes from the
 * usual prior instead, as if the next trial were unlike all before.
 *
 * <pre>
 * p(σ) = (1 − ε)·N(ln σ; ln M, τ²)/σ + ε·p₀(σ)
 * </pre>
 *
 * <p>The second part keeps the tail as heavy as that of half of a t distribution with 4 degrees of freedom, so that a trial
 * that scatters far more than any before is believed and not talked down.
 *
 * @param median M (m), in (0, ∞)
 * @param logSpread τ, in (0, ∞): how trials differ and how well that is known, both in it
 * @param usual p₀, of finite scale
 * @param usualShare ε, in (0, 1]
 * @see "H. Schmidli, S. Gsteiger, S. Roychoudhury, A. O'Hagan, D. Spiegelhalter, B. Neuenschwander, Robust
 *     meta-analytic-predictive priors in clinical trials with historical control information, Biometrics 70 (2014)
 *     1023–1032, from memory: prediction from past trials, approximated by a standard family, mixed with a vague part"
 */
public record LearntPrior(double median, double logSpread, HalfT usual, double usualShare) implements ScatterPrior {
    /**
     * Checks what it is given.
     *
     * @param median M (m), in (0, ∞)
     * @param logSpread τ, in (0, ∞): how trials differ and how well that is known, both in it
     * @param usual p₀, of finite scale
     * @param usualShare ε, in (0, 1]
     * @throws IllegalArgumentException if a number lies outside the ranges above, or the usual prior is flat
     */
    public LearntPrior {
        if (!(median > 0 && median < Double.POSITIVE_INFINITY)
                || !(logSpread > 0 && logSpread < Double.POSITIVE_INFINITY)
                || !(usualShare > 0 && usualShare <= 1)
                || Double.isInfinite(usual.scale())) {
            throw new IllegalArgumentException("median is " + median + " m, log spread " + logSpread + ", usual share "
                    + usualShare + ", usual scale " + usual.scale()
                    + " m; must be in (0, ∞) m, (0, ∞), (0, 1] and (0, ∞) m");
        }
    }

    /** That of the usual prior, which reaches farther out. */
    @Override
    public double scale() {
        return usual.scale();
    }

    @Override
    public double logDensity(double sigma) {
        return Math.log(learnt(sigma) + usualShare * usual.density(sigma));
    }

    @Override
    public double slopeWithScale(double sigma) {
        double learnt = learnt(sigma);
        double vague = usualShare * usual.density(sigma);
        double ofLearnt = sigma > 0 ? z(sigma) / logSpread : 0;
        return (learnt * ofLearnt + vague * usual.slopeWithScale(sigma)) / (learnt + vague);
    }

    private double learnt(double sigma) {
        if (!(sigma > 0)) {
            return 0;
        }
        double z = z(sigma);
        return (1 - usualShare) * Math.exp(-z * z / 2) / (sigma * logSpread * Math.sqrt(2 * Math.PI));
    }

    private double z(double sigma) {
        return Math.log(sigma / median) / logSpread;
    }

    /** Probability of a standard deviation up to σ (m), in (0, ∞). */
    double probabilityBelow(double sigma) {
        return (1 - usualShare) * Quantiles.normalProbability(z(sigma)) + usualShare * usual.probabilityBelow(sigma);
    }

    /**
     * {@return the standard deviation (m) below which it lies with a probability in (0, 1); good to 1e-9 of itself}
     *
     * @param probability in (0, 1)
     */
    public double quantile(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability is " + probability + "; must be in (0, 1)");
        }
        double reach = 20 + 10 * logSpread;
        return Math.exp(new BrentSolver(1e-10)
                .solve(
                        1000,
                        x -> probabilityBelow(Math.exp(x)) - probability,
                        Math.log(Math.min(median, usual.scale())) - reach,
                        Math.log(Math.max(median, usual.scale())) + reach));
    }
}
