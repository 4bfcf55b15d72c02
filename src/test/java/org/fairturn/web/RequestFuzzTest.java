package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.fairturn.Fuzzing;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Requests no browser would send, and forms no page would. */
class RequestFuzzTest {
    private static final Limits QUICK = new Limits(64_000, Duration.ofSeconds(5), Duration.ofSeconds(10), 100, 200, 32);
    private static final List<String> ADDRESSES = List.of(
            "/",
            "/new",
            "/enter",
            "/phones",
            "/plan",
            "/plan?machines=Alder+22,Basalt+25&ask=claims&ask=sides&drives=both&margin=2+in",
            "/plan/sheet.pdf?machines=Alder+22",
            "/convert?quantity=turn+radius&value=1.6+m&machine=Alder+22",
            "/trial/demo",
            "/trial/demo/facts",
            "/trial/demo/machines",
            "/trial/demo/machine",
            "/trial/demo/machine/Alder-22-x",
            "/trial/demo/circles",
            "/trial/demo/circle/A1",
            "/trial/demo/circle/A1/readings?version=x",
            "/trial/demo/circle/A1/estimate",
            "/trial/demo/length?text=62+in",
            "/trial/demo/problems",
            "/trial/demo/claims",
            "/trial/demo/row/circles/2",
            "/trial/demo/file/trial.csv",
            "/trial/small/plan",
            "/trial/small/sheet.pdf?readings=2&paper=letter",
            "/trial/small/card",
            "/trial/small/findings?margin=20+mm&out=K1",
            "/trial/small/report.html?margin=20+mm",
            "/trial/small/chart/left-right.svg?margin=1&version=x",
            "/trial/small/file/results.json",
            "/trial/small/file/small.zip",
            "/trial/small/file/charts/left-right.svg",
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

    private Path trials;
    private Served served;
    private RequestTargets target;

    @BeforeEach
    void demo() throws IOException {
        trials = Files.createDirectory(above.resolve("trials"));
        Served.demoBelow(trials);
        Served.copy(Path.of("testdata/tape-only"), trials.resolve("small"));
        for (String trial : List.of("demo", "small")) {
            Files.delete(trials.resolve(trial).resolve("README.md"));
        }
        served = Served.on(new Settings(trials, false, 0), InstantSource.system(), QUICK);
        target = RequestTargets.of(served, trials);
    }

    @AfterEach
    void stop() {
        assertThat(served.get("/").statusCode()).as("still there").isEqualTo(200);
        served.close();
    }

    private static String request(String line) {
        return line + " HTTP/1.1\r\nHost: 127.0.0.1:" + RequestTargets.PORT + "\r\n\r\n";
    }

    @Test
    void requests() {
        List<String> seeds = new ArrayList<>();
        ADDRESSES.forEach(address -> seeds.add(request("GET " + address)));
        Fuzzing.texts("requests", target::connection, WORDS, seeds);
    }

    /** Requests of all pages and forms, one behind the other, with the tricks that protocol and forms allow. */
    @Test
    void connections() {
        List<RequestMaker.Form> forms = forms();
        Fuzzing.run(
                "connections", target::connection, random -> new RequestMaker(random, ADDRESSES, forms).connection());
    }

    /**
     * Two visitors at the same time: each is answered what it asked for, and sees nothing of the other. Pages that take long are
     * left out, and forms that are saved: what goes wrong here does so once in many thousand connections.
     */
    @Test
    void visitors() throws IOException {
        List<String> quick = ADDRESSES.stream()
                .filter(address ->
                        !address.matches("/plan.+|.*/(plan|sheet|findings|report|chart|card|estimate|file/results).*"))
                .toList();
        List<RequestMaker.Form> refused = List.of(
                new RequestMaker.Form("/new", Map.of("title", "", "date", "2026-05-14")),
                new RequestMaker.Form("/enter", Map.of("code", "AAAAAA")));
        TwoVisitors two = new TwoVisitors(target, RequestTargets.of(served, trials));
        Fuzzing.run("visitors", two::connections, random -> new RequestMaker(random, quick, refused).twoVisitors());
    }

    /** Each page's own form with odd texts in it: what is acknowledged is stored. */
    @Test
    void formsAlone() {
        List<RequestMaker.Form> forms = forms();
        Fuzzing.run("forms", target::connection, random -> new RequestMaker(random, ADDRESSES, forms).formAlone());
    }

    private List<RequestMaker.Form> forms() {
        List<RequestMaker.Form> forms = new ArrayList<>();
        String machine = "/trial/demo/machine/" + Slug.of("Alder 22");
        for (String page : List.of(
                "/new",
                "/trial/demo/facts",
                "/trial/demo/machine",
                machine,
                "/trial/demo/circles",
                "/trial/demo/row/trial/4",
                "/trial/demo/row/circles/2",
                "/trial/demo/row/machines/2",
                "/trial/demo/row/blades/2",
                "/trial/demo/row/stops/2",
                "/trial/demo/row/readings/3",
                "/trial/demo/row/points/2",
                "/trial/demo/row/claims/2")) {
            forms.add(form(page, page, Map.of()));
        }
        String circle = "/trial/demo/circle/A1";
        forms.add(form(circle, circle, Map.of()));
        forms.add(form(
                circle,
                circle + "/readings",
                Map.of(
                        "entry",
                        "entered-on-a-phone",
                        "kind",
                        "across",
                        "value",
                        "62 in",
                        "measurer",
                        "Kit",
                        "bearing",
                        "3")));
        forms.add(form(circle, circle + "/undo", Map.of()));
        for (String file : List.of("claims", "references")) {
            forms.add(form("/trial/demo/claims", "/trial/demo/claims", Map.of("file", file, file + ".value", "62 in")));
        }
        forms.add(form(machine, "/trial/demo/drawing", Map.of()));
        forms.add(form("/trial/small/plan", "/trial/small/plan", Map.of()));
        forms.add(new RequestMaker.Form("/plan", Map.of("machines", "Alder 22", "title", "A", "date", "2026-05-14")));
        return List.copyOf(forms);
    }

    private RequestMaker.Form form(String page, String address, Map<String, String> more) {
        Map<String, String> fields = new TreeMap<>(Fields.of(served.get(page).body()));
        fields.remove("token");
        fields.putAll(more);
        return new RequestMaker.Form(address, fields);
    }

    /** From an address in the network, without the code. */
    @Test
    void strangers() throws IOException {
        Assumptions.assumeFalse(Addresses.inNetwork().isEmpty(), "this machine is in no network");
        String here = Addresses.inNetwork().get(0);
        List<RequestMaker.Form> forms = new ArrayList<>(forms());
        forms.add(new RequestMaker.Form("/enter", Map.of("code", "AAAAAA")));
        try (Served door = Served.on(new Settings(trials, true, 0), InstantSource.system(), QUICK)) {
            RequestTargets stranger = RequestTargets.stranger(door, trials, InetAddress.getByName(here));
            Fuzzing.run("strangers", stranger::strangers, random -> {
                byte[] local = new RequestMaker(random, ADDRESSES, forms).connection();
                return new String(local, StandardCharsets.ISO_8859_1)
                        .replace("127.0.0.1:", here + ":")
                        .getBytes(StandardCharsets.ISO_8859_1);
            });
        }
    }
}
