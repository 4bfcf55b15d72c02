package org.fairturn.benchmark;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.fairturn.report.Batch;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/** Folders a second of a batch over copies of the demo. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 5)
@Measurement(iterations = 5, time = 5)
@Fork(1)
public class BatchOfFolders {
    private static final int FOLDERS = 200;

    @Param({"false", "true"})
    public boolean json;

    private Path archive;
    private final List<Path> folders = new ArrayList<>();

    @Setup(Level.Trial)
    public void copy() throws IOException {
        archive = Files.createTempDirectory("fairturn-archive");
        for (int i = 0; i < FOLDERS; i++) {
            Path folder = Files.createDirectory(archive.resolve(String.format("trial-%04d", i)));
            try (Stream<Path> files = Files.list(Path.of("testdata", "demo"))) {
                for (Path file : files.toList()) {
                    Files.copy(file, folder.resolve(file.getFileName()));
                }
            }
            folders.add(folder);
        }
    }

    @TearDown(Level.Trial)
    public void remove() throws IOException {
        try (Stream<Path> all = Files.walk(archive)) {
            all.sorted(Comparator.reverseOrder()).forEach(path -> {
                try {
                    Files.delete(path);
                } catch (IOException refused) {
                    throw new UncheckedIOException(refused);
                }
            });
        }
    }

    @Benchmark
    @OperationsPerInvocation(FOLDERS)
    public int batch() throws IOException {
        int[] lines = new int[1];
        new Batch(archive, json, trial -> trial).run(folders, line -> lines[0]++);
        return lines[0];
    }
}
