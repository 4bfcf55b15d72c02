package org.fairturn;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The list of libraries is the one the program runs with, so that whoever holds it against known holes can rely on it. */
class DependenciesTest {
    private static final Pattern ROW = Pattern.compile("\\| `[^:`]+:([^`]+)` \\| (\\S+) \\|");

    @Test
    void everyLibrary_isListedWithItsVersion() throws IOException {
        String path = System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
        Set<String> jars = Arrays.stream(path.split(File.pathSeparator))
                .map(entry -> Path.of(entry).getFileName().toString())
                .filter(name -> name.endsWith(".jar"))
                // brought by whatever runs the tests
                .filter(name -> !name.startsWith("surefire")
                        && !name.startsWith("junit-platform-launcher")
                        && !name.startsWith("jazzer"))
                .map(name -> name.substring(0, name.length() - ".jar".length()))
                .collect(Collectors.toCollection(TreeSet::new));
        Set<String> listed = new TreeSet<>();
        Matcher row = ROW.matcher(Files.readString(Path.of("docs/dependencies.md")));
        while (row.find()) {
            listed.add(row.group(1) + "-" + row.group(2));
        }
        assertThat(jars).hasSizeGreaterThan(40);
        assertThat(listed).isEqualTo(jars);
    }
}
