package org.fairturn.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** The man page and what shells complete, made from the commands themselves when the program is packed. */
public final class Manual {
    private Manual() {}

    /**
     * Writes {@code fairturn.1}, {@code fairturn.bash} (for zsh too) and {@code fairturn.fish} into a folder.
     *
     * @param args path of the folder
     * @throws IOException if a file cannot be written
     */
    public static void main(String[] args) throws IOException {
        Path folder = Files.createDirectories(Path.of(args[0]));
        CommandLine line = Fairturn.commandLine();
        for (Map.Entry<String, String> file : Map.of(
                        "fairturn.1", page(line),
                        "fairturn.bash", AutoComplete.bash("fairturn", line),
                        "fairturn.fish", fish(line))
                .entrySet()) {
            Files.writeString(folder.resolve(file.getKey()), file.getValue().replace("\r\n", "\n"));
        }
    }

    /** In the language of the macro package man, which every system with a {@code man} command knows. */
    static String page(CommandLine line) {
        CommandSpec program = line.getCommandSpec();
        Roff out = new Roff();
        out.macro(".TH FAIRTURN 1 \"\" \"" + Fairturn.version() + "\" \"\"");
        out.macro(".SH NAME").text("fairturn - " + said(program).replaceFirst("\\.$", ""));
        out.macro(".SH SYNOPSIS").macro(".B fairturn").text("[OPTION | COMMAND [ARGUMENT ...]]");
        out.macro(".SH OPTIONS").text("Every command takes these too.");
        options(out, program.options());
        out.macro(".SH COMMANDS");
        line.getSubcommands().forEach((name, command) -> {
            out.macro(".SS \"" + name + "\"");
            String synopsis =
                    command.getHelp().synopsis(0).replaceAll("\\s+", " ").strip();
            out.macro(".PP").text(synopsis).macro(".PP").text(said(command.getCommandSpec()));
            for (PositionalParamSpec parameter : command.getCommandSpec().positionalParameters()) {
                entry(out, parameter.paramLabel(), parameter);
            }
            options(out, own(command));
            footer(out, command.getCommandSpec());
        });
        out.macro(".SH EXAMPLES AND EXIT CODES");
        footer(out, program);
        return out.toString();
    }

    private static String said(CommandSpec command) {
        return String.join(" ", command.usageMessage().description()).strip();
    }

    private static void options(Roff out, List<OptionSpec> options) {
        for (OptionSpec option : options) {
            String value = option.arity().max() > 0 ? " " + option.paramLabel() : "";
            entry(out, String.join(", ", option.names()) + value, option);
        }
    }

    /** Without those that every command takes, which are said once. */
    private static List<OptionSpec> own(CommandLine command) {
        return command.getCommandSpec().options().stream()
                .filter(o -> !o.usageHelp() && !o.versionHelp() && !o.hidden())
                .toList();
    }

    private static void entry(Roff out, String name, ArgSpec what) {
        out.macro(".TP").text(name).text(String.join(" ", what.description()));
    }

    /** Examples and exit codes stand as they are laid out. */
    private static void footer(Roff out, CommandSpec command) {
        out.macro(".PP").macro(".nf");
        for (String row :
                String.join("\n", command.usageMessage().footer()).strip().split("\n", -1)) {
            out.text(row);
        }
        out.macro(".fi");
    }

    /** The commands first, then the options of the command that stands there already. */
    static String fish(CommandLine line) {
        List<String> rows = new ArrayList<>();
        rows.add("# completion of fairturn for fish");
        line.getSubcommands()
                .forEach((name, command) -> rows.add("complete -c fairturn -n __fish_use_subcommand -f -a " + name
                        + " -d " + quoted(firstSentence(said(command.getCommandSpec())))));
        for (OptionSpec option : line.getCommandSpec().options()) {
            rows.add("complete -c fairturn" + fish(option));
        }
        line.getSubcommands().forEach((name, command) -> {
            for (OptionSpec option : own(command)) {
                rows.add("complete -c fairturn -n '__fish_seen_subcommand_from " + name + "'" + fish(option));
            }
        });
        return String.join("\n", rows) + "\n";
    }

    private static String fish(OptionSpec option) {
        String names = Arrays.stream(option.names())
                .map(n -> n.startsWith("--") ? " -l " + n.substring(2) : " -s " + n.substring(1))
                .collect(Collectors.joining());
        return names + (option.arity().max() > 0 ? " -r" : "") + " -d "
                + quoted(firstSentence(String.join(" ", option.description())));
    }

    private static String firstSentence(String text) {
        int end = text.indexOf(". ");
        return end < 0 ? text : text.substring(0, end + 1);
    }

    private static String quoted(String text) {
        return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'";
    }

    /** Lines of a page; text is kept from being read as commands. */
    private static final class Roff {
        private final StringBuilder lines = new StringBuilder();

        Roff macro(String macro) {
            lines.append(macro).append('\n');
            return this;
        }

        Roff text(String text) {
            String plain = text.replace("\\", "\\e").replace("-", "\\-");
            lines.append(plain.startsWith(".") || plain.startsWith("'") ? "\\&" : "")
                    .append(plain)
                    .append('\n');
            return this;
        }

        @Override
        public String toString() {
            return lines.toString();
        }
    }
}
