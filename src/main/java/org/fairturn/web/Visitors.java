package org.fairturn.web;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/** Who was let in from the network, and what each visitor is to be told on the next page. */
final class Visitors {
    static final Duration IDLE = Duration.ofHours(12);
    private static final int MOST = 1000;

    private final InstantSource clock;
    private final Map<String, Instant> admitted = new Bounded<>();
    private final Map<String, String> said = new Bounded<>();

    Visitors(InstantSource clock) {
        this.clock = clock;
    }

    /** Forgets the oldest entry rather than growing without end. */
    private static final class Bounded<V> extends LinkedHashMap<String, V> {
        @Override
        protected boolean removeEldestEntry(Map.Entry<String, V> eldest) {
            return size() > MOST;
        }
    }

    synchronized void admit(String name) {
        admitted.put(name, clock.instant());
    }

    /** True where the visitor was let in and has been seen since; this counts as being seen. */
    synchronized boolean isAdmitted(String name) {
        Instant seen = admitted.get(name);
        if (seen == null) {
            return false;
        }
        admitted.remove(name); // put back at the end: the oldest entry is the one seen longest ago
        if (seen.plus(IDLE).isBefore(clock.instant())) {
            return false;
        }
        admitted.put(name, clock.instant());
        return true;
    }

    synchronized void say(String name, String message) {
        said.put(name, message);
    }

    /** What is to be told; once. */
    synchronized Optional<String> hear(String name) {
        return Optional.ofNullable(said.remove(name));
    }
}
