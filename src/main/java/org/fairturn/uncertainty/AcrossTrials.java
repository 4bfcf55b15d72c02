package org.fairturn.uncertainty;

import java.util.stream.IntStream;

/**
 * How repeatability differs from trial to trial, and what that says of the next one.
 *
 * <p>ln σ of a trial is normal about μ with standard deviation ω. Each past trial gives the likelihood of its σ, and with it
 *
 * <pre>
 * L_t(μ, ω) = ∫ L_t(σ)·N(ln σ; μ, ω²) d ln σ
 * </pre>
 *
 * on a fixed grid; the product over the trials times a prior is what is known of μ and ω. Nothing is kept of a trial but what
 * it adds to that grid. For σ_b the reading repeatability of the trial is averaged over, under its usual prior.
 *
 * <p>The prior: before any trial there is one member that nobody saw, whose σ is only known to be as the usual prior has it;
 * ω is half of a normal distribution of scale 0.5, cut off outside 0.1 to 1.2. So trials are never taken to be alike within
 * 10 %, nor to differ by more than the usual prior itself spans (its ln σ has a standard deviation of 1.18).
 *
 * <p>The next trial comes from the usual prior itself with probability 1/(n + 1) after n trials, as in an urn that started
 * with one ball for it; else ln σ is taken as normal with mean E[μ] and variance E[ω²] + Var[μ]. Before the first trial
 * that is the usual prior, exactly.
 *
 * <p>Sums over trials are kept as whole multiples of 2⁻²⁴, so that the order of the trials does not change a digit.
 *
 * @see "D. Blackwell, J. B. MacQueen, Ferguson distributions via Pólya urn schemes, Annals of Statistics 1 (1973) 353–355;
 *     C. Röver et al., On weakly informative prior distributions for the heterogeneity parameter in Bayesian random-effects
 *     meta-analysis, Research Synthesis Methods 12 (2021) 448–474, for the half-normal of 0.5; both from memory"
 */
public final class AcrossTrials {
    private static final double LOWEST = Math.log(1e-4);
    private static final double STEP = 0.05;
    /** From 0.1 mm to 1 m. */
    private static final int POINTS = 185;
    /** μ from 0.7 mm to 300 mm. */
    private static final int FIRST_CENTRE = 40;

    private static final int CENTRES = 121;
    private static final double NARROWEST = 0.1;
    private static final double OMEGA_STEP = 0.05;
    private static final int OMEGAS = 23;
    private static final double OMEGA_SCALE = 0.5;
    private static final double REACH = 7;
    /** ln of what is left out of a likelihood. */
    private static final double NEGLIGIBLE = 40;

    private static final double FINENESS = 1 << 24;
    /** ln of what no trial makes less likely than this, so that sums of many stay within their range. */
    private static final double LEAST = -1e5;

    private static final double[][] KERNELS = kernels();

    private final HalfT circleUsual;
    private final HalfT readingUsual;
    private final double resolution;

    /**
     * Learning.
     *
     * @param circleUsual prior of σ_b where nothing is known, of finite scale
     * @param readingUsual prior of σ_w where nothing is known, of finite scale
     * @param resolution standard uncertainty (m) that no reading falls below, in (0, ∞)
     */
    public AcrossTrials(HalfT circleUsual, HalfT readingUsual, double resolution) {
        if (!(resolution > 0 && resolution < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("resolution is " + resolution + " m; must be in (0, ∞) m");
        }
        this.circleUsual = circleUsual;
        this.readingUsual = readingUsual;
        this.resolution = resolution;
    }

    /** What one trial says of μ and ω of either repeatability; an empty array where it says nothing. */
    public static final class Evidence {
        private final long[] circle;
        private final long[] reading;

        private Evidence(long[] circle, long[] reading) {
            this.circle = circle;
            this.reading = reading;
        }

        /** ln L_t(μ, ω) of σ_b at a point of the grid, up to a constant. */
        double circle(int omega, int centre) {
            return circle[omega * CENTRES + centre] / FINENESS;
        }

        double reading(int omega, int centre) {
            return reading[omega * CENTRES + centre] / FINENESS;
        }
    }

    /**
     * {@return what a trial says, to be added to as many groups as it belongs to}
     *
     * @param trial sums of squares of one trial
     */
    public Evidence evidence(PastScatter trial) {
        return new Evidence(
                trial.circleDegrees() == 0 ? new long[0] : whole(overGrid(ofCircles(trial))),
                trial.readingDegrees() == 0 ? new long[0] : whole(overGrid(ofReadings(trial))));
    }

    /** Trials taken to be of one kind. */
    public final class Group {
        private final long[] circle = new long[OMEGAS * CENTRES];
        private final long[] reading = new long[OMEGAS * CENTRES];

        /** A group without trials. */
        public Group() {}

        /**
         * Adds what a trial says to the group.
         *
         * @param trial made by this object's {@link AcrossTrials#evidence}
         */
        public void add(Evidence trial) {
            add(circle, trial.circle, 1);
            add(reading, trial.reading, 1);
        }

        /**
         * {@return the group as it would be had the trials of another never been added; exactly, since whole numbers are
         * summed}
         *
         * @param some of the trials that were added
         */
        public Group without(Group some) {
            Group rest = new Group();
            add(rest.circle, circle, 1);
            add(rest.reading, reading, 1);
            add(rest.circle, some.circle, -1);
            add(rest.reading, some.reading, -1);
            return rest;
        }

        private static void add(long[] sum, long[] more, int sign) {
            for (int i = 0; i < more.length; i++) {
                sum[i] += sign * more[i];
            }
        }

        /**
         * Of the circle-to-circle standard deviation.
         *
         * @param trials n, how many different trials showed any of it
         * @param level of the interval of the typical value
         * @return median of the next trial's σ_b and what it rests on; see {@link Learnt}
         */
        public Learnt circle(int trials, double level) {
            return learnt(circle, circleUsual, trials, level);
        }

        /**
         * The same of the reading-to-reading standard deviation.
         *
         * @param trials n, how many different trials showed any of it
         * @param level of the interval of the typical value, in (0, 1)
         * @return the same of σ_w
         */
        public Learnt reading(int trials, double level) {
            return learnt(reading, readingUsual, trials, level);
        }
    }

    /**
     * What trials taught of one standard deviation.
     *
     * @param trials n
     * @param typical e^μ (m)
     * @param spread mean of ω: how trials differ, as a standard deviation of ln σ
     * @param next what is to be expected of the next trial
     */
    public record Learnt(int trials, Estimate typical, double spread, LearntPrior next) {}

    private double[] ofReadings(PastScatter trial) {
        double[] logs = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            logs[i] = trial.logOfReadings(sigma(i), resolution);
        }
        return logs;
    }

    private double[] ofCircles(PastScatter trial) {
        double[] readings = new double[POINTS];
        double[] sigma = new double[POINTS];
        double most = Double.NEGATIVE_INFINITY;
        for (int j = 0; j < POINTS; j++) {
            sigma[j] = sigma(j);
            readings[j] = trial.logOfReadings(sigma[j], resolution) + logOnLogs(readingUsual, j);
            most = Math.max(most, readings[j]);
        }
        double enough = most - NEGLIGIBLE;
        int[] counted =
                IntStream.range(0, POINTS).filter(j -> readings[j] > enough).toArray();
        double[] logs = new double[POINTS];
        double[] term = new double[counted.length];
        for (int i = 0; i < POINTS; i++) {
            for (int j = 0; j < term.length; j++) {
                term[j] = readings[counted[j]] + trial.logOfCircles(sigma[i], sigma[counted[j]], resolution);
            }
            logs[i] = logSum(term);
        }
        return logs;
    }

    private static double sigma(int i) {
        return Math.exp(LOWEST + STEP * i);
    }

    /** ln of a prior's density over ln σ. */
    private static double logOnLogs(HalfT prior, int i) {
        return Math.log(prior.density(sigma(i)) * sigma(i));
    }

    private static double logSum(double[] logs) {
        double most = Double.NEGATIVE_INFINITY;
        for (double log : logs) {
            most = Math.max(most, log);
        }
        double sum = 0;
        for (double log : logs) {
            sum += Math.exp(log - most);
        }
        return most + Math.log(sum);
    }

    /** ln L_t(μ, ω) at every point of the grid, up to a constant. */
    private static double[] overGrid(double[] logs) {
        double most = Double.NEGATIVE_INFINITY;
        for (double log : logs) {
            most = Math.max(most, log);
        }
        double[] likelihood = new double[POINTS];
        int first = POINTS;
        int last = 0;
        for (int i = 0; i < POINTS; i++) {
            likelihood[i] = Math.exp(logs[i] - most);
            if (logs[i] - most > -NEGLIGIBLE) {
                first = Math.min(first, i);
                last = i;
            }
        }
        // below 0.1 mm no reading tells one standard deviation from another
        int begin = first == 0 ? Integer.MIN_VALUE : first;
        double[] result = new double[OMEGAS * CENTRES];
        for (int o = 0; o < OMEGAS; o++) {
            double[] kernel = KERNELS[o];
            for (int m = 0; m < CENTRES; m++) {
                int centre = FIRST_CENTRE + m;
                int to = Math.min(last, centre + kernel.length - 1);
                double sum = 0;
                for (int i = Math.max(begin, centre - kernel.length + 1); i <= to; i++) {
                    sum += likelihood[Math.max(0, i)] * kernel[Math.abs(i - centre)];
                }
                result[o * CENTRES + m] = Math.log(sum);
            }
        }
        return result;
    }

    static double omega(int o) {
        return NARROWEST + OMEGA_STEP * o;
    }

    static double centre(int m) {
        return LOWEST + STEP * (FIRST_CENTRE + m);
    }

    /** Half of the normal distribution of each ω about its centre, a step of the grid each, the whole scaled to 1. */
    private static double[][] kernels() {
        double[][] kernels = new double[OMEGAS][];
        for (int o = 0; o < OMEGAS; o++) {
            double[] half = new double[1 + (int) Math.ceil(REACH * omega(o) / STEP)];
            double sum = 0;
            for (int i = 0; i < half.length; i++) {
                double z = STEP * i / omega(o);
                half[i] = Math.exp(-z * z / 2);
                sum += (i == 0 ? 1 : 2) * half[i];
            }
            for (int i = 0; i < half.length; i++) {
                half[i] /= sum;
            }
            kernels[o] = half;
        }
        return kernels;
    }

    private static long[] whole(double[] logs) {
        long[] result = new long[logs.length];
        for (int i = 0; i < logs.length; i++) {
            result[i] = Math.round(FINENESS * Math.max(LEAST, logs[i]));
        }
        return result;
    }

    private static Learnt learnt(long[] sum, HalfT usual, int trials, double level) {
        double[] member = new double[POINTS];
        for (int i = 0; i < POINTS; i++) {
            member[i] = logOnLogs(usual, i);
        }
        double[] logs = overGrid(member);
        double most = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < logs.length; i++) {
            double z = omega(i / CENTRES) / OMEGA_SCALE;
            logs[i] += sum[i] / FINENESS - z * z / 2;
            most = Math.max(most, logs[i]);
        }
        double[] axis = new double[CENTRES];
        double[] centres = new double[CENTRES];
        double total = 0;
        double omegas = 0;
        double variance = 0;
        for (int i = 0; i < logs.length; i++) {
            double weight = Math.exp(logs[i] - most);
            double omega = omega(i / CENTRES);
            centres[i % CENTRES] += weight;
            total += weight;
            omegas += weight * omega;
            variance += weight * omega * omega;
        }
        double mean = 0;
        for (int m = 0; m < CENTRES; m++) {
            axis[m] = centre(m);
            mean += centres[m] * axis[m] / total;
        }
        for (int m = 0; m < CENTRES; m++) {
            variance += centres[m] * (axis[m] - mean) * (axis[m] - mean);
        }
        return new Learnt(
                trials,
                new Marginal(axis[0], axis[CENTRES - 1], centres, logSigma -> logSigma).summary(level),
                omegas / total,
                new LearntPrior(Math.exp(mean), Math.sqrt(variance / total), usual, 1.0 / (trials + 1)));
    }
}
