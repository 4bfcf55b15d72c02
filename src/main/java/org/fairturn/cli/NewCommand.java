package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TrialFolder;
import org.fairturn.report.Cautions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Makes a folder ready to fill in. */
@Command(
        name = "new",
        description = {
            "Make a trial folder to fill in: CSV files with their column names, which any spreadsheet opens. Leaves a"
                    + " folder that holds a trial already as it is.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Example:",
            "  fairturn new \"lower meadow\"",
            "",
            "Exit codes: 0 done; 1 it could not be made; 2 the command was not understood."
        })
final class NewCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FOLDER", description = "The folder to make.")
    private Path folder;

    @Override
    public Integer call() {
        PrintWriter human = spec.commandLine().getErr();
        List<Problem> problems = TrialFolder.create(folder);
        if (!problems.isEmpty()) {
            problems.forEach(problem -> human.println(Text.problem(problem)));
            return Fairturn.DATA_ERRORS;
        }
        spec.commandLine().getOut().println(folder);
        human.println(
                "Fill in trial.csv, machines.csv, circles.csv and readings.csv; the others help where you have them."
                        + "\nKinds of reading: across; chord and rise; three stakes."
                        + "\nThen: fairturn check " + Text.argument(folder));
        Cautions.ALL.forEach(human::println);
        return Fairturn.DONE;
    }
}
