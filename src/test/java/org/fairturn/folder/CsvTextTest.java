package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class CsvTextTest {
    private static final String LETTERS = "aé,,,\"\"\"\r\n\n \t𝄞";

    /** What the CSV library makes of a text; empty where it could not read it to its end. */
    private static Optional<List<List<String>>> library(String text) {
        return FolderFiles.rows("x.csv", List.of(), FolderFiles.withoutMark(text), new Problems())
                .filter(FolderFiles.Rows::whole)
                .map(FolderFiles.Rows::cells);
    }

    private static List<List<String>> cells(CsvText csv) {
        return IntStream.range(0, csv.size()).mapToObj(csv::values).toList();
    }

    private static String random(SplittableRandom random, int most) {
        int[] letters = LETTERS.codePoints().toArray();
        StringBuilder text = new StringBuilder();
        for (int i = random.nextInt(most + 1); i > 0; i--) {
            text.appendCodePoint(letters[random.nextInt(letters.length)]);
        }
        return text.toString();
    }

    @Test
    void itSeesTheCellsThatTheLibrarySees() {
        SplittableRandom random = new SplittableRandom(20260514);
        int read = 0;
        for (int i = 0; i < 60_000; i++) {
            String text = (random.nextInt(4) == 0 ? "\uFEFF" : "") + random(random, 14);
            Optional<List<List<String>>> expected = library(text);
            if (expected.isPresent()) {
                read++;
                assertThat(cells(CsvText.of(text))).as(text).isEqualTo(expected.get());
            }
        }
        assertThat(read).isGreaterThan(15_000);
    }

    @Test
    void aChangedCell_isTheOnlyThingThatChanges() {
        SplittableRandom random = new SplittableRandom(7);
        int changed = 0;
        for (int i = 0; i < 20_000; i++) {
            String end = List.of("\n", "\r\n", "\r").get(random.nextInt(3));
            String text = "a,b,\"c\"" + end + random(random, 16);
            Optional<List<List<String>>> before = library(text);
            if (before.isEmpty() || before.get().size() < 2) {
                continue;
            }
            changed++;
            int line = 1 + random.nextInt(before.get().size() - 1);
            String value = random(random, 4).replaceAll("[\\r\\n\\t]", "");
            CsvText after = CsvText.of(text).withCells(line, Map.of("b", value));
            List<List<String>> read = library(after.text()).orElseThrow();
            assertThat(read).hasSameSizeAs(before.get());
            for (int row = 0; row < read.size(); row++) {
                if (row != line) {
                    assertThat(read.get(row)).as(text).isEqualTo(before.get().get(row));
                }
            }
            assertThat(after.value(line, "b")).as(text).isEqualTo(value);
            assertThat(read.get(line).get(0)).isEqualTo(before.get().get(line).get(0));
            assertThat(read.get(line).stream().skip(2).toList())
                    .isEqualTo(before.get().get(line).stream().skip(2).toList());
            // to the byte, line ends and quotes included
            assertThat(after.without(line).text())
                    .isEqualTo(CsvText.of(text).without(line).text());
            // and back: where the cell was there, only its own quotes may differ
            List<String> was = before.get().get(line);
            assertThat(library(after.withCells(line, Map.of("b", was.size() > 1 ? was.get(1) : ""))
                            .text()))
                    .hasValueSatisfying(rows ->
                            assertThat(rows.get(line).subList(0, was.size())).isEqualTo(was));
        }
        assertThat(changed).isGreaterThan(4_000);
    }

    @Test
    void aRowAtTheEnd_leavesEveryCharacterBeforeIt() {
        SplittableRandom random = new SplittableRandom(11);
        int appended = 0;
        for (int i = 0; i < 20_000; i++) {
            String text = "a,b,c\r\n" + random(random, 12);
            Optional<List<List<String>>> before = library(text);
            if (before.isPresent()) {
                appended++;
                CsvText after = CsvText.of(text).withRow(Map.of("a", "1", "c", "x,\"y\""));
                assertThat(after.text()).startsWith(text).endsWith("1,,\"x,\"\"y\"\"\"\r\n");
                List<List<String>> read = library(after.text()).orElseThrow();
                assertThat(read.subList(0, read.size() - 1)).as(text).isEqualTo(before.get());
                assertThat(read.get(read.size() - 1)).containsExactly("1", "", "x,\"y\"");
                assertThat(after.without(after.size() - 1).text()).startsWith(text);
            }
        }
        assertThat(appended).isGreaterThan(4_000);
    }
}
