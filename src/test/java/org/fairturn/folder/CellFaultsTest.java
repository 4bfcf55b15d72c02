package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Cells that cannot be what they stand for. Every message is tested as a whole. */
class CellFaultsTest {
    private static final String LENGTH =
            "accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in.";
    private static final String BARE =
            " A number without a unit is read as mm here; write the unit with it if it is another.";

    @TempDir
    Path folder;

    private Given given;

    @BeforeEach
    void soundFolder() {
        given = Given.soundFolder(folder);
    }

    @Test
    void decimalComma_isPointedAt() {
        given.with("readings.csv", "circle,kind,value\nB1,across,1580\nA1,across,\" 1,58m \"\n");
        Problem problem = given.problems().get(0);
        assertThat(problem.message())
                .isEqualTo("readings.csv, row 3, column \"value\": read \"1,58m\"; " + LENGTH
                        + " If the comma is a decimal sign, write a point.");
        assertThat(problem.pointer()).isEqualTo("1,58m\n ^");
        assertThat(problem)
                .isEqualTo(new Problem(
                        "readings.csv",
                        3,
                        "value",
                        "1,58m",
                        "a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in",
                        "If the comma is a decimal sign, write a point.",
                        1));
    }

    @Test
    void allProblemsOfAFolder_comeAtOnce_inTheOrderOfFilesAndRows() {
        given.with("trial.csv", "field,value\ndate,14.5.2026\nlength unit,mm\ntitle,x\n")
                .with("machines.csv", "machine,wheelbase\nAlder 22,long\nBirch 10,-1 m\n")
                .with("circles.csv", "circle,machine,turn,drive\nA1,Alder 22,up,2WD\nB1,Birch 10,right,\n")
                .with("readings.csv", "circle,kind,value\nA1,across,1580\nB1,,x\nC1,across,1580\n");
        assertThat(given.messages())
                .containsExactly(
                        "trial.csv, row 2, column \"value\": read \"14.5.2026\"; accepted: for the field \"date\" a day"
                                + " written year-month-day, such as 2026-05-14. Write the year first; a spreadsheet may have"
                                + " rearranged it.",
                        "machines.csv, row 2, column \"wheelbase\": read \"long\"; " + LENGTH,
                        "machines.csv, row 3, column \"wheelbase\": read \"-1 m\"; accepted: a wheelbase from 300 mm to"
                                + " 10 m. Check the number and its unit.",
                        "circles.csv, row 2, column \"turn\": read \"up\"; accepted: left or right.",
                        "circles.csv, row 3, column \"drive\": read an empty cell; accepted: 2WD or 4WD.",
                        "readings.csv, row 3, column \"kind\": read an empty cell; accepted: across, chord and rise or three"
                                + " stakes.",
                        "readings.csv, row 3, column \"value\": read \"x\"; " + LENGTH,
                        "readings.csv, row 4, column \"circle\": read \"C1\"; accepted: a circle listed in circles.csv: A1,"
                                + " B1. List it there, or write the id as it stands there.");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "title, | title | an empty cell | a title of your choice.",
                "date, | date | an empty cell | a day written year-month-day, such as 2026-05-14.",
                "date,2026-02-30 | date | `\"2026-02-30\"` | a day written year-month-day, such as 2026-05-14. The calendar"
                        + " has no such day.",
                "length unit,yards | length unit | `\"yards\"` | one of the units mm, cm, m, in and ft. It is the unit of"
                        + " every number that has none with it.",
                "tape class,IV | tape class | `\"IV\"` | I, II or III.",
                "confidence,40 | confidence | `\"40\"` | a probability above 50 % and below 100 %, such as 95 %, 95 or 0.95.",
                "confidence,100 % | confidence | `\"100 %\"` | a probability above 50 % and below 100 %, such as 95 %, 95 or"
                        + " 0.95.",
                "confidence,sure | confidence | `\"sure\"` | a probability above 50 % and below 100 %, such as 95 %, 95 or"
                        + " 0.95.",
                "`confidence,\"0,95\"` | confidence | `\"0,95\"` | a probability above 50 % and below 100 %, such as 95 %, 95"
                        + " or 0.95. If the comma is a decimal sign, write a point.",
                "practical margin,0 mm | practical margin | `\"0 mm\"` | a practical margin from 0.1 mm to 10 m. Check the"
                        + " number and its unit.",
                "edge definition,-1 mm | edge definition | `\"-1 mm\"` | an edge definition from 0 mm to 1 m. Check the"
                        + " number and its unit.",
                "assumed circle repeatability,0 in | assumed circle repeatability | `\"0 in\"` | a repeatability from 0.1 mm"
                        + " to 10 m. Check the number and its unit.",
                "mowing speed,5 | mowing speed | `\"5\"` | a mowing speed from 0.5 km/h to 30 km/h with its unit, such as 5"
                        + " km/h or 3 mph.",
                "mowing speed,50 km/h | mowing speed | `\"50 km/h\"` | a mowing speed from 0.5 km/h to 30 km/h with its unit,"
                        + " such as 5 km/h or 3 mph. Check the number and its unit.",
            })
    void trialFile(String row, String field, String read, String accepted) {
        String others = Given.TRIAL
                .lines()
                .filter(line -> !line.startsWith(field + ","))
                .reduce("", (all, line) -> all + line + "\n");
        given.with("trial.csv", others + row + "\n");
        assertThat(given.problems())
                .singleElement()
                .extracting(Problem::message)
                .asString()
                .matches("trial\\.csv, row [45], column \"value\": .*")
                .endsWith(": read " + read + "; accepted: for the field \"" + field + "\" " + accepted);
    }

    @Test
    void fieldsMissingRepeatedAndUnknown() {
        given.with("trial.csv", "field,value\nTitle,x\ntitle,y\nplcae,Quarry Meadow\n,lost\n");
        assertThat(given.messages())
                .containsExactly(
                        "trial.csv: found no field \"length unit\"; accepted: a row with the field \"length unit\" and one of"
                                + " the units mm, cm, m, in and ft. Add the row.",
                        "trial.csv: found no field \"date\"; accepted: a row with the field \"date\" and a day written"
                                + " year-month-day, such as 2026-05-14. Add the row.",
                        "trial.csv, row 3, column \"field\": read \"title\"; accepted: each field once; row 2 has this one"
                                + " already. Delete one of the two rows.",
                        "trial.csv, row 5, column \"field\": read an empty cell; accepted: a field such as title or date.");
        assertThat(given.notes())
                .containsExactly("trial.csv, row 4, column \"field\": \"plcae\" is not known; it is kept and not used."
                        + " Did you mean \"place\"?");
    }

    @Test
    void withoutALengthUnit_otherFaultsAreStillFound_andBareNumbersAreNotBlamed() {
        given.with("trial.csv", Given.TRIAL.replace("mm", "furlong"))
                .with("machines.csv", "machine,wheelbase\nAlder 22,1.45\nBirch 10,1.45 km\n")
                .with("readings.csv", "circle,kind,value,second\nA1,across,1.58,\nB1,chord and rise,1.5,0.3\n");
        assertThat(given.messages())
                .containsExactly(
                        "trial.csv, row 4, column \"value\": read \"furlong\"; accepted: for the field \"length unit\" one of"
                                + " the units mm, cm, m, in and ft. It is the unit of every number that has none with it.",
                        "machines.csv, row 3, column \"wheelbase\": read \"1.45 km\"; " + LENGTH
                                + " The units are mm, cm, m, in and ft.");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "wheelbase | 1.45 | a wheelbase from 300 mm to 10 m. BARE",
                "front track | 12 m | a front track from 300 mm to 5 m. Check the number and its unit.",
                "deck offset | 6 m | a deck offset from -1 m to 1 m. Check the number and its unit.",
                "deck offset uncertainty | -1 | a standard uncertainty from 0 mm to 5 m. BARE",
                "turn centre shift | -4 m | a turn centre shift from -3 m to 3 m. Check the number and its unit.",
                "left lock angle | 90 | a lock angle above 0° and below 90°, such as 52 or 52.5°.",
                "right lock angle | 0° | a lock angle above 0° and below 90°, such as 52 or 52.5°.",
                "right lock angle | wide | an angle in degrees such as 52, 52.5°, 52 deg or 52° 30'.",
            })
    void machines(String column, String cell, String accepted) {
        given.with("machines.csv", "machine,deck offset," + column + "\nAlder 22,,\nBirch 10,1," + cell + "\n");
        if (column.equals("deck offset")) {
            given.with("machines.csv", "machine,deck offset\nAlder 22,\nBirch 10," + cell + "\n");
        }
        assertThat(given.messages())
                .containsExactly("machines.csv, row 3, column \"" + column + "\": read \"" + cell + "\"; accepted: "
                        + accepted.replace(" BARE", BARE));
    }

    @Test
    void anUncertaintyOfNothing_isANote() {
        given.with("machines.csv", "machine,wheelbase,wheelbase uncertainty\nAlder 22,,5\nBirch 10,1450,5\n");
        assertThat(given.problems()).isEmpty();
        assertThat(given.notes())
                .containsExactly(
                        "machines.csv, row 2, column \"wheelbase uncertainty\": There is no wheelbase to go with"
                                + " this uncertainty; it is not used.");
    }

    @Test
    void ids_mustBeThere_onlyOnce_andKnown() {
        given.with("machines.csv", "machine,wheelbase\nAlder 22,x\nAlder 22,1450\n,1450\n")
                .with(
                        "circles.csv",
                        "circle,machine,turn,drive\nA1,Alder 22,left,2WD\nA1,Aldr 22,left,2WD\n,Oak,left,2WD\n")
                .with("readings.csv", "circle,kind,value\nA1,across,1580\n,across,1580\n")
                .with("claims.csv", "claim,value,quantity\nC1,1 m,turn radius\nC1,2 m,turn radius\n");
        String twice = " has this one already. Give one of the two another id, or delete the row that is there twice.";
        assertThat(given.messages())
                .containsExactly(
                        "machines.csv, row 2, column \"wheelbase\": read \"x\"; " + LENGTH,
                        "machines.csv, row 3, column \"machine\": read \"Alder 22\"; accepted: an id that no other row has;"
                                + " row 2" + twice,
                        "machines.csv, row 4, column \"machine\": read an empty cell; accepted: an id, such as a name or a"
                                + " number.",
                        "circles.csv, row 3, column \"circle\": read \"A1\"; accepted: an id that no other row has; row 2"
                                + twice,
                        "circles.csv, row 3, column \"machine\": read \"Aldr 22\"; accepted: a machine listed in"
                                + " machines.csv: Alder 22. Did you mean \"Alder 22\"?",
                        "circles.csv, row 4, column \"circle\": read an empty cell; accepted: an id, such as a name or a"
                                + " number.",
                        "circles.csv, row 4, column \"machine\": read \"Oak\"; accepted: a machine listed in machines.csv:"
                                + " Alder 22. List it there, or write the id as it stands there.",
                        "readings.csv, row 3, column \"circle\": read an empty cell; accepted: a circle listed in"
                                + " circles.csv: A1.",
                        "claims.csv, row 3, column \"claim\": read \"C1\"; accepted: an id that no other row has; row 2"
                                + twice);
    }

    @Test
    void aFaultyMachineRow_isStillAMachine() {
        given.with("machines.csv", "machine,wheelbase\nAlder 22,x\nBirch 10,1450\n")
                .with("claims.csv", "claim,value,quantity,machine\nC1,1 m,turn radius,Alder 22\n");
        assertThat(given.messages()).hasSize(1);
    }

    @Test
    void longListsOfIds_areCutShort() {
        StringBuilder machines = new StringBuilder("machine\n");
        for (int i = 1; i <= 11; i++) {
            machines.append("M").append(i).append("\n");
        }
        given.with("machines.csv", machines.toString())
                .with("circles.csv", "circle,machine,turn,drive\nA1,Cedar 30,left,2WD\nB1,m11,left,2WD\n");
        assertThat(given.messages())
                .containsExactly(
                        "circles.csv, row 2, column \"machine\": read \"Cedar 30\"; accepted: a machine listed in"
                                + " machines.csv: M1, M2, M3, M4, M5, M6, M7, M8 and 3 more. List it there, or write the id"
                                + " as it stands there.",
                        "circles.csv, row 3, column \"machine\": read \"m11\"; accepted: a machine listed in machines.csv:"
                                + " M1, M2, M3, M4, M5, M6, M7, M8 and 3 more. Did you mean \"M11\"?");
    }

    @Test
    void blades() {
        given.with("blades.csv", """
                machine,spindle,ahead of rear axle,left of centreline,tip radius,left of centreline uncertainty
                Alder 22,left,1 m,500,236,
                Alder 22,left,1 m,-500,236,
                Birch 10,left,,-6 m,3 mm,-1 mm
                Oak,,1 m,0,236,
                """);
        assertThat(given.messages())
                .containsExactly(
                        "blades.csv, row 3, column \"spindle\": read \"left\"; accepted: each spindle of a machine once; row 2"
                                + " has this one already. Give one of the two another name, or delete the row that is there"
                                + " twice.",
                        "blades.csv, row 4, column \"ahead of rear axle\": read an empty cell; accepted: a distance ahead of"
                                + " the rear axle from -10 m to 10 m.",
                        "blades.csv, row 4, column \"left of centreline\": read \"-6 m\"; accepted: a distance to the left of"
                                + " the centreline from -3 m to 3 m. Check the number and its unit.",
                        "blades.csv, row 4, column \"left of centreline uncertainty\": read \"-1 mm\"; accepted: a standard"
                                + " uncertainty from 0 mm to 5 m. Check the number and its unit.",
                        "blades.csv, row 4, column \"tip radius\": read \"3 mm\"; accepted: a tip radius from 20 mm to 3 m."
                                + " Check the number and its unit.",
                        "blades.csv, row 5, column \"machine\": read \"Oak\"; accepted: a machine listed in machines.csv:"
                                + " Alder 22, Birch 10. List it there, or write the id as it stands there.",
                        "blades.csv, row 5, column \"spindle\": read an empty cell; accepted: a name for the spindle, such as"
                                + " left or middle.");
    }

    @Test
    void stops() {
        given.with("stops.csv", """
                machine,side,specified,touches axle,arm,limits
                Alder 22,left,27,yes,80,
                Alder 22,left,28,no,80,left
                Alder 22,L,1 m,maybe,2 m,both
                """);
        assertThat(given.messages())
                .containsExactly(
                        "stops.csv, row 3, column \"side\": read \"left\"; accepted: one stop for each side and limited turn;"
                                + " row 2 has the left one that limits the left turn already. Delete one of the two rows, or"
                                + " mend its side or what it limits.",
                        "stops.csv, row 4, column \"side\": read \"L\"; accepted: left or right.",
                        "stops.csv, row 4, column \"limits\": read \"both\"; accepted: left or right.",
                        "stops.csv, row 4, column \"specified\": read \"1 m\"; accepted: a protrusion from 0 mm to 300 mm."
                                + " Check the number and its unit.",
                        "stops.csv, row 4, column \"touches axle\": read \"maybe\"; accepted: yes, no or unknown.",
                        "stops.csv, row 4, column \"arm\": read \"2 m\"; accepted: an arm from 5 mm to 1 m. Check the number"
                                + " and its unit.");
    }

    @Test
    void circles() {
        given.with("circles.csv", """
                circle,machine,turn,drive,order,laps,brakes,use
                A1,Alder 22,lft,3WD,1.5,0,on,maybe
                B1,Birch 10,right,4WD,-1,two,,
                """);
        assertThat(given.messages())
                .containsExactly(
                        "circles.csv, row 2, column \"turn\": read \"lft\"; accepted: left or right. Did you mean \"left\"?",
                        "circles.csv, row 2, column \"drive\": read \"3WD\"; accepted: 2WD or 4WD.",
                        "circles.csv, row 2, column \"brakes\": read \"on\"; accepted: none or used.",
                        "circles.csv, row 2, column \"order\": read \"1.5\"; accepted: a whole number from 1 to 1000000.",
                        "circles.csv, row 2, column \"laps\": read \"0\"; accepted: a whole number from 1 to 1000.",
                        "circles.csv, row 2, column \"use\": read \"maybe\"; accepted: yes or no.",
                        "circles.csv, row 3, column \"order\": read \"-1\"; accepted: a whole number from 1 to 1000000.",
                        "circles.csv, row 3, column \"laps\": read \"two\"; accepted: a whole number from 1 to 1000.");
    }

    @Test
    void readings() {
        given.with("readings.csv", """
                circle,kind,value,second,third,bearing
                A1,across,1.58,,,13 o'clock
                A1,acros,1580,,,
                A1,across,,,,
                A1,across,1580,300,,
                A1,chord and rise,1200,,,
                A1,chord and rise,1200,250,9,
                A1,chord and rise,1200,-3,,
                A1,three stakes,1200,1100,,
                B1,across,1580,,,
                """);
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"value\": read \"1.58\"; accepted: an uncut chord from 50 mm to 300 m."
                                + BARE,
                        "readings.csv, row 2, column \"bearing\": read \"13 o'clock\"; accepted: a clock position 1 to 12 or"
                                + " degrees such as 45°. A clock has the hours 1 to 12.",
                        "readings.csv, row 3, column \"kind\": read \"acros\"; accepted: across, chord and rise or three"
                                + " stakes. Did you mean \"across\"?",
                        "readings.csv, row 4, column \"value\": read an empty cell; accepted: an uncut chord from 50 mm to"
                                + " 300 m.",
                        "readings.csv, row 5, column \"second\": read \"300\"; accepted: an empty cell, since the kind"
                                + " \"across\" has one length. Empty the cell, or mend the kind.",
                        "readings.csv, row 6, column \"second\": read an empty cell; accepted: a rise from 0.1 mm to 300 m.",
                        "readings.csv, row 7, column \"third\": read \"9\"; accepted: an empty cell, since the kind \"chord"
                                + " and rise\" has two lengths. If 250,9 was meant, write 250.9 in one cell; otherwise empty this cell, or mend"
                                + " the kind.",
                        "readings.csv, row 8, column \"second\": read \"-3\"; accepted: a rise from 0.1 mm to 300 m."
                                + BARE,
                        "readings.csv, row 9, column \"third\": read an empty cell; accepted: a distance between stakes from"
                                + " 10 mm to 300 m.");
    }

    @Test
    void aDecimalCommaWithoutQuotes_isGuessed() {
        given.with("readings.csv", "circle,kind,value,second\nA1,across,1,58\nB1,across,1580,\n");
        assertThat(given.messages())
                .contains(
                        "readings.csv, row 2, column \"second\": read \"58\"; accepted: an empty cell, since the kind \"across\""
                                + " has one length. If 1,58 was meant, write 1.58 in one cell; otherwise empty this cell, or mend the"
                                + " kind.");
    }

    @Test
    void aKindThatNeedsAColumnTheFileLacks() {
        given.with("readings.csv", "circle,kind,value\nA1,chord and rise,1200\nB1,across,1580\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"second\": read an empty cell; accepted: a rise from 0.1 mm to"
                                + " 300 m.");
    }

    @Test
    void aChordAndARise_mustFitACircle() {
        given.with("readings.csv", """
                circle,kind,value,second
                A1,chord and rise,10 m,1 mm
                A1,chord and rise,60,1.2
                B1,chord and rise,1 m,1.2 m
                B1,chord and rise,1 m,1 m
                """);
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"second\": read \"1 mm\"; accepted: a rise between 1/50 of its chord"
                                + " and the whole of it. Over a chord of 10 m so small a rise says nothing about the circle."
                                + " Check both lengths and their units, or measure a longer chord.",
                        "readings.csv, row 4, column \"second\": read \"1.2 m\"; accepted: a rise between 1/50 of its chord"
                                + " and the whole of it. No chord people lay out is shorter than its rise: with 1 m in the"
                                + " column \"value\" the two may be swapped. Check both lengths and their units.");
    }

    @ParameterizedTest
    @CsvSource({"1000,1000,2000", "1000,1000,2500", "1000,1000,1999.9", "3 m,9 m,4 m"})
    void threeStakes_mustFormATriangle(String first, String second, String third) {
        given.with(
                "readings.csv",
                "circle,kind,value,second,third\nA1,three stakes," + first + "," + second + "," + third
                        + "\nB1,across,1580,,\n");
        assertThat(given.messages())
                .containsExactly("readings.csv, row 2, column \"value\": read \"" + first + "; " + second + "; " + third
                        + "\"; accepted: three distances that form a triangle, the longest clearly shorter than the other two"
                        + " together. Check the three distances and their units; stakes that stand nearly in a line fix no"
                        + " circle.");
    }

    @Test
    void flatAndSlenderTriangles_thatStillFixACircle_areAccepted() {
        given.with(
                "readings.csv",
                "circle,kind,value,second,third\nA1,three stakes,1000,1000,1998\nB1,three stakes,100,1500,1500\n");
        assertThat(given.messages()).isEmpty();
    }

    @Test
    void points_mustFixACircle() {
        String mend = " Add points spread around the circle, or delete those that are there.";
        given.with("points.csv", "circle,x,y\nA1,0,0\nA1,1 m,1 m\nA1,0,0\nB1,0,0\nB1,1000,0.5\nB1,2000,-0.5\n");
        assertThat(given.messages())
                .containsExactly(
                        "points.csv, row 2: found 2 different points on circle \"A1\"; accepted: three or more different"
                                + " points on the cut edge of a circle." + mend,
                        "points.csv, row 5: found the points of circle \"B1\" all on one line; accepted: three or more"
                                + " different points on the cut edge of a circle, not on one line." + mend);
        given.with("points.csv", "circle,x,y\nA1,0,0\nB1,0,0\nB1,1000,x\nC9,1,2\n");
        assertThat(given.messages())
                .containsExactly(
                        "points.csv, row 2: found 1 point on circle \"A1\"; accepted: three or more different points on the"
                                + " cut edge of a circle." + mend,
                        "points.csv, row 4, column \"y\": read \"x\"; " + LENGTH,
                        "points.csv, row 5, column \"circle\": read \"C9\"; accepted: a circle listed in circles.csv: A1, B1."
                                + " List it there, or write the id as it stands there.");
        given.with("points.csv", "circle,x,y\nA1,0,0\nA1,1000,2\nA1,2000,-2\n");
        assertThat(given.messages()).isEmpty();
    }

    @Test
    void claims() {
        given.with("claims.csv", """
                claim,value,quantity,machine,turn,drive,brakes,uncertainty,circles behind it
                C1,,diameter,Birch,both,any,maybe,-2,0
                """);
        assertThat(given.messages())
                .containsExactly(
                        "claims.csv, row 2, column \"value\": read an empty cell; accepted: a claimed diameter or radius from"
                                + " 50 mm to 300 m.",
                        "claims.csv, row 2, column \"quantity\": read \"diameter\"; accepted: uncut diameter, turn radius,"
                                + " turning circle diameter or clearance circle diameter.",
                        "claims.csv, row 2, column \"machine\": read \"Birch\"; accepted: a machine listed in machines.csv:"
                                + " Alder 22, Birch 10. List it there, or write the id as it stands there.",
                        "claims.csv, row 2, column \"turn\": read \"both\"; accepted: left, right or unstated.",
                        "claims.csv, row 2, column \"drive\": read \"any\"; accepted: 2WD, 4WD or unstated.",
                        "claims.csv, row 2, column \"brakes\": read \"maybe\"; accepted: none, used or unstated.",
                        "claims.csv, row 2, column \"uncertainty\": read \"-2\"; accepted: a standard uncertainty from 0 mm to"
                                + " 5 m." + BARE,
                        "claims.csv, row 2, column \"circles behind it\": read \"0\"; accepted: a whole number from 1 to"
                                + " 1000.");
    }

    /** A brochure's radius is commonly half of a circle: common practice, no source. It used to be taken for the turn radius. */
    @ParameterizedTest
    @ValueSource(strings = {"turning radius", "Turning Radius", "min. turning radius", "Radius", "uncut radius"})
    void aRadiusThatDoesNotSayWhich_isNotGuessed(String word) {
        given.with("claims.csv", "claim,value,quantity\nC1,2 m," + word + "\n")
                .with("references.csv", "machine,value,quantity,source\nAlder 22,2 m," + word + ",manual\n");
        String fault = ".csv, row 2, column \"quantity\": read \"" + word
                + "\"; accepted: uncut diameter, turn radius, turning circle diameter or clearance circle diameter. A radius may"
                + " be half of any of three circles: write twice the figure, as turning circle diameter where it is measured to"
                + " the outermost wheel, as clearance circle diameter where it is to the outermost point of the machine, as uncut"
                + " diameter where it is to the grass left standing. Only a radius to the middle of the rear axle is a turn"
                + " radius, written as it is. Where nothing says which, ask whoever states it.";
        assertThat(given.messages()).containsExactly("claims" + fault, "references" + fault);
    }

    @Test
    void theTurnRadiusItself_isTaken() {
        given.with("claims.csv", "claim,value,quantity\nC1,2 m,Turn  radius\n");
        assertThat(given.messages()).isEmpty();
    }

    @Test
    void references() {
        given.with("references.csv", """
                machine,known good,value,quantity,turn,drive,brakes,uncertainty,circles behind it,source
                Birch,,,diameter,round,any,maybe,-2,0,manual
                Alder 22,Birch 10,1600,,,,,,,a
                Alder 22,Alder 22,,,,,,,,b
                Alder 22,,1600,,left,,,,,c
                Alder 22,,1610,,both,4WD,,,,c
                Alder 22,Birch 10,,,right,,,,,c
                """);
        String gone = "references.csv, row ";
        assertThat(given.messages())
                .containsExactly(
                        gone
                                + "2, column \"machine\": read \"Birch\"; accepted: a machine listed in machines.csv: Alder 22,"
                                + " Birch 10. List it there, or write the id as it stands there.",
                        gone
                                + "2, column \"quantity\": read \"diameter\"; accepted: uncut diameter, turn radius, turning circle"
                                + " diameter or clearance circle diameter.",
                        gone + "2, column \"turn\": read \"round\"; accepted: left, right or both.",
                        gone + "2, column \"drive\": read \"any\"; accepted: 2WD, 4WD or both.",
                        gone + "2, column \"brakes\": read \"maybe\"; accepted: none or used.",
                        gone
                                + "2, column \"uncertainty\": read \"-2\"; accepted: a standard uncertainty from 0 mm to 5 m."
                                + BARE,
                        gone + "2, column \"circles behind it\": read \"0\"; accepted: a whole number from 1 to 1000.",
                        gone
                                + "2, column \"value\": read an empty cell; accepted: a length, or in the column \"known good\" a"
                                + " machine of this trial. Write what the manual says, or which machine it is held against.",
                        gone
                                + "3, column \"known good\": read \"Birch 10\"; accepted: either a machine known to be good or a"
                                + " value, not both. Give each a row of its own.",
                        gone
                                + "4, column \"known good\": read \"Alder 22\"; accepted: another machine than the one complained of."
                                + " Name the machine that is known to be good.",
                        gone
                                + "6, column \"source\": read \"c\"; accepted: one row for each turn and drive of a machine and"
                                + " source; row 5 speaks of the same circles already. Give one of the two another turn, drive or"
                                + " source, or delete the row that is there twice.",
                        gone
                                + "7, column \"source\": read \"c\"; accepted: a source of its own for each machine known to be good,"
                                + " and for figures; row 5 has this one for another. Give one of the two another source.");
    }

    @Test
    void whatBelongsToAFigure_isNotedBesideAMachineKnownToBeGood() {
        given.with("references.csv", "machine,known good,uncertainty\nAlder 22,Birch 10,5\n");
        assertThat(given.messages()).isEmpty();
        assertThat(given.notes())
                .containsExactly(
                        "references.csv, row 2, column \"uncertainty\": It belongs to a value; a machine brings its own"
                                + " circles, so it is not used.");
    }

    @Test
    void circlesWithoutMeasurements_areNotes() {
        given.with("readings.csv", "circle,kind,value\nA1,across,1580\n");
        assertThat(given.problems()).isEmpty();
        assertThat(given.notes())
                .containsExactly(
                        "circles.csv, row 3, column \"circle\": Circle \"B1\" has no readings and no points; it is"
                                + " listed and not used.");
        given.with(
                "circles.csv", Given.CIRCLES.replace("drive\n", "drive,use\n").replace("4WD", "4WD,no"));
        assertThat(given.notes()).isEmpty();
    }

    @Test
    void aVeryLongCell_isCutInTheMessage() {
        given.with(
                "circles.csv",
                "circle,machine,turn,drive\nA1,Alder 22," + "x".repeat(500) + ",2WD\nB1,Birch 10,left,2WD\n");
        assertThat(given.messages())
                .containsExactly("circles.csv, row 2, column \"turn\": read \"" + "x".repeat(80)
                        + "…\"; accepted: left or right.");
        assertThat(given.problems().get(0).read()).hasSize(500);
        assertThat(given.problems().get(0).pointer()).isEmpty();
    }
}
