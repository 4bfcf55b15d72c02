package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Warning;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.BundleAgreement;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Trial;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Lists every problem of a folder. */
@Command(
        name = "check",
        description = {"List everything that has to be mended in a trial folder. Changes nothing.", ""},
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn check meadow          problems, each with file, row and column",
            "  fairturn check meadow --json   the same for a program",
            "",
            "Exit codes: 0 nothing to mend; 1 there is; 2 the command was not understood."
        })
final class CheckCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FOLDER", description = "The trial folder, or a bundle of one.")
    private Path folder;

    @Option(names = "--json", description = "Write the problems as JSON.")
    private boolean json;

    @Override
    public Integer call() {
        TakenTrial taken = TrialFolder.take(folder);
        return taken.read().fold(read -> sound(read, taken), this::faulty);
    }

    private int sound(TrialRead.Complete read, TakenTrial taken) {
        List<Warning> warnings = new ArrayList<>(TrialReport.asWarnings(read.notes()));
        Analysis analysis = Analysis.of(read.trial());
        warnings.addAll(analysis.warnings());
        Optional<BundleAgreement> agreement = BundleAgreement.of(taken, TrialReport.of(analysis, List.of()));
        agreement.ifPresent(a -> warnings.addAll(a.warnings()));
        PrintWriter out = spec.commandLine().getOut();
        if (json) {
            out.print(TrialReport.errorsJson(TrialFolder.nameOf(folder), List.of(), warnings));
        } else {
            out.println(Text.plain(TrialFolder.nameOf(folder)) + ": nothing to mend; " + found(read.trial()) + ".");
            warnings.forEach(warning -> out.println(Text.warning(warning)));
            agreement.ifPresent(a -> a.sentences().forEach(line -> out.println(Text.plain(line))));
        }
        return agreement.map(Text::code).orElse(Fairturn.DONE);
    }

    private int faulty(TrialRead.Faulty read) {
        PrintWriter out = spec.commandLine().getOut();
        List<Warning> warnings = TrialReport.asWarnings(read.notes());
        if (json) {
            out.print(TrialReport.errorsJson(TrialFolder.nameOf(folder), read.problems(), warnings));
        } else {
            read.problems().forEach(problem -> out.println(Text.problem(problem)));
            warnings.forEach(warning -> out.println(Text.warning(warning)));
        }
        spec.commandLine()
                .getErr()
                .println(Text.count(read.problems().size(), "problem", "problems") + " to mend in "
                        + Text.argument(folder) + ".");
        return Fairturn.DATA_ERRORS;
    }

    private static String found(Trial trial) {
        int readings =
                trial.circles().stream().mapToInt(c -> c.readings().size()).sum();
        int points =
                trial.circles().stream().mapToInt(c -> c.perimeter().size()).sum();
        long unused = trial.circles().stream().filter(c -> !c.use()).count();
        return Text.count(trial.machines().size(), "machine", "machines") + ", "
                + Text.count(trial.circles().size(), "circle", "circles")
                + (unused > 0 ? " (" + unused + " of them taken out)" : "") + ", "
                + Text.count(readings, "reading", "readings") + ", "
                + Text.count(points, "perimeter point", "perimeter points") + ", "
                + Text.count(trial.claims().size(), "claim", "claims");
    }
}
