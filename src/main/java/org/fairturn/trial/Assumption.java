package org.fairturn.trial;

import java.util.List;
import java.util.Optional;

/**
 * Where the assumed repeatabilities of a trial come from.
 *
 * @param circleStated whether trial.csv states the circle-to-circle one
 * @param readingStated whether trial.csv states that of readings
 * @param circle what an archive of past trials says of it; empty where none was asked, or trial.csv comes first
 * @param reading the same of the other
 * @param sentences how it came about, in plain words; empty where no archive was asked
 */
public record Assumption(
        boolean circleStated,
        boolean readingStated,
        Optional<LearntScatter> circle,
        Optional<LearntScatter> reading,
        List<String> sentences) {
    /** The usual ones. */
    public static final Assumption USUAL = stated(false, false);

    /**
     * Keeps its own copy of the list.
     *
     * @param circleStated whether trial.csv states the circle-to-circle one
     * @param readingStated whether trial.csv states that of readings
     * @param circle what an archive of past trials says of it; empty where none was asked, or trial.csv comes first
     * @param reading the same of the other
     * @param sentences how it came about, in plain words; empty where no archive was asked
     */
    public Assumption {
        sentences = List.copyOf(sentences);
    }

    /**
     * {@return an assumption of which no archive was asked}
     *
     * @param circle whether trial.csv states the circle-to-circle repeatability
     * @param reading whether it states that of readings
     */
    public static Assumption stated(boolean circle, boolean reading) {
        return new Assumption(circle, reading, Optional.empty(), Optional.empty(), List.of());
    }

    Assumption withCircleStated() {
        return new Assumption(true, readingStated, Optional.empty(), reading, sentences);
    }

    Assumption times(double factor) {
        return new Assumption(
                circleStated,
                readingStated,
                circle.map(l -> l.times(factor)),
                reading.map(l -> l.times(factor)),
                sentences);
    }
}
