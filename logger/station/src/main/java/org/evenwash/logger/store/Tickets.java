package org.evenwash.logger.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.mapper.RowMapper;
import org.jdbi.v3.core.mapper.reflect.ConstructorMapper;

/** Rows of {@code ticket}. */
public final class Tickets {
    private static final RowMapper<StoredTicket> ROW = ConstructorMapper.of(StoredTicket.class);

    private Tickets() {}

    public static void insert(Handle handle, StoredTicket ticket) {
        handle.createUpdate(
                        """
                        INSERT INTO ticket (id, wash_id, pass, bench_id, position, standing, reason,
                            ticket_json, issued_at, issued_by, closed_at)
                        VALUES (:id, :washId, :pass, :benchId, :position, :standing, :reason,
                            :ticketJson, :issuedAt, :issuedBy, :closedAt)""")
                .bindMethods(ticket)
                .execute();
    }

    public static Optional<StoredTicket> find(Handle handle, UUID id) {
        return find(handle, id.toString());
    }

    /** By the id as it stands in the row, damaged or not. */
    public static Optional<StoredTicket> find(Handle handle, String id) {
        return handle.createQuery("SELECT * FROM ticket WHERE id = :id")
                .bind("id", id)
                .map(ROW)
                .findOne();
    }

    /** Open tickets of a bench in the order in which they were issued. */
    public static List<StoredTicket> open(Handle handle, String benchId) {
        return handle.createQuery(
                        """
                        SELECT * FROM ticket
                        WHERE bench_id = :bench AND standing IN ('ISSUED', 'ACCEPTED')
                        ORDER BY issued_at, position""")
                .bind("bench", benchId)
                .map(ROW)
                .list();
    }

    /** As {@link #open}, but only the ids as they stand there: a row that cannot be read hides no other. */
    public static List<String> openIds(Handle handle, String benchId) {
        return handle.createQuery(
                        """
                        SELECT id FROM ticket
                        WHERE bench_id = :bench AND standing IN ('ISSUED', 'ACCEPTED')
                        ORDER BY issued_at, position""")
                .bind("bench", benchId)
                .mapTo(String.class)
                .list();
    }

    public static List<StoredTicket> ofWash(Handle handle, UUID washId) {
        return handle.createQuery("SELECT * FROM ticket WHERE wash_id = :wash ORDER BY issued_at")
                .bind("wash", washId)
                .map(ROW)
                .list();
    }

    /** Moves an open ticket on; one that is closed stays as it is, whatever comes late. */
    public static boolean move(
            Handle handle, UUID id, StoredTicket.Standing standing, String reason, Instant at) {
        return handle.createUpdate(
                                """
                                UPDATE ticket SET standing = :standing, reason = :reason,
                                    closed_at = :closedAt
                                WHERE id = :id AND standing IN ('ISSUED', 'ACCEPTED')""")
                        .bind("id", id)
                        .bind("standing", standing)
                        .bind("reason", reason)
                        .bind("closedAt", standing.open() ? null : at)
                        .execute()
                == 1;
    }

    /** The bench ran it: that is a fact, even if it was withdrawn too late. */
    public static void ran(Handle handle, UUID id, Instant at) {
        handle.createUpdate(
                        """
                        UPDATE ticket SET standing = 'RUN', closed_at = COALESCE(closed_at, :at)
                        WHERE id = :id""")
                .bind("id", id)
                .bind("at", at)
                .execute();
    }
}
