package org.evenwash.controller.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.LongFunction;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Receipt;
import org.evenwash.record.Topics;
import org.evenwash.record.UnreadableMessage;

/**
 * The bench's memory: messages that the logger has not confirmed, those that it has for a while
 * longer, the draft of a cycle under way, and a few facts that must survive a restart. SQLite in
 * WAL mode with every commit synced, so what a method has returned from survives a power cut.
 *
 * <p>Sequence numbers are given inside the transaction that stores the message: one that was not
 * stored uses none up, so they have no gaps.
 */
public final class OutboxFile implements AutoCloseable {
    /** Its name in the data folder. */
    public static final String NAME = "outbox.db";

    /** Released rows that stay whatever their age: a bench's clock may be years off. */
    static final int NEWEST_KEPT = 1_000;

    /** No more released rows than this stay, whatever their age. */
    static final int MOST_KEPT = 20_000;

    private final Connection connection;
    private final UUID outboxId;
    private Runnable betweenStatements = () -> {};

    private OutboxFile(Connection connection, UUID outboxId) {
        this.connection = connection;
        this.outboxId = outboxId;
    }

    /** A message and what its receipt must say. */
    @SuppressWarnings("ArrayRecordComponent") // Handed on, never compared.
    public record Row(
            long sequence, UUID messageId, Topics.Kind kind, byte[] payload, String sha256) {}

    /** What a receipt did. */
    public enum Release {
        RELEASED,
        ALREADY_RELEASED,
        /** The receipt is for other content: the row stays and is sent again. */
        OTHER_CONTENT,
        UNKNOWN_MESSAGE
    }

    /**
     * What became of drafts that an earlier run left.
     *
     * @param cycles as stored but for their numbers
     * @param unreadable ids of cycles whose draft is damaged: it is kept, and no record comes of it
     */
    public record Recovered(List<CycleRecord> cycles, List<String> unreadable) {}

    /**
     * Opens the outbox, makes it when there is none, and brings an older file up to date.
     *
     * @throws OutboxRefused if the file is newer, foreign or corrupt; it is then left as it was
     */
    public static OutboxFile open(Path file) throws OutboxRefused {
        Connection connection = OutboxSchema.open(file);
        try {
            UUID outboxId = UUID.fromString(single(connection, "SELECT outbox_id FROM outbox"));
            return new OutboxFile(connection, outboxId);
        } catch (SQLException e) {
            throw new OutboxFailure("read the outbox's own id", e);
        }
    }

    public UUID outboxId() {
        return outboxId;
    }

    /** Keeps how far a cycle has come; replaces its earlier draft. */
    public synchronized void draft(CycleRecord soFar) {
        inTransaction(
                "keep the draft of cycle " + soFar.cycleId(),
                () -> {
                    try (PreparedStatement insert =
                            connection.prepareStatement(
                                    "INSERT INTO draft (cycle_id, record) VALUES (?, ?)"
                                            + " ON CONFLICT (cycle_id) DO UPDATE SET record = excluded.record")) {
                        insert.setString(1, soFar.cycleId().toString());
                        insert.setBytes(2, Messages.write(soFar));
                        insert.executeUpdate();
                    }
                    return null;
                });
    }

    /** Stores a cycle's record, to be sent, and drops its draft: both or neither. */
    public synchronized Row finish(UUID cycleId, LongFunction<CycleRecord> numbered) {
        return inTransaction(
                "store the record of cycle " + cycleId,
                () -> {
                    Row row = insert(Topics.Kind.CYCLE, cycleId, numbered);
                    dropDraft(cycleId);
                    return row;
                });
    }

    /** Stores an event, to be sent. */
    public synchronized Row event(UUID eventId, LongFunction<? extends Message> numbered) {
        return inTransaction(
                "store event " + eventId, () -> insert(Topics.Kind.EVENT, eventId, numbered));
    }

    /**
     * Turns drafts that an earlier run left behind into records. A draft already says INTERRUPTED,
     * or how the cycle had ended when only its jar was still waited for.
     */
    public synchronized Recovered recover() {
        return inTransaction("recover interrupted cycles", this::recovered);
    }

    private Recovered recovered() throws SQLException {
        Recovered recovered = new Recovered(new ArrayList<>(), new ArrayList<>());
        for (Draft draft : drafts()) {
            try {
                CycleRecord soFar = Messages.read(draft.record(), CycleRecord.class);
                if (has(soFar.cycleId())) {
                    continue;
                }
                // Whose number it gets: a salvaged draft may be of an outbox that nothing else
                // tells of.
                insert(Topics.Kind.CYCLE, soFar.cycleId(), n -> soFar.numbered(outboxId, n));
                recovered.cycles().add(soFar);
            } catch (UnreadableMessage e) {
                // Written by this program and synced, so this is damage; kept for a person to read.
                try (PreparedStatement insert =
                        connection.prepareStatement(
                                "INSERT INTO unreadable_draft (record, reason) VALUES (?, ?)")) {
                    insert.setBytes(1, draft.record());
                    insert.setString(2, e.getMessage());
                    insert.executeUpdate();
                }
                recovered.unreadable().add(draft.cycleId());
            }
        }
        execute("DELETE FROM draft");
        return recovered;
    }

    private boolean has(UUID messageId) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement("SELECT 1 FROM message WHERE message_id = ?")) {
            select.setString(1, messageId.toString());
            try (ResultSet rows = select.executeQuery()) {
                return rows.next();
            }
        }
    }

    @SuppressWarnings("ArrayRecordComponent") // Handed on, never compared.
    private record Draft(String cycleId, byte[] record) {}

    private List<Draft> drafts() throws SQLException {
        List<Draft> drafts = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery("SELECT cycle_id, record FROM draft")) {
            while (rows.next()) {
                drafts.add(new Draft(rows.getString(1), rows.getBytes(2)));
            }
        }
        return drafts;
    }

    private Row insert(Topics.Kind kind, UUID messageId, LongFunction<? extends Message> numbered)
            throws SQLException {
        long sequence = lastSequence() + 1;
        byte[] payload = Messages.write(numbered.apply(sequence));
        Row row = new Row(sequence, messageId, kind, payload, Messages.sha256(payload));
        try (PreparedStatement insert =
                connection.prepareStatement(
                        "INSERT INTO message (sequence, message_id, kind, payload, sha256)"
                                + " VALUES (?, ?, ?, ?, ?)")) {
            insert.setLong(1, row.sequence());
            insert.setString(2, row.messageId().toString());
            insert.setString(3, row.kind().name());
            insert.setBytes(4, row.payload());
            insert.setString(5, row.sha256());
            insert.executeUpdate();
        }
        betweenStatements.run();
        try (PreparedStatement update =
                connection.prepareStatement("UPDATE outbox SET last_sequence = ?")) {
            update.setLong(1, sequence);
            update.executeUpdate();
        }
        betweenStatements.run();
        return row;
    }

    private void dropDraft(UUID cycleId) throws SQLException {
        try (PreparedStatement delete =
                connection.prepareStatement("DELETE FROM draft WHERE cycle_id = ?")) {
            delete.setString(1, cycleId.toString());
            delete.executeUpdate();
        }
        betweenStatements.run();
    }

    /** Messages without a receipt, oldest first, from the one after {@code sequence}. */
    public synchronized List<Row> unreleased(long sequence, int most) {
        return run(
                "read messages to send",
                () -> {
                    List<Row> found = new ArrayList<>();
                    try (PreparedStatement select =
                            connection.prepareStatement(
                                    "SELECT sequence, message_id, kind, payload, sha256 FROM message"
                                            + " WHERE released_at_ms IS NULL AND sequence > ?"
                                            + " ORDER BY sequence LIMIT ?")) {
                        select.setLong(1, sequence);
                        select.setInt(2, most);
                        try (ResultSet rows = select.executeQuery()) {
                            while (rows.next()) {
                                found.add(row(rows));
                            }
                        }
                    }
                    return found;
                });
    }

    /** Of the columns sequence, message_id, kind, payload and sha256. */
    static Row row(ResultSet rows) throws SQLException {
        return new Row(
                rows.getLong(1),
                UUID.fromString(rows.getString(2)),
                Topics.Kind.valueOf(rows.getString(3)),
                rows.getBytes(4),
                rows.getString(5));
    }

    /** Lets a message go that the logger has, whatever the logger did with it. */
    public synchronized Release release(Receipt receipt, long now_ms) {
        return inTransaction(
                "release message " + receipt.messageId(),
                () -> {
                    Release answer = judged(receipt);
                    if (answer == Release.RELEASED) {
                        try (PreparedStatement update =
                                connection.prepareStatement(
                                        "UPDATE message SET released_at_ms = ?, result = ?, reason = ?"
                                                + " WHERE message_id = ?")) {
                            update.setLong(1, now_ms);
                            update.setString(2, receipt.result().name());
                            update.setString(3, receipt.reason());
                            update.setString(4, receipt.messageId().toString());
                            update.executeUpdate();
                        }
                        betweenStatements.run();
                    }
                    return answer;
                });
    }

    private Release judged(Receipt receipt) throws SQLException {
        try (PreparedStatement select =
                connection.prepareStatement(
                        "SELECT sha256, released_at_ms FROM message WHERE message_id = ?")) {
            select.setString(1, receipt.messageId().toString());
            try (ResultSet rows = select.executeQuery()) {
                if (!rows.next()) {
                    return Release.UNKNOWN_MESSAGE;
                }
                if (!rows.getString(1).equals(receipt.sha256())) {
                    return Release.OTHER_CONTENT;
                }
                return rows.getObject(2) == null ? Release.RELEASED : Release.ALREADY_RELEASED;
            }
        }
    }

    /**
     * Offers kept messages again, both ends included.
     *
     * @return how many; 0 when {@code outbox} is not this one
     */
    public synchronized int resend(UUID outbox, long from, long to) {
        if (!outbox.equals(outboxId)) {
            return 0;
        }
        return inTransaction(
                "offer messages %d to %d again".formatted(from, to),
                () -> {
                    try (PreparedStatement update =
                            connection.prepareStatement(
                                    "UPDATE message SET released_at_ms = NULL, result = NULL, reason = NULL"
                                            + " WHERE sequence BETWEEN ? AND ? AND released_at_ms IS NOT NULL")) {
                        update.setLong(1, from);
                        update.setLong(2, to);
                        return update.executeUpdate();
                    }
                });
    }

    /**
     * Drops released rows that are both old and not among the newest; unsent ones never.
     *
     * @return how many went
     */
    public synchronized int prune(long now_ms, Duration keep) {
        return inTransaction(
                "drop old released messages",
                () -> {
                    try (PreparedStatement delete =
                            connection.prepareStatement(
                                    "WITH kept AS (SELECT sequence, released_at_ms, row_number() OVER"
                                            + " (ORDER BY sequence DESC) AS age FROM message"
                                            + " WHERE released_at_ms IS NOT NULL)"
                                            + " DELETE FROM message WHERE sequence IN (SELECT sequence FROM kept"
                                            + " WHERE (age > ? AND released_at_ms < ?) OR age > ?)")) {
                        delete.setInt(1, NEWEST_KEPT);
                        delete.setLong(2, now_ms - keep.toMillis());
                        delete.setInt(3, MOST_KEPT);
                        return delete.executeUpdate();
                    }
                });
    }

    /** Messages without a receipt. */
    public synchronized long depth() {
        return run(
                "count messages to send",
                () ->
                        Long.parseLong(
                                single(
                                        connection,
                                        "SELECT count(*) FROM message WHERE released_at_ms IS NULL")));
    }

    /** The number given last; 0 before the first. */
    public synchronized long lastSequence() {
        return run(
                "read the last sequence number",
                () -> Long.parseLong(single(connection, "SELECT last_sequence FROM outbox")));
    }

    /** Keeps a fact for the next start, such as when the stop chain was last proven. */
    public synchronized void remember(String name, String value) {
        inTransaction(
                "remember " + name,
                () -> {
                    try (PreparedStatement upsert =
                            connection.prepareStatement(
                                    "INSERT INTO fact (name, value) VALUES (?, ?)"
                                            + " ON CONFLICT (name) DO UPDATE SET value = excluded.value")) {
                        upsert.setString(1, name);
                        upsert.setString(2, value);
                        upsert.executeUpdate();
                    }
                    return null;
                });
    }

    /** A fact kept before. */
    public synchronized Optional<String> recall(String name) {
        return run(
                "recall " + name,
                () -> {
                    try (PreparedStatement select =
                            connection.prepareStatement("SELECT value FROM fact WHERE name = ?")) {
                        select.setString(1, name);
                        try (ResultSet rows = select.executeQuery()) {
                            return rows.next()
                                    ? Optional.of(rows.getString(1))
                                    : Optional.<String>empty();
                        }
                    }
                });
    }

    /** Writes and syncs something without meaning, to learn whether the storage takes it. */
    public synchronized void probe() {
        inTransaction(
                "write to the outbox",
                () -> {
                    execute("UPDATE outbox SET probes = probes + 1");
                    return null;
                });
    }

    @Override
    public synchronized void close() {
        run(
                "close the outbox",
                () -> {
                    connection.close();
                    return null;
                });
    }

    /** For tests: runs after each statement that changes something, before its commit. */
    void betweenStatements(Runnable hook) {
        betweenStatements = hook;
    }

    /** For tests: makes SQLite behave as on storage that is full or read-only. */
    synchronized void pragma(String setting) {
        run(
                "set " + setting,
                () -> {
                    execute("PRAGMA " + setting);
                    return null;
                });
    }

    /** Several statements, all or none. */
    private <T> T inTransaction(String what, Work<T> work) {
        return run(
                what,
                () -> {
                    execute("BEGIN IMMEDIATE");
                    try {
                        T result = work.done();
                        betweenStatements.run();
                        execute("COMMIT");
                        return result;
                    } catch (SQLException | RuntimeException e) {
                        rollBack(e);
                        throw e;
                    }
                });
    }

    private void rollBack(Exception cause) {
        try {
            execute("ROLLBACK");
        } catch (SQLException e) {
            // SQLite has often rolled back by itself then; the first cause is the one to tell.
            cause.addSuppressed(e);
        }
    }

    private static <T> T run(String what, Work<T> work) {
        try {
            return work.done();
        } catch (SQLException e) {
            throw new OutboxFailure(what, e);
        }
    }

    private void execute(String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private static String single(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            if (!rows.next()) {
                throw new SQLException("no row for " + sql);
            }
            return rows.getString(1);
        }
    }

    private interface Work<T> {
        T done() throws SQLException;
    }
}
