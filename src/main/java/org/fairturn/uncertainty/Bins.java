package org.fairturn.uncertainty;

import java.util.Arrays;

/**
 * Parts of a mixture of normals, those nearly alike drawn together without loss: a part N(m + μ, v + ν) near the middle N(m, v)
 * of its bin is exp(−μ∂ + ν∂²/2) applied to that, and a bin adds up the terms of this series in ∂. Their coefficients c in
 * standard deviations of the middle follow n·cₙ = μ·cₙ₋₁ + ν·cₙ₋₂, and Φ⁽ⁿ⁾ = (−1)ⁿ⁻¹·Heₙ₋₁·φ with Hermite's polynomials.
 *
 * <p>Bins of a variance are half of a power of two, those of a mean half a standard deviation: ν is at most 20 % of v, 40 % where
 * two mixtures are added, and the series converges as the powers of that. Sums of two mixtures bring thousands of parts, so
 * the bins are a hash table of plain arrays, and no logarithm is taken to find one.
 *
 * @see "The series is Gram and Charlier's type A: Abramowitz and Stegun 1964, Handbook of Mathematical Functions, 26.2.47; its
 *     use for a mixture is our own derivation"
 */
final class Bins {
    /** How fine bins are and how long their series. */
    enum Kind {
        /** What is left out of a probability is below 1e-10, and below 1e-9 where two mixtures are added. */
        WHOLE(1, 0.5, 28, 1e-11),
        /** Half as fine: of probabilities some 1e-3 are left out. */
        ROUGH(0, 1, 4, 1e-5);

        private final int bits;
        private final double meanStep;
        private final int order;
        private final double negligible;

        Kind(int bits, double meanStep, int order, double negligible) {
            this.bits = bits;
            this.meanStep = meanStep;
            this.order = order;
            this.negligible = negligible;
        }
    }

    private static final int MOST_ORDER = 28;
    /** Mean and variance stay exact, however little a part weighs. */
    private static final int MOMENTS = 2;

    /** Two terms more leave a quarter of the rest at the worst. */
    private static final double PER_TERM = 2 / Math.log(0.25);

    private static final int MANTISSA = 52;
    /** From the first mean; farther out a double does not tell two steps apart. */
    private static final double MOST_STEPS = 1e15;
    /** Makes the bits of any finite number a larger number than the steps are, 0's too. */
    private static final long FAR = Double.doubleToRawLongBits(Double.POSITIVE_INFINITY);

    private static final double[] INVERSE = new double[MOST_ORDER + 1];
    /** √n!, about what Heₙ·φ comes to. */
    private static final double[] HERMITE = new double[MOST_ORDER + 1];

    static {
        HERMITE[0] = 1;
        for (int n = 1; n <= MOST_ORDER; n++) {
            INVERSE[n] = 1.0 / n;
            HERMITE[n] = HERMITE[n - 1] * Math.sqrt(n);
        }
    }

    private final Kind kind;
    private final int stride;
    private double origin = Double.NaN;
    private int size;
    /** Place of each bin plus 1, by the hash of its two keys; 0 is empty. */
    private int[] table = new int[256];

    private long[] varianceKeys = new long[64];
    private long[] meanKeys = new long[64];
    private double[] means = new double[64];
    private double[] deviations = new double[64];
    /** Of each bin its coefficients. */
    private double[] series;

    /** The last variance's bin: its key, its middle and that one's root. */
    private long varianceKey = Long.MIN_VALUE;

    private double deviation;
    private double perMiddle;
    private double perDeviation;
    private double step;
    private double perStep;
    /** The last mean's bin of that variance. */
    private long meanKey;

    private int bin;

    private final double[] shift = new double[MOST_ORDER + 1];
    private final double[] first = new double[MOST_ORDER + 1];
    private final double[] second = new double[MOST_ORDER + 1];
    private final double[] product = new double[MOST_ORDER + 1];

    /** No parts yet. */
    Bins(Kind kind) {
        this.kind = kind;
        this.stride = kind.order + 1;
        this.series = new double[64 * stride];
    }

    /** Adds a part of weight w, mean m and variance v. */
    void add(double w, double m, double v) {
        if (!(w > 0)) {
            return;
        }
        int bin = place(m, v);
        int at = bin * stride;
        series[at] += w;
        if (v > 0) {
            double mu = (m - means[bin]) * perDeviation;
            double nu = v * perMiddle - 1;
            double before = 0;
            double term = w;
            for (int n = 1; n < stride; n++) {
                double next = (mu * term + nu * before) * INVERSE[n];
                series[at + n] += next;
                before = term;
                term = next;
                if (n >= MOMENTS && isNegligible(term, before, n)) {
                    break;
                }
            }
        }
    }

    /**
     * Adds the sum of two parts that know nothing of each other: the product of their series.
     *
     * @param a coefficients of one in its standard deviations
     * @param b of the other
     * @param m mean of their sum
     * @param v variance of their sum
     */
    void add(double[] a, double aDeviation, double[] b, double bDeviation, double m, double v) {
        int bin = place(m, v);
        if (!(v > 0)) {
            series[bin * stride] += a[0] * b[0];
            return;
        }
        int length = length(a[0] * b[0]);
        scale(a, aDeviation * perDeviation, first);
        scale(b, bDeviation * perDeviation, second);
        Arrays.fill(product, 0, length, 0);
        multiply(first, Math.min(length, a.length), second, Math.min(length, b.length), length);
        move((m - means[bin]) * perDeviation, v * perMiddle - 1, length, bin * stride);
    }

    /** How long the series of a sum has to be, by what it weighs. */
    private int length(double weight) {
        int length = (int) (Math.log(kind.negligible / weight) * PER_TERM);
        return Math.max(MOMENTS + 1, Math.min(stride, length));
    }

    private boolean isNegligible(double term, double before, int n) {
        return (Math.abs(term) + Math.abs(before)) * HERMITE[n] < kind.negligible;
    }

    /** Coefficients in standard deviations that are larger by 1 over the factor. */
    static void scale(double[] c, double factor, double[] result) {
        double power = 1;
        for (int n = 0; n < c.length; n++) {
            result[n] = c[n] * power;
            power *= factor;
        }
    }

    private void multiply(double[] x, int xs, double[] y, int ys, int length) {
        for (int i = 0; i < xs; i++) {
            double factor = x[i];
            int end = Math.min(ys, length - i);
            for (int j = 0; j < end; j++) {
                product[i + j] += factor * y[j];
            }
        }
    }

    /** Adds the product to a bin, moved to its middle. */
    private void move(double mu, double nu, int length, int at) {
        shift[0] = 1;
        shift[1] = mu;
        for (int n = 2; n < length; n++) {
            shift[n] = (mu * shift[n - 1] + nu * shift[n - 2]) * INVERSE[n];
        }
        int step = mu == 0 ? 2 : 1; // then every second term is none
        for (int k = 0; k < length; k += step) {
            double factor = shift[k];
            for (int n = k; n < length; n++) {
                series[at + n] += factor * product[n - k];
            }
        }
    }

    /** The bin of a mean and a variance, a new one where there is none yet. */
    private int place(double m, double v) {
        if (Double.isNaN(origin)) {
            origin = m;
        }
        // parts without variance are steps, which are alike only where they are the same
        long key = v > 0 ? Double.doubleToRawLongBits(v) >>> (MANTISSA - kind.bits) : -1;
        boolean same = key == varianceKey;
        if (!same) {
            moveTo(key);
        }
        double steps = Math.rint((m - origin) * perStep);
        boolean alone = !(Math.abs(steps) < MOST_STEPS);
        long before = meanKey;
        meanKey = alone ? Double.doubleToRawLongBits(m) ^ FAR : (long) steps;
        if (!same || meanKey != before) {
            bin = found(alone ? m : origin + steps * step);
        }
        return bin;
    }

    private void moveTo(long key) {
        varianceKey = key;
        double middle = key < 0
                ? 0
                : (Double.longBitsToDouble(key << (MANTISSA - kind.bits))
                                + Double.longBitsToDouble((key + 1) << (MANTISSA - kind.bits)))
                        / 2;
        perMiddle = 1 / middle;
        deviation = Math.sqrt(middle);
        perDeviation = 1 / deviation;
        step = deviation * kind.meanStep;
        perStep = 1 / step;
    }

    private int found(double mean) {
        int mask = table.length - 1;
        int slot = hash(varianceKey, meanKey) & mask;
        while (table[slot] != 0) {
            int there = table[slot] - 1;
            if (varianceKeys[there] == varianceKey && meanKeys[there] == meanKey) {
                return there;
            }
            slot = (slot + 1) & mask;
        }
        if (size == means.length) {
            grow();
            return found(mean);
        }
        table[slot] = size + 1;
        varianceKeys[size] = varianceKey;
        meanKeys[size] = meanKey;
        means[size] = mean;
        deviations[size] = deviation;
        return size++;
    }

    private static int hash(long varianceKey, long meanKey) {
        return (int) ((varianceKey * 0x9E3779B97F4A7C15L + meanKey * 0xC2B2AE3D27D4EB4FL) >>> 40);
    }

    private void grow() {
        int more = 2 * means.length;
        varianceKeys = Arrays.copyOf(varianceKeys, more);
        meanKeys = Arrays.copyOf(meanKeys, more);
        means = Arrays.copyOf(means, more);
        deviations = Arrays.copyOf(deviations, more);
        series = Arrays.copyOf(series, more * stride);
        table = new int[2 * table.length];
        for (int i = 0; i < size; i++) {
            int slot = hash(varianceKeys[i], meanKeys[i]) & (table.length - 1);
            while (table[slot] != 0) {
                slot = (slot + 1) & (table.length - 1);
            }
            table[slot] = i + 1;
        }
    }

    /** What has come together, a part for each bin. */
    NormalMixture mixture() {
        double[][] parts = new double[size][];
        double[] weights = new double[size];
        for (int bin = 0; bin < size; bin++) {
            int at = bin * stride;
            int length = stride;
            while (length > MOMENTS + 1
                    && Math.abs(series[at + length - 1]) * HERMITE[length - 1] < kind.negligible / 10) {
                length--;
            }
            parts[bin] = Arrays.copyOfRange(series, at, at + length);
            weights[bin] = series[at];
        }
        return new NormalMixture(weights, parts, Arrays.copyOf(means, size), Arrays.copyOf(deviations, size));
    }
}
