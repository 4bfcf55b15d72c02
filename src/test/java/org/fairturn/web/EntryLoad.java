package org.fairturn.web;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.Stream;

/**
 * Phones that enter readings at the same time, to be run by hand: how long saving takes, and whether a reading is lost or
 * doubled. Every tenth reading is sent twice, as after a lost answer; each phone looks for news and for the estimate too.
 *
 * <p>Arguments: phones, seconds, pause between the readings of a phone in milliseconds. The first ten seconds, in which all
 * phones begin at once and Java still compiles, come on top and are told apart.
 */
final class EntryLoad {
    private static final Duration WARMING = Duration.ofSeconds(10);

    /** An answer: when its request was sent, and how long it took (ms). */
    private record Timed(long sent, double millis) {}

    private EntryLoad() {}

    public static void main(String... args) throws IOException, InterruptedException {
        int phones = args.length > 0 ? Integer.parseInt(args[0]) : 20;
        long seconds = args.length > 1 ? Long.parseLong(args[1]) : 60;
        int pause = args.length > 2 ? Integer.parseInt(args[2]) : 1000;
        Path above = Files.createTempDirectory("load");
        Path demo = Served.demoBelow(above);
        try (Served served = Served.on(above)) {
            List<Phone> all = new ArrayList<>();
            long end = System.nanoTime() + Duration.ofSeconds(seconds).toNanos();
            long begin = System.nanoTime();
            long warm = begin + WARMING.toNanos();
            end += WARMING.toNanos();
            for (int i = 0; i < phones; i++) {
                Phone phone = new Phone(served.sameServer(), i, end, pause);
                phone.start();
                all.add(phone);
            }
            for (Phone phone : all) {
                phone.join();
            }
            List<String> rows = Files.readAllLines(demo.resolve("readings.csv"));
            Map<String, Integer> found = new LinkedHashMap<>();
            rows.forEach(row -> found.merge(row.substring(row.lastIndexOf(',') + 1), 1, Integer::sum));
            List<String> acknowledged =
                    all.stream().flatMap(phone -> phone.acknowledged.stream()).toList();
            long lost =
                    acknowledged.stream().filter(id -> !found.containsKey(id)).count();
            long doubled = acknowledged.stream()
                    .filter(id -> found.getOrDefault(id, 0) > 1)
                    .count();
            System.out.printf(
                    Locale.ROOT, "%d readings acknowledged, %d lost, %d doubled%n", acknowledged.size(), lost, doubled);
            tell("first", all.stream().flatMap(phone -> phone.saves.stream()).filter(timed -> timed.sent() < warm));
            tell("save", all.stream().flatMap(phone -> phone.saves.stream()).filter(timed -> timed.sent() >= warm));
            tell("news", all.stream().flatMap(phone -> phone.news.stream()).filter(timed -> timed.sent() >= warm));
            tell("page", all.stream().flatMap(phone -> phone.pages.stream()).filter(timed -> timed.sent() >= warm));
            tell(
                    "estimate",
                    all.stream().flatMap(phone -> phone.estimates.stream()).filter(timed -> timed.sent() >= warm));
        }
    }

    private static void tell(String what, Stream<Timed> times) {
        List<Double> sorted = times.map(Timed::millis).sorted().toList();
        if (!sorted.isEmpty()) {
            System.out.printf(
                    Locale.ROOT,
                    "%-8s %6d answers, median %.1f ms, 99 %% %.1f ms, longest %.1f ms%n",
                    what,
                    sorted.size(),
                    sorted.get(sorted.size() / 2),
                    sorted.get((int) Math.min(sorted.size() - 1, Math.ceil(0.99 * sorted.size()) - 1)),
                    sorted.get(sorted.size() - 1));
        }
    }

    /** One phone with cookies of its own. */
    private static final class Phone extends Thread {
        private final Served served;
        private final int number;
        private final long end;
        private final int pause;
        private final SplittableRandom random;
        private final List<String> acknowledged = new ArrayList<>();
        private final List<Timed> saves = new ArrayList<>();
        private final List<Timed> news = new ArrayList<>();
        private final List<Timed> pages = new ArrayList<>();
        private final List<Timed> estimates = new ArrayList<>();

        Phone(Served served, int number, long end, int pause) {
            this.served = served;
            this.number = number;
            this.end = end;
            this.pause = pause;
            this.random = new SplittableRandom(number);
        }

        @Override
        public void run() {
            String circle = "/trial/demo/circle/A" + (1 + number % 11);
            String token = served.token(circle);
            for (int i = 0; System.nanoTime() < end; i++) {
                Map<String, String> fields = new LinkedHashMap<>();
                fields.put("entry", "load-" + number + "-" + i);
                fields.put("kind", "across");
                fields.put("value", 62 + random.nextInt(4) + " " + (1 + random.nextInt(7)) + "/8 in");
                for (int times = i % 10 == 0 ? 2 : 1; times > 0; times--) {
                    HttpResponse<String> answer = timed(
                            saves,
                            () -> served.send(served.form(circle + "/readings", fields)
                                    .header("Origin", served.origin())
                                    .header(Guard.TOKEN_HEADER, token)
                                    .header("HX-Request", "true")));
                    if (answer.statusCode() == 200 && times == 1) {
                        acknowledged.add(fields.get("entry"));
                    } else if (answer.statusCode() != 200) {
                        System.out.println(answer.statusCode() + " " + answer.body());
                    }
                }
                timed(estimates, () -> served.get(circle + "/estimate"));
                if (i % 5 == 0) {
                    timed(news, () -> served.get(circle + "/readings?version=old"));
                }
                if (i % 10 == 0) {
                    timed(pages, () -> served.get(circle));
                }
                rest();
            }
        }

        private void rest() {
            try {
                if (pause > 0) {
                    Thread.sleep(random.nextInt(pause / 2, pause + pause / 2));
                }
            } catch (InterruptedException stopped) {
                Thread.currentThread().interrupt();
            }
        }

        private static HttpResponse<String> timed(
                List<Timed> times, java.util.function.Supplier<HttpResponse<String>> request) {
            long start = System.nanoTime();
            HttpResponse<String> answer = request.get();
            times.add(new Timed(start, (System.nanoTime() - start) / 1e6));
            return answer;
        }
    }
}
