package org.evenwash.logger.access;

import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.ApiTokens;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.store.WebSessions;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.Yard;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Accounts: each belongs to one person of the yard. There is always a keeper once there is any. */
public final class AccountBook {
    private static final Logger LOG = LoggerFactory.getLogger(AccountBook.class);
    private static final String NAME = "[a-z0-9][a-z0-9._-]{0,39}";

    private final Database database;
    private final Clock clock;
    private final PersonPassword passwords;
    private final Attempts attempts;

    public AccountBook(Database database, Clock clock, PersonPassword passwords) {
        this.database = database;
        this.clock = clock;
        this.passwords = passwords;
        attempts = new Attempts(database, clock);
    }

    /** True as soon as anybody has a password. */
    public boolean any() {
        return database.read(Accounts::any);
    }

    public List<Account> all() {
        return database.read(Accounts::all);
    }

    /**
     * The account with an id.
     *
     * @throws Refused if there is none
     */
    public Account account(UUID id) {
        return database.read(handle -> account(handle, id));
    }

    /**
     * The account with a name.
     *
     * @throws Refused if there is none
     */
    public Account named(String name) {
        String wanted = name.strip().toLowerCase(Locale.ROOT);
        return database.read(handle -> Accounts.named(handle, wanted))
                .orElseThrow(() -> Refused.notFound("account", name));
    }

    /**
     * Sets the first password: its account becomes keeper.
     *
     * @param personName as the yard knows the person; added if it does not yet
     * @throws Refused if somebody has a password already, a name cannot be or the password is weak
     */
    public Account first(String name, String personName, String password) {
        return add(name, personName, Role.KEEPER, password, true);
    }

    /**
     * Adds an account.
     *
     * @param name for signing in, {@code [a-z0-9._-]}, up to 40 characters; capitals are lowered
     * @param personName as the yard knows the person; added if it does not yet
     * @throws Refused if a name cannot be or is taken, the person has an account, the password is
     *     weak, or this is the first account and no keeper's
     */
    public Account add(String name, String personName, Role role, String password) {
        return add(name, personName, role, password, false);
    }

    private Account add(String name, String personName, Role role, String password, boolean first) {
        String lower = name.strip().toLowerCase(Locale.ROOT);
        if (!lower.matches(NAME)) {
            throw Refused.invalid(
                    "sign-in name",
                    "reads '" + name + "'",
                    "use up to 40 of the characters a-z 0-9 . _ -, beginning with a letter or digit");
        }
        check(lower, password);
        String hash = passwords.hash(password);
        Account account =
                database.write(
                        handle -> {
                            if (first && Accounts.any(handle)) {
                                throw Refused.conflict(
                                        "first password",
                                        "was set already",
                                        "sign in, or ask a keeper for an account");
                            }
                            if (!first && !Accounts.any(handle) && role != Role.KEEPER) {
                                throw Refused.conflict(
                                        "first account",
                                        "must be a keeper's",
                                        "add the keeper first");
                            }
                            if (Accounts.named(handle, lower).isPresent()) {
                                throw Refused.conflict(
                                        "sign-in name",
                                        "'" + lower + "' is taken",
                                        "choose another");
                            }
                            Account row =
                                    new Account(
                                            Ids.next(),
                                            operator(handle, personName),
                                            lower,
                                            role,
                                            0,
                                            null,
                                            clock.instant(),
                                            null);
                            Accounts.insert(handle, row, hash);
                            return row;
                        });
        LOG.info("account {} was added as {}", account.name(), account.role());
        return account;
    }

    private UUID operator(Handle handle, String personName) {
        String name = personName == null ? "" : personName.strip();
        if (name.isEmpty()
                || name.length() > Yard.LONGEST_NAME
                || name.chars().anyMatch(Character::isISOControl)) {
            throw Refused.invalid(
                    "person",
                    "has no usable name",
                    "enter a name of 1 to " + Yard.LONGEST_NAME + " characters");
        }
        var known = Operators.named(handle, name);
        if (known.isEmpty()) {
            Operator operator = new Operator(Ids.next(), name, true, clock.instant());
            Operators.insert(handle, operator);
            return operator.id();
        }
        Accounts.ofOperator(handle, known.get().id())
                .ifPresent(
                        other -> {
                            throw Refused.conflict(
                                    "person",
                                    "'" + name + "' has the account '" + other.name() + "' already",
                                    "give each person one account");
                        });
        return known.get().id();
    }

    private static void check(String name, String password) {
        PersonPassword.fault(name, password == null ? "" : password)
                .ifPresent(
                        fault -> {
                            throw refused(fault);
                        });
    }

    private static Refused refused(PersonPassword.Fault fault) {
        String remedy =
                "choose "
                        + PersonPassword.LEAST
                        + " to "
                        + PersonPassword.MOST
                        + " characters; a few words that nobody would put together are easy to keep";
        return switch (fault) {
            case SHORT ->
                    Refused.invalid(
                            "password",
                            "has fewer than " + PersonPassword.LEAST + " characters",
                            remedy);
            case LONG ->
                    Refused.invalid(
                            "password",
                            "has more than " + PersonPassword.MOST + " characters",
                            remedy);
            case REPEATS -> Refused.invalid("password", "repeats a few characters", remedy);
            case GUESSABLE ->
                    Refused.invalid(
                            "password", "contains the name, or a word that is tried first", remedy);
        };
    }

    /**
     * Sets a new password and signs the account out everywhere, see {@link #signOutEverywhere}.
     *
     * @throws Refused if there is no such account or the password is weak
     */
    public void setPassword(UUID id, String password) {
        Account account = account(id);
        check(account.name(), password);
        String hash = passwords.hash(password);
        database.change(
                handle -> {
                    Accounts.setPassword(handle, id, hash);
                    endAll(handle, id);
                });
        renewed(account);
    }

    private static void renewed(Account account) {
        LOG.info("account {} has a new password and was signed out everywhere", account.name());
    }

    /**
     * As {@link #setPassword}, by the person, who proves to know the old one. Attempts count as
     * those to sign in do: whoever found a page left open must not guess there.
     *
     * @throws Refused if the account is locked, the old password is wrong or was replaced by
     *     somebody else while it was looked at, or the new one is weak
     */
    public void changePassword(UUID id, String old, String password) {
        Account account = account(id);
        String verified = verified(account, "old password", old);
        check(account.name(), password);
        String hash = passwords.hash(password);
        database.change(
                handle -> {
                    if (!Accounts.replacePassword(handle, id, verified, hash)) {
                        throw Refused.conflict(
                                "old password",
                                "was replaced by a keeper meanwhile",
                                "sign in with the new one");
                    }
                    endAll(handle, id);
                });
        renewed(account);
    }

    /**
     * Whoever asks proves to know the password of the account in whose name that is: a page left open
     * or a token that was found is not enough. Attempts count as those to sign in do.
     *
     * @throws Refused if there is no such account, it is locked or the password is wrong
     */
    public void confirm(UUID id, String password) {
        verified(account(id), "own password", password);
    }

    /** The hash that a password was found to fit. */
    private String verified(Account account, String which, String password) {
        if (!attempts.take(account)) {
            LOG.warn("{} of {}: locked", which, account.name());
            throw Refused.conflict(
                    "account",
                    "is locked after too many wrong passwords",
                    "wait "
                            + Attempts.LOCKED.toMinutes()
                            + " minutes, or let a keeper unlock the account");
        }
        boolean sane = password.length() <= PersonPassword.MOST;
        String hash = database.read(handle -> Accounts.passwordHash(handle, account.id()));
        if (!passwords.matches(sane ? password : "", hash)) {
            LOG.warn("{} of {}: wrong", which, account.name());
            throw Refused.invalid(which, "is not right", "type it again");
        }
        attempts.right(account.id());
        return hash;
    }

    /**
     * @throws Refused if there is no such account, or it is the last keeper's and would be one no
     *     more
     */
    public void setRole(UUID id, Role role) {
        String name = changed(id, handle -> Accounts.setRole(handle, id, role));
        LOG.info("account {} is {} now", name, role);
    }

    /**
     * Closes an account and signs it out everywhere, for good; what it entered keeps its name.
     *
     * @throws Refused if there is no such account, or it is the last keeper's
     */
    public void close(UUID id) {
        String name =
                changed(
                        id,
                        handle -> {
                            Accounts.setClosed(handle, id, clock.instant());
                            endAll(handle, id);
                        });
        LOG.info("account {} was closed", name);
    }

    /**
     * @throws Refused if there is no such account
     */
    public void reopen(UUID id) {
        String name = changed(id, handle -> Accounts.setClosed(handle, id, null));
        LOG.info("account {} was opened again", name);
    }

    /**
     * Ends a lock-out before its time.
     *
     * @throws Refused if there is no such account
     */
    public void unlock(UUID id) {
        String name = changed(id, handle -> Accounts.unlock(handle, id));
        LOG.info("account {} was unlocked", name);
    }

    /**
     * Ends all sessions of an account and withdraws its tokens: who had a session could make a
     * token from it, and everywhere is meant to be everywhere.
     *
     * @throws Refused if there is no such account
     */
    public void signOutEverywhere(UUID id) {
        Account account = account(id);
        database.change(handle -> endAll(handle, id));
        LOG.info("account {} was signed out everywhere, its tokens withdrawn", account.name());
    }

    private void endAll(Handle handle, UUID id) {
        WebSessions.endAll(handle, id);
        ApiTokens.withdrawAll(handle, id, clock.instant());
    }

    private String changed(UUID id, java.util.function.Consumer<Handle> change) {
        return database.write(
                handle -> {
                    Account before = account(handle, id);
                    change.accept(handle);
                    if (Accounts.keepers(handle) == 0) {
                        throw Refused.conflict(
                                "account",
                                "'" + before.name() + "' is the last keeper",
                                "make somebody else keeper first");
                    }
                    return before.name();
                });
    }

    private static Account account(Handle handle, UUID id) {
        return Accounts.find(handle, id).orElseThrow(() -> Refused.notFound("account", id));
    }
}
