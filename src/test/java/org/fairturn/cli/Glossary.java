package org.fairturn.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/** The terms docs/glossary.md explains, which are its bold words; one that ends in … stands for all that begin so. */
final class Glossary {
    private static final Pattern BOLD = Pattern.compile("\\*\\*([^*]+)\\*\\*");

    private final Set<String> terms = new HashSet<>();

    private Glossary() {}

    static Glossary read() throws IOException {
        Glossary glossary = new Glossary();
        BOLD.matcher(Files.readString(Path.of("docs/glossary.md")))
                .results()
                .map(term -> plain(term.group(1)))
                .flatMap(term -> Stream.concat(Stream.of(term), Stream.of(term.split(", "))))
                .forEach(glossary.terms::add);
        return glossary;
    }

    /** Those it explains neither as a whole nor each of its parts, which stand between commas or strokes. */
    List<String> missing(Collection<String> headings) {
        return headings.stream()
                .filter(heading -> !isThere(plain(heading))
                        && !Stream.of(plain(heading).split(", | / ")).allMatch(this::isThere))
                .toList();
    }

    private boolean isThere(String words) {
        return terms.contains(words)
                || terms.stream().anyMatch(t -> t.endsWith("…") && words.startsWith(t.substring(0, t.length() - 1)));
    }

    /** In lower case, on one line, without levels and what stands in brackets. */
    private static String plain(String words) {
        return words.toLowerCase(Locale.ROOT)
                .replaceAll("\\d+ %|\\([^)]*\\)", "")
                .replaceAll("\\s+", " ")
                .strip();
    }
}
