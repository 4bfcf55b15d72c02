package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The words and exit codes of the program itself, whatever its commands do. */
class FairturnTest {
    private static final String HELP = """
            Usage: fairturn [-hV] [COMMAND]
            From tape readings of mowed full-lock circles to findings that both sides of a
            dispute can accept.

            Options:
              -h, --help      Show this help message and exit.
              -V, --version   Print version information and exit.

            Commands:
              new      Make a trial folder to fill in: CSV files with their column names,
                         which any spreadsheet opens. Leaves a folder that holds a trial
                         already as it is.
              check    List everything that has to be mended in a trial folder. Changes
                         nothing.
              plan     Plan a fair trial: how many circles and readings bring a verdict,
                         how long that takes, and in which order to drive. Without --out it
                         writes nothing.
              sheet    Write the field sheet of a trial folder, a PDF to print: cautions,
                         what to check on each machine, how to measure, and boxes for every
                         circle that has no readings yet. Changes nothing in the folder.
              report   Analyse a trial folder and write its report: report.html to read and
                         print, its charts, and the results for programs. Says the verdicts
                         and, in the last line, where report.html is.
              days     Compare trials of the same machine on several days, a trial folder
                         each: how well a circle repeats on one day and from day to day,
                         whether the days differ by more than the practical margin, and
                         which day stands out.
              convert  Say what a stated figure of a machine's turn means: uncut diameter,
                         turn radius, turning circle and clearance circle, with what the
                         machine's dimensions make uncertain of each.
              batch    Analyse every trial folder below a folder, in the order of their
                         names. A folder that has to be mended gets a line that says so;
                         the others go on.
              archive  Say what past trials teach of how much circles and readings scatter,
                         by drive, surface and measurer, what to expect of the next trial,
                         and which trial stands out. report, plan and batch use it with
                         --archive.
              serve    Show trials in the browser of this machine, and with --lan in those
                         of phones in the same network. What is typed there goes into the
                         trial folder at once. Stop it with Ctrl-C.

            Examples:
              fairturn new meadow        make a trial folder to fill in
              fairturn check meadow      list everything that has to be mended in it
              fairturn plan "Alder 22"   how many circles, and in which order to drive
              fairturn sheet meadow      the field sheet of its circles, a PDF to print
              fairturn report meadow     write the report to reports/meadow
              fairturn days may june     compare trials of one machine on two days
              fairturn convert "turn radius" "1.6 m" --folder meadow
                                         what a stated figure would leave uncut
              fairturn batch trials      analyse every trial folder in trials
              fairturn archive trials    what they teach of how circles scatter
              fairturn serve             the same in the browser

            Exit codes: 0 done; 1 something in the folder has to be mended, or the disk
            refused; 2 the command was not understood.
            """;

    @ParameterizedTest
    @ValueSource(strings = {"--help", "-h"})
    void help_isAResult(String option) {
        assertThat(Ran.here(option)).isEqualTo(new Ran(0, HELP, ""));
    }

    @Test
    void withoutACommand_theHelpIsShown_andTheExitCodeSaysWrongUsage() {
        assertThat(Ran.here()).isEqualTo(new Ran(2, "", HELP));
    }

    @Test
    void everyCommand_hasHelpWithAnExample() {
        for (String command :
                new String[] {"new", "check", "plan", "sheet", "report", "days", "convert", "batch", "archive"}) {
            for (String option : new String[] {"--help", "-h"}) {
                Ran ran = Ran.here(command, option);
                assertThat(ran.code()).isZero();
                assertThat(ran.err()).isEmpty();
                assertThat(ran.out())
                        .startsWith("Usage: fairturn " + command + " [-hV] ")
                        .containsPattern("Examples?:\n  fairturn " + command + " ")
                        .containsPattern("\n +\\[?[A-Z]{3,}\\S* +[A-Z]") // what goes behind the command
                        .contains("Exit codes: 0 ");
                assertThat(ran.out().lines()).allMatch(line -> line.length() <= 80);
            }
        }
    }

    @Test
    void helpForReport_asAWhole() {
        assertThat(Ran.here("report", "--help").out()).isEqualTo("""
                        Usage: fairturn report [-hV] [--bundle] [--card] [--json] [--pdf]
                                               [--archive=PATH] [--out=DIR] FOLDER
                        Analyse a trial folder and write its report: report.html to read and print, its
                        charts, and the results for programs. Says the verdicts and, in the last line,
                        where report.html is.

                              FOLDER           The trial folder, or a bundle of one. It is not changed.

                        Options:
                              --archive=PATH   Let past trials say how much circles and readings
                                                 scatter: a folder of trial folders, or the
                                                 repeatability.csv that fairturn archive wrote.
                              --bundle         Write the trial's name and .zip as well: its files, the
                                                 results, the page and how it was done, in one file to
                                                 hand over. Every command that reads a trial folder to
                                                 analyse it reads such a file.
                              --card           Write card.svg and card.png as well: the leading
                                                 findings in one picture to send or to put up, and in
                                                 card.txt the same in words.
                          -h, --help           Show this help message and exit.
                              --json           Write results.json's content to standard output as well.
                              --out=DIR        Where the report goes; default: reports/ and the trial
                                                 folder's name, below the current folder.
                              --pdf            Write report.pdf as well: the same on A4 pages, to print
                                                 or to send.
                          -V, --version        Print version information and exit.

                        Examples:
                          fairturn report meadow                    writes reports/meadow
                          fairturn report meadow --out ~/handover   writes there instead
                          fairturn report meadow --pdf --card       a PDF and a picture as well
                          fairturn report meadow --bundle           meadow.zip to hand over
                          fairturn report meadow.zip                works it out anew and says
                                                                    whether the numbers agree
                          fairturn report meadow --json             results as JSON, verdicts beside
                                                                    them on standard error
                          fairturn report meadow --archive trials   past trials say how circles scatter

                        Exit codes: 0 done; 1 something in the folder has to be mended, a bundle is not
                        what its files say, or the disk refused; 2 the command was not understood.
                        """);
    }

    @Test
    void theVersion_isTheOneTheBuildStates_andSaysWhichJavaRunsIt() throws IOException {
        Matcher stated = Pattern.compile("<artifactId>fairturn</artifactId>\\s*<version>([^<]+)</version>")
                .matcher(Files.readString(Path.of("pom.xml")));
        assertThat(stated.find()).isTrue();
        String java = "Java " + System.getProperty("java.version") + " (" + System.getProperty("java.vendor") + "), "
                + System.getProperty("os.name") + " " + System.getProperty("os.arch");
        Ran expected = new Ran(0, "fairturn " + stated.group(1) + "\n" + java + "\n", "");
        assertThat(Ran.here("--version")).isEqualTo(expected);
        assertThat(Ran.here("report", "-V")).isEqualTo(expected);
    }

    @Test
    void aMistypedCommand_isMetWithTheNearest() {
        assertThat(Ran.here("reprt")).isEqualTo(new Ran(2, "", """
                                Unmatched argument at index 0: 'reprt'
                                Did you mean: fairturn report or fairturn convert?
                                Usage: fairturn [-hV] [COMMAND]
                                More: fairturn --help
                                """));
    }

    @Test
    void aMistypedOption_isMetWithTheNearest() {
        assertThat(Ran.here("report", "meadow", "--jsn")).isEqualTo(new Ran(2, "", """
                                Unknown option: '--jsn'
                                Possible solutions: --json
                                Usage: fairturn report [-hV] [--bundle] [--card] [--json] [--pdf]
                                                       [--archive=PATH] [--out=DIR] FOLDER
                                More: fairturn report --help
                                """));
    }

    @Test
    void aPathTornApartAtItsBlank_isMetWithTheMend() {
        assertThat(Ran.here("check", "lower", "meadow")).isEqualTo(new Ran(2, "", """
                                Unmatched argument at index 2: 'meadow'
                                A path with blanks in it needs double quotes around it.
                                Usage: fairturn check [-hV] [--json] FOLDER
                                More: fairturn check --help
                                """));
    }

    @Test
    void aMissingFolder_isNamed() {
        for (String command : new String[] {"new", "check", "sheet", "report", "days"}) {
            Ran ran = Ran.here(command);
            assertThat(ran.code()).isEqualTo(2);
            assertThat(ran.out()).isEmpty();
            assertThat(ran.err())
                    .startsWith("Missing required parameter: 'FOLDER'\nUsage: fairturn " + command)
                    .endsWith("\nMore: fairturn " + command + " --help\n");
        }
    }

    @Test
    void anEmptyPath_isNotTakenForTheCurrentFolder() {
        assertThat(Ran.here("check", "")).isEqualTo(new Ran(2, "", """
                                Invalid value for positional parameter at index 0 (FOLDER): read an empty path; accepted: the path of a folder, . for the current one.
                                Usage: fairturn check [-hV] [--json] FOLDER
                                More: fairturn check --help
                                """));
    }

    /** They were answered with the name of a Java exception, or with the words int, long and double. */
    @ParameterizedTest
    @CsvSource(delimiter = '|', textBlock = """
                    plan   | --date    | 2026-02-30 | a day of the calendar written year-month-day, such as 2026-05-14
                    plan   | --date    | ''         | a day of the calendar written year-month-day, such as 2026-05-14
                    plan   | --seed    | 1e3        | a whole number, such as 7
                    plan   | --minutes | an hour    | a number with a decimal point where it needs one, such as 92.5
                    plan   | --chance  | 92,5       | a number with a decimal point where it needs one, such as 92.5
                    sheet  | --readings | two       | a whole number, such as 7
                    serve  | --port    | 99999999999 | a whole number, such as 7
                    """)
    void aDayOrNumberThatIsNone_isRefusedInWordsOfPeople(String command, String option, String typed, String accepted) {
        Ran ran = Ran.here(command, "meadow", option, typed);
        assertThat(ran.code()).isEqualTo(2);
        assertThat(ran.err())
                .startsWith("Invalid value for option '" + option + "'")
                .contains(": read \"" + typed + "\"; accepted: " + accepted + ".\n")
                .doesNotContain("java", "Exception");
    }

    @Test
    void aPathTheSystemCannotName_isWrongUsage() {
        Ran ran = Ran.here("check", "mea\0dow");
        assertThat(ran.code()).isEqualTo(2);
        assertThat(ran.err())
                .startsWith(
                        "Invalid value for positional parameter at index 0 (FOLDER): read \"mea\uFFFDdow\"; accepted:"
                                + " a path this system can name.\n");
    }

    @Test
    void aFolderCalledLikeAnArgumentFile_isAFolder() {
        assertThat(Ran.here("check", "@home").out()).startsWith("@home: found no such folder; accepted: ");
    }

    @Command(name = "stumble")
    static final class Stumble implements Callable<Integer> {
        private final Throwable fault;

        Stumble(Throwable fault) {
            this.fault = fault;
        }

        @Override
        public Integer call() throws Exception {
            if (fault instanceof Error error) {
                throw error;
            }
            throw (Exception) fault;
        }
    }

    private static Consumer<CommandLine> stumbling(Throwable fault) {
        return line -> line.addSubcommand(new Stumble(fault));
    }

    private static String calmLine(String fault) {
        return "Fairturn stopped because of a fault of its own, not of yours (" + fault
                + "). Please report it, together"
                + " with the trial folder and what the same command shows when the environment variable FAIRTURN_DEBUG"
                + " is set to 1.\n";
    }

    @Test
    void aFaultOfTheProgram_isOneCalmLine() {
        assertThat(Ran.here(false, stumbling(new IllegalStateException("rise is −1 m")), "stumble"))
                .isEqualTo(new Ran(1, "", calmLine("IllegalStateException")));
        assertThat(Ran.here(false, stumbling(new StackOverflowError()), "stumble"))
                .isEqualTo(new Ran(1, "", calmLine("StackOverflowError")));
    }

    @Test
    void aFaultOfTheProgram_showsItsTrace_whenAskedTo() {
        Ran ran = Ran.here(true, stumbling(new IllegalStateException("rise is −1 m")), "stumble");
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.err())
                .startsWith(calmLine("IllegalStateException") + "java.lang.IllegalStateException: rise is −1 m\n\tat ");
    }

    @Test
    void tooLittleMemory_isSaidWithTheMend() {
        assertThat(Ran.here(false, stumbling(new OutOfMemoryError()), "stumble"))
                .isEqualTo(new Ran(
                        1,
                        "",
                        "This needs more memory than Java was given. Give it more, for example with java -Xmx4g"
                                + " -jar fairturn.jar, or split the trial.\n"));
    }
}
