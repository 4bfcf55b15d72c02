package org.fairturn.uncertainty;

import java.util.List;
import java.util.Optional;

/**
 * Analysis of variance of circles within cells and readings within circles: the answer from the data alone, with no
 * assumed repeatability.
 *
 * @param meanSquareBetween between circles of the same cell, each weighted by its readings; 0 where there is one circle a
 *     cell
 * @param degreesBetween circles beyond the first of each cell
 * @param meanSquareWithin between readings of the same circle; 0 where there is one reading a circle
 * @param degreesWithin readings beyond the first of each circle
 * @param data what was analysed
 * @see "S. R. Searle, G. Casella, C. E. McCulloch, Variance Components (1992), chapter 3 (from memory); F. E. Satterthwaite,
 *     Biometrics Bulletin 2 (1946) 110–114; JCGM 100:2008, G.4"
 */
public record CircleAnova(
        double meanSquareBetween, int degreesBetween, double meanSquareWithin, int degreesWithin, CircleData data) {

    /** Readings of one kind are worth the same but for the size of their circle. */
    private static final double HARDLY = 0.01;

    /**
     * A contrast judged from the data alone; its interval is Student's with these degrees of freedom, in (0, ∞).
     *
     * @param estimate with its interval, in metres
     * @param degreesOfFreedom ν, whole or not
     */
    public record DataOnly(Estimate estimate, double degreesOfFreedom) {}

    /**
     * {@return the mean squares of circles in cells}
     *
     * @param data one or more cells
     */
    public static CircleAnova of(CircleData data) {
        double between = 0;
        for (List<CircleSummary> cell : data.cells()) {
            double first = cell.get(0).mean();
            double weight = 0;
            double sum = 0;
            for (CircleSummary circle : cell) {
                weight += circle.weight();
                sum += circle.weight() * (circle.mean() - first);
            }
            for (CircleSummary circle : cell) {
                double residual = circle.mean() - first - sum / weight;
                between += circle.weight() * residual * residual;
            }
        }
        int degreesBetween = data.circleDegreesOfFreedom();
        int degreesWithin = data.readingDegreesOfFreedom();
        return new CircleAnova(
                degreesBetween == 0 ? 0 : between / degreesBetween,
                degreesBetween,
                degreesWithin == 0 ? 0 : data.withinSumOfSquares() / degreesWithin,
                degreesWithin,
                data);
    }

    /** F, the ratio of the two mean squares. */
    double f() {
        return meanSquareBetween / meanSquareWithin;
    }

    /** Circle-to-circle variance (m²), (MS_between − MS_within)/n₀; negative where the circles agree better than readings do. */
    double circleVariance() {
        return (meanSquareBetween - meanSquareWithin) / effectiveReadings();
    }

    /** n₀: readings a circle, or what stands for it where circles have unlike numbers of readings. */
    private double effectiveReadings() {
        double sum = 0;
        for (List<CircleSummary> cell : data.cells()) {
            double weight = 0;
            double squares = 0;
            for (CircleSummary circle : cell) {
                weight += circle.weight();
                squares += circle.weight() * circle.weight();
            }
            sum += weight - squares / weight;
        }
        return sum / degreesBetween;
    }

    /**
     * A contrast Σ c_k·D_k of the unweighted means of circle means.
     *
     * <p>Its variance A·σ_b² + B·σ_w² is a combination of the two mean squares, whose degrees of freedom follow
     * Satterthwaite; with the same number of readings in every circle it needs the first alone and the interval is exact.
     *
     * @param c coefficient of each cell
     * @param knownVariance variance (m²) known from elsewhere, with infinite degrees of freedom
     * @param level probability of the interval, in (0, 1)
     * @return empty where no cell has two circles; where readings of unlike worth have a part in it that no repeated reading
     *     tells; and where so much of one mean square is taken away from the other that less than one degree of freedom, or no
     *     variance, is left
     */
    public Optional<DataOnly> contrast(double[] c, double knownVariance, double level) {
        if (degreesBetween == 0) {
            return Optional.empty();
        }
        double value = 0;
        double a = 0;
        double b = 0;
        for (int k = 0; k < c.length; k++) {
            if (c[k] == 0) {
                continue;
            }
            List<CircleSummary> cell = data.cells().get(k);
            int n = cell.size();
            double first = cell.get(0).mean();
            value += c[k]
                    * (first
                            + cell.stream()
                                            .mapToDouble(circle -> circle.mean() - first)
                                            .sum()
                                    / n);
            a += c[k] * c[k] / n;
            b += c[k]
                    * c[k]
                    / n
                    / n
                    * cell.stream().mapToDouble(circle -> 1 / circle.weight()).sum();
        }
        double n0 = effectiveReadings();
        double fromBetween = a / n0 * meanSquareBetween;
        double unlike = Math.abs(b - a / n0) / b;
        if (unlike > HARDLY && degreesWithin == 0) {
            return Optional.empty();
        }
        double fromWithin = unlike < 1e-12 ? 0 : (b - a / n0) * meanSquareWithin;
        double variance = fromBetween + fromWithin + knownVariance;
        double spread = fromBetween * fromBetween / degreesBetween
                + (degreesWithin == 0 ? 0 : fromWithin * fromWithin / degreesWithin);
        double degrees = variance * variance / spread;
        // no sum of mean squares has fewer than the poorest of them, which has one at least
        if (!(variance > 0) || !(degrees >= 1) || Double.isInfinite(degrees)) {
            return Optional.empty();
        }
        double u = Math.sqrt(variance);
        double t = Quantiles.student((1 + level) / 2, degrees);
        return Optional.of(new DataOnly(new Estimate(value, u, value - t * u, value + t * u, level), degrees));
    }
}
