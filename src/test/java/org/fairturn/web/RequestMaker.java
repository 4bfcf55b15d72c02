package org.fairturn.web;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.zip.GZIPOutputStream;
import org.fairturn.Mutator;

/**
 * Makes what browsers, scripts and attackers send over a connection: requests that are sound but for a trick or two, so that
 * most of them get past the reading of the protocol. A character stands for each byte.
 */
final class RequestMaker {
    private static final List<String> METHODS = List.of(
            "GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH", "CONNECT", "get", "PRI", "", "G\0T",
            "POST ");
    private static final List<String> VERSIONS = List.of(
            "HTTP/1.1",
            "HTTP/1.0",
            "HTTP/1.0\r\nConnection: keep-alive",
            "HTTP/0.9",
            "HTTP/2.0",
            "HTTP/1.2",
            "http/1.1",
            "",
            "HTTP/1.1 ");
    private static final List<String> LENGTHS = List.of(
            "-1",
            "0",
            "1",
            "+7",
            "7, 7",
            "7, 8",
            "0x10",
            "1e2",
            "64000",
            "64001",
            "2147483648",
            "9223372036854775808",
            "",
            " ");
    private static final List<String> TYPES = List.of(
            "application/x-www-form-urlencoded; charset=UTF-16",
            "application/x-www-form-urlencoded; charset=zq",
            "application/x-www-form-urlencoded; charset=UTF-7",
            "APPLICATION/X-WWW-FORM-URLENCODED;CHARSET=\"utf-8\"",
            "application/x-www-form-urlencoded, text/plain",
            "multipart/form-data; boundary=zq",
            "multipart/form-data",
            "text/plain",
            "application/json",
            "*/*",
            "");
    private static final List<String> HEADERS = List.of(
            "Host: zq.example",
            "Host:",
            "Host: 127.0.0.1:{port}",
            "Host: 127.0.0.1:{port}@zq.example",
            "Host: [::1]:{port}",
            "Host: 2130706433:{port}",
            "Host: localhost.:{port}",
            "Origin: http://zq.example",
            "Origin: null",
            "Origin: http://127.0.0.1:{port}, http://zq.example",
            "Referer: http://zq.example/\"><zq1>",
            "Sec-Fetch-Site: cross-site",
            "Sec-Fetch-Site: same-origin",
            "HX-Request: true",
            "HX-Target: \"><zq2>",
            "X-Fairturn-Token: zq",
            "X-Fairturn-Token: the-token-of-a-visitor---------------------",
            "X-HTTP-Method-Override: PUT",
            "X-Forwarded-For: 127.0.0.1",
            "X-Forwarded-Host: zq.example",
            "Forwarded: for=127.0.0.1;host=zq.example;proto=https",
            "X-Original-URL: /trial/demo/facts",
            "Expect: 100-continue",
            "Expect: zq",
            "Upgrade: h2c",
            "Upgrade: websocket",
            "Connection: Upgrade, HTTP2-Settings",
            "HTTP2-Settings: AAMAAABkAAQAAP__",
            "Connection: close",
            "Connection: Host",
            "Accept-Encoding: gzip",
            "Accept-Encoding: gzip;q=zq, identity;q=0, *;q=0",
            "Accept: text/zq",
            "Range: bytes=0-1,-1,5-2",
            "If-Modified-Since: zq",
            "If-None-Match: \"zq\", W/\"x\"",
            "TE: trailers",
            "Content-Encoding: gzip",
            "Transfer-Encoding: identity",
            "Transfer-Encoding: gzip, chunked",
            "Transfer-Encoding : chunked",
            "Transfer-Encoding: chunked",
            "Cookie: fairturn-{port}=zqzqzqzqzqzqzqzqzqzqzq",
            "Cookie: fairturn-{port}=\"; zq=\"\\\"; $Version=1",
            "Cookie: =; ;;=zq; fairturn-{port}",
            "no colon in it",
            " folded: zq",
            ": zq",
            "X\u00e9: \u00ff\u0001",
            "X-Long: " + "y".repeat(7_000),
            "X-Long: " + "y".repeat(9_000));
    private static final List<String> WORDS = List.of(
            "<zq3>",
            "\"onzq4=\"x",
            "'zq5='",
            "</title><zq6>",
            "--><zq7>",
            "%3Czq8%3E",
            "%22%20zq9=%22",
            "zq%0d%0azq-split:%201",
            "62 in",
            "1.58 m",
            "5' 2 3/8\"",
            "300 m",
            "0",
            "-1",
            "2WD",
            "left",
            "across",
            "three stakes",
            "Alder 22",
            "Nobody 1",
            "A1",
            "demo",
            "2026-05-14",
            "no",
            "%2e%2e%2f",
            "%00",
            "%ff%fe",
            "%u0041",
            "%",
            "..",
            ";zq",
            "?",
            "#",
            "//",
            "\\");

    private final SplittableRandom random;
    private final List<String> addresses;
    private final List<Form> forms;
    private final Mutator mutator;

    /** A page's form, filled in. */
    record Form(String address, Map<String, String> fields) {}

    RequestMaker(SplittableRandom random, List<String> addresses, List<Form> forms) {
        this.random = random;
        this.addresses = addresses;
        this.forms = forms;
        this.mutator = new Mutator(random, WORDS);
    }

    /** One to four requests, one behind the other. */
    byte[] connection() {
        StringBuilder all = new StringBuilder();
        int requests = oneIn(2) ? 1 : 1 + random.nextInt(4);
        for (int i = 0; i < requests; i++) {
            all.append(oneIn(3) ? form() : page());
        }
        byte[] bytes = bytes(all.toString());
        return oneIn(12) ? mutator.changed(bytes) : bytes;
    }

    /** One form, and nothing odd about it but what was typed into it. */
    byte[] formAlone() {
        Form form = any(forms);
        return bytes(request(
                "POST " + form.address() + " HTTP/1.1", posted(), "application/x-www-form-urlencoded", fields(form)));
    }

    /** Two connections that are there at the same time, see {@link TwoVisitors}. */
    byte[] twoVisitors() {
        return bytes(visitor() + TwoVisitors.BETWEEN + visitor());
    }

    private String visitor() {
        String mark = "1." + random.nextInt(10_000_000, 100_000_000);
        StringBuilder all = new StringBuilder();
        for (int i = random.nextInt(4); i > 0; i--) {
            all.append(TwoVisitors.ask(mark, i, heads()));
        }
        if (all.isEmpty() || !oneIn(3)) {
            all.append(new String(connection(), StandardCharsets.ISO_8859_1).replace("y".repeat(mark.length()), mark));
        }
        return all.toString();
    }

    private String page() {
        String address = any(addresses);
        if (oneIn(2)) {
            address = sendable(mutator.changed(address, addresses));
        }
        String method = oneIn(12) ? any(METHODS) : oneIn(12) ? "HEAD" : "GET";
        return tricked(method, address, heads(), "", "");
    }

    private String form() {
        Form form = any(forms);
        String address = oneIn(12) ? sendable(mutator.changed(form.address(), addresses)) : form.address();
        String body = fields(form);
        String type = oneIn(12) ? any(TYPES) : "application/x-www-form-urlencoded";
        if (type.startsWith("multipart")) {
            body = "--zq\r\nContent-Disposition: form-data; name=\"token\"\r\n\r\n" + RequestTargets.TOKEN + "\r\n--zq"
                    + (oneIn(2) ? "--\r\n" : "");
        }
        return tricked(oneIn(20) ? any(METHODS) : "POST", address, posted(), type, body);
    }

    private List<String> heads() {
        return new ArrayList<>(List.of(
                "Host: 127.0.0.1:" + RequestTargets.PORT,
                "Cookie: fairturn-" + RequestTargets.PORT + "=" + RequestTargets.NAME));
    }

    private List<String> posted() {
        List<String> heads = heads();
        heads.add("Origin: http://127.0.0.1:" + RequestTargets.PORT);
        return heads;
    }

    private String tricked(String method, String address, List<String> heads, String type, String body) {
        String where = oneIn(30)
                ? "http://" + (oneIn(2) ? "zq.example" : "127.0.0.1:{port}") + address
                : oneIn(60) ? "*" : address;
        String line = method + " " + where + " " + (oneIn(15) ? any(VERSIONS) : "HTTP/1.1");
        while (oneIn(3)) {
            String head = oneIn(3) ? latin(mutator.changed(any(HEADERS), HEADERS)) : any(HEADERS);
            heads.add(random.nextInt(heads.size() + 1), head);
        }
        if (oneIn(15)) {
            heads.remove(random.nextInt(heads.size()));
        }
        return request(line, heads, type, body);
    }

    private String request(String line, List<String> heads, String type, String body) {
        List<String> all = new ArrayList<>(heads);
        String content = oneIn(30) && !body.isEmpty() ? zipped(body) : body;
        if (!type.isEmpty()) {
            all.add("Content-Type: " + type);
        }
        boolean chunked = !body.isEmpty() && oneIn(25);
        if (chunked) {
            content = chunks(content);
            all.add("Transfer-Encoding: chunked");
        }
        if ((!body.isEmpty() && (!chunked || oneIn(3))) || oneIn(40)) {
            all.add("Content-Length: "
                    + (oneIn(25)
                            ? any(LENGTHS)
                            : String.valueOf(content.length() + (oneIn(40) ? random.nextInt(9) - 4 : 0))));
        }
        String end = oneIn(60) ? "\n" : "\r\n";
        return line + end + String.join(end, all) + end + end + content;
    }

    private String chunks(String body) {
        int cut = random.nextInt(body.length() + 1);
        String size = oneIn(4)
                ? any(List.of("-1", "ffffffff", "7fffffffffffffff", "0x5", " 5", ""))
                : Integer.toHexString(cut);
        return (cut > 0
                        ? size + (oneIn(4) ? ";zq=\"x\"" : "") + "\r\n" + body.substring(0, cut)
                                + (oneIn(8) ? "" : "\r\n")
                        : "")
                + (cut < body.length()
                        ? Integer.toHexString(body.length() - cut) + "\r\n" + body.substring(cut) + "\r\n"
                        : "")
                + (oneIn(8) ? "" : "0\r\n" + (oneIn(4) ? "Zq-Trailer: zq\r\n" : "") + "\r\n");
    }

    private static String zipped(String body) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (GZIPOutputStream out = new GZIPOutputStream(bytes)) {
            out.write(body.getBytes(StandardCharsets.ISO_8859_1));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toString(StandardCharsets.ISO_8859_1);
    }

    private String fields(Form form) {
        List<String> pairs = new ArrayList<>();
        List<String> values = List.copyOf(form.fields().values());
        int odd = Math.max(2, form.fields().size() / 2);
        form.fields().forEach((name, value) -> {
            String typed = oneIn(odd) && !name.startsWith("was:") ? mutator.changed(value, values) : value;
            pairs.add(encoded(oneIn(200) ? mutator.changed(name, WORDS) : name) + "="
                    + (oneIn(200) ? sendable(typed) : encoded(typed)));
        });
        pairs.add("token=" + (oneIn(40) ? "zq" : RequestTargets.TOKEN));
        if (oneIn(10)) {
            pairs.add(any(List.of(
                    "out=out",
                    "zq",
                    "=",
                    "&&",
                    "there=0",
                    "ask=claims",
                    "machine.machine=x",
                    "circle.use=no",
                    "title=%zz",
                    "title=%c3%28")));
        }
        if (oneIn(10)) {
            pairs.remove(random.nextInt(pairs.size()));
        }
        return String.join("&", pairs);
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    /** What may stand in a request line, now and then wrongly escaped. */
    private static String sendable(String address) {
        return latin(address.replaceAll("[\\p{Cc}\\s]", "+"));
    }

    private static String latin(String text) {
        return new String(text.getBytes(StandardCharsets.UTF_8), StandardCharsets.ISO_8859_1);
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.ISO_8859_1);
    }

    private boolean oneIn(int times) {
        return random.nextInt(times) == 0;
    }

    private <T> T any(List<T> list) {
        return list.get(random.nextInt(list.size()));
    }
}
