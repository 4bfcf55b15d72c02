package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Restricted likelihood × priors on a grid over σ_b and σ_w.
 *
 * <p>Each axis is even in u with ln σ = u − e^(f−u): a logarithm above the floor f, below which the density is flat in σ and
 * nothing more is to be seen; there it falls double exponentially, so that both ends of an axis die away. On such axes the
 * trapezoidal rule converges geometrically: half the step at least squares the error. The grid covers all points within e⁻²⁵
 * of the peak. On each axis the step shrinks until the error of the integral is below 1e-9; the search ends
 * unsettled at 240 steps.
 *
 * @see "L. N. Trefethen, J. A. C. Weideman, The exponentially convergent trapezoidal rule, SIAM Review 56 (2014) 385–458;
 *     H. Takahasi, M. Mori, Double exponential formulas for numerical integration, Publ. RIMS 9 (1974) 721–741"
 */
final class PosteriorGrid {
    private static final double NEGLIGIBLE = 25;
    private static final int SEARCH_STEPS = 16;
    private static final int SEARCH_ROUNDS = 8;
    private static final int FIRST_STEPS = 20;
    /** Of ln σ: the trapezoidal rule then leaves e^(−2π·(π/4)/h), 6e-9, of a contrast's probability. */
    private static final double LONGEST_STEP = 0.26;

    private static final int LAST_STEPS = 240;
    private static final double SETTLED = 1e-9;
    private static final double LEAST_TIMES = 1.1;
    private static final double MOST_TIMES = 1.6;
    private static final double CARRIES_NOTHING = 1e-12;
    /** A floor as a share of the scale on which the likelihood changes. */
    private static final double FLAT = 0.1;
    /** Where an axis begins below its floor, in u: σ is e^30 times smaller there. */
    private static final double BELOW_FLOOR = 3.4;

    /** Added to the box, in steps: a peak between two steps reaches a little further than a line through them. */
    private static final double MARGIN = 0.5;

    private final CircleData data;
    private final RestrictedLikelihood likelihood;
    private final ScatterPrior circlePrior;
    private final ScatterPrior readingPrior;
    private final Table table;
    private final boolean settled;
    /** Worked out when first asked for. */
    private volatile EverySecondPoint everySecond;

    /** The points that carry more than nearly nothing of the posterior. */
    static final class Nodes {
        /** Share of the posterior of each. */
        final double[] weight;

        final double[] sigmaB;
        final double[] sigmaW;
        /** The cells at each. */
        final RestrictedLikelihood.Cells cells;

        Nodes(double[] weight, double[] sigmaB, double[] sigmaW, RestrictedLikelihood.Cells cells) {
            this.weight = weight;
            this.sigmaB = sigmaB;
            this.sigmaW = sigmaW;
            this.cells = cells;
        }

        int size() {
            return weight.length;
        }
    }

    /** Even steps in u. */
    record Axis(double low, double high, int steps, double floor) {
        double u(double i) {
            return low + (high - low) * i / steps;
        }

        double step() {
            return (high - low) / steps;
        }

        double logSigma(int i) {
            return logSigma(u(i));
        }

        private double logSigma(double u) {
            return u - Math.exp(floor - u);
        }

        /** ln of dσ/du over σ. */
        double logSlope(int i) {
            return Math.log1p(Math.exp(floor - u(i)));
        }

        /** Even where the density is smooth what is asked of it, a contrast, changes with the variance. */
        Axis withFirstSteps() {
            return withSteps((int) Math.max(FIRST_STEPS, Math.ceil((high - low) / LONGEST_STEP)));
        }

        Axis withSteps(int other) {
            return new Axis(low, high, other, floor);
        }

        /** The part on which a curve, known at each step, lies above a level; its ends drawn between the steps. */
        Axis above(double level, double[] curve) {
            int first = 0;
            while (curve[first] < level) {
                first++;
            }
            int last = steps;
            while (curve[last] < level) {
                last--;
            }
            double left = first == 0 ? 0 : first - (curve[first] - level) / (curve[first] - curve[first - 1]);
            double right = last == steps ? steps : last + (curve[last] - level) / (curve[last] - curve[last + 1]);
            return new Axis(u(Math.max(0, left - MARGIN)), u(Math.min(steps, right + MARGIN)), steps, floor);
        }

        /** The same above, with a floor that lies higher. */
        Axis withFloor(double higher) {
            return higher <= floor ? this : new Axis(Math.max(low, higher - BELOW_FLOOR), high, steps, higher);
        }

        Marginal marginal(double[] density) {
            return new Marginal(low, high, density, this::logSigma);
        }
    }

    PosteriorGrid(
            CircleData data,
            RestrictedLikelihood likelihood,
            ScatterPrior circlePrior,
            ScatterPrior readingPrior,
            double resolution) {
        this.data = data;
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        Table finest = searched(data, resolution);
        Table finer = finest.finer();
        while (finer != finest && Math.max(finest.b.steps(), finest.w.steps()) < LAST_STEPS) {
            finest = finer;
            finer = finest.finer();
        }
        table = finest;
        settled = finer == finest;
    }

    /**
     * The same for data or priors that differ little: at every second point that carries anything here or, where that misses
     * too much, at all of them; empty where that misses too much as well.
     */
    Optional<EverySecondPoint.Near> near(
            CircleData otherData,
            RestrictedLikelihood other,
            ScatterPrior otherCirclePrior,
            ScatterPrior otherReadingPrior) {
        if (everySecond == null) {
            everySecond = everySecond(CARRIES_NOTHING * table.total);
        }
        return everySecond
                .near(otherData, other, otherCirclePrior, otherReadingPrior)
                .or(() -> everySecond(-1).near(otherData, other, otherCirclePrior, otherReadingPrior));
    }

    private EverySecondPoint everySecond(double least) {
        return new EverySecondPoint(
                data, likelihood, circlePrior, readingPrior, table.b, table.w, table.density, least);
    }

    boolean settled() {
        return settled;
    }

    /** ln ∫ L × priors, up to a constant that depends on the priors and on how many circles and readings there are. */
    double logIntegral() {
        return table.logIntegral + likelihood.logConstant();
    }

    Nodes nodes() {
        return table.nodes();
    }

    Marginal circle() {
        return table.b.marginal(table.alongB());
    }

    Marginal reading() {
        return table.w.marginal(table.alongW());
    }

    /** A first table over the box that matters, found by narrowing down a generous one. */
    private Table searched(CircleData data, double resolution) {
        double spread = spread(data);
        double finite = Math.max(finite(circlePrior), finite(readingPrior));
        double high = Math.log(1e3 * Math.max(finite, Math.max(spread, resolution)));
        double floor = resolution > 0 ? resolution : 1e-3 * (spread > 0 ? spread : finite);
        double mostWeight = data.cells().stream()
                .flatMap(List::stream)
                .mapToDouble(CircleSummary::weight)
                .max()
                .orElseThrow();
        double floorB = Math.log(FLAT * floor / Math.sqrt(mostWeight * data.circles()));
        double floorW = Math.log(FLAT * floor / Math.sqrt(data.readings()));
        Axis b = new Axis(floorB - BELOW_FLOOR, high, SEARCH_STEPS, floorB);
        Axis w = new Axis(floorW - BELOW_FLOOR, high, SEARCH_STEPS, floorW);
        for (int round = 0; round < SEARCH_ROUNDS; round++) {
            double[][] f = logDensities(b, w);
            double[] alongB = new double[SEARCH_STEPS + 1];
            double[] alongW = new double[SEARCH_STEPS + 1];
            Arrays.fill(alongB, Double.NEGATIVE_INFINITY);
            Arrays.fill(alongW, Double.NEGATIVE_INFINITY);
            for (int i = 0; i <= SEARCH_STEPS; i++) {
                for (int j = 0; j <= SEARCH_STEPS; j++) {
                    alongB[i] = Math.max(alongB[i], f[i][j]);
                    alongW[j] = Math.max(alongW[j], f[i][j]);
                }
            }
            // a ridge may pass half a step beside the points: by so much less would they show of it
            double step = Math.max(b.step(), w.step());
            double least = peak(f) - NEGLIGIBLE - data.readings() / 2.0 * (Math.expm1(step) - step);
            double before = (b.high() - b.low()) * (w.high() - w.low());
            // what the circles scatter hides what is much smaller; but a prior that expects less still is seen
            double hidden = Math.log(FLAT)
                    + Math.log(likelihood.circleVariance(
                                            Math.exp(b.logSigma(highest(alongB))),
                                            Math.exp(w.logSigma(highest(alongW))),
                                            mostWeight)
                                    / data.circles())
                            / 2;
            b = b.above(least, alongB).withFloor(Math.min(hidden, Math.log(circlePrior.scale())));
            w = w.above(least, alongW);
            if (data.readingDegreesOfFreedom() == 0) {
                w = w.withFloor(Math.min(hidden, Math.log(readingPrior.scale())));
            }
            if ((b.high() - b.low()) * (w.high() - w.low()) > 0.8 * before) {
                break;
            }
        }
        return new Table(b.withFirstSteps(), w.withFirstSteps());
    }

    private static int highest(double[] curve) {
        int highest = 0;
        for (int i = 1; i < curve.length; i++) {
            highest = curve[i] > curve[highest] ? i : highest;
        }
        return highest;
    }

    private static double finite(ScatterPrior prior) {
        return Double.isInfinite(prior.scale()) ? 0 : prior.scale();
    }

    private static double spread(CircleData data) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double within = 0;
        for (List<CircleSummary> cell : data.cells()) {
            for (CircleSummary circle : cell) {
                least = Math.min(least, circle.mean());
                most = Math.max(most, circle.mean());
                within = Math.max(within, Math.sqrt(circle.withinSumOfSquares()));
            }
        }
        return Math.max(most - least, within);
    }

    /** The density at every point of a grid over a box, scaled to its peak. */
    private final class Table {
        private final Axis b;
        private final Axis w;
        private final double[][] density;
        private final double total;
        private final double logIntegral;

        Table(Axis b, Axis w) {
            this.b = b;
            this.w = w;
            density = logDensities(b, w);
            double peak = peak(density);
            double sum = 0;
            for (double[] row : density) {
                for (int j = 0; j < row.length; j++) {
                    row[j] = Math.exp(row[j] - peak);
                    sum += row[j];
                }
            }
            total = sum;
            logIntegral = peak + Math.log(total * b.step() * w.step());
        }

        /** One with as many steps as are needed; this one where it has them. */
        Table finer() {
            double across = Math.max(times(1, 1), times(1, -1));
            int stepsB = enough(b.steps(), Math.max(times(1, 0), across));
            int stepsW = enough(w.steps(), Math.max(times(0, 1), across));
            return stepsB == b.steps() && stepsW == w.steps()
                    ? this
                    : new Table(b.withSteps(stepsB), w.withSteps(stepsW));
        }

        private int enough(int steps, double times) {
            return times <= 1
                    ? steps
                    : (int) Math.max(steps + 1, Math.min(LAST_STEPS, Math.ceil(steps * Math.max(LEAST_TIMES, times))));
        }

        /**
         * How many times the steps are needed in a direction: along an axis or across both, since the density is a ridge where
         * σ_b and σ_w can hardly be told apart; at most 1 where they are enough. The trapezoidal rule's error with the
         * step h is what the density holds of the frequency 1/h. ln of that falls along a line at the slowest, so it is drawn on
         * from 1/(3h) and 2/(5h).
         */
        private double times(int alongB, int alongW) {
            double lower = Math.log(amplitude(alongB / 3.0, alongW / 3.0));
            double upper = Math.log(amplitude(alongB / 2.5, alongW / 2.5));
            double error = upper + (upper - lower) / (1 / 2.5 - 1 / 3.0) * (1 - 1 / 2.5);
            double wanted = Math.log(SETTLED);
            if (upper < wanted || error < wanted) {
                return 1;
            }
            // as for a normal density, the quickest there is; the next round looks again
            return error < 0 ? Math.min(MOST_TIMES, Math.sqrt(wanted / error)) : MOST_TIMES;
        }

        /** Of a frequency in turns a step, 1 being all of the density. */
        private double amplitude(double alongB, double alongW) {
            double[] cosW = new double[w.steps() + 1];
            double[] sinW = new double[w.steps() + 1];
            for (int j = 0; j < cosW.length; j++) {
                cosW[j] = Math.cos(2 * Math.PI * alongW * j);
                sinW[j] = Math.sin(2 * Math.PI * alongW * j);
            }
            double cos = 0;
            double sin = 0;
            for (int i = 0; i < density.length; i++) {
                double rowCos = 0;
                double rowSin = 0;
                for (int j = 0; j < cosW.length; j++) {
                    rowCos += density[i][j] * cosW[j];
                    rowSin += density[i][j] * sinW[j];
                }
                double c = Math.cos(2 * Math.PI * alongB * i);
                double d = Math.sin(2 * Math.PI * alongB * i);
                cos += c * rowCos - d * rowSin;
                sin += c * rowSin + d * rowCos;
            }
            return Math.hypot(cos, sin) / total;
        }

        double[] alongB() {
            return Arrays.stream(density)
                    .mapToDouble(row -> Arrays.stream(row).sum())
                    .toArray();
        }

        double[] alongW() {
            double[] marginal = new double[w.steps() + 1];
            for (double[] row : density) {
                for (int j = 0; j < row.length; j++) {
                    marginal[j] += row[j];
                }
            }
            return marginal;
        }

        Nodes nodes() {
            int most = density.length * density[0].length;
            double[] weight = new double[most];
            double[] sigmaB = new double[most];
            double[] sigmaW = new double[most];
            int n = 0;
            for (int i = 0; i <= b.steps(); i++) {
                double sigma = Math.exp(b.logSigma(i));
                for (int j = 0; j <= w.steps(); j++) {
                    if (density[i][j] > CARRIES_NOTHING * total) {
                        weight[n] = density[i][j] / total;
                        sigmaB[n] = sigma;
                        sigmaW[n] = Math.exp(w.logSigma(j));
                        n++;
                    }
                }
            }
            sigmaB = Arrays.copyOf(sigmaB, n);
            sigmaW = Arrays.copyOf(sigmaW, n);
            return new Nodes(Arrays.copyOf(weight, n), sigmaB, sigmaW, likelihood.cells(sigmaB, sigmaW));
        }
    }

    private double[][] logDensities(Axis b, Axis w) {
        double[] readingVariance = new double[w.steps() + 1];
        double[] alongW = new double[w.steps() + 1];
        for (int j = 0; j <= w.steps(); j++) {
            double sigmaW = Math.exp(w.logSigma(j));
            readingVariance[j] = likelihood.readingVariance(sigmaW);
            // the density is over u: times σ·d ln σ/du on either axis
            alongW[j] = likelihood.logWithinCircles(readingVariance[j])
                    + readingPrior.logDensity(sigmaW)
                    + w.logSigma(j)
                    + w.logSlope(j);
        }
        RestrictedLikelihood.Row row = likelihood.new Row(readingVariance);
        double[][] f = new double[b.steps() + 1][w.steps() + 1];
        for (int i = 0; i <= b.steps(); i++) {
            double sigmaB = Math.exp(b.logSigma(i));
            double alongB = circlePrior.logDensity(sigmaB) + b.logSigma(i) + b.logSlope(i);
            row.logBetweenCircles(sigmaB * sigmaB, f[i]);
            for (int j = 0; j <= w.steps(); j++) {
                f[i][j] += alongB + alongW[j];
            }
        }
        return f;
    }

    private static double peak(double[][] f) {
        double peak = Double.NEGATIVE_INFINITY;
        for (double[] row : f) {
            for (double x : row) {
                peak = Math.max(peak, x);
            }
        }
        return peak;
    }
}
