package org.fairturn.folder;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_16;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Files that are missing, cannot be opened or are no tables. Every message is tested as a whole. */
class FolderFaultsTest {
    private static final String UTF8 =
            "accepted: CSV text in UTF-8. In the spreadsheet, save the file again as \"CSV UTF-8\".";

    @TempDir
    Path folder;

    private Given given;

    @BeforeEach
    void soundFolder() {
        given = Given.soundFolder(folder);
    }

    private static List<String> messages(Path folder) {
        return TrialFolder.read(folder)
                .fold(
                        complete -> List.of(),
                        faulty ->
                                faulty.problems().stream().map(Problem::message).toList());
    }

    @Test
    void aSoundFolder_hasNoProblems() {
        assertThat(given.read()).isInstanceOf(TrialRead.Complete.class);
        assertThat(given.notes()).isEmpty();
    }

    @Test
    void missingFolder() {
        assertThat(messages(folder.resolve("May")))
                .containsExactly(
                        "May: found no such folder; accepted: a folder with trial.csv, machines.csv, blades.csv, stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Check the path.");
    }

    @Test
    void aFileInPlaceOfTheFolder() {
        assertThat(messages(folder.resolve("trial.csv")))
                .containsExactly(
                        "trial.csv: found a file; accepted: a folder with trial.csv, machines.csv, blades.csv, stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Name the folder the files lie in, not a file in it.");
    }

    @Test
    void missingFiles_areAllNamed_andNothingEchoes() {
        given.without("trial.csv")
                .without("machines.csv")
                .without("circles.csv")
                .without("readings.csv");
        assertThat(given.messages())
                .containsExactly(
                        "trial.csv: found no such file; accepted: a CSV file with the columns field and value, among others. Add it to the folder.",
                        "machines.csv: found no such file; accepted: a CSV file with the column machine, among others. Add it to the folder.",
                        "circles.csv: found no such file; accepted: a CSV file with the columns circle, machine, turn and drive, among others. Add it to the folder.",
                        "readings.csv: found neither this file nor points.csv; accepted: a CSV file with the columns circle, kind and value, among others. Add one of the two to the folder.");
    }

    @Test
    void aMissingListOfMachines_isOneProblem_notOneForEveryCircle() {
        assertThat(given.without("machines.csv").messages()).hasSize(1);
        given.with("machines.csv", "name\nAlder 22\n");
        assertThat(given.messages())
                .containsExactly(
                        "machines.csv, row 1: found no column \"machine\"; accepted: the column machine, among others in any order. Add it to row 1, which holds the column names.");
    }

    @Test
    void aWorkbookBesideTheFolder_isPointedAt() {
        given.without("machines.csv").with("Machines.xlsx", "PK");
        assertThat(given.messages())
                .containsExactly(
                        "machines.csv: found no such file; accepted: a CSV file with the column machine, among others. Save \"Machines.xlsx\" as machines.csv, in the format \"CSV UTF-8\".");
    }

    @Test
    void aFolderInPlaceOfAFile() throws IOException {
        Files.createDirectory(folder.resolve("blades.csv"));
        assertThat(given.messages())
                .containsExactly(
                        "blades.csv: found a folder of that name; accepted: a CSV file. Move or rename the folder.");
    }

    @Test
    void whatIsNoOrdinaryFile() throws IOException {
        Assumptions.assumeTrue(File.separatorChar == '/', "needs symbolic links");
        Files.createSymbolicLink(folder.resolve("stops.csv"), folder.resolve("gone.csv"));
        assertThat(given.messages())
                .containsExactly(
                        "stops.csv: found a link to nowhere or a device; accepted: a CSV file. Put a copy of the"
                                + " file itself in its place.");
    }

    @Test
    void aFileFarTooLarge_isNotReadIntoMemory() throws IOException {
        try (RandomAccessFile large =
                new RandomAccessFile(folder.resolve("points.csv").toFile(), "rw")) {
            large.setLength(3_000_000_000L);
        }
        assertThat(given.messages())
                .containsExactly(
                        "points.csv: found 3000 MB; accepted: a CSV file of at most 50 MB. Check that it is the"
                                + " right file.");
    }

    @Test
    void csvFilesThatAreNotRead_areNotes() {
        given.with("reading.csv", "")
                .with("weather log.csv", "")
                .with(".hidden.csv", "")
                .with("photo.jpg", "");
        assertThat(given.problems()).isEmpty();
        assertThat(given.notes())
                .containsExactly(
                        "reading.csv: This file is not known and not used. Did you mean \"readings.csv\"?",
                        "weather log.csv: This file is not known and not used.");
    }

    @Test
    void aFileThereTwiceInOtherLetterCase_isANote() {
        Assumptions.assumeFalse(Files.exists(folder.resolve("TRIAL.CSV")), "needs names that differ by case");
        given.with("Readings.csv", "");
        assertThat(given.notes())
                .containsExactly("Readings.csv: This file is not used, since \"readings.csv\" is there too.");
    }

    @Test
    void aFileWithoutPermission() {
        assertThat(folder.resolve("circles.csv").toFile().setReadable(false)).isTrue();
        Assumptions.assumeFalse(Files.isReadable(folder.resolve("circles.csv")), "this user may read everything");
        assertThat(given.messages())
                .containsExactly(
                        "circles.csv: found a file that cannot be opened; accepted: a readable CSV file. Ask its owner for permission to read it.");
    }

    @Test
    void aFolderWithoutPermission() {
        assertThat(folder.toFile().setReadable(false)).isTrue();
        Assumptions.assumeFalse(Files.isReadable(folder), "this user may read everything");
        assertThat(given.messages())
                .containsExactly(
                        folder.getFileName() + ": found a folder that cannot be opened; accepted: a folder with"
                                + " trial.csv, machines.csv, blades.csv, stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv."
                                + " Ask its owner for permission to read it.");
        assertThat(folder.toFile().setReadable(true)).isTrue();
    }

    @Test
    void otherEncodings() {
        given.with("circles.csv", "circle,machine,turn,drive,remark\nA1,Alder 22,left,2WD,trüb\n".getBytes(ISO_8859_1))
                .with("machines.csv", Given.MACHINES.getBytes(UTF_16))
                .with("claims.csv", new byte[] {'P', 'K', 3, 4, 0});
        assertThat(given.messages())
                .containsExactly(
                        "machines.csv: found text in UTF-16; " + UTF8,
                        "circles.csv, row 2: found a character that is not UTF-8; " + UTF8,
                        "claims.csv: found a spreadsheet workbook named .csv; " + UTF8);
    }

    @Test
    void aFileThatEndsInsideACharacter() {
        given.with("claims.csv", new byte[] {'c', 'l', 'a', 'i', 'm', '\n', (byte) 0xC3});
        assertThat(given.messages()).containsExactly("claims.csv, row 2: found a character that is not UTF-8; " + UTF8);
    }

    @Test
    void emptyFiles_andBlankFirstRows() {
        given.with("circles.csv", "").with("readings.csv", "\n" + Given.READINGS);
        assertThat(given.messages())
                .containsExactly(
                        "circles.csv: found an empty file; accepted: column names in row 1: circle, machine, turn, drive, order, laps, brakes, use, remark. Write the column names into row 1.",
                        "readings.csv, row 1: found a blank row; accepted: column names in row 1: circle, kind, value, second, third, bearing, measurer, remark. Delete the blank rows above the column names, or write the names.");
    }

    @Test
    void otherSeparators() {
        given.with("circles.csv", Given.CIRCLES.replace(',', ';'))
                .with("readings.csv", Given.READINGS.replace(',', '\t'));
        assertThat(given.messages())
                .containsExactly(
                        "circles.csv, row 1: found cells separated by semicolons; accepted: cells separated by commas. In the spreadsheet, save the file again as comma-separated CSV (UTF-8), with a point as the decimal sign.",
                        "readings.csv, row 1: found cells separated by tabs; accepted: cells separated by commas. In the spreadsheet, save the file again as comma-separated CSV (UTF-8), with a point as the decimal sign.");
    }

    @Test
    void missingAndRepeatedColumns() {
        given.with("readings.csv", "circle,vlaue,kind,Kind\nA1,1580,across,across\nB1,1,2,3\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 1: found the column \"kind\" twice; accepted: each column once. Delete or rename one of the two.",
                        "readings.csv, row 1: found no column \"value\"; accepted: the columns circle, kind and value, among others in any order. If the column \"vlaue\" is meant, rename it.",
                        "readings.csv, row 3, column \"kind\": read \"2\"; accepted: across, chord and rise or three stakes.");
        assertThat(given.notes())
                .containsExactly(
                        "readings.csv, row 1, column \"vlaue\": This column is not known; it is kept and not used. Did you mean \"value\"?");
    }

    @Test
    void unknownColumns_areNotes() {
        given.with("machines.csv", "machine,colour,whelbase,\nAlder 22,green,1450,x\nBirch 10,,,\n");
        assertThat(given.read()).isInstanceOf(TrialRead.Complete.class);
        assertThat(given.notes())
                .containsExactly(
                        "machines.csv, row 1: Column 4 has cells but no name; it is kept and not used.",
                        "machines.csv, row 1, column \"colour\": This column is not known; it is kept and not used.",
                        "machines.csv, row 1, column \"whelbase\": This column is not known; it is kept and not used. Did you mean \"wheelbase\"?");
    }

    @Test
    void aRowWithMoreCellsThanTheHeader_isOneProblem() {
        given.with("readings.csv", "circle,kind,value\nA1,across,1,58 m\nB1,across,1600,,\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2: found 4 cells; accepted: at most 3, one for each column in row 1. Put a text with a comma in double quotes, and write decimals with a point.");
    }

    @Test
    void brokenQuotes_nameTheRow_andTheRowsAboveAreStillChecked() {
        String broken =
                "found a double quote that opens a cell and does not close it; accepted: cells in double quotes that end with a double quote before the next comma. Write a double quote inside such a cell twice, as in \"62 3/8\"\"\". The rows below can be checked once this is mended.";
        given.with(
                "readings.csv", "circle,kind,value\nA1,across,1.58 km\nB1,across,\"62 3/8\" in\nB1,across,1.58 km\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"value\": read \"1.58 km\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in. The units are mm, cm, m, in and ft.",
                        "readings.csv, row 3: " + broken);
        given.with("readings.csv", Given.READINGS).with("machines.csv", "machine,label\nAlder 22,\"x\nBirch 10,y\n");
        // the circles of Birch 10 are no problem: its row is hidden, not missing
        assertThat(given.messages()).containsExactly("machines.csv, row 2: " + broken);
        given.with("machines.csv", "\"machine\nAlder 22\n");
        assertThat(given.messages()).containsExactly("machines.csv, row 1: " + broken);
    }

    @Test
    void filesWithoutRows() {
        given.with("machines.csv", "machine\n")
                .with("circles.csv", "circle,machine,turn,drive\n,,,\n")
                .with("readings.csv", "circle,kind,value\n");
        assertThat(given.messages())
                .containsExactly(
                        "machines.csv: found no machine yet; accepted: one row or more, a machine each. Fill in row 2 and those below.",
                        "circles.csv: found no circle yet; accepted: one row or more, a circle each. Fill in row 2 and those below.",
                        "readings.csv: found no reading yet; accepted: one row or more, a reading each, or points in points.csv. Fill in row 2 and those below.");
    }

    @Test
    void rowNumbers_areThoseOfTheSpreadsheet() {
        // a cell with a line break is one row, a blank row counts
        given.with("readings.csv", "circle,kind,value,remark\nA1,across,1580,\"two\nlines\"\n\nB1,across,x,\n");
        assertThat(given.problems()).extracting(Problem::row).containsExactly(4);
    }
}
