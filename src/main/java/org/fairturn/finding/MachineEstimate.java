package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.DoubleStream;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.uncertainty.CircleAnova;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.CircleSummary;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.NormalMixture;
import org.fairturn.uncertainty.RepeatabilityPosterior;

/** The statistics of one machine: its cells share one repeatability. */
public final class MachineEstimate {
    /** No tape on grass is read finer than 1 mm: the standard uncertainty that no reading falls below (m). */
    public static final double RESOLUTION = 0.001 / Math.sqrt(12);
    /** A result rests on the assumed repeatability where the assumption makes up more than this share of its uncertainty. */
    static final double MOSTLY = 0.5;
    /** Levels of repeatability for looking ahead. */
    private static final int LEVELS = 8;

    private final Machine machine;
    private final Conditions conditions;
    private final Map<Cell, List<CircleResult>> circles;
    private final List<Cell> cells;
    private final List<SharedParts> shared;
    private final CircleData data;
    private final RepeatabilityPosterior posterior;
    /** Worked out when first asked for: verdicts alone do without. */
    private volatile CircleAnova anova;

    private final double[] means;
    /** The posterior worked out in full, where it is only near and a verdict is close. */
    private volatile RepeatabilityPosterior inFull;

    /** Several questions ask for the same contrast. */
    private final Map<Map<Cell, Double>, Contrast> plain = new ConcurrentHashMap<>();

    private volatile List<RepeatabilityPosterior.Level> levels;

    /** Contrasts that are asked for again with every change to another machine. */
    private final Map<List<Double>, NormalMixture> roughly = new ConcurrentHashMap<>();

    private MachineEstimate(
            Machine machine,
            Conditions conditions,
            Map<Cell, List<CircleResult>> circles,
            CircleData data,
            List<SharedParts> shared,
            RepeatabilityPosterior posterior) {
        this.machine = machine;
        this.conditions = conditions;
        this.circles = circles;
        this.cells = List.copyOf(circles.keySet());
        this.data = data;
        this.posterior = posterior;
        this.shared = shared;
        this.means = new double[cells.size()];
        for (int k = 0; k < means.length; k++) {
            double[] c = new double[means.length];
            c[k] = 1;
            means[k] = posterior.mean(c, 0);
        }
    }

    private static MachineEstimate of(
            Machine machine, Conditions conditions, Map<Cell, List<CircleResult>> circles, CircleData data) {
        RepeatabilityPosterior posterior = posterior(data, conditions);
        List<SharedParts> shared = new ArrayList<>();
        for (List<CircleResult> cell : circles.values()) {
            shared.add(shared(cell, data.cells().get(shared.size()), posterior));
        }
        return new MachineEstimate(machine, conditions, circles, data, shared, posterior);
    }

    /** What does not average in a cell's mean, the circles weighted as the posterior weights them. */
    private static SharedParts shared(
            List<CircleResult> cell, List<CircleSummary> summaries, RepeatabilityPosterior posterior) {
        double[] weights = posterior.typicalCircleWeights(summaries);
        SharedParts sum = SharedParts.NONE;
        for (int i = 0; i < weights.length; i++) {
            sum = sum.plus(cell.get(i).shared(), weights[i]);
        }
        return sum;
    }

    /**
     * The estimate from circles or assumptions that are changed a little, for verdicts only; empty where no circle is left. What
     * is known of cells that stay is kept.
     */
    Optional<MachineEstimate> near(Conditions changed, Map<Cell, List<CircleResult>> changedCircles) {
        if (changedCircles.isEmpty()) {
            return Optional.empty();
        }
        List<List<CircleSummary>> summaries = new ArrayList<>();
        List<SharedParts> sharedThen = new ArrayList<>();
        changedCircles.forEach((cell, all) -> {
            boolean stays = all.equals(circles.get(cell));
            int k = cells.indexOf(cell);
            summaries.add(stays ? data.cells().get(k) : summaries(all));
            sharedThen.add(stays ? shared.get(k) : shared(all, summaries.get(summaries.size() - 1), posterior));
        });
        CircleData then = new CircleData(summaries);
        return Optional.of(new MachineEstimate(
                machine,
                changed,
                changedCircles,
                then,
                sharedThen,
                posterior.near(then, Priors.circle(changed), Priors.reading(changed))));
    }

    /** The posterior, and not one that is only near. */
    RepeatabilityPosterior posteriorInFull() {
        if (inFull == null) {
            inFull = posterior.inFull();
        }
        return inFull;
    }

    /** The same statistics under the machine with its dimensions changed. */
    MachineEstimate with(Machine other) {
        return new MachineEstimate(other, conditions, circles, data, shared, posterior);
    }

    /** The estimate from the circles that count; empty where there are none. Cells come in the order given. */
    static Optional<MachineEstimate> of(Machine machine, Conditions conditions, List<CircleResult> circles) {
        Map<Cell, List<CircleResult>> byCell = new LinkedHashMap<>();
        circles.stream()
                .filter(c -> c.counts() && c.circle().cell().machine().equals(machine.id()))
                .sorted((a, b) ->
                        CELL_ORDER.compare(a.circle().cell(), b.circle().cell()))
                .forEach(c -> byCell.computeIfAbsent(c.circle().cell(), k -> new ArrayList<>())
                        .add(c));
        return byCell.isEmpty() ? Optional.empty() : Optional.of(of(machine, conditions, byCell, data(byCell)));
    }

    /** Without brakes before with, 2WD before 4WD, left before right. */
    static final Comparator<Cell> CELL_ORDER =
            Comparator.comparing(Cell::brakes).thenComparing(Cell::drive).thenComparing(Cell::turn);

    static CircleData data(Map<Cell, List<CircleResult>> circles) {
        return new CircleData(
                circles.values().stream().map(MachineEstimate::summaries).toList());
    }

    static RepeatabilityPosterior posterior(CircleData data, Conditions conditions) {
        return RepeatabilityPosterior.of(data, Priors.circle(conditions), Priors.reading(conditions), RESOLUTION);
    }

    private static List<CircleSummary> summaries(List<CircleResult> circles) {
        List<CircleSummary> summaries = new ArrayList<>(circles.size());
        for (CircleResult circle : circles) {
            summaries.add(circle.summary().orElseThrow());
        }
        return summaries;
    }

    /** {@return whose circles they are} */
    public Machine machine() {
        return machine;
    }

    /** {@return the cells with circles that count, in the order of the posterior's coefficients} */
    public List<Cell> cells() {
        return cells;
    }

    Map<Cell, List<CircleResult>> circles() {
        return circles;
    }

    /** {@return what the circles say of every diameter and of the repeatability} */
    public RepeatabilityPosterior posterior() {
        return posterior;
    }

    /** {@return mean squares between circles and between readings: what the data alone say of the repeatability} */
    public CircleAnova anova() {
        if (anova == null) {
            anova = CircleAnova.of(data);
        }
        return anova;
    }

    boolean has(Cell cell) {
        return circles.containsKey(cell);
    }

    /** Best estimate of a cell's diameter (m). */
    double mean(Cell cell) {
        return means[cells.indexOf(cell)];
    }

    /** A contrast with nothing but the readings in it. */
    Contrast contrast(Map<Cell, Double> coefficients) {
        return plain.computeIfAbsent(coefficients, known -> contrast(coefficients(known), 0, 0));
    }

    /**
     * A contrast q = offset + Σ c_k·D_k.
     *
     * @param geometryVariance variance of the geometry that went into it (m²)
     */
    Contrast contrast(double[] c, double offset, double geometryVariance) {
        return contrast(c, offset, geometryVariance, 0);
    }

    /**
     * The same against something that scatters like circles of this machine which were not driven here.
     *
     * @param newCircle 1/n for the mean of n such circles, 0 for none
     */
    Contrast contrast(double[] c, double offset, double geometryVariance, double newCircle) {
        return new Contrast(c, offset, shared(c).variance() + geometryVariance, newCircle);
    }

    /** A contrast with nothing but the readings in it, for verdicts only; its mean and standard deviation are exact. */
    NormalMixture roughly(double[] c) {
        return roughly.computeIfAbsent(
                DoubleStream.of(c).boxed().toList(),
                known -> posterior.contrast(c, 0, 0).condensedRoughly());
    }

    /** Standard uncertainty squared of a cell's parts that do not average (m²). */
    double sharedVariance(Cell cell) {
        return shared.get(cells.indexOf(cell)).variance();
    }

    CellEstimate cell(Cell cell) {
        int k = cells.indexOf(cell);
        Contrast diameter = contrast(Map.of(cell, 1.0));
        List<CircleSummary> summaries = summaries(circles.get(cell));
        return new CellEstimate(
                cell,
                diameter.estimate(),
                shared.get(k),
                circles.get(cell),
                Arrays.stream(posterior.typicalCircleWeights(summaries)).boxed().toList(),
                Math.sqrt(posterior.typicalVariance(summaries)),
                DeckModel.of(machine, cell.drive()).flatMap(model -> turnRadius(cell, model)),
                diameter.restsOnAssumption());
    }

    private Optional<Estimate> turnRadius(Cell cell, DeckModel model) {
        return Propagation.of(
                        this,
                        List.of(cell),
                        model,
                        (d, deck) -> deck.turnRadius(d[0], cell.turn().sign()))
                .map(p -> p.contrast().estimate());
    }

    Difference difference(Cell from, Cell to) {
        Contrast contrast = contrast(Map.of(from, -1.0, to, 1.0));
        return new Difference(from, to, contrast.estimate(), contrast.dataOnly(), contrast.restsOnAssumption());
    }

    /** Coefficients in the order of the cells. */
    double[] coefficients(Map<Cell, Double> byCell) {
        double[] c = new double[cells.size()];
        byCell.forEach((cell, value) -> c[cells.indexOf(cell)] = value);
        return c;
    }

    /** The parts of a contrast's uncertainty that do not average, signed. */
    SharedParts shared(double[] c) {
        SharedParts sum = SharedParts.NONE;
        for (int k = 0; k < c.length; k++) {
            sum = sum.plus(shared.get(k), c[k]);
        }
        return sum;
    }

    /** How much of a contrast's uncertainty is the priors' doing. */
    double assumedShare(double[] c) {
        return posterior.assumedShare(c);
    }

    /** A few levels of repeatability, for looking ahead. */
    List<RepeatabilityPosterior.Level> levels() {
        if (levels == null) {
            levels = posterior.levels(LEVELS, data.meanWeight());
        }
        return levels;
    }

    /** A quantity that is linear in the cells' diameters, with all that can be said of it. */
    final class Contrast implements Quantity {
        private final double[] c;
        private final double offset;
        private final double fixedVariance;
        private final double newCircle;
        private volatile NormalMixture mixture;
        /** Worked out when first asked for: quantiles are what an analysis takes longest over. */
        private volatile Estimate estimate;

        private Contrast(double[] c, double offset, double fixedVariance, double newCircle) {
            this.c = c.clone();
            this.offset = offset;
            this.fixedVariance = fixedVariance;
            this.newCircle = newCircle;
        }

        @Override
        public NormalMixture mixture() {
            if (mixture == null) {
                mixture = asTheyAre().condensed();
            }
            return mixture;
        }

        private NormalMixture asTheyAre() {
            return posterior.contrast(c, offset, fixedVariance, newCircle);
        }

        @Override
        public double value() {
            return posterior.mean(c, offset);
        }

        @Override
        public double standardUncertainty() {
            return Math.sqrt(posterior.variance(c, fixedVariance, newCircle));
        }

        @Override
        public Estimate estimate() {
            if (estimate == null) {
                estimate = mixture().estimate(conditions.confidence()).about(value(), standardUncertainty());
            }
            return estimate;
        }

        /** By a posterior that is near first, and by the one in full only where that leaves it open. */
        @Override
        public Optional<Verdict> decided(DecisionRule rule, DecisionRule.Asks asks) {
            DecisionRule.Chances q =
                    rule.chances(asTheyAre()); // drawing parts together is not worth it for one question
            return rule.decide(
                    posterior.isNear() && rule.isClose(q, RepeatabilityPosterior.NEARLY) ? inFull(rule) : q, asks);
        }

        private DecisionRule.Chances inFull(DecisionRule rule) {
            return rule.chances(posteriorInFull().contrast(c, offset, fixedVariance, newCircle));
        }

        /** The same from the data alone; geometry and shared parts count as known variance. */
        Optional<CircleAnova.DataOnly> dataOnly() {
            return anova().contrast(c, fixedVariance, conditions.confidence());
        }

        @Override
        public boolean restsOnAssumption() {
            return posterior.assumedShare(c, newCircle) > MOSTLY;
        }

        @Override
        public NormalMixture mixtureIf(double sigmaB) {
            return posterior.contrastIf(sigmaB, c, offset, fixedVariance, newCircle);
        }

        @Override
        public Outlook outlook(DecisionRule rule) {
            if (Arrays.stream(c).allMatch(k -> k == 0)) { // no circle of this trial is in it
                return new Outlook(Map.of(), 0, Outlook.Obstacle.GEOMETRY);
            }
            double fixed = fixedVariance + newCircle * posterior.newCircleVariance();
            return Outlook.of(cells, c, value(), fixed, levels(), rule);
        }
    }
}
