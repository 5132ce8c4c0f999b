package org.evenwash.logger.access;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.ApiToken;
import org.evenwash.logger.store.ApiTokens;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.store.WebSessions;
import org.evenwash.logger.wash.Refused;
import org.evenwash.record.Ids;
import org.evenwash.record.PlainText;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Tokens for programs: each acts in the name of the account that made it, with no more than its role. */
public final class TokenBook {
    private static final Logger LOG = LoggerFactory.getLogger(TokenBook.class);
    private static final String MARK = "evenwash_";
    public static final int LONGEST_NAME = 80;

    /** Two years and a day to renew it on. */
    public static final int MOST_DAYS = 731;

    private static final Duration USED_EVERY = Duration.ofMinutes(1);

    private final Database database;
    private final Clock clock;

    public TokenBook(Database database, Clock clock) {
        this.database = database;
        this.clock = clock;
    }

    /**
     * A token as it is handed out, once.
     *
     * @param secret for the header {@code Authorization: Bearer …}; kept nowhere here
     */
    public record Made(ApiToken token, String secret) {}

    /**
     * Makes a token of the account that is signed in.
     *
     * @param session the secret of a session: signing out everywhere ends it and withdraws the
     *     tokens, in one, so that none can be made from it afterwards
     * @param role null for the figures of {@code /metrics} only
     * @param days until it ends, 1 to {@link #MOST_DAYS}
     * @throws Refused if the session counts no more, the name or the days cannot be, or the role is
     *     more than the account's own
     */
    public Made make(String session, String name, Role role, int days) {
        String label = name == null ? "" : name.strip();
        if (label.isEmpty()
                || label.length() > LONGEST_NAME
                || label.chars().anyMatch(Character::isISOControl)) {
            throw Refused.invalid(
                    "token name",
                    "is empty or too long",
                    "say in 1 to " + LONGEST_NAME + " characters what it is for");
        }
        if (days < 1 || days > MOST_DAYS) {
            throw Refused.invalid(
                    "days", "are " + days + ", expected 1 to " + MOST_DAYS, "choose when it ends");
        }
        Instant now = clock.instant();
        String secret = RandomSecret.make();
        UUID id = Ids.next();
        Instant until = now.plus(Duration.ofDays(days));
        Sealed made =
                database.write(
                        handle -> {
                            WebSessions.Row maker =
                                    FrontDoor.session(handle, RandomSecret.hash(session), now)
                                            .orElseThrow(TokenBook::notSignedIn);
                            if (role != null && !maker.role().covers(role)) {
                                throw Refused.invalid(
                                        "role",
                                        "is more than the account's own",
                                        "choose one that it covers");
                            }
                            ApiToken token =
                                    new ApiToken(
                                            id,
                                            maker.accountId(),
                                            label,
                                            role,
                                            now,
                                            until,
                                            null,
                                            null);
                            ApiTokens.insert(handle, token, RandomSecret.hash(secret));
                            return new Sealed(token, maker.name());
                        });
        LOG.info("{} made the token '{}', {}", made.maker(), PlainText.of(label), role);
        return new Made(made.token(), MARK + secret);
    }

    private record Sealed(ApiToken token, String maker) {}

    private static Refused notSignedIn() {
        return Refused.conflict(
                "account", "is not signed in any more", "sign in with its password first");
    }

    /** Who a token speaks for; empty if it is none of ours, ran out, was withdrawn or its account closed. */
    public Optional<Person> whoIs(String given) {
        if (!given.startsWith(MARK) || !RandomSecret.looksRight(given.substring(MARK.length()))) {
            return Optional.empty();
        }
        String hash = RandomSecret.hash(given.substring(MARK.length()));
        Instant now = clock.instant();
        Optional<ApiToken> token = database.read(handle -> ApiTokens.withSecret(handle, hash, now));
        Optional<Account> account =
                token.flatMap(t -> database.read(h -> Accounts.find(h, t.accountId())))
                        .filter(Account::open);
        if (account.isEmpty()) {
            return Optional.empty();
        }
        Instant used = token.orElseThrow().usedAt();
        if (used == null || used.plus(USED_EVERY).isBefore(now)) {
            database.change(handle -> ApiTokens.used(handle, token.get().id(), now));
        }
        return Optional.of(
                new Person(
                        account.get().id(),
                        account.get().operatorId(),
                        account.get().name(),
                        lesser(token.get().role(), account.get().role())));
    }

    private static Role lesser(Role ofToken, Role ofAccount) {
        return ofToken == null || ofAccount.covers(ofToken) ? ofToken : ofAccount;
    }

    /** Those that may be used. */
    public List<ApiToken> inUse() {
        return database.read(handle -> ApiTokens.inUse(handle, clock.instant()));
    }

    /**
     * @throws Refused if there is no such token
     */
    public void withdraw(UUID id) {
        ApiToken token =
                database.read(handle -> ApiTokens.find(handle, id))
                        .orElseThrow(() -> Refused.notFound("token", id));
        database.change(handle -> ApiTokens.withdraw(handle, id, clock.instant()));
        LOG.info("the token '{}' was withdrawn", PlainText.of(token.name()));
    }
}
