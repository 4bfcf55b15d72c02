package org.fairturn.finding;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Tyre;
import org.fairturn.units.LengthUnit;
import org.fairturn.units.Pressure;
import org.junit.jupiter.api.Test;

/** Pressures in kPa, so that a mark of a usual gauge is 10 of them (0.1 bar). */
class TyreCheckTest {
    private static Tyre front(String side, double specified, double found) {
        return new Tyre("front " + side, "18x8.50-8", noted(specified), noted(found));
    }

    private static Optional<Pressure> noted(double kilopascals) {
        return kilopascals == 0 ? Optional.empty() : Optional.of(new Pressure(kilopascals));
    }

    /** A machine with these two front tyres and rear ones of which nothing is known. */
    private static Machine with(Tyre left, Tyre right) {
        List<Tyre> tyres = new ArrayList<>(List.of(left, right));
        tyres.addAll(Tyre.UNKNOWN.subList(2, 4));
        return with(tyres);
    }

    private static Machine with(List<Tyre> tyres) {
        Machine m = Machine.named("Alder");
        return new Machine(
                m.id(),
                m.label(),
                m.wheelbase(),
                m.frontTrack(),
                m.leftLock(),
                m.rightLock(),
                m.deckOffset(),
                m.specifiedDeckOffset(),
                m.turnCentreShift(),
                m.blades(),
                m.stops(),
                tyres);
    }

    private static List<String> off(Tyre left, Tyre right) {
        return TyreCheck.off(with(left, right), LengthUnit.MILLIMETRE);
    }

    @Test
    void aMarkOfAGaugeApart_agrees_andMoreDoesNot() {
        assertThat(off(front("left", 150, 160), front("right", 150, 140)))
                .containsExactly(
                        // each is within a mark of 150, but the two are two marks apart
                        "front left 1.60 bar (23 psi), front right 1.40 bar (20 psi)");
        assertThat(off(front("left", 150, 160), front("right", 150, 150))).isEmpty();
        assertThat(off(front("left", 150, 162), front("right", 150, 155)))
                .containsExactly("front left 1.62 bar (23 psi), specified 1.50 bar (22 psi)");
    }

    /** Once a tyre is off what is specified, that it differs from the other one too adds nothing. */
    @Test
    void twoTyresOff_areNamedOnceEach() {
        assertThat(off(front("left", 150, 110), front("right", 150, 190)))
                .containsExactly(
                        "front left 1.10 bar (16 psi), specified 1.50 bar (22 psi)",
                        "front right 1.90 bar (28 psi), specified 1.50 bar (22 psi)");
    }

    @Test
    void whatIsNotKnown_isNeitherOffNorComplete() {
        assertThat(off(front("left", 150, 0), front("right", 0, 110))).isEmpty();
        assertThat(TyreCheck.off(Machine.named("Alder"), LengthUnit.INCH)).isEmpty();
        Tyre known = front("left", 150, 150);
        assertThat(TyreCheck.complete(with(List.of(known, known, known, known))))
                .isTrue();
        assertThat(TyreCheck.complete(with(List.of(known, known, known, front("right", 0, 150)))))
                .isFalse();
        assertThat(TyreCheck.complete(with(List.of(known, known, front("right", 150, 0), known))))
                .isFalse();
        Tyre sizeless = new Tyre("front left", "", noted(150), noted(150));
        assertThat(TyreCheck.complete(with(List.of(sizeless, known, known, known))))
                .isFalse();
    }
}
