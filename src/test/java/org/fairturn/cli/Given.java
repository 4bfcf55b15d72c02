package org.fairturn.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;

/** Trial folders to run the program on: sound until a file is replaced. */
final class Given {
    static final Path DEMO = Path.of("testdata/demo").toAbsolutePath();

    private final Path folder;

    private Given(Path folder) {
        this.folder = folder;
    }

    static Given soundFolder(Path folder) {
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new Given(folder)
                .with("trial.csv", """
                        field,value
                        title,Lower meadow
                        date,2026-05-14
                        length unit,mm
                        tape class,I
                        edge definition,5
                        """)
                .with("machines.csv", "machine\nAlder 22\n")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Alder 22,left,2WD\nA2,Alder 22,left,2WD\n")
                .with("readings.csv", "circle,kind,value\nA1,across,1580\nA2,across,1590\n");
    }

    Given with(String file, String content) {
        try {
            Files.write(folder.resolve(file), content.getBytes(StandardCharsets.UTF_8));
            return this;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Given without(String file) {
        try {
            Files.delete(folder.resolve(file));
            return this;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Path path() {
        return folder;
    }

    String argument() {
        return folder.toString();
    }

    /** Every file below a folder with its bytes, so that any change shows. */
    static Map<String, List<Byte>> everythingBelow(Path folder) {
        Map<String, List<Byte>> files = new TreeMap<>();
        try (Stream<Path> walk = Files.walk(folder)) {
            for (Path path : walk.toList()) {
                String name = folder.relativize(path).toString();
                files.put(name, Files.isDirectory(path) ? List.of() : boxed(Files.readAllBytes(path)));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return files;
    }

    private static List<Byte> boxed(byte[] bytes) {
        Byte[] boxed = new Byte[bytes.length];
        for (int i = 0; i < bytes.length; i++) {
            boxed[i] = bytes[i];
        }
        return List.of(boxed);
    }
}
