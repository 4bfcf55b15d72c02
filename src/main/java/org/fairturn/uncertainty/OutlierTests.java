package org.fairturn.uncertainty;

/**
 * Critical values of the tests that ISO 5725-2 and ASTM E691 put to laboratories, or to people with a tape; for Grubbs' test see
 * {@link Grubbs}. Each takes the
 * level of significance α in (0, 1); p is how many laboratories there are and n how many replicates each made.
 */
final class OutlierTests {
    private OutlierTests() {}

    /**
     * Mandel's h, two-sided: (p − 1)·t/√(p·(t² + p − 2)), t being Student's with p − 2 degrees of freedom at 1 − α/2.
     *
     * @param p 3 or more; two laboratories lie at ±0.707 whatever they find
     * @see "ASTM E691, Table 5, and ISO 5725-2:1994, 8.3 (from memory)"
     */
    static double mandelH(int p, double alpha) {
        atLeast(3, p, "p");
        double t = Quantiles.student(1 - alpha / 2, p - 2);
        return (p - 1) * t / Math.sqrt(p * (t * t + p - 2));
    }

    /**
     * Mandel's k, the standard deviation of one laboratory over that of all pooled: √(N·F/(ν·F + N − ν)), F at 1 − α with ν
     * and N − ν degrees of freedom. For ν = n − 1 and N = p·(n − 1) it is the √(p/(1 + (p − 1)/F)) of the tables.
     *
     * @param nu ν, degrees of freedom of this laboratory, 1 or more
     * @param all N, degrees of freedom of all laboratories together, more than ν
     * @see "ASTM E691, Table 6, and ISO 5725-2:1994, 8.3 (from memory); for unequal replicates our own derivation: s² of one
     *     and of the rest pooled are independent, and their ratio is F"
     */
    static double mandelK(int nu, int all, double alpha) {
        atLeast(1, nu, "nu");
        atLeast(nu + 1, all, "all");
        double f = Quantiles.f(1 - alpha, nu, all - nu);
        return Math.sqrt(all * f / (nu * f + all - nu));
    }

    /**
     * Cochran's C, the largest variance over the sum of all: 1/(1 + (p − 1)/F), F at 1 − α/p with n − 1 and (p − 1)(n − 1)
     * degrees of freedom.
     *
     * @param p 2 or more
     * @param n 2 or more
     * @see "ISO 5725-2:1994, 7.3.3 and Table 4 (from memory)"
     */
    static double cochran(int p, int n, double alpha) {
        atLeast(2, p, "p");
        atLeast(2, n, "n");
        double f = Quantiles.f(1 - alpha / p, n - 1, (p - 1.0) * (n - 1));
        return 1 / (1 + (p - 1) / f);
    }

    private static void atLeast(int least, int value, String name) {
        if (value < least) {
            throw new IllegalArgumentException(name + " is " + value + "; must be " + least + " or more");
        }
    }
}
