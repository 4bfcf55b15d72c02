package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What spreadsheets make of files: read where nothing is lost by it, and otherwise said in words a mend follows from. */
class SpreadsheetsTest {
    @TempDir
    Path folder;

    private Given given;

    @BeforeEach
    void soundFolder() {
        given = Given.soundFolder(folder);
    }

    private static Trial trial(Path path) {
        return TrialFolder.read(path).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(
                    faulty.problems().stream().map(Problem::message).toList());
        });
    }

    @Test
    void theDemo_throughASpreadsheetAndBack_isTheSameData() {
        Trial typed = trial(Path.of("testdata/demo"));
        Trial saved = trial(Path.of("testdata/spreadsheets/calc"));
        assertThat(DataCode.of(saved)).isEqualTo(DataCode.of(typed));
        assertThat(saved.machines()).isEqualTo(typed.machines());
        for (int i = 0; i < typed.circles().size(); i++) {
            assertThat(saved.circles().get(i).readings())
                    .extracting(Reading::tape)
                    .isEqualTo(typed.circles().get(i).readings().stream()
                            .map(Reading::tape)
                            .toList());
        }
    }

    // 03/08/2026 and 03:30:00 AM as LibreOffice Calc 7.4.7 saved "3/8" and "3:30"; the others as English and German
    // spreadsheets show days, from memory
    @ParameterizedTest
    @ValueSource(
            strings = {
                "03/08/2026",
                "8-Mar",
                "08-Mar",
                "8. Mar",
                "Mar-08",
                "3-Aug-26",
                "03.08.2026",
                "2026-03-08",
                "08 March 2026"
            })
    void aLengthThatBecameADate_isSaidToBeOne(String cell) {
        given.with("readings.csv", "circle,kind,value\nA1,across," + cell + "\nB1,across,1600\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"value\": read \"" + cell
                                + "\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in. A"
                                + " spreadsheet seems to have made a date of it: set the column to the format Text, and type it again.");
    }

    @ParameterizedTest
    @ValueSource(strings = {"#REF!", "#NAME?", "#VALUE!", "########", "Err:502", "=A1+B1", "1.58E+03 mm", "TRUE"})
    void whatAFormulaLeft_isNoLength(String cell) {
        given.with("readings.csv", "circle,kind,value\nA1,across," + cell + "\nB1,across,1600\n");
        assertThat(given.messages())
                .singleElement()
                .asString()
                .startsWith("readings.csv, row 2, column \"value\": read \"" + cell);
    }

    @Test
    void aBearingThatBecameATime_isRefused() {
        given.with("readings.csv", "circle,kind,value,bearing\nA1,across,1580,03:30:00 AM\nB1,across,1600,\n");
        assertThat(given.messages())
                .containsExactly(
                        "readings.csv, row 2, column \"bearing\": read \"03:30:00 AM\"; accepted: a clock position 1 to 12 or"
                                + " degrees such as 45°.");
    }

    @ParameterizedTest
    @CsvSource({"UTF-16,true", "UTF-16LE,true", "UTF-16BE,true", "UTF-8,false"})
    void unicodeText_isSaidToBeUtf16(String charset, boolean refused) {
        given.with("circles.csv", Given.CIRCLES.getBytes(Charset.forName(charset)));
        assertThat(given.messages())
                .isEqualTo(
                        refused
                                ? List.of(
                                        "circles.csv: found text in UTF-16; accepted: CSV text in UTF-8. In the spreadsheet, save the"
                                                + " file again as \"CSV UTF-8\".")
                                : List.of());
    }

    @Test
    void lineEndsAndMarks_ofAnySystem_changeNothing() {
        Trial plain = given.trial();
        for (String end : List.of("\n", "\r\n", "\r")) {
            for (String mark : List.of("", "\uFEFF")) {
                for (var file : List.of("trial.csv", "machines.csv", "circles.csv", "readings.csv")) {
                    given.with(
                            file,
                            mark
                                    + FolderTargets.content(folder.resolve(file))
                                            .replaceAll("^\uFEFF", "")
                                            .replaceAll("\r\n?|\n", end));
                }
                assertThat(given.trial()).isEqualTo(plain);
            }
        }
    }

    /** Another program that is writing, or was stopped: whatever of a file is there, it is read or said in words. */
    @ParameterizedTest
    @ValueSource(strings = {"trial.csv", "machines.csv", "circles.csv", "readings.csv"})
    void aFileCutOffAtAnyByte_isReadOrSaid_andNeverTouched(String name) throws IOException {
        given.with("circles.csv", Given.CIRCLES.replace("A1,", "\"Ä1 🚜\","))
                .with("readings.csv", Given.READINGS.replace("A1,", "\"Ä1 🚜\","));
        byte[] whole = Files.readAllBytes(folder.resolve(name));
        int read = 0;
        for (int length = 0; length < whole.length; length++) {
            byte[] part = Arrays.copyOf(whole, length);
            given.with(name, part);
            read += FolderTargets.understood(given.read(), new String(part, StandardCharsets.UTF_8)) ? 1 : 0;
            assertThat(Files.readAllBytes(folder.resolve(name))).isEqualTo(part);
        }
        assertThat(read).isLessThan(whole.length / 2);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "Ωμέγα λιβάδι",
                "مرج",
                "草地试验",
                "🚜🌱",
                "cafe\u0301",
                "café",
                "a \"b\" c",
                "-rf",
                ".hidden",
                "it's, a; name",
                "@home",
                "$(x)"
            })
    void foldersAndIds_ofAnyScript(String name) throws IOException {
        Path other = Files.createDirectory(folder.resolve(name));
        String id = name.replace("\"", "\"\"");
        Given there = Given.soundFolder(other)
                .with("machines.csv", "machine\n\"" + id + "\"\nBirch 10\n")
                .with(
                        "circles.csv",
                        "circle,machine,turn,drive\n\"" + id + "\",\"" + id + "\",left,2WD\nB1,Birch 10,right,4WD\n")
                .with("readings.csv", "circle,kind,value\n\"" + id + "\",across,1580\nB1,across,1600\n");
        assertThat(there.trial().machines().get(0).id()).isEqualTo(name);
        assertThat(TrialFolder.nameOf(other)).isEqualTo(name);
        TrialEditor editor = TrialEditor.of(other);
        assertThat(editor.append(
                        TrialFile.READINGS, java.util.Map.of("circle", name, "kind", "across", "value", "62 in")))
                .isInstanceOf(Outcome.Saved.class);
        assertThat(there.trial().circles().get(0).readings()).hasSize(2);
        // a name that begins with a point is one its owner hides
        assertThat(TrialFolders.below(folder).contains(other)).isEqualTo(!name.startsWith("."));
    }

    @Test
    void namesTwoHundredLettersLong_areRead() throws IOException {
        String name = "l".repeat(200);
        Path other = Files.createDirectory(folder.resolve(name));
        Given.soundFolder(other);
        assertThat(trial(other).folder()).isEqualTo(name);
        assertThat(Length.parse("76 1/2", LengthUnit.INCH)).isEqualTo(Length.parse("76.5", LengthUnit.INCH));
    }
}
