package org.fairturn.web;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;

/** Style and scripts, out of the jar. Their addresses hold a hash of their content, so that browsers may keep them. */
final class Assets {
    static final String PATH = "/assets/";

    private final Map<String, byte[]> contents = new LinkedHashMap<>();
    private final Map<String, String> paths = new LinkedHashMap<>();

    Assets() {
        add("style.css", "style.css");
        add("app.js", "app.js");
        add("findings.css", "findings.css");
        add("entry.css", "entry.css");
        add("entry.js", "entry.js");
        add("htmx.js", "/META-INF/resources/webjars/htmx.org/2.0.10/dist/htmx.min.js");
    }

    private void add(String name, String resource) {
        try (InputStream in = Assets.class.getResourceAsStream(resource)) {
            byte[] content = in.readAllBytes();
            String path = PATH + hash(content) + "/" + name;
            contents.put(path, content);
            paths.put(name, path);
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }

    private static String hash(byte[] content) {
        try {
            byte[] whole = MessageDigest.getInstance("SHA-256").digest(content);
            return HexFormat.of().formatHex(Arrays.copyOf(whole, 8));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible); // every Java has this algorithm
        }
    }

    String path(String name) {
        return paths.get(name);
    }

    void serve(Context context) {
        byte[] content = contents.get(context.path());
        if (content == null) {
            throw Refusal.noSuchPage();
        }
        context.header("Cache-Control", "public, max-age=31536000, immutable")
                .contentType(
                        context.path().endsWith(".css") ? "text/css; charset=utf-8" : "text/javascript; charset=utf-8")
                .result(content);
    }
}
