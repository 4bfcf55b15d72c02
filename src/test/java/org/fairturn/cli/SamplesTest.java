package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The committed sample reports and what the documents quote are what the program prints today. */
class SamplesTest {
    private static final Pattern CHART = Pattern.compile("<svg.*?</svg\\s*>", Pattern.DOTALL);
    private static final Pattern COMMAND =
            Pattern.compile("^ {4}fairturn ([^\\n]*)$|^```text\\R(.*?)^```", Pattern.DOTALL | Pattern.MULTILINE);

    /** A line that somebody may type, whatever the program is called by; words behind three blanks say what it does. */
    private static final Pattern TYPED = Pattern.compile(
            "^ {4}(?:java -jar target/fairturn\\.jar|\\S*fairturn) (.+?)(?: {3,}.*)?$", Pattern.MULTILINE);

    /** The command line of each sample, in the order of docs/disputes.md. */
    private static final Map<String, String> SAMPLES = new LinkedHashMap<>();

    static {
        SAMPLES.put("demo", "report testdata/demo");
        SAMPLES.put("complaint", "report testdata/complaint");
        SAMPLES.put("days", "days testdata/days/monday testdata/days/thursday testdata/days/saturday");
    }

    @TempDir
    private static Path out;

    private static final Map<String, String> SAID = new LinkedHashMap<>();

    @BeforeAll
    static void makeThemAnew() {
        SAMPLES.forEach((name, command) -> {
            List<String> arguments = new ArrayList<>(List.of(command.split(" ", -1)));
            arguments.addAll(List.of("--out", out.resolve(name).toString()));
            Ran ran = Ran.here(arguments.toArray(String[]::new));
            assertThat(ran.code()).as(command).isZero();
            SAID.put(command, unbroken(ran.out()));
        });
    }

    @Test
    void theCommittedSamples_areWhatTheProgramMakesToday() throws IOException {
        for (Map.Entry<String, String> each : SAMPLES.entrySet()) {
            Path sample = Path.of("reports", each.getKey());
            Path made = out.resolve(each.getKey());
            String howTo = "the committed sample is stale; run: fairturn " + each.getValue() + " --out " + sample;
            assertThat(files(sample)).as(howTo).isEqualTo(files(made));
            assertAlike("results.json", json(sample), json(made), howTo);
            for (String name : files(sample)) {
                if (name.endsWith(".csv")) {
                    assertThat(Files.readString(sample.resolve(name)))
                            .as(howTo)
                            .isEqualTo(Files.readString(made.resolve(name)));
                }
                // letters in charts are outlines of whatever font the machine has, so their drawings are compared by
                // title
                // and description alone
                if (name.endsWith(".html")) {
                    assertThat(withoutOutlines(Files.readString(sample.resolve(name))))
                            .as(howTo)
                            .isEqualTo(withoutOutlines(Files.readString(made.resolve(name))));
                }
            }
        }
    }

    @ParameterizedTest
    @CsvSource({"disputes.md, 12", "field-guide.md, 8", "model-for-technicians.md, 2"})
    void whatADocumentQuotes_isWhatTheCommandAboveItSays(String document, int quotations) throws IOException {
        String command = "";
        int quoted = 0;
        for (Matcher part = COMMAND.matcher(Files.readString(Path.of("docs", document))); part.find(); ) {
            if (part.group(1) != null) {
                command = part.group(1);
            } else {
                assertThat(said(command)).contains(unbroken(part.group(2)));
                quoted++;
            }
        }
        assertThat(quoted).isEqualTo(quotations);
    }

    /** What a command says; those that make a report have made it already. */
    private static String said(String command) {
        return SAID.computeIfAbsent(command, line -> {
            List<String> arguments = new ArrayList<>(words(line));
            if (line.startsWith("report ")) {
                arguments.addAll(List.of("--out", out.resolve("quoted").toString()));
            } else {
                assertThat(line).matches("(check|plan) .*"); // these write nothing
            }
            Ran ran = Ran.here(arguments.toArray(String[]::new));
            assertThat(ran.code()).as(line).isZero();
            return unbroken(ran.out());
        });
    }

    /** As a shell takes a command line apart. */
    private static List<String> words(String line) {
        return Pattern.compile("\"([^\"]*)\"|\\S+")
                .matcher(line)
                .results()
                .map(word -> word.group(1) == null ? word.group() : word.group(1))
                .toList();
    }

    @Test
    void whatADocumentQuotesInASentence_isSaid() throws IOException {
        String document = unbroken(Files.readString(Path.of("docs/model-for-technicians.md")));
        String falls = "Falls if circle B8 is left out";
        assertThat(document).contains("*" + falls + "*");
        assertThat(said(SAMPLES.get("demo"))).contains(falls);
        // of less likely readings of claims, which stand in the report alone
        String counting =
                "Counting all 23 questions of this trial together, this one alone does not reach the confidence";
        assertThat(document).contains("*" + counting + "*");
        assertThat(Files.readString(out.resolve("demo/report.html"))).contains(counting);
        assertThat(document).contains("*Between 63.8 and 75.0 in*");
        assertThat(said("report testdata/tape-only")).contains("between 63.8 and 75.0 in");
    }

    /** Nothing is run: many of them would write into this folder. */
    @Test
    void everyCommandInADocument_isUnderstood() throws IOException {
        int understood = 0;
        for (String document : List.of(
                "README.md",
                "docs/commands.md",
                "docs/disputes.md",
                "docs/field-guide.md",
                "docs/model-for-technicians.md",
                "reports/README.md")) {
            for (Matcher line = TYPED.matcher(Files.readString(Path.of(document))); line.find(); understood++) {
                String[] arguments = words(line.group(1)).toArray(String[]::new);
                assertThatCode(() -> Fairturn.commandLine().parseArgs(arguments))
                        .as(document + ": " + line.group())
                        .doesNotThrowAnyException();
            }
        }
        assertThat(understood).isGreaterThan(25);
    }

    @Test
    void theMethodStatement_namesThisVersion_andWhatABundleSays() throws IOException {
        String statement = unbroken(Files.readString(Path.of("docs/method-statement.md")));
        Path bundled = out.resolve("bundled");
        Ran.here("report", "testdata/tape-only", "--bundle", "--out", bundled.toString());
        try (ZipFile zip = new ZipFile(bundled.resolve("tape-only.zip").toFile())) {
            String method = new String(
                    zip.getInputStream(zip.getEntry("tape-only/METHOD.txt")).readAllBytes(), StandardCharsets.UTF_8);
            List<String> sections = Pattern.compile("^(.+)\\n-+$", Pattern.MULTILINE)
                    .matcher(method)
                    .results()
                    .map(section -> "*" + section.group(1) + "*")
                    .toList();
            assertThat(sections).hasSize(5);
            String program = method.lines()
                    .filter(line -> line.startsWith("Program: "))
                    .findFirst()
                    .orElseThrow()
                    .substring("Program: ".length());
            assertThat(statement).contains("worked out with " + program + " by this method");
            assertThat(statement).contains(sections);
        }
    }

    @Test
    void theGlossaryHolds_everyColumnOfTheReports() throws IOException {
        Ran.here("archive", "testdata/days", "--out", out.resolve("archive").toString());
        Set<String> headings = new TreeSet<>();
        for (String page :
                List.of("demo/report.html", "complaint/report.html", "days/days.html", "archive/archive.html")) {
            Pattern.compile("<th scope=\"col\">([^<]+)</th>")
                    .matcher(Files.readString(out.resolve(page)))
                    .results()
                    .forEach(heading -> headings.add(heading.group(1)));
        }
        assertThat(headings).hasSizeGreaterThan(100);
        assertThat(Glossary.read().missing(headings)).isEmpty();
    }

    @Test
    void theGlossaryHolds_everyColumnAndFieldOfATrialFolder() throws IOException {
        Path folder = out.resolve("new");
        assertThat(Ran.here("new", folder.toString()).code()).isZero();
        Set<String> columns = new TreeSet<>();
        for (String file : files(folder)) {
            List<String> lines = Files.readAllLines(folder.resolve(file));
            for (String column : lines.get(0).split(",", -1)) {
                columns.add(column.replace(" uncertainty", ""));
            }
            if (file.equals("trial.csv")) {
                lines.stream().map(line -> line.substring(0, line.indexOf(','))).forEach(columns::add);
            }
        }
        assertThat(columns).hasSizeGreaterThan(60);
        assertThat(Glossary.read().missing(columns)).isEmpty();
    }

    /** Lines are broken to fit the page. */
    private static String unbroken(String text) {
        return text.replaceAll("\\s+", " ").strip();
    }

    private static JsonNode json(Path folder) throws IOException {
        return new ObjectMapper().readTree(folder.resolve("results.json").toFile());
    }

    private static Set<String> files(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return new TreeSet<>(all.filter(Files::isRegularFile)
                    .map(file -> folder.relativize(file).toString().replace('\\', '/'))
                    .toList());
        }
    }

    private static String withoutOutlines(String page) {
        return CHART.matcher(page).replaceAll(chart -> {
            Matcher words = Pattern.compile("<(title|desc)[^>]*>.*?</\\1>", Pattern.DOTALL)
                    .matcher(chart.group());
            StringBuilder kept = new StringBuilder();
            while (words.find()) {
                kept.append(words.group());
            }
            return Matcher.quoteReplacement(kept.toString());
        });
    }

    /** Equal, numbers to 1e-5 (mm): processors differ in the last digits of exp and log. */
    private static void assertAlike(String where, JsonNode a, JsonNode b, String howTo) {
        if (a.isNumber() && b.isNumber()) {
            assertThat(b.doubleValue()).as(where + ": " + howTo).isCloseTo(a.doubleValue(), within(1e-5));
        } else if (a.isContainerNode()) {
            assertThat(b.getNodeType()).as(where).isEqualTo(a.getNodeType());
            assertThat(b.size()).as(where + ": " + howTo).isEqualTo(a.size());
            if (a.isArray()) {
                for (int i = 0; i < a.size(); i++) {
                    assertAlike(where + "[" + i + "]", a.get(i), b.get(i), howTo);
                }
            } else {
                a.fieldNames().forEachRemaining(name -> {
                    assertThat(b.has(name))
                            .as(where + "." + name + ": " + howTo)
                            .isTrue();
                    assertAlike(where + "." + name, a.get(name), b.get(name), howTo);
                });
            }
        } else {
            assertThat(b).as(where + ": " + howTo).isEqualTo(a);
        }
    }
}
