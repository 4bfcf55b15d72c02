package org.fairturn;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * The compiler asks for a comment on every component of a public record, and once more on its constructor where that is
 * written out. Here both are held to say the same.
 */
class CommentsTest {
    private static final Pattern COMMENT_AND_HEAD = Pattern.compile(
            "/\\*\\*((?:(?!\\*/).)*)\\*/\\s*(?:public |static )*(?:record (\\w+)|(\\w+) \\{)", Pattern.DOTALL);
    private static final Pattern PARAMETER = Pattern.compile("@param (\\w+) ((?:(?!\\n@).)*)", Pattern.DOTALL);

    @Test
    void constructorOfARecordSaysOfItsComponentsWhatTheRecordSays() throws IOException {
        List<String> differing = new ArrayList<>();
        int compared = 0;
        for (Path file : sources()) {
            Map<String, Map<String, String>> records = new LinkedHashMap<>();
            Matcher found = COMMENT_AND_HEAD.matcher(Files.readString(file));
            while (found.find()) {
                Map<String, String> said = parameters(found.group(1));
                if (found.group(2) != null) {
                    records.put(found.group(2), said);
                } else if (!said.isEmpty()) {
                    compared++;
                    if (!said.equals(records.get(found.group(3)))) {
                        differing.add(file.getFileName() + ": " + found.group(3));
                    }
                }
            }
        }
        assertThat(differing).isEmpty();
        assertThat(compared)
                .as("constructors with a comment on their components")
                .isGreaterThan(60);
    }

    private static Map<String, String> parameters(String comment) {
        Map<String, String> said = new LinkedHashMap<>();
        Matcher found = PARAMETER.matcher(comment.replaceAll("\\n\\s*\\* ?", "\n"));
        while (found.find()) {
            said.put(found.group(1), found.group(2).replaceAll("\\s+", " ").strip());
        }
        return said;
    }

    private static List<Path> sources() throws IOException {
        try (Stream<Path> files = Files.walk(Path.of("src/main/java"))) {
            return files.filter(file -> file.toString().endsWith(".java")).toList();
        }
    }
}
