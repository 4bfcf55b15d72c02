package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The one jar people download. The build runs these tests in its phase verify, once the jar is there. */
class JarTest {
    private static final Path JAR = Path.of("target/fairturn.jar").toAbsolutePath();

    @TempDir
    Path above;

    private Ran jar(String... arguments) {
        Assumptions.assumeTrue(Files.exists(JAR), "target/fairturn.jar is not built yet: mvn -q package -DskipTests");
        List<String> command = new ArrayList<>(List.of(Ran.java(), "-jar", JAR.toString()));
        command.addAll(List.of(arguments));
        return Ran.process(above, Map.of(), command);
    }

    @Test
    void reportsOnTheDemo() {
        Ran ran = jar("report", Given.DEMO.toString());
        assertThat(ran.all()).doesNotContain("\tat ");
        assertThat(ran.code()).isZero();
        assertThat(above.resolve("reports/demo/report.html")).isNotEmptyFile();
    }

    /** Letters, template and PDF library have to be in the jar and to find each other there. */
    @Test
    void writesAFieldSheet() throws IOException {
        Given.soundFolder(above.resolve("meadow")).without("readings.csv");
        Ran ran = jar("sheet", "meadow", "--paper", "letter", "--readings", "3");
        assertThat(ran).isEqualTo(new Ran(0, "meadow-sheet.pdf\n", "The field sheet is meadow-sheet.pdf.\n"));
        try (PDDocument pdf = Loader.loadPDF(above.resolve("meadow-sheet.pdf").toFile())) {
            assertThat(new PDFTextStripper().getText(pdf)).contains("Run order: Lower meadow", "A1 Alder 22 left 2WD");
            for (COSName name : pdf.getPage(0).getResources().getFontNames()) {
                assertThat(pdf.getPage(0).getResources().getFont(name).isEmbedded())
                        .isTrue();
            }
        }
    }

    @Test
    void knowsItsVersion() {
        assertThat(jar("--version").out()).matches("fairturn \\d+\\.\\d+\\.\\d+\\S*\nJava \\d+.*\n");
    }

    @Test
    void servesItsPages() throws Exception {
        Assumptions.assumeTrue(Files.exists(JAR), "target/fairturn.jar is not built yet: mvn -q package -DskipTests");
        List<String> said = ServeCommandTest.served(
                above, List.of(Ran.java(), "-jar", JAR.toString(), "serve", Given.DEMO.toString(), "--port", "0"));
        assertThat(said.get(1)).contains("Alder 22 and Basalt 25, left and right, 2WD and 4WD", "/htmx.js");
    }
}
