package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.MultivariateNormalDistribution;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking;
import org.fairturn.uncertainty.CauseRanking.Influence;
import org.fairturn.uncertainty.Information;
import org.fairturn.uncertainty.NormalMixture;
import org.junit.jupiter.api.Test;

/**
 * The causes written down as normal distributions with their whole covariance matrices, and weighed by Bayes' rule with a library's
 * density. The machine is the one of {@link CauseSlopesTest}: a stop moves its circles by 48 m for each metre it protrudes, the
 * deck by 1.6 m either way.
 */
class ComplaintModelTest {
    private static final double NOT_NOTED = Double.NaN;
    private static final double MARGIN = 0.05;
    private static final double STOP = 48;
    private static final double DECK = 1.6;
    private static final List<Cell> CELLS = List.of(
            cell(Turn.LEFT, Drive.TWO_WHEEL),
            cell(Turn.RIGHT, Drive.TWO_WHEEL),
            cell(Turn.LEFT, Drive.FOUR_WHEEL),
            cell(Turn.RIGHT, Drive.FOUR_WHEEL));

    private static Cell cell(Turn turn, Drive drive) {
        return new Cell("Alder", turn, drive, Brakes.NONE);
    }

    /** What a cause makes of the cells, the left stop, the right stop and the deck: its variance, loadings, and size in the shop. */
    private record Effect(double variance, double size, List<Double> loadings) {}

    private static Effect effect(double variance, double size, double... loadings) {
        return new Effect(variance, size, Arrays.stream(loadings).boxed().toList());
    }

    /** One way a cause may be: what it is expected to make of each cell, and what it does besides. */
    private record Way(
            Kind kind, double prior, List<Double> expected, List<Influence> reference, List<Effect> effects) {}

    private record Weighed(Way way, double weight, List<Double> effects, double size, double deviation) {}

    /** All of it on four cells with stops and deck measured: y = (four excesses, left stop, right stop, deck). */
    private static final class Plain {
        final List<CauseRanking.Level> levels;
        final List<Influence> common;
        final double[] measured;
        final double[] deviations;

        Plain(List<CauseRanking.Level> levels, List<Influence> common, double[] measured, double[] deviations) {
            this.levels = levels;
            this.common = common;
            this.measured = measured;
            this.deviations = deviations;
        }

        private RealVector padded(double... loadings) {
            return new ArrayRealVector(Arrays.copyOf(loadings, CELLS.size() + measured.length));
        }

        private RealVector padded(List<Double> loadings) {
            return padded(loadings.stream().mapToDouble(a -> a).toArray());
        }

        Weighed weigh(Way way) {
            double[] effects = new double[CELLS.size()];
            double all = 0;
            double size = 0;
            double square = 0;
            for (int l = 0; l < levels.size(); l++) {
                CauseRanking.Level level = levels.get(l);
                int n = CELLS.size() + measured.length;
                RealMatrix s = new Array2DRowRealMatrix(n, n);
                RealVector y = new ArrayRealVector(n);
                for (int i = 0; i < n; i++) {
                    boolean ofCell = i < CELLS.size();
                    s.setEntry(i, i, ofCell ? level.variances().get(i) : Math.pow(deviations[i - CELLS.size()], 2));
                    y.setEntry(
                            i, ofCell ? level.observed().get(i) - way.expected().get(i) : measured[i - CELLS.size()]);
                }
                List<Influence> always = new ArrayList<>(common);
                always.addAll(way.reference());
                for (Influence i : always) {
                    RealVector a = padded(i.loadings());
                    s = s.add(a.outerProduct(a).scalarMultiply(i.variance() + i.newCircles() * level.newCircle()));
                }
                // sound machines differ by a fifth of the margin in each turn
                for (RealVector turn : List.of(padded(1, 0, 1, 0), padded(0, 1, 0, 1))) {
                    s = s.add(turn.outerProduct(turn).scalarMultiply(MARGIN * MARGIN / 25));
                }
                for (Effect e : way.effects()) {
                    RealVector a = padded(e.loadings());
                    s = s.add(a.outerProduct(a).scalarMultiply(e.variance()));
                }
                double weight = way.prior()
                        * level.weight()
                        * new MultivariateNormalDistribution(new double[n], s.getData()).density(y.toArray());
                all += weight;
                RealMatrix inverse = new LUDecomposition(s).getSolver().getInverse();
                RealVector gain = inverse.operate(y);
                double here = 0;
                double variance = 0;
                RealVector covariance = new ArrayRealVector(n);
                for (Effect e : way.effects()) {
                    RealVector a = padded(e.loadings());
                    double mean = e.variance() * a.dotProduct(gain);
                    here += e.size() * mean;
                    variance += e.size() * e.size() * e.variance();
                    covariance = covariance.add(a.mapMultiply(e.size() * e.variance()));
                    for (int k = 0; k < CELLS.size(); k++) {
                        effects[k] += weight * e.loadings().get(k) * mean;
                    }
                }
                size += weight * here;
                square += weight * (here * here + variance - covariance.dotProduct(inverse.operate(covariance)));
            }
            for (int k = 0; k < CELLS.size(); k++) {
                effects[k] = way.expected().get(k) + effects[k] / all;
            }
            return new Weighed(
                    way,
                    all,
                    Arrays.stream(effects).boxed().toList(),
                    size / all,
                    Math.sqrt(square / all - size * size / all / all));
        }
    }

    private static Effect stop(Turn turn, double size, double amount) {
        double left = turn == Turn.LEFT ? 1 : 0;
        double right = 1 - left;
        return effect(size * size, amount, left * STOP, right * STOP, left * STOP, right * STOP, left, right, 0);
    }

    /** A tenth of what the stop was found to be off, or may be: the circle moves a little more or less than it says. */
    private static Effect unlike(Turn turn, double size) {
        double left = turn == Turn.LEFT ? STOP : 0;
        double right = STOP - left;
        return effect(size * size / 100, 0, left, right, left, right, 0, 0, 0);
    }

    private static Effect cells(double... loadings) {
        return effect(0.15 * 0.15, 0, Arrays.copyOf(loadings, 7));
    }

    private static final List<Double> AS_IT_STANDS = List.of(0.0, 0.0, 0.0, 0.0);

    private static List<Way> ways(
            List<Influence> asStated, List<ComplaintModel.Variant> variants, double left, double right) {
        double mm = 0.001;
        List<Way> ways = new ArrayList<>();
        ways.add(new Way(Kind.NOTHING, 0.25, AS_IT_STANDS, asStated, List.of()));
        ways.add(new Way(
                Kind.LEFT_STOP,
                0.15,
                AS_IT_STANDS,
                asStated,
                List.of(stop(Turn.LEFT, 5 * mm, 1), unlike(Turn.LEFT, Math.min(5 * mm, left)))));
        ways.add(new Way(
                Kind.RIGHT_STOP,
                0.15,
                AS_IT_STANDS,
                asStated,
                List.of(stop(Turn.RIGHT, 5 * mm, 1), unlike(Turn.RIGHT, Math.min(5 * mm, right)))));
        ways.add(new Way(
                Kind.BOTH_STOPS,
                0.10,
                AS_IT_STANDS,
                asStated,
                List.of(
                        effect(25e-6, 1, STOP, STOP, STOP, STOP, 1, 1, 0),
                        stop(Turn.LEFT, 1.5 * mm, 0.5),
                        unlike(Turn.LEFT, Math.min(1.5 * mm, left)),
                        stop(Turn.RIGHT, 1.5 * mm, 0.5),
                        unlike(Turn.RIGHT, Math.min(1.5 * mm, right)))));
        ways.add(new Way(
                Kind.DECK,
                0.08,
                AS_IT_STANDS,
                asStated,
                List.of(effect(0.04 * 0.04, 1, -DECK, DECK, -DECK, DECK, 0, 0, 1))));
        ways.add(new Way(
                Kind.FRONT_AXLE, 0.10, AS_IT_STANDS, asStated, List.of(effect(0.15 * 0.15, 1, 0, 0, 1, 1, 0, 0, 0))));
        for (ComplaintModel.Variant v : variants) {
            long alike = variants.stream().filter(w -> w.kind() == v.kind()).count();
            ways.add(new Way(v.kind(), 0.05 / alike, v.expected(), v.influences(), List.of()));
        }
        // what was measured may be off besides something else, each with the probability it has by itself
        for (boolean leftOff : new boolean[] {false, true}) {
            for (boolean rightOff : new boolean[] {false, true}) {
                for (boolean deckOff : new boolean[] {false, true}) {
                    double share = (leftOff ? 0.15 : 0.85) * (rightOff ? 0.15 : 0.85) * (deckOff ? 0.08 : 0.92);
                    List<Effect> besides = new ArrayList<>();
                    if (leftOff) {
                        besides.add(effect(25e-6, 0, STOP, 0, STOP, 0, 1, 0, 0));
                        besides.add(unlike(Turn.LEFT, Math.min(5 * mm, left)));
                    }
                    if (rightOff) {
                        besides.add(effect(25e-6, 0, 0, STOP, 0, STOP, 0, 1, 0));
                        besides.add(unlike(Turn.RIGHT, Math.min(5 * mm, right)));
                    }
                    if (deckOff) {
                        besides.add(effect(0.04 * 0.04, 0, -DECK, DECK, -DECK, DECK, 0, 0, 1));
                    }
                    List<Effect> byCell =
                            new ArrayList<>(List.of(cells(1), cells(0, 1), cells(0, 0, 1), cells(0, 0, 0, 1)));
                    byCell.addAll(besides);
                    List<Effect> byTurn = new ArrayList<>(List.of(cells(1, 0, 1), cells(0, 1, 0, 1)));
                    byTurn.addAll(besides);
                    ways.add(new Way(Kind.OTHER, share * 0.063, AS_IT_STANDS, asStated, byCell));
                    ways.add(new Way(Kind.OTHER, share * 0.007, AS_IT_STANDS, asStated, byTurn));
                }
            }
        }
        return ways;
    }

    private static CauseSlopes slopes(double leftFound, double rightFound) {
        return new CauseSlopes(
                Trials.inMillimetres()
                        .machine("Alder")
                        .blade(600, 100, 200)
                        .steering(1500, 1000, 45, 45)
                        .stop(Turn.LEFT, 28, leftFound, NOT_NOTED, 100)
                        .stop(Turn.RIGHT, 28, rightFound, NOT_NOTED, 100)
                        .trial()
                        .machines()
                        .get(0),
                CELLS,
                List.of(1.6, 1.6, 1.6, 1.6));
    }

    private static final List<Influence> COMMON = List.of(new Influence(4e-6, 0, List.of(1.0, 1.0, 1.1, 1.1)));
    private static final List<Influence> AS_STATED = List.of(
            new Influence(25e-6, 0, List.of(1.0, 0.0, 1.0, 0.0)), new Influence(0, 0.5, List.of(0.0, 1.0, 0.0, 1.0)));
    private static final List<ComplaintModel.Variant> VARIANTS = List.of(
            new ComplaintModel.Variant(
                    Kind.DIRECTION, "turned round", List.of(0.2, -0.2, 0.2, -0.2), List.of(AS_STATED.get(0))),
            new ComplaintModel.Variant(Kind.CONVENTION, "a radius", List.of(0.5, 0.5, 0.5, 0.5), AS_STATED),
            new ComplaintModel.Variant(
                    Kind.CONVENTION,
                    "a turning circle",
                    List.of(0.1, 0.15, 0.1, 0.1),
                    List.of(new Influence(0.01, 0, List.of(1.0, 1.0, 1.0, 1.0)))));

    private static CauseRanking.Level level(
            double weight, double more, double variance, double newCircle, double... excess) {
        return new CauseRanking.Level(
                weight,
                Arrays.stream(excess).mapToObj(e -> e + more).toList(),
                IntStream.range(0, excess.length)
                        .mapToObj(k -> variance * (1 + 0.3 * k))
                        .toList(),
                newCircle);
    }

    /** Excesses (m) as a left stop, both stops, the deck, the front axle, the direction, a convention and nothing would make them. */
    private static final double[][] EXCESSES = {
        {0.16, 0.01, 0.17, 0.0},
        {0.15, 0.14, 0.16, 0.17},
        {-0.05, 0.06, -0.04, 0.05},
        {0.01, 0.0, 0.16, 0.15},
        {0.19, -0.21, 0.2, -0.2},
        {0.1, 0.14, 0.12, 0.1},
        {0.01, -0.01, 0.0, 0.01},
        {0.1, -0.05, 0.02, 0.12}
    };

    @Test
    void causes_areThoseOfTheWholeCovarianceMatrices() {
        double[] left = {0.0035, 0.003, 0, 0.0, 0.0002, -0.001, 0, 0.007};
        double[] right = {0, 0.0028, 0, 0.0003, 0, 0.0004, 0.0001, -0.002};
        double[] deck = {0.001, -0.002, 0.03, 0, 0.004, -0.01, 0, 0.002};
        for (int e = 0; e < EXCESSES.length; e++) {
            List<CauseRanking.Level> levels = List.of(
                    level(0.5, 0, 1e-4, 2e-4, EXCESSES[e]),
                    level(0.3, 0.004, 4e-4, 9e-4, EXCESSES[e]),
                    level(0.2, -0.003, 25e-4, 49e-4, EXCESSES[e]));
            ComplaintModel model = new ComplaintModel(
                    slopes(28 + 1000 * left[e], 28 + 1000 * right[e]),
                    COMMON,
                    AS_STATED,
                    VARIANTS,
                    levels,
                    Optional.of(new ComplaintModel.Deviation(deck[e], 0.006)),
                    0.007,
                    MARGIN);
            assertThat(model.stop(Turn.LEFT).orElseThrow().value()).isCloseTo(left[e], within(1e-12));
            assertThat(model.deck().orElseThrow().value()).isEqualTo(deck[e]);
            Plain slow = new Plain(
                    levels, COMMON, new double[] {left[e], right[e], deck[e]}, new double[] {5e-4, 5e-4, 0.006});
            agrees(model, slow, ways(AS_STATED, VARIANTS, Math.abs(left[e]), Math.abs(right[e])));
        }
    }

    private static void agrees(ComplaintModel model, Plain slow, List<Way> ways) {
        List<Weighed> weighed = ways.stream().map(slow::weigh).toList();
        double all = weighed.stream().mapToDouble(Weighed::weight).sum();
        Map<Kind, Double> probabilities = new EnumMap<>(Kind.class);
        Map<Kind, Double> priors = new EnumMap<>(Kind.class);
        Map<Kind, Weighed> likeliest = new EnumMap<>(Kind.class);
        for (Weighed w : weighed) {
            double p = w.weight() / all;
            probabilities.merge(w.way().kind(), p, Double::sum);
            priors.merge(w.way().kind(), w.way().prior(), Double::sum);
            likeliest.merge(w.way().kind(), w, (a, b) -> a.weight() >= b.weight() ? a : b);
        }
        double last = 1;
        assertThat(model.causes()).hasSize(9);
        for (ComplaintModel.Ranked found : model.causes()) {
            Weighed expected = likeliest.get(found.kind());
            assertThat(found.probability()).isCloseTo(probabilities.get(found.kind()), within(1e-9));
            assertThat(found.probability()).isLessThanOrEqualTo(last);
            last = found.probability();
            assertThat(found.prior()).isCloseTo(priors.get(found.kind()), within(1e-12));
            for (int k = 0; k < CELLS.size(); k++) {
                assertThat(found.effects().get(k))
                        .as("%s, %s", found.name(), CELLS.get(k))
                        .isCloseTo(expected.effects().get(k), within(1e-6));
            }
            boolean sized = expected.way().effects().stream().anyMatch(e -> e.size() > 0);
            assertThat(found.size().isPresent()).isEqualTo(sized);
            found.size().ifPresent(part -> {
                assertThat(part.estimate()).as(found.name()).isCloseTo(expected.size(), within(1e-7));
                assertThat(part.standardUncertainty()).isCloseTo(expected.deviation(), within(1e-6));
            });
        }
    }

    @Test
    void whatWasMeasured_isNotAskedForAgain_andTheMostTellingCheckComesFirst() {
        List<CauseRanking.Level> levels = List.of(level(1, 0, 1e-4, 2e-4, EXCESSES[0]));
        Optional<ComplaintModel.Deviation> deck = Optional.of(new ComplaintModel.Deviation(0, 0.006));
        List<String> all =
                names(new ComplaintModel(slopes(28, 28), COMMON, AS_STATED, VARIANTS, levels, deck, 0.007, MARGIN));
        assertThat(all)
                .containsExactlyInAnyOrder(
                        "roll out front and rear tyres",
                        "one more circle to the left in 2WD",
                        "one more circle to the right in 2WD",
                        "one more circle to the left in 4WD",
                        "one more circle to the right in 4WD",
                        "ask how the reference was measured");
        List<String> none = names(new ComplaintModel(
                slopes(NOT_NOTED, NOT_NOTED), COMMON, AS_STATED, List.of(), levels, Optional.empty(), 0.007, MARGIN));
        assertThat(none)
                .contains(
                        "measure the left stop",
                        "measure the right stop",
                        "measure the deck offset from the blade tips")
                .doesNotContain("ask how the reference was measured")
                .hasSize(8);
    }

    private static List<String> names(ComplaintModel model) {
        double last = Double.POSITIVE_INFINITY;
        for (Complaint.Check check : model.checks()) {
            assertThat(check.bits()).isBetween(0.0, last);
            last = check.bits();
        }
        return model.checks().stream().map(Complaint.Check::name).toList();
    }

    /** One circle of one turn, nothing measured, the reference exact: y under each cause is normal about 0. */
    @Test
    void informationOfChecks_onASingleCircle_byHand() {
        double y = 0.06;
        double v = 1e-4;
        double nu = 3e-4;
        ComplaintModel model = new ComplaintModel(
                new CauseSlopes(slopes(NOT_NOTED, NOT_NOTED).machine(), List.of(CELLS.get(2)), List.of(1.6)),
                List.of(),
                List.of(),
                List.of(),
                List.of(new CauseRanking.Level(1, List.of(y), List.of(v), nu)),
                Optional.empty(),
                0.007,
                MARGIN);
        double spread = MARGIN * MARGIN / 25;
        // nothing, left stop, deck, front axle, something else in the cell, the same in the turn
        double[] prior = {0.25, 0.15, 0.08, 0.10, 0.063, 0.007};
        double[] moved = {
            0, 1.01 * 25e-6 * STOP * STOP, 0.04 * 0.04 * DECK * DECK, 0.15 * 0.15, 0.15 * 0.15, 0.15 * 0.15
        };
        List<Double> p = new ArrayList<>();
        double all = 0;
        for (int h = 0; h < prior.length; h++) {
            double s = v + spread + moved[h];
            p.add(prior[h] * Math.exp(-y * y / s / 2) / Math.sqrt(s));
            all += p.get(h);
        }
        for (int h = 0; h < prior.length; h++) {
            p.set(h, p.get(h) / all);
        }
        Map<Kind, Double> found = new EnumMap<>(Kind.class);
        model.causes().forEach(c -> found.put(c.kind(), c.probability()));
        assertThat(found.get(Kind.FRONT_AXLE)).isCloseTo(p.get(3), within(1e-9));
        assertThat(found.get(Kind.OTHER)).isCloseTo(p.get(4) + p.get(5), within(1e-9));
        assertThat(found).doesNotContainKeys(Kind.RIGHT_STOP, Kind.BOTH_STOPS);
        Map<String, Double> bits = new HashMap<>();
        model.checks().forEach(c -> bits.put(c.name(), c.bits()));
        assertThat(bits).hasSize(4);

        // another circle: what it has in common with the first, and its own scatter
        List<NormalMixture> circle = new ArrayList<>();
        for (int h = 0; h < prior.length; h++) {
            double shared = spread + moved[h];
            circle.add(normal(y * shared / (v + shared), shared * v / (v + shared) + nu));
        }
        assertThat(bits.get("one more circle to the left in 4WD"))
                .isCloseTo(Information.ofNumber(p, circle), within(1e-7));
        // the stop against the manual to 0.5 mm, the deck to 7 mm; other causes leave them where they ought to be
        assertThat(bits.get("measure the left stop"))
                .isCloseTo(
                        Information.ofNumber(p, part(1, y, v + spread + moved[1], 25e-6, STOP, 25e-8, 0)),
                        within(1e-7));
        assertThat(bits.get("measure the deck offset from the blade tips"))
                .isCloseTo(
                        Information.ofNumber(p, part(2, y, v + spread + moved[2], 16e-4, -DECK, 49e-6, 0)),
                        within(1e-7));
        // half a per cent of rolling as an excess: what 10 mm more of the circle are by the paths of both axles
        double r = Math.sqrt(1.005 * 1.005 - 0.36) + 0.1;
        double share = 1 - Math.hypot(r, 1.5) / r / (Math.hypot(0.9, 1.5) / 0.9);
        double rollOut = Math.pow(0.005 * 0.01 / share, 2);
        assertThat(bits.get("roll out front and rear tyres"))
                .isCloseTo(
                        Information.ofNumber(
                                p, part(3, y, v + spread + moved[3], 0.0225, 1, rollOut, Math.pow(0.5 * 0.15, 2))),
                        within(1e-7));
    }

    private static NormalMixture normal(double mean, double variance) {
        return new NormalMixture(new double[] {1}, new double[] {mean}, new double[] {variance});
    }

    /** What a part shows under each cause: the size of the h-th, which moves y by a for each of it, and nothing of the others. */
    private static List<NormalMixture> part(
            int h, double y, double ofY, double variance, double a, double measured, double more) {
        List<NormalMixture> shows = new ArrayList<>();
        for (int g = 0; g < 6; g++) {
            double mean = g == h ? variance * a * y / ofY : 0;
            double left = g == h ? variance - variance * variance * a * a / ofY + more : 0;
            shows.add(normal(mean, left + measured));
        }
        return shows;
    }

    /** A stop that does not touch holds nothing, and one of which only one figure was noted tells no deviation. */
    @Test
    void onlyAStopThatHoldsItsWheel_isEvidence() {
        for (Optional<Boolean> touches : List.of(Optional.of(true), Optional.of(false), Optional.<Boolean>empty())) {
            Trials trials = Trials.inMillimetres()
                    .machine("Alder")
                    .stop(Turn.LEFT, Turn.LEFT, 28, 31, NOT_NOTED, 100, touches)
                    .stop(Turn.RIGHT, Turn.RIGHT, NOT_NOTED, 31, NOT_NOTED, 100, touches);
            ComplaintModel model = new ComplaintModel(
                    new CauseSlopes(trials.trial().machines().get(0), CELLS, List.of(1.6, 1.6, 1.6, 1.6)),
                    List.of(),
                    List.of(),
                    List.of(),
                    List.of(level(1, 0, 1e-4, 2e-4, EXCESSES[0])),
                    Optional.empty(),
                    0.007,
                    MARGIN);
            assertThat(model.stop(Turn.LEFT).isPresent()).isEqualTo(touches.orElse(true));
            assertThat(model.stop(Turn.RIGHT)).isEmpty();
            assertThat(model.deck()).isEmpty();
            // nor is a machine with such a stop driven, or one that nothing is wrong with
            assertThat(model.checks().stream().anyMatch(c -> c.name().startsWith("one more circle")))
                    .isEqualTo(touches.orElse(true));
            assertThat(model.causes().stream().map(ComplaintModel.Ranked::name))
                    .contains(
                            touches.orElse(true)
                                    ? "nothing wrong with the machine"
                                    : "nothing wrong that its circles show");
        }
    }

    @Test
    void aDeviation_showsBeyondTwiceItsUncertainty() {
        assertThat(new ComplaintModel.Deviation(0.0011, 0.0005).shows()).isTrue();
        assertThat(new ComplaintModel.Deviation(-0.0011, 0.0005).shows()).isTrue();
        assertThat(new ComplaintModel.Deviation(0.0009, 0.0005).shows()).isFalse();
    }

    /** Without a circle in 4WD nothing is said of the front axle, and what the other causes are beforehand still sums to 1. */
    @Test
    void in2wdAlone_theFrontAxleIsNoCause() {
        ComplaintModel model = new ComplaintModel(
                new CauseSlopes(slopes(28, 28).machine(), CELLS.subList(0, 2), List.of(1.6, 1.6)),
                List.of(),
                List.of(),
                List.of(),
                List.of(level(1, 0, 1e-4, 2e-4, 0.1, 0.02)),
                Optional.empty(),
                0.007,
                MARGIN);
        Map<Kind, Double> priors = new EnumMap<>(Kind.class);
        model.causes().forEach(c -> priors.put(c.kind(), c.prior()));
        assertThat(priors).doesNotContainKeys(Kind.FRONT_AXLE, Kind.DIRECTION, Kind.CONVENTION);
        // nothing 0.25, the stops 0.15, 0.15 and 0.10, the deck 0.08, something else 0.07
        assertThat(priors.get(Kind.NOTHING)).isCloseTo(0.25 / 0.8, within(1e-12));
        assertThat(priors.values().stream().mapToDouble(p -> p).sum()).isCloseTo(1, within(1e-12));
        assertThat(names(model)).noneMatch(name -> name.startsWith("roll out"));
    }

    /** The answer tells which reading of the reference is meant, or that it stands: the entropy of these. */
    @Test
    void askingForTheReference_tellsAsMuchAsItsReadingsAreOpen() {
        ComplaintModel model = new ComplaintModel(
                slopes(28, 28),
                COMMON,
                AS_STATED,
                VARIANTS.subList(0, 2),
                List.of(level(1, 0, 5e-3, 2e-3, 0.15, -0.14, 0.16, -0.12)),
                Optional.empty(),
                0.007,
                MARGIN);
        Map<Kind, Double> p = new EnumMap<>(Kind.class);
        model.causes().forEach(c -> p.put(c.kind(), c.probability()));
        double turned = p.get(Kind.DIRECTION);
        double radius = p.get(Kind.CONVENTION);
        assertThat(turned).isBetween(0.01, 0.99);
        double bits = model.checks().stream()
                .filter(c -> c.name().startsWith("ask"))
                .findFirst()
                .orElseThrow()
                .bits();
        assertThat(bits).isCloseTo(Information.ofAnswer(List.of(turned, radius, 1 - turned - radius)), within(1e-9));
    }
}
