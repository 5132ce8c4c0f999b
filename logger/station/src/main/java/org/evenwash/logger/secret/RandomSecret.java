package org.evenwash.logger.secret;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.SecureRandom;
import java.util.HexFormat;

/**
 * Secrets that a machine makes and keeps, such as a session's cookie: 256 random bits as 64 hexadecimal
 * digits. They need no slow hash; SHA-256 is enough for what cannot be guessed.
 */
public final class RandomSecret {
    private static final SecureRandom RANDOM = new SecureRandom();
    private static final int BYTES = 32;

    private RandomSecret() {}

    public static String make() {
        byte[] bytes = new byte[BYTES];
        RANDOM.nextBytes(bytes);
        return HexFormat.of().formatHex(bytes);
    }

    /** Whether a text has the shape of one; what has not is never looked up. */
    public static boolean looksRight(String text) {
        return text != null && text.matches("[0-9a-f]{64}");
    }

    /** What is kept in its place. */
    public static String hash(String secret) {
        return digest("kept:" + secret);
    }

    /** A second secret that follows from the first and gives no way back to it. */
    public static String derived(String purpose, String secret) {
        return digest(purpose + ":" + secret);
    }

    /** In the same time wherever they differ. */
    public static boolean same(String one, String other) {
        return MessageDigest.isEqual(
                one.getBytes(StandardCharsets.UTF_8), other.getBytes(StandardCharsets.UTF_8));
    }

    private static String digest(String text) {
        try {
            MessageDigest digest = MessageDigest.getInstance("SHA-256");
            return HexFormat.of().formatHex(digest.digest(text.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("SHA-256 belongs to every Java", e);
        }
    }
}
