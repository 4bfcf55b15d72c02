package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Bundles as they are made, and as somebody might make them who means harm. */
class BundleTest {
    private static final String ACCEPTED =
            "; accepted: a bundle made with fairturn report --bundle, or a zip of the CSV files of one trial folder. ";
    private static final String AGAIN = "Ask for it again, or make it anew: fairturn report FOLDER --bundle.";

    @TempDir
    Path above;

    private static Map<String, byte[]> trialIn(String folder) {
        Map<String, byte[]> files = new LinkedHashMap<>();
        files.put(folder + "trial.csv", bytes(Given.TRIAL));
        files.put(folder + "machines.csv", bytes(Given.MACHINES));
        files.put(folder + "circles.csv", bytes(Given.CIRCLES));
        files.put(folder + "readings.csv", bytes(Given.READINGS));
        return files;
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private Path zip(Map<String, byte[]> entries) throws IOException {
        return Files.write(above.resolve("given.zip"), zipped(entries, StandardCharsets.UTF_8));
    }

    private static byte[] zipped(Map<String, byte[]> entries, Charset names) throws IOException {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes, names)) {
            for (var entry : entries.entrySet()) {
                zip.putNextEntry(new ZipEntry(entry.getKey()));
                zip.write(entry.getValue());
                zip.closeEntry();
            }
        }
        return bytes.toByteArray();
    }

    private static Trial trial(Path path) {
        return TrialFolder.read(path).fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(
                    faulty.problems().stream().map(Problem::message).toList());
        });
    }

    private static List<String> messages(Path path) {
        return TrialFolder.read(path)
                .fold(
                        complete -> List.of(),
                        faulty ->
                                faulty.problems().stream().map(Problem::message).toList());
    }

    /** Same names, another one in its central directory and before the content. */
    private static byte[] renamed(byte[] zip, String from, String to) {
        byte[] changed = zip.clone();
        byte[] old = from.getBytes(StandardCharsets.ISO_8859_1);
        byte[] other = to.getBytes(StandardCharsets.ISO_8859_1);
        assertThat(other).hasSameSizeAs(old);
        int times = 0;
        for (int i = 0; i + old.length <= changed.length; i++) {
            if (Arrays.equals(changed, i, i + old.length, old, 0, old.length)) {
                System.arraycopy(other, 0, changed, i, other.length);
                times++;
            }
        }
        assertThat(times).isPositive();
        return changed;
    }

    @Test
    void whatWasPacked_isReadBack_byteForByte() throws IOException {
        Path folder = Files.createDirectory(above.resolve("Wiese süd"));
        Given.soundFolder(folder).with("removed.csv", "when,file\r\n").with("notes.csv", "a\n");
        Files.writeString(folder.resolve("Machines.CSV"), "x"); // one too many, in other letter case
        TakenTrial taken = TrialFolder.take(folder);
        Path bundle = Files.write(above.resolve("b.zip"), Bundle.pack("Wiese süd", taken.files()));
        TakenTrial back = TrialFolder.take(bundle);
        assertThat(trial(bundle)).isEqualTo(trial(folder));
        assertThat(trial(bundle).folder()).isEqualTo("Wiese süd");
        assertThat(back.files().keySet())
                .containsExactly("trial.csv", "machines.csv", "circles.csv", "readings.csv", "removed.csv");
        for (var file : back.files().entrySet()) {
            assertThat(file.getValue()).isEqualTo(Files.readAllBytes(folder.resolve(file.getKey())));
        }
    }

    @Test
    void sameFiles_giveTheSameBytes() throws InterruptedException {
        byte[] first = Bundle.pack("meadow", trialIn(""));
        Thread.sleep(2100); // a zip counts time in steps of two seconds
        assertThat(Bundle.pack("meadow", trialIn(""))).isEqualTo(first);
    }

    @Test
    void filesAtTheTop_inOneFolder_andWithWhatSystemsAdd_areRead() throws IOException {
        assertThat(trial(zip(trialIn(""))).folder()).isEqualTo("given");
        Map<String, byte[]> entries = trialIn("meadow/");
        entries.put("meadow/charts/x.svg", bytes("<svg/>"));
        entries.put("meadow/", new byte[0]);
        entries.put("__MACOSX/meadow/._trial.csv", bytes("x"));
        entries.put("__MACOSX/._meadow", bytes("x"));
        entries.put("meadow/.DS_Store", bytes("x"));
        entries.put("meadow/report.html", bytes("x"));
        entries.put("meadow/reading.csv", bytes("x"));
        Path zip = zip(entries);
        assertThat(trial(zip).folder()).isEqualTo("meadow");
        assertThat(TrialFolder.read(zip).fold(TrialRead.Complete::notes, TrialRead.Faulty::notes))
                .extracting(note -> note.where() + ": " + note.text())
                .containsExactly("reading.csv: This file is not known and not used. Did you mean \"readings.csv\"?");
    }

    @Test
    void faultsInItsFiles_areThoseOfAFolder() throws IOException {
        Map<String, byte[]> entries = trialIn("meadow/");
        entries.put("meadow/readings.csv", bytes("circle,kind,value\nA1,across,15x\nB1,across,1600\n"));
        Path folder = Files.createDirectory(above.resolve("meadow"));
        Given.soundFolder(folder).with("readings.csv", entries.get("meadow/readings.csv"));
        assertThat(messages(zip(entries))).isNotEmpty().isEqualTo(messages(folder));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"../trial.csv", "/trial.csv", "a/../../x.csv", "C:/x.csv", "a\\x.csv", "..\\..\\x", "./x.csv"})
    void namesThatLeadOut_areRefused_andNothingIsWritten(String name) throws IOException {
        Map<String, byte[]> entries = trialIn("meadow/");
        entries.put(name, bytes("evil"));
        Path zip = zip(entries);
        List<String> messages = messages(zip);
        assertThat(messages).hasSize(1);
        assertThat(messages.get(0))
                .startsWith("given.zip: found an entry named \"")
                .endsWith(", whose name leads out of the bundle; accepted: plain names, at the top or in one folder."
                        + " Do not use this file; ask whoever sent it for the trial folder itself.");
        try (Stream<Path> all = Files.walk(above)) {
            assertThat(all.filter(Files::isRegularFile)).containsExactly(zip);
        }
    }

    @Test
    void aBomb_isStoppedBeforeItFillsTheMemory() throws IOException {
        Map<String, byte[]> entries = trialIn("");
        entries.put("readings.csv", new byte[30_000_000]);
        assertThat(messages(zip(entries)))
                .containsExactly("given.zip: found \"readings.csv\", which unpacks to more than 200 times its size;"
                        + " accepted: files of at most 50 MB, 150 MB in all, packed to no less than a 200th."
                        + " Do not use this file; ask whoever sent it for the trial folder itself.");
    }

    @Test
    void aBombThatLiesAboutItsSize_isStoppedToo() throws IOException {
        byte[] noise = new byte[3_000_000];
        new Random(1).nextBytes(noise); // packs badly, so that only the sum is too much
        Map<String, byte[]> entries = trialIn("");
        for (int i = 0; i < 3; i++) {
            byte[] large = new byte[55_000_000];
            System.arraycopy(noise, 0, large, 0, noise.length);
            entries.put(List.of("readings.csv", "points.csv", "claims.csv").get(i), large);
        }
        assertThat(messages(zip(entries))).first().asString().contains("which unpacks to too much");
    }

    @Test
    void aBombInManyFiles_isStoppedByTheirSum() throws IOException {
        byte[] large = new byte[45_000_000]; // each of them would pass
        new Random(1).nextBytes(large);
        Arrays.fill(large, 400_000, large.length, (byte) ' ');
        Map<String, byte[]> entries = trialIn("");
        for (String file : List.of("blades.csv", "readings.csv", "points.csv", "claims.csv")) {
            entries.put(file, large);
        }
        assertThat(messages(zip(entries)))
                .singleElement()
                .asString()
                .startsWith(
                        "given.zip: found \"claims.csv\", which unpacks to too much; accepted: files of at most 50 MB, 150 MB in all");
    }

    @Test
    void tooManyEntries_areRefused() throws IOException {
        Map<String, byte[]> entries = trialIn("");
        for (int i = 0; i < BundleReader.MOST_ENTRIES; i++) {
            entries.put("charts/" + i, new byte[0]);
        }
        assertThat(messages(zip(entries)))
                .containsExactly(
                        "given.zip: found 504 entries; accepted: a bundle made with fairturn report --bundle, or a zip"
                                + " of the CSV files of one trial folder, at most 500 entries. " + AGAIN);
    }

    @Test
    void aZipInAZip_isRefused() throws IOException {
        Map<String, byte[]> entries = trialIn("");
        entries.put("inner.zip", zipped(trialIn(""), StandardCharsets.UTF_8));
        assertThat(messages(zip(entries)))
                .containsExactly("given.zip: found another zip in it, \"inner.zip\"" + ACCEPTED
                        + "Unpack it, and name the inner one.");
    }

    @Test
    void aFileTwice_isRefused() throws IOException {
        Map<String, byte[]> entries = trialIn("");
        entries.put("Readings.csv", bytes("x"));
        assertThat(messages(zip(entries)))
                .containsExactly("given.zip: found \"Readings.csv\" twice; accepted: each file once. " + AGAIN);
        entries.remove("Readings.csv");
        entries.put("readingz.csv", bytes("x"));
        byte[] same = renamed(zipped(entries, StandardCharsets.UTF_8), "readingz.csv", "readings.csv");
        List<String> messages = messages(Files.write(above.resolve("twice.zip"), same));
        assertThat(messages).hasSize(1).first().asString().startsWith("twice.zip: found ");
    }

    @Test
    void trialsInTwoFolders_areRefused() throws IOException {
        Map<String, byte[]> entries = trialIn("a/");
        entries.putAll(trialIn(""));
        assertThat(messages(zip(entries)))
                .containsExactly("given.zip: found files of a trial in 2 places: at the top, in \"a\"" + ACCEPTED
                        + "Pack each trial into a zip of its own.");
    }

    @Test
    void aZipWithoutATrial_isRefused() throws IOException {
        assertThat(messages(zip(Map.of("photo.jpg", bytes("x")))))
                .containsExactly(
                        "given.zip: found no file of a trial in it" + ACCEPTED + "Check that it is the right file.");
        assertThat(messages(zip(trialIn("deep/deeper/"))))
                .containsExactly(
                        "given.zip: found no file of a trial in it" + ACCEPTED + "Check that it is the right file.");
    }

    @Test
    void namesThatAreNotUtf8_areRefusedInWords() throws IOException {
        Map<String, byte[]> entries = trialIn("s\u00fcd/");
        Path zip = Files.write(above.resolve("latin.zip"), zipped(entries, StandardCharsets.ISO_8859_1));
        assertThat(messages(zip))
                .containsExactly("latin.zip: found a zip file with names that are not UTF-8" + ACCEPTED + AGAIN);
    }

    @Test
    void aPassword_isSaidInWords() throws IOException {
        byte[] zip = zipped(trialIn(""), StandardCharsets.UTF_8);
        for (int i = 0; i + 10 < zip.length; i++) { // bit 0 of the general purpose flag, in both kinds of headers
            if (zip[i] == 'P' && zip[i + 1] == 'K' && zip[i + 2] == 3 && zip[i + 3] == 4) {
                zip[i + 6] |= 1;
            } else if (zip[i] == 'P' && zip[i + 1] == 'K' && zip[i + 2] == 1 && zip[i + 3] == 2) {
                zip[i + 8] |= 1;
            }
        }
        assertThat(messages(Files.write(above.resolve("locked.zip"), zip)))
                .containsExactly("locked.zip: found a zip file locked with a password" + ACCEPTED + AGAIN);
    }

    @Test
    void cutShortAnywhere_orWithABitTurned_itIsAMessageOrTheSameTrial() throws IOException {
        byte[] whole = zipped(trialIn("meadow/"), StandardCharsets.UTF_8);
        Trial trial = trial(Files.write(above.resolve("whole.zip"), whole));
        Path cut = above.resolve("cut.zip");
        List<String> said = new ArrayList<>();
        for (int length = 0; length < whole.length; length += 7) {
            Files.write(cut, Arrays.copyOf(whole, length));
            said.addAll(messages(cut));
            assertThat(messages(cut)).hasSize(1);
        }
        assertThat(said).contains("cut.zip: found a zip file that is broken or cut short" + ACCEPTED + AGAIN);
        for (int at = 0; at < whole.length; at++) {
            byte[] turned = whole.clone();
            turned[at] ^= 0x10;
            Files.write(cut, turned);
            TrialFolder.read(cut)
                    .fold(
                            read -> assertThat(read.trial().circles()).isEqualTo(trial.circles()),
                            faulty -> assertThat(faulty.problems()).isNotEmpty());
        }
    }

    @Test
    void aBundleWhoseNameLeadsOut_isCalledSomethingElse() throws IOException {
        for (String name : List.of("..zip", "...zip", "....ZIP")) {
            Path zip = Files.write(above.resolve(name), zipped(trialIn(""), StandardCharsets.UTF_8));
            assertThat(Bundle.nameOf(zip)).as(name).isEqualTo("_");
            assertThat(trial(zip).folder()).as(name).isEqualTo("_");
        }
    }

    @Test
    void aBundleAmongFolders_isOneOfThem_anotherZipIsNot() throws IOException {
        Path archive = Files.createDirectory(above.resolve("archive"));
        Given.soundFolder(Files.createDirectory(archive.resolve("b")));
        Files.write(archive.resolve("a.zip"), zipped(trialIn("meadow/"), StandardCharsets.UTF_8));
        Files.write(archive.resolve("photos.zip"), zipped(Map.of("p.jpg", bytes("x")), StandardCharsets.UTF_8));
        Files.write(archive.resolve("z-broken.zip"), bytes("PK"));
        assertThat(TrialFolders.below(archive))
                .containsExactly(archive.resolve("a.zip"), archive.resolve("b"), archive.resolve("z-broken.zip"));
    }
}
