package org.fairturn.fit;

import java.util.Arrays;
import java.util.stream.IntStream;

/** A diameter worked out from tape lengths, with its sensitivity to each of them. */
public final class TapeDiameter {
    private final double diameter;
    private final double[] sensitivities;

    private TapeDiameter(double diameter, double... sensitivities) {
        this.diameter = diameter;
        this.sensitivities = sensitivities;
    }

    /** {@return the diameter (m)} */
    public double diameter() {
        return diameter;
    }

    /**
     * {@return ∂D/∂lᵢ of the i-th length, dimensionless, in the order the lengths were given}
     *
     * @param i from 0
     */
    public double sensitivity(int i) {
        return sensitivities[i];
    }

    /**
     * {@return variance of the diameter where each length carries an independent variance of one: Σ(∂D/∂lᵢ)², the linear
     * term of JCGM 100:2008, 5.1.2, equation (10)}
     */
    public double varianceFactor() {
        return IntStream.range(0, sensitivities.length)
                .mapToDouble(i -> sensitivities[i] * sensitivities[i])
                .sum();
    }

    /**
     * Diameter from a chord laid through the judged centre. A chord that misses the centre by p is short by about 2p²/D,
     * since its length is √(D² − 4p²); the expectation of that is added.
     *
     * @param chord length of the chord (m), in (0, ∞)
     * @param centreMiss p (m), root mean square distance by which the judged centre is missed, in [0, ∞)
     * @return D = chord + 2p²/chord
     * @see "Own derivation, from Euclid III.3; the chord stands in for D in the small correction"
     */
    public static TapeDiameter across(double chord, double centreMiss) {
        positive(chord, "chord");
        double correction = missedCentreCorrection(chord, centreMiss);
        return new TapeDiameter(chord + correction, 1 - correction / chord);
    }

    /**
     * {@return what is added to a chord through the judged centre for missing it: 2p²/chord (m)}
     *
     * @param chord measured length (m), in (0, ∞)
     * @param centreMiss p, how far the chord passes the centre (m)
     */
    public static double missedCentreCorrection(double chord, double centreMiss) {
        return 2 * centreMiss * centreMiss / chord;
    }

    /**
     * Diameter of the circle with a given chord and rise: D = c²/(4h) + h.
     *
     * @param chord length c of the chord (m), in (0, ∞)
     * @param rise greatest distance h from chord to arc (m), in (0, ∞)
     * @return D; sensitivities ∂D/∂c = c/(2h) and ∂D/∂h = 1 − c²/(4h²)
     * @throws IllegalArgumentException if either lies outside its range
     * @see "Euclid, Elements III.35 (intersecting chords): (c/2)² = h(D − h)"
     */
    public static TapeDiameter chordAndRise(double chord, double rise) {
        double c = positive(chord, "chord");
        double h = positive(rise, "rise");
        return new TapeDiameter(c * c / (4 * h) + h, c / (2 * h), 1 - c * c / (4 * h * h));
    }

    /**
     * Diameter of the circle through three stakes, from the three distances between them: D = abc/(2K), K the area of the
     * triangle after Heron, in Kahan's form that stays exact for needle-like triangles.
     *
     * @param first a (m), in (0, ∞); so are b and c, and each is shorter than the other two together
     * @param second b (m)
     * @param third c (m)
     * @return D; ∂D/∂a = D/a·(1 − a²·(b² + c² − a²)/(8K²)), and so on round the letters
     * @throws IllegalArgumentException if the stakes cannot form a triangle
     * @see "Area: W. Kahan, Miscalculating Area and Angles of a Needle-like Triangle (2014), from memory"
     */
    public static TapeDiameter threeStakes(double first, double second, double third) {
        double[] sorted = {positive(first, "first"), positive(second, "second"), positive(third, "third")};
        Arrays.sort(sorted);
        double a = sorted[2];
        double b = sorted[1];
        double c = sorted[0];
        // 16K², factors ordered so that no accuracy is lost to cancellation
        double sixteenAreaSquared = (a + (b + c)) * (c - (a - b)) * (c + (a - b)) * (a + (b - c));
        if (!(sixteenAreaSquared > 0)) {
            throw new IllegalArgumentException("stakes " + first + ", " + second + " and " + third
                    + " m apart form no triangle; each distance must be shorter than the other two together");
        }
        double diameter = 2 * first * second * third / Math.sqrt(sixteenAreaSquared);
        double half = sixteenAreaSquared / 2; // 8K²
        return new TapeDiameter(
                diameter,
                diameter / first * (1 - slope(first, second, third) / half),
                diameter / second * (1 - slope(second, third, first) / half),
                diameter / third * (1 - slope(third, first, second) / half));
    }

    /** a·∂(K²)/∂a·4 of Heron's formula: a²(b² + c² − a²). */
    private static double slope(double a, double b, double c) {
        return a * a * (b * b + c * c - a * a);
    }

    private static double positive(double value, String name) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(name + " is " + value + " m; must be in (0, ∞) m");
        }
        return value;
    }
}
