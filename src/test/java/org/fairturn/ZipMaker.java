package org.fairturn;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;

/**
 * Makes odd zips of sound ones: other texts in their files, other names, entries twice or in another order, and heads that say
 * something else of an entry than the directory at the end (PKWARE, APPNOTE.TXT, sections 4.3.7, 4.3.12 and 4.3.16).
 */
public final class ZipMaker {
    private static final List<String> NAMES = List.of(
            "trial.csv",
            "TRIAL.CSV",
            "trial.csv/",
            "meadow/trial.csv",
            "meadow/results.json",
            "meadow/METHOD.txt",
            "results.json",
            "meadow/a/b.csv",
            "../trial.csv",
            "meadow/../trial.csv",
            "/trial.csv",
            "//trial.csv",
            "C:/trial.csv",
            "..\\trial.csv",
            "meadow\\trial.csv",
            "",
            ".",
            "..",
            "/",
            "meadow/",
            "__MACOSX/trial.csv",
            "meadow/.fairturn.lock",
            "inner.zip",
            "meadow/inner.ZIP",
            "removed.csv",
            "tri\0al.csv",
            "trial.csv\n",
            "tr\u0131al.csv",
            "\u202etrial.csv",
            "con",
            "x".repeat(3_000));
    private static final List<Long> ODD = List.of(0L, 1L, 0xfL, 0xffL, 0xffffL, 0x10000L, 0x7fffffffL, 0xffffffffL);
    private static final int STORED = 0;
    private static final int DEFLATED = 8;

    private final SplittableRandom random;
    private final Mutator mutator;
    private final List<List<Part>> seeds;

    /** A file in a zip. */
    private static final class Part {
        private final String name;
        private final byte[] content;

        Part(String name, byte[] content) {
            this.name = name;
            this.content = content;
        }

        String name() {
            return name;
        }

        byte[] content() {
            return content;
        }
    }

    /**
     * Of sound zips.
     *
     * @param words that mean something in their files
     */
    public ZipMaker(SplittableRandom random, List<byte[]> zips, List<String> words) {
        this.random = random;
        this.mutator = new Mutator(random, words);
        this.seeds = zips.stream().map(ZipMaker::parts).toList();
    }

    private static List<Part> parts(byte[] zip) {
        List<Part> parts = new ArrayList<>();
        try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(zip), StandardCharsets.UTF_8)) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                parts.add(new Part(entry.getName(), in.readAllBytes()));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return List.copyOf(parts);
    }

    /** The next one. */
    public byte[] next() {
        List<Part> parts = new ArrayList<>(any(seeds));
        int changes = random.nextInt(4);
        for (int i = 0; i < changes; i++) {
            change(parts);
        }
        byte[] zip = written(parts, oneIn(3));
        return oneIn(6) ? mutator.changed(zip) : zip;
    }

    private void change(List<Part> parts) {
        if (parts.isEmpty()) {
            return;
        }
        int at = random.nextInt(parts.size());
        Part part = parts.get(at);
        switch (random.nextInt(12)) {
            case 0 ->
                parts.set(at, new Part(oneIn(2) ? any(NAMES) : mutator.changed(part.name(), NAMES), part.content()));
            case 1 -> parts.add(random.nextInt(parts.size() + 1), part);
            case 2 -> parts.remove(at);
            case 3 -> parts.add(parts.remove(at));
            case 4 -> parts.add(any(any(seeds)));
            case 5 -> parts.add(new Part(any(NAMES), part.content()));
            case 6 -> {
                if (oneIn(20)) {
                    parts.set(at, new Part(part.name(), new byte[2_000_000]));
                } else if (oneIn(20)) {
                    for (int i = 0; i < 505; i++) {
                        parts.add(new Part(part.name() + i, new byte[0]));
                    }
                }
            }
            default -> {
                String text = new String(part.content(), StandardCharsets.UTF_8);
                String other = new String(any(parts).content(), StandardCharsets.UTF_8);
                parts.set(at, new Part(part.name(), mutator.changedBytes(text, List.of(text, other))));
            }
        }
    }

    private byte[] written(List<Part> parts, boolean odd) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ByteArrayOutputStream directory = new ByteArrayOutputStream();
        if (oneIn(40)) {
            out.writeBytes("#!/bin/sh\n".getBytes(StandardCharsets.UTF_8));
        }
        for (Part part : parts) {
            entry(part, odd, out, directory);
        }
        int start = out.size();
        out.writeBytes(directory.toByteArray());
        byte[] comment = oneIn(20) ? "PK\5\6 a comment".getBytes(StandardCharsets.ISO_8859_1) : new byte[0];
        Head end = new Head(odd);
        end.four(0x06054b50, false).two(0).two(0).two(parts.size()).two(parts.size());
        end.four(directory.size(), true).four(start, true).two(comment.length);
        out.writeBytes(end.bytes());
        out.writeBytes(comment);
        return out.toByteArray();
    }

    private void entry(Part part, boolean odd, ByteArrayOutputStream out, ByteArrayOutputStream directory) {
        int method = oneIn(8) ? STORED : DEFLATED;
        byte[] packed = method == STORED ? part.content() : deflated(part.content());
        byte[] name = oneIn(60)
                ? part.name().getBytes(StandardCharsets.ISO_8859_1)
                : part.name().getBytes(StandardCharsets.UTF_8);
        CRC32 check = new CRC32();
        check.update(part.content());
        byte[] extra =
                oneIn(40) ? new byte[] {1, 0, 8, 0, -1, -1, -1, -1, -1, -1, -1, 127} : new byte[0]; // says it is larger
        int offset = out.size();
        Head local = new Head(odd);
        local.four(0x04034b50, false);
        described(local, method, check.getValue(), packed.length, part.content().length);
        local.two(name.length).two(extra.length);
        out.writeBytes(local.bytes());
        out.writeBytes(name);
        out.writeBytes(extra);
        out.writeBytes(packed);
        Head central = new Head(odd);
        central.four(0x02014b50, false).two(20);
        described(central, method, check.getValue(), packed.length, part.content().length);
        central.two(name.length)
                .two(extra.length)
                .two(0)
                .two(0)
                .two(0)
                .four(0, true)
                .four(offset, true);
        directory.writeBytes(central.bytes());
        directory.writeBytes(name);
        directory.writeBytes(extra);
    }

    /** What both heads of an entry say: version, flags, method, time, check sum and sizes. */
    private static void described(Head head, int method, long check, int packed, int size) {
        head.two(20)
                .two(0x800)
                .two(method)
                .four(0x210000, true)
                .four(check, true)
                .four(packed, true)
                .four(size, true);
    }

    private static byte[] deflated(byte[] content) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        Deflater raw = new Deflater(Deflater.BEST_SPEED, true);
        try (DeflaterOutputStream out = new DeflaterOutputStream(bytes, raw)) {
            out.write(content);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } finally {
            raw.end();
        }
        return bytes.toByteArray();
    }

    /** Numbers one behind the other; where it is odd, one in thirty is another. */
    private final class Head {
        private final ByteBuffer buffer = ByteBuffer.allocate(64).order(ByteOrder.LITTLE_ENDIAN);
        private final boolean odd;

        Head(boolean odd) {
            this.odd = odd;
        }

        Head two(long number) {
            buffer.putShort((short) said(number));
            return this;
        }

        Head four(long number, boolean mayDiffer) {
            buffer.putInt((int) (mayDiffer ? said(number) : number));
            return this;
        }

        private long said(long number) {
            if (!odd || !oneIn(30)) {
                return number;
            }
            return oneIn(2) ? any(ODD) : number + random.nextInt(5) - 2;
        }

        byte[] bytes() {
            return java.util.Arrays.copyOf(buffer.array(), buffer.position());
        }
    }

    private boolean oneIn(int times) {
        return random.nextInt(times) == 0;
    }

    private <T> T any(List<T> list) {
        return list.get(random.nextInt(list.size()));
    }
}
