package org.evenwash.controller.port;

import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.OutboxState;

/**
 * Where entries are kept until the logger's receipt. Appending only hands over; a writer of its own
 * syncs, and {@link #durable} tells how far it got.
 */
public interface Outbox {
    /** Takes the next entry, in order of its serial. Never blocks. */
    void append(Entry entry);

    /** Serial of the last entry that would survive a power cut; 0 before the first. */
    long durable();

    /** Whether a record made now would be kept. */
    OutboxState state();
}
