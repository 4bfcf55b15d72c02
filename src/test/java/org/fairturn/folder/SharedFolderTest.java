package org.fairturn.folder;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Many at work on one folder at once: threads, a spreadsheet, other programs, and programs that die. */
class SharedFolderTest {
    private static final int PHONES = 8;
    private static final int EDITS = 25;

    /** A long run by hand sets these: {@code -Dkills=400}. */
    private static final int KILLS = Integer.getInteger("kills", 25);

    private static final long KILL_SEED = Long.getLong("kill.seed", 20260514);

    @TempDir
    Path folder;

    private static Map<String, String> reading(int millimetres, String remark) {
        return Map.of("circle", "A1", "kind", "across", "value", Integer.toString(millimetres), "remark", remark);
    }

    /** How often each entry id stands in the readings. */
    private Map<String, Long> entries() {
        return TrialEditor.of(folder).rows(TrialFile.READINGS).rows().stream()
                .map(row -> row.cells().getOrDefault("entry", ""))
                .filter(entry -> !entry.isEmpty())
                .collect(Collectors.groupingBy(entry -> entry, TreeMap::new, Collectors.counting()));
    }

    /** What a phone knows of the readings it sent: the row as it was last saved, and those taken out. */
    private static final class Phone implements Callable<Void> {
        private final TrialEditor editor;
        private final int number;
        private final SplittableRandom random;
        private final Map<String, ShownRow> saved;
        private final Set<String> removed;

        Phone(Path folder, int number, Map<String, ShownRow> saved, Set<String> removed) {
            this.editor = TrialEditor.of(folder);
            this.number = number;
            this.random = new SplittableRandom(number);
            this.saved = saved;
            this.removed = removed;
        }

        @Override
        public Void call() {
            List<String> mine = new ArrayList<>();
            for (int i = 0; i < EDITS; i++) {
                int what = mine.isEmpty() ? 0 : random.nextInt(6);
                if (what < 3) {
                    String entry = number + "-" + i;
                    mine.add(entry);
                    saved.put(entry, row(editor.append(TrialFile.READINGS, reading(1500 + i, "=\"" + i), entry)));
                } else {
                    String entry = mine.get(random.nextInt(mine.size()));
                    ShownRow row = saved.get(entry);
                    if (what == 3) {
                        editor.append(TrialFile.READINGS, reading(1600, "sent again"), entry)
                                .fold(o -> wrong(o), o -> wrong(o), o -> o, o -> wrong(o), o -> wrong(o));
                    } else if (what == 4 && !removed.contains(entry)) {
                        saved.put(
                                entry,
                                row(editor.change(
                                        TrialFile.READINGS, row.key(), Map.of("value", "17" + (10 + i)), row.seen())));
                    } else if (what == 5) {
                        Outcome outcome = editor.remove(TrialFile.READINGS, row.key(), row.seen());
                        removed.add(entry);
                        outcome.fold(
                                o -> o, o -> wrong(o), o -> o.removed() ? o : wrong(o), o -> wrong(o), o -> wrong(o));
                    }
                }
            }
            return null;
        }

        private static ShownRow row(Outcome outcome) {
            return outcome.fold(
                    Outcome.Saved::row,
                    SharedFolderTest::wrong,
                    SharedFolderTest::wrong,
                    SharedFolderTest::wrong,
                    SharedFolderTest::wrong);
        }
    }

    private static ShownRow wrong(Outcome outcome) {
        throw new AssertionError(outcome.toString());
    }

    /** Opens the readings and saves them as a spreadsheet would, between two edits: columns about, other quotes and line ends. */
    private void spreadsheet(SplittableRandom random, AtomicInteger saves) throws IOException {
        FolderLock lock = FolderLock.take(folder, new Problems()).orElseThrow();
        try {
            Path file = folder.resolve("readings.csv");
            List<List<String>> rows = FolderFiles.rows(
                            "readings.csv", List.of(), FolderFiles.withoutMark(Files.readString(file)), new Problems())
                    .orElseThrow()
                    .cells();
            int width = rows.get(0).size();
            List<Integer> order =
                    new ArrayList<>(Stream.iterate(0, i -> i + 1).limit(width).toList());
            Collections.shuffle(order, new Random(random.nextLong()));
            String end = random.nextBoolean() ? "\r\n" : "\n";
            String quote = random.nextBoolean() ? "\"" : "";
            StringBuilder text = new StringBuilder(random.nextBoolean() ? "\uFEFF" : "");
            for (List<String> row : rows) {
                text.append(order.stream()
                                .map(i -> i < row.size() ? row.get(i) : "")
                                .map(cell -> cell.contains("\"")
                                        ? "\"" + cell.replace("\"", "\"\"") + "\""
                                        : quote + cell + quote)
                                .collect(Collectors.joining(",")))
                        .append(end);
            }
            Files.writeString(file, text); // in place, as spreadsheets do
            saves.incrementAndGet();
        } finally {
            lock.close();
        }
    }

    @Test
    void whatManyPhonesSaved_isThereOnce_whateverASpreadsheetDoesBetween() throws Exception {
        Given given = Given.soundFolder(folder);
        Map<String, ShownRow> saved = new ConcurrentHashMap<>();
        Set<String> removed = ConcurrentHashMap.newKeySet();
        AtomicBoolean over = new AtomicBoolean();
        AtomicInteger saves = new AtomicInteger();
        ExecutorService threads = Executors.newFixedThreadPool(PHONES + 1);
        try {
            Future<?> outside = threads.submit(() -> {
                SplittableRandom random = new SplittableRandom(99);
                while (!over.get()) {
                    spreadsheet(random, saves);
                    Thread.sleep(random.nextInt(20));
                }
                return null;
            });
            List<Future<Void>> phones = new ArrayList<>();
            for (int i = 0; i < PHONES; i++) {
                phones.add(threads.submit(new Phone(folder, i, saved, removed)));
            }
            for (Future<Void> phone : phones) {
                phone.get(2, TimeUnit.MINUTES);
            }
            over.set(true);
            outside.get(1, TimeUnit.MINUTES);
        } finally {
            threads.shutdownNow();
        }
        assertThat(saves.get()).isGreaterThan(3);
        assertThat(removed).isNotEmpty();
        Map<String, ShownRow> now = TrialEditor.of(folder).rows(TrialFile.READINGS).rows().stream()
                .filter(row -> row.key().enteredAs().isPresent())
                .collect(Collectors.toMap(row -> row.key().enteredAs().get(), row -> row)); // throws on a second
        Set<String> kept = ConcurrentHashMap.newKeySet();
        kept.addAll(saved.keySet());
        kept.removeAll(removed);
        assertThat(now.keySet()).isEqualTo(kept);
        kept.forEach(entry -> assertThat(now.get(entry).seen())
                .as(entry)
                .isEqualTo(saved.get(entry).seen()));
        // what was typed by hand is there as well, and all that was taken out is kept
        assertThat(given.trial().circles().get(0).readings()).hasSize(kept.size() + 1);
        removed.forEach(entry -> TrialEditor.of(folder)
                .append(TrialFile.READINGS, reading(1600, ""), entry)
                .fold(o -> wrong(o), o -> wrong(o), o -> o.removed() ? o : wrong(o), o -> wrong(o), o -> wrong(o)));
    }

    /** Another program: saves readings under its own name, and now and then takes one out, until it is done or dies. */
    public static final class Program {
        private Program() {}

        public static void main(String[] arguments) {
            TrialEditor editor = TrialEditor.of(Path.of(arguments[0]));
            int readings = Integer.parseInt(arguments[2]);
            if (readings == 0) {
                holdTheLock(arguments[0]);
            }
            for (int i = 0; i < readings; i++) {
                String entry = arguments[1] + "-" + i;
                ShownRow row = Phone.row(editor.append(TrialFile.READINGS, reading(1500 + i % 100, "wet"), entry));
                System.out.print("+" + entry + "\n");
                System.out.flush();
                if (i % 7 == 6) {
                    Phone.row(editor.remove(TrialFile.READINGS, row.key(), row.seen()));
                    System.out.print("-" + entry + "\n");
                    System.out.flush();
                }
            }
        }
    }

    private static void holdTheLock(String folder) {
        assertThat(FolderLock.take(Path.of(folder), new Problems())).isPresent();
        System.out.print("held\n");
        System.out.flush();
        LockSupport.park();
    }

    @Test
    void aProgramThatHoldsTheFolder_isNamed_andItsDeathLetsGoOfIt(@TempDir Path beside) throws Exception {
        Given.soundFolder(folder);
        Process program = start("holder", 0, beside.resolve("said"));
        while (Files.size(beside.resolve("said")) == 0 && program.isAlive()) {
            Thread.sleep(1);
        }
        Problems problems = new Problems();
        assertThat(FolderLock.take(folder, Duration.ofMillis(50), problems)).isEmpty();
        assertThat(problems.problems())
                .extracting(Problem::message)
                .containsExactly(".fairturn.lock: found a folder that the program with process number " + program.pid()
                        + " is writing to; accepted: one edit at a time. Nothing was changed. Save again in a moment; if"
                        + " that does not help, end the other Fairturn that has this folder open.");
        program.destroyForcibly().waitFor();
        Phone.row(TrialEditor.of(folder).append(TrialFile.READINGS, reading(1600, "")));
    }

    private Process start(String name, int readings, Path said) throws IOException {
        return new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xshare:auto",
                        "-XX:TieredStopAtLevel=1",
                        "-XX:+UseSerialGC",
                        "-cp",
                        System.getProperty("java.class.path"),
                        Program.class.getName(),
                        folder.toString(),
                        name,
                        Integer.toString(readings))
                .redirectErrorStream(true)
                .redirectOutput(said.toFile())
                .start();
    }

    @Test
    void twoPrograms_waitForEachOther(@TempDir Path beside) throws Exception {
        Given given = Given.soundFolder(folder);
        List<Process> programs =
                List.of(start("left", 40, beside.resolve("left")), start("right", 40, beside.resolve("right")));
        for (Process program : programs) {
            assertThat(program.waitFor(2, TimeUnit.MINUTES)).isTrue();
        }
        for (String name : List.of("left", "right")) {
            assertThat(Files.readAllLines(beside.resolve(name))).as(name).hasSize(40 + 5);
        }
        assertThat(entries().values()).hasSize(2 * (40 - 5)).allMatch(count -> count == 1);
        assertThat(given.notes()).isEmpty();
        given.trial();
    }

    /** Complete lines only: a line that was cut off was not said. */
    private static List<String> said(Path file) throws IOException {
        String text = Files.readString(file, UTF_8);
        return text.substring(0, text.lastIndexOf('\n') + 1).lines().toList();
    }

    @Test
    void aProgramKilledAtAnyInstant_leavesASoundFolder_withAllItSaidWasSaved(@TempDir Path beside) throws Exception {
        Given given = Given.soundFolder(folder);
        SplittableRandom random = new SplittableRandom(KILL_SEED);
        Set<String> saved = new TreeSet<>();
        Set<String> removed = new TreeSet<>();
        int unsaid = 0;
        int cutShort = 0;
        int edits = 0;
        for (int kill = 0; kill < KILLS; kill++) {
            if (kill % 50 == 0) { // a fresh sheet now and then, so that a long run does not become one of long files
                Given.soundFolder(folder);
                Files.deleteIfExists(folder.resolve(FolderFiles.REMOVED));
                saved.clear();
                removed.clear();
                unsaid = 0;
            }
            Path said = beside.resolve("said-" + kill);
            Process program = start(Integer.toString(kill), 100_000, said);
            while (Files.size(said) == 0 && program.isAlive()) {
                Thread.sleep(1);
            }
            Thread.sleep(random.nextInt(60), random.nextInt(1_000_000));
            program.destroyForcibly().waitFor();
            for (String line : said(said)) {
                assertThat(line).as("kill %s", kill).matches("[+-]" + kill + "-\\d+");
                (line.startsWith("+") ? saved : removed).add(line.substring(1));
                edits++;
            }
            given.trial();
            assertThat(given.notes()).isEmpty();
            Map<String, Long> there = entries();
            assertThat(there.values()).as("kill %s", kill).allMatch(count -> count == 1);
            int more = there.size();
            int unsaidRemovals = 0;
            for (String entry : saved) {
                if (removed.contains(entry)) {
                    assertThat(there).as("kill %s", kill).doesNotContainKey(entry);
                } else if (!there.containsKey(entry)) {
                    // its removal was on disk when the program died, which could not say so any more
                    TrialEditor.of(folder)
                            .append(TrialFile.READINGS, reading(1600, ""), entry)
                            .fold(
                                    o -> wrong(o),
                                    o -> wrong(o),
                                    o -> o.removed() ? o : wrong(o),
                                    o -> wrong(o),
                                    o -> wrong(o));
                    removed.add(entry);
                    unsaidRemovals++;
                } else {
                    more--;
                }
            }
            // at most one edit of each program that died was on disk and not said
            assertThat(more + unsaidRemovals).as("kill %s", kill).isBetween(unsaid, unsaid + 1);
            unsaid = more;
            try (Stream<Path> files = Files.list(folder)) {
                for (Path torn :
                        files.filter(file -> file.toString().endsWith(".tmp")).toList()) {
                    cutShort++;
                    Files.delete(torn);
                }
            }
        }
        if (KILLS > 25) {
            System.out.println(KILLS + " kills, " + edits + " edits said to be saved, all held; " + cutShort
                    + " kills left an unfinished temporary file");
        }
        assertThat(saved).isNotEmpty();
    }
}
