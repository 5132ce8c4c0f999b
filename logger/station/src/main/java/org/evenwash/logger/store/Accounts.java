package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code account}. */
public final class Accounts {
    private static final RowMapper<Account> ROW = ConstructorMapper.of(Account.class);

    private Accounts() {}

    public static void insert(Handle handle, Account account, String passwordHash) {
        handle.createUpdate(
                        """
                        INSERT INTO account (id, operator_id, name, role, password_hash, failures, created_at)
                        VALUES (:id, :operatorId, :name, :role, :hash, 0, :createdAt)""")
                .bindMethods(account)
                .bind("hash", passwordHash)
                .execute();
    }

    /** True as soon as anybody has a password: from then on the pages ask for it. */
    public static boolean any(Handle handle) {
        return handle.createQuery("SELECT 1 FROM account LIMIT 1")
                .mapTo(Integer.class)
                .findOne()
                .isPresent();
    }

    public static List<Account> all(Handle handle) {
        return handle.createQuery("SELECT * FROM account ORDER BY name").map(ROW).list();
    }

    public static Optional<Account> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM account WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<Account> named(Handle handle, String name) {
        return handle.createQuery("SELECT * FROM account WHERE name = :name")
                .bind("name", name)
                .map(ROW)
                .findOne();
    }

    public static Optional<Account> ofOperator(Handle handle, UUID operatorId) {
        return handle.createQuery("SELECT * FROM account WHERE operator_id = :operator")
                .bind("operator", operatorId)
                .map(ROW)
                .findOne();
    }

    public static String passwordHash(Handle handle, UUID id) {
        return handle.createQuery("SELECT password_hash FROM account WHERE id = :id")
                .bind("id", id)
                .mapTo(String.class)
                .one();
    }

    /**
     * As {@link #setPassword}, unless somebody replaced the password that was looked at.
     *
     * @return false, and nothing is set, if somebody did
     */
    public static boolean replacePassword(Handle handle, UUID id, String verified, String hash) {
        boolean still = verified.equals(passwordHash(handle, id));
        if (still) {
            setPassword(handle, id, hash);
        }
        return still;
    }

    /** A new password also forgets earlier wrong ones. */
    public static void setPassword(Handle handle, UUID id, String hash) {
        handle.createUpdate(
                        """
                        UPDATE account SET password_hash = :hash, failures = 0, locked_until = NULL
                        WHERE id = :id""")
                .bind("hash", hash)
                .bind("id", id)
                .execute();
    }

    public static void setRole(Handle handle, UUID id, Role role) {
        handle.createUpdate("UPDATE account SET role = :role WHERE id = :id")
                .bind("role", role)
                .bind("id", id)
                .execute();
    }

    /** Null opens it again. */
    public static void setClosed(Handle handle, UUID id, Instant closedAt) {
        handle.createUpdate("UPDATE account SET closed_at = :at WHERE id = :id")
                .bind("at", closedAt)
                .bind("id", id)
                .execute();
    }

    /**
     * Counts one attempt at a password, in the database so that several loggers count together, and
     * locks with the last that is left. One statement, so that many at once are counted one by one.
     *
     * @param most wrong ones in a row, of which the last locks
     * @param now decides whether an earlier lock has run out
     * @param until a lock that begins now ends then; one that ends later is of a clock that was set back,
     *     and over
     * @return false, and nothing is counted, while the account is locked
     */
    public static boolean attempt(Handle handle, UUID id, int most, Instant now, Instant until) {
        return handle.createUpdate(
                                """
                                UPDATE account SET
                                  failures = CASE WHEN locked_until IS NULL THEN failures + 1 ELSE 1 END,
                                  locked_until =
                                    CASE WHEN locked_until IS NULL AND failures + 1 >= :most THEN :until END
                                WHERE id = :id AND (locked_until IS NULL OR locked_until <= :now
                                    OR locked_until > :until)""")
                        .bind("most", most)
                        .bind("until", until)
                        .bind("id", id)
                        .bind("now", now)
                        .execute()
                == 1;
    }

    /** Changes nothing and takes as long as {@link #attempt}. */
    public static boolean noAttempt(Handle handle) {
        return handle.execute(
                        "UPDATE account SET failures = failures, locked_until = locked_until"
                                + " WHERE id = (SELECT MIN(id) FROM account)")
                == 1;
    }

    public static void unlock(Handle handle, UUID id) {
        handle.createUpdate(
                        "UPDATE account SET failures = 0, locked_until = NULL WHERE id = :id"
                                + " AND (failures > 0 OR locked_until IS NOT NULL)")
                .bind("id", id)
                .execute();
    }

    /** Open accounts that may do everything; there must always be one. */
    public static long keepers(Handle handle) {
        return handle.createQuery(
                        "SELECT COUNT(*) FROM account WHERE role = 'KEEPER' AND closed_at IS NULL")
                .mapTo(Long.class)
                .one();
    }
}
