package org.evenwash.controller.process;

import java.time.Duration;

/**
 * One row of {@link Interlocks#TABLE}: it watches one thing and, when that has been wrong for long
 * enough, asks for the same commands as an operator, with more authority.
 *
 * @param tag short and stable; it names the row in records, messages and tests
 * @param sensor whose reading decides; null when the machine itself is what is watched
 * @param when the violation in words, as the operator reads it
 * @param violated the violation as the machine sees it; true when the reading is missing
 * @param persists how long the violation must last before the row trips
 * @param asks what a trip asks for; {@link Command#NONE}: the row only refuses a start
 * @param why the reason for the row and its numbers
 * @param remedy what the operator does about it
 */
public record Interlock(
        String tag,
        Kind kind,
        Sensor sensor,
        String when,
        Condition violated,
        Duration persists,
        Command asks,
        Clears clears,
        String why,
        String remedy) {

    /** How the drive goes off. Stop categories: hardware-notes/stop-chain.md. */
    public enum Kind {
        /** Drive removed at once, without a ramp; the contactor opens only when it asks for ABORT. */
        SAFETY,
        /** Down a ramp of bounded time. */
        PROCESS
    }

    /** How a trip ends once its condition is gone. */
    public enum Clears {
        BY_ITSELF,
        ON_RESET
    }

    /** Whether a row is violated, from the machine as it was and the scan as it is. */
    @FunctionalInterface
    public interface Condition {
        boolean holds(Machine before, Inputs in);
    }

    /**
     * A row acts only where it has something to act on: an open lid is no trip while the jar is
     * changed, but it still refuses a start.
     */
    boolean armed(State state) {
        return switch (asks) {
            case ABORT -> true;
            case HOLD, STOP -> state.inCycle();
            case NONE, START, RESTART, RESET -> false;
        };
    }
}
