package org.fairturn.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Trials at the ends of what a folder may hold: whatever is accepted is answered, with numbers that are numbers. Folders are
 * written as text, so that nothing is tried that nobody could type. The long run is
 * {@code mvn test -Dtest=ExtremeTrialsTest -Dfairturn.extremes=2000 -Dfairturn.firstExtreme=100}.
 */
class ExtremeTrialsTest {
    private static final int TRIALS = Integer.getInteger("fairturn.extremes", 25);
    private static final int FIRST = Integer.getInteger("fairturn.firstExtreme", 0);
    private static final ObjectMapper MAPPER = new ObjectMapper();

    @TempDir
    private Path folder;

    /** Rows of each file, the header first, lengths in millimetres. */
    private static final class Extreme {
        private final SplittableRandom random;
        private final Map<String, List<String>> rows = new TreeMap<>();
        private int circles;

        Extreme(int seed) {
            random = new SplittableRandom(seed);
            rows.put("trial.csv", list("field,value", "title,At the ends", "date,2026-05-14", "length unit,mm"));
            rows.put(
                    "machines.csv",
                    list("machine,wheelbase,wheelbase uncertainty,front track,front track uncertainty,left lock angle,"
                            + "right lock angle,deck offset,deck offset uncertainty,specified deck offset,"
                            + "turn centre shift,turn centre shift uncertainty"));
            rows.put(
                    "blades.csv",
                    list("machine,spindle,ahead of rear axle,left of centreline,tip radius,"
                            + "ahead of rear axle uncertainty,left of centreline uncertainty,tip radius uncertainty"));
            rows.put("stops.csv", list("machine,side,specified,found,set,touches axle,arm,limits,thread pitch"));
            rows.put("circles.csv", list("circle,machine,turn,drive,order,brakes,use"));
            rows.put("readings.csv", list("circle,kind,value,second,third,bearing,measurer"));
            rows.put("points.csv", list("circle,x,y"));
            rows.put(
                    "claims.csv",
                    list("claim,who,value,quantity,machine,turn,drive,brakes,uncertainty,circles behind it"));
            rows.put("references.csv", list("machine,known good,value,quantity,turn,drive,uncertainty,source"));
            conditions();
            int machines = random.nextInt(1, 4);
            for (int m = 0; m < machines; m++) {
                machine("M" + m, m);
            }
            for (int c = random.nextInt(3); c > 0; c--) {
                claim(c, machines);
            }
            if (random.nextInt(3) == 0) {
                complaint(machines);
            }
        }

        private static List<String> list(String... rows) {
            return new ArrayList<>(List.of(rows));
        }

        private void row(String file, Object... cells) {
            StringBuilder row = new StringBuilder();
            for (Object cell : cells) {
                row.append(row.isEmpty() ? "" : ",")
                        .append(cell instanceof Double d ? String.format(Locale.ROOT, "%.6f", d) : cell);
            }
            rows.get(file).add(row.toString());
        }

        /** Between the ends, each order of magnitude as likely as the next. */
        private double size(double least, double most) {
            return Math.min(most, Math.max(least, least * Math.pow(most / least, random.nextDouble())));
        }

        private Object some(Object value) {
            return random.nextBoolean() ? value : "";
        }

        private <T> T one(List<T> of) {
            return of.get(random.nextInt(of.size()));
        }

        private void conditions() {
            row("trial.csv", "practical margin", size(0.1, 10_000));
            row("trial.csv", "confidence", one(List.of(0.51, 0.6, 0.8, 0.95, 0.99, 0.9999)));
            if (random.nextBoolean()) {
                row("trial.csv", "assumed circle repeatability", size(0.1, 10_000));
                row("trial.csv", "assumed reading repeatability", size(0.1, 10_000));
            }
            row("trial.csv", "edge definition", one(List.of(0.0, 5.0, 1000.0)));
            row("trial.csv", "tape class", one(List.of("I", "II", "III")));
        }

        private void machine(String id, int m) {
            row(
                    "machines.csv",
                    id,
                    some(size(300, 10_000)),
                    some(size(0.001, 5000)),
                    some(size(300, 5000)),
                    some(size(0.001, 5000)),
                    some(random.nextDouble(0.5, 89.5)),
                    some(random.nextDouble(0.5, 89.5)),
                    some(random.nextDouble(-1000, 1000)),
                    some(one(List.of(0.0, 3.0, 5000.0))),
                    some(random.nextDouble(-1000, 1000)),
                    some(random.nextDouble(-3000, 3000)),
                    some(one(List.of(0.0, 25.0, 5000.0))));
            int blades = random.nextInt(4);
            boolean wild = random.nextBoolean();
            for (int b = 0; b < blades; b++) {
                row(
                        "blades.csv",
                        id,
                        "S" + b,
                        wild ? random.nextDouble(-10_000, 10_000) : random.nextDouble(500, 900),
                        wild ? random.nextDouble(-3000, 3000) : 400.0 * b - 400,
                        wild ? size(20, 3000) : 230.0,
                        some(one(List.of(0.0, 5.0, 5000.0))),
                        some(one(List.of(0.0, 5.0, 5000.0))),
                        some(one(List.of(0.0, 2.0, 5000.0))));
            }
            for (String side : List.of("left", "right")) {
                if (random.nextInt(3) == 0) {
                    row(
                            "stops.csv",
                            id,
                            side,
                            some(random.nextDouble(0, 300)),
                            some(random.nextDouble(0, 300)),
                            some(random.nextDouble(0, 300)),
                            one(List.of("yes", "no", "unknown", "")),
                            some(size(5, 1000)),
                            side,
                            some(size(0.2, 10)));
                }
            }
            double diameter = size(200, 200_000);
            double betweenCircles = one(List.of(0.0, 0.001, 0.02, 0.5)) * diameter;
            double betweenReadings = one(List.of(0.0, 1e-4, 0.01, 0.3)) * diameter;
            for (String drive : List.of("2WD", "4WD")) {
                for (String turn : List.of("left", "right")) {
                    int here = random.nextInt(4);
                    double cell = diameter * random.nextDouble(0.9, 1.1);
                    for (int c = 0; c < here; c++) {
                        circle(id, turn, drive, cell + betweenCircles * random.nextDouble(-1, 1), betweenReadings);
                    }
                }
            }
            if (m == 0) {
                circle(id, "left", "2WD", diameter, betweenReadings);
            }
        }

        private void circle(String machine, String turn, String drive, double diameter, double scatter) {
            circles++;
            String id = "C" + circles;
            row("circles.csv", id, machine, turn, drive, circles, one(List.of("none", "none", "none", "used")), "yes");
            for (int j = random.nextInt(1, 4); j > 0; j--) {
                double d = Math.max(60, diameter + scatter * random.nextDouble(-1, 1));
                String measurer = "P" + random.nextInt(2);
                switch (random.nextInt(6)) {
                    case 0 -> {
                        // from nearly flat to nearly half of the circle
                        double rise = d * one(List.of(d > 1500 ? 1 / 600.0 : 0.1, 0.1, 0.5));
                        row(
                                "readings.csv",
                                id,
                                "chord and rise",
                                2 * Math.sqrt(rise * (d - rise)),
                                rise,
                                "",
                                "",
                                measurer);
                    }
                    case 1 -> {
                        double side = d * random.nextDouble(0.05, 0.8);
                        row(
                                "readings.csv",
                                id,
                                "three stakes",
                                side,
                                side,
                                2 * side * Math.sqrt(1 - side * side / d / d),
                                "",
                                measurer);
                    }
                    case 2 -> {
                        double arc = one(List.of(d > 10_000 ? 0.05 : 1.0, 1.0, 6.0));
                        double away = one(List.of(0.0, 1e7));
                        int points = random.nextInt(3, 7);
                        for (int i = 0; i < points; i++) {
                            double at = arc * i / (points - 1);
                            row(
                                    "points.csv",
                                    id,
                                    away + d / 2 * Math.cos(at),
                                    away + d / 2 * Math.sin(at) + scatter * random.nextDouble(-1, 1));
                        }
                        j = 1;
                    }
                    default -> row("readings.csv", id, "across", d, "", "", random.nextInt(1, 13), measurer);
                }
            }
        }

        private void claim(int number, int machines) {
            row(
                    "claims.csv",
                    "K" + number,
                    "brochure",
                    size(50, 300_000),
                    one(List.of(
                            "uncut diameter", "turn radius", "turning circle diameter", "clearance circle diameter")),
                    "M" + random.nextInt(machines),
                    one(List.of("left", "right", "unstated")),
                    one(List.of("2WD", "4WD", "unstated")),
                    one(List.of("none", "unstated")),
                    some(one(List.of(0.0, 10.0, 5000.0))),
                    some(random.nextInt(1, 100)));
        }

        private void complaint(int machines) {
            for (String turn : List.of("left", "right")) {
                row(
                        "references.csv",
                        "M0",
                        "",
                        size(50, 300_000),
                        "uncut diameter",
                        turn,
                        one(List.of("2WD", "4WD", "")),
                        some(one(List.of(0.0, 10.0, 5000.0))),
                        "manual");
            }
            if (machines > 1) {
                row("references.csv", "M0", "M1", "", "", "", "", "", "the other one");
            }
        }
    }

    private TrialRead read(Map<String, List<String>> rows) throws IOException {
        for (Map.Entry<String, List<String>> file : rows.entrySet()) {
            Files.write(folder.resolve(file.getKey()), file.getValue());
        }
        return TrialFolder.read(folder);
    }

    /** Each of these once stopped the analysis, or had a number in it that cannot be. */
    private static final List<Integer> ONCE_WRONG = List.of(141, 527, 567, 572, 609, 689, 836, 848, 899, 913, 3307);

    @Test
    void whateverAFolderMayHold_isAnsweredInNumbers() throws IOException {
        int analysed = 0;
        int seeds = FIRST + TRIALS;
        for (int seed : IntStream.concat(ONCE_WRONG.stream().mapToInt(i -> i), IntStream.range(FIRST, seeds))
                .toArray()) {
            TrialRead read = read(new Extreme(seed).rows);
            if (read instanceof TrialRead.Complete complete) {
                String json = json(complete.trial(), seed);
                assertThat(json).as("seed %d", seed).doesNotContain("NaN", "Infinity", "∞");
                holdsNumbers(MAPPER.readTree(json), "seed " + seed);
                analysed++;
            }
        }
        // what cannot be typed together, such as a rise on too short a chord, is refused by the folder
        assertThat(analysed).isGreaterThan(TRIALS / 2);
    }

    private static String json(Trial trial, int seed) {
        try {
            // every fifth with a margin smaller than a folder may hold
            return ResultsJson.write(
                    Analysis.of(
                            seed % 5 > 0
                                    ? trial
                                    : new Trial(
                                            trial.folder(),
                                            trial.conditions().withPracticalMargin(Length.mm(0.001)),
                                            trial.machines(),
                                            trial.circles(),
                                            trial.claims(),
                                            trial.references())),
                    List.of());
        } catch (RuntimeException e) {
            throw new AssertionError("seed " + seed, e);
        }
    }

    /** Rows and columns as someone else might have typed them: all of the demo trial but its header rows, in another order. */
    @Test
    void orderOfRowsColumnsMachinesAndCircles_changesNoNumber() throws IOException {
        Map<String, String> expected = byName(shuffled(Optional.empty()));
        for (int seed = 0; seed < 4; seed++) {
            Map<String, String> found = byName(shuffled(Optional.of(new Random(seed))));
            assertThat(found.keySet()).isEqualTo(expected.keySet());
            expected.forEach((name, value) -> {
                if (value.matches("-?[0-9.]+")) {
                    double number = Double.parseDouble(value);
                    // results.json is written to 1e-6 mm; sums in another order may differ in their last digit
                    assertThat(Double.parseDouble(found.get(name)))
                            .as(name)
                            .isCloseTo(number, within(2e-6 + 1e-9 * Math.abs(number)));
                } else {
                    assertThat(found.get(name)).as(name).isEqualTo(value);
                }
            });
        }
    }

    private JsonNode shuffled(Optional<Random> random) throws IOException {
        Path demo = Path.of("testdata/demo");
        try (var files = Files.list(demo)) {
            for (Path file :
                    files.filter(f -> f.toString().endsWith(".csv")).sorted().toList()) {
                try (CSVParser parser = CSVFormat.DEFAULT.parse(Files.newBufferedReader(file))) {
                    List<CSVRecord> rows = new ArrayList<>(parser.getRecords());
                    CSVRecord header = rows.remove(0);
                    List<Integer> columns = new ArrayList<>(
                            IntStream.range(0, header.size()).boxed().toList());
                    random.ifPresent(r -> {
                        if (!file.endsWith("claims.csv")) { // of two claims the earlier one is named first
                            Collections.shuffle(rows, r);
                        }
                        Collections.shuffle(columns, r);
                    });
                    rows.add(0, header);
                    Files.write(
                            folder.resolve(file.getFileName().toString()),
                            rows.stream()
                                    .map(row -> columns.stream()
                                            .map(i -> i < row.size() ? quoted(row.get(i)) : "")
                                            .collect(Collectors.joining(",")))
                                    .toList());
                }
            }
        }
        TrialRead read = TrialFolder.read(folder);
        return MAPPER.readTree(ResultsJson.write(
                Analysis.of(read.fold(
                        TrialRead.Complete::trial,
                        faulty -> fail(faulty.problems().toString()))),
                List.of()));
    }

    private static String quoted(String cell) {
        return cell.isEmpty() ? "" : '"' + cell.replace("\"", "\"\"") + '"';
    }

    /** Numbers and verdicts of the cells, differences and findings, by what they are about. */
    private static Map<String, String> byName(JsonNode results) {
        Map<String, String> all = new TreeMap<>();
        for (JsonNode cell : results.get("cells")) {
            String of = cell.get("machine").asText() + cell.get("turn") + cell.get("drive");
            collect(of, cell, all);
        }
        for (JsonNode finding : results.get("findings")) {
            collect(finding.get("question").asText() + finding.get("subject"), finding, all);
        }
        collect("repeatability", results.get("repeatability"), all);
        return all;
    }

    private static void collect(String name, JsonNode node, Map<String, String> into) {
        node.properties().forEach(field -> {
            String there = name + "/" + field.getKey();
            if (field.getValue().isObject() && !field.getKey().equals("robustness")) {
                collect(there, field.getValue(), into);
            } else if (field.getValue().isNumber()
                    || field.getKey().toLowerCase(Locale.ROOT).endsWith("verdict")) {
                into.put(there, field.getValue().asText());
            }
        });
    }

    /** Low, estimate and high in order, probabilities from 0 to 1, uncertainties not below 0. */
    private static void holdsNumbers(JsonNode node, String where) {
        if (node.isObject()) {
            for (String best : List.of("estimate", "diameter")) {
                if (node.path(best).isNumber() && node.path("low").isNumber()) {
                    assertThat(node.path(best).asDouble())
                            .as(where + "/" + best)
                            .isBetween(
                                    node.path("low").asDouble(),
                                    node.path("high").asDouble());
                }
            }
            node.properties().forEach(field -> {
                String name = field.getKey();
                String there = where + "/" + name;
                if (field.getValue().isNumber()) {
                    double value = field.getValue().asDouble();
                    if (List.of("probability", "prior", "readingProbability", "noneOfThese")
                            .contains(name)) {
                        assertThat(value).as(there).isBetween(0.0, 1.0);
                    }
                    if ((name.equals("diameter") && !where.contains("/stops/"))
                            || name.toLowerCase(Locale.ROOT).endsWith("uncertainty")
                            || List.of("standardDeviation", "repeatability", "reproducibility")
                                    .contains(name)) {
                        assertThat(value).as(there).isNotNegative();
                    }
                }
                holdsNumbers(field.getValue(), there);
            });
        } else if (node.isArray()) {
            for (int i = 0; i < node.size(); i++) {
                holdsNumbers(node.get(i), where + "/" + i);
            }
        }
    }
}
