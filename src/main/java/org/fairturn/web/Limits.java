package org.fairturn.web;

import java.time.Duration;

/**
 * What one sender may take of the server, so that there is always something left for the others.
 *
 * @param largestForm bytes of a form's content; more is refused before it is read
 * @param idle how long a connection may rest between two requests, or between two bytes of one
 * @param request how long the bytes of one request may take to arrive, however steadily they drip
 * @param slowest bytes a second at which content has to arrive; slower senders hold a thread
 * @param connections at once; more wait until others end
 * @param threads that answer
 */
record Limits(long largestForm, Duration idle, Duration request, long slowest, int connections, int threads) {
    /** A form of a kilobyte, typed on a phone at the edge of the network, in less than ten seconds. */
    static final Limits USUAL = new Limits(64_000, Duration.ofSeconds(20), Duration.ofSeconds(40), 100, 200, 32);
}
