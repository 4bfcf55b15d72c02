package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DataCodeTest {
    /** Every known column filled, save those that programs fill. */
    private static final Map<String, String> FULL = new LinkedHashMap<>();

    static {
        FULL.put("trial.csv", """
                field,value
                title,Lower meadow
                date,2026-05-14
                length unit,mm
                place,behind the barn
                operator,A
                surface,meadow
                grass,short
                slope,level
                weather,dry
                tape class,I
                edge definition,5
                practical margin,50
                confidence,95 %
                assumed circle repeatability,50
                assumed reading repeatability,20
                mowing speed,5 km/h
                notes,none
                """);
        FULL.put("machines.csv", """
                machine,label,wheelbase,wheelbase uncertainty,front track,front track uncertainty,left lock angle,right lock angle,deck offset,deck offset uncertainty,specified deck offset,specified deck offset uncertainty,turn centre shift,turn centre shift uncertainty,front tyre size,rear tyre size,specified front pressure,specified rear pressure,front left pressure,front right pressure,rear left pressure,rear right pressure
                Alder 22,the green one,1500,3,1000,4,50,51,20,5,21,2,10,25,18x8.50-8,26x12-12,1.5 bar,1.2 bar,1.5 bar,1.5 bar,1.2 bar,1.2 bar
                Birch 10,the other,1600,3,1100,4,52,53,22,5,23,2,11,26,,,,,,,,
                Cedar 24,,,,,,,,,,,,,,,,,,,,,
                """);
        FULL.put("blades.csv", """
                machine,spindle,ahead of rear axle,ahead of rear axle uncertainty,left of centreline,left of centreline uncertainty,tip radius,tip radius uncertainty
                Alder 22,left,700,5,420,6,235,2
                Alder 22,right,705,5,-380,6,236,3
                """);
        FULL.put("stops.csv", """
                machine,side,specified,found,set,touches axle,arm,limits,thread pitch
                Alder 22,left,28,29,28.5,yes,80,left,1.75
                """);
        FULL.put("circles.csv", """
                circle,machine,turn,drive,order,laps,brakes,use,remark
                A1,Alder 22,left,2WD,1,2,none,yes,even
                A2,Alder 22,left,2WD,2,2,none,yes,
                B1,Birch 10,right,4WD,3,2,none,yes,
                """);
        FULL.put("readings.csv", """
                circle,kind,value,second,third,bearing,measurer,remark
                A1,across,1580,,,3,M1,clear
                A1,chord and rise,1400,400,,,M1,
                A2,three stakes,1300,1310,1320,,M2,
                """);
        FULL.put("points.csv", """
                circle,x,y
                B1,1000,0
                B1,0,1000
                B1,-1000,0
                B1,0,-1000
                A1,800,0
                A1,0,800
                A1,-800,0
                """);
        FULL.put("claims.csv", """
                claim,who,value,quantity,machine,turn,drive,brakes,uncertainty,circles behind it,remark
                C1,dealer,1600,uncut diameter,Alder 22,left,2WD,none,20,2,heard
                """);
        FULL.put("references.csv", """
                machine,known good,value,quantity,turn,drive,brakes,uncertainty,circles behind it,source,remark
                Alder 22,,1500,uncut diameter,left,2WD,none,20,3,manual,page 4
                Alder 22,Birch 10,,,,,,,,,
                """);
    }

    /** Another value of the same kind for a cell whose first row cannot simply be another word. */
    private static final Map<String, String> OTHER = Map.ofEntries(
            Map.entry("2026-05-14", "2026-05-15"),
            Map.entry("mm", "cm"),
            Map.entry("I", "II"),
            Map.entry("95 %", "90 %"),
            Map.entry("5 km/h", "6 km/h"),
            Map.entry("yes", "no"),
            Map.entry("1.5 bar", "22 psi"),
            Map.entry("1.2 bar", "130 kPa"),
            Map.entry("left", "right"),
            Map.entry("2WD", "4WD"),
            Map.entry("none", "used"),
            Map.entry("Alder 22", "Birch 10"),
            Map.entry("Birch 10", "Cedar 24"),
            Map.entry("uncut diameter", "turn radius"),
            Map.entry("across", "chord and rise"),
            Map.entry("A1", "A2"),
            Map.entry("B1", "A1"));

    @TempDir
    Path above;

    private int folders;

    private Path folder(Map<String, String> files) throws IOException {
        Path folder = Files.createDirectory(above.resolve("f" + folders++));
        for (var file : files.entrySet()) {
            Files.writeString(folder.resolve(file.getKey()), file.getValue());
        }
        return folder;
    }

    private static String code(Path folder) {
        return DataCode.of(trial(folder));
    }

    private static Trial trial(Path folder) {
        return TrialFolder.read(folder).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(
                    faulty.problems().stream().map(Problem::message).toList());
        });
    }

    private static List<List<String>> cells(String csv) {
        return csv.lines()
                .map(line -> (List<String>) new ArrayList<>(List.of(line.split(",", -1))))
                .collect(Collectors.toCollection(ArrayList::new));
    }

    private static String csv(List<List<String>> rows) {
        return rows.stream().map(row -> String.join(",", row)).collect(Collectors.joining("\n", "", "\n"));
    }

    @Test
    void code_isEightLettersOfCrockfordsBase32() throws IOException {
        assertThat(code(folder(FULL))).matches("[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}");
    }

    @Test
    void firstBits_areThoseOfTheDigest() throws Exception {
        // a second route: the digest as a hexadecimal number, FIPS 180-4 through the platform
        byte[] digest = MessageDigest.getInstance("SHA-256").digest(new byte[] {0, 0, 0, 1, 'x'});
        long expected = 0;
        for (int i = 0; i < 5; i++) {
            expected = expected << 8 | (digest[i] & 0xff);
        }
        assertThat(new Fingerprint().add("x").firstBits(40)).isEqualTo(expected);
    }

    @Test
    void code_isTheSame_howeverASpreadsheetSavesTheFiles() throws IOException {
        String before = code(folder(FULL));
        Random random = new Random(7);
        for (int round = 0; round < 20; round++) {
            Map<String, String> saved = new HashMap<>();
            for (var file : FULL.entrySet()) {
                List<List<String>> rows = cells(file.getValue());
                List<Integer> columns = new ArrayList<>();
                for (int i = 0; i < rows.get(0).size(); i++) {
                    columns.add(i);
                }
                Collections.shuffle(columns, random);
                List<List<String>> shuffled = new ArrayList<>();
                rows.forEach(row -> shuffled.add(new ArrayList<>(
                        columns.stream().map(i -> " " + row.get(i) + " ").toList())));
                Collections.shuffle(shuffled.subList(1, shuffled.size()), random);
                shuffled.add(Collections.nCopies(columns.size(), ""));
                shuffled.add(Collections.nCopies(columns.size(), ""));
                String mark = random.nextBoolean() ? "\uFEFF" : "";
                String text = mark + csv(shuffled);
                saved.put(
                        random.nextBoolean() ? file.getKey().toUpperCase(Locale.ROOT) : file.getKey(),
                        random.nextBoolean() ? text.replace("\n", "\r\n") : text);
            }
            saved.put("removed.csv", "when,file\n");
            assertThat(code(folder(saved))).isEqualTo(before);
        }
    }

    @Test
    void code_isTheSame_inWhicheverUnitAReadingIsWritten() throws IOException {
        Map<String, String> other = new HashMap<>(FULL);
        other.replace("readings.csv", FULL.get("readings.csv").replace(",1580,", ",1.58 m,"));
        other.replace("circles.csv", FULL.get("circles.csv").replace("left,2WD,1", "LEFT,2wd,1"));
        assertThat(code(folder(other))).isEqualTo(code(folder(FULL)));
        other.replace("readings.csv", FULL.get("readings.csv").replace(",1580,", ",1.581 m,"));
        assertThat(code(folder(other))).isNotEqualTo(code(folder(FULL)));
    }

    /** Every column of every file: a value changed in it changes the code, and no two changes make the same. */
    @Test
    void code_changesWithAnyValue_inEveryColumn() throws IOException {
        Set<String> codes = new HashSet<>(Set.of(code(folder(FULL))));
        List<String> tried = new ArrayList<>();
        for (TrialFile file : TrialFile.values()) {
            List<List<String>> rows = cells(FULL.get(file.fileName()));
            assertThat(rows.get(0)).containsExactlyElementsOf(file.blankColumns());
            for (int row = 1; row < rows.size(); row++) {
                for (int column = 0; column < rows.get(0).size(); column++) {
                    String cell = rows.get(row).get(column);
                    String name = rows.get(0).get(column);
                    if (cell.isEmpty() || (file == TrialFile.TRIAL && column == 0)) {
                        continue;
                    }
                    List<List<String>> changed = cells(FULL.get(file.fileName()));
                    changed.get(row).set(column, other(name, cell));
                    Map<String, String> files = new HashMap<>(FULL);
                    files.replace(file.fileName(), csv(changed));
                    Path folder = folder(files);
                    String what = file + " " + changed.get(row);
                    // some changes make no trial, such as a machine's name that no circle knows any more
                    TrialFolder.read(folder)
                            .fold(
                                    read -> {
                                        tried.add(file + " " + name);
                                        return assertThat(codes.add(DataCode.of(read.trial())))
                                                .as(what)
                                                .isTrue();
                                    },
                                    faulty -> null);
                }
            }
        }
        for (TrialFile file : TrialFile.values()) {
            for (String column : file.blankColumns()) {
                String name = file + " " + column;
                if (!Set.of("TRIAL field", "MACHINES machine", "CIRCLES circle", "READINGS kind")
                        .contains(name)) {
                    assertThat(tried).contains(name);
                }
            }
        }
    }

    private static String other(String column, String cell) {
        if (column.equals("title") || column.equals("label") || column.equals("spindle") || column.equals("remark")) {
            return cell + " x";
        }
        return cell.matches("-?\\d+(\\.\\d+)?")
                ? new BigDecimal(cell).add(BigDecimal.ONE).toPlainString()
                : OTHER.getOrDefault(cell, cell + "x");
    }

    /** What one cell alone cannot change: names that other files repeat, and a kind whose other lengths are blank. */
    @Test
    void code_changesWithNames_andWithTheKindOfAReading() throws IOException {
        Set<String> codes = new HashSet<>(Set.of(code(folder(FULL))));
        for (List<String> change : List.of(
                List.of("Birch 10", "Birch 11"),
                List.of("B1", "B2"),
                List.of("chord and rise,1400,400", "chord and rise,400,400"),
                List.of("A1,chord and rise,1400,400", "A1,across,1400,"))) {
            Map<String, String> files = new HashMap<>(FULL);
            files.replaceAll((name, text) -> text.replace(change.get(0), change.get(1)));
            assertThat(codes.add(code(folder(files)))).as("%s", change).isTrue();
        }
    }

    @Test
    void blankCells_areWhatTheyStandFor() throws IOException {
        Map<String, String> files = new HashMap<>(FULL);
        files.replace("trial.csv", FULL.get("trial.csv").replace("practical margin,50", "practical margin,"));
        assertThat(code(folder(files))).isEqualTo(code(folder(FULL)));
        files.replace("trial.csv", FULL.get("trial.csv").replace("practical margin,50", "practical margin,51"));
        assertThat(code(folder(files))).isNotEqualTo(code(folder(FULL)));
    }

    @Test
    void noText_canPassForTheEndOfAnother() throws IOException {
        Map<String, String> one = new HashMap<>(FULL);
        Map<String, String> other = new HashMap<>(FULL);
        one.replace("trial.csv", FULL.get("trial.csv").replace("notes,none", "notes,\"a\n1:b\""));
        other.replace(
                "trial.csv",
                FULL.get("trial.csv").replace("notes,none", "notes,a").replace("dry", "\"dry\n1:b\""));
        assertThat(code(folder(one))).isNotEqualTo(code(folder(other)));
    }
}
