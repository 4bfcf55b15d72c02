package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Days;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Bundle;
import org.fairturn.folder.DataCode;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TakenTrial;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.BundleAgreement;
import org.fairturn.report.DaysReport;
import org.fairturn.report.TrialReport;
import org.fairturn.trial.Machine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Holds several trial folders of the same machines against each other. */
@Command(
        name = "days",
        description = {
            "Compare trials of the same machine on several days, a trial folder each: how well a circle repeats on one day"
                    + " and from day to day, whether the days differ by more than the practical margin, and which day"
                    + " stands out.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn days monday thursday saturday    writes",
            "                                            reports/monday-thursday-saturday",
            "  fairturn days may june --out ~/handover   writes there instead",
            "",
            "Exit codes: 0 done; 1 something in a folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        })
final class DaysCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(
            arity = "1..*",
            paramLabel = "FOLDER",
            description = "Trial folders or bundles, two or more, with a machine in common. They are not changed.")
    private List<Path> folders;

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description =
                    "Where the report goes; default: reports/ and the trial folders' names, below the current folder.")
    private Path out;

    @Option(names = "--pdf", description = "Write days.pdf as well: the same on A4 pages, to print or to send.")
    private boolean pdf;

    @Option(names = "--json", description = "Write results.json's content to standard output as well.")
    private boolean json;

    @Override
    public Integer call() {
        distinct();
        List<Days.Folder> read = new ArrayList<>();
        List<Warning> notes = new ArrayList<>();
        List<String> faults = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        for (Path folder : folders) {
            TakenTrial taken = TrialFolder.take(folder);
            taken.read()
                    .fold(
                            sound -> {
                                read.add(new Days.Folder(folder.toString(), sound.trial()));
                                notes.addAll(notes(folder, sound, taken));
                                return true;
                            },
                            faulty -> {
                                problems.addAll(faulty.problems());
                                faulty.problems()
                                        .forEach(p -> faults.add(Text.argument(folder) + ": " + Text.problem(p)));
                                TrialReport.asWarnings(faulty.notes())
                                        .forEach(w -> faults.add(Text.argument(folder) + ": " + Text.warning(w)));
                                return false;
                            });
        }
        if (!problems.isEmpty()) {
            return refused(faults, problems);
        }
        distinctData(read);
        if (Days.inCommon(read).isEmpty()) {
            return strangers(read);
        }
        Days days = Days.of(read);
        return written(DaysReport.of(days, notes));
    }

    /** Two or more folders, none of them twice: its circles would count twice. */
    private void distinct() {
        if (folders.size() < 2) {
            throw new ParameterException(
                    spec.commandLine(),
                    "FOLDER: read one folder, " + Text.argument(folders.get(0))
                            + "; accepted: two or more trial folders, a day each. For a single trial: fairturn report "
                            + Text.argument(folders.get(0)));
        }
        Set<Path> seen = new LinkedHashSet<>();
        for (Path folder : folders) {
            if (!seen.add(real(folder))) {
                throw new ParameterException(
                        spec.commandLine(),
                        "FOLDER: read " + Text.argument(folder)
                                + " twice; accepted: each folder once, because its circles would count twice. Leave one out.");
            }
        }
    }

    /** The same trial may come as a folder and as a bundle, or as two copies. */
    private void distinctData(List<Days.Folder> read) {
        Map<String, String> seen = new HashMap<>();
        for (Days.Folder folder : read) {
            String code = DataCode.of(folder.trial());
            String other = seen.putIfAbsent(code, folder.path());
            if (other != null) {
                throw new ParameterException(
                        spec.commandLine(),
                        "FOLDER: read " + Text.argument(Path.of(other)) + " and "
                                + Text.argument(Path.of(folder.path())) + ", which hold the same data (code " + code
                                + "); accepted: each trial once, because its circles would count twice. Leave one out.");
            }
        }
    }

    private static Path real(Path folder) {
        try {
            return folder.toRealPath();
        } catch (IOException missing) { // reading it will say so
            return folder.toAbsolutePath().normalize();
        }
    }

    /** What was noticed in one folder, by reading it and in its trial by itself, led by the folder. */
    private static List<Warning> notes(Path folder, TrialRead.Complete read, TakenTrial taken) {
        List<Warning> all = new ArrayList<>(TrialReport.asWarnings(read.notes()));
        Analysis analysis = Analysis.of(read.trial());
        all.addAll(analysis.warnings());
        BundleAgreement.of(taken, TrialReport.of(analysis, List.of())).ifPresent(a -> all.addAll(a.warnings()));
        return all.stream()
                .map(w -> new Warning(w.code(), TrialFolder.nameOf(folder) + ", " + w.where(), w.message()))
                .toList();
    }

    private int refused(List<String> faults, List<Problem> problems) {
        PrintWriter human = spec.commandLine().getErr();
        faults.forEach(human::println);
        human.println(Text.count(problems.size(), "problem", "problems") + " to mend; no report was written.");
        if (json) {
            spec.commandLine().getOut().print(TrialReport.errorsJson(names(), problems, List.of()));
        }
        return Fairturn.DATA_ERRORS;
    }

    private int strangers(List<Days.Folder> read) {
        String found = read.stream()
                .map(f -> Text.argument(Path.of(f.path())) + " has "
                        + f.trial().machines().stream()
                                .map(Machine::id)
                                .map(id -> '"' + Text.plain(id) + '"')
                                .collect(Collectors.joining(", ")))
                .collect(Collectors.joining("; "));
        Problem problem = new Problem(
                "machines.csv",
                0,
                "",
                "no machine that two of the folders have in common: " + found,
                "folders that share a machine by its name",
                "Write the same name into machines.csv and circles.csv of each folder where it is the same machine.",
                -1);
        return refused(List.of(Text.problem(problem)), List.of(problem));
    }

    /** Such as {@code monday-thursday-saturday}. */
    private String names() {
        return folders.stream().map(Bundle::nameOf).collect(Collectors.joining("-"));
    }

    private int written(DaysReport report) {
        Path target = Optional.ofNullable(out).orElseGet(() -> Path.of("reports", names()));
        PrintWriter results = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        Path page;
        try {
            page = report.write(target, pdf);
        } catch (IOException refused) {
            human.println(Text.cannotWrite(target, refused, "a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        report.warnings().forEach(line -> human.println(Text.plain(line)));
        PrintWriter verdicts = json ? human : results;
        report.sentences().forEach(sentence -> verdicts.println(Text.plain(sentence)));
        verdicts.println(page);
        if (json) {
            results.print(report.resultsJson());
        }
        return Fairturn.DONE;
    }
}
