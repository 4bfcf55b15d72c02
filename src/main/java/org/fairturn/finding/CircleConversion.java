package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
 * @param geometryVariance what the machine's dimensions put on it (m²)
 */
record CircleConversion(double figure, double slope, double geometryVariance) {
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
            return Optional.of(new CircleConversion(value, 1, 0));
        }
        Optional<DeckModel> model = DeckModel.of(machine, drive);
        double shift = machine.turnCentreShift().map(m -> m.value().metres()).orElse(0.0);
        Frame frame = new Frame(model.map(DeckModel::deck), shift);
        Way way = new Way(
                new End(from, point(from, machine, outermost)),
                new End(to, point(to, machine, outermost)),
                turn.sign());
        OptionalDouble here = way.figure(value, frame);
        OptionalDouble above = way.figure(value + STEP, frame);
        OptionalDouble below = way.figure(value - STEP, frame);
        if (here.isEmpty() || above.isEmpty() || below.isEmpty()) {
            return Optional.empty();
        }
        double variance = model.map(m ->
                        m.contributions(deck -> way.figure(value, new Frame(Optional.of(deck), deck.c()))).stream()
                                .mapToDouble(c -> c.effect() * c.effect())
                                .sum())
                .orElseGet(() -> {
                    double u = DeckModel.shift(machine, drive);
                    return square(half(
                            way.figure(value, new Frame(Optional.empty(), shift + u)),
                            way.figure(value, new Frame(Optional.empty(), shift - u))));
                });
        return Optional.of(new CircleConversion(
                here.getAsDouble(),
                (above.getAsDouble() - below.getAsDouble()) / (2 * STEP),
                variance + way.pointVariance(value, frame)));
    }

    private static double square(double x) {
        return x * x;
    }

    /** Half the change from one result to the other; 0 where one of them is out of reach. */
    private static double half(OptionalDouble up, OptionalDouble down) {
        return up.isPresent() && down.isPresent() ? (up.getAsDouble() - down.getAsDouble()) / 2 : 0;
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
                                        length.uncertaintyOr(WHEELBASE).metres(),
                                        track.uncertaintyOr(FRONT_TRACK).metres())));
            case CLEARANCE_CIRCLE_DIAMETER ->
                outermost.map(p -> new Point(
                        p.ahead().value().metres(),
                        2 * p.out().value().metres(),
                        p.ahead().uncertaintyOr(POINT).metres(),
                        2 * p.out().uncertaintyOr(POINT).metres()));
        };
    }

    /** A point ahead of the rear axle and its likeness on the other side, so far apart (m), with standard uncertainties (m). */
    private record Point(double ahead, double apart, double aheadUncertainty, double apartUncertainty) {
        Point moved(double byAhead, double byApart) {
            return new Point(ahead + byAhead, apart + byApart, aheadUncertainty, apartUncertainty);
        }

        TurningCircle circle(double shift) {
            return new TurningCircle(ahead - shift, apart);
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
                    point.orElseThrow().circle(frame.shift()).turnRadius(figure);
            };
        }

        OptionalDouble figure(double radius, Frame frame, int side) {
            return switch (quantity) {
                case TURN_RADIUS -> OptionalDouble.of(radius);
                case UNCUT_DIAMETER -> disc(frame.deck().orElseThrow().uncutDiameter(radius, side));
                case TURNING_CIRCLE_DIAMETER, CLEARANCE_CIRCLE_DIAMETER ->
                    OptionalDouble.of(point.orElseThrow().circle(frame.shift()).diameter(radius));
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

        double pointVariance(double value, Frame frame) {
            double variance = 0;
            if (from.point().isPresent()) {
                double a = from.point().get().aheadUncertainty();
                double b = from.point().get().apartUncertainty();
                variance += square(half(
                                new Way(from.moved(a, 0), to, side).figure(value, frame),
                                new Way(from.moved(-a, 0), to, side).figure(value, frame)))
                        + square(half(
                                new Way(from.moved(0, b), to, side).figure(value, frame),
                                new Way(from.moved(0, -b), to, side).figure(value, frame)));
            }
            if (to.point().isPresent()) {
                double a = to.point().get().aheadUncertainty();
                double b = to.point().get().apartUncertainty();
                variance += square(half(
                                new Way(from, to.moved(a, 0), side).figure(value, frame),
                                new Way(from, to.moved(-a, 0), side).figure(value, frame)))
                        + square(half(
                                new Way(from, to.moved(0, b), side).figure(value, frame),
                                new Way(from, to.moved(0, -b), side).figure(value, frame)));
            }
            return variance;
        }
    }
}
