package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TrialReportTest {
    private static final Pattern CHART = Pattern.compile("<svg.*?</svg\\s*>", Pattern.DOTALL);

    @TempDir
    private static Path out;

    private static String html;
    private static JsonNode json;

    private static Trial trial(String folder) {
        return TrialFolder.read(Path.of(folder)).fold(complete -> complete.trial(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    @BeforeAll
    static void reportOnTheDemo() throws IOException {
        Path report =
                TrialReport.of(Analysis.of(trial("testdata/demo")), List.of()).write(out.resolve("demo"));
        html = Files.readString(report);
        json = new ObjectMapper().readTree(out.resolve("demo/results.json").toFile());
    }

    /** What is read first stands in short above all, and each line leads to the whole of it. */
    @Test
    void inShort_hasALineForEachLeadingFinding_thatLeadsToIt() {
        Matcher line = Pattern.compile(
                        "<li class=\"(\\w+)\"><span class=\"badge\">([^<]+)</span> <span><a href=\"#([^\"]+)\">")
                .matcher(html);
        int lines = 0;
        while (line.find()) {
            lines++;
            assertThat(html)
                    .containsOnlyOnce("id=\"" + line.group(3) + "\"")
                    .contains("<div class=\"answer " + line.group(1) + "\" id=\"" + line.group(3)
                            + "\">\n<p class=\"badge\">" + line.group(2) + "</p>");
        }
        Analysis analysis = Analysis.of(trial("testdata/demo"));
        assertThat(lines)
                .isEqualTo((int)
                        analysis.findings().stream().filter(analysis::leads).count())
                .isGreaterThan(5);
    }

    private static Set<String> files(Path folder) throws IOException {
        try (Stream<Path> all = Files.walk(folder)) {
            return new TreeSet<>(all.filter(Files::isRegularFile)
                    .map(file -> folder.relativize(file).toString().replace('\\', '/'))
                    .toList());
        }
    }

    /** The degree by which a linkage may stray from ideal steering was put in as 17.5 mm, since it is 0.0175 rad. */
    @Test
    void anglesInTheWorking_areInDegrees() {
        Trial demo = trial("testdata/demo");
        Machine basalt = demo.machine("Basalt 25").orElseThrow();
        Trial undesigned = demo.withMachine(new Machine(
                basalt.id(),
                basalt.label(),
                basalt.wheelbase(),
                basalt.frontTrack(),
                Optional.empty(),
                Optional.empty(),
                basalt.deckOffset(),
                basalt.specifiedDeckOffset(),
                basalt.turnCentreShift(),
                basalt.blades(),
                basalt.stops(),
                basalt.tyres()));
        String report = TrialReport.of(Analysis.of(undesigned), List.of()).html();
        assertThat(report.lines()
                        .filter(line -> line.contains("king-pin distance ±"))
                        .reduce("", String::concat))
                .contains("linkage against ideal steering, right ± 1.0° → ")
                .doesNotContain("± 17.5 →");
    }

    @Test
    void resultsJson_keepsTheContract() {
        assertThat(json.get("format").textValue()).isEqualTo("1.0");
        assertThat(names(json.get("trial"))).containsExactly("title", "date", "folder", "dataCode");
        assertThat(json.get("trial").get("folder").textValue()).isEqualTo("demo");
        for (String spread : List.of("circleToCircle", "reading")) {
            assertThat(names(json.get("repeatability").get(spread))).containsExactly("estimate", "low", "high");
        }
        assertThat(json.get("repeatability").get("source").isTextual()).isTrue();
        assertThat(json.get("cells")).hasSize(8);
        for (JsonNode cell : json.get("cells")) {
            assertThat(names(cell))
                    .contains("machine", "turn", "drive", "diameter", "standardUncertainty", "low", "high", "circles")
                    .contains("readings", "turnRadius", "restsOnAssumption");
            assertThat(cell.get("turn").textValue()).isIn("left", "right");
            assertThat(cell.get("drive").textValue()).isIn("2WD", "4WD");
            assertThat(names(cell.get("turnRadius"))).containsExactly("estimate", "low", "high");
            assertThat(cell.get("low").doubleValue())
                    .isLessThan(cell.get("diameter").doubleValue());
            assertThat(cell.get("diameter").doubleValue()).isBetween(1000.0, 3000.0); // millimetres
        }
        for (JsonNode difference : json.get("differences")) {
            assertThat(names(difference)).contains("machine", "from", "to", "estimate", "low", "high", "dataOnly");
            assertThat(names(difference.get("from"))).containsExactly("turn", "drive");
        }
        for (JsonNode finding : json.get("findings")) {
            assertThat(names(finding))
                    .contains(
                            "question",
                            "subject",
                            "verdict",
                            "probability",
                            "estimate",
                            "low",
                            "high",
                            "margin",
                            "parts")
                    .contains("standsUpTo", "robustness", "sentence", "next");
            assertRobustness(finding);
            assertThat(finding.get("question").textValue())
                    .isIn("leftRight", "drive", "claim", "sideBySide", "testers");
            assertThat(finding.get("verdict").textValue())
                    .isIn("within", "beyond", "tighter", "wider", "cannotTell", "notPossible");
            assertThat(finding.get("margin").doubleValue()).isEqualTo(50.8);
            if (finding.get("question").textValue().equals("leftRight")) {
                assertThat(names(finding.get("subject"))).containsExactly("machine", "drive");
                assertPartsAddUp(finding);
            }
        }
        JsonNode sideBySide = json.get("sideBySide");
        assertThat(names(sideBySide)).containsExactly("compared", "ranking", "fairness", "headland", "uncut");
        for (JsonNode c : sideBySide.get("compared")) {
            assertThat(names(c))
                    .containsExactly(
                            "machine", "other", "turn", "drive", "difference", "chassis", "deckReach", "turnRadius");
            assertThat(c.get("chassis").get("estimate").doubleValue()
                            + c.get("deckReach").get("estimate").doubleValue())
                    .isCloseTo(c.get("difference").get("estimate").doubleValue(), within(0.01));
        }
        for (JsonNode point : sideBySide.get("fairness")) {
            assertThat(point.get("status").textValue()).isIn("met", "notMet", "notStated");
        }
        assertThat(names(json.get("testers")))
                .containsExactly("repeatability", "betweenMeasurers", "reproducibility", "scatter", "measured");
        for (JsonNode warning : json.get("warnings")) {
            assertThat(names(warning)).containsExactly("code", "where", "message");
        }
    }

    /** A verdict comes with what would overturn it, in the page as well; without one there is nothing to overturn. */
    private static void assertRobustness(JsonNode finding) {
        JsonNode robustness = finding.get("robustness");
        assertThat(robustness.isNull())
                .isEqualTo(List.of("cannotTell", "notPossible")
                        .contains(finding.get("verdict").textValue()));
        if (!robustness.isNull()) {
            assertThat(names(robustness))
                    .containsExactly(
                            "standsWithoutAnyCircle",
                            "standsWithoutAnyReading",
                            "fallsWithout",
                            "standsWithHalvedRepeatability",
                            "standsWithDoubledRepeatability",
                            "standsWithDeckAtEitherEnd",
                            "sentence");
            assertThat(html)
                    .contains(Table.keepTogether(robustness.get("sentence").textValue()));
        }
    }

    private static void assertPartsAddUp(JsonNode finding) {
        double rest = finding.get("estimate").doubleValue();
        double measured = Double.NaN;
        boolean deck = false;
        for (JsonNode part : finding.get("parts")) {
            assertThat(names(part)).containsExactly("name", "estimate", "standardUncertainty");
            if (part.get("name").textValue().equals("measured")) {
                measured = part.get("estimate").doubleValue();
            } else {
                rest += part.get("estimate").doubleValue();
                deck |= part.get("name").textValue().equals("deckOffset");
            }
        }
        assertThat(deck).isTrue();
        assertThat(rest).isCloseTo(measured, within(0.01)); // a hundredth of a millimetre
    }

    private static List<String> names(JsonNode node) {
        List<String> names = new ArrayList<>();
        for (Iterator<String> it = node.fieldNames(); it.hasNext(); ) {
            names.add(it.next());
        }
        return names;
    }

    @Test
    void aTrialThatLacksSomething_hasNullsWhereNumbersWouldBe() throws IOException {
        JsonNode small = new ObjectMapper()
                .readTree(TrialReport.of(Analysis.of(trial("testdata/tape-only")), List.of())
                        .resultsJson());
        assertThat(small.get("cells").get(0).get("turnRadius").isNull()).isTrue();
        assertThat(small.get("cells").get(0).get("restsOnAssumption").booleanValue())
                .isTrue();
        assertThat(small.get("differences").get(0).get("dataOnly").isNull()).isTrue();
    }

    @Test
    void reportHtml_standsAlone() {
        String page = html.replaceAll("xmlns(:\\w+)?=\"[^\"]*\"", "").replace("url(#", "");
        assertThat(page.contains("http:") || page.contains("https:")).isFalse();
        for (String loads : List.of("src=", "url(", "@import", "<script", "<link", "<iframe", "<object")) {
            assertThat(page.contains(loads)).as(loads).isFalse();
        }
        assertThat(html.contains("default-src 'none'")).isTrue();
        // every chart and plan view stands in the page with a name and a description for those who cannot see it
        Matcher charts = CHART.matcher(html);
        int count = 0;
        while (charts.find()) {
            assertThat(charts.group()).contains("role=\"img\"", "<title", "<desc");
            count++;
        }
        assertThat(count).isEqualTo(7);
        List<String> ids = new ArrayList<>();
        Matcher id = Pattern.compile("\\sid=\"([^\"]+)\"").matcher(html);
        while (id.find()) {
            ids.add(id.group(1));
        }
        assertThat(ids).doesNotHaveDuplicates();
    }

    @Test
    void reportHtml_putsTheVerdictsFirst_andShowsTheWorkingOfEachNumber() {
        List<String> order = List.of(
                "What this trial shows",
                "⚠ Before anyone acts on this",
                "Drawings",
                "Results in tables",
                "Method",
                "The working of each number",
                "The data");
        int at = 0;
        for (String heading : order) {
            int next = html.indexOf(">" + heading, at);
            assertThat(next).as(heading).isGreaterThan(at);
            at = next;
        }
        for (JsonNode finding : json.get("findings")) {
            String sentence = Table.keepTogether(finding.get("sentence").textValue());
            assertThat(html.indexOf(sentence)).as(sentence).isBetween(0, html.indexOf("id=\"drawings-title\""));
        }
        assertThat(html).contains("blades disengaged, brake set, engine stopped, key out");
        assertThat(html).contains("The service manual, local rules and a qualified technician have the last word.");
    }

    @Test
    void theWorking_canBeRedoneByHand() {
        // Each formula is taken from the page and worked out again from the numbers printed in it, to their last digit.
        Matcher mean =
                Pattern.compile("\\(([\\d. +]+)\\)/(\\d+) = ([\\d.]+) mm").matcher(html);
        int means = 0;
        while (mean.find()) {
            double sum = Stream.of(mean.group(1).split("\\+"))
                    .mapToDouble(Double::parseDouble)
                    .sum();
            assertThat(sum / Integer.parseInt(mean.group(2)))
                    .isCloseTo(Double.parseDouble(mean.group(3)), within(0.1001));
            means++;
        }
        assertThat(means).isGreaterThan(10);
        Matcher radius = Pattern.compile(
                        "R = s·y \\+ √\\(\\(D/2 \\+ r\\)² − \\(x − c\\)²\\) = \\(?(−?[\\d.]+)\\)? \\+ √\\(\\(([\\d.]+)/2 \\+ "
                                + "([\\d.]+)\\)² − \\(([\\d.]+) − ([\\d.]+)\\)²\\) = ([\\d.]+) mm")
                .matcher(html);
        int radii = 0;
        while (radius.find()) {
            double y = Double.parseDouble(radius.group(1).replace('−', '-'));
            double reach = Double.parseDouble(radius.group(2)) / 2 + Double.parseDouble(radius.group(3));
            double ahead = Double.parseDouble(radius.group(4)) - Double.parseDouble(radius.group(5));
            assertThat(y + Math.sqrt(reach * reach - ahead * ahead))
                    .isCloseTo(Double.parseDouble(radius.group(6)), within(0.4)); // rounding of five numbers
            radii++;
        }
        assertThat(radii).isEqualTo(16); // 4 left–right pairs and 4 pairs of machines
    }

    @Test
    void claims_comeWithTheirScores_whichCanBeRedoneByHand() {
        int scored = 0;
        for (JsonNode finding : json.get("findings")) {
            if (finding.has("zeta")) {
                assertThat(finding.get("question").textValue()).isEqualTo("claim");
                assertThat(names(finding.get("subject")))
                        .containsExactly("claim", "machine", "turn", "drive", "reading");
                assertThat(finding.get("en").doubleValue())
                        .isCloseTo(finding.get("zeta").doubleValue() / 2, within(1e-5));
                assertThat(finding.get("readingProbability").doubleValue()).isBetween(0.0, 1.0);
                scored++;
            }
        }
        // four readings of C1, two each of C2, C3 and C4, one of C5
        assertThat(scored).isEqualTo(11);
        Matcher zeta = Pattern.compile(
                        "ζ = \\(([\\d.]+) − ([\\d.]+)\\)/√\\(([\\d.]+)² \\+ ([\\d.]+)²\\) = (−?[\\d.]+);")
                .matcher(html);
        int redone = 0;
        while (zeta.find()) {
            double difference = Double.parseDouble(zeta.group(1)) - Double.parseDouble(zeta.group(2));
            double u = Math.hypot(Double.parseDouble(zeta.group(3)), Double.parseDouble(zeta.group(4)));
            // four numbers to a tenth of a millimetre, the score to a hundredth
            assertThat(difference / u)
                    .isCloseTo(Double.parseDouble(zeta.group(5).replace('−', '-')), within(0.005 + 0.3 / u + 0.01));
            redone++;
        }
        assertThat(redone).isEqualTo(11);
    }

    @Test
    void stops_standInResults_andOneWithoutContactLeadsThePage() throws IOException {
        assertThat(json.get("stops")).hasSize(4);
        JsonNode basalt = json.get("stops").get(3);
        assertThat(basalt.get("machine").textValue()).isEqualTo("Basalt 25");
        assertThat(basalt.get("touchesAxle").isNull()).isTrue();
        assertThat(basalt.get("found").get("protrusion").doubleValue()).isCloseTo(4.4, within(1e-6));
        assertThat(basalt.get("set").isNull()).isTrue();
        Path folder = out.resolve("loose");
        Files.createDirectories(folder);
        for (String file : List.of("trial", "machines", "blades", "circles", "readings", "points", "claims")) {
            Files.copy(Path.of("testdata/demo", file + ".csv"), folder.resolve(file + ".csv"));
        }
        Files.writeString(
                folder.resolve("stops.csv"),
                Files.readString(Path.of("testdata/demo/stops.csv")).replace("unknown", "no"));
        TrialReport report = TrialReport.of(Analysis.of(trial(folder.toString())), List.of());
        assertThat(report.sentences().stream().filter(s -> s.contains(" | ")).findFirst())
                .hasValueSatisfying(
                        first -> assertThat(first)
                                .startsWith(
                                        "⚠ mend this first | Basalt 25: the right stop does not touch the axle at full lock, so"));
    }

    @Test
    void drawings_areWrittenAsFiles() throws Exception {
        for (String name : List.of("diameters", "left-right", "run-order")) {
            Path svg = out.resolve("demo/charts/" + name + ".svg");
            var document = DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(new ByteArrayInputStream(Files.readAllBytes(svg)));
            assertThat(document.getDocumentElement().getAttribute("role")).isEqualTo("img");
            var picture =
                    ImageIO.read(out.resolve("demo/charts/" + name + ".png").toFile());
            assertThat(picture.getWidth()).isGreaterThan(600);
        }
        assertThat(out.resolve("demo/charts/plan-alder-22.svg")).content().contains("<text");
    }

    @Test
    void whatPeopleTyped_cannotBreakThePage() throws IOException {
        Trial demo = trial("testdata/demo");
        Path target = out.resolve("hostile");
        Warning note = new Warning("folder", "<b>x</b>", "<script>alert(1)</script> & \"quotes\"");
        String page = Files.readString(
                TrialReport.of(Analysis.of(demo), List.of(note)).write(target));
        assertThat(page).doesNotContain("<script>").contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp;");
    }

    @Test
    void aSecondReport_replacesTheFirst_andLeavesNothingElse() throws IOException {
        Path target = out.resolve("twice");
        Analysis analysis = Analysis.of(trial("testdata/metric"));
        TrialReport.of(analysis, List.of()).write(target);
        Set<String> first = files(target);
        String before = Files.readString(target.resolve("report.html"));
        TrialReport.of(analysis, List.of()).write(target);
        assertThat(files(target)).isEqualTo(first);
        assertThat(Files.readString(target.resolve("report.html"))).isEqualTo(before);
    }
}
