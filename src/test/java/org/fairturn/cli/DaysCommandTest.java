package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DaysCommandTest {
    private static final Path DAYS = Path.of("testdata/days").toAbsolutePath();

    @TempDir
    Path above;

    private static Ran days(String... more) {
        List<String> arguments = new ArrayList<>(List.of("days"));
        arguments.addAll(List.of(more));
        return Ran.here(arguments.toArray(String[]::new));
    }

    private static String day(String name) {
        return DAYS.resolve(name).toString();
    }

    private Given given(String name, String date) {
        return Given.soundFolder(above.resolve(name))
                .with("trial.csv", "field,value\ntitle,Meadow\ndate," + date + "\nlength unit,mm\n");
    }

    @Test
    void verdictsAndThePlaceOfTheReport_areResults() {
        Path out = above.resolve("out");
        Ran ran = days(day("saturday"), day("monday"), day("thursday"), "--out", out.toString());
        assertThat(ran.code()).isZero();
        assertThat(ran.out())
                .startsWith(
                        "Every range, between … and …, holds with a probability of 95 %.\nAlder 22, 3 days, 4 turns and"
                                + " drives: driven again on the same day a circle repeats to ")
                .contains("✗ beyond the margin | Alder 22: on 2026-05-14, after rain its circles were ");
        assertThat(ran.lastLine()).isEqualTo(out.resolve("days.html").toString());
        assertThat(out.resolve("results.csv")).isNotEmptyFile();
        assertThat(out.resolve("charts/days.svg")).isNotEmptyFile();
    }

    @Test
    void json_isAllOfStandardOutput_andTheSameAsTheFile() throws IOException {
        Path out = above.resolve("out");
        Ran ran = days(day("monday"), day("thursday"), day("saturday"), "--json", "--out", out.toString());
        JsonNode json = new ObjectMapper().readTree(ran.out());
        assertThat(json)
                .isEqualTo(
                        new ObjectMapper().readTree(out.resolve("results.json").toFile()));
        assertThat(json.get("format").textValue()).isEqualTo("1.0");
        assertThat(json.get("days")).hasSize(3);
        assertThat(json.get("days").get(1).get("folder").textValue()).isEqualTo("thursday");
        JsonNode machine = json.get("machines").get(0);
        assertThat(machine.get("reproducibility").get("estimate").doubleValue())
                .isGreaterThan(machine.get("repeatability").get("estimate").doubleValue());
        assertThat(machine.get("measured")).hasSize(4);
        assertThat(machine.get("measured").get(0).get("days")).hasSize(3);
        assertThat(json.get("findings"))
                .hasSize(3)
                .allSatisfy(f -> assertThat(f.get("question").textValue()).isEqualTo("testers"));
        assertThat(ran.err()).contains("after rain").endsWith(out.resolve("days.html") + "\n");
    }

    @Test
    void thePage_isWellFormed_looksLikeTheOther_andNeedsNothingFromElsewhere() throws Exception {
        Path out = above.resolve("out");
        assertThat(days(day("monday"), day("thursday"), "--out", out.toString()).code())
                .isZero();
        String html = Files.readString(out.resolve("days.html"));
        Matcher svg = Pattern.compile("<svg.*?</svg>", Pattern.DOTALL).matcher(html);
        assertThat(svg.find()).isTrue();
        DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new ByteArrayInputStream(svg.group().getBytes(StandardCharsets.UTF_8)));
        assertThat(html)
                .contains("Alder 22 on 2 days, 2026-05-11 to 2026-05-14", "--accent: #22593f", "blades disengaged")
                .doesNotContain("http-equiv=\"refresh\"", "<script", "href=\"http", "src=\"http");
    }

    @Test
    void withoutOut_theReportIsNamedAfterTheFolders() {
        given("may", "2026-05-11");
        given("june", "2026-06-11");
        Ran ran = Ran.program(above, "days", "may", "june");
        assertThat(ran.all()).doesNotContain("\tat ", "Exception", "fault of its own");
        assertThat(ran.code()).isZero();
        assertThat(ran.lastLine())
                .isEqualTo(Path.of("reports", "may-june", "days.html").toString());
        assertThat(above.resolve(ran.lastLine())).isNotEmptyFile();
    }

    @Test
    void oneFolder_orOneTwice_isWrongUsage() {
        Given given = given("may", "2026-05-11");
        Ran one = days(given.argument());
        assertThat(one.code()).isEqualTo(2);
        assertThat(one.err())
                .startsWith("FOLDER: read one folder, " + given.argument()
                        + "; accepted: two or more trial folders, a day each. For a single trial: fairturn report "
                        + given.argument() + "\n");
        Ran twice = days(given.argument(), given.argument() + "/../may");
        assertThat(twice.code()).isEqualTo(2);
        assertThat(twice.err())
                .startsWith(
                        "FOLDER: read " + given.argument()
                                + "/../may twice; accepted: each folder once, because its circles would count twice. Leave one out.\n");
        assertThat(days().code()).isEqualTo(2);
    }

    @Test
    void noMachineInCommon_isSaid_andNothingWritten() {
        Given may = given("may", "2026-05-11");
        Given june = given("june", "2026-06-11")
                .with("machines.csv", "machine\nBasalt 25\n")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Basalt 25,left,2WD\nA2,Basalt 25,left,2WD\n");
        var before = Given.everythingBelow(above);
        Ran ran = days(
                may.argument(), june.argument(), "--out", above.resolve("out").toString());
        assertThat(ran)
                .isEqualTo(new Ran(
                        1,
                        "",
                        "machines.csv: found no machine that two of the folders have in common: " + may.argument()
                                + " has \"Alder 22\"; " + june.argument()
                                + " has \"Basalt 25\"; accepted: folders that share a machine by its name. Write the same name"
                                + " into machines.csv and circles.csv of each folder where it is the same machine.\n"
                                + "1 problem to mend; no report was written.\n"));
        assertThat(Given.everythingBelow(above)).isEqualTo(before);
    }

    @Test
    void dataErrors_ofAllFolders_areListed() {
        Given may = given("may", "2026-05-11").with("readings.csv", "circle,kind,value\nA1,across,1590 nm\n");
        Given june = given("june", "2026-06-11").without("machines.csv");
        Ran ran = days(may.argument(), june.argument(), day("monday"), "--json", "--out", above + "/out");
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.err())
                .contains(
                        may.argument() + ": readings.csv, row 2, column \"value\": read \"1590 nm\"",
                        june.argument() + ": machines.csv: found no such file",
                        "to mend; no report was written.");
        assertThat(ran.out()).contains("\"errors\"", "machines.csv");
        assertThat(above.resolve("out")).doesNotExist();
    }

    @Test
    void slipsOfADay_comeWithItsFolder() {
        Given may = given("may", "2026-05-11")
                .with("readings.csv", "circle,kind,value,measurer,hat\nA1,across,1580,,\nA2,across,1590,,\n");
        given("june", "2026-06-11");
        Ran ran = days(may.argument(), above.resolve("june").toString(), "--out", above + "/out");
        assertThat(ran.code()).isZero();
        assertThat(ran.err()).contains("may, readings.csv");
    }

    @Test
    void aPlaceThatCannotBeWrittenTo_isSaidInWords() throws IOException {
        Path file = Files.writeString(above.resolve("taken"), "mine");
        Ran ran = days(day("monday"), day("thursday"), "--out", file.toString());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.err()).startsWith("--out " + file + ": found no way to write there, a file is in the way;");
        assertThat(file).hasContent("mine");
    }
}
