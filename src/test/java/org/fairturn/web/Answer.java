package org.fairturn.web;

import static org.fairturn.Fuzzing.promise;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.GZIPInputStream;

/**
 * One answer of a server, read as strictly as a browser may read it.
 *
 * @param body unpacked, a character for each byte
 */
record Answer(int status, List<String> headers, String body) {
    private static final Pattern STATUS = Pattern.compile("HTTP/1\\.1 ([0-9]{3}) [\\x20-\\x7e]*");
    // RFC 9110, section 5.6.2, tokens; values without what ends a line
    private static final Pattern HEADER = Pattern.compile("[!#$%&'*+.^_`|~0-9A-Za-z-]+:[^\\r\\n\\x00]*");
    private static final Pattern CHUNK = Pattern.compile("([0-9A-Fa-f]{1,7})\r\n");

    /** All that came over one connection; nothing is left over between two of them. */
    static List<Answer> all(String bytes, boolean whole) {
        List<Answer> answers = new ArrayList<>();
        int[] at = {0};
        while (at[0] < bytes.length()) {
            Optional<Answer> next = next(bytes, at);
            if (next.isEmpty()) {
                promise(!whole, "an answer that is cut short: " + shown(bytes.substring(at[0])));
                return answers;
            }
            answers.add(next.get());
        }
        return answers;
    }

    private static Optional<Answer> next(String bytes, int[] at) {
        int end = bytes.indexOf("\r\n\r\n", at[0]);
        if (end < 0) {
            return Optional.empty();
        }
        List<String> lines = List.of(bytes.substring(at[0], end).split("\r\n", -1));
        Matcher status = STATUS.matcher(lines.get(0));
        promise(status.matches(), "a status line: " + shown(lines.get(0)));
        List<String> headers = lines.subList(1, lines.size());
        headers.forEach(line -> promise(HEADER.matcher(line).matches(), "a header: " + shown(line)));
        int code = Integer.parseInt(status.group(1));
        at[0] = end + 4;
        return body(bytes, at, code, new Answer(code, headers, ""))
                .map(body -> new Answer(code, headers, unpacked(body, headers)));
    }

    private static Optional<String> body(String bytes, int[] at, int code, Answer head) {
        String rest = bytes.substring(at[0]);
        if (code < 200 || code == 204 || code == 304) {
            return Optional.of("");
        }
        if (head.header("transfer-encoding").equals("chunked")) {
            return chunked(bytes, at);
        }
        String length = head.header("content-length");
        boolean none = rest.isEmpty()
                || STATUS.matcher(rest.lines().findFirst().orElse("")).matches();
        if (none) {
            return Optional.of(""); // of HEAD, which says how long the page would be
        }
        int n = length.isEmpty() ? rest.length() : Integer.parseInt(length);
        if (n > rest.length()) {
            return Optional.empty();
        }
        at[0] += n;
        return Optional.of(rest.substring(0, n));
    }

    private static Optional<String> chunked(String bytes, int[] at) {
        if (bytes.startsWith("HTTP/1.1 ", at[0]) || at[0] == bytes.length()) {
            return Optional.of("");
        }
        StringBuilder body = new StringBuilder();
        Matcher chunk = CHUNK.matcher(bytes);
        while (chunk.region(at[0], bytes.length()).lookingAt()) {
            int n = Integer.parseInt(chunk.group(1), 16);
            int from = chunk.end();
            if (from + n + 2 > bytes.length()) {
                return Optional.empty();
            }
            at[0] = from + n + 2;
            if (n == 0) {
                return Optional.of(body.toString());
            }
            body.append(bytes, from, from + n);
        }
        return Optional.empty();
    }

    private static String unpacked(String body, List<String> headers) {
        if (body.isEmpty()
                || new Answer(0, headers, "").header("content-encoding").isEmpty()) {
            return body;
        }
        try (GZIPInputStream in =
                new GZIPInputStream(new ByteArrayInputStream(body.getBytes(StandardCharsets.ISO_8859_1)))) {
            return new String(in.readAllBytes(), StandardCharsets.ISO_8859_1);
        } catch (IOException broken) {
            throw new AssertionError("a body that cannot be unpacked", broken);
        }
    }

    /** Its value; empty where it is not there. */
    String header(String name) {
        return headers.stream()
                .filter(line -> line.toLowerCase(Locale.ROOT).startsWith(name + ":"))
                .map(line -> line.substring(name.length() + 1).strip())
                .findFirst()
                .orElse("");
    }

    boolean is(String type) {
        return header("content-type").startsWith(type);
    }

    private static String shown(String bytes) {
        return bytes.length() > 500 ? bytes.substring(0, 500) + "…" : bytes;
    }
}
