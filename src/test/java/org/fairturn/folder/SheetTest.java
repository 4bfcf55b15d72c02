package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
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
    void unknownColumnsAndCells_surviveReading() throws IOException {
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
    }

    @Test
    void aFileThatCannotBeReadToItsEnd_isNoSheet() throws IOException {
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
}
