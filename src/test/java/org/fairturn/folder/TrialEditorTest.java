package org.fairturn.folder;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TrialEditorTest {
    private static final Map<String, String> READING = Map.of("circle", "A1", "kind", "across", "value", "1.6 m");
    private static final Clock CLOCK = Clock.fixed(Instant.parse("2026-05-14T08:02:11.5Z"), ZoneOffset.ofHours(2));

    @TempDir
    Path folder;

    private Given given;
    private TrialEditor editor;

    @BeforeEach
    void soundFolder() {
        given = Given.soundFolder(folder);
        editor = new TrialEditor(folder, CLOCK, step -> {});
    }

    private String text(String file) throws IOException {
        return Files.readString(folder.resolve(file));
    }

    private static <T extends Outcome> T is(Class<T> type, Outcome outcome) {
        assertThat(outcome).isInstanceOf(type);
        return type.cast(outcome);
    }

    private static ShownRow saved(Outcome outcome) {
        return is(Outcome.Saved.class, outcome).row();
    }

    private static ShownRow alreadyThere(Outcome outcome, boolean removed) {
        Outcome.AlreadyThere there = is(Outcome.AlreadyThere.class, outcome);
        assertThat(there.removed()).isEqualTo(removed);
        return there.row();
    }

    private static List<String> refused(Outcome outcome) {
        return is(Outcome.Refused.class, outcome).problems().stream()
                .map(Problem::message)
                .toList();
    }

    private static Optional<ShownRow> changedMeanwhile(Outcome outcome) {
        return is(Outcome.ChangedMeanwhile.class, outcome).now();
    }

    private ShownRow row(TrialFile file, int number) {
        return editor.rows(file).rows().stream()
                .filter(row -> row.number() == number)
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aRow_isAddedAtTheEnd_andReadBack() throws IOException {
        ShownRow row = saved(editor.append(TrialFile.READINGS, READING));
        assertThat(text("readings.csv")).isEqualTo(Given.READINGS + "A1,across,1.6 m\n");
        assertThat(row.number()).isEqualTo(4);
        assertThat(row.cells()).isEqualTo(READING);
        assertThat(editor.rows(TrialFile.READINGS).rows()).contains(row);
        assertThat(given.trial().circles().get(0).readings()).hasSize(2);
    }

    @Test
    void whatWasTyped_staysAsItWas_byteForByte() throws IOException {
        String odd = "\uFEFF\"Kind\",colour, circle ,value,\"second\"\r\nacross,\"green\" ,A1,\"62 3/8\"\"\"\r\n"
                + ",,,,,\r\n\r\nacross,=1+1,B1,1600,,,\r\n# laid by, two,,";
        given.with("readings.csv", odd);
        saved(editor.append(TrialFile.READINGS, READING));
        assertThat(text("readings.csv")).isEqualTo(odd + "\r\nacross,,A1,1.6 m,\r\n");
        saved(editor.change(
                TrialFile.READINGS,
                row(TrialFile.READINGS, 2).key(),
                Map.of("value", "1590"),
                row(TrialFile.READINGS, 2).seen()));
        assertThat(text("readings.csv")).isEqualTo(odd.replace("\"62 3/8\"\"\"", "1590") + "\r\nacross,,A1,1.6 m,\r\n");
        saved(editor.remove(
                TrialFile.READINGS,
                row(TrialFile.READINGS, 7).key(),
                row(TrialFile.READINGS, 7).seen()));
        assertThat(text("readings.csv")).isEqualTo(odd.replace("\"62 3/8\"\"\"", "1590") + "\r\n");
    }

    @Test
    void missingColumns_areAddedBehindTheLast() throws IOException {
        saved(editor.append(
                TrialFile.READINGS,
                Map.of("circle", "A1", "kind", "across", "value", "1.6 m", "Bearing", "12", "remark", " ")));
        assertThat(text("readings.csv"))
                .isEqualTo("circle,kind,value,bearing\nA1,across,1580\nB1,across,62 3/8 in\nA1,across,1.6 m,12\n");
        saved(editor.change(
                TrialFile.READINGS,
                row(TrialFile.READINGS, 2).key(),
                Map.of("remark", "long grass, wet"),
                row(TrialFile.READINGS, 2).seen()));
        assertThat(text("readings.csv")).isEqualTo("""
                        circle,kind,value,bearing,remark
                        A1,across,1580,,"long grass, wet"
                        B1,across,62 3/8 in
                        A1,across,1.6 m,12
                        """);
        given.trial();
    }

    @Test
    void aColumnThatWouldNameACellThatHasNone_isNotAdded() {
        given.with("readings.csv", "circle,kind,value\nA1,across,1,58\nB1,across,1600\n");
        assertThat(refused(editor.append(TrialFile.READINGS, READING, "e1")))
                .containsExactly(
                        "readings.csv, row 2: found 4 cells; accepted: at most 3, one for each column in row 1. Put a text with a comma in double quotes, and write decimals with a point.");
        saved(editor.append(TrialFile.READINGS, READING)); // which needs no column more
    }

    @Test
    void aFileThatIsMissingOrEmpty_isMade() throws IOException {
        given.without("readings.csv").with("points.csv", "");
        saved(editor.append(TrialFile.READINGS, READING, "e1"));
        assertThat(text("readings.csv"))
                .isEqualTo(
                        "circle,kind,value,second,third,bearing,measurer,remark,entry\r\nA1,across,1.6 m,,,,,,e1\r\n");
        saved(editor.append(TrialFile.POINTS, Map.of("circle", "B1", "x", "0", "y", "1 m")));
        assertThat(text("points.csv")).isEqualTo("circle,x,y\r\nB1,0,1 m\r\n");
    }

    @Test
    void theSameEntry_isSavedOnce() throws IOException {
        ShownRow first = saved(editor.append(TrialFile.READINGS, READING, "e1"));
        String before = text("readings.csv");
        assertThat(before)
                .isEqualTo("circle,kind,value,entry\nA1,across,1580\nB1,across,62 3/8 in\nA1,across,1.6 m,e1\n");
        assertThat(alreadyThere(editor.append(TrialFile.READINGS, READING, " e1"), false))
                .isEqualTo(first);
        assertThat(text("readings.csv")).isEqualTo(before);
        saved(editor.append(TrialFile.READINGS, READING, "e2"));
        assertThat(given.notes()).isEmpty();
        given.trial();
    }

    @Test
    void anEntryThatWasTakenOut_doesNotComeBack() throws IOException {
        ShownRow row = saved(editor.append(TrialFile.READINGS, READING, "e1"));
        String before = text("readings.csv");
        assertThat(saved(editor.remove(TrialFile.READINGS, ShownRow.Key.entry("e1"), row.seen())))
                .isEqualTo(row);
        assertThat(text("readings.csv")).isEqualTo(before.replace("A1,across,1.6 m,e1\n", ""));
        assertThat(text("removed.csv"))
                .isEqualTo(String.join(
                        "\r\n",
                        "when,file,entry,circle,kind,value",
                        "2026-05-14T10:02:11+02:00,readings.csv,e1,A1,across,1.6 m",
                        ""));
        assertThat(alreadyThere(editor.append(TrialFile.READINGS, READING, "e1"), true)
                        .cells())
                .containsAllEntriesOf(READING);
        assertThat(alreadyThere(editor.remove(TrialFile.READINGS, row.key(), row.seen()), true)
                        .cells())
                .containsAllEntriesOf(READING);
        assertThat(text("readings.csv")).doesNotContain("e1");
        assertThat(given.notes()).isEmpty();
        // the id is taken in this file only
        saved(editor.append(
                TrialFile.CIRCLES, Map.of("circle", "C", "machine", "Alder 22", "turn", "left", "drive", "2WD"), "e1"));
    }

    @Test
    void aRemovalThatACrashCutShort_isFinishedWhenItIsSentAgain() throws IOException {
        ShownRow row = saved(editor.append(TrialFile.READINGS, READING, "e1"));
        String before = text("readings.csv");
        saved(editor.remove(TrialFile.READINGS, row.key(), row.seen()));
        String kept = text("removed.csv");
        given.with("readings.csv", before); // as a crash between the two writes leaves it
        alreadyThere(editor.append(TrialFile.READINGS, READING, "e1"), false);
        saved(editor.remove(TrialFile.READINGS, row.key(), row.seen()));
        assertThat(text("removed.csv")).isEqualTo(kept);
        assertThat(text("readings.csv")).doesNotContain("e1");
    }

    @Test
    void removedRows_keepEveryCell_ofWhateverFile() throws IOException {
        given.with(
                "readings.csv",
                "circle,when,kind,value,,\"kind \"\nA1,dusk,across,\"62 3/8\"\"\",=x,twice\nB1,,across,1600,,\n");
        saved(editor.remove(
                TrialFile.READINGS,
                row(TrialFile.READINGS, 2).key(),
                row(TrialFile.READINGS, 2).seen()));
        given.with("claims.csv", "claim,value,quantity,who\n1,1.5 m,uncut diameter,\"a, b\"\n");
        saved(editor.remove(
                TrialFile.CLAIMS,
                new ShownRow.Key("claim 1"),
                row(TrialFile.CLAIMS, 2).seen()));
        assertThat(text("removed.csv"))
                .isEqualTo(String.join(
                        "\r\n",
                        "when,file,entry,circle,when of the row,kind,value,cell 5,cell 6,claim,quantity,who",
                        "2026-05-14T10:02:11+02:00,readings.csv,,A1,dusk,across,\"62 3/8\"\"\",=x,twice",
                        "2026-05-14T10:02:11+02:00,claims.csv,,,,,1.5 m,,,1,uncut diameter,\"a, b\"",
                        ""));
    }

    @Test
    void removedRowsThatCannotBeRead_letNothingComeBack() {
        given.with("removed.csv", "when;file;entry\n2026;readings.csv;e1\n");
        assertThat(refused(editor.append(TrialFile.READINGS, READING, "e1")))
                .containsExactly(
                        "removed.csv, row 1: found no columns when, file, entry; accepted: the columns when, file, entry, among others, separated by commas. Without them a row that was taken out could come back. Save the file as comma-separated CSV (UTF-8), or move it elsewhere.");
        saved(editor.append(TrialFile.READINGS, READING));
    }

    @Test
    void anEdit_isRefusedForTheProblemsItBringsIn() throws IOException {
        assertThat(refused(
                        editor.append(TrialFile.READINGS, Map.of("circle", "Z9", "kind", "across", "value", "1,58m"))))
                .containsExactly(
                        "readings.csv, row 4, column \"circle\": read \"Z9\"; accepted: a circle listed in circles.csv: A1, B1. List it there, or write the id as it stands there.",
                        "readings.csv, row 4, column \"value\": read \"1,58m\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in. If the comma is a decimal sign, write a point.");
        assertThat(refused(editor.append(
                        TrialFile.CIRCLES,
                        Map.of("circle", "A1", "machine", "Alder 22", "turn", "left", "drive", "2WD"))))
                .containsExactly(
                        "circles.csv, row 4, column \"circle\": read \"A1\"; accepted: an id that no other row has; row 2 has this one already. Give one of the two another id, or delete the row that is there twice.");
        // rows that refer to the one changed
        ShownRow circle = row(TrialFile.CIRCLES, 2);
        String orphan =
                "readings.csv, row 2, column \"circle\": read \"A1\"; accepted: a circle listed in circles.csv: ";
        assertThat(refused(editor.change(TrialFile.CIRCLES, circle.key(), Map.of("circle", "A7"), circle.seen())))
                .containsExactly(orphan + "A7, B1. List it there, or write the id as it stands there.");
        assertThat(refused(editor.remove(TrialFile.CIRCLES, circle.key(), circle.seen())))
                .containsExactly(orphan + "B1. Did you mean \"B1\"?");
        assertThat(text("circles.csv")).isEqualTo(Given.CIRCLES);
        assertThat(text("readings.csv")).isEqualTo(Given.READINGS);
        assertThat(folder.resolve("removed.csv")).doesNotExist();
    }

    @Test
    void problemsElsewhere_blockNobody() {
        given.with("readings.csv", "circle,kind,value\nA1,across,1,58m\nZ9,acros,9 km\nB1,across,1600\n")
                .with("trial.csv", "field,value\nlength unit,mm\n")
                .with("machines.csv", "machine,wheelbase\nAlder 22,wide\nBirch 10,\n");
        int before = given.problems().size();
        saved(editor.append(TrialFile.READINGS, READING));
        ShownRow faulty = row(TrialFile.READINGS, 3);
        saved(editor.change(TrialFile.READINGS, faulty.key(), Map.of("value", "1.6 m"), faulty.seen()));
        ShownRow above = row(TrialFile.READINGS, 2);
        saved(editor.remove(TrialFile.READINGS, above.key(), above.seen()));
        assertThat(given.problems()).hasSize(before - 2);
    }

    @Test
    void whatIsOnlyMissingYet_blocksNobody() {
        TrialFolder.create(folder.resolve("new"));
        TrialEditor fresh = TrialEditor.of(folder.resolve("new"));
        saved(fresh.append(TrialFile.MACHINES, Map.of("machine", "Alder 22")));
        saved(fresh.append(TrialFile.READINGS, READING)); // its circle comes later
        saved(fresh.append(
                TrialFile.CIRCLES, Map.of("circle", "B", "machine", "Alder 22", "turn", "left", "drive", "2WD")));
        saved(fresh.append(
                TrialFile.CIRCLES, Map.of("circle", "A1", "machine", "Alder 22", "turn", "left", "drive", "2WD")));
        for (int x = 0; x < 3; x++) { // the first two points do not make a circle yet
            saved(fresh.append(TrialFile.POINTS, Map.of("circle", "B", "x", x + " m", "y", x * x + " m")));
        }
        for (ShownRow field : fresh.rows(TrialFile.TRIAL).rows().subList(0, 2)) {
            saved(fresh.change(
                    TrialFile.TRIAL,
                    field.key(),
                    Map.of("value", field.cells().get("field").equals("date") ? "2026-05-14" : "Meadow"),
                    field.seen()));
        }
        assertThat(fresh.read()).isInstanceOf(TrialRead.Complete.class);
    }

    @Test
    void aTextThatASpreadsheetTakesForAFormula_isKept() throws IOException {
        saved(editor.append(
                TrialFile.READINGS,
                Map.of(
                        "circle",
                        "A1",
                        "kind",
                        "across",
                        "value",
                        "1.6 m",
                        "remark",
                        "=HYPERLINK(\"x\")",
                        "measurer",
                        " @M1 ")));
        assertThat(text("readings.csv")).contains("\"=HYPERLINK(\"\"x\"\")\"");
        assertThat(row(TrialFile.READINGS, 4).cells())
                .containsEntry("remark", "=HYPERLINK(\"x\")")
                .containsEntry("measurer", " @M1 ");
    }

    @Test
    void lineEndsAndControlCharacters_areRefused() throws IOException {
        assertThat(refused(editor.append(
                        TrialFile.READINGS,
                        Map.of("circle", "A1", "kind", "across", "value", "1.6 m", "remark", "wet\nlong"))))
                .containsExactly(
                        "readings.csv, row 4, column \"remark\": read \"wet\uFFFDlong\"; accepted: a text in one line, without control characters. Write a blank where the line breaks.");
        for (String unfit : List.of("\r", "\t", "\0", "\u2028", "\uD83D")) {
            ShownRow row = row(TrialFile.READINGS, 2);
            assertThat(refused(editor.change(TrialFile.READINGS, row.key(), Map.of("remark", "a" + unfit), row.seen())))
                    .singleElement()
                    .asString()
                    .contains("read \"a\uFFFD\"");
        }
        assertThat(text("readings.csv")).isEqualTo(Given.READINGS);
    }

    @Test
    void rowsWithNothingInThem_columnsNobodyKnows_andBlankIds_areRefused() {
        assertThat(refused(editor.append(TrialFile.READINGS, Map.of("circle", " "))))
                .containsExactly(
                        "readings.csv, row 4: found a row with nothing in it; accepted: at least one cell filled in. Fill in the row and save again.");
        assertThat(refused(editor.append(TrialFile.POINTS, Map.of("height", "1"))))
                .containsExactly(
                        "points.csv, row 1: found no column \"height\"; accepted: a column that is there, or one of circle, x, y, entry. Somebody may have renamed or deleted it: load the page again.");
        assertThat(refused(editor.append(TrialFile.READINGS, READING, " ")))
                .containsExactly(
                        "readings.csv, row 4, column \"entry\": read an empty cell; accepted: an id that no other row has. Load the page again.");
        ShownRow row = row(TrialFile.READINGS, 2);
        assertThat(refused(editor.change(
                        TrialFile.READINGS, row.key(), Map.of("circle", "", "kind", "", "value", ""), row.seen())))
                .containsExactly(
                        "readings.csv, row 2: found a row with nothing in it; accepted: at least one cell filled in. Take the row out instead.");
        assertThat(refused(editor.change(TrialFile.READINGS, row.key(), Map.of("entry", "e9"), row.seen())))
                .containsExactly(
                        "readings.csv, row 2, column \"entry\": read \"e9\"; accepted: an empty cell, since the row was typed without an id. Leave this cell as it is.");
        assertThatThrownBy(() -> editor.append(TrialFile.MACHINES, Map.of("machine", "Cedar 30"), "e1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("file is MACHINES; must have the column entry");
    }

    @Test
    void aRowThatSomebodyElseChanged_isShownAsItIs() {
        ShownRow shown = row(TrialFile.CIRCLES, 2);
        given.with("circles.csv", Given.CIRCLES.replace("A1,Alder 22,left", "A1,Alder 22,right"));
        assertThat(changedMeanwhile(
                        editor.change(TrialFile.CIRCLES, shown.key(), Map.of("drive", "4WD"), shown.seen())))
                .hasValueSatisfying(now -> assertThat(now.cells()).containsEntry("turn", "right"));
        assertThat(changedMeanwhile(editor.remove(TrialFile.CIRCLES, shown.key(), shown.seen())))
                .isPresent();
        // who wants what is there already has no quarrel
        alreadyThere(editor.change(TrialFile.CIRCLES, shown.key(), Map.of("turn", "right"), shown.seen()), false);
        given.with("circles.csv", "circle,machine,turn,drive\nB1,Birch 10,right,4WD\n");
        assertThat(changedMeanwhile(
                        editor.change(TrialFile.CIRCLES, shown.key(), Map.of("drive", "4WD"), shown.seen())))
                .isEmpty();
    }

    @Test
    void aRowThatMoved_orWasWrittenOtherwise_isFound() throws IOException {
        ShownRow shown = row(TrialFile.READINGS, 2);
        given.with(
                "readings.csv", "value,circle,note,kind\r\n1600,B1,,across\r\n,,,\r\n\"1580\",\"A1\",,\"across\"\r\n");
        saved(editor.change(TrialFile.READINGS, shown.key(), Map.of("value", "1581"), shown.seen()));
        assertThat(text("readings.csv"))
                .isEqualTo("value,circle,note,kind\r\n1600,B1,,across\r\n,,,\r\n1581,\"A1\",,\"across\"\r\n");
    }

    @Test
    void keys_tellRowsApart() {
        given.with(
                        "readings.csv",
                        "circle,kind,value,entry\nA1,across,1580,e1\nA1,across,1580,e1\nB1,across,1600,e2\nB1,across,1600,\n")
                .with("claims.csv", "claim,value,quantity\n1,1.5 m,uncut diameter\n,,uncut diameter\n");
        assertThat(editor.rows(TrialFile.READINGS).rows())
                .extracting(row -> row.key().text())
                .containsExactly("row 2", "row 3", "entry e2", "row 5");
        assertThat(editor.rows(TrialFile.CLAIMS).rows())
                .extracting(row -> row.key().text())
                .containsExactly("claim 1", "row 3");
        given.without("claims.csv");
        assertThat(editor.rows(TrialFile.TRIAL).rows())
                .extracting(row -> row.key().text())
                .containsExactly("field title", "field date", "field length unit");
        assertThat(given.notes())
                .containsExactly(
                        "readings.csv, row 3, column \"entry\": Row 2 has this entry id too. Both rows count; if one is a copy made by mistake, delete it.");
        assertThat(given.trial().circles().get(0).readings()).hasSize(2);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 4, 9})
    void anOutsideEditDuringOurs_isKept_andOursFollows(int times) throws IOException {
        AtomicInteger left = new AtomicInteger(times);
        TrialEditor disturbed = disturbed(left);
        saved(disturbed.append(TrialFile.READINGS, READING, "e1"));
        assertThat(text("readings.csv"))
                .isEqualTo("circle,kind,value,entry\nB1,across," + (1600 + times) + "\nA1,across,1.6 m,e1\n");
        left.set(times);
        ShownRow row = row(TrialFile.READINGS, 3);
        given.with("readings.csv", text("readings.csv"));
        // the other program took the same row out; it is kept all the same
        alreadyThere(disturbed.remove(TrialFile.READINGS, row.key(), row.seen()), true);
        assertThat(text("removed.csv")).containsOnlyOnce("readings.csv,e1,A1,across,1.6 m");
    }

    /** An editor during whose writes another program saves the readings, the given number of times. */
    private TrialEditor disturbed(AtomicInteger left) {
        int times = left.get();
        return new TrialEditor(folder, CLOCK, step -> {
            if (step == AtomicFile.Step.FORCED && left.getAndDecrement() > 0) {
                given.with("readings.csv", "circle,kind,value\nB1,across," + (1600 + times - left.get()) + "\n");
            }
        });
    }

    @Test
    void anOutsideThatNeverRests_isSaidSo() throws IOException {
        assertThat(refused(disturbed(new AtomicInteger(1000)).append(TrialFile.READINGS, READING, "e1")))
                .containsExactly(
                        "readings.csv: found a file that another program keeps writing to; accepted: a file that is left alone for a moment. Nothing was changed. Save and close the file in the other program, then save here again.");
        assertThat(text("readings.csv")).doesNotContain("e1");
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files.map(file -> file.getFileName().toString())).noneMatch(name -> name.endsWith(".tmp"));
        }
    }

    @Test
    void aFileThatAppearsMeanwhile_isNotOverwritten() throws IOException {
        given.without("readings.csv").with("points.csv", "circle,x,y\n");
        AtomicInteger left = new AtomicInteger(1);
        saved(disturbed(left).append(TrialFile.READINGS, READING));
        assertThat(text("readings.csv")).isEqualTo("circle,kind,value\nB1,across,1601\nA1,across,1.6 m\n");
    }

    @Test
    void filesThatCannotBeReadToTheirEnd_areLeftAlone() throws IOException {
        for (byte[] broken : List.of(
                "circle,kind,value\nA1,\"across,1580\n".getBytes(UTF_8),
                "circle,kind,value\nA1,across,1580é\n".getBytes(StandardCharsets.ISO_8859_1),
                "circle;kind;value\nA1;across;1580\n".getBytes(UTF_8),
                "\n\ncircle,kind,value\n".getBytes(UTF_8))) {
            given.with("readings.csv", broken);
            assertThat(refused(editor.append(TrialFile.READINGS, READING))).hasSize(1);
            assertThat(Files.readAllBytes(folder.resolve("readings.csv"))).isEqualTo(broken);
            assertThat(editor.rows(TrialFile.READINGS).problems()).hasSize(1);
        }
        given.with("circles.csv", "circle,\"broken\n"); // elsewhere it does not matter
        given.with("readings.csv", Given.READINGS);
        saved(editor.append(TrialFile.READINGS, READING));
    }

    @Test
    void aFolderThatIsGone_orCannotBeWritten_isSaidInWords() throws IOException {
        Path gone = folder.resolve("gone");
        assertThat(refused(TrialEditor.of(gone).append(TrialFile.READINGS, READING)))
                .singleElement()
                .asString()
                .startsWith("gone: found no such folder; accepted: a folder with trial.csv");
        assertThat(gone).doesNotExist();
        assertThat(TrialEditor.of(gone).rows(TrialFile.READINGS).problems()).hasSize(1);
        TrialEditor failing = new TrialEditor(folder, CLOCK, step -> {
            throw new UncheckedIOException(new IOException("No space left on device"));
        });
        String said =
                "readings.csv: found no way to write it; accepted: a file and a folder you may write to, with room on the disk. The file is as it was. Where a spreadsheet has it open, close it there; then save again.";
        assertThat(refused(failing.append(TrialFile.READINGS, READING))).containsExactly(said);
        assertThat(text("readings.csv")).isEqualTo(Given.READINGS);
        given.without("readings.csv");
        Files.createDirectory(folder.resolve("readings.csv"));
        assertThat(refused(editor.append(TrialFile.READINGS, READING)))
                .containsExactly(
                        "readings.csv: found a folder of that name; accepted: a CSV file. Move or rename the folder.");
        Files.delete(folder.resolve(FolderLock.FILE));
        Files.createDirectory(folder.resolve(FolderLock.FILE));
        assertThat(refused(editor.append(TrialFile.READINGS, READING)))
                .containsExactly(
                        ".fairturn.lock: found no way to write it; accepted: a file and a folder you may write to, with room on the disk. What the file held before is untouched; mend this and save again.");
    }

    @Test
    void theLockFile_isNoPartOfTheTrial() {
        saved(editor.append(TrialFile.READINGS, READING));
        assertThat(folder.resolve(FolderLock.FILE)).exists();
        String version = editor.version();
        given.with(FolderLock.FILE, "1").with("removed.csv", "when,file,entry\n");
        assertThat(given.notes()).isEmpty();
        given.trial();
        assertThat(editor.version()).isNotEqualTo(version);
        given.without("removed.csv");
        assertThat(editor.version()).isEqualTo(version);
    }

    @Test
    void whoWaitsTooLong_isToldWhoWrites() {
        Problems problems = new Problems();
        FolderLock held = FolderLock.take(folder, problems).orElseThrow();
        List<String> said = new ArrayList<>();
        Thread other = new Thread(() -> {
            Problems theirs = new Problems();
            assertThat(FolderLock.take(folder, Duration.ofMillis(50), theirs)).isEmpty();
            theirs.problems().forEach(problem -> said.add(problem.message()));
        });
        other.start();
        try {
            other.join();
        } catch (InterruptedException stopped) {
            throw new AssertionError(stopped);
        }
        held.close();
        assertThat(said)
                .containsExactly(
                        ".fairturn.lock: found a folder that the program with process number "
                                + ProcessHandle.current().pid()
                                + " is writing to; accepted: one edit at a time. Nothing was changed. Save again in a moment; if that does not help, end the other Fairturn that has this folder open.");
        FolderLock.take(folder, Duration.ZERO, problems).orElseThrow().close();
    }

    @ParameterizedTest
    @CsvSource({"Readings.CSV", "READINGS.csv"})
    void aFileInOtherLetterCase_isTheFile(String name) throws IOException {
        Files.move(folder.resolve("readings.csv"), folder.resolve(name));
        saved(editor.append(TrialFile.READINGS, READING));
        assertThat(text(name)).isEqualTo(Given.READINGS + "A1,across,1.6 m\n");
    }

    @Test
    void severalRows_areAddedInOneStep_orNone() throws IOException {
        List<AtomicFile.Step> steps = new ArrayList<>();
        TrialEditor counting = new TrialEditor(folder, CLOCK, steps::add);
        Outcome outcome =
                counting.append(TrialFile.CIRCLES, there -> List.of(circle("C1", there), circle("C2", there)));
        assertThat(is(Outcome.Saved.class, outcome).rows())
                .extracting(row -> row.cell("circle"))
                .containsExactly("C1", "C2");
        assertThat(steps).containsOnlyOnce(AtomicFile.Step.RENAMED);
        assertThat(text("circles.csv")).isEqualTo("""
                        circle,machine,turn,drive,order
                        A1,Alder 22,left,2WD
                        B1,Birch 10,right,4WD
                        C1,Birch 10,right,4WD,2
                        C2,Birch 10,right,4WD,2
                        """);
        String before = text("circles.csv");
        assertThat(refused(
                        editor.append(TrialFile.CIRCLES, there -> List.of(circle("C3", there), circle("C1", there)))))
                .singleElement()
                .asString()
                .startsWith("circles.csv, row 7, column \"circle\": read \"C1\"");
        assertThat(text("circles.csv")).isEqualTo(before);
        assertThat(is(Outcome.Saved.class, editor.append(TrialFile.CIRCLES, there -> List.of()))
                        .rows())
                .isEmpty();
    }

    private static Map<String, String> circle(String id, TrialEditor.Rows there) {
        return Map.of(
                "circle", id,
                "machine", "Birch 10",
                "turn", "right",
                "drive", "4WD",
                "order", Integer.toString(there.rows().size()));
    }

    @Test
    void aMachineRenamed_isRenamedWhereverItIsNamed() throws IOException {
        given.with("stops.csv", "side,machine,found\nleft, Alder 22 ,30\nright,Alder 22,\"30\"\nleft,Birch 10,28\n");
        ShownRow alder = row(TrialFile.MACHINES, 2);
        assertThat(saved(editor.renameMachine(alder.key(), " Alder 23", alder.seen()))
                        .cell("machine"))
                .isEqualTo("Alder 23");
        assertThat(text("machines.csv")).isEqualTo("machine\nAlder 23\nBirch 10\n");
        assertThat(text("circles.csv")).isEqualTo(Given.CIRCLES.replace("Alder 22", "Alder 23"));
        assertThat(text("stops.csv"))
                .isEqualTo("side,machine,found\nleft,Alder 23,30\nright,Alder 23,\"30\"\nleft,Birch 10,28\n");
        given.trial();
        changedMeanwhile(editor.renameMachine(alder.key(), "Alder 24", alder.seen()));
        ShownRow birch = row(TrialFile.MACHINES, 3);
        assertThat(refused(editor.renameMachine(birch.key(), "Alder 23", birch.seen())))
                .anyMatch(message -> message.startsWith("machines.csv, row 3, column \"machine\": read \"Alder 23\""));
        assertThat(refused(editor.renameMachine(birch.key(), "", birch.seen()))).isNotEmpty();
        assertThat(text("machines.csv")).isEqualTo("machine\nAlder 23\nBirch 10\n");
    }

    /** Once it was said of every file that names machines, each time with the row of machines.csv. */
    @Test
    void anIdThatFitsNoCell_isRefusedWhereItWouldStand() {
        ShownRow alder = row(TrialFile.MACHINES, 2);
        assertThat(refused(editor.renameMachine(alder.key(), "Alder\n23", alder.seen())))
                .containsExactly(
                        "machines.csv, row 2, column \"machine\": read \"Alder\uFFFD23\"; accepted: a text in one line,"
                                + " without control characters. Write a blank where the line breaks.");
    }

    @Test
    void aRenameCutShort_isMendedByRenamingAgain() throws IOException {
        ShownRow alder = row(TrialFile.MACHINES, 2);
        AtomicInteger writes = new AtomicInteger();
        TrialEditor failing = new TrialEditor(folder, CLOCK, step -> {
            if (step == AtomicFile.Step.WRITTEN && writes.incrementAndGet() == 2) {
                throw new UncheckedIOException(new IOException("No space left on device"));
            }
        });
        assertThat(refused(failing.renameMachine(alder.key(), "Alder 23", alder.seen())))
                .hasSize(1);
        assertThat(text("circles.csv")).contains("Alder 23");
        assertThat(text("machines.csv")).isEqualTo(Given.MACHINES);
        saved(editor.renameMachine(alder.key(), "Alder 23", alder.seen()));
        assertThat(text("machines.csv")).isEqualTo("machine\nAlder 23\nBirch 10\n");
        given.trial();
    }

    @Test
    void aRenameWhoseFilesAreWrittenMeanwhile_leavesNoRowUnderTheOldName() throws IOException {
        AtomicInteger writes = new AtomicInteger();
        TrialEditor disturbed = new TrialEditor(folder, CLOCK, step -> {
            if (step == AtomicFile.Step.FORCED && writes.incrementAndGet() == 2) { // circles.csv is renamed already
                given.with("circles.csv", Given.CIRCLES).with("machines.csv", Given.MACHINES + "Cedar 30\n");
            }
        });
        ShownRow alder = row(TrialFile.MACHINES, 2);
        saved(disturbed.renameMachine(alder.key(), "Alder 23", alder.seen()));
        assertThat(text("circles.csv")).isEqualTo(Given.CIRCLES.replace("Alder 22", "Alder 23"));
        assertThat(text("machines.csv")).isEqualTo("machine\nAlder 23\nBirch 10\nCedar 30\n");
    }

    @Test
    void whatTheDiskDoesNotConfirm_isThere_andIsSaidToBeUnconfirmed_untilTheDiskDoes() throws IOException {
        TrialEditor unsure = new TrialEditor(folder, CLOCK, step -> {
            if (step == AtomicFile.Step.RENAMED) {
                throw new UncheckedIOException(new IOException("Input/output error"));
            }
        });
        Outcome.Unconfirmed outcome = is(Outcome.Unconfirmed.class, unsure.append(TrialFile.READINGS, READING, "e1"));
        assertThat(outcome.problem().message())
                .isEqualTo(
                        "readings.csv: found a disk that does not confirm what was written; accepted: a disk that keeps what it is given. It is in the file now, but could be lost if the power failed. See whether the disk is full or failing; then save again.");
        assertThat(text("readings.csv")).contains("1.6 m,e1");
        assertThat(alreadyThere(editor.append(TrialFile.READINGS, READING, "e1"), false)
                        .seen())
                .isEqualTo(outcome.row().seen());
        assertThat(text("readings.csv")).containsOnlyOnce("e1");
        // a row that could not be kept for certain is not taken out
        ShownRow row = outcome.row();
        assertThat(refused(unsure.remove(TrialFile.READINGS, row.key(), row.seen())))
                .singleElement()
                .asString()
                .startsWith("removed.csv: found a disk that does not confirm");
        assertThat(text("readings.csv")).contains("e1");
        saved(editor.remove(TrialFile.READINGS, row.key(), row.seen()));
        assertThat(text("removed.csv")).containsOnlyOnce("e1");
    }

    @Test
    void editsThatWaitTogether_areWrittenTogether_andEachIsToldItsOwn() throws Exception {
        List<AtomicFile.Step> steps = Collections.synchronizedList(new ArrayList<>());
        TrialEditor counting = new TrialEditor(folder, CLOCK, steps::add);
        ExecutorService threads = Executors.newFixedThreadPool(8);
        List<Future<Outcome>> outcomes = new ArrayList<>();
        FolderLock held = FolderLock.take(folder, new Problems()).orElseThrow();
        try {
            for (int i = 0; i < 6; i++) {
                String entry = "e" + i % 5; // the last is the first sent again
                outcomes.add(threads.submit(() -> counting.append(TrialFile.READINGS, READING, entry)));
            }
            outcomes.add(threads.submit(() -> counting.append(
                    TrialFile.READINGS, Map.of("circle", "A1", "kind", "across", "value", "1,6m"), "e6")));
            Thread.sleep(300);
        } finally {
            held.close();
        }
        int alreadyThere = 0;
        for (Future<Outcome> outcome : outcomes.subList(0, 6)) {
            alreadyThere += outcome.get(20, TimeUnit.SECONDS) instanceof Outcome.AlreadyThere ? 1 : 0;
        }
        assertThat(alreadyThere).isEqualTo(1);
        assertThat(refused(outcomes.get(6).get(20, TimeUnit.SECONDS)))
                .singleElement()
                .asString()
                .contains("column \"value\": read \"1,6m\"");
        threads.shutdown();
        assertThat(steps.stream().filter(step -> step == AtomicFile.Step.RENAMED))
                .hasSize(1);
        for (int i = 0; i < 5; i++) {
            assertThat(text("readings.csv")).containsOnlyOnce("1.6 m,e" + i + "\n");
        }
    }

    @Test
    void editsOfSeveralFiles_thatWaitTogether_areAllMade() throws Exception {
        saved(editor.append(TrialFile.READINGS, READING, "old"));
        ShownRow old = editor.rows(TrialFile.READINGS).rows().get(2);
        ShownRow alder = row(TrialFile.MACHINES, 2);
        List<Callable<Outcome>> edits = List.of(
                () -> editor.append(TrialFile.READINGS, READING, "new"),
                () -> editor.remove(TrialFile.READINGS, old.key(), old.seen()),
                () -> editor.renameMachine(alder.key(), "Alder 23", alder.seen()),
                () -> editor.append(
                        TrialFile.CIRCLES,
                        Map.of("circle", "C1", "machine", "Birch 10", "turn", "left", "drive", "2WD")),
                () -> editor.append(TrialFile.READINGS, READING, "newer"));
        ExecutorService threads = Executors.newFixedThreadPool(edits.size());
        FolderLock held = FolderLock.take(folder, new Problems()).orElseThrow();
        List<Future<Outcome>> outcomes = new ArrayList<>();
        try {
            edits.forEach(edit -> outcomes.add(threads.submit(edit)));
            Thread.sleep(300);
        } finally {
            held.close();
        }
        for (Future<Outcome> outcome : outcomes) {
            saved(outcome.get(20, TimeUnit.SECONDS));
        }
        threads.shutdown();
        assertThat(text("readings.csv"))
                .containsOnlyOnce("1.6 m,new\n")
                .containsOnlyOnce("1.6 m,newer\n")
                .doesNotContain("old");
        assertThat(text("removed.csv")).containsOnlyOnce("readings.csv,old");
        assertThat(text("circles.csv")).contains("A1,Alder 23,left", "C1,Birch 10,left");
        given.trial();
    }

    @ParameterizedTest
    @ValueSource(strings = {"1970-01-01T00:00:00Z", "2026-05-14T08:02:11Z", "2199-12-31T23:59:59Z"})
    void aClockSetBackOrAhead_keepsNobodyFromSaving(String now) throws IOException {
        TrialEditor other = new TrialEditor(folder, Clock.fixed(Instant.parse(now), ZoneOffset.UTC), step -> {});
        for (String time : List.of("1980-01-01T00:00:00Z", "2150-01-01T00:00:00Z")) {
            soundFolder();
            for (String file : List.of("trial.csv", "machines.csv", "circles.csv", "readings.csv")) {
                Files.setLastModifiedTime(folder.resolve(file), FileTime.from(Instant.parse(time)));
            }
            ShownRow row = saved(other.append(TrialFile.READINGS, READING, "e" + time));
            // a change that leaves size and time as they were is seen all the same
            String version = other.version();
            given.with("readings.csv", text("readings.csv").replace("1580", "1590"));
            Files.setLastModifiedTime(folder.resolve("readings.csv"), FileTime.from(Instant.parse(time)));
            assertThat(other.version()).isNotEqualTo(version);
            assertThat(other.rows(TrialFile.READINGS).rows().get(0).cells()).containsEntry("value", "1590");
            saved(other.remove(TrialFile.READINGS, row.key(), row.seen()));
            assertThat(text("removed.csv")).contains("e" + time, now.substring(0, 10));
        }
    }

    @Test
    void leftoversOfWritesCutShort_areSweptAway_onceTheyAreOld() throws IOException {
        Path old = Files.writeString(folder.resolve(".Readings.csv.0a1b2c3d-0000-4000-8000-0123456789ab.tmp"), "half");
        Path removed =
                Files.writeString(folder.resolve(".removed.csv.0a1b2c3d-0000-4000-8000-0123456789ab.tmp"), "half");
        Path fresh = Files.writeString(folder.resolve(".circles.csv.0a1b2c3d-0000-4000-8000-0123456789ab.tmp"), "half");
        Path foreign = Files.writeString(folder.resolve(".notes.csv.0a1b2c3d-0000-4000-8000-0123456789ab.tmp"), "mine");
        Path other = Files.writeString(folder.resolve(".readings.csv.tmp"), "mine");
        for (Path file : List.of(old, removed, foreign, other)) {
            Files.setLastModifiedTime(file, FileTime.from(CLOCK.instant().minusSeconds(61)));
        }
        Files.setLastModifiedTime(fresh, FileTime.from(CLOCK.instant().minusSeconds(59)));
        saved(editor.append(TrialFile.READINGS, READING));
        assertThat(old).doesNotExist();
        assertThat(removed).doesNotExist();
        assertThat(fresh).exists();
        assertThat(foreign).exists();
        assertThat(other).exists();
    }
}
