package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.fairturn.folder.Interrupted;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The disk and the folder while the server is open: full, gone, half written, in somebody else's hands too. */
class DisturbedFolderTest {
    private static final String A3 = "/trial/demo/circle/A3";
    private static final String NOT_WRITTEN =
            "readings.csv: found no way to write it; accepted: a file and a folder you may write to, with room on the disk."
                    + " The file is as it was. Where a spreadsheet has it open, close it there; then save again.";

    @TempDir
    Path above;

    private static Map<String, String> reading(String entry, String value) {
        Map<String, String> fields = new LinkedHashMap<>();
        fields.put("entry", entry);
        fields.put("kind", "across");
        fields.put("value", value);
        fields.put("remark", "wet \"edge\"");
        return fields;
    }

    /** As a page's script sends it. */
    private static HttpResponse<String> sent(Served phone, String address, String token, Map<String, String> fields) {
        return phone.send(phone.form(address, fields)
                .header("Origin", phone.origin())
                .header(Guard.TOKEN_HEADER, token)
                .header("HX-Request", "true"));
    }

    private static HttpResponse<String> sent(Served phone, Map<String, String> fields) {
        return sent(phone, A3 + "/readings", phone.token(A3), fields);
    }

    private static List<String> entries(Path trial) throws IOException {
        return Files.readAllLines(trial.resolve("readings.csv")).stream()
                .filter(row -> row.contains("phone-"))
                .map(row -> row.substring(row.lastIndexOf(',') + 1))
                .toList();
    }

    private static Map<String, String> contents(Path folder) {
        Map<String, String> contents = new TreeMap<>();
        try (var files = Files.walk(folder)) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                String name = folder.relativize(file).toString();
                if (!name.endsWith(".fairturn.lock")) {
                    contents.put(name, Files.readString(file, StandardCharsets.ISO_8859_1));
                }
            }
            return contents;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2})
    void aFullDisk_isSaidToThePhone_andWhatItAcknowledgedBefore_isThereOnce(int step) throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            assertThat(sent(served, reading("phone-one-0001", "62 in")).statusCode())
                    .isEqualTo(200);
            Map<String, String> before = contents(demo);
            List<HttpResponse<String>> answers = new ArrayList<>();
            assertThat(Interrupted.fullFrom(step, () -> {
                        answers.add(sent(served, reading("phone-one-0002", "63 in")));
                        answers.add(sent(served, reading("phone-one-0003", "64 in")));
                    }))
                    .isTrue();
            assertThat(answers).allSatisfy(answer -> {
                assertThat(answer.statusCode()).isEqualTo(503);
                assertThat(answer.body()).isEqualTo(NOT_WRITTEN);
            });
            assertThat(contents(demo)).isEqualTo(before);
            assertThat(sent(served, reading("phone-one-0003", "64 in")).statusCode())
                    .isEqualTo(200);
            assertThat(entries(demo)).containsExactly("phone-one-0001", "phone-one-0003");
        }
    }

    @Test
    void whatIsWritten_butNotConfirmedByTheDisk_isNotCalledSaved_untilItIs() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            List<HttpResponse<String>> answers = new ArrayList<>();
            assertThat(Interrupted.fullFrom(3, () -> answers.add(sent(served, reading("phone-one-0001", "62 in")))))
                    .isTrue();
            assertThat(answers.get(0).statusCode()).isEqualTo(503);
            assertThat(answers.get(0).body()).doesNotContain("Saved");
            assertThat(sent(served, reading("phone-one-0001", "62 in")).statusCode())
                    .isEqualTo(200);
            assertThat(entries(demo)).containsExactly("phone-one-0001");
        }
    }

    @Test
    void manyPhonesWhileTheDiskFillsUp_findEachReadingOnce_thatWasAcknowledged() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String token = served.token(A3);
            Set<String> saved = ConcurrentHashMap.newKeySet();
            Set<String> refused = ConcurrentHashMap.newKeySet();
            Runnable work = () -> {
                ExecutorService phones = Executors.newFixedThreadPool(5);
                for (int i = 0; i < 40; i++) {
                    String entry = "phone-" + i % 5 + "-entry-" + i;
                    phones.execute(() -> {
                        HttpResponse<String> answer =
                                sent(served, A3 + "/readings", token, reading(entry, "62 " + 1 + "/8 in"));
                        (answer.statusCode() == 200 ? saved : refused).add(entry);
                    });
                }
                phones.shutdown();
                try {
                    assertThat(phones.awaitTermination(60, TimeUnit.SECONDS)).isTrue();
                } catch (InterruptedException e) {
                    throw new AssertionError(e);
                }
            };
            assertThat(Interrupted.fullFrom(17, work)).isTrue();
            assertThat(saved).isNotEmpty();
            assertThat(refused).isNotEmpty();
            assertThat(saved.size() + refused.size()).isEqualTo(40);
            assertThat(entries(demo)).doesNotHaveDuplicates().containsAll(saved);
            for (String entry : refused) {
                assertThat(sent(served, A3 + "/readings", token, reading(entry, "62 1/8 in"))
                                .statusCode())
                        .isEqualTo(200);
            }
            assertThat(entries(demo)).doesNotHaveDuplicates().hasSize(40);
        }
    }

    /** Each form whose page writes: the address, a field of it, what is typed into it. */
    @ParameterizedTest
    @CsvSource({
        "/new,/new,title,Upper meadow zq",
        "/trial/demo/facts,/trial/demo/facts,place,behind the barn zq",
        "/trial/demo/machine,/trial/demo/machine,machine.machine,Cedar zq",
        "/trial/demo/machine/Alder-22-17e1948c,/trial/demo/machine/Alder-22-17e1948c,machine.label,a label zq",
        "/trial/demo/circle/A3,/trial/demo/circle/A3/readings,value,63 1/8 in",
        "/trial/demo/circle/A3,/trial/demo/circle/A3,circle.remark,came off full lock zq",
        "/trial/demo/row/claims/3,/trial/demo/row/claims/3,cell.remark,a remark zq",
        "/trial/demo/circles,/trial/demo/circles,each,7"
    })
    void aFullDisk_isSaidOnEveryPage_whichKeepsWhatWasTyped(String page, String address, String field, String typed) {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            Map<String, String> form = Fields.of(served.get(page).body());
            assertThat(form).containsKey(field);
            form.put(field, typed);
            if (address.endsWith("/readings")) { // there are other forms on its page
                form.putAll(reading("phone-one-0001", typed));
                form.put("bearing", "");
            }
            if (page.endsWith("/new")) {
                form.put("date", "2026-05-14");
            }
            if (page.endsWith("/circles")) {
                form.put("turns", "left");
                form.put("drives", "2WD");
            }
            form.remove("out"); // the button that takes a row out
            form.remove("");
            Map<String, String> before = contents(above);
            List<HttpResponse<String>> answers = new ArrayList<>();
            assertThat(Interrupted.fullFrom(1, () -> answers.add(served.post(address, form))))
                    .as(form.toString())
                    .isTrue();
            HttpResponse<String> answer = answers.get(0);
            assertThat(answer.statusCode()).as(address).isIn(422, 503);
            assertThat(answer.body().replace("has to be mended", "have to be mended"))
                    .containsIgnoringCase("found no way to")
                    .contains("have to be mended", typed)
                    .doesNotContain("class=\"said\"", "fault of its own");
            assertThat(contents(above)).isEqualTo(before);
            assertThat(served.post(address, form).statusCode())
                    .as("with room again")
                    .isEqualTo(303);
            assertThat(contents(demo.getParent())).isNotEqualTo(before);
        }
    }

    /** With -Dfairturn.small.disk=FOLDER, an empty file system of a few hundred kilobytes. */
    @Test
    void aDiskThatIsReallyFull() throws IOException {
        String small = System.getProperty("fairturn.small.disk");
        Assumptions.assumeTrue(small != null, "needs a small disk");
        Path disk = Files.createDirectory(Path.of(small).resolve("served"));
        Path demo = Served.demoBelow(disk);
        try (Served served = Served.on(disk)) {
            List<String> saved = new ArrayList<>();
            int i = 0;
            HttpResponse<String> last;
            do {
                Map<String, String> reading = reading("phone-one-" + (1000 + i), "62 in");
                reading.put("remark", "long ".repeat(1000));
                last = sent(served, reading);
                if (last.statusCode() == 200) {
                    saved.add("phone-one-" + (1000 + i));
                }
                i++;
            } while (last.statusCode() == 200 && i < 1000);
            assertThat(last.statusCode()).isEqualTo(503);
            assertThat(last.body()).isEqualTo(NOT_WRITTEN);
            assertThat(saved).isNotEmpty();
            assertThat(entries(demo)).isEqualTo(saved);
            try (var files = Files.list(demo)) {
                assertThat(files.map(f -> f.getFileName().toString())).noneMatch(name -> name.endsWith(".tmp"));
            }
        }
    }

    /** With -Dfairturn.read.only=FOLDER, a file system without a way to write that holds a trial folder "trial". */
    @Test
    void aDiskThatCannotBeWritten() {
        String disk = System.getProperty("fairturn.read.only");
        Assumptions.assumeTrue(disk != null, "needs a disk that cannot be written");
        try (Served served = Served.on(Path.of(disk))) {
            String circles = served.get("/trial/trial/circles").body();
            var circle = java.util.regex.Pattern.compile("href=\"(/trial/trial/circle/[^\"#]+)\"")
                    .matcher(circles);
            assertThat(circle.find()).isTrue();
            HttpResponse<String> answer = sent(
                    served,
                    circle.group(1) + "/readings",
                    served.token(circle.group(1)),
                    reading("phone-one-1", "62 in"));
            assertThat(answer.statusCode()).isEqualTo(503);
            assertThat(answer.body())
                    .contains("found no way to write it; accepted: a file and a folder you may write to");
            assertThat(served.get("/trial/trial/findings").statusCode()).isEqualTo(200);
        }
    }

    @Test
    void theOneFolderServed_gone_isSaid_andTakesWhatWasTyped_onceItIsBack() throws IOException {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(demo)) {
            String token = served.token(A3);
            assertThat(sent(served, reading("phone-one-0001", "62 in")).statusCode())
                    .isEqualTo(200);
            Path away = Files.move(demo, above.resolve("away"));
            for (String page : List.of("/", "/trial/demo", A3, A3 + "/estimate", "/trial/demo/findings", "/convert")) {
                HttpResponse<String> answer = served.get(page);
                assertThat(answer.body()).as(page).doesNotContain("fault of its own", "Exception");
                assertThat(answer.statusCode()).as(page).isIn(200, 500, 503);
            }
            HttpResponse<String> answer = sent(served, A3 + "/readings", token, reading("phone-one-0002", "63 in"));
            assertThat(answer.statusCode())
                    .as("not now; a page keeps it and sends it again")
                    .isEqualTo(503);
            assertThat(answer.body()).contains("The folder of this trial is not there", "63 in");
            assertThat(demo).as("nothing is made in its place").doesNotExist();
            Files.move(away, demo);
            assertThat(sent(served, A3 + "/readings", token, reading("phone-one-0002", "63 in"))
                            .statusCode())
                    .isEqualTo(200);
            assertThat(entries(demo)).containsExactly("phone-one-0001", "phone-one-0002");
        }
    }

    @Test
    void theFolderOfTheTrials_gone_isSaid_andWorksAgain_onceItIsBack() throws IOException {
        Path shelf = Files.createDirectory(above.resolve("shelf"));
        Path demo = Served.demoBelow(shelf);
        try (Served served = Served.on(shelf)) {
            String token = served.token(A3);
            Path away = Files.move(shelf, above.resolve("away"));
            for (String page : List.of("/", "/trial/demo", A3, "/trial/demo/findings")) {
                assertThat(served.get(page).body())
                        .as(page)
                        .contains("The folder of the trials cannot be opened")
                        .doesNotContain("fault of its own");
            }
            HttpResponse<String> answer = sent(served, A3 + "/readings", token, reading("phone-one-0001", "63 in"));
            assertThat(answer.statusCode()).isBetween(500, 599);
            HttpResponse<String> made =
                    served.send(served.form("/new", Map.of("title", "B", "date", "2026-05-14", "length unit", "mm"))
                            .header("Origin", served.origin())
                            .header(Guard.TOKEN_HEADER, token));
            assertThat(made.statusCode()).isEqualTo(500);
            assertThat(made.body())
                    .contains("The folder of the trials cannot be opened", "<li>title: <strong>B</strong></li>");
            assertThat(shelf).doesNotExist();
            Files.move(away, shelf);
            assertThat(sent(served, reading("phone-one-0001", "63 in")).statusCode())
                    .isEqualTo(200);
            assertThat(entries(demo)).containsExactly("phone-one-0001");
        }
    }

    @Test
    void aFileAnotherProgramHasHalfWritten_isLeftAlone_andTheReadingWaitsUntilItIsWhole() throws IOException {
        Path demo = Served.demoBelow(above);
        Path file = demo.resolve("readings.csv");
        try (Served served = Served.on(above)) {
            sent(served, reading("phone-one-0001", "62 in"));
            byte[] whole = Files.readAllBytes(file);
            int quote = new String(whole, StandardCharsets.UTF_8).lastIndexOf('"');
            byte[] half = java.util.Arrays.copyOf(whole, quote - 2); // within quotes that are not closed
            Files.write(file, half);
            HttpResponse<String> answer = sent(served, reading("phone-one-0002", "63 in"));
            assertThat(answer.statusCode()).isEqualTo(503);
            assertThat(answer.body()).startsWith("readings.csv").contains("accepted:");
            assertThat(Files.readAllBytes(file)).isEqualTo(half);
            assertThat(served.get("/trial/demo/problems").body()).contains("readings.csv");
            Files.write(file, new byte[0]);
            assertThat(served.get(A3).statusCode()).isEqualTo(200);
            Files.write(file, whole);
            assertThat(sent(served, reading("phone-one-0002", "63 in")).statusCode())
                    .isEqualTo(200);
            assertThat(entries(demo)).containsExactly("phone-one-0001", "phone-one-0002");
        }
    }

    @Test
    void commandsOfAnotherProgram_onTheFolderThatIsServed_andPhonesMeanwhile_keepEachOthersRows() throws Exception {
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            String token = served.token(A3);
            Process plan = new ProcessBuilder(
                            Path.of(System.getProperty("java.home"), "bin", "java")
                                    .toString(),
                            "-XX:TieredStopAtLevel=1",
                            "-cp",
                            System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
                            "org.fairturn.cli.Fairturn",
                            "plan",
                            "--folder",
                            demo.toString(),
                            "--ask",
                            "drive",
                            "--out",
                            demo.toString())
                    .redirectErrorStream(true)
                    .redirectOutput(above.resolve("said").toFile())
                    .start();
            List<String> saved = new ArrayList<>();
            for (int i = 0; plan.isAlive() || i < 20; i++) {
                String entry = "phone-one-" + (1000 + i);
                assertThat(sent(served, A3 + "/readings", token, reading(entry, "62 in"))
                                .statusCode())
                        .isEqualTo(200);
                saved.add(entry);
                assertThat(i).isLessThan(20_000);
            }
            assertThat(plan.exitValue())
                    .as(Files.readString(above.resolve("said")))
                    .isZero();
            assertThat(entries(demo)).containsExactlyElementsOf(saved);
            List<String> circles = Files.readAllLines(demo.resolve("circles.csv"));
            assertThat(circles)
                    .hasSizeGreaterThan(Files.readAllLines(Served.DEMO.resolve("circles.csv"))
                            .size());
            String page = served.get("/trial/demo/circles").body();
            String last = circles.get(circles.size() - 1);
            assertThat(page).contains(last.substring(0, last.indexOf(',')));
            assertThat(served.get("/trial/demo/problems").body()).contains("Every row can be read.");
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "المرج السفلي",
                "ทุ่งหญ้า ๒",
                "草地 試験",
                "🚜 🌱",
                "lower meadow",
                "50 % #1",
                "a%2fb",
                "a?b&c=d",
                "it's; a + name",
                "cafe\u0301"
            })
    void aFolderOfAnyName_isServed_editedAndHandedOver(String name) throws IOException {
        Assumptions.assumeTrue(
                "UTF-8".equals(System.getProperty("sun.jnu.encoding")), "this system names no files in UTF-8");
        Path trial = Served.copy(Served.DEMO, above.resolve(name));
        String photo = "photo " + name + " #1 50%.jpg";
        Files.writeString(trial.resolve(photo), "a picture");
        try (Served served = Served.on(above)) {
            String id = Slug.of(name);
            assertThat(served.get("/").body()).contains("href=\"/trial/" + id);
            for (String page : List.of("", "/circles", "/problems", "/facts", "/file/trial.csv", "/card")) {
                assertThat(served.get("/trial/" + id + page).statusCode())
                        .as(page)
                        .isEqualTo(200);
            }
            String circle = "/trial/" + id + "/circle/A3";
            HttpResponse<String> answer =
                    sent(served, circle + "/readings", served.token(circle), reading("phone-one-0001", "62 in"));
            assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
            assertThat(entries(trial)).containsExactly("phone-one-0001");
            HttpResponse<byte[]> zip = served.bytes("/trial/" + id + "/file/trial.zip");
            assertThat(zip.statusCode()).isEqualTo(200);
            assertThat(zip.headers().firstValue("Content-Disposition").orElseThrow())
                    .as("an attachment under a name that every browser can write")
                    .matches("attachment; filename=\"[A-Za-z0-9. _-]+\\.zip\".*");
            assertThat(served.get("/trial/" + id + "/file/" + id).statusCode()).isEqualTo(404);
            assertThat(Files.readString(trial.resolve(photo))).isEqualTo("a picture");
        }
        assertThat(new File(above.toFile(), name)).isDirectory();
    }
}
