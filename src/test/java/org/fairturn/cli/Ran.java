package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import picocli.CommandLine;

/** What a run of the program left: its exit code and both of its outputs. */
record Ran(int code, String out, String err) {
    /** Runs it in this process. */
    static Ran here(String... arguments) {
        return here(false, line -> {}, arguments);
    }

    static Ran here(boolean debug, Consumer<CommandLine> more, String... arguments) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int code = Fairturn.run(new PrintWriter(out), new PrintWriter(err), debug, more, arguments);
        return new Ran(code, lines(out.toString()), lines(err.toString()));
    }

    /** Runs the real program in a process of its own, with a folder to stand in. */
    static Ran program(Path workingFolder, String... arguments) {
        List<String> command = new ArrayList<>(program());
        command.addAll(List.of(arguments));
        return process(workingFolder, Map.of(), command);
    }

    /** The command that starts the program from the classes under test. */
    static List<String> program() {
        String classPath = System.getProperty("surefire.test.class.path", System.getProperty("java.class.path"));
        // the two flags halve the time a start takes
        return List.of(
                java(), "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-cp", classPath, "org.fairturn.cli.Fairturn");
    }

    static String java() {
        return Path.of(System.getProperty("java.home"), "bin", "java").toString();
    }

    static Ran process(Path workingFolder, Map<String, String> environment, List<String> command) {
        try {
            Path out = Files.createTempFile("fairturn", ".out");
            Path err = Files.createTempFile("fairturn", ".err");
            ProcessBuilder builder = new ProcessBuilder(command)
                    .directory(workingFolder.toFile())
                    .redirectOutput(out.toFile())
                    .redirectError(err.toFile());
            builder.environment().putAll(environment);
            builder.environment().keySet().removeAll(List.of("JAVA_TOOL_OPTIONS", "JDK_JAVA_OPTIONS")); // they print
            Process process = builder.start();
            if (!process.waitFor(180, TimeUnit.SECONDS)) {
                process.destroyForcibly();
                throw new AssertionError(command + " did not end within three minutes");
            }
            Ran ran = new Ran(process.exitValue(), text(out), text(err));
            Files.delete(out);
            Files.delete(err);
            return ran;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError(e);
        }
    }

    /** Both outputs, for what must be in neither. */
    String all() {
        return out + err;
    }

    String lastLine() {
        List<String> lines = out.lines().toList();
        return lines.get(lines.size() - 1);
    }

    private static String text(Path file) throws IOException {
        return lines(Files.readString(file, StandardCharsets.UTF_8)); // fails where it is not UTF-8
    }

    private static String lines(String text) {
        return text.replace(System.lineSeparator(), "\n");
    }
}
