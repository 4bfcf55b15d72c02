package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class NewFolderTest {
    @TempDir
    Path above;

    private static List<String> messages(List<Problem> problems) {
        return problems.stream().map(Problem::message).toList();
    }

    @Test
    void aNewFolder_saysWhatIsLeftToFillIn() {
        Path folder = above.resolve("2026/May");
        assertThat(TrialFolder.create(folder)).isEmpty();
        TrialRead read = TrialFolder.read(folder);
        assertThat(read).isInstanceOfSatisfying(TrialRead.Faulty.class, faulty -> {
            assertThat(messages(faulty.problems()))
                    .containsExactly(
                            "trial.csv, row 2, column \"value\": read an empty cell; accepted: for the field \"title\" a title of your choice.",
                            "trial.csv, row 3, column \"value\": read an empty cell; accepted: for the field \"date\" a day written year-month-day, such as 2026-05-14.",
                            "machines.csv: found no machine yet; accepted: one row or more, a machine each. Fill in row 2 and those below.",
                            "circles.csv: found no circle yet; accepted: one row or more, a circle each. Fill in row 2 and those below.",
                            "readings.csv: found no reading yet; accepted: one row or more, a reading each, or points in points.csv. Fill in row 2 and those below.");
            assertThat(faulty.notes()).isEmpty();
        });
    }

    @Test
    void aNewFolder_hasEveryFileAndColumn_andTheDefaultsWrittenOut() throws IOException {
        Path folder = above.resolve("new");
        assertThat(TrialFolder.create(folder)).isEmpty();
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files.map(path -> path.getFileName().toString()))
                    .containsExactlyInAnyOrderElementsOf(TrialFile.names());
        }
        assertThat(folder.resolve("circles.csv")).hasContent("circle,machine,turn,drive,order,laps,brakes,use,remark");
        assertThat(Files.readString(folder.resolve("trial.csv")))
                .isEqualTo(String.join(
                        "\r\n",
                        "field,value",
                        "title,",
                        "date,",
                        "length unit,mm",
                        "place,",
                        "operator,",
                        "surface,",
                        "grass,",
                        "slope,",
                        "weather,",
                        "tape class,",
                        "edge definition,",
                        "practical margin,50 mm",
                        "confidence,95 %",
                        "assumed circle repeatability,",
                        "assumed reading repeatability,",
                        "mowing speed,",
                        "notes,",
                        ""));
    }

    @Test
    void aNewFolder_filledIn_isATrial() {
        Path folder = above.resolve("new");
        assertThat(TrialFolder.create(folder)).isEmpty();
        Given.soundFolder(folder).trial();
    }

    @Test
    void aFolderWithTrialFiles_isLeftAlone() throws IOException {
        Files.writeString(above.resolve("Readings.csv"), "mine");
        Files.writeString(above.resolve("other.txt"), "mine too");
        assertThat(messages(TrialFolder.create(above)))
                .containsExactly(
                        "readings.csv: found a file that is there already; accepted: a folder without any trial file. Choose another folder; nothing was changed in this one.");
        try (Stream<Path> files = Files.list(above)) {
            assertThat(files.map(path -> path.getFileName().toString()))
                    .containsExactlyInAnyOrder("Readings.csv", "other.txt");
        }
        assertThat(above.resolve("Readings.csv")).hasContent("mine");
    }

    @Test
    void otherFiles_doNotStandInTheWay() throws IOException {
        Files.writeString(above.resolve("photo.jpg"), "mine");
        assertThat(TrialFolder.create(above)).isEmpty();
        assertThat(above.resolve("photo.jpg")).hasContent("mine");
    }

    @Test
    void aPlaceThatIsNoFolder_isSaidInWords() throws IOException {
        Path file = Files.writeString(above.resolve("trial.txt"), "mine");
        assertThat(messages(TrialFolder.create(file)))
                .containsExactly(
                        "trial.txt: found a file; accepted: a folder with trial.csv, machines.csv, blades.csv, stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Name the folder the files lie in, not a file in it.");
        assertThat(messages(TrialFolder.create(file.resolve("below"))))
                .containsExactly(
                        "below: found a place where no folder can be made; accepted: a place you may write to. Choose another place.");
    }
}
