package org.evenwash.controller.process;

/**
 * ISA-88 names: an -ING state is acting and ends by itself, an -ED state waits for a command.
 *
 * <pre>
 * IDLE ─START─► RUNNING ───────────────────────► COMPLETE ─RESET─► IDLE
 *                │  ▲ └─HOLD─► HOLDING ─► HELD
 *                │  └── RESTARTING ◄─RESTART─┘
 *                └─STOP (also when held)─► STOPPING ─► STOPPED ─RESET─► IDLE
 * any state ─ABORT─► ABORTING ─► ABORTED ─RESET─► IDLE
 * </pre>
 */
public enum State {
    IDLE,
    RUNNING,
    COMPLETE,
    HOLDING,
    HELD,
    RESTARTING,
    STOPPING,
    STOPPED,
    ABORTING,
    ABORTED;

    /** A cycle is under way: it has begun and has no outcome yet. */
    public boolean inCycle() {
        return switch (this) {
            case RUNNING, HOLDING, HELD, RESTARTING, STOPPING -> true;
            case IDLE, COMPLETE, STOPPED, ABORTING, ABORTED -> false;
        };
    }

    /** A cycle that reaches this state is over. */
    public boolean ended() {
        return this == COMPLETE || this == STOPPED || this == ABORTED;
    }
}
