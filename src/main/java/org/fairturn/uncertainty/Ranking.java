package org.fairturn.uncertainty;

import java.util.List;

/**
 * In which place each of several independent quantities stands, the smallest first.
 *
 * <p>P(i is in place r) = ∫ f_i(x)·P(r − 1 of the others lie below x) dx, the inner probability by adding one quantity after
 * the other. With x = m_i + a·sinh t, a the smallest standard deviation of any part, the trapezoidal rule converges
 * geometrically; its step is halved until no probability changes by more than 1e-9 (at most 8 times).
 *
 * @see "L. N. Trefethen, J. A. C. Weideman, The exponentially convergent trapezoidal rule, SIAM Review 56 (2014) 385–458;
 *     the count of independent events is the Poisson binomial distribution"
 */
public final class Ranking {
    private static final double FIRST_STEP = 0.25;
    private static final int HALVINGS = 8;
    private static final double SETTLED = 1e-9;
    /** Standard deviations of the widest part beyond which nothing is left to a double. */
    private static final double REACH = 40;

    private Ranking() {}

    /**
     * The probability of each place.
     *
     * @param quantities two or more, each with variances above 0, independent of each other
     * @return [i][r]: probability that quantity i is the (r + 1)-th smallest; rows and columns sum to 1
     */
    public static double[][] probabilities(List<NormalMixture> quantities) {
        int n = quantities.size();
        double[][] result = new double[n][];
        for (int i = 0; i < n; i++) {
            if (n == 2 && i == 1) { // of two the second stands where the first does not
                result[1] = new double[] {result[0][1], result[0][0]};
                break;
            }
            double step = FIRST_STEP;
            double[] places = places(quantities, i, step);
            double change = Double.POSITIVE_INFINITY;
            for (int halving = 0; halving < HALVINGS && !(change < SETTLED); halving++) {
                step /= 2;
                double[] finer = places(quantities, i, step);
                change = 0;
                for (int r = 0; r < n; r++) {
                    change = Math.max(change, Math.abs(finer[r] - places[r]));
                }
                places = finer;
            }
            result[i] = places;
        }
        return result;
    }

    private static double[] places(List<NormalMixture> quantities, int i, double step) {
        NormalMixture own = quantities.get(i);
        double a = own.leastDeviation();
        if (!(a > 0)) {
            throw new IllegalArgumentException("a part has the standard deviation " + a + "; must be in (0, ∞)");
        }
        double[] places = new double[quantities.size()];
        double m = own.mean();
        double end = REACH * own.mostDeviation() / a;
        int steps = (int) Math.ceil(Math.log(end + Math.hypot(end, 1)) / step);
        for (int k = -steps; k <= steps; k++) {
            double t = k * step;
            double x = m + a * Math.sinh(t);
            double share = own.density(x) * a * Math.cosh(t) * step;
            if (share > 0) {
                double[] below = countBelow(quantities, i, x);
                for (int r = 0; r < places.length; r++) {
                    places[r] += share * below[r];
                }
            }
        }
        return places;
    }

    /** Probability that 0, 1, 2 … of the others lie below x. */
    private static double[] countBelow(List<NormalMixture> quantities, int i, double x) {
        double[] count = new double[quantities.size()];
        count[0] = 1;
        for (int j = 0; j < quantities.size(); j++) {
            if (j != i) {
                double below = quantities.get(j).probabilityBelow(x);
                double above = quantities.get(j).probabilityAbove(x);
                for (int r = count.length - 1; r > 0; r--) {
                    count[r] = count[r] * above + count[r - 1] * below;
                }
                count[0] *= above;
            }
        }
        return count;
    }
}
