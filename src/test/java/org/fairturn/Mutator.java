package org.fairturn;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Makes odd texts and bytes of sound ones: it knows cells, lines and words, so that most of what it makes gets past the door. */
public final class Mutator {
    /** What has broken programs before, and what spreadsheets, phones and people make of a cell. */
    private static final List<String> ODD = List.of(
            "",
            " ",
            "\t",
            ",",
            ";",
            "\"",
            "\"\"",
            "'",
            "\n",
            "\r",
            "\r\n",
            "\0",
            "\u001b[2J",
            "\uFEFF",
            "\u00a0",
            "\u2028",
            "\u202e",
            "\u200d",
            "\ud83d\ude9c",
            "e\u0301",
            "ß",
            "İ",
            "\uFFFD",
            "٣",
            "１",
            "½",
            "−",
            "–",
            "0",
            "-0",
            "1",
            "1e9",
            "1e-9",
            "1e400",
            "NaN",
            "Infinity",
            "0x1p3",
            "1d",
            "99999999999999999999",
            "1.",
            ".5",
            ".",
            "1,5",
            "3/8",
            "1/0",
            "8-Mar",
            "Mar-08",
            "3. Aug",
            "2026-05-14",
            "0000-00-00",
            "+999999999-12-31",
            "#REF!",
            "#NAME?",
            "=1+1",
            "+1",
            "-1",
            "@x",
            "=HYPERLINK(\"http://x.example\")",
            "<script>alert(1)</script>",
            "\"><b>",
            "${7*7}",
            "%s%n",
            "%zz",
            "%00",
            "../../etc/passwd",
            "..\\..",
            "NUL",
            "con",
            "{",
            "}",
            "[",
            "]",
            "null",
            "true");

    private static final Pattern WORD = Pattern.compile("[^,;\\s\"]+");
    private static final int MOST_REPEATS = 3_000;
    private static final int LONGEST = 30_000;

    private final SplittableRandom random;
    private final List<String> words;

    /**
     * With words of its own.
     *
     * @param words that mean something at the door in question
     */
    public Mutator(SplittableRandom random, List<String> words) {
        this.random = random;
        this.words = List.copyOf(words);
    }

    /** The text after one to six changes. */
    public String changed(String text, List<String> others) {
        String now = text;
        int changes = 1 + random.nextInt(6);
        for (int i = 0; i < changes; i++) {
            now = once(now, others);
        }
        return now.length() <= LONGEST ? now : now.substring(0, LONGEST);
    }

    /** Some of it changed as text, some as bytes. */
    public byte[] changedBytes(String text, List<String> others) {
        byte[] bytes = changed(text, others).getBytes(StandardCharsets.UTF_8);
        return switch (random.nextInt(20)) {
            case 0 -> changed(bytes);
            case 1 -> text.getBytes(StandardCharsets.UTF_16);
            case 2 -> text.getBytes(StandardCharsets.UTF_16LE);
            case 3 -> text.getBytes(StandardCharsets.ISO_8859_1);
            default -> bytes;
        };
    }

    /** Bytes after one to six changes that know nothing of what they mean. */
    public byte[] changed(byte[] bytes) {
        byte[] now = bytes;
        int changes = 1 + random.nextInt(6);
        for (int i = 0; i < changes; i++) {
            now = once(now);
        }
        return now;
    }

    private byte[] once(byte[] bytes) {
        if (bytes.length == 0) {
            return new byte[] {(byte) random.nextInt(256)};
        }
        int at = random.nextInt(bytes.length);
        byte[] now = bytes.clone();
        switch (random.nextInt(6)) {
            case 0 -> now[at] ^= (byte) (1 << random.nextInt(8));
            case 1 -> now[at] = (byte) random.nextInt(256);
            case 2 -> now[at] = (byte) (random.nextBoolean() ? 0xff : 0);
            case 3 -> now = Arrays.copyOf(now, at);
            default -> {
                int to = Math.min(bytes.length, at + 1 + random.nextInt(40));
                int into = random.nextInt(bytes.length);
                ByteArrayOutputStream out = new ByteArrayOutputStream();
                out.write(bytes, 0, into);
                out.write(bytes, at, to - at);
                int from = random.nextBoolean() ? into : Math.min(bytes.length, into + to - at);
                out.write(bytes, from, bytes.length - from);
                now = out.toByteArray();
            }
        }
        return now;
    }

    private String once(String text, List<String> others) {
        int at = random.nextInt(text.length() + 1);
        int to = Math.min(text.length(), at + random.nextInt(12));
        return switch (random.nextInt(12)) {
            case 0, 1, 2 -> wordReplaced(text, any(words.isEmpty() ? ODD : words));
            case 3, 4 -> wordReplaced(text, any(ODD));
            case 5 ->
                text.substring(0, at) + any(random.nextBoolean() || words.isEmpty() ? ODD : words) + text.substring(at);
            case 6 -> text.substring(0, at) + text.substring(to);
            case 7 -> text.substring(0, to) + text.substring(at);
            case 8 -> text.substring(0, at) + Character.toString(codePoint()) + text.substring(at);
            case 9 -> linesSwapped(text);
            case 10 -> spliced(text, any(others));
            default ->
                random.nextInt(20) == 0
                        ? text.substring(0, at)
                                + text.substring(at, to).repeat(random.nextInt(MOST_REPEATS))
                                + text.substring(to)
                        : text.substring(0, random.nextInt(4) == 0 ? at : text.length());
        };
    }

    private int codePoint() {
        return switch (random.nextInt(5)) {
            case 0 -> random.nextInt(32);
            case 1 -> 32 + random.nextInt(95);
            case 2 -> 0x80 + random.nextInt(0x2000);
            case 3 -> 0xd800 + random.nextInt(0x2800); // halves of surrogate pairs, private letters, marks
            default -> 0x10000 + random.nextInt(0x20000);
        };
    }

    private String wordReplaced(String text, String other) {
        Matcher word = WORD.matcher(text);
        List<int[]> places = new ArrayList<>();
        while (word.find()) {
            places.add(new int[] {word.start(), word.end()});
        }
        if (places.isEmpty()) {
            return other;
        }
        int[] place = places.get(random.nextInt(places.size()));
        return text.substring(0, place[0]) + other + text.substring(place[1]);
    }

    private String linesSwapped(String text) {
        String[] lines = text.split("(?<=\n)", -1);
        int one = random.nextInt(lines.length);
        int other = random.nextInt(lines.length);
        String held = lines[one];
        lines[one] = lines[other];
        lines[other] = held;
        return String.join("", lines);
    }

    private String spliced(String text, String other) {
        return text.substring(0, random.nextInt(text.length() + 1))
                + other.substring(random.nextInt(other.length() + 1));
    }

    private <T> T any(List<T> list) {
        return list.get(random.nextInt(list.size()));
    }
}
