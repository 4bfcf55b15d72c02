package org.fairturn.folder;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** A short text that stands for a content: SHA-256 (FIPS 180-4), cut to half its length. */
final class Fingerprint {
    private static final int BYTES_KEPT = 16;

    private final MessageDigest digest;

    Fingerprint() {
        try {
            digest = MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible); // every Java platform has it
        }
    }

    Fingerprint add(byte[] part) {
        digest.update(ByteBuffer.allocate(Integer.BYTES).putInt(part.length).array());
        digest.update(part);
        return this;
    }

    Fingerprint add(String part) {
        return add(part.getBytes(StandardCharsets.UTF_8));
    }

    /** The first bits of the whole digest, at most 64, as a number. */
    long firstBits(int count) {
        return ByteBuffer.wrap(digest.digest()).getLong() >>> (Long.SIZE - count);
    }

    String text() {
        return HexFormat.of().formatHex(digest.digest(), 0, BYTES_KEPT);
    }
}
