package org.evenwash.logger.wash;

import org.evenwash.record.BenchCommand;
import org.evenwash.record.Ticket;

/** The way to a bench, as far as services need it. Nothing sent here can start motion. */
public interface BenchLink {

    /**
     * Sends a ticket if the broker is reached. One that does not arrive is sent again when the bench
     * next says that it is there.
     */
    void send(Ticket ticket);

    /** Sends a command now; false when the broker is away: commands are not kept for later. */
    boolean send(BenchCommand command);
}
