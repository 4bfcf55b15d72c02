package org.fairturn.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.InstantSource;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** A real server on a free port, and a visitor who keeps cookies. */
final class Served implements AutoCloseable {
    static final Path DEMO = Path.of("testdata/demo").toAbsolutePath();
    private static final Pattern TOKEN = Pattern.compile("name=\"token\" value=\"([^\"]+)\"");

    private final FairturnServer server;
    private final HttpClient client =
            HttpClient.newBuilder().cookieHandler(new CookieManager()).build();

    private Served(FairturnServer server) {
        this.server = server;
    }

    static Served on(Path folder) {
        return on(new Settings(folder, false, 0), InstantSource.system());
    }

    static Served on(Settings settings, InstantSource clock) {
        return on(settings, clock, Limits.USUAL);
    }

    static Served on(Settings settings, InstantSource clock, Limits limits) {
        FairturnServer server = FairturnServer.create(settings, clock, limits);
        if (!server.start()) {
            throw new AssertionError("any free port is taken");
        }
        return new Served(server);
    }

    /** The demo, in a folder of its own that may be changed. */
    static Path demoBelow(Path above) {
        return copy(DEMO, above.resolve("demo"));
    }

    static Path copy(Path from, Path to) {
        try (var files = Files.list(from)) {
            Files.createDirectories(to);
            for (Path file : files.toList()) {
                Files.copy(file, to.resolve(file.getFileName()));
            }
            return to;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Another visitor of the same server, with cookies of its own. */
    Served sameServer() {
        return new Served(server);
    }

    FairturnServer server() {
        return server;
    }

    String origin() {
        return "http://127.0.0.1:" + server.port();
    }

    HttpResponse<String> get(String path) {
        return send(request(path));
    }

    HttpResponse<byte[]> bytes(String path) {
        return send(request(path), HttpResponse.BodyHandlers.ofByteArray());
    }

    HttpRequest.Builder request(String path) {
        return HttpRequest.newBuilder(URI.create(origin() + path)).timeout(Duration.ofSeconds(30));
    }

    HttpResponse<String> send(HttpRequest.Builder request) {
        return send(request, HttpResponse.BodyHandlers.ofString(StandardCharsets.UTF_8));
    }

    <T> HttpResponse<T> send(HttpRequest.Builder request, HttpResponse.BodyHandler<T> body) {
        try {
            return client.send(request.build(), body);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError(e);
        }
    }

    /** The token of the forms of a page. */
    String token(String page) {
        Matcher token = TOKEN.matcher(get(page).body());
        if (!token.find()) {
            throw new AssertionError("no form on " + page);
        }
        return token.group(1);
    }

    /** Sends a form as its page would; the answer is not followed. */
    HttpResponse<String> post(String path, Map<String, String> fields) {
        Map<String, String> all = new LinkedHashMap<>(fields);
        all.put("token", token("/new".equals(path) ? "/new" : "/trial/demo/facts"));
        return send(form(path, all).header("Origin", origin()));
    }

    HttpRequest.Builder form(String path, Map<String, String> fields) {
        return request(path)
                .header("Content-Type", "application/x-www-form-urlencoded")
                .POST(HttpRequest.BodyPublishers.ofString(encoded(fields)));
    }

    static String encoded(Map<String, String> fields) {
        return fields.entrySet().stream()
                .map(field -> URLEncoder.encode(field.getKey(), StandardCharsets.UTF_8) + "="
                        + URLEncoder.encode(field.getValue(), StandardCharsets.UTF_8))
                .collect(Collectors.joining("&"));
    }

    /** Sends bytes no well-behaved client would, and returns all that comes back. */
    String raw(String request) {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), server.port())) {
            socket.setSoTimeout(30_000);
            socket.getOutputStream().write(request.replace("\n", "\r\n").getBytes(StandardCharsets.ISO_8859_1));
            socket.getOutputStream().flush();
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() {
        server.stop();
    }
}
