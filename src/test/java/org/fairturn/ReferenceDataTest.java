package org.fairturn;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The README of the reference data says truly which test uses which set. */
class ReferenceDataTest {
    private static final Path FOLDER = Path.of("testdata/reference");
    private static final Pattern ROW = Pattern.compile("\\| `(\\w+Test)` \\| (.*) \\|");
    private static final Pattern NAME = Pattern.compile("`([^`]+)`");

    private static List<String> namesIn(String cell) {
        return NAME.matcher(cell).results().map(r -> r.group(1)).toList();
    }

    @Test
    void everySet_isUsedByATest_andTheTestExists() throws IOException {
        List<MatchResult> rows = ROW.matcher(Files.readString(FOLDER.resolve("README.md")))
                .results()
                .toList();
        List<String> used =
                rows.stream().flatMap(r -> namesIn(r.group(2)).stream()).toList();
        try (var files = Files.walk(FOLDER)) {
            for (Path file : files.filter(f -> f.toString().endsWith(".csv")).toList()) {
                String name = FOLDER.relativize(file).toString().replace('\\', '/');
                assertThat(used).as(name).anyMatch(u -> name.matches(u.replace("*", ".*")) || name.startsWith(u + "/"));
            }
        }
        try (var sources = Files.walk(Path.of("src/test/java"))) {
            List<Path> tests = sources.toList();
            for (MatchResult row : rows) {
                Path test = tests.stream()
                        .filter(t -> t.endsWith(row.group(1) + ".java"))
                        .findFirst()
                        .orElseThrow();
                String source = Files.readString(test);
                for (String name : namesIn(row.group(2))) {
                    String part = name.contains("*") ? name.substring(0, name.indexOf('*')) : name;
                    assertThat(source).as("%s in %s", name, row.group(1)).contains(part);
                }
            }
        }
    }
}
