package org.evenwash.controller.store;

import java.nio.file.Path;

/** An outbox file or its folder that this program will not touch, and what a person can do about it. */
public final class OutboxRefused extends Exception {
    private static final long serialVersionUID = 1L;

    private final boolean damaged;

    OutboxRefused(Path file, String why, String remedy) {
        this(file, why, remedy, null);
    }

    public OutboxRefused(Path file, String why, String remedy, Throwable cause) {
        this(file, why, remedy, cause, false);
    }

    private OutboxRefused(Path file, String why, String remedy, Throwable cause, boolean damaged) {
        super(file + " " + why + ". " + remedy + ".", cause);
        this.damaged = damaged;
    }

    static OutboxRefused damaged(Path file, String why, String remedy, Throwable cause) {
        return new OutboxRefused(file, why, remedy, cause, true);
    }

    /** Whether it is an outbox of which something may be saved. */
    boolean damaged() {
        return damaged;
    }
}
