package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Map;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class GuardTest {
    @TempDir
    Path above;

    /** A clock that only moves when told to. */
    private static final class Clock implements InstantSource {
        private volatile Instant now = Instant.parse("2026-05-14T08:00:00Z");

        @Override
        public Instant instant() {
            return now;
        }

        void pass(Duration time) {
            now = now.plus(time);
        }
    }

    private static String status(String answer) {
        return answer.substring(0, answer.indexOf('\r'));
    }

    private static String get(String host, String more) {
        return "GET / HTTP/1.1\nHost: " + host + "\nConnection: close\n" + more + "\n";
    }

    @Test
    void onlyOwnNamesAreAnswered() {
        try (Served served = Served.on(above)) {
            int port = served.server().port();
            for (String own : new String[] {"127.0.0.1:" + port, "localhost:" + port, "LOCALHOST:" + port}) {
                assertThat(status(served.raw(get(own, "")))).as(own).isEqualTo("HTTP/1.1 200 OK");
            }
            for (String foreign : new String[] {
                "rebound.example:" + port,
                "127.0.0.1",
                "127.0.0.1:1",
                "192.168.7.7:" + port,
                "localhost.example:" + port
            }) {
                assertThat(status(served.raw(get(foreign, "")))).as(foreign).isEqualTo("HTTP/1.1 403 Forbidden");
            }
            assertThat(status(served.raw("GET http://rebound.example/ HTTP/1.1\nHost: 127.0.0.1:" + port
                            + "\nConnection: close\n\n")))
                    .isNotEqualTo("HTTP/1.1 200 OK");
            assertThat(status(served.raw("GET / HTTP/1.0\n\n"))).isNotEqualTo("HTTP/1.1 200 OK");
            assertThat(status(served.raw(get("127.0.0.1:" + port, "Host: rebound.example\n"))))
                    .isEqualTo("HTTP/1.1 400 Bad Request");
            assertThat(status(served.raw(
                            "GET /assets/x/style.css HTTP/1.1\nHost: rebound.example\nConnection: close\n\n")))
                    .isEqualTo("HTTP/1.1 403 Forbidden");
        }
    }

    @Test
    void aFormIsTakenOnlyFromOwnPages_withTheVisitorsOwnToken() throws IOException {
        try (Served served = Served.on(above)) {
            Map<String, String> fields = Map.of("title", "A", "date", "2026-05-14", "length unit", "mm");
            String token = served.token("/new");
            Map<String, String> right = new java.util.HashMap<>(fields);
            right.put("token", token);
            Map<String, String> wrong = new java.util.HashMap<>(fields);
            wrong.put("token", token.substring(1) + "A");
            String own = served.origin();
            assertThat(served.send(served.form("/new", right)).statusCode()).isEqualTo(403);
            for (String foreign :
                    new String[] {"null", "http://rebound.example", "https" + own.substring(4), own + "0"}) {
                assertThat(served.send(served.form("/new", right).header("Origin", foreign))
                                .statusCode())
                        .as(foreign)
                        .isEqualTo(403);
            }
            for (String site : new String[] {"cross-site", "same-site", "none"}) {
                HttpRequest.Builder sent =
                        served.form("/new", right).header("Origin", own).header("Sec-Fetch-Site", site);
                assertThat(served.send(sent).statusCode()).as(site).isEqualTo(403);
            }
            assertThat(served.send(served.form("/new", fields).header("Origin", own))
                            .statusCode())
                    .isEqualTo(403);
            assertThat(served.send(served.form("/new", wrong).header("Origin", own))
                            .statusCode())
                    .isEqualTo(403);
            try (Served other = Served.on(above)) { // a token of another visitor
                Map<String, String> others = new java.util.HashMap<>(fields);
                others.put("token", other.token("/new"));
                assertThat(served.send(served.form("/new", others).header("Origin", own))
                                .statusCode())
                        .isEqualTo(403);
            }
            HttpRequest.Builder json = served.request("/new")
                    .header("Origin", own)
                    .header("Content-Type", "text/plain")
                    .header(Guard.TOKEN_HEADER, token)
                    .POST(HttpRequest.BodyPublishers.ofString("title=A"));
            assertThat(served.send(json).statusCode()).isEqualTo(415);
            try (var made = Files.list(above)) {
                assertThat(made).isEmpty();
            }
            HttpRequest.Builder header = served.form("/new", fields)
                    .header("Origin", own)
                    .header("Sec-Fetch-Site", "same-origin")
                    .header(Guard.TOKEN_HEADER, token);
            assertThat(served.send(header).statusCode()).isEqualTo(303);
            assertThat(above.resolve("a")).isDirectory();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"})
    void otherMethodsAreRefused(String method) {
        try (Served served = Served.on(above)) {
            String answer = served.raw(method + " / HTTP/1.1\nHost: 127.0.0.1:"
                    + served.server().port() + "\nConnection: close\nContent-Length: 0\n\n");
            assertThat(status(answer)).startsWith("HTTP/1.1 4");
            assertThat(answer).doesNotContain("\tat ", "Jetty", "Javalin");
        }
    }

    @Test
    void everyPageCarriesThePolicy_andTheCookieStaysWithTheBrowser() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/");
            assertThat(page.headers().firstValue("Content-Security-Policy")).hasValue(Guard.POLICY);
            assertThat(page.headers().firstValue("X-Content-Type-Options")).hasValue("nosniff");
            assertThat(page.headers().firstValue("Referrer-Policy")).hasValue("same-origin");
            assertThat(page.headers().firstValue("Cache-Control")).hasValue("no-store");
            assertThat(page.headers().firstValue("Server")).isEmpty();
            assertThat(page.headers().firstValue("Set-Cookie").orElseThrow())
                    .contains("HttpOnly", "SameSite=Strict", "Path=/");
            assertThat(page.body()).doesNotContain("<style", " style=", "<script>", "onclick");
            HttpResponse<String> missing = served.get("/nowhere");
            assertThat(missing.statusCode()).isEqualTo(404);
            assertThat(missing.headers().firstValue("Content-Security-Policy")).hasValue(Guard.POLICY);
            assertThat(missing.body()).contains("There is no such page", "Start again from the list of trials.");
        }
    }

    @Test
    void assetsAreKeptByBrowsers_underANameThatHoldsTheirHash() {
        try (Served served = Served.on(above)) {
            String page = served.get("/").body();
            for (String file : new String[] {"style.css", "app.js", "htmx.js"}) {
                var path = java.util.regex.Pattern.compile("\"(/assets/[0-9a-f]{16}/" + file + ")\"")
                        .matcher(page);
                assertThat(path.find()).as(file).isTrue();
                HttpResponse<String> asset =
                        served.send(served.request(path.group(1)).header("Accept-Encoding", "gzip"));
                assertThat(asset.statusCode()).isEqualTo(200);
                assertThat(asset.headers().firstValue("Cache-Control")).hasValue("public, max-age=31536000, immutable");
                if (!file.equals("app.js")) { // a few lines are not worth packing
                    assertThat(asset.headers().firstValue("Content-Encoding")).hasValue("gzip");
                }
            }
            assertThat(served.get("/assets/").statusCode()).isEqualTo(404);
            assertThat(served.get("/assets/x/style.css").statusCode()).isEqualTo(404);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/trial/..",
                "/trial/%2e%2e",
                "/trial/demo/file/..%2f..%2fetc%2fpasswd",
                "/trial/demo/file/notes.txt",
                "/trial/demo/file/TRIAL.CSV",
                "/assets/../org/fairturn/web/style.css",
                "/trial/demo/../../etc/passwd",
                "/trial/demo/file/%00",
                "/trial/demo//file",
                "/trial/demo/circle/..",
                "//etc/passwd"
            })
    void noAddressBecomesAPath(String path) throws IOException {
        Files.writeString(Served.demoBelow(above).resolve("notes.txt"), "private");
        Files.writeString(above.resolve("outside.csv"), "private");
        try (Served served = Served.on(above)) {
            String answer = served.raw("GET " + path + " HTTP/1.1\nHost: 127.0.0.1:"
                    + served.server().port() + "\nConnection: close\n\n");
            assertThat(status(answer)).startsWith("HTTP/1.1 4");
            assertThat(answer).doesNotContain("private", "root:", "\tat ");
        }
    }

    @Test
    void whatWasTypedIntoAFormThatIsTurnedAway_standsOnThePage_unlessItCameFromElsewhere() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed = Map.of(
                    "machine.label",
                    "a <b> label",
                    "blade1.key",
                    "key-of-the-blade",
                    "was:machine.label",
                    "before",
                    "token",
                    "of-yesterday");
            HttpResponse<String> old =
                    served.send(served.form("/trial/demo/machine", typed).header("Origin", served.origin()));
            assertThat(old.statusCode()).isEqualTo(403);
            assertThat(old.body())
                    .contains("What you wrote", "<li>machine label: <strong>a &lt;b&gt; label</strong></li>")
                    .doesNotContain("key-of-the-blade", "before", "of-yesterday");
            HttpResponse<String> foreign =
                    served.send(served.form("/trial/demo/machine", typed).header("Origin", "http://elsewhere.example"));
            assertThat(foreign.statusCode()).isEqualTo(403);
            assertThat(foreign.body()).doesNotContain("What you wrote", "&lt;b&gt;");
            HttpResponse<String> gone =
                    served.post("/trial/demo/circle/Z9", Map.of("circle.remark", "came off full lock"));
            assertThat(gone.statusCode()).isEqualTo(404);
            assertThat(gone.body()).contains("<li>circle remark: <strong>came off full lock</strong></li>");
        }
    }

    @Test
    void aFieldEscapedWrongly_isNoFaultOfTheProgram() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            for (String wrong : new String[] {"title=%zz", "title=%", "%=A", "title=%u0041", "title=%c3%28"}) {
                HttpResponse<String> refused = served.send(served.request("/trial/demo/circle/Z9")
                        .header("Origin", served.origin())
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .header(Guard.TOKEN_HEADER, served.token("/new"))
                        .POST(HttpRequest.BodyPublishers.ofString(wrong)));
                assertThat(refused.statusCode()).as(wrong).isEqualTo(404);
                assertThat(refused.body()).contains("There is no such circle in this trial");
            }
        }
    }

    @Test
    void whatIsTooLargeIsRefused_withoutATrace() {
        try (Served served = Served.on(above)) {
            int port = served.server().port();
            Map<String, String> long64 = Map.of("title", "x".repeat(70_000), "token", served.token("/new"));
            HttpResponse<String> refused =
                    served.send(served.form("/new", long64).header("Origin", served.origin()));
            assertThat(refused.statusCode()).isEqualTo(413);
            assertThat(refused.body()).contains("This form is too long");
            String header = served.raw(get("127.0.0.1:" + port, "X-Long: " + "y".repeat(20_000) + "\n"));
            assertThat(status(header)).startsWith("HTTP/1.1 431");
            String garbage = served.raw("NONSENSE\n\n");
            assertThat(status(garbage)).startsWith("HTTP/1.1 400");
            assertThat(header + garbage).doesNotContain("\tat ", "Exception", "Jetty", "yyyyyyyy");
        }
    }

    /** Who is answered while still sending may never read the answer: the rest of what is sent meets a closed connection. */
    @Test
    void aFormThatIsTooLong_isTakenToItsEndBeforeItIsRefused() throws Exception {
        try (Served served = Served.on(above);
                Socket socket = new Socket(
                        InetAddress.getLoopbackAddress(), served.server().port())) {
            socket.setSoTimeout(20_000);
            OutputStream out = socket.getOutputStream();
            String head = String.join(
                    "\r\n",
                    "POST /new HTTP/1.1",
                    "Host: 127.0.0.1:" + served.server().port(),
                    "Origin: " + served.origin(),
                    "Content-Type: application/x-www-form-urlencoded",
                    "Content-Length: 300000",
                    "Connection: close",
                    "",
                    "");
            out.write(head.getBytes(StandardCharsets.US_ASCII));
            for (int third = 0; third < 3; third++) {
                out.write("x".repeat(100_000).getBytes(StandardCharsets.US_ASCII));
                out.flush();
                Thread.sleep(200);
            }
            String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
            assertThat(status(answer)).startsWith("HTTP/1.1 413");
            assertThat(answer).contains("This form is too long");
        }
    }

    @Test
    void withoutLan_nobodyElseCanConnect() {
        try (Served served = Served.on(above)) {
            for (String address : Addresses.inNetwork()) {
                try (var socket = new Socket()) {
                    socket.connect(
                            new java.net.InetSocketAddress(
                                    address, served.server().port()),
                            2_000);
                    throw new AssertionError("reached at " + address);
                } catch (IOException refused) {
                    assertThat(refused).isNotNull();
                }
            }
            assertThat(served.get("/phones").statusCode()).isEqualTo(404);
        }
    }

    /** This machine under its address in the network: for the server, somebody else. */
    private static final class Phone {
        private final HttpClient client = HttpClient.newBuilder()
                .cookieHandler(new java.net.CookieManager())
                .build();
        private final String origin;

        Phone(Served served) {
            var addresses = Addresses.inNetwork();
            Assumptions.assumeFalse(addresses.isEmpty(), "this machine is in no network");
            origin = "http://" + addresses.get(0) + ":" + served.server().port();
        }

        HttpResponse<String> get(String path) throws Exception {
            return client.send(
                    HttpRequest.newBuilder(URI.create(origin + path)).build(), HttpResponse.BodyHandlers.ofString());
        }

        HttpResponse<String> enter(String code) throws Exception {
            String token = Fields.of(get("/enter").body()).get("token");
            return client.send(
                    HttpRequest.newBuilder(URI.create(origin + "/enter"))
                            .header("Content-Type", "application/x-www-form-urlencoded")
                            .header("Origin", origin)
                            .POST(HttpRequest.BodyPublishers.ofString(
                                    Served.encoded(Map.of("code", code, "token", token == null ? "" : token))))
                            .build(),
                    HttpResponse.BodyHandlers.ofString());
        }
    }

    @Test
    void inTheNetwork_theCodeOpensTheDoor_untilItIsIdleForHalfADay() throws Exception {
        Clock clock = new Clock();
        try (Served served = Served.on(new Settings(above, true, 0), clock)) {
            String code = served.server().accessCode();
            assertThat(code).matches("[34679ACDEFGHJKMNPQRTWXY]{6}");
            assertThat(served.get("/").statusCode())
                    .as("this machine needs no code")
                    .isEqualTo(200);
            assertThat(served.get("/phones").body()).contains(code, "role=\"img\"");
            Phone phone = new Phone(served);
            HttpResponse<String> turnedAway = phone.get("/");
            assertThat(turnedAway.statusCode()).isEqualTo(302);
            assertThat(turnedAway.headers().firstValue("Location").orElseThrow())
                    .endsWith("/enter");
            assertThat(phone.get("/phones").body()).doesNotContain(code);
            assertThat(phone.enter("AAAAAA").statusCode()).isEqualTo(422);
            assertThat(phone.get("/").statusCode()).isEqualTo(302);
            HttpResponse<String> entered = phone.enter(
                    " " + code.toLowerCase(java.util.Locale.ROOT).substring(0, 3) + " " + code.substring(3));
            assertThat(entered.statusCode()).isEqualTo(303);
            assertThat(phone.get("/").statusCode()).isEqualTo(200);
            assertThat(phone.get("/phones").statusCode())
                    .as("the code is shown on the machine itself only")
                    .isEqualTo(403);
            clock.pass(Duration.ofHours(11));
            assertThat(phone.get("/").statusCode()).isEqualTo(200);
            clock.pass(Duration.ofHours(13));
            assertThat(phone.get("/").statusCode()).isEqualTo(302);
        }
    }

    @Test
    void aCookieOfAnotherStart_opensNothing() throws Exception {
        try (Served served = Served.on(new Settings(above, true, 0), InstantSource.system())) {
            Phone phone = new Phone(served);
            HttpRequest planted = HttpRequest.newBuilder(URI.create(phone.origin + "/"))
                    .header("Cookie", "fairturn-" + served.server().port() + "=" + new Secrets().name())
                    .build();
            assertThat(HttpClient.newHttpClient()
                            .send(planted, HttpResponse.BodyHandlers.ofString())
                            .statusCode())
                    .isEqualTo(302);
        }
    }

    @Test
    void wrongCodesAreRateLimited_byAddress() throws Exception {
        Clock clock = new Clock();
        try (Served served = Served.on(new Settings(above, true, 0), clock)) {
            Phone phone = new Phone(served);
            for (int i = 0; i < Attempts.PER_ADDRESS; i++) {
                assertThat(phone.enter("AAAAAA").statusCode()).isEqualTo(422);
            }
            HttpResponse<String> limited = phone.enter(served.server().accessCode());
            assertThat(limited.statusCode()).isEqualTo(429);
            assertThat(limited.headers().firstValue("Retry-After")).hasValue("61");
            clock.pass(Duration.ofSeconds(61));
            assertThat(phone.enter(served.server().accessCode()).statusCode()).isEqualTo(303);
        }
    }

    @Test
    void wrongCodesAreRateLimited_inAll() {
        Clock clock = new Clock();
        Attempts attempts = new Attempts(clock);
        for (int i = 0; i < Attempts.IN_ALL; i++) {
            assertThat(attempts.begin("10.0.0." + i)).isZero();
        }
        assertThat(attempts.begin("10.0.1.1")).isEqualTo(61);
        clock.pass(Duration.ofSeconds(61));
        assertThat(attempts.begin("10.0.1.1")).isZero();
    }
}
