package org.fairturn.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.chart.Drawing;
import org.fairturn.finding.Conversion;
import org.fairturn.finding.OutermostPoint;
import org.fairturn.folder.AtomicFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.report.ConversionReport;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim.Quantity;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Converts a figure of a machine's turn. */
@Command(
        name = "convert",
        description = {
            "Say what a stated figure of a machine's turn means: uncut diameter, turn radius, turning circle and clearance"
                    + " circle, with what the machine's dimensions make uncertain of each.",
            ""
        },
        optionListHeading = "%nOptions:%n",
        footer = {
            "",
            "Examples:",
            "  fairturn convert \"turning circle diameter\" \"4.6 m\" \\",
            "      --folder meadow --machine \"Alder 22\"",
            "  fairturn convert \"turn radius\" \"61 in\" --turn left --blade 33,2,9.25 \\",
            "      --blade 26,19.75,9.25 --blade 26,-15.5,9.25 --unit in",
            "",
            "Exit codes: 0 done; 1 something in the folder has to be mended, or the disk",
            "refused; 2 the command was not understood."
        })
final class ConvertCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(
            index = "0",
            paramLabel = "QUANTITY",
            description = "uncut diameter, turn radius, turning circle diameter or clearance circle diameter.")
    private String quantity;

    @Parameters(index = "1", paramLabel = "VALUE", description = "A length such as \"4.6 m\" or \"15 ft 2 in\".")
    private String value;

    @Option(names = "--uncertainty", paramLabel = "LENGTH", description = "Standard uncertainty of the value.")
    private String uncertainty;

    @Option(names = "--turn", paramLabel = "TURN", description = "left or right; default: both.")
    private String turn;

    @Option(
            names = "--drive",
            paramLabel = "DRIVE",
            defaultValue = "2WD",
            description = "2WD or 4WD; default: ${DEFAULT-VALUE}. In 4WD the turn centre is less well known.")
    private String drive;

    @Option(
            names = "--brakes",
            paramLabel = "BRAKES",
            defaultValue = "none",
            description = "none or used; a circle turned with brakes is never converted.")
    private String brakes;

    @Option(names = "--folder", paramLabel = "FOLDER", description = "Trial folder with the machine's dimensions.")
    private Path folder;

    @Option(names = "--machine", paramLabel = "ID", description = "Which machine of the folder.")
    private String id;

    @Option(
            names = "--wheelbase",
            paramLabel = "LENGTH",
            description = "Instead of a folder, or instead of what it says.")
    private String wheelbase;

    @Option(names = "--front-track", paramLabel = "LENGTH", description = "Likewise.")
    private String frontTrack;

    @Option(names = "--turn-centre-shift", paramLabel = "LENGTH", description = "Likewise.")
    private String shift;

    @Option(
            names = "--blade",
            paramLabel = "AHEAD,LEFT,TIP",
            description =
                    "One blade: ahead of the rear axle, left of the centreline, tip radius. Repeat for each blade.")
    private List<String> blades = List.of();

    @Option(
            names = "--outermost",
            paramLabel = "AHEAD,OUT",
            description =
                    "The machine's outermost point, for the clearance circle: ahead of the rear axle, out from the centreline.")
    private String outermost;

    @Option(
            names = "--unit",
            paramLabel = "UNIT",
            description = "Unit of bare numbers; default: the folder's, else mm.")
    private String unit;

    @Option(names = "--out", paramLabel = "DIR", description = "Write a drawing of each turn there.")
    private Path out;

    @Option(names = "--json", description = "Write the figures as JSON.")
    private boolean json;

    private LengthUnit bare = LengthUnit.MILLIMETRE;

    @Override
    public Integer call() {
        if (folder == null) {
            bare = unit().orElse(LengthUnit.MILLIMETRE);
            return convert(Machine.named("this machine"));
        }
        // a figure can be converted before anyone has mown; a bundle is of a trial that was driven
        TrialRead read = Files.isDirectory(folder) ? TrialFolder.readPlanned(folder) : TrialFolder.read(folder);
        return read.fold(this::ofFolder, this::faulty);
    }

    private int faulty(TrialRead.Faulty read) {
        PrintWriter human = spec.commandLine().getErr();
        read.problems().forEach(problem -> human.println(Text.problem(problem)));
        return Fairturn.DATA_ERRORS;
    }

    private int ofFolder(TrialRead.Complete read) {
        Trial trial = read.trial();
        bare = unit().orElse(trial.conditions().lengthUnit());
        List<String> ids = trial.machines().stream().map(Machine::id).toList();
        if (id == null && ids.size() > 1) {
            throw wrong("--machine: not given; accepted: one of " + String.join(", ", ids) + ".");
        }
        return convert(trial.machine(id == null ? ids.get(0) : id)
                .orElseThrow(() ->
                        wrong("--machine: read \"" + id + "\"; accepted: one of " + String.join(", ", ids) + ".")));
    }

    private int convert(Machine known) {
        if (Quantity.isLooseRadius(quantity)) {
            throw wrong("QUANTITY: read \"" + quantity + "\". " + Quantity.LOOSE_RADIUS);
        }
        Quantity figure = word("QUANTITY", quantity, Quantity.values(), Quantity::word);
        Length stated = positive("VALUE", value);
        Optional<Turn> side = Optional.ofNullable(turn).map(t -> word("--turn", t, Turn.values(), Turn::word));
        Drive driven = word("--drive", drive, Drive.values(), Drive::word);
        PrintWriter human = spec.commandLine().getErr();
        if (word("--brakes", brakes, Brakes.values(), Brakes::word) == Brakes.USED) {
            human.println(ConversionReport.NEVER_WITH_BRAKES);
            return Fairturn.DATA_ERRORS;
        }
        Conversion conversion = Conversion.of(
                new Conversion.Given(machine(known), point(), figure, stated, stated(), side, driven, bare));
        try {
            write(ConversionReport.drawings(conversion));
        } catch (IOException refused) {
            human.println(Text.cannotWrite(out, refused, "a folder you may write to, with room on the disk"));
            return Fairturn.DATA_ERRORS;
        }
        PrintWriter results = spec.commandLine().getOut();
        if (json) {
            results.print(ConversionReport.json(conversion));
        } else {
            ConversionReport.lines(conversion).forEach(line -> results.println(Text.plain(line)));
        }
        return Fairturn.DONE;
    }

    private void write(List<Drawing> drawings) throws IOException {
        if (out != null) {
            Files.createDirectories(out);
            for (Drawing drawing : drawings) {
                AtomicFile.write(
                        out.resolve(drawing.name() + ".svg"), drawing.svgFile().getBytes(StandardCharsets.UTF_8));
            }
        }
    }

    private Machine machine(Machine known) {
        List<Blade> given = new ArrayList<>();
        for (String blade : blades) {
            List<Length> parts = lengths("--blade", blade, 3, "AHEAD,LEFT,TIP");
            if (!(parts.get(2).metres() > 0)) {
                throw wrong("--blade: read \"" + blade + "\"; accepted: a tip radius above 0.");
            }
            given.add(new Blade(
                    "blade " + (given.size() + 1), exact(parts.get(0)), exact(parts.get(1)), exact(parts.get(2))));
        }
        return new Machine(
                known.id(),
                known.label(),
                instead("--wheelbase", wheelbase, known.wheelbase(), this::positive),
                instead("--front-track", frontTrack, known.frontTrack(), this::positive),
                known.leftLock(),
                known.rightLock(),
                given.isEmpty() ? known.deckOffset() : Optional.empty(),
                instead("--turn-centre-shift", shift, known.turnCentreShift(), this::length),
                given.isEmpty() ? known.blades() : given,
                known.stops());
    }

    private interface Reader {
        Length read(String option, String text);
    }

    private static Optional<Measured> instead(String option, String text, Optional<Measured> known, Reader reader) {
        return text == null ? known : Optional.of(exact(reader.read(option, text)));
    }

    /** With the uncertainty that is assumed where none is stated. */
    private static Measured exact(Length length) {
        return new Measured(length, Optional.empty());
    }

    private Optional<OutermostPoint> point() {
        return Optional.ofNullable(outermost)
                .map(text -> lengths("--outermost", text, 2, "AHEAD,OUT"))
                .map(parts -> {
                    if (parts.get(1).metres() < 0) {
                        throw wrong("--outermost: read \"" + outermost
                                + "\"; accepted: a distance from the centreline of 0 or more.");
                    }
                    return new OutermostPoint(exact(parts.get(0)), exact(parts.get(1)));
                });
    }

    private Length stated() {
        Length read = uncertainty == null ? Length.mm(0) : length("--uncertainty", uncertainty);
        if (read.metres() < 0) {
            throw wrong("--uncertainty: read \"" + uncertainty + "\"; accepted: a length of 0 or more.");
        }
        return read;
    }

    private Optional<LengthUnit> unit() {
        return Optional.ofNullable(unit).map(text -> UnitOption.read(spec, text));
    }

    private List<Length> lengths(String option, String text, int count, String form) {
        List<String> parts = List.of(text.split(",", -1));
        if (parts.size() != count) {
            throw wrong(option + ": read \"" + text + "\"; accepted: " + count + " lengths with commas between them, "
                    + form + ". Write decimals with a point.");
        }
        return parts.stream().map(part -> length(option, part)).toList();
    }

    private Length positive(String option, String text) {
        Length length = length(option, text);
        if (!(length.metres() > 0)) {
            throw wrong(option + ": read \"" + text + "\"; accepted: a length above 0.");
        }
        return length;
    }

    private Length length(String option, String text) {
        return Length.parse(text, bare).fold(length -> length, fault -> {
            throw wrong(option + ": " + fault);
        });
    }

    private <T> T word(String option, String text, T[] values, Function<T, String> word) {
        return Stream.of(values)
                .filter(v -> word.apply(v).equalsIgnoreCase(text.strip()))
                .findFirst()
                .orElseThrow(() -> wrong(option + ": read \"" + text + "\"; accepted: "
                        + Stream.of(values).map(word).collect(Collectors.joining(", ")) + "."));
    }

    private ParameterException wrong(String message) {
        return new ParameterException(spec.commandLine(), message);
    }
}
