package org.evenwash.logger.cli;

/** What was given on the command line or in a file is wrong; the message says where and what to do. */
final class BadInput extends RuntimeException {
    private static final long serialVersionUID = 1L;

    BadInput(String message) {
        super(message);
    }
}
