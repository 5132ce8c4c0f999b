package org.evenwash.logger.secret;

import at.favre.lib.crypto.bcrypt.BCrypt;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import javax.crypto.SecretKeyFactory;
import javax.crypto.spec.PBEKeySpec;

/**
 * Passwords of benches: random, 144 bits. They are hashed the way Mosquitto's password file does it
 * ({@code $7$}: PBKDF2 with HMAC-SHA-512 and 101 rounds, as mosquitto_passwd writes it), so that the same
 * hash serves both brokers. What cannot be guessed needs no slow hash.
 */
public final class BenchPassword {
    private static final SecureRandom RANDOM = new SecureRandom();
    private static final int PASSWORD_BYTES = 18;
    private static final int SALT_BYTES = 12;
    private static final int HASH_BITS = 512;
    private static final int ROUNDS = 101;
    private static final int MOST_ROUNDS = 1_000_000;
    private static final String MARK = "$7$";

    private BenchPassword() {}

    public static String make() {
        byte[] bytes = new byte[PASSWORD_BYTES];
        RANDOM.nextBytes(bytes);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }

    public static String hash(String password) {
        byte[] salt = new byte[SALT_BYTES];
        RANDOM.nextBytes(salt);
        Base64.Encoder base64 = Base64.getEncoder();
        return MARK
                + ROUNDS
                + "$"
                + base64.encodeToString(salt)
                + "$"
                + base64.encodeToString(derived(password, salt, ROUNDS));
    }

    /** Whether Mosquitto can read a hash; benches admitted by earlier versions have another kind. */
    public static boolean isForMosquitto(String hash) {
        return hash.startsWith(MARK);
    }

    public static boolean matches(String password, String hash) {
        if (!isForMosquitto(hash)) {
            return BCrypt.verifyer().verify(password.toCharArray(), hash).verified;
        }
        String[] parts = hash.split("\\$");
        int rounds = Integer.parseInt(parts[2]);
        if (parts.length != 5 || rounds < 1 || rounds > MOST_ROUNDS) {
            return false;
        }
        byte[] salt = Base64.getDecoder().decode(parts[3]);
        byte[] expected = Base64.getDecoder().decode(parts[4]);
        return MessageDigest.isEqual(derived(password, salt, rounds), expected);
    }

    private static byte[] derived(String password, byte[] salt, int rounds) {
        try {
            return SecretKeyFactory.getInstance("PBKDF2WithHmacSHA512")
                    .generateSecret(new PBEKeySpec(password.toCharArray(), salt, rounds, HASH_BITS))
                    .getEncoded();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("PBKDF2WithHmacSHA512 belongs to every Java", e);
        }
    }
}
