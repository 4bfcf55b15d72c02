package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Parts of a mixture of normals, those nearly alike drawn together: parts whose variances lie in the same step of ln v, and
 * whose means in the same step of a standard deviation. Each bin becomes two parts of half its weight that keep its mean, its
 * variance, the variance of its variances and how mean and variance go together.
 *
 * <p>Sums of two mixtures bring tens of thousands of parts, so the bins are a hash table of plain arrays, and the step of a
 * variance is found from that of the part before, which is mostly the same.
 */
final class Bins {
    private final double alike;
    /** Of each bin: its first mean and variance, and the sums of weight times 1, μ, ν, μ², μν and ν². */
    private static final int STRIDE = 8;

    private static final int FIRST_MEAN = 0;
    private static final int FIRST_VARIANCE = 1;
    private static final int WEIGHT = 2;
    private static final int M = 3;
    private static final int V = 4;
    private static final int MM = 5;
    private static final int MV = 6;
    private static final int VV = 7;
    /** Relative spread of variances below which they are one. */
    private static final double ALL_THE_SAME = 1e-7;

    private double origin = Double.NaN;
    private int size;
    /** Place of each bin plus 1, by the hash of its two steps; 0 is empty. */
    private int[] table = new int[256];

    /** Of each bin its step of variance and of the mean. */
    private long[] keys = new long[64];
    /** μ is counted from the bin's first mean and ν, a share of it, from its first variance, so that nothing cancels. */
    private double[] sums = new double[STRIDE * 64];

    /** The step of the last variance: its number, its ends, and how many steps of the mean there are in it to the metre. */
    private int step;

    private double low = Double.NaN;
    private double high = Double.NaN;
    private double perWidth;

    /**
     * No parts yet.
     *
     * @param alike length of a step, of ln v and in standard deviations of the mean; above 0
     */
    Bins(double alike) {
        this.alike = alike;
    }

    void add(double w, double m, double v) {
        if (Double.isNaN(origin)) {
            origin = m;
        }
        if (!(v >= low && v < high)) {
            moveTo(v);
        }
        // parts without variance are steps, which are alike only where they are the same
        int bin = place(
                v > 0 ? ((long) step << Integer.SIZE) + (long) Math.rint((m - origin) * perWidth) : bits(m), m, v);
        int i = STRIDE * bin;
        double mu = m - sums[i];
        double nu = v > 0 ? v / sums[i + FIRST_VARIANCE] - 1 : 0;
        double wm = w * mu;
        double wv = w * nu;
        sums[i + WEIGHT] += w;
        sums[i + M] += wm;
        sums[i + V] += wv;
        sums[i + MM] += wm * mu;
        sums[i + MV] += wm * nu;
        sums[i + VV] += wv * nu;
    }

    private static long bits(double m) {
        return Double.doubleToLongBits(m);
    }

    private void moveTo(double v) {
        if (!(v > 0)) {
            return;
        }
        step = (int) Math.floor(Math.log(v) / alike);
        low = Math.exp(step * alike);
        high = Math.exp((step + 1) * alike);
        perWidth = Math.exp(-step * alike / 2) / alike;
    }

    /** The bin of a key, a new one where there is none yet. */
    private int place(long key, double m, double v) {
        int mask = table.length - 1;
        int slot = hash(key) & mask;
        while (table[slot] != 0) {
            if (keys[table[slot] - 1] == key) {
                return table[slot] - 1;
            }
            slot = (slot + 1) & mask;
        }
        if (size == keys.length) {
            grow();
            return place(key, m, v);
        }
        table[slot] = size + 1;
        keys[size] = key;
        sums[STRIDE * size + FIRST_MEAN] = m;
        sums[STRIDE * size + FIRST_VARIANCE] = v;
        return size++;
    }

    private static int hash(long key) {
        return (int) ((key * 0x9E3779B97F4A7C15L) >>> 40);
    }

    private void grow() {
        keys = Arrays.copyOf(keys, 2 * keys.length);
        sums = Arrays.copyOf(sums, 2 * sums.length);
        table = new int[2 * table.length];
        for (int i = 0; i < size; i++) {
            int slot = hash(keys[i]) & (table.length - 1);
            while (table[slot] != 0) {
                slot = (slot + 1) & (table.length - 1);
            }
            table[slot] = i + 1;
        }
    }

    /**
     * What has come together: two parts for each bin, or one where its variances are all the same.
     *
     * @param sorted by variance and mean, else in the order in which the bins were first met
     */
    NormalMixture mixture(boolean sorted) {
        double[] weights = new double[2 * size];
        double[] means = new double[2 * size];
        double[] variances = new double[2 * size];
        int n = 0;
        for (int bin : order(sorted)) {
            int i = STRIDE * bin;
            double weight = sums[i + WEIGHT];
            double v0 = sums[i + FIRST_VARIANCE];
            double m = sums[i + M] / weight;
            double v = sums[i + V] / weight;
            double mm = sums[i + MM] / weight - m * m;
            double mv = sums[i + MV] / weight - m * v;
            double s = Math.sqrt(Math.max(0, sums[i + VV] / weight - v * v));
            boolean two = s > ALL_THE_SAME;
            double slope = two ? mv / s : 0;
            double mean = sums[i + FIRST_MEAN] + m;
            double variance = v0 * (1 + v) + Math.max(0, mm - slope * slope);
            for (int side = two ? -1 : 1; side <= 1; side += 2) {
                weights[n] = two ? weight / 2 : weight;
                means[n] = two ? mean + side * slope : mean;
                variances[n] = Math.max(0, two ? variance + side * s * v0 : variance);
                n++;
            }
        }
        return new NormalMixture(Arrays.copyOf(weights, n), Arrays.copyOf(means, n), Arrays.copyOf(variances, n));
    }

    private int[] order(boolean sorted) {
        IntStream bins = IntStream.range(0, size);
        return sorted
                ? bins.boxed()
                        .sorted(Comparator.comparingLong((Integer i) -> keys[i]))
                        .mapToInt(i -> i)
                        .toArray()
                : bins.toArray();
    }
}
