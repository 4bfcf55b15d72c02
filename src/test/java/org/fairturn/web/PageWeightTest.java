package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a phone that was never here has to fetch for each page, as it goes over the air. */
class PageWeightTest {
    private static final int MOST_BYTES = 150_000;
    private static final int MOST_REQUESTS = 10;
    private static final Pattern FETCHED =
            Pattern.compile("<(?:link rel=\"stylesheet\" href|script src|img src)=\"([^\"]*)\"[^>]*>");

    @TempDir
    Path above;

    private static HttpResponse<byte[]> fetched(Served served, String path) {
        return served.send(
                served.request(path).header("Accept-Encoding", "gzip"), HttpResponse.BodyHandlers.ofByteArray());
    }

    private static String text(HttpResponse<byte[]> response) {
        try {
            boolean packed = response.headers()
                    .firstValue("Content-Encoding")
                    .filter("gzip"::equals)
                    .isPresent(); // the smallest are sent as they are
            byte[] content = packed
                    ? new GZIPInputStream(new ByteArrayInputStream(response.body())).readAllBytes()
                    : response.body();
            return new String(content, StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String address(String inPage) {
        return inPage.replace("&amp;", "&");
    }

    @Test
    void everyPageIsLight_andNeedsFewRequests() throws IOException {
        BrowserTest.folders(above);
        try (Served served = Served.on(new Settings(above, true, 0), java.time.InstantSource.system())) {
            BrowserTest.PAGES.forEach((name, path) -> {
                HttpResponse<byte[]> page = fetched(served, path);
                String html = text(page);
                Set<String> now = new LinkedHashSet<>();
                Set<String> later = new LinkedHashSet<>();
                FETCHED.matcher(html)
                        .results()
                        .forEach(match -> (match.group().contains("loading=\"lazy\"") ? later : now)
                                .add(address(match.group(1))));
                int bytes = page.body().length
                        + now.stream()
                                .mapToInt(asset -> fetched(served, asset).body().length)
                                .sum();
                assertThat(now).as("%s: style and scripts", name).hasSizeBetween(3, MOST_REQUESTS - 1);
                assertThat(bytes).as("%s: bytes", name).isLessThan(MOST_BYTES);
                for (String drawing : later) {
                    assertThat(fetched(served, drawing).body().length)
                            .as("%s: %s, fetched when it comes into sight", name, drawing)
                            .isLessThan(MOST_BYTES);
                }
            });
        }
    }
}
