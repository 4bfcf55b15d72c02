package org.fairturn.folder;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.trial.Blade;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.Turn;
import org.fairturn.trial.Tyre;
import org.fairturn.units.Length;
import org.fairturn.units.Pressure;

/** Reads machines.csv with blades.csv and stops.csv. */
final class MachinesReader {
    private static final Entry<Turn> SIDE = Entry.word(Turn.values(), Turn::word);
    private static final Entry<Optional<Boolean>> TOUCHES = touches();
    private static final Entry<Pressure> PRESSURE = Entry.parsed("", Pressure::parse);

    private final Lengths lengths;
    private final Entry<String> known;

    MachinesReader(Ids ids, Lengths lengths) {
        this.known = ids.known();
        this.lengths = lengths;
    }

    List<Machine> machines(Optional<Table> machines, Optional<Table> blades, Optional<Table> stops) {
        Map<String, List<Blade>> bladesOf = new HashMap<>();
        Map<String, List<SteeringStop>> stopsOf = new HashMap<>();
        blades.ifPresent(table -> readBlades(table, bladesOf));
        stops.ifPresent(table -> readStops(table, stopsOf));
        List<Machine> read = new ArrayList<>();
        for (Row row : machines.map(Table::rows).orElse(List.of())) {
            String id = row.text("machine");
            read.add(new Machine(
                    id,
                    row.isBlank("label") ? id : row.text("label"),
                    measured(row, "wheelbase", Sensible.WHEELBASE),
                    measured(row, "front track", Sensible.FRONT_TRACK),
                    row.optional("left lock angle", Entry.lockAngle()),
                    row.optional("right lock angle", Entry.lockAngle()),
                    measured(row, "deck offset", Sensible.DECK_OFFSET),
                    measured(row, "specified deck offset", Sensible.DECK_OFFSET),
                    measured(row, "turn centre shift", Sensible.TURN_CENTRE_SHIFT),
                    bladesOf.getOrDefault(id, List.of()),
                    stopsOf.getOrDefault(id, List.of()),
                    Tyre.UNKNOWN.stream().map(tyre -> tyre(row, tyre.wheel())).toList()));
        }
        return read;
    }

    /** Both tyres of an axle have one size and one specified pressure. */
    private static Tyre tyre(Row row, String wheel) {
        String axle = wheel.substring(0, wheel.indexOf(' '));
        return new Tyre(
                wheel,
                row.text(axle + " tyre size"),
                row.optional("specified " + axle + " pressure", PRESSURE),
                row.optional(wheel + " pressure", PRESSURE));
    }

    private void readBlades(Table table, Map<String, List<Blade>> bladesOf) {
        Map<List<String>, Integer> seen = new LinkedHashMap<>();
        for (Row row : table.rows()) {
            var machine = row.required("machine", known);
            var spindle = row.required("spindle", Entry.text("a name for the spindle, such as left or middle"));
            if (!row.isBlank("machine") && spindle.isPresent()) {
                Integer earlier = seen.putIfAbsent(List.of(row.text("machine"), spindle.get()), row.number());
                if (earlier != null) {
                    row.fault(
                            "spindle",
                            "each spindle of a machine once; row " + earlier + " has this one already",
                            "Give one of the two another name, or delete the row that is there twice.");
                }
            }
            var ahead = requiredMeasured(row, "ahead of rear axle", Sensible.AHEAD);
            var left = requiredMeasured(row, "left of centreline", Sensible.LEFT);
            var tipRadius = requiredMeasured(row, "tip radius", Sensible.TIP_RADIUS);
            if (!row.isFaulty()) {
                bladesOf.computeIfAbsent(machine.orElseThrow(), id -> new ArrayList<>())
                        .add(new Blade(
                                spindle.orElseThrow(),
                                ahead.orElseThrow(),
                                left.orElseThrow(),
                                tipRadius.orElseThrow()));
            }
        }
    }

    private void readStops(Table table, Map<String, List<SteeringStop>> stopsOf) {
        Map<List<String>, Integer> seen = new LinkedHashMap<>();
        for (Row row : table.rows()) {
            var machine = row.required("machine", known);
            var side = row.required("side", SIDE);
            // a stop belongs to the wheel on the inside of the turn it limits, unless the row says otherwise
            var limits = row.isBlank("limits") ? side : row.optional("limits", SIDE);
            if (!row.isBlank("machine") && side.isPresent() && limits.isPresent()) {
                String place = side.get().word();
                String turn = limits.get().word();
                Integer earlier = seen.putIfAbsent(List.of(row.text("machine"), place, turn), row.number());
                if (earlier != null) {
                    row.fault(
                            "side",
                            "one stop for each side and limited turn; row " + earlier + " has the " + place
                                    + " one that limits the " + turn + " turn already",
                            "Delete one of the two rows, or mend its side or what it limits.");
                }
            }
            var specified = length(row, "specified", Sensible.PROTRUSION);
            var found = length(row, "found", Sensible.PROTRUSION);
            var set = length(row, "set", Sensible.PROTRUSION);
            var touches = row.optional("touches axle", TOUCHES);
            var arm = length(row, "arm", Sensible.ARM);
            var pitch = length(row, "thread pitch", Sensible.THREAD_PITCH);
            if (!row.isFaulty()) {
                stopsOf.computeIfAbsent(machine.orElseThrow(), id -> new ArrayList<>())
                        .add(new SteeringStop(
                                side.orElseThrow(),
                                specified,
                                found,
                                set,
                                touches.flatMap(answer -> answer),
                                arm,
                                limits.orElseThrow(),
                                pitch));
            }
        }
    }

    private Optional<Length> length(Row row, String column, Sensible range) {
        return row.optional(column, lengths.in(range));
    }

    private Optional<Measured> measured(Row row, String column, Sensible range) {
        return measured(row, column, length(row, column, range));
    }

    private Optional<Measured> requiredMeasured(Row row, String column, Sensible range) {
        return measured(row, column, row.required(column, lengths.in(range)));
    }

    private Optional<Measured> measured(Row row, String column, Optional<Length> value) {
        String beside = column + " uncertainty";
        var uncertainty = length(row, beside, Sensible.UNCERTAINTY);
        if (uncertainty.isPresent() && row.isBlank(column)) {
            row.note(beside, "There is no " + column + " to go with this uncertainty; it is not used.");
        }
        return value.map(length -> new Measured(length, uncertainty));
    }

    private static Entry<Optional<Boolean>> touches() {
        Map<String, Optional<Boolean>> words = new LinkedHashMap<>();
        words.put("yes", Optional.of(true));
        words.put("no", Optional.of(false));
        words.put("unknown", Optional.empty());
        return Entry.word(words);
    }
}
