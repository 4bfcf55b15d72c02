package org.fairturn.finding;

import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
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

    public Testers {
        levels = List.copyOf(levels);
    }

    /** Mandel's k of each measurer over all circles together, by name; without those of whom it says nothing. */
    public SortedMap<String, Interlaboratory.Scatter> scatter() {
        List<Interlaboratory> measured = levels.stream().map(Level::measured).toList();
        SortedMap<String, Interlaboratory.Scatter> scatter = new TreeMap<>();
        measured.stream()
                .flatMap(m -> m.groups().stream())
                .map(Interlaboratory.Group::label)
                .distinct()
                .forEach(
                        label -> Interlaboratory.scatter(measured, label, ALPHA).ifPresent(k -> scatter.put(label, k)));
        return scatter;
    }

    /** One circle, and what each found (m). */
    public record Level(String circle, Interlaboratory measured) {}
}
