package org.evenwash.logger.access;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.Optional;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.WebSessions;
import org.jdbi.v3.core.Handle;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Signing in and out, and who a session belongs to. Answers take the same time and read the same
 * whether a name exists or not.
 */
public final class FrontDoor {
    /** A session that nobody used for so long has ended. */
    public static final Duration IDLE = Duration.ofHours(12);

    /** And at the latest then. */
    public static final Duration LONGEST = Duration.ofDays(7);

    /** So long ten wrong passwords in a row lock an account. */
    public static final Duration LOCKED = Attempts.LOCKED;

    private static final Duration SEEN_EVERY = Duration.ofMinutes(1);
    private static final Logger LOG = LoggerFactory.getLogger(FrontDoor.class);

    private final Database database;
    private final Clock clock;
    private final PersonPassword passwords;
    private final Throttle byAddress;
    private final Attempts attempts;
    private final UnknownNames unknown;

    public FrontDoor(Database database, Clock clock, PersonPassword passwords) {
        this.database = database;
        this.clock = clock;
        this.passwords = passwords;
        byAddress = new Throttle(20, Duration.ofMinutes(2), clock);
        attempts = new Attempts(database, clock);
        unknown = new UnknownNames(database, clock);
    }

    /** What came of an attempt to sign in. */
    public sealed interface Outcome {
        /**
         * @param secret for the cookie; kept nowhere here
         */
        record SignedIn(String secret, Person person) implements Outcome {}

        /** Name or password is wrong; which, is not said. */
        record Wrong() implements Outcome {}

        /** Too many attempts; the password was not even looked at. At most {@link #LOCKED} to wait. */
        record Wait() implements Outcome {}
    }

    /**
     * Tries to sign in.
     *
     * @param address where the request came from
     */
    public Outcome signIn(String name, String password, String address) {
        String lower = name.strip().toLowerCase(Locale.ROOT);
        if (!byAddress.take(address)) {
            LOG.warn("sign-in from {}: too many attempts", address);
            return new Outcome.Wait();
        }
        Optional<Account> account =
                database.read(handle -> Accounts.named(handle, lower)).filter(Account::open);
        // A name that nobody has may be a password typed into the wrong field: it is not told.
        String who = account.map(known -> "as " + known.name()).orElse("with an unknown name");
        if (!account.map(attempts::take).orElseGet(() -> unknown.take(lower))) {
            LOG.warn("sign-in {} from {}: locked", who, address);
            return new Outcome.Wait();
        }
        String hash =
                account.map(a -> database.read(h -> Accounts.passwordHash(h, a.id()))).orElse(null);
        boolean sane = password.length() <= PersonPassword.MOST;
        String secret = RandomSecret.make();
        if (!passwords.matches(sane ? password : "", hash)
                || !begun(account.orElseThrow(), hash, secret)) {
            LOG.warn("sign-in {} from {}: wrong", who, address);
            return new Outcome.Wrong();
        }
        LOG.info("{} signed in from {}", account.get().name(), address);
        return new Outcome.SignedIn(secret, person(account.get()));
    }

    /**
     * Looking at a password takes a while. False if in that time it was replaced or the account
     * closed, which signs out everywhere: this session too then.
     */
    private boolean begun(Account account, String passwordHash, String secret) {
        Instant now = clock.instant();
        return database.write(
                handle -> {
                    WebSessions.tidy(handle, now.minus(IDLE), now.minus(LONGEST));
                    boolean begun =
                            WebSessions.insert(
                                    handle,
                                    RandomSecret.hash(secret),
                                    account.id(),
                                    passwordHash,
                                    now);
                    if (begun) {
                        Accounts.unlock(handle, account.id());
                    }
                    return begun;
                });
    }

    private static Person person(Account account) {
        return new Person(account.id(), account.operatorId(), account.name(), account.role());
    }

    /** Who a session belongs to; empty once it has run out or was ended. */
    public Optional<Person> whoIs(String secret) {
        if (!RandomSecret.looksRight(secret)) {
            return Optional.empty();
        }
        Instant now = clock.instant();
        String hash = RandomSecret.hash(secret);
        Optional<WebSessions.Row> row = session(hash, now);
        row.filter(found -> found.seenAt().plus(SEEN_EVERY).isBefore(now))
                .ifPresent(found -> database.change(h -> WebSessions.seen(h, hash, now)));
        return row.map(
                found ->
                        new Person(
                                found.accountId(), found.operatorId(), found.name(), found.role()));
    }

    private Optional<WebSessions.Row> session(String hash, Instant now) {
        return database.read(handle -> session(handle, hash, now));
    }

    /** The session with that hash of its secret; empty once it has run out or was ended. */
    static Optional<WebSessions.Row> session(Handle handle, String hash, Instant now) {
        return WebSessions.find(handle, hash, now.minus(IDLE), now.minus(LONGEST));
    }

    /** Whether a session still counts; asking is no use of it, so that an open page lets it run out. */
    public boolean counts(String secret) {
        return RandomSecret.looksRight(secret)
                && session(RandomSecret.hash(secret), clock.instant()).isPresent();
    }

    /** Whether nobody can sign in with an account for a while, after too many wrong passwords. */
    public boolean locked(Account account) {
        return Attempts.locks(account.lockedUntil(), clock.instant());
    }

    public void signOut(String secret) {
        if (RandomSecret.looksRight(secret)) {
            database.change(handle -> WebSessions.end(handle, RandomSecret.hash(secret)));
        }
    }
}
