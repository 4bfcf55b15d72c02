import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Optional;
import java.util.spi.ToolProvider;
import java.util.stream.Stream;

/** Puts a Java runtime of just the modules Fairturn uses beside a distribution; says so where this JDK cannot. */
final class RuntimeImage {
    /** As {@code jdeps --print-module-deps} finds them, and what is looked up by name: cryptography and character sets. */
    private static final String MODULES = "java.base,java.desktop,java.logging,java.management,java.naming,java.xml,"
            + "jdk.charsets,jdk.crypto.ec,jdk.unsupported,jdk.zipfs";

    private RuntimeImage() {}

    /** The unpacked distribution, and the folder that is to hold it with its runtime. */
    public static void main(String[] args) throws IOException, InterruptedException {
        Path distribution = Path.of(args[0]);
        Path image = Path.of(args[1]);
        delete(image);
        Optional<ToolProvider> jlink = ToolProvider.findFirst("jlink");
        StringWriter said = new StringWriter();
        if (jlink.isEmpty()
                || jlink.get()
                                .run(
                                        new PrintWriter(said),
                                        new PrintWriter(said),
                                        "--add-modules",
                                        MODULES,
                                        "--strip-debug",
                                        "--no-header-files",
                                        "--no-man-pages",
                                        "--output",
                                        image.resolve("runtime").toString())
                        != 0) {
            System.out.println("This JDK cannot make a runtime image ("
                    + (jlink.isEmpty() ? "it has no jlink" : said.toString().strip().replaceAll("\\s+", " "))
                    + "); the zip without one is complete.");
            delete(image);
            return;
        }
        try (Stream<Path> all = Files.walk(distribution)) {
            for (Path file : all.toList()) {
                Path copy = image.resolve(distribution.relativize(file).toString());
                if (Files.isDirectory(file)) {
                    Files.createDirectories(copy);
                } else {
                    Files.copy(file, copy, StandardCopyOption.COPY_ATTRIBUTES);
                }
            }
        }
    }

    private static void delete(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> all = Files.walk(folder)) {
                for (Path file : all.sorted((a, b) -> b.compareTo(a)).toList()) {
                    Files.delete(file);
                }
            }
        }
    }
}
