package org.evenwash.controller.store;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.UUID;
import org.evenwash.record.Messages;

/**
 * Puts a damaged outbox aside, whole, and makes a new one of what can be read in it. The new one has the same id
 * and the same numbers, so the logger knows again what it has already. What a message is comes from its payload,
 * which its hash guards; nothing guards the columns beside it.
 */
public final class OutboxSalvage {
    /** Larger numbers are damage: at a message a minute it takes 19 years to so many. */
    private static final long LARGEST = 10_000_000;

    /** Left out when nothing tells any more which number was the last: one used twice is worse. */
    private static final long MARGIN = 1_000;

    /** Each tells the last number by itself, from another part of the file: the newest row is never dropped. */
    private static final List<String> LAST_NUMBER =
            List.of(
                    "SELECT last_sequence FROM outbox",
                    "SELECT max(sequence) FROM message",
                    "SELECT max(sequence) FROM message INDEXED BY sqlite_autoindex_message_1");

    /** The index by message id has the numbers too, so it knows the eldest when the table's first page is damaged. */
    private static final String ELDEST_NUMBER =
            "SELECT min(sequence) FROM message INDEXED BY sqlite_autoindex_message_1";

    private final Connection from;
    private final Map<String, String> facts;
    private final List<String> partly = new ArrayList<>();
    private UUID outboxId;
    private int saved;
    private int unconfirmed;
    private long unreadable;
    private boolean certain;

    /**
     * What came of it.
     *
     * @param aside the folder in which the damaged outbox lies now
     * @param unconfirmed those of the saved messages that the logger has yet to confirm
     * @param unreadable numbers whose message could not be read, confirmed or not; empty when nothing tells how many
     *     there were
     * @param partly tables of what the bench remembers of which the rest could not be read
     */
    public record Saved(
            Path aside,
            int messages,
            int unconfirmed,
            OptionalLong unreadable,
            List<String> partly) {}

    /** A row as it stands; what it says beside its payload may be damaged. */
    @SuppressWarnings("ArrayRecordComponent") // Handed on, never compared.
    private record Found(
            long sequence,
            byte[] payload,
            String sha256,
            Object releasedAt_ms,
            String result,
            String reason) {}

    private OutboxSalvage(Connection from, Map<String, String> facts) {
        this.from = from;
        this.facts = facts;
    }

    /** Whether a salvage was interrupted after all was saved, and has yet to be brought to its end. */
    public static boolean isHalfDone(Path file) {
        return new Replacement(file).isHalfDone();
    }

    /**
     * Brings a salvage that is half done to its end. Nobody else may have the file open.
     *
     * @throws OutboxRefused when the storage fails; it can be tried again
     */
    public static void finish(Path file) throws OutboxRefused {
        try {
            new Replacement(file).finish();
        } catch (IOException e) {
            throw OutboxSchema.cannotBeOpened(file, e);
        }
    }

    /**
     * Nobody else may have the file open.
     *
     * @param facts what the new outbox is to remember, whatever the damaged one says of it
     * @return empty when the outbox is sound: it is left as it is
     * @throws OutboxRefused when the file is a newer program's or another's, or the storage fails; it is then left
     *     as it was, or half done
     */
    public static Optional<Saved> salvage(Path file, Map<String, String> facts)
            throws OutboxRefused {
        return salvage(file, facts, new Replacement(file));
    }

    static Optional<Saved> salvage(Path file, Map<String, String> facts, Replacement replacement)
            throws OutboxRefused {
        try {
            if (isSound(file)) {
                return Optional.empty();
            }
            OutboxSalvage work;
            Path made;
            try (Connection from = OutboxSchema.readOnly(file)) {
                work = new OutboxSalvage(from, facts);
                made = OutboxSchema.prepare(file, work::copyTo);
            }
            return Optional.of(work.saved(replacement.by(made)));
        } catch (SQLException | IOException e) {
            throw OutboxSchema.cannotBeOpened(file, e);
        }
    }

    private static boolean isSound(Path file) throws OutboxRefused, SQLException, IOException {
        try {
            OutboxSchema.examine(file);
            return true;
        } catch (OutboxRefused e) {
            if (e.damaged()) {
                return false;
            }
            throw e;
        }
    }

    private Saved saved(Path aside) {
        return new Saved(
                aside,
                saved,
                unconfirmed,
                certain ? OptionalLong.of(unreadable) : OptionalLong.empty(),
                partly);
    }

    private void copyTo(Connection into) throws SQLException {
        // In one transaction with the rest, and first: what the old one says of the same is left
        // out.
        // A kill leaves no new outbox that believes it.
        for (Map.Entry<String, String> fact : facts.entrySet()) {
            insert(into, "fact", List.<Object[]>of(new Object[] {fact.getKey(), fact.getValue()}));
        }
        insert(into, "fact", rows("fact"));
        List<Object[]> drafts = rows("draft");
        insert(into, "draft", drafts);
        insert(into, "unreadable_draft", rows("unreadable_draft"));
        long last = messages(into);
        if (outboxId == null) {
            outboxId = outboxIdInItsRow().or(() -> outboxIdInADraft(drafts)).orElse(null);
        }
        if (outboxId == null || (!certain && saved == 0)) {
            // Without the last number, the old id would give numbers twice.
            OutboxSchema.begin(into, UUID.randomUUID(), 0);
        } else {
            OutboxSchema.begin(into, outboxId, last);
        }
    }

    /** A row whose key is there already is left out. */
    private static void insert(Connection into, String table, List<Object[]> rows)
            throws SQLException {
        try (PreparedStatement insert =
                into.prepareStatement("INSERT OR IGNORE INTO " + table + " VALUES (?, ?)")) {
            for (Object[] row : rows) {
                insert.setObject(1, row[0]);
                insert.setObject(2, row[1]);
                insert.executeUpdate();
            }
        }
    }

    /** A small table of two columns, up to where it is damaged. */
    private List<Object[]> rows(String table) {
        List<Object[]> found = new ArrayList<>();
        try (Statement statement = from.createStatement();
                ResultSet rows = statement.executeQuery("SELECT * FROM " + table)) {
            while (rows.next()) {
                found.add(new Object[] {rows.getObject(1), rows.getObject(2)});
            }
        } catch (SQLException e) {
            partly.add(table);
        }
        return found;
    }

    /** Returns the last number that was given. */
    private long messages(Connection into) throws SQLException {
        long last = lastNumber();
        long end = certain ? last : MARGIN;
        long eldest = number(ELDEST_NUMBER).orElse(1);
        long next = 1;
        try (PreparedStatement insert =
                into.prepareStatement(
                        "INSERT OR IGNORE INTO message VALUES (?, ?, ?, ?, ?, ?, ?, ?)")) {
            while (next <= end) {
                Found found;
                try {
                    found = first(next);
                } catch (SQLException e) {
                    // Those before the eldest were dropped, confirmed, long before the damage.
                    unreadable += next >= eldest ? 1 : 0;
                    next++;
                    continue;
                }
                if (found == null) {
                    break;
                }
                if (!save(found, insert)) {
                    unreadable++;
                }
                next = Math.min(found.sequence(), LARGEST) + 1;
                end = certain ? end : Math.min(next + MARGIN, LARGEST);
            }
        }
        return certain ? last : end;
    }

    private long lastNumber() {
        long last = 0;
        for (String query : LAST_NUMBER) {
            OptionalLong number = number(query);
            certain |= number.isPresent();
            last = Math.max(last, number.orElse(0));
        }
        return last;
    }

    /** Empty when the part of the file that would tell it is damaged. */
    private OptionalLong number(String query) {
        try (Statement statement = from.createStatement();
                ResultSet row = statement.executeQuery(query)) {
            long number = row.next() ? row.getLong(1) : -1;
            return number >= 0 && number <= LARGEST
                    ? OptionalLong.of(number)
                    : OptionalLong.empty();
        } catch (SQLException e) {
            return OptionalLong.empty();
        }
    }

    /** The message with this number, or the first one after it; null when there is none. */
    private Found first(long least) throws SQLException {
        try (PreparedStatement select =
                from.prepareStatement(
                        "SELECT sequence, payload, sha256, released_at_ms, result, reason FROM message"
                                + " WHERE sequence >= ? ORDER BY sequence LIMIT 1")) {
            select.setLong(1, least);
            try (ResultSet row = select.executeQuery()) {
                return !row.next()
                        ? null
                        : new Found(
                                row.getLong(1),
                                row.getBytes(2),
                                row.getString(3),
                                row.getObject(4),
                                row.getString(5),
                                row.getString(6));
            }
        }
    }

    private boolean save(Found found, PreparedStatement insert) throws SQLException {
        byte[] payload = found.payload();
        if (payload == null || !Messages.sha256(payload).equals(found.sha256())) {
            return false;
        }
        Optional<Identity> identity = Identity.in(payload);
        if (identity.isEmpty()) {
            return false;
        }
        outboxId = identity.get().outboxId();
        insert.setLong(1, identity.get().sequence());
        insert.setString(2, identity.get().id().toString());
        insert.setString(3, identity.get().kind().name());
        insert.setBytes(4, payload);
        insert.setString(5, found.sha256());
        insert.setObject(6, found.releasedAt_ms());
        insert.setString(7, found.result());
        insert.setString(8, found.reason());
        if (insert.executeUpdate() == 0) {
            return false; // under two numbers, of which one is damage
        }
        saved++;
        unconfirmed += found.releasedAt_ms() == null ? 1 : 0;
        return true;
    }

    private Optional<UUID> outboxIdInItsRow() {
        try (Statement statement = from.createStatement();
                ResultSet row = statement.executeQuery("SELECT outbox_id FROM outbox")) {
            return row.next() ? Optional.of(UUID.fromString(row.getString(1))) : Optional.empty();
        } catch (SQLException | IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    private static Optional<UUID> outboxIdInADraft(List<Object[]> drafts) {
        return drafts.stream()
                .map(draft -> draft[1])
                .filter(byte[].class::isInstance)
                .flatMap(record -> Identity.in((byte[]) record).stream())
                .map(Identity::outboxId)
                .findFirst();
    }
}
