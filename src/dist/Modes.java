import java.io.IOException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.stream.Stream;

/**
 * Gives the files to be packed the modes they have for anybody, whatever umask they were made under: the jar keeps them, and
 * would not be the same.
 */
final class Modes {
    private Modes() {}

    public static void main(String[] args) throws IOException {
        if (!FileSystems.getDefault().supportedFileAttributeViews().contains("posix")) {
            return;
        }
        try (Stream<Path> all = Files.walk(Path.of(args[0]))) {
            for (Path path : all.toList()) {
                String mode = Files.isDirectory(path) ? "rwxr-xr-x" : "rw-r--r--";
                Files.setPosixFilePermissions(path, PosixFilePermissions.fromString(mode));
            }
        }
    }
}
