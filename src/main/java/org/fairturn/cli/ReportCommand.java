package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.BundleAgreement;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Trial;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
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
            "  fairturn report meadow --pdf --card       a PDF and a picture as well",
            "  fairturn report meadow --bundle           meadow.zip to hand over",
            "  fairturn report meadow.zip                works it out anew and says",
            "                                            whether the numbers agree",
            "  fairturn report meadow --json             results as JSON, verdicts beside",
            "                                            them on standard error",
            "  fairturn report meadow --archive trials   past trials say how circles scatter",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, a bundle is not",
            "what its files say, or the disk refused; 2 the command was not understood."
        })
final class ReportCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FOLDER", description = "The trial folder, or a bundle of one. It is not changed.")
    private Path folder;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description =
                    "Where the report goes; default: reports/ and the trial folder's name, below the current folder.")
    private Path out;

    @Option(names = "--pdf", description = "Write report.pdf as well: the same on A4 pages, to print or to send.")
    private boolean pdf;

    @Option(
            names = "--card",
            description =
                    "Write card.svg and card.png as well: the leading findings in one picture to send or to put up,"
                            + " and in card.txt the same in words.")
    private boolean card;

    @Option(
            names = "--bundle",
            description =
                    "Write the trial's name and .zip as well: its files, the results, the page and how it was done, in one"
                            + " file to hand over. Every command that reads a trial folder to analyse it reads such a file.")
    private boolean bundle;

    @Option(names = "--json", description = "Write results.json's content to standard output as well.")
    private boolean json;

    @Mixin
    private ArchiveOption archive;

    @Override
    public Integer call() {
        TakenTrial taken = TrialFolder.take(folder);
        return taken.read().fold(read -> sound(read, taken), this::faulty);
    }

    private int sound(TrialRead.Complete read, TakenTrial taken) {
        if (!archive.asked()) {
            return report(read.trial(), read, taken);
        }
        if (bundle) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--bundle and --archive do not go together: who works the bundle out anew does not have the archive.");
        }
        return archive.read(spec.commandLine().getErr())
                .map(past -> report(past.taughtTo(read.trial()), read, taken))
                .orElse(Fairturn.DATA_ERRORS);
    }

    private int report(Trial trial, TrialRead.Complete read, TakenTrial taken) {
        Analysis analysis = Analysis.of(trial);
        List<Warning> notes = new ArrayList<>(TrialReport.asWarnings(read.notes()));
        // a bundle's numbers were worked out without an archive
        Analysis plain = archive.asked() && Bundle.is(folder) ? Analysis.of(read.trial()) : analysis;
        Optional<BundleAgreement> agreement = BundleAgreement.of(taken, TrialReport.of(plain, notes));
        agreement.ifPresent(a -> notes.addAll(a.warnings()));
        TrialReport report = TrialReport.of(analysis, notes);
        Path target = Optional.ofNullable(out).orElseGet(() -> Path.of("reports", Bundle.nameOf(folder)));
        PrintWriter results = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        Path page;
        try {
            page = report.write(target, further(report, taken));
        } catch (IOException refused) {
            human.println(Text.cannotWrite(target, refused, "a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        report.warnings().forEach(line -> human.println(Text.plain(line)));
        report.chartsMissing().ifPresent(human::println);
        PrintWriter verdicts = json ? human : results;
        report.sentences().forEach(sentence -> verdicts.println(Text.plain(sentence)));
        agreement.ifPresent(a -> a.sentences().forEach(line -> verdicts.println(Text.plain(line))));
        verdicts.println(page);
        if (json) {
            results.print(report.resultsJson());
        }
        return agreement.map(Text::code).orElse(Fairturn.DONE);
    }

    private Map<String, byte[]> further(TrialReport report, TakenTrial taken) {
        Map<String, byte[]> further = new LinkedHashMap<>();
        if (card) {
            further.putAll(report.cardFiles());
        }
        String name = Bundle.nameOf(folder);
        byte[] packed = bundle ? report.bundle(name, taken, further) : new byte[0];
        if (pdf) {
            further.put("report.pdf", report.pdf());
        }
        if (bundle) {
            further.put(name + ".zip", packed);
        }
        return further;
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
