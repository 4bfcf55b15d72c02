package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.fairturn.chart.Drawing;
import org.fairturn.finding.Conversion;
import org.fairturn.finding.OutermostPoint;
import org.fairturn.folder.TrialFolder;
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

/** What a stated figure of a machine's turn means, at an address that can be sent on. */
public final class ConvertPages {
    private static final String BOTH = "both";
    private static final String TYPED = "typed in below";
    private static final int BLADES = 3;
    private static final double MOST = 100;

    private static final Field VALUE =
            Field.text("value", "Figure", "As the brochure or the claim states it, such as 4.6 m or 15 ft 2 in.");
    private static final Field QUANTITY = Field.choice(
            "quantity",
            "What it is a figure of",
            "Turning circle: the middle of the outer front wheel's track. Clearance circle: the machine's outermost point.",
            Quantity.TURNING_CIRCLE_DIAMETER.word(),
            Quantity.CLEARANCE_CIRCLE_DIAMETER.word(),
            Quantity.TURN_RADIUS.word(),
            Quantity.UNCUT_DIAMETER.word());
    private static final Field BRAKES =
            Field.choice("brakes", "Brakes", "Whether it was turned with them.", "none", "used");
    private static final Field TURN = Field.choice("turn", "Turn", "", BOTH, "left", "right");
    private static final Field DRIVE =
            Field.choice("drive", "Drive", "In 4WD the turn centre is less well known.", "2WD", "4WD");
    private static final Field UNCERTAINTY =
            Field.text("uncertainty", "Standard uncertainty of the figure", "Empty: the figure is taken as it stands.");
    private static final Field UNIT = Field.choice(
            "unit",
            "Length unit",
            "Of every number without one, and the one shown first. Empty: the trial's, else mm.",
            "",
            "mm",
            "cm",
            "m",
            "in",
            "ft");
    private static final Field WHEELBASE = Field.text("wheelbase", "Wheelbase", "Rear axle to front axle.");
    private static final Field TRACK =
            Field.text("front-track", "Front track", "Middle of one front tyre to middle of the other, on the ground.");
    private static final Field SHIFT = Field.text(
            "turn-centre-shift", "Turn centre shift", "How far the turn centre lies ahead of the rear axle. Empty: 0.");
    private static final Field AHEAD = Field.text(
            "outermost-ahead", "Outermost point, ahead", "Of the rear axle, such as the corner of the bumper.");
    private static final Field OUT = Field.text(
            "outermost-out", "Outermost point, out", "From the centreline. Only the clearance circle needs it.");

    private final Trials trials;
    private final Pages pages;

    ConvertPages(Trials trials, Pages pages) {
        this.trials = trials;
        this.pages = pages;
    }

    /**
     * A conversion.
     *
     * @param trial whose machines are offered; empty for those of every trial
     * @param main fields everybody needs
     * @param machine fields for dimensions of the machine
     * @param blades fields for each blade
     * @param open whether the fields for dimensions are unfolded
     * @param refused why it is not converted; empty where it is, or nothing was asked yet
     * @param converted empty where nothing was
     */
    public record ConvertView(
            String trial,
            List<Field> main,
            List<Field> machine,
            List<List<Field>> blades,
            boolean open,
            String refused,
            Optional<Converted> converted) {}

    /**
     * What came of it; drawings are SVG.
     *
     * @param sentence the answer
     * @param turns left and right
     * @param drawings one for each turn whose radius is known
     */
    public record Converted(String sentence, List<Turned> turns, List<Drawing> drawings) {}

    /**
     * Every measure of one turn.
     *
     * @param name left or right, as a heading
     * @param rows a line for each measure
     */
    public record Turned(String name, List<ConversionReport.Row> rows) {}

    private record Known(Machine machine, LengthUnit unit) {}

    void show(Context context) {
        Map<String, Path> listed = trials.listed();
        String id = Optional.ofNullable(context.queryParam("trial")).orElse("");
        boolean ofTrial = listed.containsKey(id);
        Map<String, Known> known = known(ofTrial ? Map.of(id, listed.get(id)) : listed);
        Reading reading = new Reading(new TypedQuery(context::queryParams), known);
        pages.show(
                context,
                "convert",
                "Convert a stated figure",
                ofTrial ? Optional.of(TrialPages.named(id, listed.get(id))) : Optional.empty(),
                "convert",
                reading.typed.faults(),
                reading.view(ofTrial ? id : ""));
    }

    /** The machines whose dimensions may be known, by what the form calls them. */
    private static Map<String, Known> known(Map<String, Path> folders) {
        Map<String, Known> known = new LinkedHashMap<>();
        folders.values()
                .forEach(folder -> TrialFolder.readPlanned(folder)
                        .fold(
                                read -> {
                                    Trial trial = read.trial();
                                    trial.machines()
                                            .forEach(machine -> known.putIfAbsent(
                                                    machine.id() + " – " + TrialFolder.nameOf(folder),
                                                    new Known(
                                                            machine,
                                                            trial.conditions().lengthUnit())));
                                    return true;
                                },
                                faulty -> false));
        return known;
    }

    /** Reads one address. */
    private static final class Reading {
        private final TypedQuery typed;
        private final Map<String, Known> known;
        private final Field machine;
        private final LengthUnit unit;
        private final Machine base;
        private final Optional<Conversion> conversion;
        private final boolean braked;

        Reading(TypedQuery typed, Map<String, Known> known) {
            this.typed = typed;
            this.known = known;
            List<String> names = new ArrayList<>(known.keySet());
            names.add(names.size() == 1 ? 1 : 0, TYPED); // several: none of them is taken unasked
            this.machine = new Field(
                    "machine",
                    "Machine",
                    "Its dimensions as its trial states them, or typed in below.",
                    names.get(0),
                    names,
                    List.of());
            String chosen = typed.text("machine", names.get(0));
            Optional<Known> found = Optional.ofNullable(known.get(chosen));
            if (found.isEmpty() && !chosen.equals(TYPED) && !chosen.isEmpty()) {
                typed.fault(
                        machine,
                        "read \"" + chosen
                                + "\"; accepted: a machine in the list. It may have been renamed since this address was"
                                + " made.");
            }
            this.unit = typed.word(UNIT, LengthUnit.values(), LengthUnit::symbol)
                    .orElse(found.map(Known::unit).orElse(LengthUnit.MILLIMETRE));
            this.base = found.map(Known::machine).orElseGet(() -> Machine.named("this machine"));
            boolean asked = !typed.all("value").isEmpty();
            this.braked = typed.word(BRAKES, Brakes.values(), Brakes::word).orElse(Brakes.NONE) == Brakes.USED;
            this.conversion = asked ? converted() : Optional.empty();
        }

        private Optional<Conversion> converted() {
            if (typed.text("value").isEmpty()) {
                typed.fault(VALUE, "this is empty; accepted: a length such as 4.6 m or 15 ft 2 in.");
            }
            Optional<Length> value = typed.length(VALUE, unit, 1e-4, MOST, "a length above 0 and up to 100 m");
            Quantity quantity =
                    typed.word(QUANTITY, Quantity.values(), Quantity::word).orElse(Quantity.TURNING_CIRCLE_DIAMETER);
            Length uncertainty = typed.length(UNCERTAINTY, unit, 0, MOST, "a length of 0 or more")
                    .orElse(Length.mm(0));
            Optional<Turn> turn = typed.text("turn", BOTH).equals(BOTH)
                    ? Optional.empty()
                    : typed.word(TURN, Turn.values(), Turn::word);
            Drive drive = typed.word(DRIVE, Drive.values(), Drive::word).orElse(Drive.TWO_WHEEL);
            Machine dimensioned = dimensioned();
            Optional<OutermostPoint> point = point();
            if (dimensioned.equals(base)
                    && point.isEmpty()
                    && !braked
                    && typed.text("machine", machine.value()).equals(TYPED)) {
                typed.fault(
                        machine,
                        "no dimension is typed in below; accepted: one or more of them, or a machine of the list.");
            }
            return typed.faults().isEmpty() && !braked
                    ? value.map(v -> Conversion.of(
                            new Conversion.Given(dimensioned, point, quantity, v, uncertainty, turn, drive, unit)))
                    : Optional.empty();
        }

        private Machine dimensioned() {
            List<Blade> blades = new ArrayList<>();
            for (int i = 1; i <= BLADES; i++) {
                List<Field> fields = blade(i);
                if (fields.stream().allMatch(field -> typed.text(field.name()).isEmpty())) {
                    continue;
                }
                List<Optional<Length>> parts = List.of(
                        typed.length(fields.get(0), unit, -10, 10, "a length from -10 m to 10 m"),
                        typed.length(fields.get(1), unit, -3, 3, "a length from -3 m to 3 m"),
                        typed.length(fields.get(2), unit, 1e-3, 3, "a tip radius above 0 and up to 3 m"));
                for (int part = 0; part < 3; part++) {
                    if (typed.text(fields.get(part).name()).isEmpty()) {
                        typed.fault(
                                fields.get(part),
                                "this is empty; accepted: a length, since the blade's others are given.");
                    }
                }
                if (parts.stream().allMatch(Optional::isPresent)) {
                    blades.add(new Blade(
                            "blade " + (blades.size() + 1),
                            exact(parts.get(0).get()),
                            exact(parts.get(1).get()),
                            exact(parts.get(2).get())));
                }
            }
            return new Machine(
                    base.id(),
                    base.label(),
                    instead(WHEELBASE, 1e-3, 20, "a length above 0 and up to 20 m")
                            .or(base::wheelbase),
                    instead(TRACK, 1e-3, 20, "a length above 0 and up to 20 m").or(base::frontTrack),
                    base.leftLock(),
                    base.rightLock(),
                    blades.isEmpty() ? base.deckOffset() : Optional.empty(),
                    instead(SHIFT, -10, 10, "a length from -10 m to 10 m").or(base::turnCentreShift),
                    blades.isEmpty() ? base.blades() : blades,
                    base.stops());
        }

        private Optional<Measured> instead(Field field, double least, double most, String accepted) {
            return typed.length(field, unit, least, most, accepted).map(Reading::exact);
        }

        /** With the uncertainty that is assumed where none is stated. */
        private static Measured exact(Length length) {
            return new Measured(length, Optional.empty());
        }

        private Optional<OutermostPoint> point() {
            Optional<Measured> ahead = instead(AHEAD, -10, 20, "a length from -10 m to 20 m");
            Optional<Measured> out = instead(OUT, 0, 10, "a distance from the centreline of 0 to 10 m");
            for (Field[] pair : new Field[][] {{AHEAD, OUT}, {OUT, AHEAD}}) {
                if (!typed.text(pair[0].name()).isEmpty()
                        && typed.text(pair[1].name()).isEmpty()) {
                    typed.fault(pair[1], "this is empty; accepted: a length, since the point's other is given.");
                }
            }
            return ahead.flatMap(a -> out.map(o -> new OutermostPoint(a, o)));
        }

        private static List<Field> blade(int number) {
            String name = "blade" + number + "-";
            return List.of(
                    Field.text(name + "ahead", "Blade " + number + ", ahead of rear axle", ""),
                    Field.text(name + "left", "Blade " + number + ", left of centreline", ""),
                    Field.text(name + "tip", "Blade " + number + ", tip radius", ""));
        }

        private static List<Turned> turns(List<ConversionReport.Row> rows) {
            return Stream.of(Turn.values())
                    .map(turn -> new Turned(
                            turn == Turn.LEFT ? "Left turn" : "Right turn",
                            rows.stream()
                                    .filter(row -> row.turn().equals(turn.word()))
                                    .toList()))
                    .filter(turned -> !turned.rows().isEmpty())
                    .toList();
        }

        private List<Field> shown(List<Field> fields) {
            return fields.stream()
                    .map(field -> field.with(typed.text(
                                    field.name(),
                                    field.choices().isEmpty()
                                            ? ""
                                            : field.choices().get(0)))
                            .with(typed.faults()))
                    .toList();
        }

        ConvertView view(String trial) {
            List<Field> dimensions = shown(List.of(WHEELBASE, TRACK, SHIFT, AHEAD, OUT, UNIT));
            List<List<Field>> blades = Stream.iterate(1, i -> i <= BLADES, i -> i + 1)
                    .map(i -> shown(blade(i)))
                    .toList();
            boolean given = Stream.concat(dimensions.stream(), blades.stream().flatMap(List::stream))
                    .anyMatch(field -> !field.value().isEmpty());
            return new ConvertView(
                    trial,
                    shown(List.of(VALUE, QUANTITY, machine, TURN, DRIVE, BRAKES, UNCERTAINTY)),
                    dimensions,
                    blades,
                    given || known.isEmpty() || typed.text("machine").equals(TYPED),
                    braked && !typed.text("value").isEmpty() ? ConversionReport.NEVER_WITH_BRAKES : "",
                    conversion.map(c -> new Converted(
                            c.sentence(), turns(ConversionReport.table(c)), ConversionReport.drawings(c))));
        }
    }
}
