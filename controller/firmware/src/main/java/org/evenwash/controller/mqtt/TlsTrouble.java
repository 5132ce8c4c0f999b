package org.evenwash.controller.mqtt;

/** The log-in or the certificates cannot be used as they are. */
final class TlsTrouble extends Exception {
    private static final long serialVersionUID = 1L;

    TlsTrouble(String what, Throwable cause) {
        super(what, cause);
    }
}
