package org.fairturn.web;

import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import org.fairturn.finding.Analysis;
import org.fairturn.trial.Trial;

/** The latest analysis of each folder as measured, so that readings and report do not each work out the same. */
final class Analyses {
    private record Kept(Trial trial, Analysis analysis) {}

    private final Map<Path, Kept> latest = new ConcurrentHashMap<>();
    private final Function<Trial, Analysis> analyse;
    private final UnaryOperator<Trial> taught;

    Analyses(Function<Trial, Analysis> analyse) {
        this(analyse, UnaryOperator.identity());
    }

    /** @param taught what past trials say of a trial, put into it */
    Analyses(Function<Trial, Analysis> analyse, UnaryOperator<Trial> taught) {
        this.analyse = analyse;
        this.taught = taught;
    }

    /** What is on disk; nobody waits for somebody else who is at it too, since one of the two may be taking its time. */
    Analysis of(Path folder, Trial trial) {
        Kept kept = latest.get(folder);
        if (kept != null && kept.trial().equals(trial)) {
            return kept.analysis();
        }
        Analysis made = apart(trial);
        latest.put(folder, new Kept(trial, made));
        return made;
    }

    /** Of a trial that is not on disk, such as one with something tried; it is not kept. */
    Analysis apart(Trial trial) {
        return analyse.apply(taught.apply(trial));
    }

    /** Of what is on disk as whoever has nothing but its files works it out. */
    Analysis byFilesAlone(Path folder, Trial trial) {
        return taught.apply(trial).equals(trial) ? of(folder, trial) : analyse.apply(trial);
    }
}
