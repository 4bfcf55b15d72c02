package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * Parts of a mixture of normals, those nearly alike drawn together to one with their weight, mean and variance: parts whose
 * variances lie in the same step of ln v, and whose means in the same step of a standard deviation.
 *
 * <p>Sums of two mixtures bring tens of thousands of parts, so the bins are a hash table of plain arrays, and the step of a
 * variance is found from that of the part before, which is mostly the same.
 */
final class Bins {
    private final double alike;
    private double origin = Double.NaN;
    private int size;
    /** Place of each bin plus 1, by the hash of its two steps; 0 is empty. */
    private int[] table = new int[1024];

    private long[] steps = new long[2 * 256];
    /**
     * Of each bin the first mean, and from there on the sums of weight, weight·mean, weight·mean² and weight·variance; means
     * are counted from the first, so that nothing cancels.
     */
    private double[] sums = new double[5 * 256];

    /** The step of the last variance: its number, its ends, and the width of a step of the mean in it. */
    private int step;

    private double low = Double.NaN;
    private double high = Double.NaN;
    private double width;

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
        int i = 5 * (v > 0 ? place(step, Math.round((m - origin) / width), m) : place(Integer.MIN_VALUE, bits(m), m));
        double d = m - sums[i];
        sums[i + 1] += w;
        sums[i + 2] += w * d;
        sums[i + 3] += w * d * d;
        sums[i + 4] += w * v;
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
        width = alike * Math.exp(step * alike / 2);
    }

    /** The bin of two steps, a new one where there is none yet. */
    private int place(long ofVariance, long ofMean, double m) {
        int mask = table.length - 1;
        int slot = hash(ofVariance, ofMean) & mask;
        while (table[slot] != 0) {
            int i = table[slot] - 1;
            if (steps[2 * i] == ofVariance && steps[2 * i + 1] == ofMean) {
                return i;
            }
            slot = (slot + 1) & mask;
        }
        if (5 * size == sums.length) {
            grow();
            return place(ofVariance, ofMean, m);
        }
        table[slot] = size + 1;
        steps[2 * size] = ofVariance;
        steps[2 * size + 1] = ofMean;
        sums[5 * size] = m;
        return size++;
    }

    private static int hash(long a, long b) {
        long h = (a * 0x9E3779B97F4A7C15L + b) * 0xC2B2AE3D27D4EB4FL;
        return (int) (h >>> 32);
    }

    private void grow() {
        steps = Arrays.copyOf(steps, 2 * steps.length);
        sums = Arrays.copyOf(sums, 2 * sums.length);
        table = new int[2 * table.length];
        for (int i = 0; i < size; i++) {
            int slot = hash(steps[2 * i], steps[2 * i + 1]) & (table.length - 1);
            while (table[slot] != 0) {
                slot = (slot + 1) & (table.length - 1);
            }
            table[slot] = i + 1;
        }
    }

    /**
     * What has come together.
     *
     * @param sorted by variance and mean, else in the order in which the bins were first met
     */
    NormalMixture mixture(boolean sorted) {
        IntStream bins = IntStream.range(0, size);
        int[] order = (sorted
                        ? bins.boxed()
                                .sorted(Comparator.comparingLong((Integer i) -> steps[2 * i])
                                        .thenComparingLong(i -> steps[2 * i + 1]))
                                .mapToInt(i -> i)
                        : bins)
                .toArray();
        double[] weights = new double[size];
        double[] means = new double[size];
        double[] variances = new double[size];
        for (int k = 0; k < size; k++) {
            int i = 5 * order[k];
            double weight = sums[i + 1];
            double d = sums[i + 2] / weight;
            weights[k] = weight;
            means[k] = sums[i] + d;
            variances[k] = Math.max(0, sums[i + 4] / weight + sums[i + 3] / weight - d * d);
        }
        return new NormalMixture(weights, means, variances);
    }
}
