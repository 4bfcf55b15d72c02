package org.fairturn.finding;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.IntFunction;
import java.util.function.IntToDoubleFunction;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.finding.Complaint.Kind;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking;
import org.fairturn.uncertainty.CauseRanking.Influence;
import org.fairturn.uncertainty.Information;
import org.fairturn.uncertainty.NormalMixture;

/**
 * The causes that may be behind circles off their reference, ranked by {@link CauseRanking}. What is observed is the excess of
 * each compared cell and, after those, each stop and deck offset that was measured against its specification.
 */
final class ComplaintModel {
    /** Probability of each cause before the trial. Our own choices, as are all the sizes below. */
    static final Map<Kind, Double> PRIOR = Map.of(
            Kind.NOTHING, 0.25,
            Kind.LEFT_STOP, 0.15,
            Kind.RIGHT_STOP, 0.15,
            Kind.BOTH_STOPS, 0.10,
            Kind.DECK, 0.08,
            Kind.FRONT_AXLE, 0.10,
            Kind.DIRECTION, 0.05,
            Kind.CONVENTION, 0.05,
            Kind.OTHER, 0.07);

    /** Sound machines of one kind differ in a turn by the practical margin over this (standard deviation). */
    static final double MARGIN_OVER_SPREAD = 5;
    /**
     * Standard deviation (m) by which a stop at fault protrudes off its specification. 0.2 in (5 mm) too far out is found on
     * machines straight from the factory: common practice, no source.
     */
    static final double STOP = 0.005;
    /** By how much two stops that are off alike still differ from their common amount (m). */
    static final double STOPS_UNLIKE = 0.0015;

    static final double DECK = 0.040;
    static final double FRONT_AXLE = 0.150;
    static final double OTHER = 0.150;
    /** The share of something else that shifts whole turns rather than single cells. */
    static final double OTHER_BY_TURN = 0.1;
    /** How well a stop is measured against its specification in a workshop (m). */
    static final double STOP_MEASURED = 0.0005;
    /** What is left open of how a protrusion widens the circle, as a share: dimensions known, or taken as typical. */
    private static final double SLOPE_KNOWN = 0.1;

    private static final double SLOPE_TYPICAL = 0.4;
    /** How well a roll-out tells the share by which front and rear tyres roll unlike. */
    private static final double ROLL_OUT = 0.005;
    /** The same as an excess in 4WD (m), where the share cannot be worked out. */
    private static final double ROLL_OUT_AS_EXCESS = 0.040;
    /** What is left open of how that share widens the circle: tyres give way, which kinematics leaves out. */
    private static final double ROLL_OUT_SLOPE = 0.5;

    /**
     * Another way to read the reference.
     *
     * @param expected what it makes of each cell's excess (m)
     * @param influences what it may be off by
     */
    record Variant(Kind kind, String name, List<Double> expected, List<Influence> influences) {}

    /** A measured deviation (m) from a specification: what was looked at before the trial. */
    record Deviation(double value, double standardUncertainty) {
        boolean shows() {
            return Math.abs(value) > 2 * standardUncertainty;
        }
    }

    /** What a cause does, with how it shows on the parts that can be measured (m). */
    private record Effect(Influence influence, double left, double right, double deck, double front) {}

    /** One cause, or one way of it. */
    private record Case(Kind kind, String name, CauseRanking.Cause cause, List<Effect> effects) {
        List<Double> coefficients(ToDoubleFunction<Effect> of) {
            int common = cause.influences().size() - effects.size();
            List<Double> g = new ArrayList<>(Collections.nCopies(common, 0.0));
            effects.forEach(e -> g.add(of.applyAsDouble(e)));
            return g;
        }
    }

    /** A cause after the trial. */
    record Ranked(
            Kind kind, String name, double prior, double probability, List<Double> effects, Optional<Part> size) {}

    private final CauseSlopes slopes;
    private final List<Cell> cells;
    private final Map<Turn, Deviation> stops = new EnumMap<>(Turn.class);
    private final Optional<Deviation> deck;
    private final double deckCheck;
    private final List<Case> cases = new ArrayList<>();
    private final CauseRanking ranking;

    /**
     * Ranks the causes.
     *
     * @param common what moves the excess of the cells whatever the cause, besides the reference
     * @param asStated what the reference may be off by, as it stands
     * @param variants other ways to read it
     * @param levels the excess of the cells at each level of repeatability
     * @param deck how far the deck is off where it should be, where both were measured
     * @param deckCheck how well that could be measured (m)
     */
    ComplaintModel(
            CauseSlopes slopes,
            List<Influence> common,
            List<Influence> asStated,
            List<Variant> variants,
            List<CauseRanking.Level> levels,
            Optional<Deviation> deck,
            double deckCheck,
            double margin) {
        this.slopes = slopes;
        this.cells = slopes.cells();
        this.deck = deck;
        this.deckCheck = deckCheck;
        for (Turn turn : Turn.values()) {
            measured(slopes.noted(turn)).ifPresent(x -> stops.put(turn, x));
        }
        List<Influence> always = new ArrayList<>();
        common.forEach(i -> always.add(padded(i)));
        for (Turn turn : Turn.values()) {
            double spread = margin / MARGIN_OVER_SPREAD;
            always.add(influence(spread * spread, k -> cells.get(k).turn() == turn ? 1 : 0, 0, 0, 0));
        }
        causes(always, asStated.stream().map(this::padded).toList(), variants);
        ranking = new CauseRanking(
                cases.stream().map(Case::cause).toList(),
                levels.stream().map(this::withDeviations).toList());
    }

    /** How far a stop was off its specification while the trial was driven; empty where that was not noted or it held nothing. */
    private static Optional<Deviation> measured(Optional<SteeringStop> stop) {
        return stop.filter(s -> !s.lacksContact())
                .flatMap(SteeringStops::deviation)
                .map(off -> new Deviation(off, STOP_MEASURED));
    }

    private CauseRanking.Level withDeviations(CauseRanking.Level level) {
        List<Double> observed = new ArrayList<>(level.observed());
        List<Double> variances = new ArrayList<>(level.variances());
        stops.values().forEach(x -> {
            observed.add(x.value());
            variances.add(square(x.standardUncertainty()));
        });
        deck.ifPresent(x -> {
            observed.add(x.value());
            variances.add(square(x.standardUncertainty()));
        });
        return new CauseRanking.Level(level.weight(), observed, variances, level.newCircle());
    }

    private static double square(double x) {
        return x * x;
    }

    /** An influence on the cells that no measured deviation shows. */
    private Influence padded(Influence i) {
        return new Influence(i.variance(), i.newCircles(), padded(i.loadings()));
    }

    private List<Double> padded(List<Double> ofCells) {
        List<Double> all = new ArrayList<>(ofCells);
        all.addAll(Collections.nCopies(stops.size() + (deck.isPresent() ? 1 : 0), 0.0));
        return all;
    }

    /** An influence on the cells and, where they were measured, on the left stop, the right stop and the deck. */
    private Influence influence(
            double variance, IntToDoubleFunction ofCell, double left, double right, double toTheLeft) {
        List<Double> loadings = new ArrayList<>(
                IntStream.range(0, cells.size()).mapToObj(ofCell::applyAsDouble).toList());
        stops.keySet().forEach(turn -> loadings.add(turn == Turn.LEFT ? left : right));
        deck.ifPresent(x -> loadings.add(toTheLeft));
        return new Influence(variance, 0, loadings);
    }

    /** Whether no stop was seen not to hold its wheel. */
    private boolean holds() {
        return slopes.machine().stops().stream().noneMatch(SteeringStop::lacksContact);
    }

    private void causes(List<Influence> always, List<Influence> asStated, List<Variant> variants) {
        add(
                Kind.NOTHING,
                holds() ? "nothing wrong with the machine" : "nothing wrong that its circles show",
                always,
                asStated,
                List.of());
        boolean bothTurns = true;
        for (Turn turn : Turn.values()) {
            boolean compared = cells.stream().anyMatch(c -> c.turn() == turn);
            bothTurns &= compared;
            if (compared) {
                Kind kind = turn == Turn.LEFT ? Kind.LEFT_STOP : Kind.RIGHT_STOP;
                add(kind, "the " + slopes.name(turn), always, asStated, stop(turn, STOP));
            }
        }
        if (bothTurns) {
            List<Effect> effects = new ArrayList<>();
            effects.add(new Effect(
                    influence(square(STOP), k -> slopes.protrusion(cells.get(k).turn(), k), 1, 1, 0), 1, 1, 0, 0));
            effects.addAll(stop(Turn.LEFT, STOPS_UNLIKE));
            effects.addAll(stop(Turn.RIGHT, STOPS_UNLIKE));
            add(Kind.BOTH_STOPS, "both stops alike", always, asStated, effects);
        }
        add(Kind.DECK, "the deck sitting sideways of its place", always, asStated, deckSideways());
        if (cells.stream().anyMatch(c -> c.drive() == Drive.FOUR_WHEEL)) {
            add(
                    Kind.FRONT_AXLE,
                    "the front axle or its tyres in 4WD",
                    always,
                    asStated,
                    List.of(new Effect(influence(square(FRONT_AXLE), this::inFourWheel, 0, 0, 0), 0, 0, 0, 1)));
        }
        for (Variant v : variants) {
            double share = PRIOR.get(v.kind())
                    / variants.stream().filter(w -> w.kind() == v.kind()).count();
            List<Influence> influences = new ArrayList<>(always);
            v.influences().forEach(i -> influences.add(padded(i)));
            cases.add(new Case(
                    v.kind(), v.name(), new CauseRanking.Cause(share, padded(v.expected()), influences), List.of()));
        }
        other(always, asStated);
    }

    /**
     * Each cell off by itself, or, less likely beforehand, each turn: what limits a turn besides its stop. A stop or deck that was
     * measured may be off as well, or it would be blamed for what it does not explain.
     */
    private void other(List<Influence> always, List<Influence> asStated) {
        List<Map.Entry<Kind, List<Effect>>> looked = new ArrayList<>();
        stops.keySet()
                .forEach(turn ->
                        looked.add(Map.entry(turn == Turn.LEFT ? Kind.LEFT_STOP : Kind.RIGHT_STOP, stop(turn, STOP))));
        deck.ifPresent(x -> looked.add(Map.entry(Kind.DECK, deckSideways())));
        for (int which = 0; which < 1 << looked.size(); which++) {
            double share = 1;
            List<Effect> besides = new ArrayList<>();
            for (int i = 0; i < looked.size(); i++) {
                double off = PRIOR.get(looked.get(i).getKey());
                boolean isOff = (which >> i & 1) == 1;
                share *= isOff ? off : 1 - off;
                if (isOff) {
                    besides.addAll(looked.get(i).getValue());
                }
            }
            other(share * PRIOR.get(Kind.OTHER), besides, always, asStated);
        }
    }

    private void other(double prior, List<Effect> besides, List<Influence> always, List<Influence> asStated) {
        String name = "something else, or more than one thing";
        List<Effect> byCell = IntStream.range(0, cells.size())
                .mapToObj(j -> shift(k -> k == j ? 1 : 0))
                .toList();
        List<Effect> byTurn = Stream.of(Turn.values())
                .map(turn -> shift(k -> cells.get(k).turn() == turn ? 1 : 0))
                .toList();
        add(Kind.OTHER, name, (1 - OTHER_BY_TURN) * prior, always, asStated, both(byCell, besides));
        add(Kind.OTHER, name, OTHER_BY_TURN * prior, always, asStated, both(byTurn, besides));
    }

    private static List<Effect> both(List<Effect> some, List<Effect> others) {
        return Stream.concat(some.stream(), others.stream()).toList();
    }

    private List<Effect> deckSideways() {
        return List.of(new Effect(influence(square(DECK), slopes::deckToTheLeft, 0, 0, 1), 0, 0, 1, 0));
    }

    private Effect shift(IntToDoubleFunction ofCell) {
        return new Effect(influence(square(OTHER), ofCell, 0, 0, 0), 0, 0, 0, 0);
    }

    private double inFourWheel(int k) {
        return cells.get(k).drive() == Drive.FOUR_WHEEL ? 1 : 0;
    }

    private List<Effect> stop(Turn turn, double size) {
        double left = turn == Turn.LEFT ? 1 : 0;
        // a stop that was measured is off by what was measured, and its circle by a share of that
        double off = stop(turn).map(x -> Math.min(size, Math.abs(x.value()))).orElse(size);
        double unlike = off * (slopes.missing(turn).isEmpty() ? SLOPE_KNOWN : SLOPE_TYPICAL);
        return List.of(
                new Effect(
                        influence(square(size), k -> slopes.protrusion(turn, k), left, 1 - left, 0),
                        left,
                        1 - left,
                        0,
                        0),
                // the circle moves a little more or less than the protrusion says
                new Effect(influence(square(unlike), k -> slopes.protrusion(turn, k), 0, 0, 0), 0, 0, 0, 0));
    }

    private void add(Kind kind, String name, List<Influence> always, List<Influence> asStated, List<Effect> effects) {
        add(kind, name, PRIOR.get(kind), always, asStated, effects);
    }

    private void add(
            Kind kind,
            String name,
            double prior,
            List<Influence> always,
            List<Influence> asStated,
            List<Effect> effects) {
        List<Influence> influences = new ArrayList<>(always);
        influences.addAll(asStated);
        effects.forEach(e -> influences.add(e.influence()));
        cases.add(new Case(
                kind,
                name,
                new CauseRanking.Cause(prior, padded(Collections.nCopies(cells.size(), 0.0)), influences),
                effects));
    }

    Optional<Deviation> stop(Turn turn) {
        return Optional.ofNullable(stops.get(turn));
    }

    Optional<Deviation> deck() {
        return deck;
    }

    CauseSlopes slopes() {
        return slopes;
    }

    /** The causes, the likeliest first; the ways of reading the reference together, named by the likeliest. */
    List<Ranked> causes() {
        double allPriors = cases.stream().mapToDouble(c -> c.cause().prior()).sum();
        List<Ranked> ranked = new ArrayList<>();
        for (Kind kind : Kind.values()) {
            List<Integer> ways = IntStream.range(0, cases.size())
                    .filter(h -> cases.get(h).kind() == kind)
                    .boxed()
                    .toList();
            if (!ways.isEmpty()) {
                int first = Collections.max(ways, Comparator.comparing(ranking.probabilities()::get));
                ranked.add(new Ranked(
                        kind,
                        cases.get(first).name(),
                        ways.stream()
                                        .mapToDouble(h -> cases.get(h).cause().prior())
                                        .sum()
                                / allPriors,
                        ways.stream().mapToDouble(ranking.probabilities()::get).sum(),
                        IntStream.range(0, cells.size())
                                .mapToObj(k -> effect(first, k))
                                .toList(),
                        size(first)));
            }
        }
        ranked.sort(Comparator.comparing(r -> -r.probability())); // stable: ties keep the order of kinds
        return ranked;
    }

    /** What a cause makes of a cell (m). */
    private double effect(int h, int k) {
        Case way = cases.get(h);
        return ranking.quantity(
                        h,
                        way.cause().expected().get(k),
                        way.coefficients(e -> e.influence().loadings().get(k)),
                        0,
                        0)
                .mean();
    }

    /** How big a cause is, were it this one (m): protrusion, distance to the left, or excess in 4WD. */
    private Optional<Part> size(int h) {
        ToDoubleFunction<Effect> of = switch (cases.get(h).kind()) {
            case LEFT_STOP -> Effect::left;
            case RIGHT_STOP -> Effect::right;
            case BOTH_STOPS -> e -> (e.left() + e.right()) / 2;
            case DECK -> Effect::deck;
            case FRONT_AXLE -> Effect::front;
            case NOTHING, DIRECTION, CONVENTION, OTHER -> e -> 0;
        };
        NormalMixture q = outcome(h, of, 0);
        return q.standardDeviation() > 0
                ? Optional.of(new Part(cases.get(h).kind().word(), q.mean(), q.standardDeviation()))
                : Optional.empty();
    }

    private NormalMixture outcome(int h, ToDoubleFunction<Effect> of, double variance) {
        return ranking.quantity(h, 0, cases.get(h).coefficients(of), variance, 0);
    }

    /** What has not been looked at yet, with its expected information (bits), the most telling first. */
    List<Complaint.Check> checks() {
        List<Complaint.Check> checks = new ArrayList<>();
        for (Turn turn : Turn.values()) {
            if (!stops.containsKey(turn) && cells.stream().anyMatch(c -> c.turn() == turn)) {
                ToDoubleFunction<Effect> of = turn == Turn.LEFT ? Effect::left : Effect::right;
                checks.add(ComplaintWords.measureStop(
                        slopes.name(turn), bits(h -> outcome(h, of, square(STOP_MEASURED)))));
            }
        }
        if (deck.isEmpty()) {
            checks.add(ComplaintWords.measureDeck(bits(h -> outcome(h, Effect::deck, square(deckCheck)))));
        }
        if (cases.stream().anyMatch(c -> c.kind() == Kind.FRONT_AXLE)) {
            double rollOut = square(rollOutAsExcess());
            double slope = square(ROLL_OUT_SLOPE * FRONT_AXLE);
            checks.add(ComplaintWords.rollOut(bits(h ->
                    outcome(h, Effect::front, rollOut + (cases.get(h).kind() == Kind.FRONT_AXLE ? slope : 0)))));
        }
        for (int k = 0; holds() && k < cells.size(); k++) { // else nobody drives it before that is mended
            int cell = k;
            checks.add(ComplaintWords.oneMoreCircle(cells.get(k), bits(h -> furtherCircle(h, cell))));
        }
        List<Double> answers = answers();
        if (answers.size() > 1) {
            checks.add(ComplaintWords.askForTheReference(Information.ofAnswer(answers)));
        }
        checks.sort(Comparator.comparing(c -> -c.bits()));
        return checks;
    }

    private double bits(IntFunction<NormalMixture> outcome) {
        return Information.ofNumber(
                ranking.probabilities(),
                IntStream.range(0, cases.size()).mapToObj(outcome).toList());
    }

    /** The excess one more circle of a cell would show. */
    private NormalMixture furtherCircle(int h, int k) {
        CauseRanking.Cause cause = cases.get(h).cause();
        return ranking.quantity(
                h,
                cause.expected().get(k),
                cause.influences().stream().map(i -> i.loadings().get(k)).toList(),
                0,
                1);
    }

    /** Probability of each true answer to what the reference means: as it stands, or one of the variants. */
    private List<Double> answers() {
        List<Double> answers = new ArrayList<>();
        double asStated = 0;
        for (int h = 0; h < cases.size(); h++) {
            Kind kind = cases.get(h).kind();
            if (kind == Kind.DIRECTION || kind == Kind.CONVENTION) {
                answers.add(ranking.probabilities().get(h));
            } else {
                asStated += ranking.probabilities().get(h);
            }
        }
        answers.add(asStated);
        return answers;
    }

    /** How well a roll-out tells the excess in 4WD (m). */
    private double rollOutAsExcess() {
        double step = 0.010;
        return IntStream.range(0, cells.size())
                .filter(k -> cells.get(k).drive() == Drive.FOUR_WHEEL)
                .mapToObj(k -> slopes.frontRolling(k, step))
                .filter(OptionalDouble::isPresent)
                .mapToDouble(share -> ROLL_OUT * step / Math.abs(share.getAsDouble()))
                .average()
                .orElse(ROLL_OUT_AS_EXCESS);
    }
}
