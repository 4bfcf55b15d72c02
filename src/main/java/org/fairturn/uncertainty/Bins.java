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

    private int[] varianceStep = new int[256];
    private long[] meanStep = new long[256];
    /** Means are counted from the first in a bin, so that nothing cancels. */
    private double[] from = new double[256];

    private double[] weight = new double[256];
    private double[] shift = new double[256];
    private double[] square = new double[256];
    private double[] variance = new double[256];

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
        int i = v > 0 ? place(step, Math.round((m - origin) / width), m) : place(Integer.MIN_VALUE, bits(m), m);
        double d = m - from[i];
        weight[i] += w;
        shift[i] += w * d;
        square[i] += w * d * d;
        variance[i] += w * v;
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
    private int place(int ofVariance, long ofMean, double m) {
        int mask = table.length - 1;
        int slot = hash(ofVariance, ofMean) & mask;
        while (table[slot] != 0) {
            int i = table[slot] - 1;
            if (varianceStep[i] == ofVariance && meanStep[i] == ofMean) {
                return i;
            }
            slot = (slot + 1) & mask;
        }
        if (size == from.length) {
            grow();
            return place(ofVariance, ofMean, m);
        }
        table[slot] = size + 1;
        varianceStep[size] = ofVariance;
        meanStep[size] = ofMean;
        from[size] = m;
        return size++;
    }

    private static int hash(int a, long b) {
        long h = (a * 0x9E3779B97F4A7C15L + b) * 0xC2B2AE3D27D4EB4FL;
        return (int) (h >>> 32);
    }

    private void grow() {
        int more = 2 * from.length;
        varianceStep = Arrays.copyOf(varianceStep, more);
        meanStep = Arrays.copyOf(meanStep, more);
        from = Arrays.copyOf(from, more);
        weight = Arrays.copyOf(weight, more);
        shift = Arrays.copyOf(shift, more);
        square = Arrays.copyOf(square, more);
        variance = Arrays.copyOf(variance, more);
        table = new int[4 * more];
        for (int i = 0; i < size; i++) {
            int slot = hash(varianceStep[i], meanStep[i]) & (table.length - 1);
            while (table[slot] != 0) {
                slot = (slot + 1) & (table.length - 1);
            }
            table[slot] = i + 1;
        }
    }

    /** What has come together, by variance and mean. */
    NormalMixture mixture() {
        int[] order = IntStream.range(0, size)
                .boxed()
                .sorted(Comparator.comparingInt((Integer i) -> varianceStep[i]).thenComparingLong(i -> meanStep[i]))
                .mapToInt(i -> i)
                .toArray();
        double[] weights = new double[size];
        double[] means = new double[size];
        double[] variances = new double[size];
        for (int k = 0; k < size; k++) {
            int i = order[k];
            double d = shift[i] / weight[i];
            weights[k] = weight[i];
            means[k] = from[i] + d;
            variances[k] = Math.max(0, variance[i] / weight[i] + square[i] / weight[i] - d * d);
        }
        return new NormalMixture(weights, means, variances);
    }
}
