package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.FieldSheet;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Writes the field sheet of a folder's planned circles. */
@Command(
        name = "sheet",
        description = {
            "Write the field sheet of a trial folder, a PDF to print: cautions, what to check on each machine, how to"
                    + " measure, and boxes for every circle that has no readings yet. Changes nothing in the folder.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn sheet meadow                             writes meadow-sheet.pdf",
            "  fairturn sheet meadow --out clip.pdf --paper letter",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        })
final class SheetCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FOLDER", description = "The trial folder. It is not changed.")
    private Path folder;

    @Option(
            names = "--out",
            paramLabel = "FILE",
            description = "Where the sheet goes; default: the folder's name and -sheet.pdf, in the current folder.")
    private Path out;

    @Option(
            names = "--readings",
            paramLabel = "NUMBER",
            defaultValue = "2",
            description = "Boxes for readings of each circle, 1 to 3; default: ${DEFAULT-VALUE}.")
    private int readings;

    @Option(
            names = "--paper",
            paramLabel = "SIZE",
            defaultValue = "a4",
            completionCandidates = SheetFile.Sizes.class,
            description = "${COMPLETION-CANDIDATES}; default: ${DEFAULT-VALUE}.")
    private String paper;

    @Override
    public Integer call() {
        if (readings < 1 || readings > 3) {
            throw new ParameterException(
                    spec.commandLine(), "--readings: read \"" + readings + "\"; accepted: 1, 2 or 3.");
        }
        FieldSheet.Paper size = SheetFile.paper(spec, paper);
        return TrialFolder.readPlanned(folder).fold(read -> write(read, size), this::faulty);
    }

    private int write(TrialRead.Complete read, FieldSheet.Paper size) {
        PrintWriter human = spec.commandLine().getErr();
        FieldSheet sheet = FieldSheet.of(read.trial(), readings, size);
        if (sheet.rows().isEmpty()) {
            human.println(
                    "circles.csv: found no circle without readings; accepted: one or more, still to be measured. Plan"
                            + " them: fairturn plan --out " + Text.argument(folder));
            return Fairturn.DATA_ERRORS;
        }
        Path target = out != null ? out : Path.of(TrialFolder.nameOf(folder) + "-sheet.pdf");
        if (!SheetFile.write(target, sheet, human)) {
            return Fairturn.DATA_ERRORS;
        }
        sheet.leave().forEach(human::println);
        spec.commandLine().getOut().println(target);
        return Fairturn.DONE;
    }

    private int faulty(TrialRead.Faulty read) {
        PrintWriter human = spec.commandLine().getErr();
        read.problems().forEach(problem -> human.println(Text.problem(problem)));
        human.println(Text.count(read.problems().size(), "problem", "problems") + " to mend in " + Text.argument(folder)
                + "; no sheet was written.");
        return Fairturn.DATA_ERRORS;
    }
}
