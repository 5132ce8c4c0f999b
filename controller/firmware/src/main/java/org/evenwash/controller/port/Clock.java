package org.evenwash.controller.port;

/** The two clocks, kept apart: one times everything, the other only labels records. */
public interface Clock {
    /** Monotonic, nanoseconds since the program started. */
    long uptime_ns();

    /** Milliseconds since 1970 UTC; may jump. */
    long wallClock_ms();

    /** Whether the system vouches for {@link #wallClock_ms}. */
    boolean synchronised();
}
