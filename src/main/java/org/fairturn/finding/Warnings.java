package org.fairturn.finding;

import java.util.ArrayList;
import java.util.List;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/** What a reader of the results should know beside them. Nothing here changes data. */
final class Warnings {
    private Warnings() {}

    /** All of them, those of the data checks last. */
    static List<Warning> of(
            Trial trial,
            List<CircleResult> circles,
            List<MachineEstimate> machines,
            List<CellEstimate> cells,
            List<Warning> dataChecks) {
        Wording wording = new Wording(trial.conditions().lengthUnit());
        List<Warning> warnings = new ArrayList<>();
        assumptions(trial, wording, warnings);
        for (CircleResult circle : circles) {
            ofCircle(circle, warnings);
        }
        for (Machine machine : trial.machines()) {
            if (machines.stream().noneMatch(m -> m.machine().equals(machine))) {
                warnings.add(new Warning(
                        "machineWithoutCircles",
                        machine.id(),
                        "No circle of this machine counts, so nothing is said of it."));
            }
            deckOffset(machine, wording, warnings);
            machine.stops().stream()
                    .filter(SteeringStop::lacksContact)
                    .forEach(stop -> warnings.add(new Warning(
                            "stopDoesNotTouch",
                            machine.id() + ", " + stop.side().word() + " stop",
                            "It does not touch the axle at full lock in the "
                                    + stop.limits().word() + " turn. Mend this first.")));
            warnings.addAll(SteeringStops.unlikely(machine, wording));
            tyres(machine, trial.conditions().lengthUnit(), warnings);
            brakes(machine, circles, warnings);
        }
        for (CellEstimate cell : cells) {
            ofCell(cell, machines, warnings);
        }
        for (MachineEstimate machine : machines) {
            if (!machine.posterior().settled()) {
                warnings.add(
                        new Warning(
                                "notSettled",
                                machine.machine().id(),
                                "The integral over the repeatability did not settle; take the intervals of this machine as rough."));
            }
        }
        warnings.addAll(dataChecks);
        return warnings;
    }

    private static void assumptions(Trial trial, Wording wording, List<Warning> warnings) {
        if (trial.conditions().tapeClass().isEmpty()) {
            warnings.add(new Warning(
                    "tapeClassAssumed",
                    "trial.csv",
                    "The tape class is not stated; class " + Observations.TAPE_IF_NOT_STATED
                            + " was assumed, the widest limits. The class is printed on the first part of the tape."));
        }
        if (trial.conditions().edgeDefinition().isEmpty()) {
            warnings.add(new Warning(
                    "edgeDefinitionAssumed",
                    "trial.csv",
                    "How well the cut edge can be seen is not stated; ±"
                            + wording.amount(Observations.EDGE_IF_NOT_STATED.metres())
                            + " was assumed. It widens each diameter's interval and cancels in differences."));
        }
    }

    private static void ofCircle(CircleResult result, List<Warning> warnings) {
        String where = "circle " + result.circle().id();
        String typed = result.circle().remark();
        String remark =
                typed.isEmpty() ? " No remark says why." : " Remark: " + typed + (typed.endsWith(".") ? "" : ".");
        if (!result.circle().use()) {
            warnings.add(new Warning("excluded", where, "Taken out by use = no; listed, not analysed." + remark));
        } else if (result.summary().isEmpty()) {
            warnings.add(new Warning(
                    "noReadings",
                    where,
                    "It has no reading that makes a circle, so it does not count. Measure it or set use = no."));
        }
        if (result.circle().use()
                && !result.circle().perimeter().isEmpty()
                && result.observations().stream().noneMatch(o -> o.kind().equals(Observations.PERIMETER))) {
            warnings.add(
                    new Warning(
                            "pointsMakeNoCircle",
                            where,
                            "No circle can be laid through its points in points.csv, so they were left out. Check their coordinates."));
        }
    }

    private static void tyres(Machine machine, LengthUnit unit, List<Warning> warnings) {
        List<String> off = TyreCheck.off(machine, unit);
        if (!off.isEmpty()) {
            warnings.add(new Warning(
                    "tyrePressure",
                    machine.id(),
                    "Tyre pressures are off: " + String.join("; ", off)
                            + ". That alone can make one turn wider than the other, and 4WD cost more. Set them as the manual"
                            + " states, and mow again what was mowed before."));
        }
    }

    private static void brakes(Machine machine, List<CircleResult> circles, List<Warning> warnings) {
        List<String> braked = circles.stream()
                .map(CircleResult::circle)
                .filter(c -> c.use()
                        && c.cell().brakes() == Brakes.USED
                        && c.cell().machine().equals(machine.id()))
                .map(Circle::id)
                .toList();
        if (!braked.isEmpty()) {
            warnings.add(new Warning(
                    "brakesUsed",
                    machine.id(),
                    (braked.size() == 1 ? "Circle " : "Circles ") + String.join(", ", braked)
                            + ": driven with brakes, a different condition, kept apart from circles without and never"
                            + " converted."));
        }
    }

    private static void ofCell(CellEstimate cell, List<MachineEstimate> machines, List<Warning> warnings) {
        if (cell.circles().size() == 1) {
            warnings.add(new Warning(
                    "singleCircle",
                    cell.cell().toString(),
                    "Only one circle, " + cell.circles().get(0).circle().id()
                            + ": nothing here shows how much circles driven this way would scatter."));
        }
        boolean bladesKnown = machines.stream()
                .anyMatch(m -> m.machine().id().equals(cell.cell().machine())
                        && !m.machine().blades().isEmpty());
        if (bladesKnown && cell.turnRadius().isEmpty()) {
            warnings.add(new Warning(
                    "impossibleDisc",
                    cell.cell().toString(),
                    "With the blade positions given, no turn radius leaves so small a disc. Check the readings' unit and the"
                            + " blade positions."));
        }
        machines.stream()
                .filter(m -> m.machine().id().equals(cell.cell().machine()))
                .findFirst()
                .ifPresent(m -> bentRadius(cell, m, warnings));
    }

    /** Part of its width by which a turn radius's range may lie off before it is said. Our own choice. */
    private static final double OFF = 0.05;
    /** From here on the results that are worked out from turn radii are off too; found by simulation. */
    private static final double FAR_OFF = 0.15;

    /**
     * Slopes leave out how a turn radius bends. Where one bent dimension makes up most of its uncertainty u, R = R₀ + u·z + b·z²
     * with b the bend, the ends of the range lie b·z² off, z being half the range over u.
     */
    private static void bentRadius(CellEstimate cell, MachineEstimate machine, List<Warning> warnings) {
        if (cell.turnRadius().isEmpty()) {
            return;
        }
        Estimate radius = cell.turnRadius().get();
        double z = radius.halfWidth() / radius.standardUncertainty();
        double bend = DeckModel.of(machine.machine(), cell.cell().drive())
                .orElseThrow()
                .bend(deck -> deck.turnRadius(
                        machine.mean(cell.cell()), cell.cell().turn().sign()));
        double off = -bend * z * z / (2 * radius.halfWidth());
        if (off > OFF) {
            warnings.add(new Warning(
                    "turnRadiusRough",
                    cell.cell().toString(),
                    "So small a circle lies near the limit of what these blades can leave. The range of its turn radius is"
                            + " rough: the true one lies lower by "
                            + (off > FAR_OFF
                                    ? "more than " + Math.round(100 * FAR_OFF)
                                    : "about " + Math.round(100 * off))
                            + " % of its width. "
                            + (off > FAR_OFF
                                    ? "What is worked out from it is rough too: the remainder of left against right, and chassis"
                                            + " and deck of machines side by side. "
                                    : "The remainder of left against right hardly feels it. ")
                            + "Check the blade positions, and state a turn centre shift with its uncertainty (machines.csv)"
                            + " where they are known."));
        }
    }

    private static void deckOffset(Machine machine, Wording wording, List<Warning> warnings) {
        DeckModel.of(machine, Drive.TWO_WHEEL)
                .ifPresent(model -> machine.deckOffset().ifPresent(stated -> {
                    double blades = model.deck().offset();
                    Length u = stated.uncertaintyOr(DeckModel.LATERAL);
                    // beyond twice the standard uncertainty (JCGM 100:2008, 6.3.3: k = 2)
                    if (Math.abs(blades - stated.value().metres()) > 2 * u.metres()) {
                        warnings.add(disagree(machine, wording, blades, stated));
                    }
                }));
    }

    private static Warning disagree(Machine machine, Wording wording, double blades, Measured stated) {
        return new Warning(
                "deckOffsetDisagrees",
                machine.id(),
                "The deck offset is stated as " + side(stated.value().metres(), wording)
                        + ", but the outermost blade tips put it at " + side(blades, wording)
                        + ". The blades were used; measure both again.");
    }

    private static String side(double offset, Wording wording) {
        return wording.amount(offset) + (offset < 0 ? " to the right" : " to the left");
    }
}
