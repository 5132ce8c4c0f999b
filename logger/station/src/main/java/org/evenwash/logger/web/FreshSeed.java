package org.evenwash.logger.web;

import java.security.SecureRandom;

/** A seed that nobody chose, short enough to be read out and typed again. */
final class FreshSeed {
    private static final SecureRandom RANDOM = new SecureRandom();
    private static final int SIX_DIGITS = 1_000_000;

    private FreshSeed() {}

    static int draw() {
        return RANDOM.nextInt(SIX_DIGITS);
    }
}
