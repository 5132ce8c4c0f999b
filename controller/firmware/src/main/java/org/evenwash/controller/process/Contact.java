package org.evenwash.controller.process;

/**
 * One contact as read this scan. Every safety contact is CLOSED when all is well, so that a broken
 * wire looks like the unsafe case; MISSING (not read, or read too long ago) counts as unsafe too.
 */
public enum Contact {
    CLOSED,
    OPEN,
    MISSING
}
