package org.fairturn.web;

import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.Iterator;
import java.util.Map;

/**
 * Counts wrong access codes of the last minute, by address and in all. At the global cap an access code of 148 million
 * possible ones would hold out for years.
 */
final class Attempts {
    static final int PER_ADDRESS = 5;
    static final int IN_ALL = 30;
    static final Duration WINDOW = Duration.ofMinutes(1);

    private record Wrong(String address, Instant when) {}

    private final InstantSource clock;
    private final Deque<Wrong> recent = new ArrayDeque<>();

    Attempts(InstantSource clock) {
        this.clock = clock;
    }

    /**
     * Asks for one try. It counts as wrong from the start, so that many at once gain nothing.
     *
     * @return 0 where it may be made; otherwise seconds to wait
     */
    synchronized long begin(String address) {
        Instant now = clock.instant();
        for (Iterator<Wrong> oldest = recent.iterator(); oldest.hasNext(); ) {
            if (oldest.next().when().plus(WINDOW).isAfter(now)) {
                break;
            }
            oldest.remove();
        }
        Map<String, Integer> counts = new HashMap<>();
        recent.forEach(wrong -> counts.merge(wrong.address(), 1, Integer::sum));
        if (counts.getOrDefault(address, 0) >= PER_ADDRESS) {
            Instant first = recent.stream()
                    .filter(wrong -> wrong.address().equals(address))
                    .findFirst()
                    .orElseThrow()
                    .when();
            return secondsTo(first, now);
        }
        if (recent.size() >= IN_ALL) {
            return secondsTo(recent.getFirst().when(), now);
        }
        recent.addLast(new Wrong(address, now));
        return 0;
    }

    private static long secondsTo(Instant first, Instant now) {
        return Math.max(1, Duration.between(now, first.plus(WINDOW)).toSeconds() + 1);
    }

    /** The try was right after all. */
    synchronized void right(String address) {
        recent.removeIf(wrong -> wrong.address().equals(address));
    }
}
