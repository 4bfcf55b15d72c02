package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.assertj.core.data.Offset;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;

/** What is uncertain of a deck, and what that does to results whose slopes are known by hand. */
class DeckModelTest {
    private static final Offset<Double> ROUNDING = within(1e-12);

    private static Measured mm(double value) {
        return new Measured(Length.mm(value), Optional.empty());
    }

    private static Measured mm(double value, double uncertainty) {
        return new Measured(Length.mm(value), Optional.of(Length.mm(uncertainty)));
    }

    private static Machine machine(Optional<Measured> offset, Optional<Measured> shift, Blade... blades) {
        return new Machine(
                "Alder",
                "Alder",
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                offset,
                shift,
                List.of(blades),
                List.of());
    }

    private static final Blade PLAIN = new Blade("A", mm(600), mm(100), mm(250));

    private static Map<String, Contribution> contributions(
            Machine machine, Drive drive, Function<Deck, OptionalDouble> result) {
        return DeckModel.of(machine, drive).orElseThrow().contributions(result).stream()
                .collect(Collectors.toMap(Contribution::name, c -> c));
    }

    private static Function<Deck, OptionalDouble> of(Function<Deck, Double> result) {
        return deck -> OptionalDouble.of(result.apply(deck));
    }

    private static void moves(Map<String, Contribution> found, String name, double u, double effect) {
        assertThat(found.get(name).standardUncertainty()).isCloseTo(u, ROUNDING);
        assertThat(found.get(name).effect()).isCloseTo(effect, ROUNDING);
    }

    /** The defaults: 5 mm sideways and ahead, 2 mm of tip radius, 25 mm of turn centre in 2WD and 50 mm in 4WD. */
    @Test
    void whatIsNotStated_isAssumed() {
        for (Drive drive : Drive.values()) {
            // a result in which every dimension shows by a factor of its own
            var found = contributions(
                    machine(Optional.empty(), Optional.empty(), PLAIN),
                    drive,
                    of(d -> 2 * d.blades().get(0).x()
                            + 3 * d.blades().get(0).y()
                            + 5 * d.blades().get(0).r()
                            + 7 * d.c()));
            assertThat(found.keySet())
                    .containsExactlyInAnyOrder(
                            "deck offset", "turn centre shift", "blade A, ahead of rear axle", "blade A, tip radius");
            moves(found, "deck offset", 0.005, 3 * 0.005);
            double shift = drive == Drive.TWO_WHEEL ? 0.025 : 0.050;
            moves(found, "turn centre shift", shift, 7 * shift);
            moves(found, "blade A, ahead of rear axle", 0.005, 2 * 0.005);
            moves(found, "blade A, tip radius", 0.002, 5 * 0.002);
        }
    }

    @Test
    void whatIsStated_isTaken() {
        var found = contributions(
                machine(
                        Optional.of(mm(100, 8)),
                        Optional.of(mm(30, 12)),
                        new Blade("A", mm(600, 3), mm(100, 4), mm(250, 0)),
                        new Blade("B", mm(900, 0), mm(-200, 0), mm(250, 1))),
                Drive.FOUR_WHEEL,
                of(d -> 2 * d.blades().get(0).x()
                        + 3 * d.blades().get(0).y()
                        + 11 * d.blades().get(1).y()
                        + 13 * d.blades().get(1).r()
                        + 7 * d.c()));
        // a dimension known for certain is none of them
        assertThat(found.keySet())
                .containsExactlyInAnyOrder(
                        "deck offset",
                        "turn centre shift",
                        "blade A, ahead of rear axle",
                        "blade A, left of centreline",
                        "blade B, tip radius");
        moves(found, "deck offset", 0.008, 14 * 0.008);
        moves(found, "turn centre shift", 0.012, 7 * 0.012);
        moves(found, "blade A, ahead of rear axle", 0.003, 2 * 0.003);
        moves(found, "blade A, left of centreline", 0.004, 3 * 0.004);
        moves(found, "blade B, tip radius", 0.001, 13 * 0.001);
        Deck deck = DeckModel.of(machine(Optional.empty(), Optional.of(mm(30)), PLAIN), Drive.TWO_WHEEL)
                .orElseThrow()
                .deck();
        assertThat(deck.c()).isCloseTo(0.030, ROUNDING);
        assertThat(DeckModel.of(machine(Optional.of(mm(40)), Optional.empty()), Drive.TWO_WHEEL))
                .isEmpty();
    }

    /** Where the geometry has no answer on one side the other tells it; where it has none on either, smaller steps do. */
    @Test
    void effectNearTheLimitOfTheGeometry_isTakenFromWhereThereIsAnAnswer() {
        Machine machine = machine(Optional.empty(), Optional.empty(), PLAIN);
        double full = 3 * 0.025;
        assertThat(shiftWithin(machine, 0, 1)).isCloseTo(full, ROUNDING);
        assertThat(shiftWithin(machine, -1, 0)).isCloseTo(full, ROUNDING);
        assertThat(shiftWithin(machine, -0.01, 0.01)).isCloseTo(full, ROUNDING);
        assertThat(shiftWithin(machine, -1e-5, 1e-5)).isCloseTo(full, within(1e-9));
        assertThat(shiftWithin(machine, -1e-5, 0)).isCloseTo(full, within(1e-9));
        // a bend shows which side was asked: c² + 3c from 0 on is 3u + u², not 3u
        double bent = contributions(
                        machine,
                        Drive.TWO_WHEEL,
                        d -> d.c() < 0 ? OptionalDouble.empty() : OptionalDouble.of(3 * d.c() + d.c() * d.c()))
                .get("turn centre shift")
                .effect();
        assertThat(bent).isCloseTo(full + 0.025 * 0.025, ROUNDING);
    }

    private static double shiftWithin(Machine machine, double low, double high) {
        return contributions(
                        machine,
                        Drive.TWO_WHEEL,
                        d -> d.c() < low || d.c() > high ? OptionalDouble.empty() : OptionalDouble.of(1 + 3 * d.c()))
                .get("turn centre shift")
                .effect();
    }

    /** A tip radius cannot be 0 or less, however badly it is known: 250 ± 250 mm, and 250 ± 400 mm. */
    @Test
    void tipRadiusThatIsHardlyKnown_staysAboveZero() {
        for (double u : new double[] {250, 400}) {
            var found = contributions(
                    machine(Optional.empty(), Optional.empty(), new Blade("A", mm(600), mm(100), mm(250, u))),
                    Drive.TWO_WHEEL,
                    of(d -> Math.pow(d.blades().get(0).r(), 2)));
            // (r + u)² − r²: one side only
            moves(found, "blade A, tip radius", u / 1000, (500 * u + u * u) * 1e-6);
        }
    }

    /** Second order by hand: x² about x bends by u², 3x² by 3u²; what is straight does not bend. */
    @Test
    void bend_isHalfTheSumOfTheChanges() {
        DeckModel model = DeckModel.of(machine(Optional.of(mm(100, 8)), Optional.empty(), PLAIN), Drive.TWO_WHEEL)
                .orElseThrow();
        assertThat(model.bend(of(d -> 5 + 2 * d.c()))).isCloseTo(0, ROUNDING);
        assertThat(model.bend(of(d -> 5 + d.c() * d.c()))).isCloseTo(625e-6, ROUNDING);
        assertThat(model.bend(of(
                        d -> d.c() * d.c() - 3 * Math.pow(d.blades().get(0).y(), 2))))
                .isCloseTo(625e-6 - 3 * 64e-6, ROUNDING);
        for (int side : new int[] {-1, 1}) {
            assertThat(model.bend(d -> side * d.c() > 0.02 ? OptionalDouble.empty() : OptionalDouble.of(1)))
                    .isInfinite();
        }
    }

    /** By its own uncertainties: of the offset where stated, else 5 mm; the blades go along. */
    @Test
    void movedLeft_movesOffsetAndBlades() {
        Machine stated = DeckModel.movedLeft(machine(Optional.of(mm(100, 8)), Optional.empty(), PLAIN), 2);
        assertThat(stated.deckOffset().orElseThrow()).isEqualTo(mm(116, 0));
        assertThat(stated.blades().get(0).left().value().metres()).isCloseTo(0.116, ROUNDING);
        // the middle between the tips, where only the blades are known
        Machine blades = DeckModel.movedLeft(machine(Optional.empty(), Optional.empty(), PLAIN), -3);
        assertThat(blades.deckOffset().orElseThrow().value().metres()).isCloseTo(0.085, ROUNDING);
        assertThat(blades.deckOffset().orElseThrow().standardUncertainty()).contains(Length.mm(0));
        assertThat(blades.blades().get(0).left().value().metres()).isCloseTo(0.085, ROUNDING);
        Machine offset = DeckModel.movedLeft(machine(Optional.of(mm(100)), Optional.empty()), 1);
        assertThat(offset.deckOffset().orElseThrow().value().metres()).isCloseTo(0.105, ROUNDING);
        Machine neither = machine(Optional.empty(), Optional.empty());
        assertThat(DeckModel.movedLeft(neither, 2)).isSameAs(neither);
    }
}
