package org.fairturn.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.TakenTrial;

/**
 * Whether the numbers a bundle brought are those its files give today.
 *
 * @param differences what differs, a line each: the data first, then cells, findings and the rest; empty where nothing does
 * @param added parts of the results that the program which made the bundle did not write yet; they are not compared
 * @param madeBy the program that made the bundle, where it says so
 * @param compared whether there was anything to compare with
 */
public record BundleAgreement(List<String> differences, List<String> added, Optional<String> madeBy, boolean compared) {
    /** Far below what is ever shown (mm, degrees or probability), far above what processors round differently. */
    private static final double SAME = 1e-4;

    private static final String DATA = "the data: ";
    private static final int MOST_SAID = 12;
    private static final int LONGEST_LINE = 300;
    /** What an entry of a list is about; the rest of it is what was found. */
    private static final List<String> NAMING = List.of(
            "question", "subject", "machine", "other", "stop", "limits", "from", "to", "turn", "drive", "brakes");
    /** The name of the folder is not part of the data, and warnings are words about files that may not have come along. */
    private static final Set<String> PASSED_OVER = Set.of("format", "warnings", "folder", "path");

    /**
     * Keeps its own copy of each list.
     *
     * @param differences what differs, a line each: the data first, then cells, findings and the rest; empty where nothing
     *     does
     * @param added parts of the results that the program which made the bundle did not write yet; they are not compared
     * @param madeBy the program that made the bundle, where it says so
     * @param compared whether there was anything to compare with
     */
    public BundleAgreement {
        differences = List.copyOf(differences);
        added = List.copyOf(added);
    }

    /**
     * Holds a bundle against its own files.
     *
     * @param taken what was read, with its enclosed results
     * @param anew worked out now from the same files
     * @return empty for a trial folder, which brings no numbers of its own
     */
    public static Optional<BundleAgreement> of(TakenTrial taken, TrialReport anew) {
        Map<String, String> enclosed = taken.enclosed();
        Optional<String> madeBy =
                Optional.ofNullable(enclosed.get("method.txt")).flatMap(MethodStatement::program);
        if (enclosed.isEmpty()) {
            return Optional.empty();
        }
        if (!enclosed.containsKey(Bundle.RESULTS)) {
            return Optional.of(new BundleAgreement(List.of(), List.of(), madeBy, false));
        }
        return Optional.of(between(enclosed.get(Bundle.RESULTS), anew.resultsJson(), madeBy));
    }

    /** Of two results.json, the first by the program named. */
    static BundleAgreement between(String enclosed, String anew, Optional<String> madeBy) {
        boolean sameProgram = madeBy.map(Program.name()::equals).orElse(true);
        Comparison comparison = new Comparison(sameProgram);
        try {
            comparison.results(map(enclosed), map(anew));
        } catch (IOException unreadable) {
            comparison.found.add("results.json: it cannot be read, so its numbers could not be compared");
        }
        return new BundleAgreement(
                comparison.found.stream().map(BundleAgreement::brief).toList(), comparison.added, madeBy, true);
    }

    /** {@return whether the bundle and its files say the same, as far as could be compared} */
    public boolean same() {
        return differences.isEmpty();
    }

    /** {@return whether its files hold other data than those it was made from} */
    public boolean otherData() {
        return differences.stream().anyMatch(d -> d.startsWith(DATA));
    }

    /** {@return whether another version of the program may be what makes the difference} */
    public boolean otherProgram() {
        return madeBy.isPresent() && !madeBy.get().equals(Program.name());
    }

    /** {@return all of it, a line each} */
    public List<String> sentences() {
        List<String> sentences = new ArrayList<>();
        String made = otherProgram()
                ? " It was made by " + brief(plain(madeBy.get())) + "; this is " + Program.name() + "."
                : "";
        if (!compared) {
            sentences.add("The bundle brings no results.json, so there is nothing to compare with." + made);
        } else if (same()) {
            sentences.add("Same numbers as in the bundle." + made);
        } else {
            sentences.add("Not the same numbers as in the bundle." + made);
            differences.stream().limit(MOST_SAID).forEach(d -> sentences.add("    " + d));
            if (differences.size() > MOST_SAID) {
                sentences.add("    and " + (differences.size() - MOST_SAID) + " more");
            }
        }
        if (!added.isEmpty()) {
            sentences.add("    not in the bundle's results.json, so not compared: " + String.join(", ", added));
        }
        return sentences;
    }

    /** {@return what a reader of the results has to know; none where all is the same} */
    public List<Warning> warnings() {
        return same()
                ? List.of()
                : List.of(new Warning(
                        "bundle",
                        Bundle.RESULTS,
                        "The numbers the bundle brought are not those its files give. "
                                + differences.stream().limit(3).collect(Collectors.joining("; "))
                                + (differences.size() > 3 ? "; and " + (differences.size() - 3) + " more" : "")
                                + "."));
    }

    private static String code(Map<?, ?> results) {
        return results.get("trial") instanceof Map<?, ?> trial && trial.get("dataCode") instanceof String code
                ? plain(code)
                : "";
    }

    /** Walks both results side by side; of an entry of a list only the first difference is named. */
    private static final class Comparison {
        private final boolean sameProgram;
        private final Set<String> found = new LinkedHashSet<>();
        private final List<String> added = new ArrayList<>();

        Comparison(boolean sameProgram) {
            this.sameProgram = sameProgram;
        }

        void results(Map<?, ?> old, Map<?, ?> anew) {
            String oldCode = code(old);
            String newCode = code(anew);
            if (!oldCode.equals(newCode)) {
                found.add(DATA + "code " + (oldCode.isEmpty() ? "missing" : oldCode) + " in the bundle's results.json, "
                        + newCode + " by its files; a reading or another entry was changed");
            }
            for (String part : anew.keySet().stream().map(Object::toString).toList()) {
                if (PASSED_OVER.contains(part) || part.equals("trial")) {
                    continue;
                }
                if (old.containsKey(part)) {
                    compare(part, old.get(part), anew.get(part));
                } else if (sameProgram) {
                    found.add(part + ": not in the bundle");
                } else { // parts are added within a format, so that an older bundle may lack some
                    added.add(part);
                }
            }
            for (Object part : old.keySet()) {
                if (!anew.containsKey(part) && !PASSED_OVER.contains(part.toString())) {
                    found.add(plain(part.toString()) + ": only in the bundle");
                }
            }
        }

        private void compare(String part, Object before, Object now) {
            if (before instanceof List<?> old && now instanceof List<?> anew && !anew.isEmpty()) {
                entries(part, old, anew);
            } else {
                first(before, now, "").ifPresent(d -> found.add(part + d));
            }
        }

        private void entries(String part, List<?> old, List<?> anew) {
            Map<String, Object> before = named(old);
            Map<String, Object> after = named(anew);
            after.forEach((name, entry) -> {
                String label = part + (name.isEmpty() ? "" : ", " + name);
                if (!before.containsKey(name)) {
                    found.add(label + ": not in the bundle");
                } else {
                    first(before.get(name), entry, "").ifPresent(d -> found.add(label + d));
                }
            });
            before.keySet().stream()
                    .filter(name -> !after.containsKey(name))
                    .forEach(name -> found.add(part + ", " + name + ": only in the bundle"));
        }

        private static Map<String, Object> named(List<?> entries) {
            Map<String, Object> named = new LinkedHashMap<>();
            Map<String, Integer> times = new HashMap<>(); // counted on, or a list of many alike would take hours
            for (Object entry : entries) {
                String name = name(entry);
                String unique = name;
                while (named.containsKey(unique)) {
                    unique = name + " (" + (1 + times.merge(name, 1, Integer::sum)) + ")";
                }
                named.put(unique, entry);
            }
            return named;
        }

        private static String name(Object entry) {
            return entry instanceof Map<?, ?> fields
                    ? NAMING.stream()
                            .map(fields::get)
                            .filter(Objects::nonNull)
                            .map(value -> value instanceof Map<?, ?> inner
                                    ? inner.values().stream()
                                            .map(v -> plain(String.valueOf(v)))
                                            .collect(Collectors.joining(", "))
                                    : plain(value.toString()))
                            .collect(Collectors.joining(", "))
                    : "";
        }

        /** The first difference of two values, led by where it is; verdicts and numbers before the sentences about them. */
        private Optional<String> first(Object before, Object now, String where) {
            if (before instanceof Map<?, ?> old && now instanceof Map<?, ?> anew) {
                List<String> names = new ArrayList<>();
                anew.keySet().forEach(name -> names.add(name.toString()));
                old.keySet().stream()
                        .map(Object::toString)
                        .filter(name -> !anew.containsKey(name))
                        .forEach(names::add);
                for (String name : names) {
                    // fields are added within a format, so that an older bundle may lack some
                    boolean known = sameProgram || old.containsKey(name);
                    Optional<String> inside = known && !PASSED_OVER.contains(name)
                            ? first(old.get(name), anew.get(name), where + " " + plain(name))
                            : Optional.empty();
                    if (inside.isPresent()) {
                        return inside;
                    }
                }
                return Optional.empty();
            }
            if (before instanceof List<?> old && now instanceof List<?> anew && old.size() == anew.size()) {
                for (int i = 0; i < old.size(); i++) {
                    Optional<String> inside = first(old.get(i), anew.get(i), where + " " + (i + 1));
                    if (inside.isPresent()) {
                        return inside;
                    }
                }
                return Optional.empty();
            }
            boolean words = !sameProgram
                    && !where.toLowerCase(Locale.ROOT).endsWith("verdict")
                    && before instanceof String
                    && now instanceof String;
            return words || same(before, now)
                    ? Optional.empty()
                    : Optional.of(
                            ":" + where + " " + shown(before) + " in the bundle, " + shown(now) + " by its files");
        }

        private static boolean same(Object before, Object now) {
            return (before instanceof Double a && now instanceof Double b)
                    ? Math.abs(a - b) <= SAME
                    : Objects.equals(before, now);
        }

        private static String shown(Object value) {
            String text =
                    value instanceof Map<?, ?> || value instanceof List<?> ? "other entries" : String.valueOf(value);
            return text.length() > 60 ? '"' + plain(text.substring(0, 60)) + "…\"" : plain(text);
        }
    }

    /** What a bundle calls things can be as long as whoever made it likes. */
    private static String brief(String line) {
        return line.length() > LONGEST_LINE ? line.substring(0, LONGEST_LINE) + "…" : line;
    }

    private static String plain(String text) {
        return text.replaceAll("[\\p{Cntrl}\\p{Cf}]", " ");
    }

    private static Map<?, ?> map(String json) throws IOException {
        try (JsonParser parser = new JsonFactory().createParser(json)) {
            parser.nextToken();
            if (value(parser) instanceof Map<?, ?> map) {
                return map;
            }
            throw new IOException("no object");
        }
    }

    private static Object value(JsonParser parser) throws IOException {
        JsonToken token = parser.currentToken();
        if (token == null) {
            throw new IOException("it ends too early");
        }
        return switch (token) {
            case START_OBJECT -> {
                Map<String, Object> fields = new LinkedHashMap<>();
                while (parser.nextToken() == JsonToken.FIELD_NAME) {
                    String name = parser.currentName();
                    parser.nextToken();
                    fields.put(name, value(parser));
                }
                yield fields;
            }
            case START_ARRAY -> {
                List<Object> entries = new ArrayList<>();
                while (parser.nextToken() != JsonToken.END_ARRAY) {
                    entries.add(value(parser));
                }
                yield entries;
            }
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> parser.getDoubleValue();
            case VALUE_TRUE, VALUE_FALSE -> parser.getBooleanValue();
            case VALUE_STRING -> parser.getText();
            default -> "null";
        };
    }
}
