package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Reference;
import org.fairturn.trial.SteeringStop;
import org.fairturn.trial.TapeClass;
import org.fairturn.trial.TapeReading;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TrialFolderTest {
    @TempDir
    Path folder;

    private static void assertMm(Length length, double millimetres) {
        assertThat(length.millimetres()).isCloseTo(millimetres, within(1e-9));
    }

    @Test
    void trialFile_isReadWithItsUnitAndSettings() {
        Conditions conditions =
                Given.soundFolder(folder).with("trial.csv", """
                        Value,FIELD
                        "Lower meadow, north end",title
                        2026-05-14,Date
                        inches,length unit
                        Quarry Meadow,place
                        M1,operator
                        dry,surface
                        rye,grass
                        2 %,slope
                        calm,weather
                        ii,tape class
                        3/8,edge definition
                        2,practical margin
                        90 %,confidence
                        1 1/2,assumed circle repeatability
                        15 mm,assumed reading repeatability
                        none,notes
                        """).trial().conditions();
        assertThat(conditions.title()).isEqualTo("Lower meadow, north end");
        assertThat(conditions.date()).isEqualTo(LocalDate.of(2026, 5, 14));
        assertThat(conditions.lengthUnit()).isEqualTo(LengthUnit.INCH);
        assertThat(conditions.place()).isEqualTo("Quarry Meadow");
        assertThat(conditions.operator()).isEqualTo("M1");
        assertThat(conditions.surface()).isEqualTo("dry");
        assertThat(conditions.grass()).isEqualTo("rye");
        assertThat(conditions.slope()).isEqualTo("2 %");
        assertThat(conditions.weather()).isEqualTo("calm");
        assertThat(conditions.tapeClass()).contains(TapeClass.II);
        assertMm(conditions.edgeDefinition().orElseThrow(), 9.525);
        assertMm(conditions.practicalMargin(), 50.8);
        assertThat(conditions.confidence()).isEqualTo(0.9);
        assertMm(conditions.assumedCircleRepeatability(), 38.1);
        assertMm(conditions.assumedReadingRepeatability(), 15);
        assertThat(conditions.notes()).isEqualTo("none");
    }

    @Test
    void whatTheTrialLeavesOut_hasTheDefaults() {
        Trial trial = Given.soundFolder(folder).trial();
        Conditions conditions = trial.conditions();
        assertThat(trial.folder()).isEqualTo(folder.getFileName().toString());
        assertThat(conditions.place()).isEmpty();
        assertThat(conditions.tapeClass()).isEmpty();
        assertThat(conditions.practicalMargin()).isEqualTo(Conditions.DEFAULT_PRACTICAL_MARGIN);
        assertThat(conditions.confidence()).isEqualTo(Conditions.DEFAULT_CONFIDENCE);
        assertThat(conditions.assumedCircleRepeatability()).isEqualTo(Conditions.DEFAULT_CIRCLE_REPEATABILITY);
        assertThat(conditions.assumedReadingRepeatability()).isEqualTo(Conditions.DEFAULT_READING_REPEATABILITY);
        Circle circle = trial.circles().get(0);
        assertThat(circle.cell()).isEqualTo(new Cell("Alder 22", Turn.LEFT, Drive.TWO_WHEEL, Brakes.NONE));
        assertThat(circle.use()).isTrue();
        assertThat(circle.order()).isEmpty();
        assertThat(trial.machines().get(0).label()).isEqualTo("Alder 22");
    }

    @Test
    void confidence_isAPercentageOrAProbability() {
        for (String written : new String[] {"95", "95 %", "95%", "0.95", ".95", "95.0"}) {
            Given given = Given.soundFolder(folder).with("trial.csv", Given.TRIAL + "confidence," + written + "\n");
            assertThat(given.trial().conditions().confidence()).as(written).isCloseTo(0.95, within(1e-12));
        }
    }

    @Test
    void machines_comeWithBladesAndStops() {
        Trial trial = Given.soundFolder(folder)
                .with("machines.csv", """
                        machine,label,wheelbase,Wheelbase  Uncertainty,front track,left lock angle,right lock angle,deck offset,turn centre shift
                        Alder 22,Alder with 54 in deck,1450,5,95 cm,52° 30',50,-2 1/16 in,0
                        Birch 10,,,,,,,,
                        """)
                .with("blades.csv", """
                        machine,spindle,ahead of rear axle,left of centreline,tip radius,tip radius uncertainty
                        Alder 22,left,26 1/16 in,19 3/4 in,236,2
                        Alder 22,right,26 1/16 in,-15 5/8 in,236,
                        """)
                .with("stops.csv", """
                        machine,side,specified,found,set,touches axle,arm,limits
                        Alder 22,left,27,31,27,yes,80,
                        Alder 22,Right,27,,,unknown,,left
                        Alder 22,right,27,,,,,
                        """)
                .trial();
        Machine alder = trial.machine("Alder 22").orElseThrow();
        assertThat(alder.label()).isEqualTo("Alder with 54 in deck");
        assertMm(alder.wheelbase().orElseThrow().value(), 1450);
        assertMm(alder.wheelbase().orElseThrow().standardUncertainty().orElseThrow(), 5);
        assertMm(alder.frontTrack().orElseThrow().value(), 950);
        assertThat(alder.frontTrack().orElseThrow().standardUncertainty()).isEmpty();
        assertThat(alder.lock(Turn.LEFT).orElseThrow().degrees()).isCloseTo(52.5, within(1e-12));
        assertThat(alder.lock(Turn.RIGHT).orElseThrow().degrees()).isCloseTo(50, within(1e-12));
        assertMm(alder.deckOffset().orElseThrow().value(), -52.3875); // 2 1/16 × 25.4
        assertMm(alder.turnCentreShift().orElseThrow().value(), 0);
        assertThat(alder.blades()).hasSize(2);
        assertThat(alder.blades().get(1).spindle()).isEqualTo("right");
        assertMm(alder.blades().get(1).left().value(), -396.875); // 15 5/8 × 25.4
        assertMm(alder.blades().get(0).tipRadius().standardUncertainty().orElseThrow(), 2);
        assertThat(alder.stops()).extracting(SteeringStop::side).containsExactly(Turn.LEFT, Turn.RIGHT, Turn.RIGHT);
        // a stop limits the turn on whose inside its wheel is, unless the row says otherwise
        assertThat(alder.stops()).extracting(SteeringStop::limits).containsExactly(Turn.LEFT, Turn.LEFT, Turn.RIGHT);
        assertThat(alder.stops())
                .extracting(SteeringStop::touchesAxle)
                .containsExactly(Optional.of(true), Optional.empty(), Optional.empty());
        assertMm(alder.stops().get(0).found().orElseThrow(), 31);
        assertThat(trial.machine("Birch 10").orElseThrow())
                .isEqualTo(new Machine(
                        "Birch 10",
                        "Birch 10",
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        List.of(),
                        List.of()));
    }

    @Test
    void circles_comeWithReadingsAndPoints() {
        Trial trial = Given.soundFolder(folder)
                .with("circles.csv", """
                        circle,machine,turn,drive,order,laps,brakes,use,remark
                        A1,Alder 22,LEFT,2wd,2,3,used,No,wet patch
                        B1,Birch 10,right,4wd,,,,,
                        """)
                .with("readings.csv", """
                        remark,kind,circle,second,value,third,bearing,measurer
                        soft,Across,A1,,5' 2 3/8",,3,M1
                        ,chord and rise,A1,250,1200,,45°,
                        ,three stakes,B1,1200,1000,1100,,
                        """)
                .with("points.csv", "circle,x,y\nB1,0,0\nB1,1.5 m,0\nB1,0,-1.5 m\n")
                .trial();
        Circle a1 = trial.circles().get(0);
        assertThat(a1.cell()).isEqualTo(new Cell("Alder 22", Turn.LEFT, Drive.TWO_WHEEL, Brakes.USED));
        assertThat(a1.order()).isEqualTo(OptionalInt.of(2));
        assertThat(a1.laps()).isEqualTo(OptionalInt.of(3));
        assertThat(a1.use()).isFalse();
        assertThat(a1.remark()).isEqualTo("wet patch");
        assertThat(a1.row()).isEqualTo(2);
        Reading across = a1.readings().get(0);
        assertThat(across.tape()).isInstanceOf(TapeReading.Across.class);
        assertMm(((TapeReading.Across) across.tape()).chord(), 1584.325); // 62 3/8 × 25.4
        assertThat(across.bearing().orElseThrow()).hasToString("3 o'clock");
        assertThat(across.measurer()).isEqualTo("M1");
        assertThat(across.remark()).isEqualTo("soft");
        assertThat(across.row()).isEqualTo(2);
        assertThat(across.written()).isEqualTo("5' 2 3/8\"");
        Reading arc = a1.readings().get(1);
        assertThat(arc.tape()).isEqualTo(new TapeReading.ChordAndRise(Length.mm(1200), Length.mm(250)));
        assertThat(arc.written()).isEqualTo("1200; 250");
        Circle b1 = trial.circles().get(1);
        assertThat(b1.cell().drive()).isEqualTo(Drive.FOUR_WHEEL);
        assertThat(b1.readings().get(0).tape())
                .isEqualTo(new TapeReading.ThreeStakes(Length.mm(1000), Length.mm(1200), Length.mm(1100)));
        assertThat(b1.readings().get(0).row()).isEqualTo(4);
        assertThat(b1.perimeter()).hasSize(3);
        assertMm(b1.perimeter().get(2).y(), -1500);
    }

    @Test
    void references_areAFigureOrAMachine_withTheDefaultsOfWhatIsLeftBlank() {
        Trial trial = Given.soundFolder(folder).with("references.csv", """
                machine,known good,value,quantity,turn,drive,brakes,uncertainty,circles behind it,source,remark
                Alder 22,,1600,turn radius,left,4WD,used,10,3,workshop manual,page lost
                Birch 10,Alder 22,,,,,,,,,
                """).trial();
        assertThat(trial.references())
                .containsExactly(
                        new Reference(
                                "Alder 22",
                                Optional.empty(),
                                Optional.of(Length.mm(1600)),
                                Claim.Quantity.TURN_RADIUS,
                                Optional.of(Turn.LEFT),
                                Optional.of(Drive.FOUR_WHEEL),
                                Brakes.USED,
                                Optional.of(Length.mm(10)),
                                OptionalInt.of(3),
                                "workshop manual",
                                "page lost"),
                        new Reference(
                                "Birch 10",
                                Optional.of("Alder 22"),
                                Optional.empty(),
                                Claim.Quantity.UNCUT_DIAMETER,
                                Optional.empty(),
                                Optional.empty(),
                                Brakes.NONE,
                                Optional.empty(),
                                OptionalInt.empty(),
                                "Alder 22",
                                ""));
    }

    @Test
    void specifiedDeckOffsetAndThreadPitch_areRead() {
        Trial trial = Given.soundFolder(folder)
                .with(
                        "machines.csv",
                        "machine,specified deck offset,specified deck offset uncertainty\nAlder 22,20,2\nBirch 10,,\n")
                .with("stops.csv", "machine,side,thread pitch\nAlder 22,left,1.75 mm\n")
                .trial();
        assertThat(trial.machines().get(0).specifiedDeckOffset())
                .contains(new Measured(Length.mm(20), Optional.of(Length.mm(2))));
        assertThat(trial.machines().get(0).stops().get(0).threadPitch()).contains(Length.mm(1.75));
    }

    @Test
    void claims_leaveOpenWhatTheyDoNotState() {
        Trial trial = Given.soundFolder(folder).with("claims.csv", """
                        claim,who,value,quantity,machine,turn,drive,brakes,uncertainty,circles behind it,remark
                        C1,brochure,64 in,Uncut diameter,Alder 22,unstated,,Unstated,,,
                        C2,owner,1.5 m,turn radius,,left,4WD,none,20,2,"said ""about""\"
                        """).trial();
        assertThat(trial.claims().get(0))
                .isEqualTo(new Claim(
                        "C1",
                        "brochure",
                        Length.parse("64 in", LengthUnit.METRE).orThrow(),
                        Claim.Quantity.UNCUT_DIAMETER,
                        Optional.of("Alder 22"),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty(),
                        OptionalInt.empty(),
                        ""));
        assertThat(trial.claims().get(1))
                .isEqualTo(new Claim(
                        "C2",
                        "owner",
                        new Length(1.5),
                        Claim.Quantity.TURN_RADIUS,
                        Optional.empty(),
                        Optional.of(Turn.LEFT),
                        Optional.of(Drive.FOUR_WHEEL),
                        Optional.of(Brakes.NONE),
                        Optional.of(Length.mm(20)),
                        OptionalInt.of(2),
                        "said \"about\""));
    }

    @Test
    void filesAsSpreadsheetsSaveThem_areRead() {
        // byte order mark, CR LF, empty columns and rows at the end, blanks around names, no-break blanks in cells
        Trial trial = Given.soundFolder(folder)
                .with(
                        "circles.csv",
                        String.join(
                                "\r\n",
                                "\uFEFF Circle , MACHINE,drive,turn,,",
                                "A1,Alder 22\u00a0,2WD,left,,",
                                ",,,,,",
                                "",
                                " B1,Birch 10,4WD,right,,",
                                ",,,,,",
                                ",,,,,",
                                ""))
                .with("readings.csv", "circle,kind,value,second\r\nA1,across,1580\r\nB1,across,1600,,,,\r\n")
                .trial();
        assertThat(trial.circles()).extracting(Circle::id).containsExactly("A1", "B1");
        assertThat(trial.circles()).extracting(Circle::row).containsExactly(2, 5);
        assertThat(trial.circles().get(1).readings()).hasSize(1);
    }

    @Test
    void fileNames_matchWithoutRegardToCase() throws IOException {
        Given given = Given.soundFolder(folder);
        Files.move(folder.resolve("readings.csv"), folder.resolve("Readings.CSV"));
        assertThat(given.trial().circles().get(0).readings()).hasSize(1);
    }

    @Test
    void pointsAlone_areEnough() {
        Given given = Given.soundFolder(folder)
                .without("readings.csv")
                .with("points.csv", "circle,x,y\nA1,0,0\nA1,1000,0\nA1,0,1000\nB1,0,0\nB1,1000,0\nB1,0,1000\n");
        assertThat(given.trial().circles())
                .allMatch(circle -> circle.perimeter().size() == 3);
    }

    @Test
    void reading_changesNothingInTheFolder() throws IOException {
        Given given = Given.soundFolder(folder).with("notes.txt", "mine").with("claims.csv", "claim;value\n");
        Map<String, String> before = snapshot();
        given.read();
        TrialFolder.sheets(folder);
        assertThat(snapshot()).isEqualTo(before);
    }

    private Map<String, String> snapshot() throws IOException {
        Map<String, String> files = new TreeMap<>();
        try (Stream<Path> list = Files.list(folder)) {
            for (Path path : list.toList()) {
                files.put(path.getFileName().toString(), Files.readString(path) + Files.getLastModifiedTime(path));
            }
        }
        return files;
    }

    @Test
    void timeToReadGrowsWithTheRows_notWithTheirSquare() {
        read(5_000); // warm
        double quarter = read(5_000);
        double all = read(20_000);
        assertThat(all / quarter)
                .as("4 times the rows; 16 would be their square")
                .isLessThan(10);
    }

    /** CPU seconds of this thread for a sound folder of that many rows. */
    private double read(int rows) {
        Given given = Given.soundFolder(folder)
                .with("circles.csv", rows(rows, "circle,machine,turn,drive", "A%d,Alder 22,left,2WD"))
                .with("readings.csv", rows(rows, "circle,kind,value", "A%d,across,62 3/8 in"));
        long start = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
        assertThat(given.trial().circles()).hasSize(rows);
        return (ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - start) / 1e9;
    }

    /** A name is proposed for the first slips; for as many as 20,000 it would take longer than all the rest. */
    @Test
    void unknownNamesInManyRows_takeNoLongerThanFaultsOfAnotherKind() {
        Given given = Given.soundFolder(folder)
                .with("circles.csv", rows(500, "circle,machine,turn,drive", "circle-A-%d,Alder 22,left,2WD"));
        slow(given, "circle-B-%d,across,1 m"); // warm
        double others = slow(given, "circle-A-1,across %d,1 m");
        double names = slow(given, "circle-B-%d,across,1 m");
        assertThat(names / others)
                .as("names not known against kinds not known; 37 where each was compared with all")
                .isLessThan(6);
        List<String> messages = given.messages();
        assertThat(messages.stream().filter(m -> m.contains("Did you mean"))).hasSize(100);
        assertThat(messages.get(0)).endsWith(" Did you mean \"circle-A-0\"?");
        assertThat(messages.get(19_999)).endsWith("List it there, or write the id as it stands there.");
    }

    /** CPU seconds of this thread for a folder with 20,000 faulty readings. */
    private static double slow(Given given, String row) {
        given.with("readings.csv", rows(20_000, "circle,kind,value", row));
        long start = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
        assertThat(given.messages()).hasSize(20_000);
        return (ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - start) / 1e9;
    }

    @Test
    void everyFaultOfManyRows_isListed() {
        Given given = Given.soundFolder(folder)
                .with("circles.csv", rows(3_000, "circle,machine,turn,drive", "A%d,Alder 22,left,2WD"))
                .with("readings.csv", rows(3_000, "circle,kind,value", "X%d,acros,1.58 km"));
        assertThat(given.problems()).hasSize(9_000);
    }

    private static String rows(int rows, String header, String row) {
        return IntStream.range(0, rows).mapToObj(row::formatted).collect(Collectors.joining("\n", header + "\n", "\n"));
    }
}
