package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.ToDoubleFunction;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;

/**
 * What is known of the circle-to-circle and the reading-to-reading standard deviation after the trial: restricted
 * likelihood × priors, on a deterministic grid, with the cell means integrated out exactly.
 *
 * <p>Given (σ_b, σ_w) every contrast of cell diameters is normal, so after averaging over the grid it is a mixture of
 * normals. This holds for any balance of circles and readings, one circle or one reading included.
 */
public final class RepeatabilityPosterior {
    private final RestrictedLikelihood likelihood;
    private final ScatterPrior circlePrior;
    private final ScatterPrior readingPrior;
    private final PosteriorGrid grid;
    /** What an integral alone does not need is worked out when first asked for. */
    private List<PosteriorGrid.Node> nodes;

    private double typicalCircle = Double.NaN;
    private double typicalReading = Double.NaN;

    private RepeatabilityPosterior(
            RestrictedLikelihood likelihood, ScatterPrior circlePrior, ScatterPrior readingPrior, PosteriorGrid grid) {
        this.likelihood = likelihood;
        this.circlePrior = circlePrior;
        this.readingPrior = readingPrior;
        this.grid = grid;
    }

    private List<PosteriorGrid.Node> nodes() {
        List<PosteriorGrid.Node> known = nodes;
        if (known == null) {
            known = List.copyOf(grid.nodes());
            nodes = known;
        }
        return known;
    }

    private double typicalCircle() {
        if (Double.isNaN(typicalCircle)) {
            typicalCircle = grid.circle().quantile(0.5);
        }
        return typicalCircle;
    }

    private double typicalReading() {
        if (Double.isNaN(typicalReading)) {
            typicalReading = grid.reading().quantile(0.5);
        }
        return typicalReading;
    }

    /**
     * The posterior for a set of cells that share one repeatability.
     *
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
                new PosteriorGrid(data, likelihood, circlePrior, readingPrior, resolution));
    }

    /**
     * The posterior for data and priors that differ little from these, such as with one circle left out: many times faster, and
     * with probabilities good to about 1e-5. Where they differ too much it is worked out in full.
     */
    public RepeatabilityPosterior near(
            CircleData data, ScatterPrior otherCirclePrior, ScatterPrior otherReadingPrior, double resolution) {
        RestrictedLikelihood other = new RestrictedLikelihood(data, resolution);
        return grid.near(other, otherCirclePrior, otherReadingPrior)
                .map(near -> new RepeatabilityPosterior(other, otherCirclePrior, otherReadingPrior, near))
                .orElseGet(() -> of(data, otherCirclePrior, otherReadingPrior, resolution));
    }

    /** Whether the integral settled before the grid became too fine; see {@code PosteriorGrid}. */
    public boolean settled() {
        return grid.settled();
    }

    /** Circle-to-circle standard deviation σ_b (m): median and interval. */
    public Estimate circleToCircle(double level) {
        return grid.circle().summary(level);
    }

    /** Reading-to-reading standard deviation σ_w (m) of a tape laid straight across: median and interval. */
    public Estimate reading(double level) {
        return grid.reading().summary(level);
    }

    /**
     * A contrast q = offset + Σ c_k·D_k.
     *
     * @param c coefficient of each cell, in the order of the data
     * @param offset added to the contrast (m)
     * @param extraVariance variance (m²) of parts that no further circle averages away, independent of the readings
     */
    public NormalMixture contrast(double[] c, double offset, double extraVariance) {
        return contrast(c, offset, extraVariance, 0);
    }

    /**
     * The same against something that scatters like circles of this machine which are not in the data.
     *
     * @param newCircle how many times the variance of one new circle with one reading across is added: 1/n for the mean of n
     *     such circles, in [0, ∞)
     */
    public NormalMixture contrast(double[] c, double offset, double extraVariance, double newCircle) {
        int n = nodes().size();
        double[] weights = new double[n];
        double[] means = new double[n];
        double[] variances = new double[n];
        for (int i = 0; i < n; i++) {
            PosteriorGrid.Node node = nodes().get(i);
            weights[i] = node.weight();
            means[i] = offset + node.at().mean(c);
            variances[i] = extraVariance + node.at().variance(c) + newCircle * newCircle(node);
        }
        return new NormalMixture(weights, means, variances);
    }

    private double newCircle(PosteriorGrid.Node node) {
        return likelihood.circleVariance(node.sigmaB(), node.sigmaW(), 1);
    }

    /** Variance (m²) of one new circle with one reading across, averaged over what the repeatability may be. */
    public double newCircleVariance() {
        double sum = 0;
        for (PosteriorGrid.Node node : nodes()) {
            sum += node.weight() * newCircle(node);
        }
        return sum;
    }

    /**
     * What the mean of one further circle of a cell would be.
     *
     * @param cell place of the cell in the data
     * @param weight what the circle's readings would be worth, in (0, ∞)
     */
    public NormalMixture furtherCircle(int cell, double weight) {
        double[] c = new double[likelihood.cells()];
        c[cell] = 1;
        return mixture(
                node -> node.at().mean(c),
                node -> node.at().variance(c) + likelihood.circleVariance(node.sigmaB(), node.sigmaW(), weight));
    }

    /**
     * By how much one further reading of a circle would differ from the mean of the others.
     *
     * @param varianceFactor of the further reading, in (0, ∞)
     * @param weight what the others are worth, in (0, ∞)
     */
    public NormalMixture readingGap(double varianceFactor, double weight) {
        return mixture(
                node -> 0, node -> likelihood.circleVariance(0, node.sigmaW(), 1 / (varianceFactor + 1 / weight)));
    }

    /**
     * The diameter of one circle by its own readings alone, without what other circles of its cell say of it.
     *
     * @param mean of its readings (m)
     * @param weight what its readings are worth, in (0, ∞)
     * @param extraVariance variance (m²) of parts that no further reading averages away
     */
    public NormalMixture circle(double mean, double weight, double extraVariance) {
        return mixture(node -> mean, node -> extraVariance + likelihood.circleVariance(0, node.sigmaW(), weight));
    }

    private NormalMixture mixture(
            ToDoubleFunction<PosteriorGrid.Node> mean, ToDoubleFunction<PosteriorGrid.Node> variance) {
        List<PosteriorGrid.Node> nodes = nodes();
        return new NormalMixture(
                nodes.stream().mapToDouble(PosteriorGrid.Node::weight).toArray(),
                nodes.stream().mapToDouble(mean).toArray(),
                nodes.stream().mapToDouble(variance).toArray());
    }

    /**
     * ln of the probability density of the data, means, σ_b and σ_w integrated out, up to a constant that is the same
     * however the same circles are sorted into as many cells. The difference of two is the logarithm of a Bayes factor.
     */
    public double logEvidence() {
        return grid.logIntegral();
    }

    /** The same contrast if the circle-to-circle standard deviation were known to be σ_b and σ_w were its median. */
    public NormalMixture contrastIf(double sigmaB, double[] c, double offset, double extraVariance, double newCircle) {
        RestrictedLikelihood.At at = likelihood.at(sigmaB, typicalReading());
        return new NormalMixture(new double[] {1}, new double[] {offset + at.mean(c)}, new double[] {
            extraVariance + at.variance(c) + newCircle * likelihood.circleVariance(sigmaB, typicalReading(), 1)
        });
    }

    /**
     * Weight of each circle in its cell's mean at the median standard deviations, in the order of the data; the weights of
     * a cell sum to 1.
     */
    public double[] typicalCircleWeights(List<CircleSummary> cell) {
        double variance = typicalVariance(cell);
        return typicalPrecisions(cell).map(p -> p * variance).toArray();
    }

    /** Variance of a cell's mean (m²) at the median standard deviations. */
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
     * @see "Own derivation: u² = E[V]; the derivative of an expectation with respect to the prior's scale is the covariance
     *     of V with the slope of the log prior"
     */
    public double assumedShare(double[] c) {
        return assumedShare(c, 0);
    }

    /** The same with new circles in it, as in {@link #contrast(double[], double, double, double)}; 0 where nothing scatters. */
    public double assumedShare(double[] c, double newCircle) {
        double meanV = 0;
        double meanSlope = 0;
        double meanProduct = 0;
        for (PosteriorGrid.Node node : nodes()) {
            double v = node.at().variance(c) + newCircle * newCircle(node);
            double slope = circlePrior.slopeWithScale(node.sigmaB()) + readingPrior.slopeWithScale(node.sigmaW());
            meanV += node.weight() * v;
            meanSlope += node.weight() * slope;
            meanProduct += node.weight() * v * slope;
        }
        return meanV > 0 ? (meanProduct - meanV * meanSlope) / meanV / 2 : 0;
    }

    /**
     * Variances at a few levels of repeatability that stand for the whole posterior, for looking ahead.
     *
     * @param levels how many, each of about the same probability
     * @param newCircleWeight how many readings across the readings of a new circle will be worth, in (0, ∞)
     * @return from the least to the largest variance of a new circle; their weights sum to about 1
     */
    public List<Level> levels(int levels, double newCircleWeight) {
        List<PosteriorGrid.Node> sorted = new ArrayList<>(nodes());
        sorted.sort((p, q) -> Double.compare(
                likelihood.circleVariance(p.sigmaB(), p.sigmaW(), newCircleWeight),
                likelihood.circleVariance(q.sigmaB(), q.sigmaW(), newCircleWeight)));
        int cells = likelihood.cells();
        List<Level> result = new ArrayList<>();
        double weight = 0;
        double newVariance = 0;
        double[] cellVariance = new double[cells];
        for (int i = 0; i < sorted.size(); i++) {
            PosteriorGrid.Node node = sorted.get(i);
            weight += node.weight();
            newVariance += node.weight() * likelihood.circleVariance(node.sigmaB(), node.sigmaW(), newCircleWeight);
            for (int k = 0; k < cells; k++) {
                cellVariance[k] += node.weight() * node.at().cellVariance(k);
            }
            if (weight >= 1.0 / levels || i == sorted.size() - 1) {
                if (weight > 0) {
                    double w = weight;
                    List<Double> means = new ArrayList<>();
                    for (double v : cellVariance) {
                        means.add(v / w);
                    }
                    result.add(new Level(w, Collections.nCopies(cells, newVariance / w), means));
                }
                weight = 0;
                newVariance = 0;
                cellVariance = new double[cells];
            }
        }
        return List.copyOf(result);
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
        Map<Integer, List<PosteriorGrid.Node>> bins = new TreeMap<>();
        for (PosteriorGrid.Node node : grid.nodes()) {
            bins.computeIfAbsent((int) Math.floor(Math.log(newCircle(node)) / width), k -> new ArrayList<>())
                    .add(node);
        }
        return bins.values().stream().map(this::together).toList();
    }

    private CellsAt together(List<PosteriorGrid.Node> nodes) {
        double weight = nodes.stream().mapToDouble(PosteriorGrid.Node::weight).sum();
        List<Double> means = new ArrayList<>();
        List<Double> variances = new ArrayList<>();
        for (int k = 0; k < likelihood.cells(); k++) {
            double[] c = new double[likelihood.cells()];
            c[k] = 1;
            means.add(average(nodes, weight, node -> node.at().mean(c)));
            variances.add(average(nodes, weight, node -> node.at().variance(c)));
        }
        return new CellsAt(weight, means, variances, average(nodes, weight, this::newCircle));
    }

    private static double average(
            List<PosteriorGrid.Node> nodes, double weight, ToDoubleFunction<PosteriorGrid.Node> of) {
        double first = of.applyAsDouble(nodes.get(0));
        return first
                + nodes.stream()
                                .mapToDouble(node -> node.weight() * (of.applyAsDouble(node) - first))
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
        public Level {
            newCircleVariances = List.copyOf(newCircleVariances);
            cellVariances = List.copyOf(cellVariances);
        }

        /** Every pair of levels of two sets of cells that know nothing of each other; the cells of the first come first. */
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
