package org.fairturn.web;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/** What must not be guessed. New with every start, so that nothing outlives the server. */
final class Secrets {
    private static final String MAC = "HmacSHA256";
    /** Letters and digits that nobody takes for one another: no 0 and O, 1, I and L, 2 and Z, 5 and S, 8 and B, U and V. */
    private static final String CLEAR = "34679ACDEFGHJKMNPQRTWXY";

    private static final int CODE_LENGTH = 6;

    private final SecureRandom random = new SecureRandom();
    private final SecretKeySpec key = new SecretKeySpec(bytes(32), MAC);

    private byte[] bytes(int count) {
        byte[] bytes = new byte[count];
        random.nextBytes(bytes);
        return bytes;
    }

    /** A name nobody can guess, 128 bits. */
    String name() {
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes(16));
    }

    static boolean isName(String text) {
        return text != null && text.matches("[A-Za-z0-9_-]{22}");
    }

    /** An access code to type on a phone: 23⁶, 148 million, are possible. */
    String code() {
        StringBuilder code = new StringBuilder();
        for (int i = 0; i < CODE_LENGTH; i++) {
            code.append(CLEAR.charAt(random.nextInt(CLEAR.length())));
        }
        return code.toString();
    }

    /** What every form of a visitor carries: only this server can make it of the visitor's name. */
    String formToken(String name) {
        try {
            Mac mac = Mac.getInstance(MAC);
            mac.init(key);
            return Base64.getUrlEncoder()
                    .withoutPadding()
                    .encodeToString(mac.doFinal(name.getBytes(StandardCharsets.UTF_8)));
        } catch (GeneralSecurityException impossible) {
            throw new IllegalStateException(impossible); // every Java has this algorithm
        }
    }

    /** Equal or not, in a time that does not tell how far they agree. */
    static boolean same(String expected, String given) {
        return given != null
                && MessageDigest.isEqual(
                        expected.getBytes(StandardCharsets.UTF_8), given.getBytes(StandardCharsets.UTF_8));
    }
}
