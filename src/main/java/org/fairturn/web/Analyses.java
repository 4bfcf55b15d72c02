package org.fairturn.web;

import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import org.fairturn.finding.Analysis;
import org.fairturn.trial.Trial;

/** The latest analysis of each folder as measured, so that readings and report do not each work out the same. */
final class Analyses {
    private final Map<Path, Analysis> latest = new ConcurrentHashMap<>();
    private final Function<Trial, Analysis> analyse;

    Analyses(Function<Trial, Analysis> analyse) {
        this.analyse = analyse;
    }

    /** What is on disk; nobody waits for somebody else who is at it too, since one of the two may be taking its time. */
    Analysis of(Path folder, Trial trial) {
        Analysis kept = latest.get(folder);
        if (kept != null && kept.trial().equals(trial)) {
            return kept;
        }
        Analysis made = analyse.apply(trial);
        latest.put(folder, made);
        return made;
    }

    /** Of a trial that is not on disk, such as one with something tried; it is not kept. */
    Analysis apart(Trial trial) {
        return analyse.apply(trial);
    }
}
