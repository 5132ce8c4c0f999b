package org.evenwash.controller.pi4j.bench;

import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import org.evenwash.controller.pi4j.Level;
import org.evenwash.controller.pi4j.PinMap;
import org.evenwash.controller.pi4j.Signal;

/**
 * The hard-wired stop chain, simulated beside the controller: emergency stop, lid, guard, a one-shot that lives on changes
 * of the heartbeat, and the permit, in series with a contactor that holds itself and is re-armed by hand. It shows the
 * controller nothing but the mirror contact.
 */
final class StopChain implements AutoCloseable {
    /** How long the heartbeat may be silent before the contactor opens, as in the wiring notes. */
    private static final Duration ONE_SHOT = Duration.ofMillis(200);

    private static final Duration LOOK_EVERY = Duration.ofMillis(7);
    private static final Duration LONGEST_LOOK = Duration.ofMillis(20);

    private final Wires wires;
    private final Thread thread = new Thread(this::watch, "stop-chain");
    private volatile boolean contactsClosed = true;
    private volatile boolean rearm;
    private volatile boolean welded;
    private volatile boolean closed;
    private volatile boolean ending;
    private volatile long longestSilence_ns;
    private volatile long beats;

    StopChain(Wires wires) {
        this.wires = wires;
        thread.setDaemon(true);
        thread.start();
    }

    @SuppressWarnings("NonAtomicVolatileUpdate") // one thread writes, others look
    private void watch() {
        Level last = level(Signal.HEARTBEAT);
        long silence_ns = ONE_SHOT.toNanos();
        long looked_ns = System.nanoTime();
        while (!ending) {
            long now_ns = System.nanoTime();
            // A real one-shot never sleeps: a pause of this thread is no silence of the heartbeat.
            silence_ns += Math.min(now_ns - looked_ns, LONGEST_LOOK.toNanos());
            looked_ns = now_ns;
            Level now = level(Signal.HEARTBEAT);
            if (now != last) {
                last = now;
                longestSilence_ns = Math.max(longestSilence_ns, silence_ns);
                silence_ns = 0;
                beats = beats + 1;
            }
            boolean alive = silence_ns < ONE_SHOT.toNanos();
            boolean whole = contactsClosed && alive && level(Signal.SUPPLY_PERMIT) == Level.HIGH;
            boolean pull = welded || (whole && (closed || rearm));
            rearm = rearm && !pull;
            if (pull != closed) {
                closed = pull;
                wires.set(Signal.CONTACTOR, closed);
            }
            LockSupport.parkNanos(LOOK_EVERY.toNanos());
        }
    }

    private Level level(Signal signal) {
        return wires.level(PinMap.DEFAULT.pin(signal).orElseThrow().gpio());
    }

    /** Emergency stop, lid and guard as the chain's own contacts have it. */
    void contacts(boolean allClosed) {
        contactsClosed = allClosed;
    }

    /** Presses the re-arm button until the contactor pulls in. */
    void rearm() {
        rearm = true;
        Wires.await("contactor pulls in", BenchAndHand.SOON, () -> closed);
    }

    /** Waits until the controller has scanned a few times more: its own time, however slow the emulator is. */
    void awaitBeats(int count) {
        long from = beats;
        Wires.await("heartbeat", BenchAndHand.SOON, () -> beats - from >= count);
    }

    /** Its main contacts weld together, or are put right again. */
    void weld(boolean stuck) {
        welded = stuck;
    }

    boolean closed() {
        return closed;
    }

    /** The longest stretch without a heartbeat since the last call, in milliseconds. */
    long longestSilence_ms() {
        long silence_ms = longestSilence_ns / 1_000_000;
        longestSilence_ns = 0;
        return silence_ms;
    }

    @Override
    public void close() {
        ending = true;
        Wires.join(thread);
    }
}
