package org.fairturn;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.fairturn.cli.CommandTargets;
import org.fairturn.folder.FolderTargets;
import org.fairturn.folder.TrialFile;
import org.fairturn.report.ReportTargets;
import org.fairturn.units.UnitTargets;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** The doors under a fuzzer that watches which branches an input takes. One at a time: -Dtest=DoorsFuzzTest#lengths. */
class DoorsFuzzTest {
    @TempDir
    static Path folder;

    @FuzzTest(maxDuration = "1m")
    void lengths(byte[] input) {
        UnitTargets.lengths(input);
    }

    @FuzzTest(maxDuration = "1m")
    void angles(byte[] input) {
        UnitTargets.others(input);
    }

    @FuzzTest(maxDuration = "1m")
    void cells(byte[] input) {
        FolderTargets.cells(input);
    }

    /** The first byte says which file. */
    @FuzzTest(maxDuration = "1m")
    void files(byte[] input) {
        if (input.length > 0) {
            List<TrialFile> files = List.of(TrialFile.values());
            TrialFile file = files.get(Math.floorMod(input[0], files.size()));
            FolderTargets.file(file, Arrays.copyOfRange(input, 1, input.length));
        }
    }

    /** From a sound one on: hardly any other bytes are a zip. */
    static Stream<Arguments> soundBundle() {
        return Stream.of(Arguments.of(FolderTargets.zipped()));
    }

    @MethodSource("soundBundle")
    @FuzzTest(maxDuration = "1m")
    void bundles(byte[] input) throws IOException {
        FolderTargets.bundle(Files.createDirectories(folder.resolve("zip")), input);
    }

    @FuzzTest(maxDuration = "1m")
    void archives(byte[] input) throws IOException {
        ReportTargets.archive(folder, input);
    }

    @FuzzTest(maxDuration = "1m")
    void arguments(byte[] input) {
        CommandTargets.arguments(input);
    }
}
