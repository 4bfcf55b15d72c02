package org.fairturn.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.HexFormat;

/** What people called something, fit for an address: it is looked up by comparing, never turned back. */
final class Slug {
    private Slug() {}

    /** Letters, digits and hyphens of the name; where that loses something, a hash keeps names apart. */
    static String of(String name) {
        String plain = name.replaceAll("[^A-Za-z0-9]+", "-").replaceAll("^-|-$", "");
        return plain.equals(name) ? plain : plain + (plain.isEmpty() ? "" : "-") + hash(name);
    }

    private static String hash(String name) {
        try {
            byte[] whole = MessageDigest.getInstance("SHA-256").digest(name.getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(Arrays.copyOf(whole, 4));
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible); // every Java has this algorithm
        }
    }
}
