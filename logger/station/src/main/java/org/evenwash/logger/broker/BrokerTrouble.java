package org.evenwash.logger.broker;

/** The embedded broker cannot do its work; the message says what to do about it. */
public final class BrokerTrouble extends RuntimeException {
    private static final long serialVersionUID = 1L;

    BrokerTrouble(String message, Throwable cause) {
        super(message, cause);
    }
}
