package org.fairturn.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.finding.Archive;
import org.fairturn.finding.PlanWish;
import org.fairturn.finding.PlannedQuestion;
import org.fairturn.finding.TrialPlan;
import org.fairturn.folder.PlannedCircles;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.Cautions;
import org.fairturn.report.FieldSheet;
import org.fairturn.report.PlanReport;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Plans a fair trial. */
@Command(
        name = "plan",
        description = {
            "Plan a fair trial: how many circles and readings bring a verdict, how long that takes, and in which order to"
                    + " drive. Without --out it writes nothing.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn plan \"Alder 22\" --circle-scatter 15mm",
            "  fairturn plan \"Alder 22\" \"Basalt 25\" --ask side-by-side --minutes 120",
            "  fairturn plan --folder meadow --ask left-right,drive --find \"5 in\"",
            "  fairturn plan \"Alder 22\" --out meadow --date 2026-05-14",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        })
final class PlanCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(
            paramLabel = "MACHINE",
            arity = "0..*",
            description = "Ids of the machines; default: those in the folder.")
    private List<String> ids = List.of();

    @Option(
            names = "--folder",
            paramLabel = "FOLDER",
            description = "A trial folder that lists the machines and states margin and confidence. It is not changed.")
    private Path folder;

    @Option(
            names = "--out",
            paramLabel = "FOLDER",
            description =
                    "Put the planned circles into this trial folder, which is made where it is missing; what is in"
                            + " it stays.")
    private Path out;

    @Option(
            names = "--ask",
            paramLabel = "QUESTION",
            split = ",",
            description = "What the trial is to answer: left-right, drive, claim, side-by-side, complaint; several with"
                    + " commas. Default: left-right, and side-by-side where there are several machines.")
    private List<String> asked = List.of();

    @Option(
            names = "--drives",
            paramLabel = "DRIVE",
            split = ",",
            description = "2WD, 4WD or both with a comma. Default: 2WD; both where drive is asked.")
    private List<String> drives = List.of();

    @Option(names = "--margin", paramLabel = "LENGTH", description = "Practical margin; default: 50 mm.")
    private String margin;

    @Option(names = "--confidence", paramLabel = "PERCENT", description = "What a verdict has to reach; default: 95.")
    private Double confidence;

    @Option(
            names = "--find",
            paramLabel = "LENGTH",
            description = "The difference that has to be found; default: twice the margin.")
    private String find;

    @Option(
            names = "--chance",
            paramLabel = "PERCENT",
            defaultValue = "90",
            description = "Chance of the right verdict; default: ${DEFAULT-VALUE}.")
    private double chance;

    @Option(
            names = "--minutes",
            paramLabel = "MINUTES",
            description =
                    "The time there is: plan what it can show, and with less than was asked where it does not do for all.")
    private Double minutes;

    @Option(
            names = "--circle-scatter",
            paramLabel = "LENGTH",
            description = "Expected standard deviation of circles driven alike; default: what --archive teaches, else"
                    + " what the analysis assumes, 50 mm.")
    private String circleScatter;

    @Option(
            names = "--reading-scatter",
            paramLabel = "LENGTH",
            description = "The same of readings of one circle; default: what --archive teaches, else what the analysis"
                    + " assumes, 20 mm.")
    private String readingScatter;

    @Option(
            names = "--stated-uncertainty",
            paramLabel = "LENGTH",
            description = "Standard uncertainty of the claim or reference compared with; default: a claim counts as one"
                    + " circle, a reference as exact, but a machine known to be good as its own circles leave it.")
    private String statedUncertainty;

    @Option(
            names = "--circle-minutes",
            paramLabel = "MINUTES",
            defaultValue = "5",
            description = "To mow and mark a circle; default: ${DEFAULT-VALUE}.")
    private double circleMinutes;

    @Option(
            names = "--reading-minutes",
            paramLabel = "MINUTES",
            defaultValue = "2",
            description = "To lay the tape once; default: ${DEFAULT-VALUE}.")
    private double readingMinutes;

    @Option(
            names = "--drive-minutes",
            paramLabel = "MINUTES",
            defaultValue = "3",
            description = "To change a machine's drive; default: ${DEFAULT-VALUE}.")
    private double driveMinutes;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            description = "Unit of bare numbers, and the one shown first: mm, cm, m, in, ft; default: mm.")
    private String unit;

    @Option(names = "--title", paramLabel = "TITLE", description = "Title of a new folder; default: its name.")
    private String title;

    @Option(
            names = "--date",
            paramLabel = "DATE",
            description = "Day of the trial, such as 2026-05-14, for a new folder.")
    private LocalDate date;

    @Option(
            names = "--seed",
            paramLabel = "NUMBER",
            description = "Draws the run order; default: a number that title, date, machines and drives make.")
    private Long seed;

    @Option(names = "--json", description = "Write the plan as JSON.")
    private boolean json;

    @Option(names = "--sheet", paramLabel = "FILE", description = "Write the field sheet, a PDF to print, here.")
    private Path sheet;

    @Option(
            names = "--paper",
            paramLabel = "SIZE",
            defaultValue = "a4",
            description = "${COMPLETION-CANDIDATES}; default: ${DEFAULT-VALUE}.",
            completionCandidates = SheetFile.Sizes.class)
    private String paper;

    @Mixin
    private ArchiveOption archive;

    @Override
    public Integer call() {
        if (folder != null && out != null && !TrialFolder.same(folder, out)) {
            throw wrong(
                    "--out: beside --folder it may only name the same folder; accepted: that folder, or one of the two.");
        }
        Optional<Path> source =
                Optional.ofNullable(folder).or(() -> Optional.ofNullable(out).filter(TrialFolder::holdsTrial));
        if (source.isEmpty()) {
            return plan(Optional.empty());
        }
        return TrialFolder.readPlanned(source.get()).fold(read -> plan(Optional.of(read.trial())), this::faulty);
    }

    private int faulty(TrialRead.Faulty read) {
        PrintWriter human = spec.commandLine().getErr();
        read.problems().forEach(problem -> human.println(Text.problem(problem)));
        human.println(Text.count(read.problems().size(), "problem", "problems") + " to mend; nothing was planned.");
        return Fairturn.DATA_ERRORS;
    }

    private int plan(Optional<Trial> trial) {
        boolean intoNewFolder = out != null && !TrialFolder.holdsTrial(out);
        if (intoNewFolder && date == null) {
            throw wrong("--date: it is needed for a new folder; accepted: the day of the trial, such as 2026-05-14.");
        }
        Optional<Archive> past = Optional.empty();
        if (archive.asked()) {
            past = archive.read(spec.commandLine().getErr());
            if (past.isEmpty()) {
                return Fairturn.DATA_ERRORS;
            }
        }
        PlanWish wish = wish(trial, past);
        wish.impossible().ifPresent(why -> {
            throw wrong(why);
        });
        PlanReport report =
                new PlanReport(TrialPlan.of(wish), seed == null ? PlanReport.seed(PlanReport.words(wish)) : seed);
        PrintWriter results = spec.commandLine().getOut();
        PrintWriter human = spec.commandLine().getErr();
        FieldSheet.Paper size = SheetFile.paper(spec, paper);
        if (report.order().isEmpty() && (out != null || sheet != null)) {
            throw wrong("--minutes: " + report.answer() + " Nothing was written.");
        }
        if (out != null) {
            List<Problem> problems = (intoNewFolder
                            ? PlannedCircles.create(
                                    out, PlannedCircles.facts(wish.conditions()), ids(wish), report.order())
                            : PlannedCircles.add(out, ids(wish), report.order()))
                    .problems();
            if (!problems.isEmpty()) {
                problems.forEach(problem -> human.println(Text.problem(problem)));
                return Fairturn.DATA_ERRORS;
            }
            human.println(
                    "The circles stand in circles.csv of " + Text.argument(out) + ", in the order to drive them.");
        }
        if (sheet != null && !SheetFile.write(sheet, fieldSheet(wish, report, size), human)) {
            return Fairturn.DATA_ERRORS;
        }
        if (json) {
            results.print(report.json());
        } else {
            report.lines().forEach(line -> results.println(Text.plain(line)));
        }
        if (json) {
            report.leave().forEach(human::println);
        }
        Cautions.ALL.forEach(human::println);
        return Fairturn.DONE;
    }

    /** With the ids the circles have in the folder, where they were put into one. */
    private FieldSheet fieldSheet(PlanWish wish, PlanReport report, FieldSheet.Paper size) {
        int readings = report.readings();
        return Optional.ofNullable(out)
                .map(TrialFolder::readPlanned)
                .flatMap(read -> read.<Optional<Trial>>fold(c -> Optional.of(c.trial()), f -> Optional.empty()))
                .map(trial -> FieldSheet.of(trial, readings, size))
                .orElseGet(() -> FieldSheet.of(wish.conditions(), wish.machines(), report.order(), readings, size));
    }

    private PlanWish wish(Optional<Trial> trial, Optional<Archive> past) {
        List<Machine> machines = machines(trial);
        Set<PlannedQuestion> questions = questions(machines.size());
        Set<Drive> driven = questions.contains(PlannedQuestion.DRIVE) ? EnumSet.allOf(Drive.class) : drives();
        Conditions usual = conditions(trial);
        Conditions conditions = past.map(p -> p.taughtTo(usual, driven)).orElse(usual);
        LengthUnit bare = conditions.lengthUnit();
        double twice = 2 * conditions.practicalMargin().metres();
        PlanWish wish = new PlanWish(
                conditions,
                machines,
                questions,
                driven,
                length("--circle-scatter", circleScatter, bare)
                        .orElse(conditions.expectedCircleScatter())
                        .metres(),
                length("--reading-scatter", readingScatter, bare)
                        .orElse(conditions.expectedReadingScatter())
                        .metres(),
                length("--find", find, bare).map(Length::metres).orElse(twice),
                stated(trial, bare),
                new PlanWish.Pace(
                        pace("--circle-minutes", circleMinutes),
                        pace("--reading-minutes", readingMinutes),
                        pace("--drive-minutes", driveMinutes)),
                share("--chance", chance, 50, 99.5),
                minutes == null ? OptionalDouble.empty() : OptionalDouble.of(pace("--minutes", minutes)));
        return trial.map(wish::against).orElse(wish);
    }

    /** As the folder states them; what is agreed there is not agreed anew here. */
    private Conditions conditions(Optional<Trial> trial) {
        if (trial.isPresent()) {
            Stream.of(
                            Map.entry("--margin", Optional.ofNullable(margin)),
                            Map.entry("--confidence", Optional.ofNullable(confidence)),
                            Map.entry("--unit", Optional.ofNullable(unit)),
                            Map.entry("--title", Optional.ofNullable(title)),
                            Map.entry("--date", Optional.ofNullable(date)))
                    .filter(option -> option.getValue().isPresent())
                    .findFirst()
                    .ifPresent(option -> {
                        throw wrong(option.getKey()
                                + ": the folder's trial.csv states it; accepted: to leave the option out, or to change it"
                                + " there.");
                    });
            return trial.get().conditions();
        }
        LengthUnit bare = unit == null ? LengthUnit.MILLIMETRE : UnitOption.read(spec, unit);
        return Conditions.planned(
                title != null ? title : out != null ? TrialFolder.nameOf(out) : "",
                date != null ? date : LocalDate.EPOCH,
                bare,
                length("--margin", margin, bare).orElse(Conditions.DEFAULT_PRACTICAL_MARGIN),
                confidence == null ? Conditions.DEFAULT_CONFIDENCE : share("--confidence", confidence, 50.1, 99.99));
    }

    private List<Machine> machines(Optional<Trial> trial) {
        List<Machine> known = trial.map(Trial::machines).orElse(List.of());
        if (ids.isEmpty()) {
            return known;
        }
        List<Machine> named = new ArrayList<>();
        for (String id : ids.stream().map(String::strip).distinct().toList()) {
            if (id.isEmpty()) {
                throw wrong("MACHINE: read an empty name; accepted: an id, such as \"Alder 22\".");
            }
            Optional<Machine> listed =
                    known.stream().filter(m -> m.id().equals(id)).findFirst();
            if (listed.isEmpty() && folder != null) {
                throw wrong("MACHINE: read \"" + id + "\"; accepted: a machine listed in machines.csv: "
                        + known.stream().map(Machine::id).collect(Collectors.joining(", ")) + ".");
            }
            named.add(listed.orElseGet(() -> Machine.named(id)));
        }
        return named;
    }

    private Set<PlannedQuestion> questions(int machines) {
        Set<PlannedQuestion> questions = EnumSet.noneOf(PlannedQuestion.class);
        for (String word : asked) {
            questions.add(Stream.of(PlannedQuestion.values())
                    .filter(q -> q.word().equalsIgnoreCase(word.strip()))
                    .findFirst()
                    .orElseThrow(() -> wrong("--ask: read \"" + word + "\"; accepted: "
                            + Stream.of(PlannedQuestion.values())
                                    .map(PlannedQuestion::word)
                                    .collect(Collectors.joining(", "))
                            + "; several with commas.")));
        }
        return questions.isEmpty() ? PlannedQuestion.usual(machines) : questions;
    }

    private Set<Drive> drives() {
        Set<Drive> result = EnumSet.noneOf(Drive.class);
        for (String word : drives) {
            result.add(Stream.of(Drive.values())
                    .filter(d -> d.word().equalsIgnoreCase(word.strip()))
                    .findFirst()
                    .orElseThrow(() -> wrong("--drives: read \"" + word + "\"; accepted: 2WD, 4WD or 2WD,4WD.")));
        }
        return result.isEmpty() ? EnumSet.of(Drive.TWO_WHEEL) : result;
    }

    /** Given, or the largest the folder's claims state, where all of them state one. */
    private OptionalDouble stated(Optional<Trial> trial, LengthUnit bare) {
        return length("--stated-uncertainty", statedUncertainty, bare)
                .map(l -> OptionalDouble.of(l.metres()))
                .orElseGet(() -> trial.map(PlanWish::statedUncertainty).orElse(OptionalDouble.empty()));
    }

    private Optional<Length> length(String option, String text, LengthUnit bare) {
        if (text == null) {
            return Optional.empty();
        }
        Length length = Length.parse(text, bare).fold(l -> l, fault -> {
            throw wrong(option + ": " + fault);
        });
        if (!(length.compareTo(Length.mm(0.1)) >= 0 && length.compareTo(new Length(10)) <= 0)) {
            throw wrong(option + ": read \"" + text + "\"; accepted: a length from 0.1 mm to 10 m.");
        }
        return Optional.of(length);
    }

    private double pace(String option, double read) {
        if (!(read > 0 && read <= 10_000)) {
            throw wrong(option + ": read \"" + read + "\"; accepted: minutes, above 0 and up to 10000.");
        }
        return read;
    }

    private double share(String option, double percent, double least, double most) {
        if (!(percent >= least && percent <= most)) {
            throw wrong(
                    option + ": read \"" + percent + "\"; accepted: a percentage from " + least + " to " + most + ".");
        }
        return percent / 100;
    }

    private static List<String> ids(PlanWish wish) {
        return wish.machines().stream().map(Machine::id).toList();
    }

    private ParameterException wrong(String message) {
        return new ParameterException(spec.commandLine(), message);
    }
}
