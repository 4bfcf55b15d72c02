package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Archive;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.ArchiveSource;
import org.fairturn.report.TrialReport;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ResultPagesTest {
    private static final Path COMPLAINT = Path.of("testdata/complaint").toAbsolutePath();

    @TempDir
    Path above;

    private Path folder;

    @BeforeEach
    void copy() {
        folder = Served.copy(COMPLAINT, above.resolve("complaint"));
    }

    private static TrialReport report(Path folder) {
        return TrialFolder.read(folder)
                .fold(
                        read -> TrialReport.of(Analysis.of(read.trial()), TrialReport.asWarnings(read.notes())),
                        faulty -> {
                            throw new AssertionError(faulty.problems());
                        });
    }

    /** Text as a browser shows it: without tags, entities resolved, blanks drawn together. */
    private static String text(String html) {
        return html.replaceAll("(?s)<(script|style).*?</\\1>", "")
                .replaceAll("<[^>]+>", " ")
                .replace("&#39;", "'")
                .replace("&#34;", "\"")
                .replace("&quot;", "\"")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&")
                .replace('\u00a0', ' ')
                .replaceAll("\\s+", " ");
    }

    private static List<String> matches(String regex, String text) {
        List<String> found = new ArrayList<>();
        Pattern.compile(regex, Pattern.DOTALL).matcher(text).results().forEach(match -> found.add(match.group(1)));
        return found;
    }

    @Test
    void findingsSayTheSameAsTheReport_inItsOrder() {
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/complaint/findings").body();
            String report = report(folder).html();
            for (String part :
                    List.of("<h[23][^>]*>(.*?)</h[23]>", "<div class=\"answer.*?>(.*?)</div>", "<td[^>]*>(.*?)</td>")) {
                List<String> ofReport = matches(part, report).stream()
                        .map(ResultPagesTest::text)
                        .toList();
                assertThat(ofReport).isNotEmpty();
                assertThat(matches(part, page).stream().map(ResultPagesTest::text))
                        .containsSubsequence(ofReport);
            }
            assertThat(matches("<li>(.*?)</li>", page).stream().map(ResultPagesTest::text))
                    .containsAll(report(folder).warnings().stream()
                            .map(warning -> warning.replace('\u00a0', ' '))
                            .toList());
        }
    }

    @Test
    void leadingFindingsAreOpen_theWorkingIsFolded() {
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/complaint/findings").body();
            assertThat(page).contains("<div class=\"answer");
            for (String id : List.of("results", "method", "working", "data")) {
                assertThat(page).containsPattern("<section id=\"" + id + "\"[^>]*>\\s*<details>");
            }
            assertThat(page).doesNotContain("<svg");
        }
    }

    @Test
    void everyDrawingIsARequestOfItsOwn_keptByBrowsers_withWordsInItsPlace() {
        try (Served served = Served.on(above)) {
            String page = served.get("/trial/complaint/findings").body();
            List<String> images = matches("<img ([^>]*)>", page);
            List<String> names = report(folder).drawingFiles().stream()
                    .filter(name -> name.endsWith(".svg"))
                    .toList();
            assertThat(images).hasSameSizeAs(names);
            for (int i = 0; i < names.size(); i++) {
                String image = images.get(i);
                assertThat(image)
                        .contains("loading=\"lazy\"", "/trial/complaint/chart/" + names.get(i) + "?version=")
                        .containsPattern("width=\"[1-9][0-9]+\" height=\"[1-9][0-9]+\"");
                assertThat(matches("alt=\"(.*?)\"", image).get(0)).hasSizeGreaterThan(80);
                HttpResponse<String> drawing =
                        served.get(matches("src=\"(.*?)\"", image).get(0).replace("&amp;", "&"));
                assertThat(drawing.body().getBytes(java.nio.charset.StandardCharsets.UTF_8))
                        .isEqualTo(report(folder).drawingFile(names.get(i)).orElseThrow());
                assertThat(drawing.headers().firstValue("Content-Type")).hasValue("image/svg+xml");
                assertThat(drawing.headers().firstValue("Cache-Control"))
                        .hasValue("private, max-age=31536000, immutable");
            }
            assertThat(served.get("/trial/complaint/chart/" + names.get(0) + "?version=older")
                            .headers()
                            .firstValue("Cache-Control"))
                    .hasValue("no-store");
            assertThat(served.get("/trial/complaint/chart/..%2Fmachines.csv").statusCode())
                    .isBetween(400, 499);
            assertThat(served.get("/trial/complaint/chart/no-such.svg").statusCode())
                    .isEqualTo(404);
        }
    }

    @Test
    void theReportOpens_withAPolicyOfItsOwn() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page = served.get("/trial/complaint/report.html");
            assertThat(page.body()).isEqualTo(report(folder).html());
            assertThat(page.headers().firstValue("Content-Security-Policy").orElseThrow())
                    .contains("default-src 'none'", "style-src 'unsafe-inline'")
                    .doesNotContain("script-src");
        }
    }

    @Test
    void theTrialFolderComesAsAZip_alwaysTheSameBytes() throws IOException {
        Files.writeString(folder.resolve("notes.txt"), "not a file of the trial");
        try (Served served = Served.on(above)) {
            HttpResponse<byte[]> zip = served.bytes("/trial/complaint/file/trial.zip");
            assertThat(zip.headers().firstValue("Content-Disposition"))
                    .hasValue("attachment; filename=\"complaint-files.zip\"");
            List<String> names = new ArrayList<>();
            try (ZipInputStream in = new ZipInputStream(new java.io.ByteArrayInputStream(zip.body()))) {
                for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                    names.add(entry.getName());
                    assertThat(in.readAllBytes()).isEqualTo(Files.readAllBytes(folder.resolve(entry.getName())));
                }
            }
            assertThat(names)
                    .containsExactly(
                            "trial.csv",
                            "machines.csv",
                            "blades.csv",
                            "stops.csv",
                            "circles.csv",
                            "readings.csv",
                            "references.csv");
            Path touched = folder.resolve("trial.csv");
            Files.setLastModifiedTime(touched, java.nio.file.attribute.FileTime.fromMillis(0));
            assertThat(served.bytes("/trial/complaint/file/trial.zip").body()).isEqualTo(zip.body());
            HttpResponse<String> csv = served.get("/trial/complaint/file/circles.csv");
            assertThat(csv.body()).isEqualTo(Files.readString(folder.resolve("circles.csv")));
            assertThat(csv.headers().firstValue("Content-Disposition"))
                    .hasValue("attachment; filename=\"circles.csv\"");
            assertThat(served.get("/trial/complaint/file/notes.txt").statusCode())
                    .isEqualTo(404);
        }
    }

    @Test
    void withoutATrialToAnalyse_theyPointToWhatIsNext() {
        TrialFolder.create(above.resolve("empty"));
        try (Served served = Served.on(above)) {
            assertThat(text(served.get("/trial/empty/findings").body()))
                    .contains("There are none yet: something has to be filled in or mended first. What is next");
            for (String path :
                    List.of("report.html", "file/results.json", "chart/diameters.svg", "file/charts/x.svg")) {
                assertThat(served.get("/trial/empty/" + path).statusCode())
                        .as(path)
                        .isEqualTo(409);
            }
        }
    }

    // what is tried

    private static String tried(Served served, String query) {
        HttpResponse<String> page = served.get("/trial/complaint/findings?" + query);
        assertThat(page.statusCode()).isEqualTo(200);
        return text(page.body());
    }

    private List<byte[]> contents() {
        try (Stream<Path> files = Files.list(folder)) {
            return files.sorted()
                    .map(file -> {
                        try {
                            return Files.readAllBytes(file);
                        } catch (IOException e) {
                            throw new UncheckedIOException(e);
                        }
                    })
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void anotherMargin_changesVerdicts_saysWhich_andTouchesNothing() {
        List<byte[]> before = contents();
        try (Served served = Served.on(above)) {
            assertThat(tried(served, "")).contains("What this trial shows").doesNotContain("This is a what-if");
            String page = tried(served, "margin=1500");
            assertThat(page)
                    .contains(
                            "Practical margin 1500 mm (59.1 in) instead of 50 mm (2.0 in).",
                            "This is a what-if: nothing in the folder is changed",
                            "Left against right: Cedar 24, 2WD – was: ✗ beyond the margin; with this: ✓ within the margin.",
                            "What 4WD costs: Cedar 24, left turn – was: ▲ wider; with this: ✓ within the margin.",
                            "What this trial would show",
                            "As measured: ✗ beyond the margin; −")
                    .doesNotContain("What this trial shows");
            assertThat(matches("With this ([0-9]+) verdicts change", page))
                    .containsExactly(String.valueOf(matches("(– was: )", page).size()));
        }
        assertThat(contents()).usingRecursiveComparison().isEqualTo(before);
    }

    @Test
    void aTriedTrial_readsLikeTheFolderWithTheSameTypedIn() throws IOException {
        Path typed = Served.copy(COMPLAINT, above.resolve("typed"));
        Files.writeString(
                typed.resolve("circles.csv"),
                Files.readString(typed.resolve("circles.csv"))
                        .replace("C3,Cedar 24,right,2WD,3,2,none,yes", "C3,Cedar 24,right,2WD,3,2,none,no"));
        try (Served served = Served.on(above)) {
            String answers = "<div class=\"answer.*?>(.*?)</div>";
            List<String> tried = matches(
                    answers, served.get("/trial/complaint/findings?out=C3").body());
            assertThat(tried.stream().map(answer -> answer.replaceFirst("(?s)<p class=\"was\">.*?</p>\\s*", "")))
                    .containsExactlyElementsOf(
                            matches(answers, served.get("/trial/typed/findings").body()));
        }
    }

    @Test
    void aDeckElsewhere_isToldInBothUnits() {
        try (Served served = Served.on(above)) {
            String page = tried(served, "deck-" + Slug.of("Cedar 24") + "=2+in");
            assertThat(page)
                    .contains(
                            "Deck of Cedar 24 50.8 mm (2.00 in) to the left instead of 18.0 mm (0.71 in) to the left.");
        }
    }

    @Test
    void whatIsTried_hasAnAddressThatCanBeSent_drawingsIncluded() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page =
                    served.send(served.request("/trial/complaint/findings?margin=&repeatability=30+mm&out=C8&out=C2")
                            .header("HX-Request", "true"));
            assertThat(page.headers().firstValue("HX-Push-Url"))
                    .hasValue("/trial/complaint/findings?repeatability=30+mm&out=C2&out=C8");
            String image = matches("<img src=\"(.*?)\"", page.body()).get(0).replace("&amp;", "&");
            assertThat(image).contains("?repeatability=30+mm&out=C2&out=C8&version=");
            assertThat(served.get(image).body())
                    .isNotEqualTo(served.get(image.replaceAll("\\?.*", "")).body());
        }
    }

    @Test
    void whatCannotBeRead_isNamedAtItsField_andNothingIsTried() {
        try (Served served = Served.on(above)) {
            HttpResponse<String> page =
                    served.get("/trial/complaint/findings?margin=5+yd&repeatability=0&out=Z9&deck-Oak=3");
            assertThat(page.statusCode()).isEqualTo(422);
            String text = text(page.body());
            assertThat(text)
                    .contains(
                            "Practical margin: read \"5 yd\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in,"
                                    + " 62-3/8\" or 5 ft 2 in.",
                            "Assumed circle repeatability: read \"0\"; accepted: a repeatability from 0.1 mm to 10 m. A number"
                                    + " without a unit is read as mm here; write the unit with it if it is another.",
                            "Circles left out: read \"Z9\"; accepted: circles of this trial. It may have been renamed since this"
                                    + " address was made.",
                            "Deck offset: read \"deck-Oak\"; accepted: a machine of this trial. It may have been renamed since"
                                    + " this address was made.",
                            "Nothing is tried until what is named above is mended. This is the trial as measured.",
                            "What this trial shows");
            assertThat(page.body())
                    .contains("value=\"5 yd\"")
                    .containsPattern("id=\"f-margin\"[^>]*aria-invalid=\"true\"");
        }
    }

    @Test
    void everyCircleLeftOut_isAnAnswerToo() {
        try (Served served = Served.on(above)) {
            assertThat(tried(served, "out=C1&out=C2&out=C3&out=C4&out=C5&out=C6&out=C7&out=C8"))
                    .contains("with this: no longer asked.", "No verdict stays as it was.", "cannot be compared yet");
        }
    }

    /** Whoever opens a bundle has no past trials of whoever made it, and has to come to the same numbers. */
    @Test
    void pastTrials_stepInForTheAssumption_exceptInABundle() throws IOException {
        Optional<Archive> past = ArchiveSource.read(Path.of("testdata/days"))
                .fold(found -> Optional.of(found.archive()), faulty -> Optional.empty());
        Path folder = Served.copy(Path.of("testdata/tape-only"), above.resolve("tape-only"));
        Settings settings = new Settings(above, false, 0, past);
        try (Served served = Served.on(settings, InstantSource.system())) {
            String learnt = "learnt from 3 past trials";
            assertThat(served.get("/trial/tape-only/findings").body())
                    .contains(learnt, "its numbers go by the trial alone, without your past trials");
            assertThat(served.get("/trial/tape-only/report.html").body()).contains(learnt);
            assertThat(served.get("/trial/tape-only/file/results.json").body()).contains("\"from\" : \"archive\"");
            String margin = "/trial/tape-only/findings?margin=90+mm";
            assertThat(served.get(margin).body()).contains(learnt);
            Path zip = above.resolve("tape-only.zip");
            Files.write(zip, served.bytes("/trial/tape-only/file/bundle.zip").body());
            TakenTrial taken = TrialFolder.take(zip);
            String alone = taken.read()
                    .fold(
                            read -> TrialReport.of(Analysis.of(read.trial()), TrialReport.asWarnings(read.notes()))
                                    .resultsJson(),
                            faulty -> "");
            assertThat(taken.enclosed().get("results.json")).isEqualTo(alone);
        }
        assertThat(folder).exists();
    }
}
