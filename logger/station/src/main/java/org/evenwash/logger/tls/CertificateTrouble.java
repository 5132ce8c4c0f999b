package org.evenwash.logger.tls;

/** A certificate or key cannot be used or made; the message says which file and what to do. */
public final class CertificateTrouble extends RuntimeException {
    private static final long serialVersionUID = 1L;

    CertificateTrouble(String message, Throwable cause) {
        super(message, cause);
    }
}
