package org.evenwash.logger;

/** The station cannot start; the message says why and what to do. */
public final class StationTrouble extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public StationTrouble(String message, Throwable cause) {
        super(message, cause);
    }
}
