package org.fairturn.web;

import java.time.Duration;
import java.util.concurrent.TimeUnit;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.util.thread.Scheduler;

/**
 * Ends connections on which a request drips in without end: each byte starts the idle time anew, and the data rate is asked
 * for once the head of a request is there, so that neither ends a head that is sent byte by byte.
 */
final class SlowRequests implements Connection.Listener {
    private final Scheduler scheduler;
    /** Looked twice: two looks in a row at bytes without a new request mean that it has taken half of the time at least. */
    private final long halfMillis;

    SlowRequests(Scheduler scheduler, Duration request) {
        this.scheduler = scheduler;
        this.halfMillis = request.toMillis() / 2;
    }

    @Override
    public void onOpened(Connection connection) {
        watch(connection, connection.getMessagesIn(), connection.getBytesIn(), false);
    }

    /**
     * Looks again after half of the time.
     *
     * @param dripped whether the last look found bytes and no new request
     */
    private void watch(Connection connection, long requests, long bytes, boolean dripped) {
        scheduler.schedule(
                () -> {
                    if (connection.getEndPoint().isOpen()) {
                        boolean drips = connection.getMessagesIn() == requests && connection.getBytesIn() > bytes;
                        if (drips && dripped) {
                            connection.close();
                        } else {
                            watch(connection, connection.getMessagesIn(), connection.getBytesIn(), drips);
                        }
                    }
                },
                halfMillis,
                TimeUnit.MILLISECONDS);
    }
}
