package org.fairturn.folder;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Drive;
import org.fairturn.trial.GroundPoint;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;

/** Reads circles.csv with readings.csv and points.csv. */
final class CirclesReader {
    private static final Entry<Turn> TURN = Entry.word(Turn.values(), Turn::word);
    private static final Entry<Drive> DRIVE = Entry.word(Drive.values(), Drive::word);
    private static final Entry<Brakes> BRAKES = Entry.word(Brakes.values(), Brakes::word);
    private static final Entry<Boolean> USE = Entry.yesOrNo();
    private static final Entry<Integer> ORDER = Entry.count(1_000_000);
    private static final Entry<Integer> LAPS = Entry.count(1000);

    private final Entry<String> knownMachine;
    private final Entry<String> knownCircle;
    private final Lengths lengths;
    private final Problems problems;
    /** Circles that any row of readings.csv or points.csv names, even a faulty one. */
    private final Set<String> measured = new HashSet<>();

    CirclesReader(Ids machines, Ids circles, Lengths lengths, Problems problems) {
        this.knownMachine = machines.known();
        this.knownCircle = circles.known();
        this.lengths = lengths;
        this.problems = problems;
    }

    /**
     * The circles; a row with faults is left out, since the folder then holds no trial anyway.
     *
     * @param tellsAll true where both files of measurements could be read to the end
     */
    List<Circle> circles(Optional<Table> circles, Optional<Table> readings, Optional<Table> points, boolean tellsAll) {
        Map<String, List<Reading>> readingsOf = new HashMap<>();
        Map<String, List<GroundPoint>> pointsOf = new HashMap<>();
        readings.ifPresent(table -> readReadings(table, readingsOf));
        points.ifPresent(table -> readPoints(table, pointsOf));
        Stream.of(circles, readings, points).flatMap(Optional::stream).forEach(CirclesReader::noteEnteredTwice);
        List<Circle> read = new ArrayList<>();
        for (Row row : circles.map(Table::rows).orElse(List.of())) {
            String id = row.text("circle");
            var machine = row.required("machine", knownMachine);
            var turn = row.required("turn", TURN);
            var drive = row.required("drive", DRIVE);
            var brakes = row.optional("brakes", BRAKES);
            var order = row.optional("order", ORDER);
            var laps = row.optional("laps", LAPS);
            boolean use = row.optional("use", USE).orElse(true);
            if (tellsAll && use && !id.isEmpty() && !measured.contains(id)) {
                row.note("circle", "Circle \"" + id + "\" has no readings and no points; it is listed and not used.");
            }
            if (!row.isFaulty()) {
                read.add(new Circle(
                        id,
                        new Cell(
                                machine.orElseThrow(),
                                turn.orElseThrow(),
                                drive.orElseThrow(),
                                brakes.orElse(Brakes.NONE)),
                        order.map(OptionalInt::of).orElse(OptionalInt.empty()),
                        laps.map(OptionalInt::of).orElse(OptionalInt.empty()),
                        use,
                        row.text("remark"),
                        row.number(),
                        readingsOf.getOrDefault(id, List.of()),
                        pointsOf.getOrDefault(id, List.of())));
            }
        }
        return read;
    }

    /** An id under which a row was entered says nothing about the row itself, so one that is there twice is no fault. */
    private static void noteEnteredTwice(Table table) {
        Map<String, Integer> rows = new HashMap<>();
        for (Row row : table.rows()) {
            if (!row.isBlank(TrialFile.ENTRY)) {
                Integer earlier = rows.putIfAbsent(row.text(TrialFile.ENTRY), row.number());
                if (earlier != null) {
                    row.note(
                            TrialFile.ENTRY,
                            "Row " + earlier
                                    + " has this entry id too. Both rows count; if one is a copy made by mistake,"
                                    + " delete it.");
                }
            }
        }
    }

    private void readReadings(Table table, Map<String, List<Reading>> readingsOf) {
        TapeReader tapes = new TapeReader(lengths);
        for (Row row : table.rows()) {
            var circle = row.required("circle", knownCircle);
            measured.add(row.text("circle"));
            var tape = tapes.read(row);
            var bearing = row.optional("bearing", Entry.bearing());
            if (!row.isFaulty()) {
                readingsOf
                        .computeIfAbsent(circle.orElseThrow(), id -> new ArrayList<>())
                        .add(new Reading(
                                tape.orElseThrow(),
                                bearing,
                                row.text("measurer"),
                                row.text("remark"),
                                row.number(),
                                TapeReader.written(row)));
            }
        }
    }

    /** The points of one circle while they are gathered. */
    private static final class Perimeter {
        private final int firstRow;
        private final List<GroundPoint> points = new ArrayList<>();
        private boolean faulty;

        Perimeter(int firstRow) {
            this.firstRow = firstRow;
        }
    }

    private void readPoints(Table table, Map<String, List<GroundPoint>> pointsOf) {
        Entry<Length> coordinate = lengths.in(Sensible.COORDINATE);
        Map<String, Perimeter> perimeters = new LinkedHashMap<>();
        for (Row row : table.rows()) {
            row.required("circle", knownCircle);
            String circle = row.text("circle");
            measured.add(circle);
            var x = row.required("x", coordinate);
            var y = row.required("y", coordinate);
            Perimeter perimeter = perimeters.computeIfAbsent(circle, id -> new Perimeter(row.number()));
            perimeter.faulty |= row.isFaulty();
            if (!row.isFaulty()) {
                perimeter.points.add(new GroundPoint(x.orElseThrow(), y.orElseThrow()));
            }
        }
        perimeters.forEach((circle, perimeter) -> {
            if (!perimeter.faulty && table.whole()) {
                check(circle, perimeter);
            }
            pointsOf.put(circle, perimeter.points);
        });
    }

    private void check(String circle, Perimeter perimeter) {
        int distinct = Shapes.distinct(perimeter.points);
        String accepted = "three or more different points on the cut edge of a circle";
        if (distinct < 3) {
            String found = distinct + (distinct == 1 ? " point" : " different points");
            refuse(perimeter, found + " on circle \"" + circle + "\"", accepted);
        } else if (Shapes.onOneLine(perimeter.points)) {
            refuse(
                    perimeter,
                    "the points of circle \"" + circle + "\" all on one line",
                    accepted + ", not on one line");
        }
    }

    private void refuse(Perimeter perimeter, String found, String accepted) {
        problems.add(Problem.of(
                TrialFile.POINTS.fileName(),
                perimeter.firstRow,
                found,
                accepted,
                "Add points spread around the circle, or delete those that are there."));
    }
}
