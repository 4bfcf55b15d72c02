package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.fairturn.Fuzzing;
import org.fairturn.ZipMaker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Whatever bytes a file holds, it is read or refused in words, and no edit loses what was not understood. */
class FolderFuzzTest {
    @TempDir
    Path folder;

    /** Words of all columns, so that cells stray into columns they do not belong to. */
    private static List<String> words(TrialFile file) {
        List<String> words = new ArrayList<>(file.columns());
        words.addAll(List.of(
                "Alder 22",
                "Basalt 25",
                "A1",
                "left",
                "right",
                "2WD",
                "4WD",
                "across",
                "chord and rise",
                "three stakes",
                "yes",
                "no",
                "unknown",
                "unstated",
                "none",
                "used",
                "uncut diameter",
                "turn radius",
                "1580",
                "62 3/8 in",
                "5 ft 2 in",
                "1.58 m",
                "0",
                "1",
                "3",
                "95 %",
                "II",
                "title",
                "date",
                "length unit",
                "confidence",
                "surface"));
        return words;
    }

    private static List<String> seeds(TrialFile file) {
        String sound = FolderTargets.sound(file).get(file);
        return List.of(
                sound,
                "\uFEFF" + sound.replace("\n", "\r\n"),
                sound.lines().limit(4).reduce("", (a, b) -> a + b + "\n"));
    }

    @ParameterizedTest
    @EnumSource(TrialFile.class)
    void aFile(TrialFile file) {
        String target = file.name().toLowerCase(Locale.ROOT);
        Fuzzing.texts(target, input -> FolderTargets.file(file, input), words(file), seeds(file));
    }

    @Test
    void cells() {
        Fuzzing.texts(
                "cells",
                FolderTargets::cells,
                List.of("\"", "\"\"", ",", "\r", "\n", "\r\n", "\" ", " \"", "\"x\"y", "\"a,b\"", "\"a\nb\""),
                List.of(
                        "circle,machine,remark\nA1,\"Alder, 22\",\"a \"\"b\"\"\"\n\nA2,x\n",
                        "a,b\r\n1,2\r\n",
                        "\uFEFFa\r1\r"));
    }

    @Test
    void aSheetAsWideAsItIsLong_isAnsweredAtOnce() {
        String wide = ",".repeat(400_000) + "circle\n" + "x\n".repeat(400_000);
        assertTimeoutPreemptively(
                Duration.ofSeconds(60),
                () -> assertThat(FolderTargets.file(TrialFile.READINGS, wide.getBytes(StandardCharsets.UTF_8)))
                        .isFalse());
    }

    @Test
    void bundles() {
        List<byte[]> seeds = List.of(FolderTargets.zipped());
        Fuzzing.run(
                "bundles",
                input -> FolderTargets.bundle(folder, input),
                random -> new ZipMaker(random, seeds, words(TrialFile.CIRCLES)).next());
    }

    @ParameterizedTest
    @EnumSource(
            value = TrialFile.class,
            names = {"MACHINES", "CIRCLES", "READINGS", "CLAIMS"})
    void edits(TrialFile file) {
        String target = "edits-" + file.name().toLowerCase(Locale.ROOT);
        Fuzzing.texts(target, input -> FolderTargets.edit(folder, file, input), words(file), seeds(file));
    }
}
