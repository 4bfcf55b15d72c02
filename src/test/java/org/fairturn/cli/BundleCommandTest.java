package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BundleCommandTest {
    private static final Path TRIAL = Path.of("testdata/metric").toAbsolutePath();

    @TempDir
    private static Path shared;

    private static Path made;

    @TempDir
    Path above;

    @BeforeAll
    static void makeABundle() {
        Ran ran = Ran.here(
                "report", TRIAL.toString(), "--out", shared.resolve("made").toString(), "--bundle", "--card");
        assertThat(ran.code()).isZero();
        made = shared.resolve("made/metric.zip");
    }

    private Path copy() throws IOException {
        return Files.copy(made, above.resolve("metric.zip"));
    }

    private static Map<String, byte[]> entries(Path zip) throws IOException {
        Map<String, byte[]> entries = new TreeMap<>();
        try (FileSystem inside = FileSystems.newFileSystem(zip)) {
            try (Stream<Path> all = Files.walk(inside.getPath("/"))) {
                for (Path path : all.filter(Files::isRegularFile).toList()) {
                    entries.put(path.toString(), Files.readAllBytes(path));
                }
            }
        }
        return entries;
    }

    private static void change(Path zip, String file, String from, String to) throws IOException {
        try (FileSystem inside = FileSystems.newFileSystem(zip)) {
            Path path = inside.getPath("/metric", file);
            String text = Files.readString(path);
            assertThat(text).contains(from);
            Files.writeString(path, text.replace(from, to));
        }
    }

    @Test
    void bundle_holdsTheFilesByteForByte_andTheResultsBesideTheReport() throws IOException {
        Map<String, byte[]> entries = entries(made);
        assertThat(entries.keySet())
                .containsExactly(Stream.of(
                                "METHOD.txt",
                                "blades.csv",
                                "card.png",
                                "card.svg",
                                "card.txt",
                                "circles.csv",
                                "machines.csv",
                                "readings.csv",
                                "report.html",
                                "results.csv",
                                "results.json",
                                "trial.csv")
                        .map(name -> "/metric/" + name)
                        .toArray(String[]::new));
        for (String csv : List.of("trial", "machines", "blades", "circles", "readings")) {
            assertThat(entries.get("/metric/" + csv + ".csv"))
                    .isEqualTo(Files.readAllBytes(TRIAL.resolve(csv + ".csv")));
        }
        for (String result : List.of("results.json", "results.csv", "report.html", "card.svg", "card.txt")) {
            assertThat(entries.get("/metric/" + result)).isEqualTo(Files.readAllBytes(made.resolveSibling(result)));
        }
        JsonNode json = new ObjectMapper().readTree(entries.get("/metric/results.json"));
        String code = json.get("trial").get("dataCode").textValue();
        assertThat(new String(entries.get("/metric/METHOD.txt"), StandardCharsets.UTF_8))
                .contains(
                        "Program: Fairturn 0.1.0\n",
                        "Data code: " + code + "\n",
                        "What was asked",
                        "How it was worked out",
                        "What was assumed and agreed",
                        "fairturn report metric.zip",
                        "service manual");
    }

    @Test
    void workedOutAnew_itGivesTheSameResults_andSaysSo() throws IOException {
        Path out = above.resolve("again");
        Ran ran = Ran.here("report", copy().toString(), "--out", out.toString(), "--bundle", "--card");
        assertThat(ran.code()).isZero();
        assertThat(ran.out()).endsWith("Same numbers as in the bundle.\n" + out.resolve("report.html") + "\n");
        assertThat(out.resolve("results.json")).hasSameBinaryContentAs(made.resolveSibling("results.json"));
        assertThat(out.resolve("report.html")).hasSameBinaryContentAs(made.resolveSibling("report.html"));
        assertThat(out.resolve("metric.zip")).hasSameBinaryContentAs(made);
        assertThat(Ran.here("check", made.toString()).out()).endsWith("Same numbers as in the bundle.\n");
    }

    @Test
    void aReadingChanged_isNamedByWhatItMoves_andTheDataCodeDiffers() throws IOException {
        Path bundle = copy();
        String readings = Files.readString(TRIAL.resolve("readings.csv"));
        String row = readings.lines().skip(1).findFirst().orElseThrow();
        String value = row.split(",", -1)[2];
        change(bundle, "readings.csv", row, row.replace(value, changed(value)));
        Ran ran = Ran.here(
                "report", bundle.toString(), "--out", above.resolve("out").toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out())
                .contains("Not the same numbers as in the bundle.\n    the data: code ")
                .contains("    cells, ")
                .contains(": diameter ");
        assertThat(Files.readString(above.resolve("out/report.html")))
                .contains("The numbers the bundle brought are not those its files give.");
        assertThat(Ran.here("check", bundle.toString()).code()).isEqualTo(1);
    }

    /** A value ten millimetres larger, whatever its unit. */
    private static String changed(String value) {
        String number = value.replaceAll("[^0-9.].*$", "");
        return value.replace(number, new BigDecimal(number).add(step(value)).toPlainString());
    }

    private static BigDecimal step(String value) {
        return new BigDecimal(value.endsWith("mm") || !value.contains("m") ? "10" : "0.01");
    }

    @Test
    void aNumberChanged_isNamed_withTheDataTheSame() throws IOException {
        Path bundle = copy();
        JsonNode cell = new ObjectMapper()
                .readTree(made.resolveSibling("results.json").toFile())
                .get("cells")
                .get(0);
        String diameter = cell.get("diameter").asText();
        change(bundle, "results.json", "\"diameter\" : " + diameter, "\"diameter\" : 1234.5");
        Ran ran = Ran.here("check", bundle.toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out())
                .doesNotContain("the data:")
                .contains("    cells, Slate 24, left, 2WD: diameter 1234.5 in the bundle, " + diameter
                        + " by its files\n");
    }

    @Test
    void anotherVersion_isSaid() throws IOException {
        Path bundle = copy();
        change(bundle, "METHOD.txt", "Program: Fairturn 0.1.0", "Program: Fairturn 0.0.9");
        assertThat(Ran.here("check", bundle.toString()).out())
                .endsWith("Same numbers as in the bundle. It was made by Fairturn 0.0.9; this is Fairturn 0.1.0.\n");
    }

    /** A part that a newer version added to the results made every older bundle differ. */
    @Test
    void aPartOlderVersionsDidNotWrite_isNamed_andNotADifference() throws IOException {
        Path bundle = copy();
        change(bundle, "METHOD.txt", "Program: Fairturn 0.1.0", "Program: Fairturn 0.0.9");
        withoutDifferences(bundle);
        Ran ran = Ran.here("check", bundle.toString());
        assertThat(ran.code()).isZero();
        assertThat(ran.out()).endsWith("""
                        Same numbers as in the bundle. It was made by Fairturn 0.0.9; this is Fairturn 0.1.0.
                            not in the bundle's results.json, so not compared: differences
                        """);
        change(bundle, "results.json", "\"confidence\":0.95", "\"confidence\":0.99");
        Ran changed = Ran.here("check", bundle.toString());
        assertThat(changed.out()).endsWith("""
                        Not the same numbers as in the bundle. It was made by Fairturn 0.0.9; this is Fairturn 0.1.0.
                            confidence: 0.99 in the bundle, 0.95 by its files
                            not in the bundle's results.json, so not compared: differences
                        """);
    }

    @Test
    void aPartTakenOutByHand_isADifference() throws IOException {
        Path bundle = copy();
        withoutDifferences(bundle);
        Ran ran = Ran.here("check", bundle.toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out()).endsWith("""
                Not the same numbers as in the bundle.
                    differences: not in the bundle
                """);
    }

    private static void withoutDifferences(Path bundle) throws IOException {
        try (FileSystem inside = FileSystems.newFileSystem(bundle)) {
            Path results = inside.getPath("/metric/results.json");
            ObjectNode part = (ObjectNode) new ObjectMapper().readTree(Files.readString(results));
            assertThat(part.remove("differences")).isNotEmpty();
            Files.writeString(results, part.toString());
        }
    }

    @Test
    void resultsThatCannotBeRead_areSaid() throws IOException {
        Path bundle = copy();
        change(bundle, "results.json", "\"findings\"", "\"findings");
        Ran ran = Ran.here("check", bundle.toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out()).contains("results.json: it cannot be read, so its numbers could not be compared");
    }

    @Test
    void aZipOfTheFilesAlone_hasNothingToCompareWith() throws IOException {
        Path bundle = copy();
        try (FileSystem inside = FileSystems.newFileSystem(bundle)) {
            Files.delete(inside.getPath("/metric/results.json"));
        }
        Ran ran = Ran.here("check", bundle.toString());
        assertThat(ran.code()).isZero();
        assertThat(ran.out()).endsWith("The bundle brings no results.json, so there is nothing to compare with.\n");
    }

    @Test
    void batch_takesABundleAmongTheFolders() throws IOException {
        Path archive = Files.createDirectory(above.resolve("archive"));
        Files.copy(made, archive.resolve("a.zip"));
        Path tampered = Files.copy(made, archive.resolve("b.zip"));
        change(tampered, "results.json", "\"confidence\" : 0.95", "\"confidence\" : 0.99");
        Ran ran = Ran.here("batch", archive.toString(), "--json-lines");
        assertThat(ran.code()).isZero();
        List<String> lines = ran.out().lines().toList();
        assertThat(lines).hasSize(2);
        assertThat(lines.get(0)).contains("\"path\":\"a.zip\"").doesNotContain("\"code\":\"bundle\"");
        assertThat(lines.get(1)).contains("\"code\":\"bundle\"", "confidence: 0.99 in the bundle, 0.95 by its files");
    }

    @Test
    void aBrokenBundle_isAProblemLikeOthers_andNothingIsWritten() throws IOException {
        Path bundle = Files.write(above.resolve("cut.zip"), new byte[] {'P', 'K', 3, 4});
        Ran ran = Ran.here(
                "report", bundle.toString(), "--out", above.resolve("out").toString());
        assertThat(ran)
                .isEqualTo(new Ran(
                        1,
                        "",
                        "cut.zip: found a zip file that is broken or cut short; accepted: a bundle made with fairturn report"
                                + " --bundle, or a zip of the CSV files of one trial folder. Ask for it again, or make it anew:"
                                + " fairturn report FOLDER --bundle.\n1 problem to mend in " + bundle
                                + "; no report was written.\n"));
        assertThat(above.resolve("out")).doesNotExist();
    }

    @Test
    void withoutOptions_noneOfItIsWritten() {
        Path out = above.resolve("plain");
        assertThat(Ran.here("report", TRIAL.toString(), "--out", out.toString()).code())
                .isZero();
        for (String name : List.of("report.pdf", "card.svg", "card.png", "card.txt", "metric.zip")) {
            assertThat(out.resolve(name)).doesNotExist();
        }
    }
}
