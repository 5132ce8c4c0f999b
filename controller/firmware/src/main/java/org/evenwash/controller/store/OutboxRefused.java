package org.evenwash.controller.store;

import java.nio.file.Path;

/** An outbox file or its folder that this program will not touch, and what a person can do about it. */
public final class OutboxRefused extends Exception {
    private static final long serialVersionUID = 1L;

    OutboxRefused(Path file, String why, String remedy) {
        super(file + " " + why + ". " + remedy + ".");
    }

    public OutboxRefused(Path file, String why, String remedy, Throwable cause) {
        super(file + " " + why + ". " + remedy + ".", cause);
    }
}
