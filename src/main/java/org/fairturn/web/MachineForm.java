package org.fairturn.web;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.fairturn.chart.Drawing;
import org.fairturn.chart.MachineSketch;
import org.fairturn.chart.PlanView;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** A machine with its blades and stops: rows of three files that are filled in on one page. */
record MachineForm(RowForm machine, List<RowForm> blades, List<RowForm> stops) {
    private static final String CLOSELY =
            "Standard uncertainty: two readings out of three lie this close. Empty: 5 mm.";
    private static final Pattern GROUP = Pattern.compile("(blade|stop)([0-9]{1,2})\\.key");

    private static final String MACHINE_ID = "machine";

    static final Field ID = Field.text(
            MACHINE_ID,
            "Name",
            "Short, such as Alder 22: circles and claims are noted under it. Where it is changed later, it changes in"
                    + " every file of the trial.");
    static final List<Field> MACHINE = List.of(
            Field.text(
                    "label", "Description", "As it stands in the report, such as Alder 22 with 54 in mid-mount deck."),
            Field.text(
                    "wheelbase", "Wheelbase (L)", "Rear axle to front axle, such as 1450 mm, 57 1/8 in or 4 ft 9 in."),
            Field.text(
                    "front track",
                    "Front track (T)",
                    "Middle of one front tyre to middle of the other, on the ground."),
            Field.text(
                    "deck offset",
                    "Deck offset (O)",
                    "Centreline of the machine to the middle of the cut, + to the left, - to the right."),
            Field.text(
                    "specified deck offset",
                    "Deck offset, specified",
                    "By the manual, + to the left. A complaint asks whether the deck sits there."),
            Field.text(
                    "left lock angle", "Left lock angle", "Designed angle of the inner wheel in a left turn, degrees."),
            Field.text("right lock angle", "Right lock angle", "The same in a right turn, degrees."));
    static final List<Field> MACHINE_FURTHER = List.of(
            Field.text("wheelbase uncertainty", "Wheelbase, how closely", CLOSELY),
            Field.text("front track uncertainty", "Front track, how closely", CLOSELY),
            Field.text("deck offset uncertainty", "Deck offset, how closely", CLOSELY),
            Field.text("specified deck offset uncertainty", "Deck offset, specified, how closely", "Empty: 3 mm."),
            Field.text(
                    "turn centre shift",
                    "Turn centre shift",
                    "How far the turn centre lies ahead of the rear axle line. Empty: 0, where the rear wheels do not slip"
                            + " sideways."),
            Field.text("turn centre shift uncertainty", "Turn centre shift, how closely", ""),
            Field.text(
                    "front tyre size",
                    "Front tyre size",
                    "On the tyre and in the manual, such as 18x8.50-8; where the two differ, leave it empty and say so in the"
                            + " trial's notes."),
            Field.text("rear tyre size", "Rear tyre size", ""),
            Field.text(
                    "specified front pressure",
                    "Front pressure, specified",
                    "By the manual: 22 psi, 1.5 bar or 150 kPa."),
            Field.text("specified rear pressure", "Rear pressure, specified", ""),
            Field.text("front left pressure", "Front left pressure", "As the circles were mowed."),
            Field.text("front right pressure", "Front right pressure", ""),
            Field.text("rear left pressure", "Rear left pressure", ""),
            Field.text("rear right pressure", "Rear right pressure", ""));
    static final List<Field> BLADE = List.of(
            Field.text("spindle", "Spindle", "Such as left, middle or right."),
            Field.text("ahead of rear axle", "Ahead of rear axle (A)", "Rear axle to the spindle, forward."),
            Field.text(
                    "left of centreline",
                    "Left of centreline (B)",
                    "Centreline of the machine to the spindle, the offset included; - to the right."),
            Field.text("tip radius", "Tip radius (R)", "Middle of the spindle to the tip of the blade."));
    static final List<Field> BLADE_FURTHER = List.of(
            Field.text("ahead of rear axle uncertainty", "Ahead, how closely", CLOSELY),
            Field.text("left of centreline uncertainty", "Left, how closely", CLOSELY),
            Field.text("tip radius uncertainty", "Tip radius, how closely", "Empty: 2 mm."));
    static final List<Field> STOP = List.of(
            Field.choice("side", "Side", "The front wheel it belongs to.", "left", "right"),
            Field.text("specified", "Specified (P)", "How far it protrudes by the service manual."),
            Field.text("found", "As found (P)", "How far it protruded when the machine came."),
            Field.text(
                    "set",
                    "As set (P)",
                    "How far it protruded when the circles were mowed; empty where left as found."),
            Field.choice(
                    "touches axle",
                    "Touches the axle (C)",
                    "At full lock; look on both sides.",
                    "",
                    "yes",
                    "no",
                    "unknown"),
            Field.text("arm", "Arm (M)", "King-pin axis to the line of the stop."),
            Field.text(
                    "thread pitch",
                    "Thread pitch",
                    "How far one turn of the stop bolt moves it, such as 1.5 mm; advice can then say how many turns."));
    static final List<Field> STOP_FURTHER = List.of(Field.choice(
            "limits",
            "Turn it limits",
            "Empty: the turn to its own side, whose inner wheel it stops.",
            "",
            "left",
            "right"));

    private static final List<Field> ALL = all(all(List.of(ID), MACHINE), MACHINE_FURTHER);

    MachineForm {
        blades = List.copyOf(blades);
        stops = List.copyOf(stops);
    }

    private static List<Field> all(List<Field> fields, List<Field> further) {
        return Stream.concat(fields.stream(), further.stream()).toList();
    }

    /** A machine that is not there yet: three spindles and two stops to fill in. */
    static MachineForm blank() {
        return new MachineForm(RowForm.blank(Map.of()), List.of(), List.of()).completed();
    }

    /**
     * As it stands in the folder.
     *
     * @param shown with blades.csv and stops.csv
     */
    static MachineForm read(TrialEditor.Shown shown, ShownRow machine) {
        String id = machine.cell(MACHINE_ID);
        return new MachineForm(
                        RowForm.of(machine, ALL),
                        rows(shown, TrialFile.BLADES, id, all(BLADE, BLADE_FURTHER)),
                        rows(shown, TrialFile.STOPS, id, all(STOP, STOP_FURTHER)))
                .completed();
    }

    private static List<RowForm> rows(TrialEditor.Shown shown, TrialFile file, String machine, List<Field> fields) {
        return shown.files().get(file).rows().stream()
                .filter(row -> row.cell(MACHINE_ID).equals(machine))
                .map(row -> RowForm.of(row, fields))
                .toList();
    }

    /** With rows to fill in for what is usually there. */
    private MachineForm completed() {
        List<RowForm> allBlades = new ArrayList<>(blades);
        if (allBlades.isEmpty()) {
            for (String spindle : List.of("left", "middle", "right")) {
                allBlades.add(RowForm.blank(Map.of("spindle", spindle)));
            }
        } else {
            allBlades.add(RowForm.blank(Map.of()));
        }
        List<RowForm> allStops = new ArrayList<>(stops);
        for (String side : List.of("left", "right")) {
            if (stops.stream().noneMatch(stop -> stop.cell("side").equalsIgnoreCase(side))) {
                allStops.add(RowForm.blank(Map.of("side", side)));
            }
        }
        return new MachineForm(machine, allBlades, allStops);
    }

    /** As it was sent. */
    static MachineForm sent(Context context) {
        return new MachineForm(
                RowForm.sent(context, "machine.", ALL),
                groups(context, "blade", all(BLADE, BLADE_FURTHER)),
                groups(context, "stop", all(STOP, STOP_FURTHER)));
    }

    /** The name as it was typed. */
    String name() {
        return machine.cell(MACHINE_ID);
    }

    boolean isNew() {
        return machine.isNew();
    }

    /** For a machine that somebody took out meanwhile: all that was typed, to be put back. */
    MachineForm putBack(TrialEditor.Shown shown) {
        return new MachineForm(
                new RowForm("", "", Map.of(), machine.typed(), Map.of("", List.of(RowForm.GONE))),
                putBack(blades, shown.files().get(TrialFile.BLADES)),
                putBack(stops, shown.files().get(TrialFile.STOPS)));
    }

    private static List<RowForm> putBack(List<RowForm> rows, TrialEditor.Rows there) {
        return rows.stream()
                .map(row -> {
                    boolean stands = row.isNew()
                            ? row.isUntouched()
                            : there.rows().stream()
                                    .anyMatch(one -> one.key().text().equals(row.key()));
                    return stands ? row : new RowForm("", "", Map.of(), row.typed(), Map.of());
                })
                .toList();
    }

    private static List<RowForm> groups(Context context, String kind, List<Field> fields) {
        TreeSet<Integer> numbers = new TreeSet<>();
        for (String name : context.formParamMap().keySet()) {
            Matcher group = GROUP.matcher(name);
            if (group.matches() && group.group(1).equals(kind)) {
                numbers.add(Integer.valueOf(group.group(2)));
            }
        }
        return numbers.stream()
                .map(number -> RowForm.sent(context, kind + number + ".", fields))
                .toList();
    }

    /**
     * Saves it row by row, the machine first; what could not be saved comes back with its faults. Another name is given last,
     * when all that stands under the old one is in place.
     */
    MachineForm save(TrialEditor editor, String id) {
        RowForm saved = machine.save(editor, TrialFile.MACHINES, Map.of(), MACHINE_ID);
        if (!saved.faults().isEmpty() && saved.isNew()) {
            return new MachineForm(saved, blades, stops); // blades of a machine that is not there would only echo
        }
        Map<String, String> owner = Map.of(MACHINE_ID, id);
        MachineForm form = new MachineForm(
                saved, save(editor, TrialFile.BLADES, blades, owner), save(editor, TrialFile.STOPS, stops, owner));
        return form.isFaulty() || name().equals(id)
                ? form
                : new MachineForm(saved.renameMachine(editor, name()), form.blades, form.stops);
    }

    private static List<RowForm> save(
            TrialEditor editor, TrialFile file, List<RowForm> rows, Map<String, String> owner) {
        return rows.stream()
                .map(row -> {
                    if (row.isUntouched()) {
                        return row;
                    }
                    boolean emptied = row.typed().values().stream().allMatch(String::isEmpty);
                    return emptied ? row.isNew() ? row : row.remove(editor, file) : row.save(editor, file, owner, "");
                })
                .toList();
    }

    boolean isFaulty() {
        return Stream.concat(Stream.of(machine), Stream.concat(blades.stream(), stops.stream()))
                .anyMatch(row -> !row.faults().isEmpty());
    }

    /** As it stands on disk after some of it was saved, with what could not be saved as it was typed. */
    MachineForm over(MachineForm disk) {
        return new MachineForm(
                machine.faults().isEmpty() && name().equals(disk.name()) ? disk.machine : machine,
                over(blades, disk.blades),
                over(stops, disk.stops));
    }

    private static List<RowForm> over(List<RowForm> sent, List<RowForm> disk) {
        List<RowForm> faulty =
                sent.stream().filter(row -> !row.faults().isEmpty()).toList();
        List<RowForm> rows = new ArrayList<>();
        for (RowForm row : disk) {
            rows.add(faulty.stream()
                    .filter(typed -> !typed.isNew() && typed.key().equals(row.key()))
                    .findFirst()
                    .orElse(row));
        }
        if (faulty.stream().anyMatch(RowForm::isNew)) { // with the blank ones beside it
            rows.removeIf(RowForm::isNew);
            sent.stream().filter(RowForm::isNew).forEach(rows::add);
        }
        return rows;
    }

    List<Page.Fault> faults() {
        List<Page.Fault> all = new ArrayList<>(machine.faults("machine.", "Machine"));
        for (int i = 0; i < blades.size(); i++) {
            all.addAll(blades.get(i).faults("blade" + (i + 1) + ".", bladeLegend(i)));
        }
        for (int i = 0; i < stops.size(); i++) {
            all.addAll(stops.get(i).faults("stop" + (i + 1) + ".", stopLegend(i)));
        }
        return all;
    }

    private String bladeLegend(int index) {
        RowForm blade = blades.get(index);
        return blade.isNew() && blade.cell("spindle").isEmpty()
                ? "Another blade"
                : "Blade " + (index + 1) + (blade.cell("spindle").isEmpty() ? "" : ", " + blade.cell("spindle"));
    }

    private String stopLegend(int index) {
        return "Stop of the " + stops.get(index).cell("side") + " front wheel";
    }

    RowForm.View machineView() {
        return machine.view("machine.", "Machine", all(List.of(ID), MACHINE), MACHINE_FURTHER);
    }

    List<RowForm.View> bladeViews() {
        List<RowForm.View> views = new ArrayList<>();
        for (int i = 0; i < blades.size(); i++) {
            views.add(blades.get(i).view("blade" + (i + 1) + ".", bladeLegend(i), BLADE, BLADE_FURTHER));
        }
        return views;
    }

    List<RowForm.View> stopViews() {
        List<RowForm.View> views = new ArrayList<>();
        for (int i = 0; i < stops.size(); i++) {
            views.add(stops.get(i).view("stop" + (i + 1) + ".", stopLegend(i), STOP, STOP_FURTHER));
        }
        return views;
    }

    /** What to measure, with what was typed so far; what cannot be read yet is left out. */
    Drawing drawing(String name, LengthUnit unit) {
        List<PlanView.BladeDisc> discs = new ArrayList<>();
        for (RowForm blade : blades) {
            OptionalDouble ahead = metres(blade.cell("ahead of rear axle"), unit, -10, 10);
            OptionalDouble left = metres(blade.cell("left of centreline"), unit, -3, 3);
            OptionalDouble tip = metres(blade.cell("tip radius"), unit, 0.02, 3);
            if (ahead.isPresent() && left.isPresent() && tip.isPresent()) {
                discs.add(new PlanView.BladeDisc(
                        blade.cell("spindle"), ahead.getAsDouble(), left.getAsDouble(), tip.getAsDouble()));
            }
        }
        return MachineSketch.draw(new MachineSketch.Scene(
                name,
                metres(machine.cell("wheelbase"), unit, 0.3, 10),
                metres(machine.cell("front track"), unit, 0.3, 5),
                metres(machine.cell("deck offset"), unit, -1, 1),
                discs,
                unit));
    }

    private static OptionalDouble metres(String text, LengthUnit unit, double least, double most) {
        Optional<Length> length = text.isEmpty()
                ? Optional.empty()
                : Length.parse(text, unit).fold(Optional::of, fault -> Optional.<Length>empty());
        return length.map(Length::metres)
                .filter(metres -> metres >= least && metres <= most)
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty());
    }
}
