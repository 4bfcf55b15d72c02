package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.fairturn.web.FairturnServer;
import org.fairturn.web.Settings;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the pages give is what the commands write, byte for byte. */
class PagesAgreeTest {
    private static final Pattern HIDDEN = Pattern.compile("<input type=\"hidden\" name=\"(.*?)\" value=\"(.*?)\">");
    private static final String PLAN = "machines=Alder+22&ask=drive&circle-scatter=15+mm&margin=60+mm&seed=7";

    @TempDir
    Path above;

    private final HttpClient client =
            HttpClient.newBuilder().cookieHandler(new CookieManager()).build();
    private FairturnServer server;
    private Path shelf;

    @BeforeEach
    void start() throws IOException {
        shelf = Files.createDirectory(above.resolve("shelf"));
        try (var files = Files.list(Path.of("testdata/metric"))) {
            Path metric = Files.createDirectory(shelf.resolve("metric"));
            for (Path file : files.toList()) {
                Files.copy(file, metric.resolve(file.getFileName()));
            }
        }
        server = FairturnServer.create(new Settings(shelf, false, 0));
        assertThat(server.start()).isTrue();
    }

    @AfterEach
    void stop() {
        server.stop();
    }

    private URI address(String path) {
        return URI.create(server.address() + path.substring(1));
    }

    private byte[] got(String path) throws IOException, InterruptedException {
        HttpResponse<byte[]> response =
                client.send(HttpRequest.newBuilder(address(path)).build(), HttpResponse.BodyHandlers.ofByteArray());
        assertThat(response.statusCode()).as(path).isEqualTo(200);
        return response.body();
    }

    @Test
    void reportCardAndBundle_areTheFilesOfTheReportCommand() throws Exception {
        Path out = above.resolve("out");
        Ran ran = Ran.here(
                "report", shelf.resolve("metric").toString(), "--out", out.toString(), "--pdf", "--card", "--bundle");
        assertThat(ran.code()).isZero();
        for (String name : List.of(
                "report.html", "report.pdf", "results.json", "results.csv", "card.svg", "card.png", "card.txt")) {
            assertThat(got("/trial/metric/file/" + name)).as(name).isEqualTo(Files.readAllBytes(out.resolve(name)));
        }
        assertThat(got("/trial/metric/file/bundle.zip"))
                .as("bundle")
                .isEqualTo(Files.readAllBytes(out.resolve("metric.zip")));
    }

    /** The command of what {@link #PLAN} asks of the page. */
    private static Ran planned(String... further) {
        List<String> command = new ArrayList<>(List.of(
                "plan", "Alder 22", "--ask", "drive", "--circle-scatter", "15 mm", "--margin", "60 mm", "--seed", "7"));
        command.addAll(List.of(further));
        return Ran.here(command.toArray(String[]::new));
    }

    @Test
    void aTrialMadeOfAPlan_isTheFolderOfThePlanCommand_andSoIsItsSheet() throws Exception {
        String page = new String(got("/plan?" + PLAN), StandardCharsets.UTF_8);
        Map<String, String> form = HIDDEN.matcher(page)
                .results()
                .collect(Collectors.toMap(match -> match.group(1), match -> match.group(2)));
        form.putAll(Map.of("title", "meadow", "date", "2026-05-14"));
        HttpResponse<String> made = client.send(
                HttpRequest.newBuilder(address("/plan"))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .header("Origin", server.address().replaceAll("/$", ""))
                        .POST(HttpRequest.BodyPublishers.ofString(form.entrySet().stream()
                                .map(field -> field.getKey() + "="
                                        + URLEncoder.encode(field.getValue(), StandardCharsets.UTF_8))
                                .collect(Collectors.joining("&"))))
                        .build(),
                HttpResponse.BodyHandlers.ofString());
        assertThat(made.statusCode()).as(made.body()).isEqualTo(303);

        Path out = above.resolve("meadow");
        Path sheet = above.resolve("sheet.pdf");
        Ran ran = planned(
                "--out", out.toString(), "--date", "2026-05-14", "--sheet", sheet.toString(), "--paper", "letter");
        assertThat(ran.code()).as(ran.err()).isZero();
        try (var files = Files.list(out)) {
            for (Path file : files.filter(f -> f.toString().endsWith(".csv")).toList()) {
                assertThat(shelf.resolve("meadow").resolve(file.getFileName())).hasSameBinaryContentAs(file);
            }
        }
        String text = page.replaceAll("<[^>]+>", " ").replaceAll("\\s+", " ");
        ran.out()
                .lines()
                .filter(line -> line.startsWith("Mow ") || line.startsWith("It rests on"))
                .forEach(line -> assertThat(text).contains(line));
        Matcher readings = Pattern.compile("with ([23]) readings each").matcher(ran.out());
        assertThat(readings.find()).isTrue();
        assertThat(got("/trial/meadow/sheet.pdf?paper=letter&readings=" + readings.group(1)))
                .isEqualTo(Files.readAllBytes(sheet));
        Path untitled = above.resolve("untitled.pdf");
        assertThat(planned("--sheet", untitled.toString()).code()).isZero();
        assertThat(got("/plan/sheet.pdf?" + PLAN + "&paper=a4")).isEqualTo(Files.readAllBytes(untitled));
    }

    @Test
    void aConversion_saysWhatTheConvertCommandSays() throws Exception {
        Ran ran = Ran.here(
                "convert",
                "turning circle diameter",
                "4.6 m",
                "--wheelbase",
                "145 cm",
                "--front-track",
                "1 m",
                "--blade",
                "80 cm,5 cm,235 mm",
                "--outermost",
                "190 cm,65 cm");
        assertThat(ran.code()).as(ran.err()).isZero();
        String page = new String(
                got("/convert?machine=typed+in+below&value=4.6+m&wheelbase=145+cm&front-track=1+m&blade1-ahead=80+cm"
                        + "&blade1-left=5+cm&blade1-tip=235+mm&outermost-ahead=190+cm&outermost-out=65+cm"),
                StandardCharsets.UTF_8);
        String text = page.replaceAll("<[^>]+>", " ").replaceAll("\\s+", " ");
        List<String> lines = ran.out().lines().toList();
        assertThat(text).contains(lines.get(0));
        assertThat(lines).hasSize(9);
        for (String line : lines.subList(1, lines.size())) {
            Matcher row = Pattern.compile(" *(left|right) turn, (.*?): (.*?), (between .*|as stated)")
                    .matcher(line);
            assertThat(row.matches()).as(line).isTrue();
            assertThat(text)
                    .containsPattern(Pattern.quote(row.group(2)) + " " + Pattern.quote(row.group(3)) + " (, )?"
                            + Pattern.quote(row.group(4)));
        }
    }
}
