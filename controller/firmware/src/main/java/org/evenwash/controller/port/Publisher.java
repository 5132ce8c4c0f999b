package org.evenwash.controller.port;

import org.evenwash.controller.process.Status;

/** Tells the world how the bench is. Loss is harmless: records go through the {@link Outbox}. */
public interface Publisher {
    /** The state changed; must not block. */
    void state(Status status);

    /** A few times a second while running; must not block. */
    void live(Status status);
}
