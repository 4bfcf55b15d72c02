package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import java.util.TreeMap;
import org.fairturn.folder.Interrupted;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Commands that stop dead, or find the disk full, at every step of their writing. OUT stands for a folder. */
class InterruptedCommandTest {
    private static final String DEMO = "testdata/tape-only";
    private static final Map<String, String> FOLDERS =
            Map.of("DEMO", DEMO, "MONDAY", "testdata/days/monday", "SATURDAY", "testdata/days/saturday");

    @TempDir
    Path above;

    private static String[] in(Path out, String command) {
        return Arrays.stream(command.split(" "))
                .map(word -> word.equals("OUT") ? out.toString() : FOLDERS.getOrDefault(word, word))
                .toArray(String[]::new);
    }

    /** What stands there by path; what a write that was cut short leaves is no file of the program's. */
    private static Map<String, String> files(Path folder) {
        Map<String, String> files = new TreeMap<>();
        if (!Files.exists(folder)) {
            return files;
        }
        try (var all = Files.walk(folder)) {
            for (Path file : all.filter(Files::isRegularFile).toList()) {
                String name = file.getFileName().toString();
                if (!name.startsWith(".")) {
                    files.put(folder.relativize(file).toString(), Arrays.toString(Files.readAllBytes(file)));
                } else {
                    assertThat(name).matches("\\..*\\.tmp|\\.fairturn\\.lock");
                }
            }
            return files;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "report DEMO --out OUT",
                "report DEMO --out OUT --bundle --card",
                "days MONDAY SATURDAY --out OUT"
            })
    void whatIsThere_isWhole_andTheNextRunFinishesIt(String command) {
        Path undisturbed = above.resolve("undisturbed");
        int code = Ran.here(in(undisturbed, command)).code();
        Map<String, String> whole = files(undisturbed);
        int fatal = 1;
        boolean reached = true;
        while (reached) {
            Path out = above.resolve("out" + fatal);
            reached = Interrupted.at(fatal, () -> Ran.here(in(out, command)));
            assertThat(whole).as("step " + fatal).containsAllEntriesOf(files(out));
            String page = command.startsWith("days") ? "days.html" : "report.html";
            if (files(out).containsKey(page)) {
                assertThat(files(out)).as("the page comes last").isEqualTo(whole);
            }
            assertThat(Ran.here(in(out, command)).code()).isEqualTo(code);
            assertThat(files(out)).as("after step " + fatal).isEqualTo(whole);
            fatal += fatal < 12 ? 1 : 5; // the rest are files like the first
        }
        assertThat(fatal).isGreaterThan(12);
    }

    @ParameterizedTest
    @ValueSource(strings = {"new OUT", "plan Alder --title A --date 2026-05-14 --out OUT"})
    void aFolderCutShort_holdsWholeFiles_andCheckSaysWhatIsMissing(String command) {
        Path undisturbed = above.resolve("undisturbed");
        assertThat(Ran.here(in(undisturbed, command)).code()).isZero();
        Map<String, String> whole = files(undisturbed);
        boolean reached = true;
        int fatal;
        for (fatal = 1; reached; fatal++) {
            Path out = above.resolve("out" + fatal);
            reached = Interrupted.at(fatal, () -> Ran.here(in(out, command)));
            Map<String, String> there = files(out);
            there.forEach((name, content) -> {
                boolean stillBlank = name.equals("machines.csv") || name.equals("circles.csv");
                assertThat(stillBlank || content.equals(whole.get(name)))
                        .as(name)
                        .isTrue();
            });
            Ran check = Ran.here("check", out.toString());
            assertThat(check.code()).as(check.toString()).isEqualTo(1);
            assertThat(check.all()).contains("accepted:").doesNotContain("fault of its own");
            if (!there.isEmpty() && reached) {
                Ran again = Ran.here(in(out, command));
                assertThat(again.all()).doesNotContain("fault of its own");
                assertThat(again.code() == 0 || again.err().contains("accepted:"))
                        .as(again.err())
                        .isTrue();
                Map<String, String> after = files(out);
                there.forEach((name, content) -> assertThat(after.get(name))
                        .as("what was there stays, rows may follow: " + name)
                        .startsWith(content.substring(0, content.length() - 1)));
            }
        }
        assertThat(fatal).isGreaterThan(20);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "report DEMO --out OUT",
                "report DEMO --out OUT --bundle",
                "days MONDAY SATURDAY --out OUT",
                "new OUT",
                "plan Alder --date 2026-05-14 --out OUT",
                "archive trials --out OUT",
                "batch trials --json-lines --out OUT",
                "plan Alder --sheet OUT"
            })
    void aFullDisk_isSaid_andNothingHalfIsLeft(String command) throws IOException {
        Path trials = Files.createDirectory(above.resolve("trials"));
        copy(Path.of(DEMO), trials.resolve("one"));
        String here = command.replace("trials", trials.toString());
        String made = here.startsWith("batch") || here.startsWith("archive") || here.contains("--sheet")
                ? here.replace("OUT", "OUT/file.pdf")
                : here;
        for (int from : new int[] {1, 2, 4, 8}) {
            Path out = above.resolve("out" + from);
            if (made.contains("OUT/")) {
                Files.createDirectory(out);
            }
            Ran[] ran = new Ran[1];
            boolean reached = Interrupted.fullFrom(
                    from,
                    () -> ran[0] = Ran.here(in(
                            out,
                            made.replace("OUT/file.pdf", out.resolve("file.pdf").toString()))));
            if (reached) {
                assertThat(ran[0].code()).as(ran[0].toString()).isEqualTo(1);
                assertThat(ran[0].err()).contains("found").contains("accepted:").doesNotContain("fault of its own");
                try (var all = Files.walk(above)) {
                    assertThat(all.map(path -> path.getFileName().toString())).noneMatch(name -> name.endsWith(".tmp"));
                }
            } else {
                assertThat(from).as("steps of " + command).isGreaterThan(1);
            }
        }
    }

    private static void copy(Path from, Path to) throws IOException {
        Files.createDirectory(to);
        try (var files = Files.list(from)) {
            for (Path file : files.toList()) {
                Files.copy(file, to.resolve(file.getFileName()));
            }
        }
    }

    /** With -Dfairturn.small.disk=FOLDER, an empty file system of a few hundred kilobytes. */
    @Test
    void aDiskThatIsReallyFull() throws IOException {
        String small = System.getProperty("fairturn.small.disk");
        Assumptions.assumeTrue(small != null, "needs a small disk");
        Path disk = Path.of(small);
        Path trial = disk.resolve("trial");
        copy(Path.of(DEMO), trial);
        long free = Files.getFileStore(disk).getUsableSpace();
        Files.write(disk.resolve("rest"), new byte[(int) free - 9_000]);
        Map<String, String> before = files(trial);
        for (String command : new String[] {
            "report DEMO --bundle --out OUT/report", "new OUT/new", "plan Alder --date 2026-05-14 --out OUT/plan"
        }) {
            Ran ran = Ran.here(in(disk, command.replace("OUT/", disk + "/")));
            assertThat(ran.code()).as(ran.toString()).isEqualTo(1);
            assertThat(ran.err()).contains("found").contains("accepted:").doesNotContain("fault of its own");
        }
        assertThat(files(trial)).isEqualTo(before);
    }

    /** With -Dfairturn.read.only=FOLDER, a file system without a way to write that holds a trial folder "trial". */
    @Test
    void aDiskThatCannotBeWritten() {
        String disk = System.getProperty("fairturn.read.only");
        Assumptions.assumeTrue(disk != null, "needs a disk that cannot be written");
        String trial = disk + "/trial";
        assertThat(Ran.here("check", trial).code()).isZero();
        assertThat(Ran.here("report", trial, "--out", above.resolve("out").toString())
                        .code())
                .isZero();
        for (String command : new String[] {
            "report " + trial + " --out " + disk + "/out",
            "new " + disk + "/new",
            "plan Alder --out " + trial,
            "archive " + disk + " --out " + disk + "/a"
        }) {
            Ran ran = Ran.here(command.split(" "));
            assertThat(ran.code()).as(command + ran).isEqualTo(1);
            assertThat(ran.err()).contains("found").contains("accepted:").doesNotContain("fault of its own");
        }
    }
}
