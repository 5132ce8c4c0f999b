package org.evenwash.controller.process;

/** In order of authority: when several are asked for in one scan, the last one listed wins. */
public enum Command {
    NONE,
    START,
    RESTART,
    RESET,
    HOLD,
    STOP,
    ABORT;

    public static Command strongest(Command a, Command b) {
        return a.compareTo(b) >= 0 ? a : b;
    }
}
