package org.fairturn.finding;

import java.util.List;
import java.util.SortedMap;
import org.fairturn.uncertainty.Interlaboratory;

/**
 * What those who measured the same circles found; readings straight across only, so that the method plays no part.
 *
 * @param levels the circles that two or more measured
 * @param precision repeatability and reproducibility over all of them (m)
 */
public record Testers(List<Level> levels, Interlaboratory.Precision precision) {
    /** Level of significance at which h and k point at someone, as in ASTM E691. */
    public static final double ALPHA = 0.005;

    /**
     * Keeps its own copy of the list.
     *
     * @param levels the circles that two or more measured
     * @param precision repeatability and reproducibility over all of them (m)
     */
    public Testers {
        levels = List.copyOf(levels);
    }

    /** {@return Mandel's k of each measurer over all circles together, by name; without those of whom it says nothing} */
    public SortedMap<String, Interlaboratory.Scatter> scatter() {
        return Interlaboratory.scatter(levels.stream().map(Level::measured).toList(), ALPHA);
    }

    /**
     * One circle, and what each found (m).
     *
     * @param circle id
     * @param measured the diameters (m) by who measured
     */
    public record Level(String circle, Interlaboratory measured) {}
}
