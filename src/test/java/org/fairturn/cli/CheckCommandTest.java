package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.fairturn.folder.ShownRow;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CheckCommandTest {
    @TempDir
    Path above;

    private Given given;

    @BeforeEach
    void soundFolder() {
        given = Given.soundFolder(above.resolve("meadow"));
    }

    private Ran check(String... more) {
        String[] arguments = new String[more.length + 2];
        arguments[0] = "check";
        arguments[1] = given.argument();
        System.arraycopy(more, 0, arguments, 2, more.length);
        return Ran.here(arguments);
    }

    @Test
    void nothingToMend_isOneLineThatSaysWhatWasFound() {
        assertThat(check())
                .isEqualTo(new Ran(
                        0,
                        "meadow: nothing to mend; 1 machine, 2 circles, 2 readings, 0 perimeter points, 0 claims.\n",
                        ""));
    }

    @Test
    void aFolderThatProgramsEnteredRowsInto_isATrialLikeAnyOther() {
        TrialEditor editor = TrialEditor.of(above.resolve("meadow"));
        for (String entry : List.of("e1", "e2")) {
            editor.append(TrialFile.READINGS, Map.of("circle", "A1", "kind", "across", "value", "1.6 m"), entry);
        }
        ShownRow last = editor.rows(TrialFile.READINGS).rows().get(3);
        editor.remove(TrialFile.READINGS, last.key(), last.seen());
        assertThat(above.resolve("meadow/removed.csv")).exists();
        assertThat(check().out())
                .isEqualTo(
                        "meadow: nothing to mend; 1 machine, 2 circles, 3 readings, 0 perimeter points, 0 claims.\n");
        assertThat(Ran.here(
                                "report",
                                given.argument(),
                                "--out",
                                above.resolve("out").toString())
                        .code())
                .isZero();
    }

    @Test
    void whatIsWorthKnowing_follows() {
        given.with("reading.csv", "").with("circles.csv", """
                        circle,machine,turn,drive,use,remark
                        A1,Alder 22,left,2WD,yes,
                        A2,Alder 22,left,2WD,no,came off full lock
                        """);
        assertThat(check()).isEqualTo(new Ran(0, """
                                meadow: nothing to mend; 1 machine, 2 circles (1 of them taken out), 2 readings, 0 perimeter points, 0 claims.
                                reading.csv: This file is not known and not used. Did you mean "readings.csv"?
                                circle A2: Taken out by use = no; listed, not analysed. Remark: came off full lock.
                                Alder 22, left, 2WD: Only one circle, A1: nothing here shows how much circles driven this way would scatter.
                                """, ""));
    }

    @Test
    void everyProblem_isAResult_withACaretBelowAnUnreadableLength() {
        given.with("readings.csv", "circle,kind,value\nA1,across,\"1,58m\"\nA2,acros,1590\nA3,across,-4\n");
        assertThat(check()).isEqualTo(new Ran(1, """
                                readings.csv, row 2, column "value": read "1,58m"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8" or 5 ft 2 in. If the comma is a decimal sign, write a point.
                                    1,58m
                                     ^
                                readings.csv, row 3, column "kind": read "acros"; accepted: across, chord and rise or three stakes. Did you mean "across"?
                                readings.csv, row 4, column "circle": read "A3"; accepted: a circle listed in circles.csv: A1, A2. List it there, or write the id as it stands there.
                                readings.csv, row 4, column "value": read "-4"; accepted: an uncut chord from 50 mm to 300 m. A number without a unit is read as mm here; write the unit with it if it is another.
                                """, "4 problems to mend in " + given.argument() + ".\n"));
    }

    @Test
    void whatACellHoldsOfControlCharacters_neitherBreaksLinesNorSteersTheTerminal() {
        given.with("readings.csv", "circle,kind,value\nA1,across,\"1580\u001b[31m\n\u202emm\"\n");
        String out = check().out();
        assertThat(out).doesNotContain("\u001b", "\u202e");
        assertThat(out.lines().skip(1).limit(1)).containsExactly("    1580\uFFFD[31m\uFFFD\uFFFDmm");
    }

    @Test
    void aVeryLongCell_isNotRepeatedInFull() {
        given.with("readings.csv", "circle,kind,value\nA1,across," + "9x".repeat(5000) + "\n");
        assertThat(check().out().length()).isLessThan(1000);
    }

    /** Bare inches in a trial whose unit is the millimetre: nothing used to be said, and verdicts came out of it. */
    @Test
    void bareNumbersInAnotherUnit_areAskedAbout() {
        given.with("readings.csv", "circle,kind,value\nA1,across,63 1/2\nA1,across,63\nA2,across,64\n");
        assertThat(check().code()).isZero();
        assertThat(check().out())
                .contains(
                        "readings.csv, rows 2–4: 3 readings, read in millimetres because no unit stands behind the numbers,"
                                + " make 83 mm (3.3 in); compact tractors mostly leave between 0.5 and 6 m. Were they inches,");
        assertThat(check("--json").out()).contains("\"wrongUnit\"");
    }

    @Test
    void json_listsProblemsAndNotes() throws IOException {
        given.with("readings.csv", "circle,kind,value\nA1,across,\"1,58m\"\nA2,across,1590\n")
                .with("log.csv", "");
        Ran ran = check("--json");
        assertThat(ran.code()).isEqualTo(1);
        JsonNode json = new ObjectMapper().readTree(ran.out());
        assertThat(json).isEqualTo(new ObjectMapper().readTree("""
                                        {"format": "1.0", "trial": {"folder": "meadow"},
                                         "errors": [{"file": "readings.csv", "row": 2, "column": "value", "message":
                                           "readings.csv, row 2, column \\"value\\": read \\"1,58m\\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\\" or 5 ft 2 in. If the comma is a decimal sign, write a point."}],
                                         "warnings": [{"code": "folder", "where": "log.csv", "message":
                                           "This file is not known and not used."}]}"""));
        assertThat(ran.err()).isEqualTo("1 problem to mend in " + given.argument() + ".\n");
    }

    @Test
    void json_ofASoundFolder_hasNoErrors_andTheWarningsOfTheAnalysis() throws IOException {
        Ran ran = Ran.here("check", Given.DEMO.toString(), "--json");
        assertThat(ran.code()).isZero();
        assertThat(ran.err()).isEmpty();
        JsonNode json = new ObjectMapper().readTree(ran.out());
        assertThat(json.get("trial").get("folder").asText()).isEqualTo("demo");
        assertThat(json.get("errors")).isEmpty();
        assertThat(json.get("warnings").findValuesAsText("code")).contains("excluded", "singleCircle");
    }

    @Test
    void aFolderThatIsNotThere_isAProblem() {
        Path gone = above.resolve("gone");
        assertThat(Ran.here("check", gone.toString()))
                .isEqualTo(new Ran(
                        1,
                        "gone: found no such folder; accepted: a folder with trial.csv, machines.csv, blades.csv,"
                                + " stops.csv, circles.csv, readings.csv, points.csv, claims.csv, references.csv. Check the path.\n",
                        "1 problem to mend in " + gone + ".\n"));
    }

    @Test
    void theFolder_isNotChanged() {
        var before = Given.everythingBelow(above);
        check();
        given.with("readings.csv", "circle\n");
        var broken = Given.everythingBelow(above);
        assertThat(check().code()).isEqualTo(1);
        assertThat(Given.everythingBelow(above)).isEqualTo(broken).isNotEqualTo(before);
    }
}
