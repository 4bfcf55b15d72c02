package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Measured;
import org.fairturn.trial.Tyre;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class MachinePagesTest {
    private static final String ALDER = "/trial/demo/machine/" + Slug.of("Alder 22");

    @TempDir
    Path above;

    private static Machine machine(Path folder, String id) {
        return TrialFolder.read(folder).fold(read -> read.trial().machine(id).orElseThrow(), faulty -> {
            throw new AssertionError(faulty.problems());
        });
    }

    @Test
    void aNewMachine_isSavedWithItsBladesAndStops_inThreeFiles() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get("/trial/demo/machine").body()));
            assertThat(typed).containsEntry("blade2.spindle", "middle").containsEntry("stop2.side", "right");
            typed.put("machine.machine", "Cedar 18");
            typed.put("machine.wheelbase", "4 ft 9 in");
            typed.put("blade1.ahead of rear axle", "26");
            typed.put("blade1.left of centreline", "12 3/8\"");
            typed.put("blade1.tip radius", "240 mm");
            typed.put("stop2.found", "1.2");
            typed.put("stop2.touches axle", "no");
            HttpResponse<String> saved = served.post("/trial/demo/machine", typed);
            assertThat(saved.statusCode()).isEqualTo(303);
            assertThat(served.get(saved.headers().firstValue("Location").orElseThrow())
                            .body())
                    .contains("✓ Cedar 18 is saved.", "value=\"12 3/8&#34;\"");
        }
        assertThat(Files.readString(demo.resolve("blades.csv"))).contains("Cedar 18,left,26,\"12 3/8\"\"\",240 mm");
        Machine cedar = machine(demo, "Cedar 18");
        assertThat(cedar.blades()).hasSize(1);
        assertThat(cedar.stops()).hasSize(1);
        assertThat(cedar.stops().get(0).touchesAxle()).hasValue(false);
    }

    @Test
    void whatCannotBeSaved_standsBesideItsField_andTheRestIsSaved() {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            typed.put("machine.wheelbase", "57 in");
            typed.put("blade2.tip radius", "9,25");
            HttpResponse<String> answer = served.post(ALDER, typed);
            assertThat(answer.statusCode()).isEqualTo(422);
            assertThat(answer.body())
                    .contains("<a href=\"#f-blade2-tip-radius\">Blade 2, middle: Read \"9,25\"; accepted: ")
                    .contains("value=\"9,25\"", "If the comma is a decimal sign, write a point.");
            assertThat(machine(demo, "Alder 22")
                            .wheelbase()
                            .orElseThrow()
                            .value()
                            .in(org.fairturn.units.LengthUnit.INCH))
                    .isEqualTo(57);
            Map<String, String> mended = new HashMap<>(Fields.of(answer.body()));
            mended.put("blade2.tip radius", "9.5");
            assertThat(served.post(ALDER, mended).statusCode()).isEqualTo(303);
            assertThat(machine(demo, "Alder 22")
                            .blades()
                            .get(1)
                            .tipRadius()
                            .value()
                            .millimetres())
                    .isCloseTo(241.3, within(1e-9)); // 9.5 in
        }
    }

    /** Three blades to fill in, a slip in the first: the other two are still there to be filled in. */
    @Test
    void blankRowsBesideAFaultyOne_stay() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get("/trial/demo/machine").body()));
            typed.put("machine.machine", "Cedar 18");
            typed.put("blade1.ahead of rear axle", "26");
            typed.put("blade1.left of centreline", "12,5");
            typed.put("blade1.tip radius", "240 mm");
            HttpResponse<String> answer = served.post("/trial/demo/machine", typed);
            assertThat(answer.statusCode()).isEqualTo(422);
            Map<String, String> fields = Fields.of(answer.body());
            assertThat(fields)
                    .containsEntry("blade1.left of centreline", "12,5")
                    .containsEntry("blade2.spindle", "middle")
                    .containsEntry("blade3.spindle", "right")
                    .containsEntry("stop1.side", "left")
                    .containsEntry("stop2.side", "right")
                    .doesNotContainKey("blade4.spindle");
        }
    }

    @Test
    void tyres_areWrittenIntoColumnsThatWereNotThere_andAPressureWithoutUnitIsRefused() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            typed.put("machine.front tyre size", "18x8.50-8");
            typed.put("machine.specified front pressure", "22 psi");
            typed.put("machine.front left pressure", "22");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body())
                    .contains(
                            "Read \"22\"; accepted: a tyre pressure from 0.1 bar to 7 bar with its unit, such as 22 psi,"
                                    + " 1.5 bar or 150 kPa. Check the number and its unit.");
            Map<String, String> mended = new HashMap<>(Fields.of(refused.body()));
            mended.put("machine.front left pressure", "1.5 bar");
            assertThat(served.post(ALDER, mended).statusCode()).isEqualTo(303);
        }
        Tyre left = machine(demo, "Alder 22").tyres().get(0);
        assertThat(left.size()).isEqualTo("18x8.50-8");
        assertThat(left.specified().orElseThrow().kilopascals()).isCloseTo(151.6847, within(5e-5)); // 22 × 6.894757
        assertThat(left.found().orElseThrow().kilopascals()).isEqualTo(150);
    }

    /** Two columns that complaints live on could be filled in with a spreadsheet alone. */
    @Test
    void everyColumnOfAMachineAndWhatIsOnIt_hasItsField() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> fields = Fields.of(served.get(ALDER).body());
            assertThat(fields).containsKeys(names("machine.", TrialFile.MACHINES, ""));
            assertThat(fields).containsKeys(names("blade1.", TrialFile.BLADES, "machine"));
            assertThat(fields).containsKeys(names("stop1.", TrialFile.STOPS, "machine"));
        }
    }

    private static String[] names(String prefix, TrialFile file, String owner) {
        return file.columns().stream()
                .filter(column -> !column.equals(owner))
                .map(prefix::concat)
                .toArray(String[]::new);
    }

    @Test
    void whereTheManualPutsTheDeck_andTheThreadOfAStop_areSavedLikeTheRest() {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            typed.put("machine.specified deck offset", "40 in");
            typed.put("machine.specified deck offset uncertainty", "1 mm");
            typed.put("stop1.thread pitch", "1,5 mm");
            typed.put("stop2.thread pitch", "15 mm");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body())
                    .contains(
                            "<a href=\"#f-machine-specified-deck-offset\">Machine: Read \"40 in\"; accepted: a deck offset from"
                                    + " -1 m to 1 m.",
                            "<a href=\"#f-stop1-thread-pitch\">Stop of the left front wheel: Read \"1,5 mm\"; accepted: a length"
                                    + " such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in, 62-3/8\" or 5 ft 2 in. If the comma"
                                    + " is a decimal sign, write a point.",
                            "<a href=\"#f-stop2-thread-pitch\">Stop of the right front wheel: Read \"15 mm\"; accepted: a thread"
                                    + " pitch from 0.2 mm to 10 mm.");
            Map<String, String> mended = new HashMap<>(Fields.of(refused.body()));
            mended.put("machine.specified deck offset", "1 1/2 in");
            mended.put("stop1.thread pitch", "1.5 mm");
            mended.put("stop2.thread pitch", "");
            HttpResponse<String> saved = served.post(ALDER, mended);
            assertThat(saved.statusCode()).isEqualTo(303);
            assertThat(Fields.of(
                            served.get(saved.headers().firstValue("Location").orElseThrow())
                                    .body()))
                    .containsEntry("machine.specified deck offset", "1 1/2 in")
                    .containsEntry("stop1.thread pitch", "1.5 mm");
        }
        Machine alder = machine(demo, "Alder 22");
        Measured specified = alder.specifiedDeckOffset().orElseThrow();
        assertThat(specified.value().millimetres()).isCloseTo(38.1, within(1e-9)); // 1.5 × 25.4
        assertThat(specified.standardUncertainty()).contains(Length.mm(1));
        assertThat(alder.stops())
                .extracting(stop -> stop.threadPitch().map(Length::toString).orElse("none"))
                .containsExactly("1.5 mm", "none");
    }

    @Test
    void aBladeWithAllFieldsEmptied_isTakenOut() {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            typed.replaceAll((name, value) -> name.matches("blade1\\.(spindle|ahead.*|left.*|tip.*)") ? "" : value);
            assertThat(served.post(ALDER, typed).statusCode()).isEqualTo(303);
        }
        assertThat(machine(demo, "Alder 22").blades())
                .extracting(blade -> blade.spindle())
                .containsExactly("middle", "right");
    }

    @Test
    void whatSomebodyElseChangedMeanwhile_isNotOverwritten_andWhatWasNotTouchedIsNoMatter() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            Path stops = demo.resolve("stops.csv");
            Files.writeString(stops, Files.readString(stops).replace("1.05,1.20,1.05", "1.05,1.25,1.05"));
            Map<String, String> elsewhere = new HashMap<>(typed);
            elsewhere.put("machine.label", "Alder 22, 54 in");
            assertThat(served.post(ALDER, elsewhere).statusCode()).isEqualTo(303);
            typed.put("stop2.found", "1.30");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body())
                    .contains("Stop of the right front wheel: " + RowForm.MEANWHILE)
                    .contains("Stop of the right front wheel: Somebody else wrote \"1.25\" while the page was open; you"
                            + " wrote \"1.30\", which is not saved. Save again to put yours in the place of theirs.");
            assertThat(Files.readString(stops)).contains("1.05,1.25,1.05");
            assertThat(served.post(ALDER, Fields.of(refused.body())).statusCode())
                    .isEqualTo(303);
            assertThat(Files.readString(stops)).contains("1.05,1.30,1.05");
        }
    }

    @Test
    void whatTheOtherChangedInTheSameRow_isKept_whenYoursIsSavedAgain() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            Path stops = demo.resolve("stops.csv");
            Files.writeString(stops, Files.readString(stops).replace("1.05,1.20,1.05", "1.05,1.25,1.05"));
            typed.put("stop2.set", "1.10");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.body())
                    .contains("Somebody else changed this from \"1.20\" to \"1.25\" while the page was open.")
                    .contains("value=\"1.25\"", "value=\"1.10\"");
            assertThat(served.post(ALDER, Fields.of(refused.body())).statusCode())
                    .isEqualTo(303);
            assertThat(Files.readString(stops)).contains("1.05,1.25,1.10");
        }
    }

    @Test
    void whatSomebodyElseTookOutMeanwhile_staysInTheForm_andIsPutBackBySavingAgain() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            Path blades = demo.resolve("blades.csv");
            List<String> kept = Files.readAllLines(blades).stream()
                    .filter(row -> !row.startsWith("Alder 22,middle"))
                    .toList();
            Files.write(blades, kept);
            typed.put("blade2.tip radius", "9.5");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains(RowForm.GONE, "value=\"9.5\"");
            assertThat(served.post(ALDER, Fields.of(refused.body())).statusCode())
                    .isEqualTo(303);
            assertThat(machine(demo, "Alder 22").blades())
                    .extracting(blade -> blade.spindle())
                    .containsExactlyInAnyOrder("left", "middle", "right");
        }
    }

    @Test
    void aMachineSomebodyElseTookOutMeanwhile_isPutBackWithItsBlades() throws IOException {
        Path demo = Served.demoBelow(above);
        for (String file : List.of("circles.csv", "readings.csv", "claims.csv")) {
            Files.deleteIfExists(demo.resolve(file));
        }
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            for (String file : List.of("machines.csv", "blades.csv", "stops.csv")) {
                List<String> kept = Files.readAllLines(demo.resolve(file)).stream()
                        .filter(row -> !row.startsWith("Alder 22"))
                        .toList();
                Files.write(demo.resolve(file), kept);
            }
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("Machine: " + RowForm.GONE);
            assertThat(served.post("/trial/demo/machine", Fields.of(refused.body()))
                            .statusCode())
                    .isEqualTo(303);
            assertThat(Files.readString(demo.resolve("machines.csv"))).contains("Alder 22,");
            assertThat(Files.readString(demo.resolve("blades.csv"))).contains("Alder 22,middle");
            assertThat(Files.readString(demo.resolve("stops.csv"))).contains("Alder 22,right");
        }
    }

    @Test
    void anotherName_isGivenInEveryFile_onceTheRestIsSaved() throws IOException {
        Path demo = Served.demoBelow(above);
        String before = everything(demo);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get(ALDER).body()));
            typed.put("machine.machine", "Alder 23");
            typed.put("machine.wheelbase", "57 in");
            typed.put("blade2.tip radius", "9,25");
            HttpResponse<String> refused = served.post(ALDER, typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("value=\"Alder 23\"");
            assertThat(everything(demo)).doesNotContain("Alder 23");
            Map<String, String> mended = new HashMap<>(Fields.of(refused.body()));
            mended.put("blade2.tip radius", typed.get("was:blade2.tip radius"));
            HttpResponse<String> saved = served.post(ALDER, mended);
            assertThat(saved.statusCode()).isEqualTo(303);
            assertThat(saved.headers().firstValue("Location").orElseThrow())
                    .endsWith("/machine/" + Slug.of("Alder 23"));
            mended.put("machine.machine", "Basalt 25");
            assertThat(served.post("/trial/demo/machine/" + Slug.of("Alder 23"), mended)
                            .statusCode())
                    .isEqualTo(422);
        }
        assertThat(everything(demo).replace(",57 in,", ",1450 mm,"))
                .isEqualTo(before.replace(",Alder 22,", ",Alder 23,").replace("\nAlder 22,", "\nAlder 23,"));
        assertThat(machine(demo, "Alder 23").blades()).hasSize(3);
    }

    /** What the files that name machines hold. */
    private static String everything(Path demo) throws IOException {
        StringBuilder all = new StringBuilder();
        for (String file : List.of("machines.csv", "blades.csv", "stops.csv", "circles.csv", "claims.csv")) {
            all.append(Files.readString(demo.resolve(file)));
        }
        return all.toString();
    }

    @Test
    void twoMachinesOfOneName_areRefused() {
        Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            HttpResponse<String> answer = served.post("/trial/demo/machine", Map.of("machine.machine", "Alder 22"));
            assertThat(answer.statusCode()).isEqualTo(422);
            assertThat(answer.body()).contains("an id that no other row has; row 2 has this one already");
        }
    }

    @Test
    void theDrawing_showsWhatIsTyped_andSavesNothing() throws IOException {
        Path demo = Served.demoBelow(above);
        String before = Files.readString(demo.resolve("machines.csv"));
        try (Served served = Served.on(above)) {
            String drawing = served.post(
                            "/trial/demo/drawing",
                            Map.of(
                                    "machine.machine",
                                    "<b>",
                                    "machine.wheelbase",
                                    "1450 mm",
                                    "machine.front track",
                                    "?"))
                    .body();
            assertThat(drawing)
                    .startsWith("<svg")
                    .contains("L wheelbase: 57.1 in", "T front track, tyre middle to tyre middle: not written yet")
                    .doesNotContain("<b>");
        }
        assertThat(Files.readString(demo.resolve("machines.csv"))).isEqualTo(before);
    }

    /** Such as a page that was shown for a machine which is no more; it was acknowledged, and nothing of it was written. */
    @Test
    void aNewMachine_sentUnderTheKeyOfAnother_isNotTakenForSaved() {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> typed =
                    new HashMap<>(Fields.of(served.get("/trial/demo/machine").body()));
            typed.put("machine.machine", "Cedar 18");
            typed.put("machine.key", "machine Dogwood 20");
            HttpResponse<String> refused = served.post("/trial/demo/machine", typed);
            assertThat(refused.statusCode()).isEqualTo(422);
            assertThat(refused.body()).contains("Machine: " + RowForm.GONE, "value=\"Cedar 18\"");
            Map<String, String> again = new HashMap<>(Fields.of(refused.body()));
            assertThat(served.post("/trial/demo/machine", again).statusCode()).isEqualTo(303);
        }
        assertThat(machine(demo, "Cedar 18").blades()).isEmpty();
    }
}
