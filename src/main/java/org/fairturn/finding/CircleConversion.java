package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiFunction;
import org.fairturn.geometry.Deck;
import org.fairturn.geometry.TurningCircle;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;

/**
 * One figure of a machine's turn as another: uncut diameter, turn radius, turning circle, clearance circle. The way leads
 * through the turn radius, by the formulas of {@link Deck} and {@link TurningCircle}.
 *
 * @param figure what it comes to (m)
 * @param slope its change per metre of the figure it was converted from
 * @param contributions what the machine's dimensions put on it
 */
record CircleConversion(double figure, double slope, List<Contribution> contributions) {
    CircleConversion {
        contributions = List.copyOf(contributions);
    }

    /** What the machine's dimensions put on it (m²). */
    double geometryVariance() {
        return contributions.stream().mapToDouble(c -> c.effect() * c.effect()).sum();
    }

    /** Standard uncertainties where none is stated. Our own choices. */
    static final Length WHEELBASE = Length.mm(5);

    static final Length FRONT_TRACK = Length.mm(10);
    static final Length POINT = Length.mm(10);
    private static final double STEP = 1e-4;

    /** What a conversion lacks on a machine, in words; empty where it lacks nothing. */
    static List<String> missing(Quantity from, Quantity to, Machine machine, Optional<OutermostPoint> outermost) {
        List<String> missing = new ArrayList<>();
        if (from == to) {
            return missing;
        }
        List<Quantity> both = List.of(from, to);
        if (both.contains(Quantity.CLEARANCE_CIRCLE_DIAMETER) && outermost.isEmpty()) {
            missing.add(
                    "where the machine's outermost point lies: how far ahead of the rear axle and from the centreline");
        }
        if (both.contains(Quantity.UNCUT_DIAMETER) && machine.blades().isEmpty()) {
            missing.add("the blade positions (blades.csv)");
        }
        if (both.contains(Quantity.TURNING_CIRCLE_DIAMETER)
                && (machine.wheelbase().isEmpty() || machine.frontTrack().isEmpty())) {
            missing.add("wheelbase and front track (machines.csv)");
        }
        return missing;
    }

    /** The conversion; empty where something is missing or the machine cannot turn so tightly or leaves no disc when it does. */
    static Optional<CircleConversion> of(
            double value,
            Quantity from,
            Quantity to,
            Machine machine,
            Optional<OutermostPoint> outermost,
            Turn turn,
            Drive drive) {
        if (!missing(from, to, machine, outermost).isEmpty()) {
            return Optional.empty();
        }
        if (from == to) {
            return Optional.of(new CircleConversion(value, 1, List.of()));
        }
        Optional<DeckModel> model = DeckModel.of(machine, drive);
        double shift = machine.turnCentreShift().map(m -> m.value().metres()).orElse(0.0);
        Frame frame = new Frame(model.map(DeckModel::deck), shift);
        Way way = way(from, to, machine, outermost, turn);
        OptionalDouble here = way.figure(value, frame);
        OptionalDouble above = way.figure(value + STEP, frame);
        OptionalDouble below = way.figure(value - STEP, frame);
        if (here.isEmpty() || above.isEmpty() || below.isEmpty()) {
            return Optional.empty();
        }
        List<Contribution> contributions = new ArrayList<>(model.map(m ->
                        m.contributions(deck -> way.figure(value, new Frame(Optional.of(deck), deck.c()))))
                .orElseGet(() -> List.of(way.shifted(value, shift, DeckModel.shift(machine, drive)))));
        contributions.addAll(way.points(value, frame));
        return Optional.of(new CircleConversion(
                here.getAsDouble(), (above.getAsDouble() - below.getAsDouble()) / (2 * STEP), contributions));
    }

    /**
     * The smallest turning circle (m) a machine of these dimensions can have whatever its lock: it turns about the middle of
     * its rear axle. Empty for other quantities, and where the dimensions are not known.
     */
    static OptionalDouble smallest(Quantity quantity, Machine machine) {
        double shift = machine.turnCentreShift().map(m -> m.value().metres()).orElse(0.0);
        return quantity == Quantity.TURNING_CIRCLE_DIAMETER
                ? point(quantity, machine, Optional.empty())
                        .flatMap(p -> p.circle(shift))
                        .map(circle -> OptionalDouble.of(circle.diameter(0)))
                        .orElse(OptionalDouble.empty())
                : OptionalDouble.empty();
    }

    /** The figure (m) under a deck; empty where it is out of reach. Nothing may be missing. */
    static OptionalDouble figure(
            double value,
            Quantity from,
            Quantity to,
            Machine machine,
            Optional<OutermostPoint> outermost,
            Deck deck,
            Turn turn) {
        return from == to
                ? OptionalDouble.of(value)
                : way(from, to, machine, outermost, turn).figure(value, new Frame(Optional.of(deck), deck.c()));
    }

    private static Way way(Quantity from, Quantity to, Machine machine, Optional<OutermostPoint> outermost, Turn turn) {
        return new Way(
                new End(from, point(from, machine, outermost)),
                new End(to, point(to, machine, outermost)),
                turn.sign());
    }

    /** Half the change from one result to the other; where one of them is out of reach, what the other alone tells. */
    private static double half(OptionalDouble up, OptionalDouble here, OptionalDouble down) {
        double middle = here.orElseThrow();
        return up.isPresent() && down.isPresent()
                ? (up.getAsDouble() - down.getAsDouble()) / 2
                : up.orElse(middle) - down.orElse(middle);
    }

    /** What draws the circle of a quantity; empty for those no single point draws. */
    private static Optional<Point> point(Quantity quantity, Machine machine, Optional<OutermostPoint> outermost) {
        return switch (quantity) {
            case UNCUT_DIAMETER, TURN_RADIUS -> Optional.empty();
            case TURNING_CIRCLE_DIAMETER ->
                machine.wheelbase()
                        .flatMap(length -> machine.frontTrack()
                                .map(track -> new Point(
                                        length.value().metres(),
                                        track.value().metres(),
                                        new Dimension("wheelbase", length.uncertaintyOr(WHEELBASE), 1),
                                        new Dimension("front track", track.uncertaintyOr(FRONT_TRACK), 1))));
            case CLEARANCE_CIRCLE_DIAMETER ->
                outermost.map(p -> new Point(
                        p.ahead().value().metres(),
                        2 * p.out().value().metres(),
                        new Dimension("outermost point, ahead", p.ahead().uncertaintyOr(POINT), 1),
                        new Dimension("outermost point, out", p.out().uncertaintyOr(POINT), 2)));
        };
    }

    /** What is uncertain of a point; its distance from its likeness changes by so many times the dimension. */
    private record Dimension(String name, Length standardUncertainty, double times) {
        double step() {
            return times * standardUncertainty.metres();
        }
    }

    /** A point ahead of the rear axle and its likeness on the other side, so far apart (m), with the dimension behind each. */
    private record Point(double ahead, double apart, Dimension behindAhead, Dimension behindApart) {
        Point moved(double byAhead, double byApart) {
            return new Point(ahead + byAhead, apart + byApart, behindAhead, behindApart);
        }

        /** Empty where the point lies on the wrong side, as it may with a dimension that is hardly known. */
        Optional<TurningCircle> circle(double shift) {
            return apart >= 0 ? Optional.of(new TurningCircle(ahead - shift, apart)) : Optional.empty();
        }
    }

    /** What a conversion takes from deck and turn centre. */
    private record Frame(Optional<Deck> deck, double shift) {}

    /** A figure at one end of a conversion. */
    private record End(Quantity quantity, Optional<Point> point) {
        OptionalDouble radius(double figure, Frame frame, int side) {
            return switch (quantity) {
                case TURN_RADIUS -> OptionalDouble.of(figure);
                case UNCUT_DIAMETER -> frame.deck().orElseThrow().turnRadius(figure, side);
                case TURNING_CIRCLE_DIAMETER, CLEARANCE_CIRCLE_DIAMETER ->
                    point.orElseThrow()
                            .circle(frame.shift())
                            .map(c -> c.turnRadius(figure))
                            .orElse(OptionalDouble.empty());
            };
        }

        OptionalDouble figure(double radius, Frame frame, int side) {
            return switch (quantity) {
                case TURN_RADIUS -> OptionalDouble.of(radius);
                case UNCUT_DIAMETER -> disc(frame.deck().orElseThrow().uncutDiameter(radius, side));
                case TURNING_CIRCLE_DIAMETER, CLEARANCE_CIRCLE_DIAMETER ->
                    point.orElseThrow()
                            .circle(frame.shift())
                            .map(c -> OptionalDouble.of(c.diameter(radius)))
                            .orElse(OptionalDouble.empty());
            };
        }

        private static OptionalDouble disc(double diameter) {
            return diameter > 0 ? OptionalDouble.of(diameter) : OptionalDouble.empty();
        }

        End moved(double byAhead, double byApart) {
            return new End(quantity, point.map(p -> p.moved(byAhead, byApart)));
        }
    }

    private record Way(End from, End to, int side) {
        OptionalDouble figure(double value, Frame frame) {
            OptionalDouble radius = from.radius(value, frame, side);
            return radius.isEmpty() ? radius : to.figure(radius.getAsDouble(), frame, side);
        }

        Contribution shifted(double value, double shift, double u) {
            return new Contribution(
                    "turn centre shift",
                    u,
                    half(
                            figure(value, new Frame(Optional.empty(), shift + u)),
                            figure(value, new Frame(Optional.empty(), shift)),
                            figure(value, new Frame(Optional.empty(), shift - u))));
        }

        /** What the dimensions of the points at both ends do. */
        List<Contribution> points(double value, Frame frame) {
            List<Contribution> all = new ArrayList<>();
            from.point()
                    .ifPresent(p -> all.addAll(point(p, value, frame, (a, b) -> new Way(from.moved(a, b), to, side))));
            to.point()
                    .ifPresent(p -> all.addAll(point(p, value, frame, (a, b) -> new Way(from, to.moved(a, b), side))));
            return all;
        }

        private List<Contribution> point(
                Point point, double value, Frame frame, BiFunction<Double, Double, Way> moved) {
            double a = point.behindAhead().step();
            double b = point.behindApart().step();
            return List.of(
                    contribution(point.behindAhead(), value, frame, moved.apply(a, 0.0), moved.apply(-a, 0.0)),
                    contribution(point.behindApart(), value, frame, moved.apply(0.0, b), moved.apply(0.0, -b)));
        }

        private Contribution contribution(Dimension dimension, double value, Frame frame, Way up, Way down) {
            return new Contribution(
                    dimension.name(),
                    dimension.standardUncertainty().metres(),
                    half(up.figure(value, frame), figure(value, frame), down.figure(value, frame)));
        }
    }
}
