package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What README.md shows is what the program does. */
class ReadmeTest {
    private static final Pattern EXAMPLE_FILE =
            Pattern.compile("^`([a-z]+\\.csv)`\\R```csv\\R(.*?)^```", Pattern.DOTALL | Pattern.MULTILINE);
    private static final Pattern OUTPUT = Pattern.compile("^```text\\R(.*?)^```", Pattern.DOTALL | Pattern.MULTILINE);
    private static final Pattern FINDING = Pattern.compile("^(?=\\S+ [a-z ]+ \\| )", Pattern.MULTILINE);

    private static String readme;

    @TempDir
    Path above;

    @BeforeAll
    static void read() throws IOException {
        readme = Files.readString(Path.of("README.md"));
    }

    /** Lines are broken to fit the page. */
    private static String unbroken(String text) {
        return text.replaceAll("\\s+", " ").strip();
    }

    private static List<String> outputs() {
        List<String> outputs = new ArrayList<>();
        for (Matcher output = OUTPUT.matcher(readme); output.find(); ) {
            outputs.add(output.group(1));
        }
        assertThat(outputs).hasSize(2);
        return outputs;
    }

    private Given example() throws IOException {
        Given given = Given.soundFolder(above.resolve("meadow"));
        List<String> files = new ArrayList<>();
        for (Matcher file = EXAMPLE_FILE.matcher(readme); file.find(); ) {
            given.with(file.group(1), file.group(2));
            files.add(file.group(1));
        }
        assertThat(files).containsExactly("trial.csv", "machines.csv", "circles.csv", "readings.csv");
        return given;
    }

    @Test
    void whatItShowsOfTheDemo_isWhatReportSays() {
        String said = unbroken(Ran.here("report", Given.DEMO.toString(), "--out", above.toString())
                .out());
        List<String> shown = FINDING.splitAsStream(outputs().get(0)).toList();
        assertThat(shown).hasSize(2).allSatisfy(finding -> assertThat(said).contains(unbroken(finding)));
    }

    @Test
    void whatItShowsOfAProblem_isWhatCheckSays() throws IOException {
        Given given = example().with("readings.csv", "circle,kind,value\n1,across,\"1,58m\"\n2,across,1760\n");
        Ran ran = Ran.here("check", given.argument());
        assertThat(unbroken(ran.out())).isEqualTo(unbroken(outputs().get(1)));
        assertThat(ran.out()).endsWith("    1,58m\n     ^\n");
        assertThat(outputs().get(1)).endsWith("    1,58m\n     ^\n");
    }

    @Test
    void itsExample_isATrial_thatRestsOnTheAssumedRepeatability() throws IOException {
        Given given = example();
        assertThat(Ran.here("check", given.argument()).out())
                .startsWith(
                        "meadow: nothing to mend; 1 machine, 2 circles, 4 readings, 0 perimeter points, 0 claims.\n");
        Ran report = Ran.here(
                "report", given.argument(), "--out", above.resolve("out").toString());
        assertThat(report.code()).isZero();
        assertThat(report.out()).contains("This rests on the assumed repeatability");
    }

    @Test
    void everyCommand_hasASection() throws IOException {
        List<String> sections = Files.readAllLines(Path.of("docs/commands.md")).stream()
                .filter(line -> line.startsWith("## fairturn "))
                .map(line -> line.substring("## fairturn ".length()))
                .toList();
        String help = Ran.here("--help").out();
        List<String> commands = Pattern.compile("^  ([a-z]+) {2,}", Pattern.MULTILINE)
                .matcher(help.substring(help.indexOf("Commands:"), help.indexOf("Examples:")))
                .results()
                .map(command -> command.group(1))
                .toList();
        assertThat(sections).hasSize(10).containsExactlyInAnyOrderElementsOf(commands);
    }

    @Test
    void itNamesEveryFileAndColumn() throws IOException {
        Path folder = above.resolve("new");
        assertThat(Ran.here("new", folder.toString()).code()).isZero();
        try (var files = Files.list(folder)) {
            for (Path file : files.toList()) {
                String name = file.getFileName().toString();
                String row = readme.lines()
                        .filter(line -> line.startsWith("| `" + name + "` |"))
                        .findFirst()
                        .orElseThrow(() -> new AssertionError(name + " has no row in the table of files"));
                for (String column : Files.readAllLines(file).get(0).split(",", -1)) {
                    if (!column.endsWith(" uncertainty")) {
                        assertThat(row).as(name).contains(column);
                    }
                }
            }
        }
    }
}
