package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code api_token}, known by the hash of their secret. */
public final class ApiTokens {
    private static final RowMapper<ApiToken> ROW = ConstructorMapper.of(ApiToken.class);

    private ApiTokens() {}

    public static void insert(Handle handle, ApiToken token, String secretHash) {
        handle.createUpdate(
                        """
                        INSERT INTO api_token (id, account_id, name, role, secret_hash, made_at, expires_at)
                        VALUES (:id, :accountId, :name, :role, :hash, :madeAt, :expiresAt)""")
                .bindMethods(token)
                .bind("hash", secretHash)
                .execute();
    }

    /** Those that may be used, by name. */
    public static List<ApiToken> inUse(Handle handle, Instant now) {
        return handle.createQuery(
                        """
                        SELECT * FROM api_token WHERE withdrawn_at IS NULL AND expires_at > :now
                        ORDER BY name, made_at""")
                .bind("now", now)
                .map(ROW)
                .list();
    }

    public static Optional<ApiToken> find(Handle handle, UUID id) {
        return handle.createQuery("SELECT * FROM api_token WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    public static Optional<ApiToken> withSecret(Handle handle, String secretHash, Instant now) {
        return handle.createQuery(
                        """
                        SELECT * FROM api_token
                        WHERE secret_hash = :hash AND withdrawn_at IS NULL AND expires_at > :now""")
                .bind("hash", secretHash)
                .bind("now", now)
                .map(ROW)
                .findOne();
    }

    public static void used(Handle handle, UUID id, Instant at) {
        handle.createUpdate("UPDATE api_token SET used_at = :at WHERE id = :id")
                .bind("at", at)
                .bind("id", id)
                .execute();
    }

    /** Those of an account that are not withdrawn yet. */
    public static void withdrawAll(Handle handle, UUID accountId, Instant at) {
        handle.createUpdate(
                        """
                        UPDATE api_token SET withdrawn_at = :at
                        WHERE account_id = :account AND withdrawn_at IS NULL""")
                .bind("at", at)
                .bind("account", accountId)
                .execute();
    }

    public static void withdraw(Handle handle, UUID id, Instant at) {
        handle.createUpdate("UPDATE api_token SET withdrawn_at = :at WHERE id = :id")
                .bind("at", at)
                .bind("id", id)
                .execute();
    }
}
