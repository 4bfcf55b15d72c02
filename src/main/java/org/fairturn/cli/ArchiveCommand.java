package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.ArchiveReport;
import org.fairturn.report.ArchiveSource;
import org.fairturn.units.LengthUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Says what past trials teach of the repeatability. */
@Command(
        name = "archive",
        description = {
            "Say what past trials teach of how much circles and readings scatter, by drive, surface and measurer, what to"
                    + " expect of the next trial, and which trial stands out. report, plan and batch use it with --archive.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn archive trials    writes reports/trials-archive",
            "  fairturn report meadow --archive reports/trials-archive/repeatability.csv",
            "                             a report that uses it",
            "",
            "Exit codes: 0 done; 1 nothing could be learnt, or the disk refused; 2 the",
            "command was not understood."
        })
final class ArchiveCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(
            paramLabel = "PATH",
            description =
                    "A folder that trial folders lie in, directly or deeper down, or a repeatability.csv. Nothing in it is"
                            + " changed; folders to mend are left out and named.")
    private Path path;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description =
                    "Where archive.html, repeatability.csv and the rest go; default: reports/ and the name of PATH with"
                            + " -archive behind it.")
    private Path out;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            defaultValue = "mm",
            description = "Unit shown first: mm, cm, m, in, ft; default: ${DEFAULT-VALUE}.")
    private String unit;

    @Option(names = "--json", description = "Write results.json's content to standard output as well.")
    private boolean json;

    @Override
    public Integer call() {
        LengthUnit first = UnitOption.read(spec, unit);
        return ArchiveSource.read(path).fold(found -> report(found, first), this::faulty);
    }

    private int faulty(ArchiveSource.Faulty faulty) {
        faulty.problems().forEach(problem -> spec.commandLine().getErr().println(Text.problem(problem)));
        return Fairturn.DATA_ERRORS;
    }

    private int report(ArchiveSource.Found found, LengthUnit first) {
        PrintWriter results = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        String name = TrialFolder.nameOf(path).replaceFirst("(?i)\\.csv$", "");
        ArchiveReport report = new ArchiveReport(name, found, first);
        report.warnings().forEach(line -> human.println(Text.plain(line)));
        if (report.empty()) {
            human.println(Text.argument(path)
                    + ": found no circle that counts in any trial; accepted: at least one trial with"
                    + " readings. What has to be mended in a folder says fairturn check.");
            return Fairturn.DATA_ERRORS;
        }
        Path target = Optional.ofNullable(out).orElseGet(() -> Path.of("reports", name + "-archive"));
        Path page;
        try {
            page = report.write(target);
        } catch (IOException refused) {
            human.println(Text.cannotWrite(target, refused, "a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        PrintWriter words = json ? human : results;
        report.sentences().forEach(sentence -> words.println(Text.plain(sentence)));
        report.table().forEach(line -> words.println(Text.plain(line)));
        words.println(page);
        if (json) {
            results.print(report.resultsJson());
        }
        return Fairturn.DONE;
    }
}
