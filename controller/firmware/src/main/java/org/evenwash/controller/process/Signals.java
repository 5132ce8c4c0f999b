package org.evenwash.controller.process;

/** Which meaning the lamps show and what the sounder says, from the machine. */
final class Signals {
    private Signals() {}

    /** The one meaning that the red, yellow, green and white lamps show. */
    static Meaning main(Machine m) {
        if (m.state() != State.ABORTING && m.state() != State.ABORTED && m.trips().safety()) {
            return Meaning.HAZARD;
        }
        return switch (m.state()) {
            case IDLE -> Meaning.READY;
            case RUNNING ->
                    switch (m.cycle().step()) {
                        case AGITATE -> Meaning.AGITATING;
                        case REST -> Meaning.RESTING;
                        case WAIT, NONE -> Meaning.WAITING;
                    };
            case COMPLETE -> Meaning.COMPLETE;
            case HOLDING, STOPPING -> Meaning.SLOWING;
            case HELD, RESTARTING -> Meaning.HELD;
            case STOPPED -> Meaning.STOPPED;
            case ABORTING, ABORTED -> Meaning.EMERGENCY;
        };
    }

    /** The blue lamp: nothing goes on until someone does something here. */
    static boolean needsOperator(Machine m) {
        return switch (m.state()) {
            case HELD, STOPPED, ABORTED, COMPLETE -> true;
            case IDLE -> m.proof().active() || !m.refused().isEmpty();
            case RUNNING, HOLDING, RESTARTING, STOPPING, ABORTING -> false;
        };
    }

    static Sound sound(Machine m) {
        if (m.silenced()) {
            return Sound.SILENT;
        }
        long elapsed_ns = m.uptime_ns() - m.since_ns();
        return switch (m.state()) {
            case COMPLETE -> {
                if (elapsed_ns < Sound.FINISHED.length_ns()) {
                    yield Sound.FINISHED;
                }
                boolean jarWaits = !m.cycle().running() && !m.cycle().end().recorded();
                boolean late = elapsed_ns >= m.settings().jars().remindAfter().toNanos();
                yield jarWaits && late ? Sound.NEEDS_YOU : Sound.SILENT;
            }
            case HELD, STOPPED -> Sound.NEEDS_YOU;
            case ABORTING, ABORTED -> Sound.FAULT;
            case IDLE, RUNNING, HOLDING, RESTARTING, STOPPING -> Sound.SILENT;
        };
    }

    static boolean sounding(Machine m) {
        return sound(m).on(m.uptime_ns() - m.since_ns());
    }
}
