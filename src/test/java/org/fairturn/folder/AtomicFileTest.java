package org.fairturn.folder;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.File;
import java.io.IOException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class AtomicFileTest {
    private static final int CRASHED = 86;

    @TempDir
    Path folder;

    private List<String> names() throws IOException {
        try (Stream<Path> list = Files.list(folder)) {
            return list.map(path -> path.getFileName().toString()).sorted().toList();
        }
    }

    @Test
    void newAndOldFiles_areWritten_andNothingElseIsLeft() throws IOException {
        Path file = folder.resolve("a.txt");
        AtomicFile.write(file, "one".getBytes(UTF_8));
        AtomicFile.write(file, "two, longer".getBytes(UTF_8));
        AtomicFile.write(file, new byte[0]);
        AtomicFile.write(file, "three".getBytes(UTF_8));
        assertThat(file).hasContent("three");
        assertThat(names()).containsExactly("a.txt");
    }

    /** Stands in for a crash: the machine stops dead at one step of the write. */
    public static final class Crash {
        private Crash() {}

        public static void main(String[] arguments) throws IOException {
            AtomicFile.Step fatal = AtomicFile.Step.valueOf(arguments[1]);
            AtomicFile.write(
                    Path.of(arguments[0]),
                    Given.MACHINES.replace("Alder 22", "Cedar 30").getBytes(UTF_8),
                    step -> {
                        if (step == fatal) {
                            Runtime.getRuntime().halt(CRASHED);
                        }
                    });
        }
    }

    @ParameterizedTest
    @EnumSource(AtomicFile.Step.class)
    void aCrashAtAnyStep_leavesTheOldContentOrTheNew(AtomicFile.Step step) throws Exception {
        Given given = Given.soundFolder(folder)
                .with("circles.csv", "circle,machine,turn,drive\nB1,Birch 10,left,2WD\n")
                .with("readings.csv", "circle,kind,value\nB1,across,1580\n");
        Process process = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        Path.of("target/test-classes") + File.pathSeparator + Path.of("target/classes"),
                        Crash.class.getName(),
                        folder.resolve("machines.csv").toString(),
                        step.name())
                .redirectErrorStream(true)
                .start();
        assertThat(process.waitFor(60, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue())
                .as(new String(process.getInputStream().readAllBytes(), UTF_8))
                .isEqualTo(CRASHED);
        boolean renamed = step == AtomicFile.Step.RENAMED;
        assertThat(given.trial().machines().get(0).id()).isEqualTo(renamed ? "Cedar 30" : "Alder 22");
        // what the crash left behind is no data
        assertThat(names()).hasSize(renamed ? 4 : 5);
        assertThat(TrialFolder.sheets(folder).sheets())
                .extracting(Sheet::file)
                .containsExactly("trial.csv", "machines.csv", "circles.csv", "readings.csv");
        // and does not stand in the way of the next write
        AtomicFile.write(folder.resolve("machines.csv"), Given.MACHINES.getBytes(UTF_8));
        assertThat(given.trial().machines().get(0).id()).isEqualTo("Alder 22");
    }

    @Test
    void aFailedRename_leavesTheOldContentAndNoTemporaryFile() throws IOException {
        Path taken = Files.createDirectories(folder.resolve("a.txt/inside")).getParent();
        assertThatThrownBy(() -> AtomicFile.write(taken, new byte[] {1})).isInstanceOf(IOException.class);
        assertThat(names()).containsExactly("a.txt");
        assertThat(taken.resolve("inside")).exists();
    }

    @Test
    void permissionsAndLinks_stayAsTheyWere() throws IOException {
        Assumptions.assumeTrue(
                FileSystems.getDefault().supportedFileAttributeViews().contains("posix"), "needs POSIX permissions");
        Path file = Files.writeString(folder.resolve("a.txt"), "old");
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-rw-r--"));
        Path link = Files.createSymbolicLink(folder.resolve("link.txt"), file);
        AtomicFile.write(link, "new".getBytes(UTF_8));
        assertThat(Files.isSymbolicLink(link)).isTrue();
        assertThat(file).hasContent("new");
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
                .isEqualTo("rw-rw-r--");
    }

    @Test
    void aWriteProtectedFile_isLeftAlone() throws IOException {
        Path file = Files.writeString(folder.resolve("a.txt"), "old");
        assertThat(file.toFile().setWritable(false)).isTrue();
        Assumptions.assumeFalse(Files.isWritable(file), "this user may write to protected files");
        assertThatThrownBy(() -> AtomicFile.write(file, new byte[] {1})).isInstanceOf(IOException.class);
        assertThat(file).hasContent("old");
    }
}
