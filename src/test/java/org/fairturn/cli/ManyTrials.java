package org.fairturn.cli;

import java.io.IOException;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * Makes an archive of trials like the demo, each with readings of its own, and measures {@code batch} on it:
 * {@code java -cp … org.fairturn.cli.ManyTrials DIR 1000}. Prints folders a second and, where /proc tells it, the most memory
 * the program held.
 */
final class ManyTrials {
    private static final double CIRCLE = 0.010;
    private static final double READING = 0.004;

    private ManyTrials() {}

    public static void main(String[] arguments) throws IOException, InterruptedException {
        Path archive = Path.of(arguments[0]);
        int count = Integer.parseInt(arguments[1]);
        List<String> flags = List.of(arguments).subList(2, arguments.length);
        make(archive, count, 20260516);
        System.out.println(measure(archive, count, flags));
    }

    /** The archive; folders that are there already stay. The same seed makes the same archive. */
    static void make(Path archive, int count, long seed) throws IOException {
        Files.createDirectories(archive);
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < count; i++) {
            SplittableRandom own = random.split();
            Path folder = archive.resolve(String.format(Locale.ROOT, "trial-%06d", i));
            if (!Files.exists(folder)) {
                copy(folder, own);
            }
        }
    }

    private static void copy(Path folder, SplittableRandom random) throws IOException {
        Files.createDirectory(folder);
        try (Stream<Path> files = Files.list(Given.DEMO)) {
            for (Path file : files.filter(f -> f.toString().endsWith(".csv")).toList()) {
                Path copy = folder.resolve(file.getFileName());
                if (file.endsWith("readings.csv")) {
                    Files.writeString(copy, changed(file, random));
                } else {
                    Files.copy(file, copy);
                }
            }
        }
    }

    /** The readings laid straight across, each circle and each reading off by a little. */
    private static String changed(Path readings, SplittableRandom random) throws IOException {
        Map<String, Double> circles = new HashMap<>();
        StringBuilder text = new StringBuilder();
        try (Reader reader = Files.newBufferedReader(readings)) {
            for (CSVRecord row : CSVFormat.RFC4180.parse(reader)) {
                List<String> cells = new ArrayList<>(row.toList());
                if (cells.get(1).equals("across")) {
                    double off = circles.computeIfAbsent(cells.get(0), id -> CIRCLE * normal(random))
                            + READING * normal(random);
                    double metres = Length.parse(cells.get(2), LengthUnit.INCH)
                                    .orThrow()
                                    .metres()
                            + off;
                    cells.set(2, String.format(Locale.ROOT, "%.0f mm", 1000 * metres));
                }
                CSVFormat.RFC4180.printRecord(text, cells.toArray());
            }
        }
        return text.toString();
    }

    /** By the polar way of Box and Muller. */
    private static double normal(SplittableRandom random) {
        return Math.sqrt(-2 * Math.log(1 - random.nextDouble())) * Math.cos(2 * Math.PI * random.nextDouble());
    }

    private static String measure(Path archive, int count, List<String> flags)
            throws IOException, InterruptedException {
        Path out = Files.createTempFile("lines", ".jsonl");
        List<String> command = new ArrayList<>(List.of(Ran.java()));
        command.addAll(flags);
        command.addAll(List.of("-cp", System.getProperty("java.class.path"), "org.fairturn.cli.Fairturn"));
        command.addAll(List.of("batch", archive.toString(), "--json-lines"));
        long start = System.nanoTime();
        Process process = new ProcessBuilder(command)
                .redirectOutput(out.toFile())
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        String most = "";
        do {
            most = mostMemory(process.pid(), most);
        } while (!process.waitFor(50, TimeUnit.MILLISECONDS));
        double seconds = (System.nanoTime() - start) / 1e9;
        long lines;
        try (Stream<String> written = Files.lines(out, StandardCharsets.UTF_8)) {
            lines = written.count();
        }
        if (process.exitValue() != 0 || lines != count) {
            throw new IllegalStateException("exit code " + process.exitValue() + ", " + lines + " lines of " + count);
        }
        Files.delete(out);
        return String.format(
                Locale.ROOT, "%d folders in %.1f s: %.0f a second; %s", count, seconds, count / seconds, most);
    }

    private static String mostMemory(long process, String before) {
        try (Stream<String> status = Files.lines(Path.of("/proc/" + process + "/status"))) {
            return status.filter(line -> line.startsWith("VmHWM")).findFirst().orElse(before);
        } catch (IOException | java.io.UncheckedIOException gone) {
            return before;
        }
    }
}
