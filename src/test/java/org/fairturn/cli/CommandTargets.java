package org.fairturn.cli;

import static org.fairturn.Fuzzing.promise;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.Fuzzing;
import picocli.CommandLine;
import picocli.CommandLine.ParseResult;

/** The command line, understood or refused, and carried out where all it names lies in a folder of its own. */
public final class CommandTargets {
    static final String HERE = "{here}";

    private static final String OWN_FAULT = "a fault of its own";

    private CommandTargets() {}

    /** One argument a line, which is taken apart alone. */
    public static boolean arguments(byte[] input) {
        String text = new String(input, StandardCharsets.UTF_8);
        List<String> arguments = List.of(text.split("\n", -1));
        Ran ran = Ran.here(
                false, line -> line.setExecutionStrategy(parsed -> Fairturn.DONE), arguments.toArray(new String[0]));
        promise(ran.code() == Fairturn.DONE || ran.code() == Fairturn.WRONG_USAGE, "understood or not: " + ran);
        promise(!ran.err().contains(OWN_FAULT) || text.contains(OWN_FAULT), ran.err());
        promise(ran.code() == Fairturn.DONE || ran.err().contains("--help"), "where there is more: " + ran.err());
        promise(ran.err().chars().noneMatch(c -> c < ' ' && c != '\n'), "nothing that steers a terminal");
        Fuzzing.neverATrace(ran.all(), text);
        return ran.code() == Fairturn.DONE;
    }

    /**
     * Carries out one argument a line, {@link #HERE} standing for a folder of its own; what names a path elsewhere, or leaves
     * out where to write, is taken apart alone.
     */
    static boolean carriedOut(Path here, byte[] input) throws IOException {
        String text = new String(input, StandardCharsets.UTF_8);
        Map<Path, byte[]> before = files(here);
        Set<Path> beside = names(here.getParent());
        Set<Path> project = names(Path.of("").toAbsolutePath());
        boolean[] ran = {false};
        Ran done = Ran.here(
                false,
                line -> line.setExecutionStrategy(parsed -> {
                    ran[0] = staysIn(here, parsed);
                    return ran[0] ? new CommandLine.RunLast().execute(parsed) : Fairturn.DONE;
                }),
                text.replace(HERE, here.toString()).split("\n", -1));
        promise(done.code() >= Fairturn.DONE && done.code() <= Fairturn.WRONG_USAGE, "a code: " + done);
        promise(!done.err().contains(OWN_FAULT) || text.contains(OWN_FAULT), done.err());
        promise(done.code() == Fairturn.DONE || !done.err().isBlank(), "who is refused is told why: " + done);
        promise(done.all().chars().noneMatch(c -> c < ' ' && c != '\n' && c != '\t'), "nothing that steers a terminal");
        Fuzzing.neverATrace(done.all(), text + here);
        promise(names(here.getParent()).equals(beside), "nothing is made beside the folder");
        promise(names(Path.of("").toAbsolutePath()).equals(project), "nothing is made where the program stands");
        for (Map.Entry<Path, byte[]> file : before.entrySet()) {
            boolean named = text.contains("/" + file.getKey().getFileName());
            promise(
                    named || Arrays.equals(file.getValue(), Files.readAllBytes(file.getKey())),
                    "it stays: " + file.getKey());
        }
        asBefore(here, before);
        return ran[0] && done.code() == Fairturn.DONE;
    }

    private static boolean staysIn(Path here, ParseResult parsed) {
        ParseResult command = parsed.hasSubcommand() ? parsed.subcommand() : parsed;
        String name = command.commandSpec().name();
        boolean writesHere =
                List.of("report", "days", "archive", "sheet").contains(name) && !command.hasMatchedOption("--out");
        return !writesHere
                && !name.equals("serve")
                && command.matchedArgs().stream()
                        .flatMap(arg -> arg.originalStringValues().stream().filter(value -> isPath(arg.getValue())))
                        .allMatch(value -> Path.of(value).isAbsolute()
                                && Path.of(value).normalize().startsWith(here));
    }

    private static boolean isPath(Object value) {
        return value instanceof Path
                || (value instanceof List<?> list && list.stream().anyMatch(Path.class::isInstance));
    }

    private static Map<Path, byte[]> files(Path here) throws IOException {
        Map<Path, byte[]> files = new TreeMap<>();
        try (Stream<Path> all = Files.walk(here)) {
            for (Path file : all.filter(Files::isRegularFile).toList()) {
                files.put(file, Files.readAllBytes(file));
            }
        }
        return files;
    }

    private static Set<Path> names(Path folder) throws IOException {
        try (Stream<Path> all = Files.list(folder)) {
            return all.collect(Collectors.toSet());
        }
    }

    private static void asBefore(Path here, Map<Path, byte[]> before) throws IOException {
        try (Stream<Path> all = Files.walk(here)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                if (before.keySet().stream().noneMatch(file -> file.startsWith(path)) && !path.equals(here)) {
                    Files.delete(path);
                }
            }
        }
        for (Map.Entry<Path, byte[]> file : before.entrySet()) {
            Files.createDirectories(file.getKey().getParent());
            Files.write(file.getKey(), file.getValue());
        }
    }
}
