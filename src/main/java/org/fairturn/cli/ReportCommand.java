package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Trial;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Analyses a folder and writes its report. */
@Command(
        name = "report",
        description = {
            "Analyse a trial folder and write its report: report.html to read and print, its charts, and the results for"
                    + " programs. Says the verdicts and, in the last line, where report.html is.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn report meadow                    writes reports/meadow",
            "  fairturn report meadow --out ~/handover   writes there instead",
            "  fairturn report meadow --json             results as JSON, verdicts beside",
            "                                            them on standard error",
            "  fairturn report meadow --archive trials   past trials say how circles scatter",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        })
final class ReportCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FOLDER", description = "The trial folder. It is not changed.")
    private Path folder;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description =
                    "Where the report goes; default: reports/ and the trial folder's name, below the current folder.")
    private Path out;

    @Option(names = "--json", description = "Write results.json's content to standard output as well.")
    private boolean json;

    @Mixin
    private ArchiveOption archive;

    @Override
    public Integer call() {
        TrialReport.prepare();
        return TrialFolder.read(folder).fold(this::sound, this::faulty);
    }

    private int sound(TrialRead.Complete read) {
        if (!archive.asked()) {
            return report(read.trial(), read);
        }
        return archive.read(spec.commandLine().getErr())
                .map(past -> report(past.taughtTo(read.trial()), read))
                .orElse(Fairturn.DATA_ERRORS);
    }

    private int report(Trial trial, TrialRead.Complete read) {
        TrialReport report = TrialReport.of(Analysis.of(trial), TrialReport.asWarnings(read.notes()));
        Path target = Optional.ofNullable(out).orElseGet(() -> Path.of("reports", TrialFolder.nameOf(folder)));
        PrintWriter results = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        Path page;
        try {
            page = report.write(target);
        } catch (IOException refused) {
            human.println(Text.cannotWrite(target, refused, "a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        report.warnings().forEach(line -> human.println(Text.plain(line)));
        report.chartsMissing().ifPresent(human::println);
        PrintWriter verdicts = json ? human : results;
        report.sentences().forEach(sentence -> verdicts.println(Text.plain(sentence)));
        verdicts.println(page);
        if (json) {
            results.print(report.resultsJson());
        }
        return Fairturn.DONE;
    }

    private int faulty(TrialRead.Faulty read) {
        PrintWriter human = spec.commandLine().getErr();
        List<Warning> warnings = TrialReport.asWarnings(read.notes());
        read.problems().forEach(problem -> human.println(Text.problem(problem)));
        warnings.forEach(warning -> human.println(Text.warning(warning)));
        human.println(Text.count(read.problems().size(), "problem", "problems") + " to mend in " + Text.argument(folder)
                + "; no report was written.");
        if (json) {
            spec.commandLine()
                    .getOut()
                    .print(TrialReport.errorsJson(TrialFolder.nameOf(folder), read.problems(), warnings));
        }
        return Fairturn.DATA_ERRORS;
    }
}
