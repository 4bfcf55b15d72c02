package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.commons.math3.stat.StatUtils;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;

/**
 * Two circles of a machine whose turn or drive was noted the wrong way round: exchanging the two labels would make both cells
 * agree much better.
 *
 * <p>The trial with the labels exchanged is held against the trial as noted by their Bayes factor, which has to reach
 * {@value #EVIDENCE} for each pair that was looked at: where no labels were swapped that happens in less than one trial in as
 * many.
 *
 * @param pairs the circles; more than one pair where the data cannot tell them apart, as with two circles a cell
 * @param turn whether the turns were swapped, else the drives
 */
record SwappedLabels(List<List<CircleResult>> pairs, boolean turn) {
    private static final int EVIDENCE = 100;
    /** What the difference of two evidences by posteriors that are only near may be off; generous. */
    static final double NEARLY = 0.2;

    /** Sums of squares are equal where they differ by less than rounding does. */
    private static final double EQUAL = 1e-9;

    SwappedLabels {
        pairs = List.copyOf(pairs);
    }

    /** The labels that look swapped on one machine, if any do. */
    static Optional<SwappedLabels> of(
            Map<Cell, List<CircleResult>> circles, Conditions conditions, MachineEstimate machine) {
        List<List<CircleResult>> pairs = new ArrayList<>();
        List<Double> gains = new ArrayList<>();
        List<Cell> cells = List.copyOf(circles.keySet());
        for (int a = 0; a < cells.size(); a++) {
            for (int b = a + 1; b < cells.size(); b++) {
                if (oneLabelApart(cells.get(a), cells.get(b))) {
                    pairs(circles.get(cells.get(a)), circles.get(cells.get(b)), pairs, gains);
                }
            }
        }
        double most = gains.stream().mapToDouble(g -> g).max().orElse(0);
        if (!(most > 0)) {
            return Optional.empty();
        }
        List<List<CircleResult>> best = new ArrayList<>();
        for (int i = 0; i < pairs.size(); i++) {
            if (gains.get(i) >= most * (1 - EQUAL)) {
                best.add(pairs.get(i));
            }
        }
        double needed = Math.log((double) EVIDENCE * pairs.size());
        Map<Cell, List<CircleResult>> other = exchanged(circles, best.get(0));
        if (!(nearly(other, conditions, machine) - nearly(circles, conditions, machine) > needed - NEARLY)) {
            return Optional.empty();
        }
        return evidence(other, conditions) - evidence(circles, conditions) > needed
                ? Optional.of(new SwappedLabels(
                        best,
                        best.get(0).get(0).circle().cell().turn()
                                != best.get(0).get(1).circle().cell().turn()))
                : Optional.empty();
    }

    private static boolean oneLabelApart(Cell a, Cell b) {
        return a.brakes() == b.brakes() && (a.turn() == b.turn()) != (a.drive() == b.drive());
    }

    /** Adds every pair of two cells that hold three circles or more, and by how much exchanging it lowers the sum of squares. */
    private static void pairs(
            List<CircleResult> a, List<CircleResult> b, List<List<CircleResult>> pairs, List<Double> gains) {
        if (a.size() + b.size() < 3) {
            return;
        }
        double asNoted = squares(a) + squares(b);
        for (CircleResult x : a) {
            for (CircleResult y : b) {
                pairs.add(List.of(x, y));
                gains.add(asNoted - squares(exchanged(a, x, y)) - squares(exchanged(b, y, x)));
            }
        }
    }

    private static double squares(List<CircleResult> circles) {
        double[] d = circles.stream()
                .mapToDouble(c -> c.summary().orElseThrow().mean())
                .toArray();
        return StatUtils.variance(d) * (d.length - 1);
    }

    private static List<CircleResult> exchanged(List<CircleResult> circles, CircleResult out, CircleResult in) {
        return circles.stream().map(c -> c.equals(out) ? in : c).toList();
    }

    private static Map<Cell, List<CircleResult>> exchanged(
            Map<Cell, List<CircleResult>> circles, List<CircleResult> pair) {
        Map<Cell, List<CircleResult>> result = new LinkedHashMap<>();
        circles.forEach((cell, all) -> result.put(
                cell,
                all.stream()
                        .map(c -> c.equals(pair.get(0)) ? pair.get(1) : c.equals(pair.get(1)) ? pair.get(0) : c)
                        .toList()));
        return result;
    }

    private static double nearly(
            Map<Cell, List<CircleResult>> circles, Conditions conditions, MachineEstimate machine) {
        return machine.posterior()
                .near(MachineEstimate.data(circles), Priors.circle(conditions), Priors.reading(conditions))
                .logEvidence();
    }

    private static double evidence(Map<Cell, List<CircleResult>> circles, Conditions conditions) {
        return MachineEstimate.posterior(MachineEstimate.data(circles), conditions)
                .logEvidence();
    }
}
