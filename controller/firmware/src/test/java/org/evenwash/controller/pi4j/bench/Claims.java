package org.evenwash.controller.pi4j.bench;

import java.util.Objects;

/** The two claims that scenarios make; a large assertion library would take seconds to load in the emulator. */
public final class Claims {
    private Claims() {}

    /** Two things are equal. */
    public static void same(String what, Object expected, Object seen) {
        if (!Objects.equals(expected, seen)) {
            throw new AssertionError(what + ": expected " + expected + ", seen " + seen);
        }
    }

    /** A figure is what it should be, give or take. */
    public static void close(String what, double expected, double seen, double tolerance) {
        if (!(Math.abs(expected - seen) <= tolerance)) {
            throw new AssertionError(what + ": expected " + expected + ", seen " + seen);
        }
    }
}
