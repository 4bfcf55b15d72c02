package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.uncertainty.CircleAnova;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.Quantiles;
import org.fairturn.uncertainty.RepeatabilityPosterior;

/**
 * Two machines of one trial, each with a repeatability of its own. What tape, eye and method put on both cancels as far as it
 * is alike; the dimensions of the two machines count as independent.
 *
 * @param first the machine that is taken away
 * @param second the machine it is taken from
 * @param confidence level of the intervals
 */
record MachinePair(MachineEstimate first, MachineEstimate second, double confidence) {
    /** Step for the slope against a diameter (m), as in {@link Propagation}. */
    private static final double STEP = 1e-3;

    /** A result (m) from the diameter (m) and deck of each machine; empty where the geometry has none. */
    interface Result {
        OptionalDouble of(double firstDiameter, Deck firstDeck, double secondDiameter, Deck secondDeck);
    }

    /** A cell of this machine that stands where another machine's stands. */
    static Cell like(Cell cell, MachineEstimate machine) {
        return new Cell(machine.machine().id(), cell.turn(), cell.drive(), cell.brakes());
    }

    MachinePair swapped() {
        return new MachinePair(/* first= */ second, /* second= */ first, confidence);
    }

    /** The first machine's cells that the second has too. */
    List<Cell> common() {
        return first.cells().stream().filter(c -> second.has(like(c, second))).toList();
    }

    /** Mean over cells of the first machine of D_second − D_first. */
    Contrast difference(List<Cell> cells) {
        return difference(cells.stream().collect(Collectors.toMap(cell -> cell, cell -> 1.0 / cells.size())));
    }

    /** Sum over cells of the first machine of weight × (D_second − D_first). */
    Contrast difference(Map<Cell, Double> weights) {
        double[] a = new double[first.cells().size()];
        double[] b = new double[second.cells().size()];
        weights.forEach((cell, weight) -> {
            a[first.cells().indexOf(cell)] = -weight;
            b[second.cells().indexOf(like(cell, second))] = weight;
        });
        return new Contrast(a, b, 0, 0);
    }

    /**
     * A result of one cell of both machines and their decks, linear about the estimates.
     *
     * @see "JCGM 100:2008, clause 5, as in Propagation"
     */
    Optional<Contrast> propagate(Cell cell, DeckModel firstModel, DeckModel secondModel, Result result) {
        Cell opposite = like(cell, second);
        double d = first.mean(cell);
        double e = second.mean(opposite);
        Deck f = firstModel.deck();
        Deck s = secondModel.deck();
        OptionalDouble value = result.of(d, f, e, s);
        OptionalDouble firstUp = result.of(d + STEP, f, e, s);
        OptionalDouble firstDown = result.of(d - STEP, f, e, s);
        OptionalDouble secondUp = result.of(d, f, e + STEP, s);
        OptionalDouble secondDown = result.of(d, f, e - STEP, s);
        if (Stream.of(value, firstUp, firstDown, secondUp, secondDown).anyMatch(OptionalDouble::isEmpty)) {
            return Optional.empty();
        }
        double firstSlope = (firstUp.getAsDouble() - firstDown.getAsDouble()) / (2 * STEP);
        double secondSlope = (secondUp.getAsDouble() - secondDown.getAsDouble()) / (2 * STEP);
        double[] a = new double[first.cells().size()];
        double[] b = new double[second.cells().size()];
        a[first.cells().indexOf(cell)] = firstSlope;
        b[second.cells().indexOf(opposite)] = secondSlope;
        double geometry = Stream.concat(
                        firstModel.contributions(deck -> result.of(d, deck, e, s)).stream(),
                        secondModel.contributions(deck -> result.of(d, f, e, deck)).stream())
                .mapToDouble(c -> c.effect() * c.effect())
                .sum();
        return Optional.of(new Contrast(a, b, value.getAsDouble() - firstSlope * d - secondSlope * e, geometry));
    }

    /** A quantity offset + Σ a_k·D_first,k + Σ b_k·D_second,k. */
    final class Contrast implements Quantity {
        private final double[] a;
        private final double[] b;
        private final double offset;
        private final double fixedVariance;
        private volatile NormalMixture mixture;
        private volatile Estimate estimate;

        private Contrast(double[] a, double[] b, double offset, double geometryVariance) {
            this.a = a;
            this.b = b;
            this.offset = offset;
            this.fixedVariance = first.shared(a).plus(second.shared(b), 1).variance() + geometryVariance;
        }

        @Override
        public NormalMixture mixture() {
            if (mixture == null) {
                mixture = ofFirst().plus(ofSecond());
            }
            return mixture;
        }

        private NormalMixture inFull() {
            return first.posteriorInFull()
                    .contrast(a, offset, fixedVariance)
                    .plus(second.posteriorInFull().contrast(b, 0, 0));
        }

        private NormalMixture ofFirst() {
            return first.posterior().contrast(a, offset, fixedVariance);
        }

        private NormalMixture ofSecond() {
            return second.posterior().contrast(b, 0, 0);
        }

        /** The sum is worked out roughly first, and in full only where that leaves it open. */
        @Override
        public Optional<Verdict> decided(DecisionRule rule, DecisionRule.Asks asks) {
            NormalMixture rough =
                    first.roughly(a).plusRoughly(second.roughly(b)).moved(offset, fixedVariance);
            DecisionRule.Chances q = rule.chances(rough);
            return rule.decide(rule.isClose(q, NormalMixture.ROUGHLY) ? rule.chances(inFull()) : q, asks);
        }

        @Override
        public double value() {
            return offset + first.posterior().mean(a, 0) + second.posterior().mean(b, 0);
        }

        @Override
        public double standardUncertainty() {
            return Math.sqrt(first.posterior().variance(a, fixedVariance, 0)
                    + second.posterior().variance(b, 0, 0));
        }

        @Override
        public Estimate estimate() {
            if (estimate == null) {
                estimate = mixture().estimate(confidence).about(value(), standardUncertainty());
            }
            return estimate;
        }

        /**
         * The same from the data alone: each machine's own mean squares, drawn together.
         *
         * @see "B. L. Welch, Biometrika 34 (1947) 28–35; JCGM 100:2008, G.4"
         */
        Optional<CircleAnova.DataOnly> dataOnly() {
            return first.anova()
                    .contrast(a, 0, confidence)
                    .flatMap(f -> second.anova().contrast(b, 0, confidence).map(s -> together(f, s)));
        }

        private CircleAnova.DataOnly together(CircleAnova.DataOnly f, CircleAnova.DataOnly s) {
            double v = f.estimate().standardUncertainty() * f.estimate().standardUncertainty();
            double w = s.estimate().standardUncertainty() * s.estimate().standardUncertainty();
            double u = Math.sqrt(v + w + fixedVariance);
            double degrees = Math.pow(u, 4) / (v * v / f.degreesOfFreedom() + w * w / s.degreesOfFreedom());
            double value = offset + f.estimate().value() + s.estimate().value();
            double t = Quantiles.student((1 + confidence) / 2, degrees);
            return new CircleAnova.DataOnly(new Estimate(value, u, value - t * u, value + t * u, confidence), degrees);
        }

        /** The machines' shares, each as far as it makes up the variance. */
        @Override
        public boolean restsOnAssumption() {
            double v = first.posterior().variance(a, 0, 0);
            double w = second.posterior().variance(b, 0, 0);
            return (first.assumedShare(a) * v + second.assumedShare(b) * w) / (v + w) > MachineEstimate.MOSTLY;
        }

        /** With the same standard deviation for both machines. */
        @Override
        public NormalMixture mixtureIf(double sigmaB) {
            return first.posterior()
                    .contrastIf(sigmaB, a, offset, fixedVariance, 0)
                    .plus(second.posterior().contrastIf(sigmaB, b, 0, 0, 0));
        }

        @Override
        public Outlook outlook(DecisionRule rule) {
            List<Cell> cells = new ArrayList<>(first.cells());
            cells.addAll(second.cells());
            return Outlook.of(
                    cells,
                    DoubleStream.concat(DoubleStream.of(a), DoubleStream.of(b)).toArray(),
                    value(),
                    fixedVariance,
                    RepeatabilityPosterior.Level.pairs(first.levels(), second.levels()),
                    rule);
        }
    }
}
