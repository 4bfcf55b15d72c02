package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SheetTest {
    @TempDir
    Path folder;

    private Sheet onDisk() {
        TrialFolder.Sheets read = TrialFolder.sheets(folder);
        assertThat(read.problems()).isEmpty();
        assertThat(read.sheets()).hasSize(1);
        return read.sheets().get(0);
    }

    @Test
    void unknownColumnsAndCells_surviveReadingAndWriting() throws IOException {
        Files.writeString(
                folder.resolve("readings.csv"),
                "\uFEFF Circle ,kind,value, my own column ,\n"
                        + "A1 ,across, 62 3/8\",\"two\nlines, \"\"quoted\"\"\",x\n"
                        + "\n"
                        + ",,\n"
                        + "B1,across,1\u00a0580,ünï…,,,\n");
        Sheet read = onDisk();
        assertThat(read.header()).containsExactly(" Circle ", "kind", "value", " my own column ", "");
        assertThat(read.rows())
                .containsExactly(
                        List.of("A1 ", "across", " 62 3/8\"", "two\nlines, \"quoted\"", "x"),
                        List.of(""),
                        List.of("", "", ""),
                        List.of("B1", "across", "1\u00a0580", "ünï…", "", "", ""));
        assertThat(TrialFolder.save(folder, read)).isEmpty();
        assertThat(onDisk()).isEqualTo(read);
    }

    @Test
    void savedSheet_isUtf8WithoutMark_andRowsEndInCrLf() throws IOException {
        Sheet sheet = new Sheet("points.csv", List.of("circle", "x"), List.of(List.of("ä,1", "2\""), List.of("", "3")));
        assertThat(TrialFolder.save(folder, sheet)).isEmpty();
        assertThat(Files.readString(folder.resolve("points.csv")))
                .isEqualTo("circle,x\r\n\"ä,1\",\"2\"\"\"\r\n\"\",3\r\n");
    }

    @Test
    void anyCells_surviveWritingAndReading() {
        SplittableRandom random = new SplittableRandom(42);
        String alphabet = "aä ,;\"'\n\r\t#=+-\\0½\u00a0\uFEFF😀";
        for (int round = 0; round < 300; round++) {
            List<List<String>> rows = new ArrayList<>();
            for (int r = random.nextInt(1, 6); r > 0; r--) {
                List<String> row = new ArrayList<>();
                for (int c = random.nextInt(1, 5); c > 0; c--) {
                    StringBuilder cell = new StringBuilder();
                    int[] letters = alphabet.codePoints().toArray();
                    for (int n = random.nextInt(5); n > 0; n--) {
                        cell.appendCodePoint(letters[random.nextInt(letters.length)]);
                    }
                    row.add(cell.toString());
                }
                rows.add(row);
            }
            Sheet sheet = new Sheet("claims.csv", List.of("claim", "who"), rows);
            assertThat(TrialFolder.save(folder, sheet)).isEmpty();
            assertThat(onDisk()).isEqualTo(sheet);
        }
    }

    @Test
    void aFileThatCannotBeReadToItsEnd_isNoSheet_soThatSavingNeverCutsIt() throws IOException {
        Files.writeString(folder.resolve("points.csv"), "circle,x,y\nA1,\"0,0\nA1,1,1\n");
        TrialFolder.Sheets read = TrialFolder.sheets(folder);
        assertThat(read.sheets()).isEmpty();
        assertThat(read.problems()).hasSize(1);
    }

    @Test
    void aSheetIsOneOfTheFilesOfATrial() {
        assertThatThrownBy(() -> new Sheet("../trial.csv", List.of(), List.of()))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("file is ../trial.csv; must be one of [trial.csv, machines.csv, blades.csv, stops.csv, "
                        + "circles.csv, readings.csv, points.csv, claims.csv, references.csv]");
    }

    @Test
    void aFolderThatMayNotBeWrittenTo_isSaidInWords() {
        assertThat(folder.toFile().setWritable(false)).isTrue();
        Assumptions.assumeFalse(Files.isWritable(folder), "this user may write everywhere");
        Sheet sheet = new Sheet("points.csv", List.of("circle"), List.of());
        assertThat(TrialFolder.save(folder, sheet).orElseThrow().message())
                .isEqualTo(
                        "points.csv: found no way to write it; accepted: a file and a folder you may write to, with room"
                                + " on the disk. What the file held before is untouched; mend this and save again.");
    }

    @Test
    void whatCannotBeSaved_isSaidInWords() throws IOException {
        Sheet sheet = new Sheet("points.csv", List.of("circle"), List.of());
        assertThat(TrialFolder.save(folder.resolve("gone"), sheet).orElseThrow().message())
                .isEqualTo(
                        "gone: found no such folder; accepted: a folder with trial.csv, machines.csv, blades.csv, "
                                + "stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Check the path.");
        Files.createDirectory(folder.resolve("points.csv"));
        assertThat(TrialFolder.save(folder, sheet).orElseThrow().message())
                .isEqualTo("points.csv: found a folder of that name; accepted: a CSV file. Move or rename the folder.");
    }
}
