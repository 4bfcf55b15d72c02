package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The real program in a process of its own, started from another folder, on folders as people make them. */
class DoorsTest {
    @TempDir
    Path above;

    private static void neverATrace(Ran ran) {
        assertThat(ran.all()).doesNotContain("\tat ", "Exception", "fault of its own");
    }

    @Test
    void report_onTheDemo_fromAnotherFolder() throws IOException {
        Ran ran = Ran.program(above, "report", Given.DEMO.toString());
        neverATrace(ran);
        assertThat(ran.code()).isZero();
        assertThat(ran.lastLine())
                .isEqualTo(Path.of("reports", "demo", "report.html").toString());
        assertThat(above.resolve(ran.lastLine())).isNotEmptyFile();
        assertThat(ran.out()).contains("Basalt 25, 2WD: the right circle is ");
        try (Stream<Path> made = Files.list(above)) {
            assertThat(made).containsExactly(above.resolve("reports"));
        }
    }

    @Test
    void report_intoAFolderOfChoice_writesThereOnly() throws IOException {
        Ran ran = Ran.program(above, "report", Given.DEMO.toString(), "--out", "hand over/to both", "--json");
        neverATrace(ran);
        assertThat(ran.code()).isZero();
        assertThat(above.resolve("hand over/to both/report.html")).isNotEmptyFile();
        assertThat(above.resolve("reports")).doesNotExist();
        assertThat(new ObjectMapper().readTree(ran.out()).get("format").asText())
                .isEqualTo("1.0");
    }

    @Test
    void report_onTheFolderOneStandsIn_goesByItsName() {
        Given given = Given.soundFolder(above.resolve("lower meadow"));
        Ran ran = Ran.program(given.path(), "report", ".");
        neverATrace(ran);
        assertThat(ran.lastLine())
                .isEqualTo(Path.of("reports", "lower meadow", "report.html").toString());
        assertThat(ran.code()).isZero();
        assertThat(Ran.program(given.path(), "check", ".").code())
                .as("the report in it does not disturb the trial")
                .isZero();
    }

    static Stream<Arguments> brokenFolders() {
        return Stream.of(
                broken("missing file", "circles.csv: found no such file", g -> g.without("circles.csv")),
                broken(
                        "missing column",
                        "readings.csv, row 1: found no column \"kind\"",
                        readings("circle,value\nA1,1580\nA2,1590\n")),
                broken("empty file", "machines.csv: found an empty file", g -> g.with("machines.csv", "")),
                broken("wrong unit", "row 2, column \"value\": read \"1.58 yd\"", reading("across,1.58 yd")),
                broken("text in a number", "row 2, column \"value\": read \"about 62\"", reading("across,about 62")),
                broken("negative length", "row 2, column \"value\": read \"-1580\"", reading("across,-1580")),
                broken("absurd length", "row 2, column \"value\": read \"1580 m\"", reading("across,1580 m")),
                broken("number that is none", "row 2, column \"value\": read \"NaN\"", reading("across,NaN")),
                broken("empty cell", "row 2, column \"value\": read an empty cell", reading("across,")),
                broken(
                        "unknown circle",
                        "row 2, column \"circle\": read \"A9\"; accepted: a circle listed in circles.csv: A1, A2.",
                        readings("circle,kind,value\nA9,across,1580\nA1,across,1580\nA2,across,1580\n")),
                broken(
                        "id there twice",
                        "circles.csv, row 3, column \"circle\": read \"A1\"",
                        g -> g.with(
                                "circles.csv",
                                "circle,machine,turn,drive\nA1,Alder 22,left,2WD\nA1,Alder 22,left,4WD\n")),
                broken(
                        "rise larger than its chord",
                        "row 2, column \"second\": read \"2000\"",
                        readings("circle,kind,value,second\nA1,chord and rise,500,2000\nA2,across,1590,\n")),
                broken(
                        "points on a line",
                        "points.csv",
                        g -> g.with("points.csv", "circle,x,y\nA1,0,0\nA1,500,500\nA1,1000,1000\nA1,1500,1500\n")),
                broken(
                        "semicolons",
                        "readings.csv, row 1: found ",
                        readings("circle;kind;value\nA1;across;1580\nA2;across;1590\n")),
                broken("a picture", "readings.csv", readings("\u0000\u0001\u0002\u001b[2J\u0000")));
    }

    private static Arguments broken(String name, String says, Consumer<Given> breaking) {
        return Arguments.of(name, says, breaking);
    }

    private static Consumer<Given> readings(String content) {
        return given -> given.with("readings.csv", content);
    }

    private static Consumer<Given> reading(String kindAndValue) {
        return readings("circle,kind,value\nA1," + kindAndValue + "\nA2,across,1590\n");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("brokenFolders")
    void check_saysWhereAndWhat_andReportWritesNothing(String name, String says, Consumer<Given> breaking) {
        Given given = Given.soundFolder(above.resolve("meadow"));
        breaking.accept(given);
        var before = Given.everythingBelow(above);
        Ran check = Ran.program(above, "check", "meadow");
        neverATrace(check);
        assertThat(check.code()).isEqualTo(1);
        assertThat(check.out()).contains(says).contains("; accepted: ").doesNotContain("\u001b");
        Ran report = Ran.here(
                "report", given.argument(), "--out", above.resolve("out").toString());
        neverATrace(report);
        assertThat(report.code()).isEqualTo(1);
        assertThat(report.out()).isEmpty();
        assertThat(report.err()).contains(says);
        assertThat(Given.everythingBelow(above)).isEqualTo(before);
    }

    @Test
    void aByteOrderMark_isNoProblem() {
        Given.soundFolder(above.resolve("meadow"))
                .with("readings.csv", "\uFEFFcircle,kind,value\r\nA1,across,1580\r\nA2,across,1590\r\n");
        Ran ran = Ran.program(above, "check", "meadow/");
        assertThat(ran.err()).isEmpty();
        assertThat(ran.out()).startsWith("meadow: nothing to mend; 1 machine, 2 circles, 2 readings");
        assertThat(ran.code()).isZero();
    }

    @Test
    void tenThousandRows_areRead_andEachFaultInThemIsListed() {
        StringBuilder rows = new StringBuilder("circle,kind,value\n");
        for (int i = 0; i < 10_000; i++) {
            rows.append(i % 2 == 0 ? "A1" : "A2")
                    .append(",across,")
                    .append(1570 + i % 20)
                    .append('\n');
        }
        Given given = Given.soundFolder(above.resolve("meadow")).with("readings.csv", rows.toString());
        Ran ran = Ran.program(above, "report", "meadow");
        neverATrace(ran);
        assertThat(ran.code()).isZero();
        given.with("readings.csv", rows.toString().replace(",across,", ",acros,"));
        Ran check = Ran.program(above, "check", "meadow");
        assertThat(check.out().lines()).hasSize(10_000);
        assertThat(check.err()).isEqualTo("10000 problems to mend in meadow.\n");
    }

    @Test
    void outputIsUtf8_whateverTheLanguageSettings() {
        Given.soundFolder(above.resolve("meadow"))
                .with("machines.csv", "machine\nGrüne Erle\n")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Grüne Erle,left,2WD\nA2,Grüne Erle,links,2WD\n");
        List<String> command = new ArrayList<>(Ran.program());
        command.addAll(List.of("report", "meadow"));
        Ran ran = Ran.process(above, Map.of("LC_ALL", "C"), command);
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.err()).contains("circles.csv, row 3, column \"turn\": read \"links\"");
        Given.soundFolder(above.resolve("meadow"))
                .with("machines.csv", "machine\nGrüne Erle\n")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Grüne Erle,left,2WD\nA2,Grüne Erle,left,2WD\n");
        ran = Ran.process(above, Map.of("LC_ALL", "C"), command);
        assertThat(ran.code()).isZero();
        assertThat(ran.out()).contains("Grüne Erle, 2WD: ");
    }

    @Test
    void aNameInOtherLetters_isAName() {
        Assumptions.assumeTrue(
                "UTF-8".equals(System.getProperty("sun.jnu.encoding")), "this system names no files in UTF-8");
        Given.soundFolder(above.resolve("Große Wiese"));
        Ran ran = Ran.program(above, "report", "Große Wiese");
        neverATrace(ran);
        assertThat(ran.lastLine()).isEqualTo("reports/Große Wiese/report.html".replace('/', File.separatorChar));
        assertThat(above.resolve(ran.lastLine())).isNotEmptyFile();
        List<String> command = new ArrayList<>(Ran.program());
        command.addAll(List.of("check", "Große Wiese"));
        Ran foreign = Ran.process(above, Map.of("LC_ALL", "C"), command);
        if (foreign.code() != 0) { // newer Javas may manage
            neverATrace(foreign);
            assertThat(foreign.code()).isEqualTo(2);
            assertThat(foreign.err()).contains("set the environment variable LC_ALL to C.UTF-8 and try again.");
        }
    }

    @Test
    void aFolderNobodyMayRead_isSaidInWords() throws IOException {
        Given given = Given.soundFolder(above.resolve("meadow"));
        Assumptions.assumeTrue(
                Files.getFileStore(above).supportsFileAttributeView("posix"), "this system has no such permissions");
        List<String> command = new ArrayList<>(Ran.program());
        command.addAll(List.of("check", "meadow"));
        Files.setPosixFilePermissions(given.path(), PosixFilePermissions.fromString("---------"));
        try {
            if (Files.isReadable(given.path())) { // root reads everything, unless that power is taken from it
                String powers = "-dac_override,-dac_read_search";
                command.addAll(0, List.of("setpriv", "--bounding-set=" + powers, "--inh-caps=" + powers));
                Assumptions.assumeTrue(
                        Stream.of(System.getenv("PATH").split(File.pathSeparator))
                                .anyMatch(bin -> Files.isExecutable(Path.of(bin, "setpriv"))),
                        "this user may read everything, and setpriv is not there to change that");
            }
            Ran ran = Ran.process(above, Map.of(), command);
            neverATrace(ran);
            assertThat(ran)
                    .isEqualTo(new Ran(
                            1,
                            "meadow: found a folder that cannot be opened; accepted: a folder with trial.csv, machines.csv,"
                                    + " blades.csv, stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Ask its"
                                    + " owner for permission to read it.\n",
                            "1 problem to mend in meadow.\n"));
        } finally {
            Files.setPosixFilePermissions(given.path(), PosixFilePermissions.fromString("rwx------"));
        }
    }

    @Test
    void wrongUsage_exitsWith2() {
        assertThat(Ran.program(above).code()).isEqualTo(2);
        assertThat(Ran.program(above, "chek", "meadow").err()).contains("Did you mean: fairturn check or ");
        assertThat(Ran.program(above, "--help").code()).isZero();
    }

    @Test
    void aFullDiskBehindStandardOutput_isNotSuccess() {
        Assumptions.assumeTrue(Files.exists(Path.of("/dev/full")), "this system has no /dev/full");
        List<String> command = new ArrayList<>(List.of("sh", "-c", "\"$0\" \"$@\" > /dev/full"));
        command.addAll(Ran.program());
        command.addAll(List.of("check", Given.DEMO.toString()));
        assertThat(Ran.process(above, Map.of(), command))
                .isEqualTo(new Ran(1, "", "Not all of the output could be written.\n"));
    }

    @Test
    void aNewFolder_lacksOnlyWhatHasToBeFilledIn() {
        Ran made = Ran.program(above, "new", "meadow");
        neverATrace(made);
        assertThat(made.code()).isZero();
        assertThat(made.out()).isEqualTo("meadow\n");
        Ran check = Ran.program(above, "check", "meadow");
        neverATrace(check);
        assertThat(check.code()).isEqualTo(1);
        assertThat(check.err()).isEqualTo("5 problems to mend in meadow.\n");
        Given.soundFolder(above.resolve("meadow"));
        assertThat(Ran.program(above, "check", "meadow").code()).isZero();
    }
}
