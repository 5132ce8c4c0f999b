package org.evenwash.controller.pi4j;

/** The board is not as the pin map says; the message tells what is wrong, where, and what to do. */
public final class WiringException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final transient Finding finding;

    WiringException(Finding finding, Throwable cause) {
        super(finding.toString(), cause);
        this.finding = finding;
    }

    WiringException(Finding finding) {
        this(finding, null);
    }

    /** The same, in parts. */
    public Finding finding() {
        return finding;
    }
}
