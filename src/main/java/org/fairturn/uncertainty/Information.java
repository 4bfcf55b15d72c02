package org.fairturn.uncertainty;

import java.util.List;

/**
 * How much a check is expected to tell about which cause it is: the mutual information of cause and outcome, in bits.
 *
 * @see "D. V. Lindley, On a measure of the information provided by an experiment, Annals of Mathematical Statistics 27 (1956)
 *     986–1005; from memory"
 */
public final class Information {
    /** Reach of the integral, in the widest standard deviation beyond the outermost means. */
    private static final double REACH = 7;
    /** Step of the trapezoidal rule, in the narrowest standard deviation: at a half, its relative error is below 1e-7. */
    private static final double STEP = 0.5;

    private static final int MOST_STEPS = 4000;
    /** A cause less likely than this adds less than about 1e-4 bits. */
    private static final double NEGLIGIBLE = 1e-5;

    private Information() {}

    /**
     * Of a check whose outcome is a number: Σ_h p_h·∫ f_h·log₂(f_h/f) dx with f = Σ_h p_h·f_h, by the trapezoidal rule.
     *
     * @param probabilities p_h of each cause, summing to 1
     * @param outcomes f_h, the outcome expected under each, variances above 0
     * @return bits, in [0, log₂ of the number of causes]
     */
    public static double ofNumber(List<Double> probabilities, List<NormalMixture> outcomes) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        double narrowest = Double.POSITIVE_INFINITY;
        for (int h = 0; h < outcomes.size(); h++) {
            if (probabilities.get(h) > NEGLIGIBLE) {
                for (NormalMixture.Normal part : outcomes.get(h).parts()) {
                    double deviation = Math.sqrt(part.v());
                    low = Math.min(low, part.m() - REACH * deviation);
                    high = Math.max(high, part.m() + REACH * deviation);
                    narrowest = Math.min(narrowest, deviation);
                }
            }
        }
        int steps = (int) Math.min(MOST_STEPS, Math.ceil((high - low) / (STEP * narrowest)));
        double step = (high - low) / steps;
        double sum = 0;
        double[] density = new double[outcomes.size()];
        for (int i = 0; i <= steps; i++) {
            double all = 0;
            for (int h = 0; h < density.length; h++) {
                density[h] = probabilities.get(h) > NEGLIGIBLE ? outcomes.get(h).density(low + i * step) : 0;
                all += probabilities.get(h) * density[h];
            }
            for (int h = 0; h < density.length; h++) {
                double share = probabilities.get(h) * density[h];
                if (share > 0) { // far from every cause the density may be there still, and the share too small for a
                    // double
                    sum += share * Math.log(density[h] / all);
                }
            }
        }
        return Math.max(0, sum * step / Math.log(2));
    }

    /**
     * Of a question whose true answer names one of several groups of causes: the entropy of the groups.
     *
     * @param probabilities of each group, summing to 1
     * @return in bits, in [0, log₂ of how many groups]
     */
    public static double ofAnswer(List<Double> probabilities) {
        return probabilities.stream()
                .filter(p -> p > 0)
                .mapToDouble(p -> -p * Math.log(p) / Math.log(2))
                .sum();
    }
}
