package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Senders who take all they can get, with limits short enough to be tried. */
@Timeout(120)
class LimitsTest {
    private static final Limits SHORT = new Limits(20_000, Duration.ofSeconds(2), Duration.ofMillis(600), 100, 30, 8);

    @TempDir
    Path above;

    @BeforeEach
    void demo() {
        Served.demoBelow(above);
    }

    private Served served(Limits limits) {
        return Served.on(new Settings(above, false, 0), InstantSource.system(), limits);
    }

    private static Socket open(Served served) {
        try {
            Socket socket =
                    new Socket(InetAddress.getLoopbackAddress(), served.server().port());
            socket.setSoTimeout(30_000);
            socket.setTcpNoDelay(true);
            return socket;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void write(Socket socket, String text) throws IOException {
        OutputStream out = socket.getOutputStream();
        out.write(text.getBytes(StandardCharsets.ISO_8859_1));
        out.flush();
    }

    private static String post(Served served, String more) {
        return ("POST /new HTTP/1.1\nHost: 127.0.0.1:" + served.server().port() + "\nOrigin: " + served.origin()
                        + "\nContent-Type: application/x-www-form-urlencoded\n" + more + "\n")
                .replace("\n", "\r\n");
    }

    /** What came back up to its first line end, or to the end of the connection. */
    private static String firstLine(Socket socket) throws IOException {
        InputStream in = socket.getInputStream();
        StringBuilder line = new StringBuilder();
        try {
            for (int c = in.read(); c >= 0 && c != '\r'; c = in.read()) {
                line.append((char) c);
            }
        } catch (SocketException reset) {
            // the end as well
        }
        return line.toString();
    }

    /** Sends a byte now and then until the server ends it; how long that took (ms). */
    private static long drip(Socket socket, int pauseMillis) throws InterruptedException {
        long start = System.nanoTime();
        try {
            while (socket.getInputStream().available() == 0) {
                write(socket, "y");
                Thread.sleep(pauseMillis);
            }
        } catch (IOException ended) {
            // by the server
        }
        return TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start);
    }

    @Test
    void aHeadSentByteByByte_isNotWaitedForWithoutEnd() throws Exception {
        try (Served served = served(SHORT);
                Socket first = open(served);
                Socket later = open(served)) {
            write(first, "GET / HTTP/1.1\r\nX-Long: ");
            assertThat(drip(first, 50)).isBetween(250L, 10_000L);
            // nor is one that follows a whole request on the same connection
            write(
                    later,
                    "GET /nowhere HTTP/1.1\r\nHost: 127.0.0.1:"
                            + served.server().port() + "\r\n\r\n");
            assertThat(firstLine(later)).startsWith("HTTP/1.1 404");
            Thread.sleep(200);
            later.getInputStream().skipNBytes(later.getInputStream().available());
            write(later, "GET / HTTP/1.1\r\nX-Long: ");
            assertThat(drip(later, 50)).isBetween(250L, 10_000L);
        }
    }

    @Test
    void aConnectionThatRests_andOneThatIsBusy_areLeftAlone() throws Exception {
        try (Served served = served(SHORT);
                Socket socket = open(served)) {
            String get = "GET /nowhere HTTP/1.1\r\nHost: 127.0.0.1:"
                    + served.server().port() + "\r\n\r\n";
            for (int i = 0; i < 12; i++) { // for four times the time a request may take
                write(socket, get);
                assertThat(firstLine(socket)).startsWith("HTTP/1.1 404");
                Thread.sleep(i % 3 == 2 ? 600 : 5);
                socket.getInputStream().skipNBytes(socket.getInputStream().available());
            }
        }
    }

    @Test
    void manyWhoSendTheirContentByteByByte_holdNobodyElseUp() throws Exception {
        try (Served served = served(SHORT)) {
            List<Socket> slow = new ArrayList<>();
            for (int i = 0; i < 2 * SHORT.threads(); i++) {
                Socket socket = open(served);
                write(socket, post(served, "Content-Length: 2000\n") + "title=");
                slow.add(socket);
            }
            List<Thread> senders = slow.stream()
                    .map(socket -> new Thread(() -> {
                        try {
                            drip(socket, 100);
                        } catch (InterruptedException stopped) {
                            Thread.currentThread().interrupt();
                        }
                    }))
                    .toList();
            senders.forEach(Thread::start);
            for (int i = 0; i < 5; i++) {
                long start = System.nanoTime();
                assertThat(served.get("/").statusCode()).isEqualTo(200);
                assertThat(Duration.ofNanos(System.nanoTime() - start)).isLessThan(Duration.ofSeconds(8));
            }
            for (Thread sender : senders) {
                sender.join(); // each was ended by the server
            }
            for (Socket socket : slow) {
                assertThat(firstLine(socket)).doesNotStartWith("HTTP/1.1 2").doesNotStartWith("HTTP/1.1 3");
                socket.close();
            }
        }
    }

    @Test
    void whatIsTooLong_isRefusedBeforeItIsRead() throws Exception {
        try (Served served = served(Limits.USUAL)) {
            try (Socket announced = open(served)) {
                write(announced, post(served, "Content-Length: 50000000\n") + "title=x");
                assertThat(firstLine(announced)).startsWith("HTTP/1.1 413");
            }
            try (Socket chunked = open(served)) {
                write(chunked, post(served, "Transfer-Encoding: chunked\n") + "2000\r\n" + "x".repeat(0x2000) + "\r\n");
                assertThat(firstLine(chunked)).startsWith("HTTP/1.1 411");
            }
        }
    }

    /** As where a phone loses the network while it sends. */
    @Test
    void aFormThatEndsBeforeItIsWhole_isTakenForNoFaultOfTheProgram() throws Exception {
        try (Served served = served(SHORT)) {
            for (boolean ended : new boolean[] {true, false}) {
                try (Socket socket = open(served)) {
                    write(socket, post(served, "Content-Length: 2000\n") + "title=");
                    if (ended) {
                        socket.shutdownOutput();
                    }
                    String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
                    assertThat(answer)
                            .startsWith("HTTP/1.1 400")
                            .contains("This was not sent to its end", "Nothing was saved")
                            .doesNotContain("What you wrote");
                }
            }
        }
    }

    @Test
    void moreConnectionsThanThereMayBe_waitUntilOthersEnd() throws Exception {
        try (Served served = served(SHORT)) {
            List<Socket> hoarded = new ArrayList<>();
            for (int i = 0; i < SHORT.connections() + 5; i++) {
                hoarded.add(open(served));
            }
            long start = System.nanoTime();
            assertThat(served.get("/").statusCode()).isEqualTo(200);
            assertThat(Duration.ofNanos(System.nanoTime() - start))
                    .as("until those before it had rested too long")
                    .isGreaterThan(SHORT.idle().dividedBy(2));
            for (Socket socket : hoarded) {
                socket.close();
            }
        }
    }
}
