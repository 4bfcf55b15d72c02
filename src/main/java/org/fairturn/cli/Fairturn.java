package org.fairturn.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;
import org.fairturn.report.TrialReport;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help;
import picocli.CommandLine.IExecutionExceptionHandler;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.IVersionProvider;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;
import picocli.CommandLine.ScopeType;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;
import picocli.CommandLine.UnmatchedArgumentException;

/** The {@code fairturn} command. */
@Command(
        name = "fairturn",
        description =
                "From tape readings of mowed full-lock circles to findings that both sides of a dispute can accept.",
        optionListHeading = "%nOptions:%n",
        commandListHeading = "%nCommands:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn new meadow        make a trial folder to fill in",
            "  fairturn check meadow      list everything that has to be mended in it",
            "  fairturn plan \"Alder 22\"   how many circles, and in which order to drive",
            "  fairturn sheet meadow      the field sheet of its circles, a PDF to print",
            "  fairturn report meadow     write the report to reports/meadow",
            "  fairturn days may june     compare trials of one machine on two days",
            "  fairturn convert \"turn radius\" \"1.6 m\" --folder meadow",
            "                             what a stated figure would leave uncut",
            "  fairturn batch trials      analyse every trial folder in trials",
            "  fairturn archive trials    what they teach of how circles scatter",
            "  fairturn serve             the same in the browser",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        },
        versionProvider = Fairturn.Version.class,
        mixinStandardHelpOptions = true,
        scope = ScopeType.INHERIT)
public final class Fairturn implements Callable<Integer> {
    static final int DONE = 0;
    static final int DATA_ERRORS = 1;
    static final int WRONG_USAGE = 2;

    private static final String WHOLE = "a whole number, such as 7";
    private static final String DECIMAL = "a number with a decimal point where it needs one, such as 92.5";

    /** Every command, in the order of the help. */
    private static final Map<String, Supplier<Object>> COMMANDS = new LinkedHashMap<>();

    static {
        COMMANDS.put("new", NewCommand::new);
        COMMANDS.put("check", CheckCommand::new);
        COMMANDS.put("plan", PlanCommand::new);
        COMMANDS.put("sheet", SheetCommand::new);
        COMMANDS.put("report", ReportCommand::new);
        COMMANDS.put("days", DaysCommand::new);
        COMMANDS.put("convert", ConvertCommand::new);
        COMMANDS.put("batch", BatchCommand::new);
        COMMANDS.put("archive", ArchiveCommand::new);
        COMMANDS.put("serve", ServeCommand::new);
    }

    @Spec
    private CommandSpec spec;

    private Fairturn() {}

    /**
     * Runs the program and ends it with its exit code.
     *
     * @param args as typed
     */
    public static void main(String[] args) {
        if (args.length > 0 && args[0].equals("report")) {
            TrialReport.prepare();
        }
        PrintStream standardOutput = System.out;
        PrintStream standardError = System.err;
        PrintWriter out = utf8(standardOutput);
        PrintWriter err = utf8(standardError);
        int code = run(out, err, "1".equals(System.getenv("FAIRTURN_DEBUG")), line -> {}, args);
        out.flush();
        if (standardOutput.checkError()) { // a full disk, or a reader that has left
            err.println("Not all of the output could be written.");
            code = Math.max(code, DATA_ERRORS);
        }
        err.flush();
        if (code != DONE) { // a plain return leaves a program that started this one in its own process alone
            System.exit(code);
        }
    }

    /** UTF-8 whatever the locale, so that results read the same wherever they were written. */
    private static PrintWriter utf8(PrintStream stream) {
        return new PrintWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8));
    }

    /**
     * Runs a command; whatever happens becomes words and an exit code.
     *
     * @param debug whether a fault of the program shows its trace
     * @param more what a test adds to the command line
     */
    static int run(PrintWriter out, PrintWriter err, boolean debug, Consumer<CommandLine> more, String... args) {
        try {
            CommandLine line = commandLine(args)
                    .setOut(out)
                    .setErr(err)
                    .setParameterExceptionHandler(new WrongUsage())
                    .setExecutionExceptionHandler(new OwnFault(err, debug));
            more.accept(line);
            return line.execute(args);
        } catch (OutOfMemoryError full) {
            err.println("This needs more memory than Java was given. Give it more, for example with"
                    + " java -Xmx4g -jar fairturn.jar, or split the trial.");
            return DATA_ERRORS;
        } catch (RuntimeException | Error fault) {
            return ownFault(fault, err, debug);
        }
    }

    /**
     * Every command with its options. Where the first argument names one, the others are left out: nothing shows them then,
     * and taking all of them apart would keep every start waiting.
     */
    static CommandLine commandLine(String... args) {
        CommandLine line = new CommandLine(new Fairturn());
        boolean named = args.length > 0 && COMMANDS.containsKey(args[0]);
        COMMANDS.forEach((name, command) -> {
            if (!named || name.equals(args[0])) {
                line.addSubcommand(name, command.get());
            }
        });
        return line.registerConverter(Path.class, new Reading<>(Fairturn::path))
                .registerConverter(LocalDate.class, new Reading<>(Fairturn::day))
                .registerConverter(int.class, new Reading<>(text -> number(text, Integer::valueOf, WHOLE)))
                .registerConverter(Long.class, new Reading<>(text -> number(text, Long::valueOf, WHOLE)))
                .registerConverter(double.class, new Reading<>(text -> number(text, Double::valueOf, DECIMAL)))
                .registerConverter(Double.class, new Reading<>(text -> number(text, Double::valueOf, DECIMAL)))
                // Java tells terminals from files differently from version to version; plain text is right in both
                .setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF))
                .setExpandAtFiles(false); // a folder may be called @home
    }

    private static Path path(String text) {
        if (text.isEmpty()) { // an unset variable in a script, most likely; Java would take it for the current folder
            throw new TypeConversionException(
                    "read an empty path; accepted: the path of a folder, . for the current one.");
        }
        try {
            return Path.of(text);
        } catch (InvalidPathException unusable) {
            throw new TypeConversionException("read \"" + text + "\"; accepted: a path this system can name."
                    + (text.indexOf('\uFFFD') < 0
                            ? ""
                            : " The language settings of this terminal cannot pass on some of its letters: set the"
                                    + " environment variable LC_ALL to C.UTF-8 and try again."));
        }
    }

    private static LocalDate day(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeParseException none) {
            throw new TypeConversionException("read \"" + text
                    + "\"; accepted: a day of the calendar written year-month-day, such as 2026-05-14.");
        }
    }

    private static <N> N number(String text, Function<String, N> reader, String accepted) {
        try {
            return reader.apply(text);
        } catch (NumberFormatException none) {
            throw new TypeConversionException("read \"" + text + "\"; accepted: " + accepted + ".");
        }
    }

    @Override
    public Integer call() {
        spec.commandLine().usage(spec.commandLine().getErr());
        return WRONG_USAGE;
    }

    private static int wrongUsage(ParameterException wrong) {
        CommandLine line = wrong.getCommandLine();
        PrintWriter err = line.getErr();
        err.println(Text.plain(wrong.getMessage()));
        if (wrong instanceof UnmatchedArgumentException unmatched
                && !UnmatchedArgumentException.printSuggestions(unmatched, err)
                && !unmatched.isUnknownOption()) {
            err.println("A path with blanks in it needs double quotes around it.");
        }
        err.print(line.getHelp().synopsisHeading());
        err.print(line.getHelp().synopsis(line.getHelp().synopsisHeadingLength()));
        err.println("More: " + line.getCommandSpec().qualifiedName() + " --help");
        return WRONG_USAGE;
    }

    private static int ownFault(Throwable fault, PrintWriter err, boolean debug) {
        err.println("Fairturn stopped because of a fault of its own, not of yours ("
                + fault.getClass().getSimpleName() + "). Please report it, together with the trial folder and what the"
                + " same command shows when the environment variable FAIRTURN_DEBUG is set to 1.");
        if (debug) {
            fault.printStackTrace(err);
        }
        return DATA_ERRORS;
    }

    /** Such as {@code fairturn 0.1.0}, as the build wrote it down. */
    static String version() {
        try (InputStream version = Fairturn.class.getResourceAsStream("version.txt")) {
            return "fairturn " + new String(version.readAllBytes(), StandardCharsets.UTF_8).strip();
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }

    /** The version, and the Java it runs on. */
    static final class Version implements IVersionProvider {
        @Override
        public String[] getVersion() {
            return new String[] {
                version(),
                "Java " + System.getProperty("java.version") + " (" + System.getProperty("java.vendor") + "), "
                        + System.getProperty("os.name") + " " + System.getProperty("os.arch")
            };
        }
    }

    // Classes, not lambdas: those would keep picocli's classes out of the archive that makes a start quick.

    private record Reading<T>(Function<String, T> reader) implements ITypeConverter<T> {
        @Override
        public T convert(String text) {
            return reader.apply(text);
        }
    }

    private static final class WrongUsage implements IParameterExceptionHandler {
        @Override
        public int handleParseException(ParameterException wrong, String[] args) {
            return wrongUsage(wrong);
        }
    }

    private record OwnFault(PrintWriter err, boolean debug) implements IExecutionExceptionHandler {
        @Override
        public int handleExecutionException(Exception fault, CommandLine command, ParseResult parsed) {
            return ownFault(fault, err, debug);
        }
    }
}
