package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Tricks with addresses, hosts and forms, each at every place of the pages that takes something. */
class DoorTricksTest {
    private static final List<String> TRICKS = List.of(
            "..",
            ".",
            "%2e%2e",
            "%252e%252e",
            "..%2f..%2f..%2fetc%2fpasswd",
            "..%252f..%252fetc%252fpasswd",
            "..%5c..%5cnotes.txt",
            "..\\..\\notes.txt",
            "%2fetc%2fpasswd",
            "/etc/passwd",
            "%00",
            "trial.csv%00.svg",
            "notes.txt",
            ".fairturn.lock",
            "C:%5cnotes.txt",
            "file:%2f%2f%2fetc%2fpasswd",
            "CON",
            "nul.csv",
            "AUX",
            "~",
            "*",
            "trial.csv;x=y",
            "trial.csv%20",
            "TRIAL.CSV",
            "%c0%ae%c0%ae%c0%af",
            "..;",
            "..%00",
            "%u002e%u002e",
            "charts",
            "");
    private static final List<String> PLACES = List.of(
            "/trial/%s",
            "/trial/%s/facts",
            "/trial/%s/report.html",
            "/trial/%s/file/trial.csv",
            "/trial/demo/machine/%s",
            "/trial/demo/circle/%s",
            "/trial/demo/circle/%s/readings",
            "/trial/demo/circle/%s/estimate",
            "/trial/demo/chart/%s",
            "/trial/demo/file/%s",
            "/trial/demo/file/charts/%s",
            "/trial/demo/row/%s/2",
            "/trial/demo/row/circles/%s",
            "/assets/%s",
            "/assets/x/%s",
            "/assets/../%s",
            "/%s");

    @TempDir
    Path above;

    private Served served;

    @BeforeEach
    void demo() throws IOException {
        Files.writeString(Served.demoBelow(above).resolve("notes.txt"), "private");
        Files.writeString(above.resolve("notes.txt"), "private");
        served = Served.on(above);
    }

    @AfterEach
    void stop() {
        served.close();
    }

    private String raw(String line, String more) {
        return served.raw(
                line + " HTTP/1.1\nHost: 127.0.0.1:" + served.server().port() + "\nConnection: close\n" + more + "\n");
    }

    @Test
    void noTrickAnywhere_leadsToAFile_orListsAFolder() {
        for (String place : PLACES) {
            for (String trick : TRICKS) {
                String address = String.format(place, trick);
                String answer = raw("GET " + address, "");
                assertThat(answer)
                        .as(address)
                        .doesNotContain("private", "root:x:", "\tat ", "Exception", "notes.txt</a>");
                boolean ordinary =
                        List.of("", ".", "charts").contains(trick) || address.startsWith("/.") || address.equals("/");
                if (!ordinary) {
                    assertThat(answer.substring(0, answer.indexOf('\r')))
                            .as(address)
                            .matches("HTTP/1.1 (4\\d\\d|30\\d) .*");
                }
            }
        }
    }

    @Test
    void noFolder_isListed() {
        for (String folder : List.of(
                "/assets",
                "/assets/",
                "/trial",
                "/trial/",
                "/trial/demo/file",
                "/trial/demo/file/",
                "/trial/demo/file/charts",
                "/trial/demo/file/charts/",
                "/trial/demo/chart/",
                "/trial/demo/row/",
                "/reports/",
                "/testdata/")) {
            HttpResponse<String> answer = served.get(folder);
            assertThat(answer.statusCode()).as(folder).isEqualTo(404);
            assertThat(answer.body())
                    .as(folder)
                    .contains("There is no such page")
                    .doesNotContain("trial.csv", "style.css</");
        }
    }

    @Test
    void everyPost_needsOriginAndToken_andChangesNothingWithoutThem() throws IOException {
        Map<Path, String> before = contents();
        for (String page : List.of(
                "/new",
                "/trial/demo/facts",
                "/trial/demo/machine",
                "/trial/demo/machine/Alder-22",
                "/trial/demo/drawing",
                "/trial/demo/circles",
                "/trial/demo/circle/A1",
                "/trial/demo/circle/A1/readings",
                "/trial/demo/circle/A1/undo",
                "/trial/demo/row/circles/2",
                "/enter")) {
            String token = served.token("/new");
            Map<String, String> form =
                    Map.of("title", "A", "date", "2026-05-14", "length unit", "mm", "value", "62 in");
            for (HttpRequest.Builder forged : List.of(
                    served.form(page, form),
                    served.form(page, form).header("Origin", served.origin()),
                    served.form(page, form)
                            .header("Origin", "http://elsewhere.example")
                            .header(Guard.TOKEN_HEADER, token),
                    served.form(page, form)
                            .header("Origin", served.origin())
                            .header(Guard.TOKEN_HEADER, "x".repeat(43)),
                    served.form(page, form)
                            .header("Origin", served.origin())
                            .header("Sec-Fetch-Site", "cross-site")
                            .header(Guard.TOKEN_HEADER, token))) {
                assertThat(served.send(forged).statusCode()).as(page).isEqualTo(403);
            }
        }
        assertThat(contents()).isEqualTo(before);
    }

    private Map<Path, String> contents() throws IOException {
        try (var files = Files.walk(above)) {
            return files.filter(Files::isRegularFile).collect(Collectors.toMap(file -> file, file -> {
                try {
                    return Files.readString(file);
                } catch (IOException e) {
                    throw new java.io.UncheckedIOException(e);
                }
            }));
        }
    }

    @Test
    void aHostThatIsNoAddress_isNeverLookedUp() {
        int port = served.server().port();
        for (String host : List.of(
                "999.1.1.1",
                "127.0.0.256",
                "1.2.3.4444444444",
                "127.1",
                "0x7f.0.0.1",
                "2130706433",
                "127.0.0.1.",
                "[::1",
                "[::g]",
                "[%eth0]",
                "localhost.",
                "a@127.0.0.1",
                "127.0.0.1:" + port + "@x")) {
            long began = System.nanoTime();
            String answer = served.raw("GET / HTTP/1.1\nHost: " + host + ":" + port + "\nConnection: close\n\n");
            assertThat(answer.substring(0, answer.indexOf('\r'))).as(host).matches("HTTP/1.1 (400|403) .*");
            assertThat(System.nanoTime() - began)
                    .as("nobody was asked for " + host)
                    .isLessThan(3_000_000_000L);
        }
    }

    @Test
    void theClockOfTheServer_goesOnEvenly() throws InterruptedException {
        var clock = FairturnServer.steady();
        Instant first = clock.instant();
        Thread.sleep(20);
        assertThat(clock.instant()).isBetween(first.plusMillis(15), first.plusSeconds(20));
    }

    @Test
    void aFileInOtherLetterCase_andATrialThatGoesWhileItIsOpen() throws IOException {
        Path folder = above.resolve("demo");
        Files.move(folder.resolve("claims.csv"), folder.resolve("Claims.CSV"));
        assertThat(served.get("/trial/demo/file/claims.csv").body()).startsWith("claim,who,");
        String token = served.token("/trial/demo/facts");
        Files.move(folder, above.resolve("elsewhere"));
        for (String page : List.of(
                "/trial/demo",
                "/trial/demo/circle/A1",
                "/trial/demo/findings",
                "/trial/demo/file/trial.csv",
                "/trial/demo/file/trial.zip")) {
            assertThat(served.get(page).statusCode()).as(page).isEqualTo(404);
        }
        HttpResponse<String> saved =
                served.send(served.form("/trial/demo/circle/A1/readings", Map.of("token", token, "value", "62 in"))
                        .header("Origin", served.origin()));
        assertThat(saved.statusCode()).isEqualTo(404);
        assertThat(saved.body()).contains("There is no such trial", "62 in");
        assertThat(folder).doesNotExist();
        assertThat(served.get("/trial/elsewhere").statusCode()).isEqualTo(200);
    }
}
