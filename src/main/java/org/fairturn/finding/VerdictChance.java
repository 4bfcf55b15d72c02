package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.PlannedPosterior;
import org.fairturn.uncertainty.Quantiles;

/**
 * The chance that a planned trial brings the right verdict, by the whole decision rule: for everything the trial may come to
 * know of its own repeatability, how far the estimate may lie for a verdict, and how often it will lie there.
 */
final class VerdictChance {
    /** Good to 1 µm, of margins of centimetres. */
    private static final double SETTLED = 1e-6;
    /** A right verdict this rare is not planned for. */
    private static final double FARTHEST = 100;

    private static final int MOST_EVALUATIONS = 100;

    /**
     * The limits of the estimate (m) in one of the ways the trial may turn out.
     *
     * @param mostWithin largest estimate found within the margin; −1 where none is
     * @param leastBeyond smallest estimate found beyond it
     */
    private record Limits(double weight, double mostWithin, double leastBeyond) {}

    private final List<Limits> limits;
    private final double spread;
    private final double margin;

    private VerdictChance(List<Limits> limits, double variance, double margin) {
        this.limits = limits;
        this.spread = Math.sqrt(variance);
        this.margin = margin;
    }

    /**
     * For a quantity of one machine.
     *
     * @param factor Σc²/n, as in {@link PlannedPosterior.Outcome#contrast(double, double, double)}
     * @param fixedVariance of geometry and shared parts (m²)
     * @param newCircles what a claim scatters like
     */
    static VerdictChance of(
            PlannedPosterior planned,
            List<PlannedPosterior.Outcome> outcomes,
            double factor,
            double fixedVariance,
            double newCircles,
            DecisionRule rule) {
        List<Limits> limits = outcomes.stream()
                .map(o -> limits(o.weight(), o.contrast(factor, fixedVariance, newCircles), rule))
                .toList();
        return new VerdictChance(
                limits,
                factor * planned.meanVariance() + fixedVariance + newCircles * planned.newCircleVariance(),
                rule.margin());
    }

    /** For the difference of two machines that scatter alike, are driven alike and are known apart. */
    static VerdictChance ofTwo(
            PlannedPosterior planned,
            List<PlannedPosterior.Outcome> outcomes,
            double factor,
            double fixedVariance,
            DecisionRule rule) {
        List<Limits> limits = new ArrayList<>();
        for (int i = 0; i < outcomes.size(); i++) {
            for (int j = 0; j <= i; j++) {
                PlannedPosterior.Outcome a = outcomes.get(i);
                PlannedPosterior.Outcome b = outcomes.get(j);
                double weight = a.weight() * b.weight() * (i == j ? 1 : 2);
                limits.add(limits(weight, a.contrast(factor, fixedVariance, b, factor), rule));
            }
        }
        return new VerdictChance(limits, 2 * factor * planned.meanVariance() + fixedVariance, rule.margin());
    }

    /** The same where the other machine is driven more or less often; tape and eye cancel. */
    static VerdictChance ofTwo(
            PlannedPosterior planned,
            List<PlannedPosterior.Outcome> outcomes,
            double factor,
            List<PlannedPosterior.Outcome> others,
            double otherFactor,
            DecisionRule rule) {
        List<Limits> limits = new ArrayList<>();
        for (PlannedPosterior.Outcome a : outcomes) {
            for (PlannedPosterior.Outcome b : others) {
                limits.add(limits(a.weight() * b.weight(), a.contrast(factor, 0, b, otherFactor), rule));
            }
        }
        return new VerdictChance(limits, (factor + otherFactor) * planned.meanVariance(), rule.margin());
    }

    private static Limits limits(double weight, NormalMixture aboutZero, DecisionRule rule) {
        double mostWithin = -1;
        if (rule.chances(aboutZero).within() >= rule.confidence()) {
            // at the margin itself it is at most as likely within as beyond
            mostWithin = new BrentSolver(SETTLED)
                    .solve(
                            MOST_EVALUATIONS,
                            x -> rule.chances(aboutZero.moved(x)).within() - rule.confidence(),
                            0,
                            rule.margin());
        }
        return new Limits(weight, mostWithin, rule.margin() + aboutZero.quantile(rule.confidence()));
    }

    /** Chance of "within the margin" where the quantity is truly that (m). */
    double within(double truth) {
        double sum = 0;
        for (Limits l : limits) {
            if (l.mostWithin >= 0) {
                sum += l.weight
                        * (Quantiles.normalProbability((l.mostWithin - truth) / spread)
                                - Quantiles.normalProbability((-l.mostWithin - truth) / spread));
            }
        }
        return sum;
    }

    /** Chance of "beyond the margin", on its own side, where the quantity is truly that (m, above 0). */
    double beyond(double truth) {
        double sum = 0;
        for (Limits l : limits) {
            sum += l.weight * Quantiles.normalProbability((truth - l.leastBeyond) / spread);
        }
        return sum;
    }

    /** Chance of a wrong verdict, the larger of two: where there is truly nothing, and where there is that much (m, above the margin). */
    double wrong(double truth) {
        double otherSide = limits.stream()
                .mapToDouble(l -> l.weight * Quantiles.normalProbability((-truth - l.leastBeyond) / spread))
                .sum();
        return Math.max(2 * beyond(0), within(truth) + otherSide);
    }

    /** The largest difference (m) still found within the margin with that chance; −1 where not even none at all is. */
    double largestWithin(double chance) {
        return within(0) < chance ? -1 : solve(x -> within(x) - chance, margin);
    }

    /** The smallest difference (m) found beyond the margin with that chance. */
    double smallestBeyond(double chance) {
        double high = margin;
        while (beyond(high) < chance && high < FARTHEST) {
            high *= 2;
        }
        return solve(x -> beyond(x) - chance, high);
    }

    private static double solve(UnivariateFunction f, double high) {
        return new BrentSolver(SETTLED).solve(MOST_EVALUATIONS, f, 0, high);
    }
}
