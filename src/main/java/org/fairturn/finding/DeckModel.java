package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.BladeDisc;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;

/** A machine's deck in one drive, with how well each of its dimensions is known. */
public final class DeckModel {
    /** Standard uncertainties where the folder states none. The lateral one is shared by all blades. */
    static final Length LATERAL = Length.mm(5);

    static final Length AHEAD = Length.mm(5);
    static final Length TIP_RADIUS = Length.mm(2);
    static final Length SHIFT_2WD = Length.mm(25);
    static final Length SHIFT_4WD = Length.mm(50);

    /** How often a step that the geometry cannot follow is halved: 5 m become less than 1 µm. */
    private static final int MOST_HALVINGS = 23;

    private final Deck deck;
    private final List<Uncertain> uncertain;

    /** One uncertain dimension: its name, its standard uncertainty (m), and the deck with it moved; empty where none can be so. */
    private record Uncertain(String name, double standardUncertainty, Function<Double, Optional<Deck>> moved) {
        OptionalDouble result(double step, Function<Deck, OptionalDouble> of) {
            return moved.apply(step).map(of).orElse(OptionalDouble.empty());
        }
    }

    private DeckModel(Deck deck, List<Uncertain> uncertain) {
        this.deck = deck;
        this.uncertain = List.copyOf(uncertain);
    }

    /**
     * {@return the model of a machine whose blades are known; empty where they are not}
     *
     * @param machine with or without blades
     * @param drive which settles how closely the turn centre shift is known
     */
    public static Optional<DeckModel> of(Machine machine, Drive drive) {
        if (machine.blades().isEmpty()) {
            return Optional.empty();
        }
        List<BladeDisc> discs = machine.blades().stream()
                .map(b -> new BladeDisc(
                        b.ahead().value().metres(),
                        b.left().value().metres(),
                        b.tipRadius().value().metres()))
                .toList();
        double shift = machine.turnCentreShift().map(m -> m.value().metres()).orElse(0.0);
        Deck deck = new Deck(discs, shift);
        List<Uncertain> uncertain = new ArrayList<>();
        uncertain.add(new Uncertain("deck offset", lateral(machine), d -> Optional.of(deck.movedLeft(d))));
        uncertain.add(
                new Uncertain("turn centre shift", shift(machine, drive), d -> Optional.of(deck.withShift(shift + d))));
        for (int i = 0; i < discs.size(); i++) {
            Blade blade = machine.blades().get(i);
            BladeDisc disc = discs.get(i);
            String name = "blade " + blade.spindle() + ", ";
            add(
                    uncertain,
                    deck,
                    disc,
                    name + "ahead of rear axle",
                    blade.ahead(),
                    AHEAD,
                    d -> Optional.of(new BladeDisc(disc.x() + d, disc.y(), disc.r())));
            add(
                    uncertain,
                    deck,
                    disc,
                    name + "left of centreline",
                    blade.left(),
                    Length.mm(0),
                    d -> Optional.of(new BladeDisc(disc.x(), disc.y() + d, disc.r())));
            add(
                    uncertain,
                    deck,
                    disc,
                    name + "tip radius",
                    blade.tipRadius(),
                    TIP_RADIUS,
                    d -> Optional.of(disc.r() + d).filter(r -> r > 0).map(r -> new BladeDisc(disc.x(), disc.y(), r)));
        }
        return Optional.of(new DeckModel(deck, uncertain));
    }

    private static void add(
            List<Uncertain> uncertain,
            Deck deck,
            BladeDisc disc,
            String name,
            Measured measured,
            Length assumed,
            Function<Double, Optional<BladeDisc>> moved) {
        double u = measured.uncertaintyOr(assumed).metres();
        if (u > 0) {
            uncertain.add(new Uncertain(
                    name, u, d -> moved.apply(d).map(there -> deck.mapBlades(b -> b.equals(disc) ? there : b))));
        }
    }

    /**
     * The machine with its deck moved sideways by so many of its own standard uncertainties and known to be there; the same
     * machine where neither blades nor offset are known.
     */
    static Machine movedLeft(Machine machine, double uncertainties) {
        if (machine.blades().isEmpty() && machine.deckOffset().isEmpty()) {
            return machine;
        }
        double distance = uncertainties * lateral(machine);
        double offset = machine.deckOffset()
                .map(m -> m.value().metres())
                .orElseGet(
                        () -> of(machine, Drive.TWO_WHEEL).orElseThrow().deck().offset());
        return machine.withDeckMoved(
                Optional.of(new Measured(new Length(offset + distance), Optional.of(Length.mm(0)))), distance);
    }

    static double lateral(Machine machine) {
        return machine.deckOffset()
                .map(m -> m.uncertaintyOr(LATERAL))
                .orElse(LATERAL)
                .metres();
    }

    static double shift(Machine machine, Drive drive) {
        Length assumed = drive == Drive.TWO_WHEEL ? SHIFT_2WD : SHIFT_4WD;
        return machine.turnCentreShift()
                .map(m -> m.uncertaintyOr(assumed))
                .orElse(assumed)
                .metres();
    }

    /** {@return the blades with the turn centre shift} */
    public Deck deck() {
        return deck;
    }

    /**
     * How each uncertain dimension moves a result: half the difference between the result with the dimension raised and
     * lowered by its standard uncertainty. The result must be there at the estimates.
     *
     * @see "JCGM 100:2008, 5.1.3, note 2"
     */
    List<Contribution> contributions(Function<Deck, OptionalDouble> result) {
        double here = result.apply(deck).orElseThrow();
        return uncertain.stream()
                .map(d -> new Contribution(d.name(), d.standardUncertainty(), effect(d, here, result)))
                .toList();
    }

    /**
     * How far a result's mean lies off the result at the estimates because it bends over the standard uncertainties of the
     * dimensions (m); infinite where it is out of reach within them.
     *
     * @see "JCGM 100:2008, 5.1.2, note: second order; each dimension's share is half the sum of its changes up and down"
     */
    double bend(Function<Deck, OptionalDouble> result) {
        double here = result.apply(deck).orElseThrow();
        double sum = 0;
        for (Uncertain dimension : uncertain) {
            OptionalDouble up = dimension.result(dimension.standardUncertainty(), result);
            OptionalDouble down = dimension.result(-dimension.standardUncertainty(), result);
            if (up.isEmpty() || down.isEmpty()) {
                return Double.NEGATIVE_INFINITY;
            }
            sum += (up.getAsDouble() + down.getAsDouble()) / 2 - here;
        }
        return sum;
    }

    private static double effect(Uncertain dimension, double here, Function<Deck, OptionalDouble> result) {
        double step = dimension.standardUncertainty();
        double steps = 1;
        OptionalDouble up = dimension.result(step, result);
        OptionalDouble down = dimension.result(-step, result);
        for (int i = 0; i < MOST_HALVINGS && up.isEmpty() && down.isEmpty(); i++) {
            step /= 2;
            steps *= 2;
            up = dimension.result(step, result);
            down = dimension.result(-step, result);
        }
        double change; // where one side is out of reach of the geometry, the other side alone tells it
        if (up.isPresent() && down.isPresent()) {
            change = (up.getAsDouble() - down.getAsDouble()) / 2;
        } else {
            change = up.isPresent() ? up.getAsDouble() - here : here - down.orElseThrow();
        }
        return steps * change;
    }

    /**
     * Turn radius by the designed lock angle (m); empty where angle, wheelbase or track are not given. Only the difference of
     * two such radii is used, in which the track cancels and which the wheelbase moves by no more than its own relative
     * uncertainty, so that neither carries one here.
     */
    static Optional<Double> designedRadius(Machine machine, Turn turn) {
        return machine.lock(turn)
                .flatMap(angle -> machine.wheelbase()
                        .flatMap(wheelbase -> machine.frontTrack()
                                .map(track -> new Ackermann(
                                                wheelbase.value().metres(),
                                                track.value().metres())
                                        .turnRadius(angle.radians()))));
    }
}
