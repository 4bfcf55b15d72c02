package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
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
import javax.xml.XMLConstants;
import javax.xml.parsers.DocumentBuilderFactory;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.interactive.action.PDActionURI;
import org.apache.pdfbox.pdmodel.interactive.annotation.PDAnnotation;
import org.apache.pdfbox.pdmodel.interactive.annotation.PDAnnotationLink;
import org.fairturn.Skeleton;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.TrialReport;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A trial all of whose texts want to be more than texts, beside one in which a letter stands for each sign they want it with:
 * wherever they are shown, the elements are the same.
 */
class HostileTextTest {
    private static final List<String> HOSTILE = List.of(
            "\"><img src=x onerror=zq1()>",
            "'><svg onload=zq2()>",
            "</script><script>zq3()</script>",
            "</title></style></textarea><b>",
            "=HYPERLINK(\"http://zq4.example\";\"x\")",
            "@import url(//zq5.example)",
            "javascript:zq6()",
            "{{7*7}}${7*7}<%=7*7%>",
            "]]></svg><zq7>",
            "../../../zq8",
            "+cmd|' /C calc'!A0",
            "-1+zq9",
            "--><zq10>",
            "\\\"};zq11();//",
            "%3Cscript%3Ezq12()");
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    Path above;

    private Path hostile;
    private Path plain;

    @BeforeEach
    void trials() throws IOException {
        hostile = trial("hostile", text -> text);
        plain = trial("plain", text -> text.replaceAll("[^A-Za-z0-9 ]", "x"));
    }

    /** As the demo, a text of its own in every cell that holds whatever people write. */
    private Path trial(String name, java.util.function.UnaryOperator<String> made) throws IOException {
        Path folder = Files.createDirectory(above.resolve(name)).resolve("demo");
        Files.createDirectory(folder);
        Set<String> free = Set.of("label", "measurer", "remark", "who", "spindle", "claim", "source");
        Set<String> ids = Set.of("machine", "circle", "known good");
        for (Path from : List.of(Path.of("testdata/demo"), Path.of("testdata/complaint"))) {
            for (String file : List.of(
                    "trial", "machines", "blades", "stops", "circles", "readings", "points", "claims", "references")) {
                Path path = from.resolve(file + ".csv");
                boolean fits = from.endsWith("complaint") ? file.equals("references") : true;
                if (Files.exists(path) && fits && !file.equals("references")) {
                    Files.writeString(folder.resolve(file + ".csv"), rewritten(path, free, ids, made));
                }
            }
        }
        return folder;
    }

    private static String rewritten(
            Path path, Set<String> free, Set<String> ids, java.util.function.UnaryOperator<String> made)
            throws IOException {
        StringBuilder out = new StringBuilder();
        try (CSVParser parser = CSVParser.parse(path, StandardCharsets.UTF_8, CSVFormat.RFC4180)) {
            List<String> header = null;
            for (CSVRecord row : parser) {
                List<String> cells = new ArrayList<>(row.toList());
                if (header == null) {
                    header = cells;
                } else {
                    for (int i = 0; i < cells.size(); i++) {
                        String column = header.get(i);
                        String hostile = HOSTILE.get(Math.floorMod(row.getRecordNumber() + i, HOSTILE.size()));
                        boolean fact = column.equals("value")
                                && Set.of("title", "place", "operator", "surface", "grass", "slope", "weather", "notes")
                                        .contains(cells.get(0));
                        if (ids.contains(column) && !cells.get(i).isEmpty()) {
                            String id = cells.get(i);
                            cells.set(i, made.apply(id + HOSTILE.get(Math.floorMod(id.hashCode(), HOSTILE.size()))));
                        } else if (column.equals("claim") || column.equals("spindle")) {
                            cells.set(i, made.apply(cells.get(i) + hostile));
                        } else if (free.contains(column) || fact) {
                            cells.set(i, made.apply(hostile));
                        }
                    }
                }
                out.append(CSVFormat.RFC4180.format(cells.toArray())).append("\r\n");
            }
        }
        return out.toString();
    }

    private static TrialReport report(Path folder) {
        return TrialFolder.read(folder)
                .fold(
                        read -> TrialReport.of(Analysis.of(read.trial()), TrialReport.asWarnings(read.notes())),
                        faulty -> {
                            throw new AssertionError(faulty.problems());
                        });
    }

    private static void onlyTheElementsOf(String page, String plain, String where) {
        Set<String> more = new TreeSet<>(Skeleton.of(page));
        more.removeAll(Skeleton.of(plain));
        assertThat(more).as(where).isEmpty();
        noAddressOutside(page, where);
    }

    private static final Pattern ADDRESS = Pattern.compile(
            "(?:href|src|action|formaction|hx-get|hx-post|poster|data|xlink:href)\\s*=\\s*(?:\"([^\"]*)\"|'([^']*)')");

    private static void noAddressOutside(String page, String where) {
        Matcher address = ADDRESS.matcher(page);
        while (address.find()) {
            String to = address.group(1) != null ? address.group(1) : address.group(2);
            assertThat(to).as(where).doesNotContainPattern("^\\s*(?i:javascript:|vbscript:|https?:|//|data:text)");
        }
        assertThat(page).as(where).doesNotContainPattern("(?i)style=\"[^\"]*url\\(");
    }

    @Test
    void thePage_theTextsOfDrawings_andTheCard_showThemAsTexts() throws Exception {
        TrialReport one = report(hostile);
        TrialReport other = report(plain);
        assertThat(one.html()).contains("zq1", "zq3", "zq8");
        onlyTheElementsOf(one.html(), other.html(), "report.html");
        List<String> files = one.drawingFiles();
        assertThat(files).isNotEmpty().allSatisfy(file -> assertThat(file).matches("[a-z0-9._-]+"));
        for (int i = 0; i < files.size(); i++) {
            String file = files.get(i);
            if (file.endsWith(".svg")) {
                String svg = new String(one.drawingFile(file).orElseThrow(), StandardCharsets.UTF_8);
                wellFormed(svg);
                onlyTheElementsOf(
                        svg,
                        new String(
                                other.drawingFile(other.drawingFiles().get(i)).orElseThrow(), StandardCharsets.UTF_8),
                        file);
            }
        }
        wellFormed(one.card().svgFile());
        onlyTheElementsOf(one.card().svgFile(), other.card().svgFile(), "card.svg");
    }

    private static void wellFormed(String svg) throws Exception {
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        factory.setFeature(XMLConstants.FEATURE_SECURE_PROCESSING, true);
        factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
        factory.newDocumentBuilder().parse(new ByteArrayInputStream(svg.getBytes(StandardCharsets.UTF_8)));
    }

    @Test
    void everyFile_liesInTheReportsFolder() throws IOException {
        Path out = above.resolve("out/report");
        report(hostile).write(out);
        try (var all = Files.walk(above)) {
            assertThat(all.filter(Files::isRegularFile)
                            .filter(file -> !file.startsWith(hostile) && !file.startsWith(plain)))
                    .isNotEmpty()
                    .allSatisfy(file -> assertThat(file).startsWithRaw(out));
        }
    }

    @Test
    void thePdf_runsNothing_andLeadsNowhereElse() throws IOException {
        try (PDDocument pdf = Loader.loadPDF(report(hostile).pdf())) {
            assertThat(pdf.getDocumentCatalog().getOpenAction()).isNull();
            assertThat(
                            pdf.getDocumentCatalog().getNames() == null
                                    ? null
                                    : pdf.getDocumentCatalog().getNames().getJavaScript())
                    .isNull();
            for (PDPage page : pdf.getPages()) {
                for (PDAnnotation annotation : page.getAnnotations()) {
                    assertThat(annotation).isInstanceOf(PDAnnotationLink.class);
                    assertThat(((PDAnnotationLink) annotation).getAction()).isNotInstanceOf(PDActionURI.class);
                }
            }
        }
    }

    @Test
    void resultsJson_holdsThemAsTheyAre_andResultsCsv_asNoFormula() throws IOException {
        TrialReport report = report(hostile);
        assertThat(JSON.readTree(report.resultsJson())
                        .path("trial")
                        .path("title")
                        .asText())
                .isIn(HOSTILE);
        assertThat(cells(report.resultsCsv())).noneMatch(HostileTextTest::runsAsAFormula);
    }

    private static List<String> cells(String csv) throws IOException {
        try (CSVParser rows = CSVParser.parse(csv, CSVFormat.RFC4180)) {
            return rows.stream().flatMap(CSVRecord::stream).toList();
        }
    }

    /** What spreadsheets take for a formula, the wide signs of East Asian keyboards too; numbers are none. */
    private static boolean runsAsAFormula(String cell) {
        return cell.matches("(?s)\\s*[=+\\-@＝＋－＠].*") && !cell.matches("-?[0-9]+(\\.[0-9]+)?([eE]-?[0-9]+)?");
    }

    /** Names that begin as a formula does, in each table Fairturn makes; the trial's own files keep what was typed. */
    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+1+1", "-1+1", "@SUM(1)", "＝1+1", "＋1", "－1+x", "＠x", "=cmd|' /C calc'!A0"})
    void namesThatBeginAsAFormula_areTextsInEveryTableMade(String name) throws IOException {
        Path folder =
                Served.copy(Path.of("testdata/demo"), above.resolve("formula").resolve("demo"));
        for (String file : List.of("machines", "blades", "stops", "circles", "readings", "claims")) {
            Path path = folder.resolve(file + ".csv");
            String text = Files.readString(path);
            Files.writeString(
                    path,
                    text.replace("Alder 22,", name + ",")
                            .replace(",M1", "," + name)
                            .replace("brochure", name));
        }
        TrialReport report = report(folder);
        List<String> results = cells(report.resultsCsv());
        assertThat(results).noneMatch(HostileTextTest::runsAsAFormula).contains("'" + name);
        try (Served served = Served.on(folder.getParent())) {
            assertThat(cells(settled(served, "/trial/demo/file/results.csv").body()))
                    .noneMatch(HostileTextTest::runsAsAFormula)
                    .contains("'" + name);
            assertThat(served.get("/trial/demo/file/machines.csv").body()).contains("\n" + name + ",");
        } catch (InterruptedException e) {
            throw new AssertionError(e);
        }
    }

    @Test
    void everyPage_showsThemAsTexts() throws InterruptedException {
        Map<String, String> pages = pages(hostile);
        Map<String, String> others = pages(plain);
        assertThat(pages).hasSizeGreaterThan(10);
        // two crawls may come upon other circles
        String every = String.join("", others.values());
        pages.forEach((address, page) -> onlyTheElementsOf(page, every, address));
        assertThat(String.join("", pages.values())).contains("zq1", "zq2", "zq3", "zq10");
    }

    /** All that can be reached by links from the list of trials, each kind of address once or twice. */
    private static Map<String, String> pages(Path trial) throws InterruptedException {
        Map<String, String> pages = new LinkedHashMap<>();
        try (Served served = Served.on(trial.getParent())) {
            List<String> waiting = new ArrayList<>(
                    List.of("/", "/trial/demo/problems", "/trial/demo/report.html", "/trial/demo/row/machines/2"));
            Map<String, Integer> kinds = new LinkedHashMap<>();
            while (!waiting.isEmpty()) {
                String address = waiting.remove(0);
                String kind = address.replaceAll("(circle|machine|row/[a-z]+)/[^/?]+", "$1/x")
                        .replaceAll("[?#].*", "");
                if (pages.containsKey(address) || kinds.merge(kind, 1, Integer::sum) > 2) {
                    continue;
                }
                var answer = settled(served, address);
                assertThat(answer.statusCode()).as(address).isEqualTo(200);
                assertThat(answer.headers().firstValue("Content-Security-Policy"))
                        .as(address)
                        .isPresent();
                if (answer.headers().firstValue("Content-Type").orElse("").startsWith("text/html")) {
                    pages.put(address, answer.body());
                    Matcher link =
                            Pattern.compile("(?:href|hx-get)=\"(/[^\"#]*)").matcher(answer.body());
                    while (link.find()) {
                        String to = link.group(1).replace("&amp;", "&");
                        if (!to.startsWith("/assets") && !to.contains("/chart/")) {
                            waiting.add(to);
                        }
                    }
                }
            }
        }
        return pages;
    }

    /** With what is worked out beside the requests. */
    private static HttpResponse<String> settled(Served served, String address) throws InterruptedException {
        var answer = served.get(address);
        for (int i = 0; i < 400 && answer.body().contains("eing worked out."); i++) {
            Thread.sleep(50);
            answer = served.get(address);
        }
        return answer;
    }

    /** Of what the pages and reports are made of: a page that asks elsewhere for anything says who looks at which trial. */
    @Test
    void noTemplateStyleOrScript_namesAnAddressOutside() throws IOException {
        int files = 0;
        for (Path folder : List.of(Path.of("src/main/jte"), Path.of("src/main/resources/org/fairturn/web"))) {
            try (var all = Files.walk(folder)) {
                for (Path file : all.filter(Files::isRegularFile).toList()) {
                    String text = Files.readString(file).replace("http://www.w3.org/", ""); // names of formats
                    assertThat(text)
                            .as(file.toString())
                            .doesNotContainPattern("(https?:)?//[a-z0-9-]+(\\.[a-z0-9-]+)+");
                    files++;
                }
            }
        }
        assertThat(files).isGreaterThan(30);
    }

    @Test
    void aMessageAboutACell_showsItAsText() throws IOException {
        Path folder = Served.demoBelow(above);
        Files.writeString(
                folder.resolve("circles.csv"),
                "circle,machine,turn,drive\n<img src=x onerror=zq1()>,<b>,\"\"\"><i>\",<script>zq2()</script>\n");
        try (Served served = Served.on(folder)) {
            for (String page : List.of("/trial/demo/problems", "/trial/demo", "/trial/demo/circles")) {
                String body = served.get(page).body();
                assertThat(body).as(page).doesNotContain("<img src=x", "<script>zq2", "<b>", "<i>");
            }
            assertThat(served.get("/trial/demo/problems").body()).contains("&lt;script&gt;zq2()");
        }
    }
}
