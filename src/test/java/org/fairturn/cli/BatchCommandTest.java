package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BatchCommandTest {
    private static final ObjectMapper JSON = new ObjectMapper();

    @TempDir
    Path above;

    private Path archive;

    @BeforeEach
    void archive() {
        archive = above.resolve("trials");
    }

    private Given folder(String name) {
        return Given.soundFolder(archive.resolve(name));
    }

    private Ran batch(String... more) {
        String[] arguments = new String[more.length + 2];
        arguments[0] = "batch";
        arguments[1] = archive.toString();
        System.arraycopy(more, 0, arguments, 2, more.length);
        return Ran.here(arguments);
    }

    @Test
    void aTable_oneRowAFolder() {
        folder("upper meadow")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Alder 22,left,2WD\nA2,Alder 22,right,2WD\n");
        folder("broken").without("circles.csv");
        folder("lower meadow").with("readings.csv", "circle,kind,value\nA1,acros,1580\nA2,across,-4\n");
        assertThat(batch()).isEqualTo(new Ran(1, """
                        folder        machines  circles  decided  cannot tell  not possible
                        broken        1 problem to mend: fairturn check %1$s/broken
                        lower meadow  2 problems to mend: fairturn check "%1$s/lower meadow"
                        upper meadow         1        2        0            0             1
                        """.formatted(archive), "3 folders: 1 analysed, 2 to mend.\n"));
    }

    @Test
    void aLine_isResultsJson_ofThatFolder() throws IOException {
        folder("b");
        folder("a").with("readings.csv", "circle,kind,value\nA1,across,1580\nA2,across,1640\n");
        folder("deeper/down/c");
        Ran ran = batch("--json-lines");
        assertThat(ran.code()).isZero();
        assertThat(ran.err()).isEqualTo("3 folders: 3 analysed, 0 to mend.\n");
        List<String> lines = ran.out().lines().toList();
        assertThat(lines).hasSize(3);
        for (String folder : List.of("a", "b")) {
            String results = Ran.here("report", archive.resolve(folder).toString(), "--json", "--out", above + "/out")
                    .out();
            assertThat(JSON.readTree(lines.get(folder.equals("a") ? 0 : 1))).isEqualTo(JSON.readTree(results));
        }
        assertThat(JSON.readTree(lines.get(2)).get("trial").get("folder").asText())
                .isEqualTo("c");
        assertThat(JSON.readTree(lines.get(2)).get("trial").get("path").asText())
                .isEqualTo("deeper/down/c");
    }

    @Test
    void aFolderToMend_givesItsErrors_andTheOthersGoOn() throws IOException {
        folder("a").with("readings.csv", "circle,kind,value\nA1,across,\"1,58m\"\nA2,across,1590\n");
        folder("b");
        Files.createDirectories(archive.resolve("c"));
        Ran ran = batch("--json-lines");
        assertThat(ran.code()).isEqualTo(1);
        List<String> lines = ran.out().lines().toList();
        assertThat(lines).hasSize(3);
        assertThat(JSON.readTree(lines.get(0))).isEqualTo(JSON.readTree("""
                        {"format": "1.0", "trial": {"folder": "a"},
                         "errors": [{"file": "readings.csv", "row": 2, "column": "value", "message":
                           "readings.csv, row 2, column \\"value\\": read \\"1,58m\\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\\" or 5 ft 2 in. If the comma is a decimal sign, write a point."}],
                         "warnings": []}"""));
        assertThat(JSON.readTree(lines.get(1)).has("cells")).isTrue();
        assertThat(JSON.readTree(lines.get(2)).get("errors").findValuesAsText("file"))
                .containsExactly("trial.csv", "machines.csv", "circles.csv", "readings.csv");
    }

    /** More folders than may wait, so that their order is not left to chance. */
    @Test
    void manyFolders_comeInOrder_andTheSameEveryTime() throws IOException {
        for (int i = 0; i < 120; i++) {
            Given given = folder("t" + (1000 + i));
            if (i % 3 > 0) { // quick ones among slow ones
                given.without("machines.csv");
            } else {
                given.with("readings.csv", "circle,kind,value\nA1,across," + (1500 + i) + "\nA2,across,1590\n");
            }
        }
        Ran first = batch("--json-lines");
        int i = 0;
        for (String line : first.out().lines().toList()) {
            JsonNode json = JSON.readTree(line);
            assertThat(json.get("trial").get("folder").asText()).isEqualTo("t" + (1000 + i));
            assertThat(json.has("errors")).isEqualTo(i % 3 > 0);
            i++;
        }
        assertThat(i).isEqualTo(120);
        assertThat(batch("--json-lines")).isEqualTo(first);
    }

    @Test
    void toAFile_isTheSame_andNothingIsLeftBeside() throws IOException {
        folder("a");
        folder("b").without("machines.csv");
        var before = Given.everythingBelow(archive);
        Path file = above.resolve("lines.jsonl");
        Files.writeString(file, "old");
        Ran ran = batch("--json-lines", "--out", file.toString());
        assertThat(ran).isEqualTo(new Ran(1, "", "2 folders: 1 analysed, 1 to mend.\n"));
        assertThat(file).hasContent(batch("--json-lines").out());
        assertThat(Given.everythingBelow(archive)).isEqualTo(before);
        try (var files = Files.list(above)) {
            assertThat(files).containsExactlyInAnyOrder(archive, file);
        }
    }

    @Test
    void aPlaceThatCannotBeWritten_isSaid() {
        folder("a");
        Path gone = above.resolve("gone/lines.jsonl");
        assertThat(batch("--out", gone.toString()))
                .isEqualTo(new Ran(
                        1,
                        "",
                        "--out " + gone
                                + ": found no way to write there, its folder is not there; accepted: a file in a"
                                + " folder you may write to, with room on the disk. Choose another with --out.\n"));
    }

    @Test
    void noFolderThere_isSaid() throws IOException {
        assertThat(batch())
                .isEqualTo(
                        new Ran(
                                1,
                                "",
                                archive
                                        + ": found no such folder; accepted: a folder with trial folders in it. Check the path.\n"));
        Files.createDirectories(archive);
        assertThat(batch())
                .isEqualTo(new Ran(
                        1, "", archive + ": found no folder in it; accepted: a folder with trial folders in it.\n"));
        Given.soundFolder(archive);
        assertThat(batch())
                .isEqualTo(new Ran(
                        1,
                        "",
                        archive + ": found no folder in it; accepted: a folder with trial folders in it."
                                + " It is a trial folder itself: fairturn report " + archive + "\n"));
    }

    @Test
    void withoutAFolder_theUsageIsWrong() {
        assertThat(Ran.here("batch").code()).isEqualTo(2);
    }
}
