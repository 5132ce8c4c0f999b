package org.evenwash.logger.store;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code web_session}: who is signed in where, known by the hash of the cookie. */
public final class WebSessions {
    private static final RowMapper<Row> ROW = ConstructorMapper.of(Row.class);

    /** A session that still counts, with the account as it is now. */
    public record Row(UUID accountId, UUID operatorId, String name, Role role, Instant seenAt) {}

    private WebSessions() {}

    /**
     * Begins a session of an open account whose password is still the one that was looked at.
     *
     * @return false, and nothing is begun, if it is not
     */
    public static boolean insert(
            Handle handle, String secretHash, UUID accountId, String passwordHash, Instant at) {
        return handle.createUpdate(
                                """
                                INSERT INTO web_session (secret_hash, account_id, started_at, seen_at)
                                SELECT :hash, id, :at, :at FROM account
                                WHERE id = :account AND password_hash = :password
                                    AND closed_at IS NULL""")
                        .bind("hash", secretHash)
                        .bind("account", accountId)
                        .bind("password", passwordHash)
                        .bind("at", at)
                        .execute()
                == 1;
    }

    /** One that was used since {@code idle}, began since {@code oldest} and has an open account. */
    public static Optional<Row> find(
            Handle handle, String secretHash, Instant idle, Instant oldest) {
        return handle.createQuery(
                        """
                        SELECT a.id AS account_id, a.operator_id, a.name, a.role, s.seen_at
                        FROM web_session s JOIN account a ON a.id = s.account_id
                        WHERE s.secret_hash = :hash AND s.seen_at > :idle AND s.started_at > :oldest
                            AND a.closed_at IS NULL""")
                .bind("hash", secretHash)
                .bind("idle", idle)
                .bind("oldest", oldest)
                .map(ROW)
                .findOne();
    }

    public static void seen(Handle handle, String secretHash, Instant at) {
        handle.createUpdate("UPDATE web_session SET seen_at = :at WHERE secret_hash = :hash")
                .bind("at", at)
                .bind("hash", secretHash)
                .execute();
    }

    public static void end(Handle handle, String secretHash) {
        handle.createUpdate("DELETE FROM web_session WHERE secret_hash = :hash")
                .bind("hash", secretHash)
                .execute();
    }

    /** Signs an account out everywhere; tells how many sessions that ended. */
    public static int endAll(Handle handle, UUID accountId) {
        return handle.createUpdate("DELETE FROM web_session WHERE account_id = :account")
                .bind("account", accountId)
                .execute();
    }

    /** Takes away what has run out. */
    public static void tidy(Handle handle, Instant idle, Instant oldest) {
        handle.createUpdate(
                        "DELETE FROM web_session WHERE seen_at <= :idle OR started_at <= :oldest")
                .bind("idle", idle)
                .bind("oldest", oldest)
                .execute();
    }
}
