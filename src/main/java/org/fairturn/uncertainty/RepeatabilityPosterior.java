package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.IntToDoubleFunction;
import java.util.function.Supplier;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * What is known of the circle-to-circle and the reading-to-reading standard deviation after the trial: restricted
 * likelihood × priors, on a deterministic grid, with the cell means integrated out exactly.
 *
 * <p>Given (σ_b, σ_w) every contrast of cell diameters is normal, so after averaging over the grid it is a mixture of
 * normals. This holds for any balance of circles and readings, one circle or one reading included.
 */
public final class RepeatabilityPosterior {
    /** What a probability of {@link #near} may be off; 1.4e-4 is what was found. */
    public static final double NEARLY = 1e-3;

    /** Room for more places than a grid has points, behind ten digits of a number. */
    private static final int PLACE_BITS = 18;

    private final RestrictedLikelihood likelihood;
    private final ScatterPrior circlePrior;
    private final ScatterPrior readingPrior;
    private final Supplier<PosteriorGrid> integral;
    /**
     * Everything is worked out when first asked for; several threads may do so at once, and find the same. Volatile, or one of
     * them could see an array that another has not filled yet.
     */
    private volatile PosteriorGrid grid;

    private volatile boolean isNear;

    private volatile PosteriorGrid.Nodes nodes;
    private volatile double logIntegral = Double.NaN;

    private volatile Moments moments;
    private volatile double[] slopes;

    private volatile double typicalCircle = Double.NaN;
    private volatile double typicalReading = Double.NaN;
    private volatile double newCircleVariance = Double.NaN;

    private RepeatabilityPosterior(
            RestrictedLikelihood likelihood,
            ScatterPrior circlePrior,
            ScatterPrior readingPrior,
            Supplier<PosteriorGrid> integral) {
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        this.integral = integral;
    }

    private PosteriorGrid grid() {
        if (grid == null) {
            grid = integral.get();
        }
        return grid;
    }

    private PosteriorGrid.Nodes nodes() {
        if (nodes == null) {
            nodes = grid().nodes();
        }
        return nodes;
    }

    private double typicalCircle() {
        if (Double.isNaN(typicalCircle)) {
            typicalCircle = grid().circle().quantile(0.5);
        }
        return typicalCircle;
    }

    private double typicalReading() {
        if (Double.isNaN(typicalReading)) {
            typicalReading = grid().reading().quantile(0.5);
        }
        return typicalReading;
    }

    /**
     * {@return the posterior for a set of cells that share one repeatability}
     *
     * @param data one or more cells
     * @param circlePrior of σ_b (m)
     * @param readingPrior of σ_w (m)
     * @param resolution standard uncertainty (m) that no reading falls below however well readings agree, in [0, ∞); it
     *     keeps identical readings from claiming perfection. Where it is 0 and a prior is flat the data must hold some
     *     spread, or the result has no meaning
     */
    public static RepeatabilityPosterior of(
            CircleData data, ScatterPrior circlePrior, ScatterPrior readingPrior, double resolution) {
        if (!(resolution >= 0 && resolution < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("resolution is " + resolution + " m; must be in [0, ∞) m");
        }
        RestrictedLikelihood likelihood = new RestrictedLikelihood(data, resolution);
        return new RepeatabilityPosterior(
                likelihood,
                circlePrior,
                readingPrior,
                () -> new PosteriorGrid(data, likelihood, circlePrior, readingPrior, resolution));
    }

    /**
     * {@return the posterior for data and priors that differ little from these, such as with one circle left out: many
     * times faster, and with probabilities off by less than {@value #NEARLY}} Its typical standard deviations are
     * those of this one. Where data and priors differ too much it is worked out in full.
     *
     * @param data with as many cells as these
     * @param otherCirclePrior of σ_b (m)
     * @param otherReadingPrior of σ_w (m)
     */
    public RepeatabilityPosterior near(CircleData data, ScatterPrior otherCirclePrior, ScatterPrior otherReadingPrior) {
        double resolution = likelihood.resolution();
        RestrictedLikelihood other = new RestrictedLikelihood(data, resolution);
        RepeatabilityPosterior posterior = new RepeatabilityPosterior(
                other,
                otherCirclePrior,
                otherReadingPrior,
                () -> new PosteriorGrid(data, other, otherCirclePrior, otherReadingPrior, resolution));
        Optional<EverySecondPoint.Near> near = grid().near(data, other, otherCirclePrior, otherReadingPrior);
        if (near.isEmpty()) {
            return posterior;
        }
        posterior.isNear = true;
        posterior.nodes = near.get().nodes();
        posterior.logIntegral = near.get().logIntegral();
        posterior.typicalCircle = typicalCircle();
        posterior.typicalReading = typicalReading();
        return posterior;
    }

    /** {@return whether it is only {@link #near} the posterior it stands for} */
    public boolean isNear() {
        return isNear;
    }

    /** {@return the same worked out in full, where it is only {@link #near}; else this one} */
    public RepeatabilityPosterior inFull() {
        return isNear ? new RepeatabilityPosterior(likelihood, circlePrior, readingPrior, integral) : this;
    }

    /** {@return whether the integral settled before the grid became too fine; see {@code PosteriorGrid}} */
    public boolean settled() {
        return grid().settled();
    }

    /**
     * {@return circle-to-circle standard deviation σ_b (m): median and interval}
     *
     * @param level probability of the interval, in (0, 1)
     */
    public Estimate circleToCircle(double level) {
        return grid().circle().summary(level);
    }

    /**
     * {@return reading-to-reading standard deviation σ_w (m) of a tape laid straight across: median and interval}
     *
     * @param level probability of the interval, in (0, 1)
     */
    public Estimate reading(double level) {
        return grid().reading().summary(level);
    }

    /**
     * A contrast q = offset + Σ c_k·D_k.
     *
     * @param c coefficient of each cell, in the order of the data
     * @param offset added to the contrast (m)
     * @param extraVariance variance (m²) of parts that no further circle averages away, independent of the readings
     * @return its posterior (m)
     */
    public NormalMixture contrast(double[] c, double offset, double extraVariance) {
        return contrast(c, offset, extraVariance, 0);
    }

    /**
     * The same against something that scatters like circles of this machine which are not in the data.
     *
     * @param c coefficient of each cell, in the order of the data
     * @param offset added to the contrast (m)
     * @param extraVariance variance (m²) of parts that no further circle averages away
     * @param newCircle how many times the variance of one new circle with one reading across is added: 1/n for the mean of n
     *     such circles, in [0, ∞)
     * @return its posterior (m)
     */
    public NormalMixture contrast(double[] c, double offset, double extraVariance, double newCircle) {
        RestrictedLikelihood.Cells cells = nodes().cells;
        return new NormalMixture(nodes().weight, cells.means(c, offset), variances(c, extraVariance, newCircle));
    }

    /**
     * {@return mean of {@link #contrast(double[], double, double, double) a contrast}, without the contrast itself}
     *
     * @param c coefficient of each cell, in the order of the data
     * @param offset added to the contrast (m)
     */
    public double mean(double[] c, double offset) {
        return moments().mean(c, offset);
    }

    /**
     * {@return variance (m²) of {@link #contrast(double[], double, double, double) a contrast}, without the contrast itself}
     *
     * @param c coefficient of each cell, in the order of the data
     * @param extraVariance variance (m²) of parts that no further circle averages away
     * @param newCircle how many times the variance of one new circle is added, in [0, ∞)
     */
    public double variance(double[] c, double extraVariance, double newCircle) {
        return moments().variance(c) + extraVariance + (newCircle == 0 ? 0 : newCircle * newCircleVariance());
    }

    private Moments moments() {
        if (moments == null) {
            moments = new Moments(nodes());
        }
        return moments;
    }

    /** First and second moments of the cells' diameters over the whole posterior. */
    private static final class Moments {
        private final double[] means;
        /** Mean of the variance of each cell. */
        private final double[] within;
        /** Covariance of the best estimates as the standard deviations vary; no row for a cell whose estimate does not. */
        private final double[][] between;

        Moments(PosteriorGrid.Nodes nodes) {
            int cells = nodes.cells.size();
            means = new double[cells];
            within = new double[cells];
            between = new double[cells][];
            double total = 0;
            for (double w : nodes.weight) {
                total += w;
            }
            for (int k = 0; k < cells; k++) {
                double first = nodes.cells.mean(k, 0);
                double variance = 0;
                double shift = 0;
                for (int i = 0; i < nodes.size(); i++) {
                    variance += nodes.weight[i] * nodes.cells.variance(k, i);
                    shift += nodes.weight[i] * (nodes.cells.mean(k, i) - first);
                }
                within[k] = variance / total;
                means[k] = first + shift / total;
            }
            for (int k = 0; k < cells; k++) {
                if (nodes.cells.varies(k)) {
                    between[k] = new double[cells];
                    for (int l = 0; l <= k; l++) {
                        if (between[l] != null) {
                            double sum = 0;
                            for (int i = 0; i < nodes.size(); i++) {
                                sum += nodes.weight[i]
                                        * (nodes.cells.mean(k, i) - means[k])
                                        * (nodes.cells.mean(l, i) - means[l]);
                            }
                            between[k][l] = sum / total;
                            between[l][k] = sum / total;
                        }
                    }
                }
            }
        }

        double mean(double[] c, double offset) {
            double sum = offset;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * means[k];
            }
            return sum;
        }

        double variance(double[] c) {
            double sum = 0;
            for (int k = 0; k < c.length; k++) {
                sum += c[k] * c[k] * within[k];
                if (between[k] != null) {
                    for (int l = 0; l < c.length; l++) {
                        sum += c[k] * c[l] * between[k][l];
                    }
                }
            }
            return sum;
        }
    }

    private double[] variances(double[] c, double extraVariance, double newCircle) {
        double[] variances = nodes().cells.variances(c, extraVariance);
        if (newCircle != 0) {
            for (int i = 0; i < variances.length; i++) {
                variances[i] += newCircle * newCircle(i);
            }
        }
        return variances;
    }

    private double newCircle(int i) {
        return circleVariance(i, 1);
    }

    private double circleVariance(int i, double weight) {
        return likelihood.circleVariance(nodes().sigmaB[i], nodes().sigmaW[i], weight);
    }

    /** {@return variance (m²) of one new circle with one reading across, averaged over what the repeatability may be} */
    public double newCircleVariance() {
        if (Double.isNaN(newCircleVariance)) {
            double sum = 0;
            for (int i = 0; i < nodes().size(); i++) {
                sum += nodes().weight[i] * newCircle(i);
            }
            newCircleVariance = sum;
        }
        return newCircleVariance;
    }

    /**
     * What the mean of one further circle of a cell would be.
     *
     * @param cell place of the cell in the data
     * @param weight what the circle's readings would be worth, in (0, ∞)
     * @return its posterior predictive distribution (m)
     */
    public NormalMixture furtherCircle(int cell, double weight) {
        double[] c = new double[likelihood.cells()];
        c[cell] = 1;
        return mixture(nodes().cells.means(c, 0), i -> nodes().cells.variance(cell, i) + circleVariance(i, weight));
    }

    /**
     * By how much one further reading of a circle would differ from the mean of the others.
     *
     * @param varianceFactor of the further reading, in (0, ∞)
     * @param weight what the others are worth, in (0, ∞)
     * @return about 0 (m)
     */
    public NormalMixture readingGap(double varianceFactor, double weight) {
        return sameMean(0, i -> readingsVariance(i, 1 / (varianceFactor + 1 / weight)));
    }

    /**
     * The diameter of one circle by its own readings alone, without what other circles of its cell say of it.
     *
     * @param mean of its readings (m)
     * @param weight what its readings are worth, in (0, ∞)
     * @param extraVariance variance (m²) of parts that no further reading averages away
     * @return its posterior (m)
     */
    public NormalMixture circle(double mean, double weight, double extraVariance) {
        return sameMean(mean, i -> extraVariance + readingsVariance(i, weight));
    }

    private double readingsVariance(int i, double weight) {
        return likelihood.circleVariance(0, nodes().sigmaW[i], weight);
    }

    private NormalMixture sameMean(double mean, IntToDoubleFunction variance) {
        double[] means = new double[nodes().size()];
        Arrays.fill(means, mean);
        return mixture(means, variance);
    }

    private NormalMixture mixture(double[] means, IntToDoubleFunction variance) {
        return new NormalMixture(
                nodes().weight,
                means,
                IntStream.range(0, means.length).mapToDouble(variance).toArray());
    }

    /**
     * ln of the probability density of the data, means, σ_b and σ_w integrated out, up to a constant that is the same
     * however the same circles are sorted into as many cells. The difference of two is the logarithm of a Bayes factor.
     *
     * @return dimensionless; only differences mean anything
     */
    public double logEvidence() {
        return Double.isNaN(logIntegral) ? grid().logIntegral() : logIntegral;
    }

    /**
     * {@return the same contrast if the circle-to-circle standard deviation were known to be σ_b and σ_w were its median}
     *
     * @param sigmaB σ_b (m), in [0, ∞)
     * @param c coefficient of each cell, in the order of the data
     * @param offset added to the contrast (m)
     * @param extraVariance variance (m²) of parts that no further circle averages away
     * @param newCircle how many times the variance of one new circle is added, in [0, ∞)
     */
    public NormalMixture contrastIf(double sigmaB, double[] c, double offset, double extraVariance, double newCircle) {
        RestrictedLikelihood.At at = likelihood.at(sigmaB, typicalReading());
        double further = extraVariance + newCircle * likelihood.circleVariance(sigmaB, typicalReading(), 1);
        return new NormalMixture(
                new double[] {1}, new double[] {offset + at.mean(c)}, new double[] {further + at.variance(c)});
    }

    /**
     * {@return weight of each circle in its cell's mean at the median standard deviations, in the order of the data; the
     * weights of a cell sum to 1}
     *
     * @param cell circles of one cell
     */
    public double[] typicalCircleWeights(List<CircleSummary> cell) {
        if (cell.stream().allMatch(circle -> circle.weight() == cell.get(0).weight())) {
            double[] alike = new double[cell.size()];
            Arrays.fill(alike, 1.0 / alike.length);
            return alike;
        }
        double variance = typicalVariance(cell);
        return typicalPrecisions(cell).map(p -> p * variance).toArray();
    }

    /**
     * {@return variance of a cell's mean (m²) at the median standard deviations}
     *
     * @param cell circles of one cell
     */
    public double typicalVariance(List<CircleSummary> cell) {
        return 1 / typicalPrecisions(cell).sum();
    }

    private DoubleStream typicalPrecisions(List<CircleSummary> cell) {
        return cell.stream()
                .mapToDouble(
                        circle -> 1 / likelihood.circleVariance(typicalCircle(), typicalReading(), circle.weight()));
    }

    /**
     * How much of a contrast's uncertainty is the priors' doing: the relative change of its standard uncertainty for a
     * relative change of both prior scales, ∂ln u/∂ln s. 1 means all of it, 0 none.
     *
     * @param c coefficient of each cell, in the order of the data
     * @return dimensionless
     * @see "Own derivation: u² = E[V]; the derivative of an expectation with respect to the prior's scale is the covariance
     *     of V with the slope of the log prior"
     */
    public double assumedShare(double[] c) {
        return assumedShare(c, 0);
    }

    /**
     * The same with new circles in it, as in {@link #contrast(double[], double, double, double)}; 0 where nothing scatters.
     *
     * @param c coefficient of each cell, in the order of the data
     * @param newCircle how many times the variance of one new circle is added, in [0, ∞)
     * @return dimensionless
     */
    public double assumedShare(double[] c, double newCircle) {
        double meanV = 0;
        double meanSlope = 0;
        double meanProduct = 0;
        double[] variances = variances(c, 0, newCircle);
        double[] slopes = slopes();
        for (int i = 0; i < variances.length; i++) {
            double weight = nodes().weight[i];
            meanV += weight * variances[i];
            meanSlope += weight * slopes[i];
            meanProduct += weight * variances[i] * slopes[i];
        }
        return meanV > 0 ? (meanProduct - meanV * meanSlope) / meanV / 2 : 0;
    }

    private double[] slopes() {
        if (slopes == null) {
            slopes = IntStream.range(0, nodes().size())
                    .mapToDouble(i -> circlePrior.slopeWithScale(nodes().sigmaB[i])
                            + readingPrior.slopeWithScale(nodes().sigmaW[i]))
                    .toArray();
        }
        return slopes;
    }

    /**
     * Variances at a few levels of repeatability that stand for the whole posterior, for looking ahead.
     *
     * @param levels how many, each of about the same probability
     * @param newCircleWeight how many readings across the readings of a new circle will be worth, in (0, ∞)
     * @return from the least to the largest variance of a new circle; their weights sum to about 1
     */
    public List<Level> levels(int levels, double newCircleWeight) {
        double[] newVariances = IntStream.range(0, nodes().size())
                .mapToDouble(i -> circleVariance(i, newCircleWeight))
                .toArray();
        int[] sorted = sortedBy(newVariances);
        int cells = likelihood.cells();
        List<Level> result = new ArrayList<>();
        double weight = 0;
        double newVariance = 0;
        double[] cellVariance = new double[cells];
        for (int i = 0; i < sorted.length; i++) {
            double w = nodes().weight[sorted[i]];
            weight += w;
            newVariance += w * newVariances[sorted[i]];
            for (int k = 0; k < cells; k++) {
                cellVariance[k] += w * nodes().cells.variance(k, sorted[i]);
            }
            if (weight >= 1.0 / levels || i == sorted.length - 1) {
                if (weight > 0) {
                    List<Double> means = new ArrayList<>();
                    for (double v : cellVariance) {
                        means.add(v / weight);
                    }
                    result.add(new Level(weight, Collections.nCopies(cells, newVariance / weight), means));
                }
                weight = 0;
                newVariance = 0;
                cellVariance = new double[cells];
            }
        }
        return List.copyOf(result);
    }

    /** Places of values above 0 in rising order; of two that agree to ten digits either may come first. */
    private static int[] sortedBy(double[] values) {
        long[] keys = new long[values.length];
        for (int i = 0; i < keys.length; i++) {
            keys[i] = (Double.doubleToRawLongBits(values[i]) & -(1L << PLACE_BITS)) | i;
        }
        Arrays.sort(keys);
        int[] places = new int[keys.length];
        for (int i = 0; i < places.length; i++) {
            places[i] = (int) (keys[i] & (1L << PLACE_BITS) - 1);
        }
        return places;
    }

    /**
     * The posterior of (σ_b, σ_w) with all that the cells are at each point of it, points of nearly the same new circle drawn
     * together. Their weights are those of the posterior, which is what the residual contrasts say; what the means say
     * besides is left to the caller.
     *
     * @param width of what is drawn together, in ln of a new circle's variance: a probability density averaged over it is off
     *     by about width²/24 of itself
     * @return from the least to the largest variance of a new circle; weights sum to 1 within 1e-6
     */
    public List<CellsAt> cellsAt(double width) {
        Map<Integer, List<Integer>> bins = new TreeMap<>();
        for (int i = 0; i < nodes().size(); i++) {
            bins.computeIfAbsent((int) Math.floor(Math.log(newCircle(i)) / width), k -> new ArrayList<>())
                    .add(i);
        }
        return bins.values().stream().map(this::together).toList();
    }

    private CellsAt together(List<Integer> bin) {
        double weight = bin.stream().mapToDouble(i -> nodes().weight[i]).sum();
        List<Double> means = new ArrayList<>();
        List<Double> variances = new ArrayList<>();
        RestrictedLikelihood.Cells cells = nodes().cells;
        for (int k = 0; k < likelihood.cells(); k++) {
            int cell = k;
            means.add(average(bin, weight, i -> cells.mean(cell, i)));
            variances.add(average(bin, weight, i -> cells.variance(cell, i)));
        }
        return new CellsAt(weight, means, variances, average(bin, weight, this::newCircle));
    }

    private double average(List<Integer> bin, double weight, IntToDoubleFunction of) {
        double first = of.applyAsDouble(bin.get(0));
        return first
                + bin.stream()
                                .mapToDouble(i -> nodes().weight[i] * (of.applyAsDouble(i) - first))
                                .sum()
                        / weight;
    }

    /**
     * The cells at one level of repeatability.
     *
     * @param weight its probability
     * @param means best estimates D̂ of the cells (m), in the order of the data
     * @param variances their variances (m²)
     * @param newCircle variance (m²) of one new circle with one reading across
     */
    public record CellsAt(double weight, List<Double> means, List<Double> variances, double newCircle) {
        /**
         * Keeps its own copy of each list.
         *
         * @param weight its probability
         * @param means best estimates D̂ of the cells (m), in the order of the data
         * @param variances their variances (m²)
         * @param newCircle variance (m²) of one new circle with one reading across
         */
        public CellsAt {
            means = List.copyOf(means);
            variances = List.copyOf(variances);
        }
    }

    /**
     * One level of repeatability.
     *
     * @param weight its probability
     * @param newCircleVariances variance (m²) of the mean of one further circle in each cell
     * @param cellVariances variance (m²) of each cell's mean, in the order of the data
     */
    public record Level(double weight, List<Double> newCircleVariances, List<Double> cellVariances) {
        /**
         * Keeps its own copy of each list.
         *
         * @param weight its probability
         * @param newCircleVariances variance (m²) of the mean of one further circle in each cell
         * @param cellVariances variance (m²) of each cell's mean, in the order of the data
         */
        public Level {
            newCircleVariances = List.copyOf(newCircleVariances);
            cellVariances = List.copyOf(cellVariances);
        }

        /**
         * Every pair of levels of two sets of cells that know nothing of each other; the cells of the first come first.
         *
         * @param first levels of one machine
         * @param second levels of another
         * @return as many as the one times the other
         */
        public static List<Level> pairs(List<Level> first, List<Level> second) {
            List<Level> pairs = new ArrayList<>();
            for (Level a : first) {
                for (Level b : second) {
                    pairs.add(new Level(
                            a.weight * b.weight,
                            joined(a.newCircleVariances, b.newCircleVariances),
                            joined(a.cellVariances, b.cellVariances)));
                }
            }
            pairs.sort(Comparator.comparingDouble(level -> level.newCircleVariances.stream()
                    .mapToDouble(Double::doubleValue)
                    .sum()));
            return List.copyOf(pairs);
        }

        private static List<Double> joined(List<Double> a, List<Double> b) {
            return Stream.concat(a.stream(), b.stream()).toList();
        }
    }
}
