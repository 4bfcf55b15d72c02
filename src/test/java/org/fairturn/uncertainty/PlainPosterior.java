package org.fairturn.uncertainty;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.numbers.gamma.Erfc;

/**
 * The posterior worked out plainly and slowly: the restricted likelihood circle by circle, an even lattice of (ln σ_b, ln σ_w)
 * from 1e-13 to 1e5 in the unit of the readings, every point of it that carries more than 1e-17 of the largest, nothing drawn
 * together, quantiles by bisection. It shares no code with {@link RepeatabilityPosterior} but the priors.
 */
public final class PlainPosterior {
    private static final double LOW = Math.log(1e-13);
    private static final double HIGH = Math.log(1e5);
    private static final double STEP = 0.1;

    private final List<List<CircleSummary>> cells;
    private double[] weights;
    private double[] circleVariances;
    private double[] readingVariances;
    private final double resolution;
    private final double logEvidence;

    public PlainPosterior(CircleData data, ScatterPrior circlePrior, ScatterPrior readingPrior, double resolution) {
        cells = data.cells();
        this.resolution = resolution;
        int n = (int) Math.round((HIGH - LOW) / STEP);
        double[] logs = new double[(n + 1) * (n + 1)];
        double[] b = new double[logs.length];
        double[] r = new double[logs.length];
        for (int i = 0, at = 0; i <= n; i++) {
            double sigmaB = Math.exp(LOW + i * STEP);
            for (int j = 0; j <= n; j++, at++) {
                double sigmaW = Math.exp(LOW + j * STEP);
                b[at] = sigmaB * sigmaB;
                r[at] = sigmaW * sigmaW + resolution * resolution;
                logs[at] = logLikelihood(b[at], r[at])
                        + circlePrior.logDensity(sigmaB)
                        + readingPrior.logDensity(sigmaW)
                        + Math.log(sigmaB)
                        + Math.log(sigmaW);
            }
        }
        double peak = Arrays.stream(logs).max().orElseThrow();
        int kept = 0;
        double total = 0;
        for (int at = 0; at < logs.length; at++) {
            double weight = Math.exp(logs[at] - peak);
            if (weight > 1e-17) {
                logs[kept] = weight;
                b[kept] = b[at];
                r[kept] = r[at];
                total += weight;
                kept++;
            }
        }
        weights = Arrays.copyOf(logs, kept);
        for (int i = 0; i < kept; i++) {
            weights[i] /= total;
        }
        logEvidence = peak + Math.log(total);
        circleVariances = Arrays.copyOf(b, kept);
        readingVariances = Arrays.copyOf(r, kept);
    }

    private double logLikelihood(double b, double r) {
        double minusTwice = 0;
        for (List<CircleSummary> cell : cells) {
            double precision = 0;
            double sum = 0;
            for (CircleSummary circle : cell) {
                double v = b + r / circle.weight();
                minusTwice += (circle.readings() - 1) * Math.log(r) + circle.withinSumOfSquares() / r + Math.log(v);
                precision += 1 / v;
                sum += circle.mean() / v;
            }
            double mean = sum / precision;
            minusTwice += Math.log(precision);
            for (CircleSummary circle : cell) {
                minusTwice += (circle.mean() - mean) * (circle.mean() - mean) / (b + r / circle.weight());
            }
        }
        return -minusTwice / 2;
    }

    /** Up to a constant that is the same however the same circles are sorted into as many cells. */
    double logEvidence() {
        return logEvidence;
    }

    /** P(σ_b ≤ sigma), each point of the lattice spread evenly over its step: a straight line across it. */
    double circleBelow(double sigma) {
        return below(sigma, circleVariances, 0);
    }

    /** P(σ_w ≤ sigma), likewise. */
    double readingBelow(double sigma) {
        return below(sigma, readingVariances, resolution * resolution);
    }

    private double below(double sigma, double[] variances, double more) {
        double sum = 0;
        for (int i = 0; i < weights.length; i++) {
            double steps = (Math.log(sigma) - Math.log(variances[i] - more) / 2) / STEP;
            sum += weights[i] * Math.max(0, Math.min(1, steps + 0.5));
        }
        return sum;
    }

    /** A contrast as in {@link RepeatabilityPosterior#contrast(double[], double, double, double)}. */
    public Contrast contrast(double[] c, double offset, double extraVariance, double newCircle) {
        double[] means = new double[weights.length];
        double[] variances = new double[weights.length];
        for (int i = 0; i < weights.length; i++) {
            means[i] = offset;
            variances[i] = extraVariance + newCircle * (circleVariances[i] + readingVariances[i]);
            for (int k = 0; k < c.length; k++) {
                double precision = 0;
                double sum = 0;
                for (CircleSummary circle : cells.get(k)) {
                    double p = 1 / (circleVariances[i] + readingVariances[i] / circle.weight());
                    precision += p;
                    sum += p * circle.mean();
                }
                means[i] += c[k] * sum / precision;
                variances[i] += c[k] * c[k] / precision;
            }
        }
        return new Contrast(means, variances);
    }

    /** A contrast, every point of the lattice a part of it. */
    public final class Contrast {
        private final double[] means;
        private final double[] deviations;

        private Contrast(double[] means, double[] variances) {
            this.means = means;
            this.deviations = Arrays.stream(variances).map(Math::sqrt).toArray();
        }

        public double mean() {
            double sum = 0;
            for (int i = 0; i < weights.length; i++) {
                sum += weights[i] * (means[i] - means[0]);
            }
            return means[0] + sum;
        }

        public double standardDeviation() {
            double mean = mean();
            double sum = 0;
            for (int i = 0; i < weights.length; i++) {
                sum += weights[i] * (deviations[i] * deviations[i] + (means[i] - mean) * (means[i] - mean));
            }
            return Math.sqrt(sum);
        }

        public double probabilityBelow(double x) {
            double sum = 0;
            for (int i = 0; i < weights.length; i++) {
                sum += weights[i] * Erfc.value((means[i] - x) / deviations[i] / Math.sqrt(2)) / 2;
            }
            return sum;
        }

        /** Probability density at x. */
        public double density(double x) {
            double sum = 0;
            for (int i = 0; i < weights.length; i++) {
                double z = (x - means[i]) / deviations[i];
                sum += weights[i] * Math.exp(-z * z / 2) / deviations[i];
            }
            return sum / Math.sqrt(2 * Math.PI);
        }

        /**
         * P(this + other ≤ x) by ∫ f(t)·P(other ≤ x − t) dt with t = mean + s·sinh y, by the trapezoidal rule, the step a third
         * of what already gives twelve digits.
         */
        public double probabilityOfSumBelow(Contrast other, double x) {
            double s = standardDeviation() / 4;
            double sum = 0;
            for (double y = -9; y <= 9; y += 0.03) {
                double t = s * Math.sinh(y);
                sum += density(mean() + t) * other.probabilityBelow(x - mean() - t) * s * Math.cosh(y) * 0.03;
            }
            return sum;
        }

        /** Bisection to 200 deviations over 2⁶⁰. */
        public double quantile(double probability) {
            double low = mean() - 100 * standardDeviation();
            double high = mean() + 100 * standardDeviation();
            for (int halving = 0; halving < 60; halving++) {
                double middle = (low + high) / 2;
                if (probabilityBelow(middle) < probability) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return (low + high) / 2;
        }
    }
}
