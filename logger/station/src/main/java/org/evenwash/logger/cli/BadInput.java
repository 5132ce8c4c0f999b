package org.evenwash.logger.cli;

/**
 * What was given cannot be used. The message is meant for the person at the keyboard: what is wrong,
 * where, and what to do.
 */
final class BadInput extends RuntimeException {
    private static final long serialVersionUID = 1L;

    BadInput(String message) {
        super(message);
    }

    BadInput(String message, Throwable cause) {
        super(message, cause);
    }
}
