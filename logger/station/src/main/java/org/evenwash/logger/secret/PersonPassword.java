package org.evenwash.logger.secret;

import at.favre.lib.crypto.bcrypt.BCrypt;
import at.favre.lib.crypto.bcrypt.LongPasswordStrategies;
import at.favre.lib.crypto.bcrypt.LongPasswordStrategy;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Semaphore;

/**
 * Passwords that people choose: what is asked of them, and bcrypt. Length counts, rules of
 * composition do not (NIST SP 800-63B, section 5.1.1.2, which asks for at least 8 characters). Not
 * final, so that a test can have something happen while a password is looked at.
 */
public class PersonPassword {
    public static final int LEAST = 10;
    public static final int MOST = 200;
    private static final int LEAST_DIFFERENT = 5;

    private static final BCrypt.Version VERSION = BCrypt.Version.VERSION_2A;

    /** bcrypt itself reads 72 bytes; a longer password is hashed down first, not cut off. */
    private static final LongPasswordStrategy LONG = LongPasswordStrategies.hashSha512(VERSION);

    /** Hashing is meant to be slow: strangers must not keep every core at it. */
    private static final Semaphore AT_ONCE = new Semaphore(2);

    private final int cost;
    private final String nobodysHash;

    /** As the programs use it. */
    public PersonPassword() {
        this(11);
    }

    /**
     * @param cost 4 to 31; each step doubles the time. 11 takes 0.1 s on a small server and a few
     *     tenths on a Pi
     */
    public PersonPassword(int cost) {
        this.cost = cost;
        this.nobodysHash = nobodysHash(cost);
    }

    /** What is wrong with a password that somebody wants to set; empty if nothing. */
    public static Optional<Fault> fault(String name, String password) {
        String lower = password.toLowerCase(Locale.ROOT);
        if (password.length() < LEAST) {
            return Optional.of(Fault.SHORT);
        }
        if (password.length() > MOST) {
            return Optional.of(Fault.LONG);
        }
        if (password.chars().distinct().count() < LEAST_DIFFERENT) {
            return Optional.of(Fault.REPEATS);
        }
        boolean names = name.length() >= 3 && lower.contains(name.toLowerCase(Locale.ROOT));
        if (names || lower.contains("evenwash") || lower.contains("password")) {
            return Optional.of(Fault.GUESSABLE);
        }
        return Optional.empty();
    }

    /** Why a password is not taken. */
    public enum Fault {
        SHORT,
        LONG,
        REPEATS,
        GUESSABLE
    }

    /** Well formed, of no password that anybody knows: to look at it takes as long as at any other. */
    static String nobodysHash(int cost) {
        return String.format(Locale.ROOT, "$2a$%02d$%s", cost, ".".repeat(53));
    }

    public String hash(String password) {
        return BCrypt.with(VERSION, LONG).hashToString(cost, password.toCharArray());
    }

    /**
     * Whether a password is right.
     *
     * @param hash null for a name that nobody has: it then takes as long as for one that somebody has
     */
    public boolean matches(String password, String hash) {
        AT_ONCE.acquireUninterruptibly();
        try {
            String against = hash == null ? nobodysHash : hash;
            boolean right =
                    BCrypt.verifyer(VERSION, LONG)
                            .verify(password.toCharArray(), against.toCharArray())
                            .verified;
            return right && hash != null;
        } finally {
            AT_ONCE.release();
        }
    }
}
