package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;

/**
 * A ticket and what became of it.
 *
 * @param reason with REFUSED, the bench's own words
 */
public record StoredTicket(
        UUID id,
        UUID washId,
        Pass pass,
        String benchId,
        int position,
        Standing standing,
        String reason,
        String ticketJson,
        Instant issuedAt,
        UUID issuedBy,
        Instant closedAt) {

    public enum Standing {
        ISSUED,
        ACCEPTED,
        REFUSED,
        WITHDRAWN,
        RUN;

        /** Whether the bench should still have it loaded. */
        public boolean open() {
            return this == ISSUED || this == ACCEPTED;
        }
    }

    /** The message as it goes to the bench. */
    public Ticket message() {
        return Json.read(ticketJson, Ticket.class);
    }
}
