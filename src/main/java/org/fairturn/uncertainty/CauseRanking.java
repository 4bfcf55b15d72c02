package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.CholeskyDecomposition;
import org.apache.commons.math3.linear.DecompositionSolver;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;

/**
 * Which of several causes lies behind what was observed, by Bayes' rule.
 *
 * <p>A vector y is observed. Under cause h and at a level l of repeatability
 *
 * <pre>
 * y ~ N(μ_h, S_hl),  S_hl = Σ_f w_lf·a_f·a_fᵀ + diag(v_l)
 * </pre>
 *
 * with independent influences f, each with its loadings a_f on y and the variance w_lf = s_f² + n_f·ν_l, ν_l the variance of
 * a new circle. An influence is what a cause may do (its size before anything is seen), what the reference or a tape may be
 * off by, or how well something was measured. Averaged over the levels, p(y | h) = Σ_l p_l·N(y_l; μ_h, S_hl), and the
 * probability of the cause after the trial is its prior times that, scaled to sum to 1.
 *
 * @see "Any textbook of Bayesian statistics: linear model with normal prior, model comparison by the marginal likelihood"
 */
public final class CauseRanking {
    /** Levels an outcome is drawn together to, for looking ahead. */
    private static final int OUTCOME_LEVELS = 4;
    /** Share of a cause's weight below which a level is left out of that. */
    private static final double NEGLIGIBLE = 1e-6;

    /**
     * One level of repeatability.
     *
     * @param weight its probability, what y says besides not counted
     * @param observed y at this level
     * @param variances v of each observation, 0 or more
     * @param newCircle ν, variance of one new circle
     */
    public record Level(double weight, List<Double> observed, List<Double> variances, double newCircle) {
        /**
         * Keeps its own copy of each list.
         *
         * @param weight its probability, what y says besides not counted
         * @param observed y at this level
         * @param variances v of each observation, 0 or more
         * @param newCircle ν, variance of one new circle
         */
        public Level {
            observed = List.copyOf(observed);
            variances = List.copyOf(variances);
        }
    }

    /**
     * Something uncertain that moves observations, mean 0.
     *
     * @param variance s², 0 or more
     * @param newCircles n, how many times the variance of a new circle comes on top, 0 or more
     * @param loadings a, how much each observation moves with it
     */
    public record Influence(double variance, double newCircles, List<Double> loadings) {
        /**
         * Keeps its own copy of the list.
         *
         * @param variance s², 0 or more
         * @param newCircles n, how many times the variance of a new circle comes on top, 0 or more
         * @param loadings a, how much each observation moves with it
         */
        public Influence {
            loadings = List.copyOf(loadings);
        }

        double variance(Level level) {
            return variance + newCircles * level.newCircle();
        }
    }

    /**
     * One cause.
     *
     * @param prior its probability beforehand, up to a factor that all causes share
     * @param expected μ, as many as there are observations
     * @param influences what it could do besides, each of unknown size
     */
    public record Cause(double prior, List<Double> expected, List<Influence> influences) {
        /**
         * Keeps its own copy of each list.
         *
         * @param prior its probability beforehand, up to a factor that all causes share
         * @param expected μ, as many as there are observations
         * @param influences what it could do besides, each of unknown size
         */
        public Cause {
            expected = List.copyOf(expected);
            influences = List.copyOf(influences);
        }
    }

    /** A cause at a level: its posterior weight and S⁻¹. */
    private record At(double weight, RealVector residual, DecompositionSolver solver) {}

    private final List<Cause> causes;
    private final List<Level> levels;
    private final double[] probabilities;
    private final List<List<At>> at = new ArrayList<>();

    /**
     * The ranking.
     *
     * @param causes one or more
     * @param levels one or more, every S positive definite
     */
    public CauseRanking(List<Cause> causes, List<Level> levels) {
        this.causes = List.copyOf(causes);
        this.levels = List.copyOf(levels);
        double[][] logs = new double[causes.size()][levels.size()];
        double most = Double.NEGATIVE_INFINITY;
        for (int h = 0; h < causes.size(); h++) {
            List<At> atLevels = new ArrayList<>();
            for (int l = 0; l < levels.size(); l++) {
                Level level = levels.get(l);
                // its usual limit of 1e-10 for a pivot would be in square metres here
                CholeskyDecomposition s = new CholeskyDecomposition(
                        covariance(causes.get(h), level), CholeskyDecomposition.DEFAULT_RELATIVE_SYMMETRY_THRESHOLD, 0);
                RealVector residual =
                        vector(level.observed()).subtract(vector(causes.get(h).expected()));
                logs[h][l] = Math.log(causes.get(h).prior() * level.weight())
                        - residual.dotProduct(s.getSolver().solve(residual)) / 2
                        - logDiagonal(s.getL());
                most = Math.max(most, logs[h][l]);
                atLevels.add(new At(0, residual, s.getSolver()));
            }
            at.add(atLevels);
        }
        probabilities = new double[causes.size()];
        double total = 0;
        for (int h = 0; h < causes.size(); h++) {
            for (int l = 0; l < levels.size(); l++) {
                double weight = Math.exp(logs[h][l] - most);
                At before = at.get(h).get(l);
                at.get(h).set(l, new At(weight, before.residual(), before.solver()));
                probabilities[h] += weight;
                total += weight;
            }
        }
        for (int h = 0; h < causes.size(); h++) {
            probabilities[h] /= total;
        }
    }

    private static RealVector vector(List<Double> values) {
        return new ArrayRealVector(
                values.stream().mapToDouble(Double::doubleValue).toArray());
    }

    private static RealMatrix covariance(Cause cause, Level level) {
        int m = level.observed().size();
        double[][] s = new double[m][m];
        for (Influence influence : cause.influences()) {
            double w = influence.variance(level);
            for (int i = 0; i < m; i++) {
                double a = w * influence.loadings().get(i);
                for (int j = 0; a != 0 && j <= i; j++) {
                    s[i][j] += a * influence.loadings().get(j);
                }
            }
        }
        for (int i = 0; i < m; i++) {
            s[i][i] += level.variances().get(i);
            for (int j = 0; j < i; j++) {
                s[j][i] = s[i][j]; // worked out once: the other half could be rounded the other way
            }
        }
        return new Array2DRowRealMatrix(s, false);
    }

    /** Half of ln det S. */
    private static double logDiagonal(RealMatrix l) {
        return IntStream.range(0, l.getRowDimension())
                .mapToDouble(i -> Math.log(l.getEntry(i, i)))
                .sum();
    }

    /** {@return probability of each cause after the trial, in the order given; they sum to 1} */
    public List<Double> probabilities() {
        return DoubleStream.of(probabilities).boxed().toList();
    }

    /**
     * A quantity q = offset + Σ_f g_f·f + ε after the trial, under one cause.
     *
     * @param cause its place
     * @param offset in the unit of the observations
     * @param coefficients g, in the order of the cause's influences
     * @param variance of ε, which nothing observed says anything of, 0 or more
     * @param newCircles how many times the variance of a new circle comes on top of it, 0 or more
     * @return a mixture over levels of repeatability, drawn together to a few
     */
    public NormalMixture quantity(
            int cause, double offset, List<Double> coefficients, double variance, double newCircles) {
        if (newCircles == 0 && coefficients.stream().allMatch(g -> g == 0)) {
            return new NormalMixture(new double[] {1}, new double[] {offset}, new double[] {variance});
        }
        List<Influence> influences = causes.get(cause).influences();
        double inAll = at.get(cause).stream().mapToDouble(At::weight).sum();
        List<double[]> parts = new ArrayList<>();
        double weight = 0;
        double mean = 0;
        double square = 0;
        for (int l = 0; l < levels.size(); l++) {
            At here = at.get(cause).get(l);
            if (here.weight() < NEGLIGIBLE * inAll && l < levels.size() - 1) {
                continue;
            }
            Level level = levels.get(l);
            RealVector c = new ArrayRealVector(level.observed().size());
            double v = variance + newCircles * level.newCircle();
            for (int f = 0; f < influences.size(); f++) {
                double g = coefficients.get(f) * influences.get(f).variance(level);
                if (g != 0) {
                    c = c.add(vector(influences.get(f).loadings()).mapMultiply(g));
                    v += coefficients.get(f) * g;
                }
            }
            RealVector gain = here.solver().solve(c);
            double m = gain.dotProduct(here.residual());
            weight += here.weight();
            mean += here.weight() * m;
            square += here.weight() * (Math.max(0, v - gain.dotProduct(c)) + m * m);
            if (weight > 0 && (weight >= inAll / OUTCOME_LEVELS || l == levels.size() - 1)) {
                double centre = mean / weight;
                parts.add(new double[] {weight, offset + centre, Math.max(0, square / weight - centre * centre)});
                weight = 0;
                mean = 0;
                square = 0;
            }
        }
        return parts.isEmpty()
                ? new NormalMixture(new double[] {1}, new double[] {offset}, new double[] {0})
                : new NormalMixture(column(parts, 0), column(parts, 1), column(parts, 2));
    }

    private static double[] column(List<double[]> rows, int j) {
        return rows.stream().mapToDouble(row -> row[j]).toArray();
    }
}
