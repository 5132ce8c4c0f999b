package org.evenwash.controller.process;

/** A pattern in time: one character is 100 ms. */
final class Rhythm {
    private static final long TICK_NS = 100_000_000L;

    private Rhythm() {}

    static boolean on(String pattern, long elapsed_ns) {
        return pattern.charAt((int) (elapsed_ns / TICK_NS % pattern.length())) == '#';
    }
}
