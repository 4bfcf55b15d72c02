package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.fairturn.Fuzzing;
import org.fairturn.Mutator;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Requests no browser would send, and forms no page would. */
class RequestFuzzTest {
    private static final Limits QUICK = new Limits(64_000, Duration.ofMillis(700), Duration.ofSeconds(2), 100, 200, 32);
    private static final List<String> ADDRESSES = List.of(
            "/",
            "/new",
            "/enter",
            "/phones",
            "/trial/demo",
            "/trial/demo/facts",
            "/trial/demo/machines",
            "/trial/demo/machine",
            "/trial/demo/circles",
            "/trial/demo/circle/A1",
            "/trial/demo/circle/A1/readings",
            "/trial/demo/circle/A1/estimate",
            "/trial/demo/length?text=62+in",
            "/trial/demo/findings?margin=20+mm&out=A1",
            "/trial/demo/report.html",
            "/trial/demo/chart/left-right.svg?margin=1&version=x",
            "/trial/demo/file/trial.csv",
            "/trial/demo/file/charts/left-right.svg",
            "/trial/demo/problems",
            "/trial/demo/row/circles/2",
            "/assets/x/style.css");
    private static final List<String> WORDS = List.of(
            "GET",
            "POST",
            "HEAD",
            "HTTP/1.1",
            "HTTP/1.0",
            "HTTP/2.0",
            "Host:",
            "Content-Length:",
            "Transfer-Encoding: chunked",
            "Cookie:",
            "Origin:",
            "Sec-Fetch-Site: cross-site",
            "HX-Request: true",
            "Accept-Encoding: gzip",
            "Range: bytes=0-1",
            "Expect: 100-continue",
            "Upgrade: h2c",
            "%2e%2e",
            "%00",
            "%ff",
            "%",
            "..",
            "\\",
            ";",
            "?",
            "#",
            "//",
            "demo",
            "A1",
            "trial.csv",
            "1e9",
            "-1",
            "2147483648",
            "gzip",
            "multipart/form-data; boundary=x");

    @TempDir
    Path above;

    private Served served;

    @BeforeEach
    void demo() {
        Served.demoBelow(above);
        served = Served.on(new Settings(above, false, 0), InstantSource.system(), QUICK);
    }

    @AfterEach
    void stop() {
        assertThat(served.get("/").statusCode()).as("still there").isEqualTo(200);
        served.close();
    }

    private String request(String line, String more) {
        return line + " HTTP/1.1\r\nHost: 127.0.0.1:" + served.server().port() + "\r\nConnection: close\r\n" + more
                + "\r\n";
    }

    @Test
    void requests() {
        List<String> seeds = new ArrayList<>();
        ADDRESSES.forEach(address -> seeds.add(request("GET " + address, "")));
        seeds.add(request("POST /new", "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 7\r\n")
                + "title=A");
        Fuzzing.texts("requests", input -> RequestTargets.raw(served.server().port(), input), WORDS, seeds);
    }

    @Test
    void addresses() {
        Fuzzing.run("addresses", input -> RequestTargets.raw(served.server().port(), input), random -> {
            String address = ADDRESSES.get(random.nextInt(ADDRESSES.size()));
            String odd = random.nextInt(8) == 0 ? address : new Mutator(random, WORDS).changed(address, ADDRESSES);
            return request("GET " + sendable(odd), "").getBytes(StandardCharsets.UTF_8);
        });
    }

    /** What may stand in a request line, now and then wrongly escaped. */
    private static String sendable(String address) {
        return address.replaceAll("[\\p{Cc}\\s]", "+");
    }

    /** Each page's own form with odd texts in it, over and over, so that most of them were seen before somebody changed the row. */
    @Test
    void forms() {
        Served visitor = served.sameServer();
        var first = visitor.get("/new");
        String set = first.headers().firstValue("Set-Cookie").orElseThrow();
        String cookie = set.substring(0, set.indexOf(';'));
        Map<String, String> pages = new TreeMap<>();
        for (String page : List.of(
                "/new",
                "/trial/demo/facts",
                "/trial/demo/machine",
                "/trial/demo/circles",
                "/trial/demo/row/circles/2",
                "/trial/demo/row/machines/2",
                "/trial/demo/row/readings/3",
                "/trial/demo/row/claims/2")) {
            pages.put(page, Served.encoded(Fields.of(visitor.get(page).body())));
        }
        String reading =
                Served.encoded(Fields.of(visitor.get("/trial/demo/circle/A1").body()));
        pages.put(
                "/trial/demo/circle/A1/readings", reading + "&entry=e1&kind=across&value=62+in&measurer=Kit&bearing=3");
        pages.put("/trial/demo/circle/A1/undo", reading + "&entry=e1");
        pages.put("/trial/demo/drawing", pages.get("/trial/demo/machine"));
        List<String> bodies = List.copyOf(pages.values());
        int[] sent = {0};
        Fuzzing.run("forms", input -> RequestTargets.raw(served.server().port(), input), random -> {
            if (sent[0]++ % 500 == 499) {
                begunAnew();
            }
            String page = List.copyOf(pages.keySet()).get(random.nextInt(pages.size()));
            String body = odd(random, pages.get(page), bodies);
            byte[] bytes = (body + "&token=" + Fields.of(first.body()).get("token")).getBytes(StandardCharsets.UTF_8);
            String head = request(
                    "POST " + page,
                    "Content-Type: application/x-www-form-urlencoded\r\nOrigin: " + served.origin() + "\r\nCookie: "
                            + cookie + "\r\nContent-Length: " + bytes.length + "\r\n");
            return (head + new String(bytes, StandardCharsets.UTF_8)).getBytes(StandardCharsets.UTF_8);
        });
    }

    /** Or the trial would grow from form to form. */
    private void begunAnew() {
        try (var all = Files.walk(above)) {
            for (Path path : all.sorted(Comparator.reverseOrder())
                    .filter(p -> !p.equals(above))
                    .toList()) {
                Files.deleteIfExists(path);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        Served.demoBelow(above);
    }

    private static String odd(SplittableRandom random, String body, List<String> others) {
        List<String> words = List.of(
                "&",
                "=",
                "+",
                "%20",
                "%0A",
                "%",
                "%zz",
                "%c3%28",
                "%F0%9F%9A%9C",
                "%22",
                "%3Cscript%3E",
                "62+in",
                "mm");
        return random.nextInt(8) == 0 ? body : new Mutator(random, words).changed(body, others);
    }
}
