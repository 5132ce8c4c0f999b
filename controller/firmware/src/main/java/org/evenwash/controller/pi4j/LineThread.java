package org.evenwash.controller.pi4j;

import java.util.concurrent.TimeUnit;
import java.util.function.LongConsumer;

/**
 * A thread that sleeps in the kernel until its line has an edge. It only tells somebody: a wake-up for the scan, a pulse
 * for the tachometer. What the level is, the scan reads for itself.
 */
final class LineThread implements AutoCloseable {
    private final Thread thread;
    private volatile boolean closing;
    private volatile long alive_ns = System.nanoTime();
    private volatile RuntimeException failure;

    private LineThread(String name, Lines.InputLine line, long patience_ns, LongConsumer onEdge) {
        thread = new Thread(() -> watch(line, patience_ns, onEdge), name);
        thread.setDaemon(true);
    }

    /**
     * Starts one.
     *
     * @param patience_ns how often it looks up although nothing happened: bounds closing, and shows that it is alive
     * @param onEdge gets the kernel's time of each edge, monotonic nanoseconds; must return soon
     */
    static LineThread start(
            String name, Lines.InputLine line, long patience_ns, LongConsumer onEdge) {
        LineThread watcher = new LineThread(name, line, patience_ns, onEdge);
        watcher.thread.start();
        return watcher;
    }

    private void watch(Lines.InputLine line, long patience_ns, LongConsumer onEdge) {
        try {
            while (!closing) {
                long edge_ns = line.awaitEdge(patience_ns);
                if (edge_ns != Lines.InputLine.NO_EDGE) {
                    onEdge.accept(edge_ns);
                }
                alive_ns = System.nanoTime();
            }
        } catch (RuntimeException e) {
            failure = e; // the reader sees a line that fell silent; the scan must not end by this
        }
    }

    /** When it last looked, {@link System#nanoTime}; stops moving when the thread has died. */
    long alive_ns() {
        return alive_ns;
    }

    /** What ended it; null while it lives. */
    RuntimeException failure() {
        return failure;
    }

    /** Asks it to end without waiting, so that many can end at once. */
    void end() {
        closing = true;
    }

    /** Ends the thread and waits for it, at most a second, so that its line may be given back. */
    @Override
    public void close() {
        end();
        boolean interrupted = false;
        try {
            thread.join(TimeUnit.SECONDS.toMillis(1));
        } catch (InterruptedException e) {
            interrupted = true;
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
