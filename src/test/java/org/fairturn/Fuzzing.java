package org.fairturn;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * Gives a door inputs made of sound ones, for a second each in a build and for {@code -Dfairturn.fuzz.seconds=600} on their
 * own; {@code -Dfairturn.fuzz.seed=2} makes others. What a door could not stand is written to {@code target/fuzz-failed};
 * made smaller if it can be; once mended it goes to {@code testdata/once-failed/<target>} and is tried first, always.
 */
public final class Fuzzing {
    private static final Path ONCE_FAILED = Path.of("testdata/once-failed");
    private static final Path FAILED = Path.of("target/fuzz-failed");
    private static final long SECONDS = Long.getLong("fairturn.fuzz.seconds", 1);
    private static final long SEED = Long.getLong("fairturn.fuzz.seed", 1);
    /** Of a processor: whatever grows with the square of its input takes longer. */
    private static final Duration LONGEST = Duration.ofSeconds(5);
    /** By the clock, however much else the machine has to do. */
    private static final Duration PATIENCE = Duration.ofMinutes(1);

    private static final int FEWEST = 20;

    private Fuzzing() {}

    /** Takes what comes from outside, and fails where it breaks a promise. */
    public interface Door {
        /** Whether the input was understood. */
        boolean take(byte[] input) throws Exception;
    }

    /** Texts, changed with words that mean something at the door. */
    public static void texts(String target, Door door, List<String> words, List<String> seeds) {
        run(target, door, random -> {
            Mutator mutator = new Mutator(random, words);
            String seed = seeds.get(random.nextInt(seeds.size()));
            return random.nextInt(16) == 0 ? seed.getBytes(StandardCharsets.UTF_8) : mutator.changedBytes(seed, seeds);
        });
    }

    /** Bytes, changed without knowing what they mean. */
    public static void bytes(String target, Door door, List<byte[]> seeds) {
        run(target, door, random -> {
            byte[] seed = seeds.get(random.nextInt(seeds.size()));
            return random.nextInt(16) == 0 ? seed : new Mutator(random, List.of()).changed(seed);
        });
    }

    /** Anything, made by a function of its own. */
    public static void run(String target, Door door, Function<SplittableRandom, byte[]> maker) {
        onceFailed(target).forEach(file -> take(target, door, content(file)));
        SplittableRandom random = new SplittableRandom(SEED);
        long end = System.nanoTime() + TimeUnit.SECONDS.toNanos(SECONDS);
        long taken = 0;
        long understood = 0;
        while (taken < FEWEST || System.nanoTime() < end) {
            understood += take(target, door, maker.apply(random)) ? 1 : 0;
            taken++;
        }
        if (SECONDS > 1) {
            System.out.printf("%s: %,d inputs, %,d of them understood%n", target, taken, understood);
        }
        if (understood == 0 || understood == taken) {
            throw new AssertionError(target + ": of " + taken + " inputs " + understood
                    + " were understood, so that one" + " side of the door was never tried");
        }
    }

    private static boolean take(String target, Door door, byte[] input) {
        ScheduledFuture<?> late =
                CLOCK.schedule(() -> keep(target + "-hangs", input), PATIENCE.toMillis(), TimeUnit.MILLISECONDS);
        long began = THREADS.getCurrentThreadCpuTime();
        try {
            boolean understood = door.take(input);
            Duration took = Duration.ofNanos(THREADS.getCurrentThreadCpuTime() - began);
            if (took.compareTo(LONGEST) > 0 || late.isDone()) {
                throw new AssertionError("it took " + took + " of a processor, or more than " + PATIENCE);
            }
            return understood;
        } catch (Exception | AssertionError | StackOverflowError | OutOfMemoryError broken) {
            byte[] smaller = smaller(door, input, broken);
            Path kept = keep(target, smaller);
            throw new AssertionError(
                    target + " does not stand " + kept + ": " + broken + "\n" + shown(smaller), broken);
        } finally {
            late.cancel(false);
        }
    }

    /** A smaller input that fails alike: for some seconds a piece after the other is left out. */
    private static byte[] smaller(Door door, byte[] input, Throwable broken) {
        long end = System.nanoTime() + LONGEST.toNanos();
        byte[] now = input;
        for (int size = now.length / 2; size > 0; size /= 2) {
            int at = 0;
            while (at < now.length && System.nanoTime() < end) {
                byte[] less = new byte[now.length - Math.min(size, now.length - at)];
                System.arraycopy(now, 0, less, 0, at);
                System.arraycopy(now, now.length - less.length + at, less, at, less.length - at);
                if (fails(door, less).filter(other -> alike(other, broken)).isPresent()) {
                    now = less;
                } else {
                    at += size;
                }
            }
        }
        return now;
    }

    private static Optional<Throwable> fails(Door door, byte[] input) {
        try {
            door.take(input);
            return Optional.empty();
        } catch (Exception | AssertionError | StackOverflowError | OutOfMemoryError broken) {
            return Optional.of(broken);
        }
    }

    /** In the same place with the same words, up to what they quote. */
    private static boolean alike(Throwable one, Throwable other) {
        return one.getClass() == other.getClass() && words(one).equals(words(other));
    }

    private static String words(Throwable broken) {
        String message = String.valueOf(broken.getMessage());
        StackTraceElement[] trace = broken.getStackTrace();
        return message.replaceAll("(?s)[:<\"].*", "")
                + (trace.length > 0 && !(broken instanceof StackOverflowError) ? trace[0] : "");
    }

    private static final ThreadMXBean THREADS = ManagementFactory.getThreadMXBean();

    private static final ScheduledExecutorService CLOCK = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "fuzzing-clock");
        thread.setDaemon(true);
        return thread;
    });

    private static Path keep(String target, byte[] input) {
        try {
            String name = HexFormat.of().toHexDigits(Arrays.hashCode(input));
            return Files.write(Files.createDirectories(FAILED.resolve(target)).resolve(name), input);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String shown(byte[] input) {
        String text = new String(input, StandardCharsets.UTF_8);
        return text.length() > 2_000 ? text.substring(0, 2_000) + "…" : text;
    }

    private static List<Path> onceFailed(String target) {
        Path folder = ONCE_FAILED.resolve(target);
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> files = Files.list(folder)) {
            return files.sorted().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static byte[] content(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** For texts that may quote an input and must hold nothing of the program's insides. */
    public static void neverATrace(String text, String input) {
        for (String inside : List.of("\tat ", "Exception", "java.", "org.fairturn", "jetty", "javalin", "gg.jte")) {
            if (text.contains(inside) && !input.contains(inside)) {
                throw new AssertionError("the program's insides show: " + inside);
            }
        }
    }

    /** Fails where a promise is broken. */
    public static void promise(boolean kept, String what) {
        if (!kept) {
            throw new AssertionError(what);
        }
    }
}
