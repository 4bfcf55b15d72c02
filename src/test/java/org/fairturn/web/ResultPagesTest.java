package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.TrialReport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ResultPagesTest {
    @TempDir
    Path above;

    @Test
    void pagesSayTheSameAsTheReport() throws IOException {
        Path demo = Served.demoBelow(above);
        TrialReport report = TrialFolder.read(demo)
                .fold(read -> TrialReport.of(Analysis.of(read.trial()), java.util.List.of()), faulty -> {
                    throw new AssertionError(faulty.problems());
                });
        try (Served served = Served.on(above)) {
            String findings = served.get("/trial/demo/findings").body();
            for (String sentence : report.sentences()) {
                assertThat(findings).contains(sentence.strip());
            }
            HttpResponse<String> page = served.get("/trial/demo/report.html");
            assertThat(page.body()).isEqualTo(report.html());
            assertThat(page.headers().firstValue("Content-Security-Policy").orElseThrow())
                    .contains("default-src 'none'", "style-src 'unsafe-inline'")
                    .doesNotContain("script-src");
            assertThat(new ObjectMapper()
                            .readTree(
                                    served.get("/trial/demo/file/results.json").body())
                            .get("format")
                            .asText())
                    .isEqualTo("1.0");
            HttpResponse<String> csv = served.get("/trial/demo/file/circles.csv");
            assertThat(csv.body()).isEqualTo(Files.readString(demo.resolve("circles.csv")));
            assertThat(csv.headers().firstValue("Content-Disposition"))
                    .hasValue("attachment; filename=\"circles.csv\"");
        }
    }

    @Test
    void withoutATrialToAnalyse_theyPointToTheOverview() {
        TrialFolder.create(above.resolve("empty"));
        try (Served served = Served.on(above)) {
            assertThat(served.get("/trial/empty/findings").body()).contains("The overview lists what.");
            assertThat(served.get("/trial/empty/report.html").statusCode()).isEqualTo(409);
        }
    }
}
