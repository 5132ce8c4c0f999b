package org.evenwash.logger.intake;

import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;

/** What came and waits to be written. One thread puts, one takes. */
final class Inbox {
    /** Payloads that wait; what is made of them takes some times their size. */
    private static final int MOST_BYTES = 4 * 1024 * 1024;

    /** An empty message takes room too. */
    private static final int LEAST_BYTES = 512;

    /** Readings that wait; more are dropped, since the next one says the same better. */
    private static final int MOST_READINGS = 64;

    /** Shorter than the line can be silent before it counts as lost. */
    private static final int LONGEST_WAIT_S = 10;

    private static final int LOOK_UP_MS = 100;

    private final BlockingQueue<Arrival> queue = new LinkedBlockingQueue<>();
    private final Semaphore room = new Semaphore(MOST_BYTES);
    private final AtomicInteger readings = new AtomicInteger();
    private final AtomicLong droppedReadings = new AtomicLong();

    /**
     * Waits while there is no room, as long as the connection lives: the broker's socket fills meanwhile, and
     * it sends no more.
     *
     * @return whether it was put; a reading that is dropped counts as put
     */
    boolean put(Arrival arrival) throws InterruptedException {
        if (arrival.qos() == 0) {
            if (readings.incrementAndGet() > MOST_READINGS) {
                readings.decrementAndGet();
                droppedReadings.incrementAndGet();
                return true;
            }
            return queue.offer(arrival);
        }
        long deadline = System.nanoTime() + TimeUnit.SECONDS.toNanos(LONGEST_WAIT_S);
        while (!room.tryAcquire(size_bytes(arrival), LOOK_UP_MS, TimeUnit.MILLISECONDS)) {
            if (arrival.connection().isLost() || System.nanoTime() > deadline) {
                return false;
            }
        }
        return queue.offer(arrival);
    }

    /** The next message, or null when none came in that time. */
    Arrival poll(long wait_ms) throws InterruptedException {
        Arrival arrival = queue.poll(wait_ms, TimeUnit.MILLISECONDS);
        if (arrival != null && arrival.qos() == 0) {
            readings.decrementAndGet();
        } else if (arrival != null) {
            room.release(size_bytes(arrival));
        }
        return arrival;
    }

    /** Not more than there is room for: a message of any length is put at last. */
    private static int size_bytes(Arrival arrival) {
        int payload_bytes = arrival.reading().payload().size_bytes();
        return Math.min(Math.max(payload_bytes, LEAST_BYTES), MOST_BYTES);
    }

    /** Live readings dropped because the database was slow. */
    long droppedReadings() {
        return droppedReadings.get();
    }
}
