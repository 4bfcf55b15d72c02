package org.fairturn.geometry;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.UnaryOperator;

/**
 * The blades of a mower under a machine, and the disc of grass they leave when it circles.
 *
 * @param blades one or more, in machine coordinates
 * @param c turn centre shift (m): how far ahead of the rear axle line the turn centre lies; 0 where the rear wheels do not
 *     slip sideways
 */
public record Deck(List<BladeDisc> blades, double c) {
    /**
     * Keeps its own copy of the list.
     *
     * @param blades one or more, in machine coordinates
     * @param c turn centre shift (m): how far ahead of the rear axle line the turn centre lies; 0 where the rear wheels do
     *     not slip sideways
     * @throws IllegalArgumentException if there is no blade or the shift is not finite
     */
    public Deck {
        blades = List.copyOf(blades);
        if (blades.isEmpty() || !Double.isFinite(c)) {
            throw new IllegalArgumentException(blades.size() + " blades, turn centre shift " + c
                    + " m; must be 1 or more blades and a finite shift");
        }
    }

    /**
     * Uncut diameter left at a turn radius: D = 2·max(0, minᵢ(hypot(xᵢ − c, R − s·yᵢ) − rᵢ)).
     *
     * @param turnRadius R (m): turn centre to the midpoint of the rear axle
     * @param side s: +1 left, −1 right
     * @return D (m), 0 where a blade passes over the turn centre
     * @see "Own derivation: the cut reaches as near to the turn centre as the nearest blade tip"
     */
    public double uncutDiameter(double turnRadius, int side) {
        BladeDisc blade = closest(turnRadius, side);
        return 2 * Math.max(0, spindleRadius(blade, turnRadius, side) - blade.r());
    }

    /**
     * Turn radius that leaves an uncut diameter, the exact inverse of {@link #uncutDiameter}:
     * R = maxᵢ(s·yᵢ + √((D/2 + rᵢ)² − (xᵢ − c)²)) over the blades with D/2 + rᵢ ≥ |xᵢ − c|.
     *
     * @param uncutDiameter D (m), 0 or more
     * @param side s: +1 left, −1 right
     * @return R (m); empty where no turn radius leaves so small a disc with this deck
     */
    public OptionalDouble turnRadius(double uncutDiameter, int side) {
        return blades.stream()
                .filter(blade -> uncutDiameter / 2 + blade.r() >= Math.abs(blade.x() - c))
                .mapToDouble(blade -> {
                    double reach = uncutDiameter / 2 + blade.r();
                    double ahead = blade.x() - c;
                    return side * blade.y() + Math.sqrt((reach - ahead) * (reach + ahead));
                })
                .max();
    }

    /**
     * Cosine of the angle φ between the axle line and the line from turn centre to the blade that cuts closest:
     * cos φ = (R − s·y)/ρ. It is half the slope of D against R, dD/dR = 2·cos φ.
     *
     * @param turnRadius R (m), in [0, ∞)
     * @param side s, +1 in a left turn, −1 in a right turn
     * @return in [−1, 1]
     */
    public double cosPhi(double turnRadius, int side) {
        BladeDisc blade = closest(turnRadius, side);
        return (turnRadius - side * blade.y()) / spindleRadius(blade, turnRadius, side);
    }

    /**
     * {@return the blade whose tip passes nearest to the turn centre}
     *
     * @param turnRadius R (m), in [0, ∞)
     * @param side s, +1 in a left turn, −1 in a right turn
     */
    public BladeDisc closest(double turnRadius, int side) {
        BladeDisc nearest = blades.get(0);
        for (BladeDisc blade : blades) {
            if (spindleRadius(blade, turnRadius, side) - blade.r()
                    < spindleRadius(nearest, turnRadius, side) - nearest.r()) {
                nearest = blade;
            }
        }
        return nearest;
    }

    /**
     * What the position of the blades alone makes of the two circles of a machine that turns equally tight both ways:
     * D_right(R) − D_left(R).
     *
     * @param turnRadius R (m), the same left and right
     * @return difference (m), positive where the right circle is larger
     */
    public double offsetEffect(double turnRadius) {
        return uncutDiameter(turnRadius, -1) - uncutDiameter(turnRadius, 1);
    }

    /** {@return the middle between the outermost blade tips (m), + to the left of the centreline} */
    public double offset() {
        return (farthestLeft() + farthestRight()) / 2;
    }

    /** {@return width of the strip the deck cuts straight ahead (m): from the outermost blade tip to the outermost} */
    public double cuttingWidth() {
        return farthestLeft() - farthestRight();
    }

    private double farthestLeft() {
        return blades.stream().mapToDouble(b -> b.y() + b.r()).max().orElseThrow();
    }

    private double farthestRight() {
        return blades.stream().mapToDouble(b -> b.y() - b.r()).min().orElseThrow();
    }

    /**
     * {@return the same deck with the turn centre shift changed}
     *
     * @param shift c (m), + ahead of the rear axle line
     */
    public Deck withShift(double shift) {
        return new Deck(blades, shift);
    }

    /**
     * {@return the same deck with every blade changed}
     *
     * @param change given each blade in turn
     */
    public Deck mapBlades(UnaryOperator<BladeDisc> change) {
        return new Deck(blades.stream().map(change).toList(), c);
    }

    /**
     * {@return the same deck moved to the left as a whole by a distance (m)}
     *
     * @param distance (m), negative to the right
     */
    public Deck movedLeft(double distance) {
        return mapBlades(b -> new BladeDisc(b.x(), b.y() + distance, b.r()));
    }

    private double spindleRadius(BladeDisc blade, double turnRadius, int side) {
        double ahead = blade.x() - c;
        double aside = turnRadius - side * blade.y();
        return Math.sqrt(
                ahead * ahead + aside * aside); // metres: nothing here overflows, and hypot is ten times slower
    }
}
