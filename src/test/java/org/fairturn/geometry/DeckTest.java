package org.fairturn.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class DeckTest {
    private static final double INCH = 0.0254;

    private static Deck randomDeck(SplittableRandom random) {
        double y = 0.2 * random.nextDouble() - 0.1;
        double r = 0.18 + 0.08 * random.nextDouble();
        double x = 0.5 + 0.4 * random.nextDouble();
        return new Deck(
                List.of(
                        new BladeDisc(x, y + 1.8 * r, r),
                        new BladeDisc(x + 0.1, y, r),
                        new BladeDisc(x, y - 1.8 * r, r)),
                0.1 * random.nextDouble() - 0.05);
    }

    @Test
    void turnRadius_isTheInverseOfUncutDiameter() {
        var random = new SplittableRandom(42);
        for (int trial = 0; trial < 2000; trial++) {
            Deck deck = randomDeck(random);
            int side = random.nextBoolean() ? 1 : -1;
            double turnRadius = 0.9 + 20 * random.nextDouble();
            double diameter = deck.uncutDiameter(turnRadius, side);
            assertThat(diameter).isPositive();
            assertThat(deck.turnRadius(diameter, side).orElseThrow()).isCloseTo(turnRadius, within(1e-12 * turnRadius));
        }
    }

    @Test
    void aMirroredDeck_leavesTheMirroredCircles() {
        var random = new SplittableRandom(43);
        for (int trial = 0; trial < 500; trial++) {
            Deck deck = randomDeck(random);
            Deck mirrored = deck.mapBlades(b -> new BladeDisc(b.x(), -b.y(), b.r()));
            double turnRadius = 0.9 + 3 * random.nextDouble();
            assertThat(mirrored.uncutDiameter(turnRadius, 1)).isEqualTo(deck.uncutDiameter(turnRadius, -1));
            assertThat(mirrored.offsetEffect(turnRadius)).isEqualTo(-deck.offsetEffect(turnRadius));
            assertThat(mirrored.offset()).isCloseTo(-deck.offset(), within(1e-15));
        }
    }

    @Test
    void offsetEffect_hasTheSlopeTwiceTheSumOfTheCosines() {
        // d(D_right - D_left)/d(offset) = 2(cos φ_left + cos φ_right), below the rule of thumb's 4.
        var random = new SplittableRandom(44);
        for (int trial = 0; trial < 500; trial++) {
            Deck deck = randomDeck(random);
            double turnRadius = 1.2 + 3 * random.nextDouble();
            double step = 1e-7;
            if (!sameClosest(deck, turnRadius, step)) {
                continue;
            }
            double slope = (deck.movedLeft(step).offsetEffect(turnRadius)
                            - deck.movedLeft(-step).offsetEffect(turnRadius))
                    / (2 * step);
            double exact = 2 * (deck.cosPhi(turnRadius, 1) + deck.cosPhi(turnRadius, -1));
            assertThat(slope).isCloseTo(exact, within(1e-6));
            assertThat(exact).isLessThan(4);
        }
    }

    private static boolean sameClosest(Deck deck, double turnRadius, double step) {
        for (int side : new int[] {-1, 1}) {
            double y = deck.closest(turnRadius, side).y();
            if (Math.abs(deck.movedLeft(step).closest(turnRadius, side).y() - y) > 2 * step
                    || Math.abs(deck.movedLeft(-step).closest(turnRadius, side).y() - y) > 2 * step) {
                return false;
            }
        }
        return true;
    }

    @Test
    void deckOffsetThatMakesBothTurnsAlike_comesOutAlikeIn2wdAnd4wd() {
        // Common practice, no source: one compact tractor with its deck shifted to the left left uncut circles of
        // 60 and 62 in (two chords) turning left and 82 in turning right in 2WD, 83 and 106 in in 4WD; blades
        // about 28 in ahead of the rear axle, tip radius about 9 1/4 in. Half the difference of the two turn radii
        // is the missing offset.
        Deck centred = new Deck(List.of(new BladeDisc(28 * INCH, 0, 9.25 * INCH)), 0);
        assertThat(equalisingOffset(centred, 61, 82)).isCloseTo(6.8, within(0.05));
        assertThat(equalisingOffset(centred, 83, 106)).isCloseTo(6.6, within(0.05));
        assertThat((82 - 61) / 4.0).isEqualTo(5.25); // what the four-times rule of thumb says
        assertThat((106 - 83) / 4.0).isEqualTo(5.75);
        // and with the deck moved there the machine leaves just those circles at one turn radius
        Deck shifted = centred.movedLeft(equalisingOffset(centred, 61, 82) * INCH);
        double turnRadius = shifted.turnRadius(61 * INCH, 1).orElseThrow();
        assertThat(shifted.uncutDiameter(turnRadius, -1)).isCloseTo(82 * INCH, within(1e-12));
    }

    private static double equalisingOffset(Deck deck, double leftInches, double rightInches) {
        double left = deck.turnRadius(leftInches * INCH, 1).orElseThrow();
        double right = deck.turnRadius(rightInches * INCH, -1).orElseThrow();
        return (right - left) / 2 / INCH;
    }

    @Test
    void limits_areAnswered() {
        Deck deck = new Deck(List.of(new BladeDisc(0.7, 0, 0.24)), 0);
        assertThat(deck.uncutDiameter(0.1, 1)).isEqualTo(2 * (Math.hypot(0.7, 0.1) - 0.24));
        assertThat(new Deck(List.of(new BladeDisc(0, 0, 0.24)), 0).uncutDiameter(0.1, 1))
                .isZero();
        assertThat(deck.turnRadius(0.5, 1)).isEmpty(); // D/2 + r = 0.49 m cannot reach 0.7 m ahead
        assertThat(deck.turnRadius(0.92, 1).orElseThrow()).isCloseTo(0, within(1e-7));
        assertThatThrownBy(() -> new Deck(List.of(), 0)).hasMessageContaining("1 or more blades");
        assertThatThrownBy(() -> new BladeDisc(0.7, 0, Double.NaN)).hasMessageContaining("tip radius NaN m");
    }

    /** Two discs by hand: tips from −0.3 to 0.3 m and from 0.4 to 1.2 m. */
    @Test
    void offsetAndCuttingWidth_areThoseOfTheOutermostTips() {
        Deck deck = new Deck(List.of(new BladeDisc(0.5, 0, 0.3), new BladeDisc(0.5, 0.8, 0.4)), 0.1);
        assertThat(deck.offset()).isCloseTo((1.2 - 0.3) / 2, within(1e-15));
        assertThat(deck.cuttingWidth()).isCloseTo(1.5, within(1e-15));
        assertThat(deck.withShift(0.4)).isEqualTo(new Deck(deck.blades(), 0.4));
    }

    /** The spindle that lies farther out may have the tip that lies nearer. */
    @Test
    void closest_isByTheTip() {
        BladeDisc small = new BladeDisc(0, 0.5, 0.1); // 1.5 m from the centre, tip at 1.4 m
        BladeDisc large = new BladeDisc(0, 0.2, 0.6); // 1.8 m, tip at 1.2 m
        assertThat(new Deck(List.of(small, large), 0).closest(2, 1)).isEqualTo(large);
        assertThat(new Deck(List.of(large, small), 0).closest(2, 1)).isEqualTo(large);
    }

    /** A blade too far ahead to be reached says nothing; counted from the turn centre, not from the axle. */
    @Test
    void bladeOutOfReach_isLeftOut() {
        BladeDisc near = new BladeDisc(0.3, 0, 0.2);
        BladeDisc far = new BladeDisc(2, 0, 0.2); // 1.5 m ahead of the centre; the disc reaches 0.7 m
        double alone = new Deck(List.of(near), 0.5).turnRadius(1, 1).orElseThrow();
        assertThat(new Deck(List.of(near, far), 0.5).turnRadius(1, 1).orElseThrow())
                .isEqualTo(alone);
        assertThat(new Deck(List.of(new BladeDisc(-0.4, 0, 0.2)), 0.5).turnRadius(1, 1))
                .isEmpty(); // 0.9 m behind it
        assertThat(new Deck(List.of(new BladeDisc(0.7, 0, 0.2)), 0).turnRadius(1, 1))
                .isPresent(); // just reached
    }

    @Test
    void bladesAndWheels_haveToBeWhereTheyCanBe() {
        assertThatThrownBy(() -> new BladeDisc(0.7, 0, 0)).hasMessageContaining("radius in (0, ∞) m");
        assertThatThrownBy(() -> new TurningCircle(1, -1e-300)).hasMessageContaining("[0, ∞) m");
        assertThatThrownBy(() -> new TurningCircle(1, Double.POSITIVE_INFINITY)).hasMessageContaining("[0, ∞) m");
        assertThat(new TurningCircle(1, 0).diameter(0)).isEqualTo(2);
    }
}
