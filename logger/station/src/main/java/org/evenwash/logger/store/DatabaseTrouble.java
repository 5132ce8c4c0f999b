package org.evenwash.logger.store;

/** The database cannot do its work; the message says what to do about it. */
public final class DatabaseTrouble extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public DatabaseTrouble(String message) {
        super(message);
    }

    public DatabaseTrouble(String message, Throwable cause) {
        super(message, cause);
    }
}
