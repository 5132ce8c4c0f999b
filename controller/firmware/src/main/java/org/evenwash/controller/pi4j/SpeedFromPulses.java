package org.evenwash.controller.pi4j;

/**
 * Shaft speed from the times of a tachometer's pulses. Pure: one thread gives the pulses, any thread asks.
 *
 * <p>The speed is that of the last whole revolution, so uneven spacing of the magnets or slots cancels. When pulses stop
 * coming the speed cannot be higher than one pulse in the time since the last one, so it falls by itself, and after
 * {@code standstill_ns} without a pulse it is 0.
 */
final class SpeedFromPulses {
    private static final double NANOS_PER_MINUTE = 60e9;

    private final int pulsesPerRevolution;
    private final long standstill_ns;
    private final long shortest_ns;
    private final long[] times;
    private int held;
    private int newest;

    /** What the last pulse showed; replaced whole, so a reader never sees half of it. */
    private volatile Seen seen = new Seen(0, 0, 0, 0, 0);

    private record Seen(long pulses, long noise, long last_ns, long span_ns, int intervals) {}

    /**
     * @param pulsesPerRevolution pulses of one edge direction per turn of the shaft, at least 1
     * @param standstill_ns this long without a pulse is standing still
     * @param fastest_rpm a pulse sooner than at twice this speed is noise and is not counted
     */
    SpeedFromPulses(int pulsesPerRevolution, long standstill_ns, double fastest_rpm) {
        this.pulsesPerRevolution = pulsesPerRevolution;
        this.standstill_ns = standstill_ns;
        this.shortest_ns = (long) (NANOS_PER_MINUTE / (2 * fastest_rpm * pulsesPerRevolution));
        this.times = new long[pulsesPerRevolution + 1];
    }

    /** A pulse arrived; times must not run backwards. */
    void pulse(long at_ns) {
        Seen before = seen;
        if (held > 0 && at_ns - before.last_ns < shortest_ns) {
            seen =
                    new Seen(
                            before.pulses,
                            before.noise + 1,
                            before.last_ns,
                            before.span_ns,
                            before.intervals);
            return;
        }
        if (held > 0 && at_ns - before.last_ns > standstill_ns) {
            held = 0; // a fresh start: the pause is not part of a revolution
        }
        newest = (newest + 1) % times.length;
        times[newest] = at_ns;
        held = Math.min(held + 1, times.length);
        int intervals = held - 1;
        long oldest_ns = times[Math.floorMod(newest - intervals, times.length)];
        seen = new Seen(before.pulses + 1, before.noise, at_ns, at_ns - oldest_ns, intervals);
    }

    /** Speed at a moment, rpm, without sign. */
    double speed_rpm(long now_ns) {
        Seen now = seen;
        if (now.pulses == 0 || now_ns - now.last_ns > standstill_ns || now.intervals == 0) {
            return 0;
        }
        double measured_ns = (double) now.span_ns / now.intervals;
        double waiting_ns = now_ns - now.last_ns;
        return NANOS_PER_MINUTE / (Math.max(measured_ns, waiting_ns) * pulsesPerRevolution);
    }

    /** Whole and part revolutions since the start. */
    double revolutions() {
        return (double) seen.pulses / pulsesPerRevolution;
    }

    /** Edges that came too soon to be the shaft. */
    long noise() {
        return seen.noise;
    }
}
