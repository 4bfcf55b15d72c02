package org.fairturn;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.fairturn.geometry.Ackermann;
import org.fairturn.geometry.BladeDisc;
import org.fairturn.geometry.Deck;
import org.fairturn.report.Cautions;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Element;

/** What the documents point at is there, and their pictures can be read by everybody and show what is so. */
class DocumentsTest {
    private static final Path PICTURES = Path.of("docs/pictures");
    private static final Pattern LINK = Pattern.compile("\\]\\(([^)\\s]+)\\)");

    private static List<Path> documents() throws IOException {
        List<Path> documents = new ArrayList<>();
        for (String folder : List.of(".", "docs", "docs/decisions", "reports")) {
            try (Stream<Path> files = Files.list(Path.of(folder))) {
                files.filter(file -> file.toString().endsWith(".md")).forEach(documents::add);
            }
        }
        assertThat(documents).hasSizeGreaterThan(10);
        return documents;
    }

    private static List<Path> pictures() throws IOException {
        try (Stream<Path> files = Files.list(PICTURES)) {
            return files.toList();
        }
    }

    @Test
    void everyLink_leadsToAFileAndAHeadingOfIt() throws IOException {
        List<String> dead = new ArrayList<>();
        for (Path document : documents()) {
            for (String link : LINK.matcher(Files.readString(document))
                    .results()
                    .map(found -> found.group(1))
                    .filter(target -> !target.startsWith("https://"))
                    .toList()) {
                int hash = link.indexOf('#');
                String file = hash < 0 ? link : link.substring(0, hash);
                Path target = file.isEmpty() ? document : document.resolveSibling(file);
                if (!Files.exists(target) || (hash >= 0 && !anchors(target).contains(link.substring(hash + 1)))) {
                    dead.add(document + ": " + link);
                }
            }
        }
        assertThat(dead).isEmpty();
    }

    @Test
    void whatTheServerGuardsAgainst_namesTestsThatThereAre() throws IOException {
        List<String> rows = Files.readAllLines(Path.of("SECURITY.md")).stream()
                .filter(line -> line.startsWith("| ") && !line.startsWith("| against"))
                .toList();
        assertThat(rows).hasSizeGreaterThan(10);
        List<String> tests;
        try (Stream<Path> files = Files.walk(Path.of("src/test/java"))) {
            tests = files.map(file -> file.getFileName().toString()).toList();
        }
        for (String row : rows) {
            List<String> named = Pattern.compile("`([A-Z][A-Za-z]*Test)`")
                    .matcher(row)
                    .results()
                    .map(found -> found.group(1) + ".java")
                    .toList();
            assertThat(!named.isEmpty() || row.contains("FuzzTest`s")).as(row).isTrue();
            assertThat(tests).as(row).containsAll(named);
        }
    }

    /** As GitHub names headings: lower case, blanks to hyphens, punctuation left out. */
    private static List<String> anchors(Path document) throws IOException {
        return Files.readAllLines(document).stream()
                .filter(line -> line.startsWith("#"))
                .map(line -> line.replaceFirst("^#+ ", "")
                        .toLowerCase(Locale.ROOT)
                        .replaceAll("[^\\p{L}\\p{N} _-]", "")
                        .replace(' ', '-'))
                .toList();
    }

    @Test
    void theFieldGuide_saysEveryCaution() throws IOException {
        String guide = Files.readString(Path.of("docs/field-guide.md"))
                .replace("**", "")
                .replaceAll("\\s+", " ");
        assertThat(guide).contains(Cautions.ALL);
    }

    @Test
    void everyClassTheModelNames_isThere() throws IOException {
        List<String> named = Pattern.compile("`([a-z]+\\.)?([A-Z][A-Za-z]+)`")
                .matcher(Files.readString(Path.of("docs/model.md")))
                .results()
                .map(found -> found.group(1) == null
                        ? found.group(2) + ".java"
                        : "main/java/org/fairturn/" + found.group(1).replace('.', '/') + found.group(2) + ".java")
                .toList();
        assertThat(named).hasSizeGreaterThan(40);
        try (Stream<Path> sources = Files.walk(Path.of("src"))) {
            List<String> files =
                    sources.map(file -> file.toString().replace('\\', '/')).toList();
            assertThat(named)
                    .allSatisfy(name -> assertThat(files).as(name).anyMatch(file -> file.endsWith("/" + name)));
        }
    }

    @Test
    void everyPicture_isShown_hasATitleAndDescription_andColoursForDarkPages() throws Exception {
        StringBuilder text = new StringBuilder();
        for (Path document : documents()) {
            text.append(Files.readString(document));
        }
        assertThat(pictures()).isNotEmpty();
        for (Path picture : pictures()) {
            Element svg = DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(picture.toFile())
                    .getDocumentElement();
            assertThat(text).as("shown in a document").contains("(pictures/" + picture.getFileName() + ")");
            assertThat(svg.getAttribute("role")).as(picture.toString()).isEqualTo("img");
            for (String word : List.of("title", "desc")) {
                Element said = (Element) svg.getElementsByTagName(word).item(0);
                assertThat(said.getTextContent()).as(picture + " " + word).isNotBlank();
                assertThat(svg.getAttribute("aria-labelledby").split(" ")).contains(said.getAttribute("id"));
            }
            // its own paper, so that ink and ground change together wherever it is shown
            assertThat(Files.readString(picture))
                    .contains("@media (prefers-color-scheme: dark)", "<rect class=\"paper\"");
        }
    }

    @Test
    void theDeckOffsetPicture_saysWhatTheDemosTrueDeckLeaves() throws IOException {
        // blades and turn radius of the Alder 22 as testdata/demo/README.md states them, turn centre on the axle line
        Deck deck = new Deck(
                List.of(
                        new BladeDisc(0.660, 0.498, 0.236),
                        new BladeDisc(0.860, 0.048, 0.236),
                        new BladeDisc(0.660, -0.402, 0.236)),
                0);
        assertThat(figures("deck-offset.svg", "uncut: ([0-9.]+) m across"))
                .satisfiesExactly(
                        left -> assertThat(left).isCloseTo(deck.uncutDiameter(1.312, 1), within(0.005)),
                        right -> assertThat(right).isCloseTo(deck.uncutDiameter(1.312, -1), within(0.005)));
    }

    @Test
    void theStopPicture_saysWhatTheComplaintsTrueStopDoes() throws IOException {
        // steering of the Cedar 24 as testdata/complaint/README.md states it: 4.5 mm over an arm of 80 mm
        Ackermann steering = new Ackermann(1.5, 0.96);
        double lock = Math.toRadians(58);
        assertThat(figures("stop.svg", "([0-9.]+) m: stop"))
                .satisfiesExactly(
                        by -> assertThat(by).isCloseTo(steering.turnRadius(lock), within(0.005)),
                        off -> assertThat(off).isCloseTo(steering.turnRadius(lock - 4.5 / 80), within(0.005)));
    }

    private static List<Double> figures(String picture, String pattern) throws IOException {
        return Pattern.compile(pattern)
                .matcher(Files.readString(PICTURES.resolve(picture)))
                .results()
                .map(found -> Double.parseDouble(found.group(1)))
                .toList();
    }
}
