package org.fairturn.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.UnaryOperator;
import org.fairturn.finding.Archive;
import org.fairturn.folder.AtomicFile;
import org.fairturn.folder.TrialFolders;
import org.fairturn.report.Batch;
import org.fairturn.trial.Trial;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Analyses every folder of an archive. */
@Command(
        name = "batch",
        description = {
            "Analyse every trial folder below a folder, in the order of their names. A folder that has to be mended gets"
                    + " a line that says so; the others go on.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn batch trials                a short table",
            "  fairturn batch trials --json-lines   results.json of each trial, one a line",
            "",
            "Exit codes: 0 every folder was analysed; 1 some have to be mended, there was",
            "none, or the disk refused; 2 the command was not understood."
        })
final class BatchCommand implements Callable<Integer> {
    private static final int WIDEST_NAME = 40;

    @Spec
    private CommandSpec spec;

    @Parameters(
            paramLabel = "DIR",
            description =
                    "The folder that the trial folders lie in, directly or deeper down; deeper down a folder without trial.csv is"
                            + " passed over. A bundle directly in it counts like a folder. Nothing in it is changed.")
    private Path dir;

    @Option(names = "--json-lines", description = "Write one JSON object a line for each folder, for programs.")
    private boolean jsonLines;

    @Option(
            names = "--out",
            paramLabel = "FILE",
            description = "Write to this file instead of standard output. It is replaced once all is done.")
    private Path out;

    @Mixin
    private ArchiveOption archive;

    private UnaryOperator<Trial> taught = UnaryOperator.identity();
    private int analysed;
    private int toMend;

    @Override
    public Integer call() {
        PrintWriter human = spec.commandLine().getErr();
        List<Path> folders;
        try {
            folders = TrialFolders.below(dir);
        } catch (IOException cannotList) {
            human.println(Text.argument(dir) + ": found "
                    + (Files.isDirectory(dir) ? "a folder that cannot be opened" : "no such folder")
                    + "; accepted: a folder with trial folders in it. Check the path"
                    + (Files.isDirectory(dir) ? ", and ask its owner for permission to read it." : "."));
            return Fairturn.DATA_ERRORS;
        }
        if (folders.isEmpty()) {
            human.println(Text.argument(dir) + ": found no folder in it; accepted: a folder with trial folders in it."
                    + (TrialFolders.isTrial(dir)
                            ? " It is a trial folder itself: fairturn report " + Text.argument(dir)
                            : ""));
            return Fairturn.DATA_ERRORS;
        }
        if (archive.asked()) {
            Optional<Archive> past = archive.read(human);
            if (past.isEmpty()) {
                return Fairturn.DATA_ERRORS;
            }
            taught = past.get()::taughtTo;
        }
        try {
            write(folders);
        } catch (IOException refused) {
            human.println(Text.cannotWrite(out, refused, "a file in a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        human.println(Text.count(folders.size(), "folder", "folders") + ": " + analysed + " analysed, " + toMend
                + " to mend.");
        return toMend == 0 ? Fairturn.DONE : Fairturn.DATA_ERRORS;
    }

    private void write(List<Path> folders) throws IOException {
        if (out == null) {
            write(folders, spec.commandLine().getOut(), Optional.empty());
            return;
        }
        AtomicFile.write(out, (OutputStream file) -> {
            Writer writer = new OutputStreamWriter(file, StandardCharsets.UTF_8);
            // where the lines themselves pass over the terminal they are progress enough
            Optional<Progress> progress = Optional.ofNullable(System.console())
                    .map(there -> new Progress(spec.commandLine().getErr(), folders.size(), System::nanoTime));
            write(folders, writer, progress);
            writer.flush();
        });
    }

    private void write(List<Path> folders, Writer to, Optional<Progress> progress) throws IOException {
        int width = folders.stream()
                .mapToInt(folder -> dir.relativize(folder).toString().length())
                .max()
                .orElseThrow();
        String row = "%-" + Math.min(WIDEST_NAME, Math.max("folder".length(), width)) + "s  ";
        if (!jsonLines) {
            to.write(String.format(Locale.ROOT, row, "folder")
                    + "machines  circles  decided  cannot tell  not possible\n");
        }
        try {
            new Batch(dir, jsonLines, taught).run(folders, line -> {
                to.write(jsonLines ? line.json() : tableRow(row, line));
                to.flush();
                if (line.problems() == 0) {
                    analysed++;
                } else {
                    toMend++;
                }
                progress.ifPresent(p -> p.reached(analysed + toMend));
            });
        } finally {
            progress.ifPresent(Progress::done);
        }
    }

    private String tableRow(String row, Batch.Line line) {
        String name = String.format(Locale.ROOT, row, Text.plain(line.name()));
        if (line.problems() > 0) {
            return name + Text.count(line.problems(), "problem", "problems") + " to mend: fairturn check "
                    + Text.argument(dir.resolve(line.name())) + "\n";
        }
        Batch.Result result = line.result();
        return name
                + String.format(
                        Locale.ROOT,
                        "%8d  %7d  %7d  %11d  %12d\n",
                        result.machines(),
                        result.circles(),
                        result.decided(),
                        result.open(),
                        result.notPossible());
    }
}
