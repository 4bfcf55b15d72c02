package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TrialShelfTest {
    private static final LocalDate DAY = LocalDate.of(2026, 5, 14);

    @TempDir
    Path shelf;

    private static Map<String, String> fields(String title, LocalDate day) {
        return Map.of("title", title, "Date", day.toString(), "length unit", "in", "place", "a, \"b\"");
    }

    private static Path made(TrialShelf.Created created) {
        return created.fold(TrialShelf.Created.Made::folder, refused -> {
            throw new AssertionError(refused.problems().toString());
        });
    }

    private static List<String> refused(TrialShelf.Created created) {
        return created.fold(
                made -> {
                    throw new AssertionError("made " + made.folder());
                },
                refused -> refused.problems().stream().map(Problem::message).toList());
    }

    @ParameterizedTest
    @CsvSource(
            quoteCharacter = '`',
            value = {
                "Lower meadow,lower-meadow",
                "../../etc/passwd,etc-passwd",
                "..,trial",
                "a\\b:c*d,a-b-c-d",
                "…!?,trial",
                "CON,trial-con",
                "lpt1,trial-lpt1",
                "com,com",
                "Über die Wiese №5,über-die-wiese-5",
                "草地 試験,草地-試験",
                "घास का मैदान,घास-का-मैदान",
                "-rf ~,rf",
                ".hidden,hidden"
            })
    void folderNames_areSafe_inAnyScript(String title, String name) {
        assertThat(TrialShelf.nameFor(title)).isEqualTo(name);
    }

    @Test
    void folderNames_ofAnyTitle_stayBelowTheShelf_andFitAnyFileSystem() throws IOException {
        SplittableRandom random = new SplittableRandom(3);
        for (int i = 0; i < 20_000; i++) {
            StringBuilder title = new StringBuilder();
            int most = random.nextBoolean() ? 12 : 300;
            int highest = List.of(0x80, 0x600, 0x10000, 0x20000).get(random.nextInt(4));
            for (int n = 0; n < most; n++) {
                title.appendCodePoint(random.nextInt(1, highest));
            }
            String name = TrialShelf.nameFor(title.toString());
            assertThat(name.getBytes(StandardCharsets.UTF_8)).hasSizeBetween(1, 206);
            assertThat(name).doesNotStartWith(".").doesNotStartWith("-").doesNotContain("/", "\\", "\0", ":");
            assertThat(shelf.resolve(name).normalize().getParent()).isEqualTo(shelf);
            if (i % 500 == 0) {
                Files.createDirectories(shelf.resolve(name + "-1000"));
            }
        }
    }

    @Test
    void aNewTrial_isReadyToFillIn() {
        Path folder = made(TrialShelf.create(shelf.resolve("trials"), fields(" Lower meadow ", DAY)));
        assertThat(folder).isEqualTo(shelf.resolve("trials/lower-meadow"));
        Path second = made(TrialShelf.create(shelf.resolve("trials"), fields("Lower Meadow!", DAY.plusDays(1))));
        assertThat(second).isEqualTo(shelf.resolve("trials/lower-meadow-2"));
        TrialEditor editor = TrialEditor.of(folder);
        assertThat(editor.read().fold(read -> List.<Problem>of(), TrialRead.Faulty::problems))
                .extracting(Problem::message)
                .containsExactly(
                        "machines.csv: found no machine yet; accepted: one row or more, a machine each. Fill in row 2 and those below.",
                        "circles.csv: found no circle yet; accepted: one row or more, a circle each. Fill in row 2 and those below.",
                        "readings.csv: found no reading yet; accepted: one row or more, a reading each, or points in points.csv. Fill in row 2 and those below.");
    }

    @Test
    void whatCannotBeMade_isSaidInWords_andLeavesNothing() throws IOException {
        assertThat(refused(TrialShelf.create(shelf, fields(" ", DAY))))
                .containsExactly(
                        "trial.csv, column \"title\": read an empty cell; accepted: for the field \"title\" a title of your choice.");
        assertThat(refused(TrialShelf.create(shelf, fields("a\nb", DAY))))
                .containsExactly(
                        "trial.csv, column \"title\": read \"a\uFFFDb\"; accepted: a text in one line, without control characters. Write a blank where the line breaks.");
        Path file = Files.writeString(shelf.resolve("file"), "mine");
        assertThat(refused(TrialShelf.create(file, fields("a", DAY))))
                .containsExactly(
                        "file: found a place where no folder can be made; accepted: a place you may write to. Choose another place.");
        try (Stream<Path> files = Files.list(shelf)) {
            assertThat(files).containsExactly(file);
        }
    }
}
