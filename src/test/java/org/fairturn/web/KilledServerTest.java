package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.fairturn.cli.Fairturn;
import org.fairturn.folder.Problem;
import org.fairturn.folder.TrialEditor;
import org.fairturn.folder.TrialFile;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The server dies while phones enter readings and a laptop fills in a form. A long run by hand: {@code -Dfairturn.kills=300}. */
class KilledServerTest {
    private static final int KILLS = Integer.getInteger("fairturn.kills", 6);
    private static final long SEED = Long.getLong("fairturn.kills.seed", 20260514);
    private static final int PHONES = 4;
    private static final int KILLS_OF_ONE_FOLDER = 20;

    @TempDir
    Path above;

    /** What somebody at the trial sent, and what was answered. */
    private static final class Sent {
        private final Set<String> acknowledged = new TreeSet<>();
        private final Set<String> unanswered = new TreeSet<>();
        private final Set<String> undone = new TreeSet<>();
        private final Set<String> undoUnanswered = new TreeSet<>();
        private String place = "";
        private String placeUnanswered = "";
    }

    /** A browser. */
    private static final class Visitor {
        private final String origin;
        private final HttpClient client =
                HttpClient.newBuilder().cookieHandler(new CookieManager()).build();

        Visitor(String origin) {
            this.origin = origin;
        }

        private HttpResponse<String> send(HttpRequest.Builder request) throws IOException {
            try {
                return client.send(
                        request.timeout(Duration.ofSeconds(30)).build(),
                        HttpResponse.BodyHandlers.ofString(StandardCharsets.UTF_8));
            } catch (InterruptedException stopped) {
                throw new AssertionError(stopped);
            }
        }

        Map<String, String> fields(String page) throws IOException {
            return new HashMap<>(Fields.of(
                    send(HttpRequest.newBuilder(URI.create(origin + page))).body()));
        }

        int post(String page, Map<String, String> fields, String token) throws IOException {
            return send(HttpRequest.newBuilder(URI.create(origin + page))
                            .header("Content-Type", "application/x-www-form-urlencoded")
                            .header("Origin", origin)
                            .header(Guard.TOKEN_HEADER, token)
                            .header("HX-Request", "true")
                            .POST(HttpRequest.BodyPublishers.ofString(Served.encoded(fields))))
                    .statusCode();
        }
    }

    /** Somebody who sends until the server is gone. */
    private abstract static class Sender extends Thread {
        private final List<Throwable> faults = new ArrayList<>();

        abstract void work() throws IOException;

        @Override
        public void run() {
            try {
                work();
            } catch (IOException serverGone) {
                // what this was about
            } catch (RuntimeException | AssertionError fault) {
                faults.add(fault);
            }
        }
    }

    private static final class Phone extends Sender {
        private final Visitor visitor;
        private final String name;
        private final String circle;
        private final Sent sent;

        Phone(String origin, String name, String circle, Sent sent) {
            this.visitor = new Visitor(origin);
            this.name = name;
            this.circle = "/trial/demo/circle/" + circle;
            this.sent = sent;
        }

        @Override
        void work() throws IOException {
            String token = visitor.fields(circle).get("token");
            for (String entry : List.copyOf(sent.unanswered)) {
                enter(entry, token);
            }
            for (String entry : List.copyOf(sent.undoUnanswered)) {
                undo(entry, token);
            }
            for (int i = 0; ; i++) {
                String entry = name + "-entry-" + i;
                sent.unanswered.add(entry);
                enter(entry, token);
                if (i % 4 == 3) {
                    sent.undoUnanswered.add(entry);
                    undo(entry, token);
                }
            }
        }

        private void enter(String entry, String token) throws IOException {
            Map<String, String> fields = new LinkedHashMap<>();
            fields.put("entry", entry);
            fields.put("kind", "across");
            fields.put("value", "62 3/8 in");
            assertThat(visitor.post(circle + "/readings", fields, token))
                    .as(entry)
                    .isEqualTo(200);
            sent.unanswered.remove(entry);
            sent.acknowledged.add(entry);
        }

        private void undo(String entry, String token) throws IOException {
            assertThat(visitor.post(circle + "/undo", Map.of("entry", entry), token))
                    .as(entry)
                    .isEqualTo(200);
            sent.undoUnanswered.remove(entry);
            sent.acknowledged.remove(entry);
            sent.undone.add(entry);
        }
    }

    private static final class Laptop extends Sender {
        private final Visitor visitor;
        private final int kill;
        private final Sent sent;

        Laptop(String origin, int kill, Sent sent) {
            this.visitor = new Visitor(origin);
            this.kill = kill;
            this.sent = sent;
        }

        @Override
        void work() throws IOException {
            for (int i = 0; ; i++) {
                Map<String, String> fields = visitor.fields("/trial/demo/facts");
                String place = "meadow " + kill + " " + i;
                fields.put("place", place);
                sent.placeUnanswered = place;
                assertThat(visitor.post("/trial/demo/facts", fields, fields.get("token")))
                        .isEqualTo(303);
                sent.place = place;
            }
        }
    }

    private Process server(Path folder) throws IOException {
        return new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-Xshare:auto",
                        "-XX:TieredStopAtLevel=1",
                        "-XX:+UseSerialGC",
                        "-cp",
                        System.getProperty("java.class.path"),
                        Fairturn.class.getName(),
                        "serve",
                        folder.toString(),
                        "--port",
                        "0")
                .redirectError(above.resolve("said").toFile())
                .start();
    }

    /** The address a server says it listens at. */
    private static String origin(Process server) throws IOException {
        BufferedReader out = server.inputReader(StandardCharsets.UTF_8);
        String address = out.readLine();
        assertThat(address).as("address").startsWith("http://127.0.0.1:");
        return address.substring(0, address.length() - 1);
    }

    @Test
    void aServerKilledAtAnyInstant_keepsEveryAcknowledgedReadingOnce_andTakesTheOthersOnceWhenSentAgain()
            throws Exception {
        SplittableRandom random = new SplittableRandom(SEED);
        List<Sent> sent = new ArrayList<>();
        Path folder = above.resolve("none");
        int acknowledged = 0;
        int keptUnanswered = 0;
        int sentAgain = 0;
        int leftovers = 0;
        for (int kill = 0; kill < KILLS; kill++) {
            if (kill % KILLS_OF_ONE_FOLDER == 0) { // or a long run would become one of long files
                folder = Served.copy(Served.DEMO, above.resolve("of " + kill).resolve("demo"));
                sent.clear();
                for (int i = 0; i <= PHONES; i++) {
                    sent.add(new Sent());
                }
            }
            Set<String> again = new TreeSet<>();
            sent.forEach(one -> again.addAll(one.unanswered));
            sentAgain += again.size();
            int before = sent.stream().mapToInt(one -> one.acknowledged.size()).sum();
            killWhileTheySend(folder, kill, sent, random);
            acknowledged +=
                    sent.stream().mapToInt(one -> one.acknowledged.size()).sum() - before;
            Map<String, Long> there = entries(folder);
            for (Sent one : sent) {
                keptUnanswered +=
                        (int) one.unanswered.stream().filter(there::containsKey).count();
            }
            check(kill, folder, sent, there);
            leftovers = Math.max(leftovers, leftovers(folder));
        }
        // once more, in peace: what was never answered arrives, once
        Process server = server(folder);
        try {
            String origin = origin(server);
            for (int i = 0; i < PHONES; i++) {
                Sent one = sent.get(i);
                Phone phone = new Phone(origin, "last", "A" + (i + 1), one);
                String token = phone.visitor.fields(phone.circle).get("token");
                for (String entry : List.copyOf(one.unanswered)) {
                    phone.enter(entry, token);
                }
                for (String entry : List.copyOf(one.undoUnanswered)) {
                    phone.undo(entry, token);
                }
                assertThat(one.unanswered).isEmpty();
            }
        } finally {
            server.destroyForcibly().waitFor();
        }
        check(KILLS, folder, sent, entries(folder));
        assertThat(acknowledged).isPositive();
        if (KILLS > 20) {
            System.out.println(KILLS + " kills, " + acknowledged + " readings acknowledged, all there once; "
                    + keptUnanswered + " on disk without an answer, " + sentAgain + " sent again; at most " + leftovers
                    + " unfinished temporary files in a folder");
        }
    }

    private void killWhileTheySend(Path folder, int kill, List<Sent> sent, SplittableRandom random) throws Exception {
        Process server = server(folder);
        List<Sender> senders = new ArrayList<>();
        try {
            String origin = origin(server);
            for (int i = 0; i < PHONES; i++) {
                senders.add(new Phone(origin, "k" + kill + "-phone-" + i, "A" + (i + 1), sent.get(i)));
            }
            senders.add(new Laptop(origin, kill, sent.get(PHONES)));
            senders.forEach(Thread::start);
            Thread.sleep(random.nextInt(150, 1200), random.nextInt(1_000_000));
        } finally {
            server.destroyForcibly().waitFor();
        }
        for (Sender sender : senders) {
            sender.join();
            assertThat(sender.faults).as("kill %s", kill).isEmpty();
        }
    }

    /** How often each entry id stands in the readings. */
    private static Map<String, Long> entries(Path folder) {
        return TrialEditor.of(folder).rows(TrialFile.READINGS).rows().stream()
                .map(row -> row.cell("entry"))
                .filter(entry -> !entry.isEmpty())
                .collect(Collectors.groupingBy(entry -> entry, Collectors.counting()));
    }

    private static void check(int kill, Path folder, List<Sent> sent, Map<String, Long> there) {
        List<Problem> problems = TrialFolder.read(folder).fold(read -> List.of(), TrialRead.Faulty::problems);
        assertThat(problems).as("kill %s", kill).isEmpty();
        assertThat(there.values()).as("kill %s", kill).allMatch(count -> count == 1);
        Set<String> known = new TreeSet<>();
        for (Sent one : sent) {
            Set<String> kept = new TreeSet<>(one.acknowledged);
            kept.removeAll(one.undoUnanswered); // may be out or in, until it is sent again
            assertThat(there.keySet()).as("kill %s", kill).containsAll(kept);
            assertThat(one.undone).as("kill %s", kill).noneMatch(there::containsKey);
            known.addAll(one.acknowledged);
            known.addAll(one.unanswered);
        }
        assertThat(known).as("kill %s", kill).containsAll(there.keySet());
        Sent laptop = sent.get(PHONES);
        String place = TrialEditor.of(folder).rows(TrialFile.TRIAL).rows().stream()
                .filter(row -> row.cell("field").equals("place"))
                .map(row -> row.cell("value"))
                .findFirst()
                .orElseThrow();
        if (!laptop.place.isEmpty()) {
            assertThat(place).as("kill %s", kill).isIn(laptop.place, laptop.placeUnanswered);
        }
        laptop.place = place;
    }

    private static int leftovers(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return (int) files.filter(file -> file.toString().endsWith(".tmp")).count();
        }
    }
}
