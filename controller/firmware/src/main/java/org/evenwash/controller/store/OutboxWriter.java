package org.evenwash.controller.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.LongSupplier;
import org.evenwash.controller.config.Configuration.Keeping;
import org.evenwash.controller.port.Outbox;
import org.evenwash.controller.port.Unsent;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.OutboxState;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.Ids;
import org.evenwash.record.Receipt;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Takes what the machine wants kept, in order, and says how far it has got. The scan never waits
 * here: it leaves its entries in a bounded queue, and one thread stores and syncs them. What cannot
 * be stored stays at the head and is tried again; meanwhile the state refuses a start.
 */
public final class OutboxWriter implements Outbox, Unsent, AutoCloseable {
    /** Entries on their way. The machine makes a few at a time; a full queue means dead storage. */
    static final int MOST_WAITING = 4_096;

    /** What is not the machine's own leaves it the rest: receipts of dead storage pile up for days. */
    static final int MOST_OTHERS_WAITING = MOST_WAITING / 2;

    private static final Logger LOG = LoggerFactory.getLogger(OutboxWriter.class);
    private static final Duration RETRY = Duration.ofSeconds(1);
    private static final Duration LAST_WORDS = Duration.ofSeconds(5);
    private static final long PRUNE_EVERY_CHECKS = 3_600;

    private final OutboxFile file;
    private final Path folder;
    private final Keeping keeping;
    private final EntryTranslation translation;
    private final LongSupplier wallClock_ms;
    private final Runnable stored;
    private final BlockingQueue<Task> waiting = new ArrayBlockingQueue<>(MOST_WAITING);
    private final AtomicInteger handed = new AtomicInteger();
    private final AtomicInteger done = new AtomicInteger();
    private final AtomicReference<Runnable> aside = new AtomicReference<>();
    private final Thread thread = new Thread(this::work, "outbox");

    private volatile long durable;
    private volatile long depth;
    private volatile long lastSequence;
    private volatile OutboxState state = OutboxState.WRITABLE;
    private volatile boolean lost;
    private volatile boolean closing;
    private long checks;

    /** Something to store; throws {@link OutboxFailure} when that did not work. */
    private interface Task {
        void store();
    }

    /** An event but for its number. */
    public interface NumberedEvent {
        BenchEvent numbered(UUID eventId, UUID outboxId, long sequence);
    }

    /**
     * @param stored called after each new message, on the writer's thread; must not block
     */
    public OutboxWriter(
            OutboxFile file,
            Path folder,
            Keeping keeping,
            EntryTranslation translation,
            LongSupplier wallClock_ms,
            Runnable stored) {
        this.file = file;
        this.folder = folder;
        this.keeping = keeping;
        this.translation = translation;
        this.wallClock_ms = wallClock_ms;
        this.stored = stored;
        look();
        thread.setDaemon(true);
    }

    public OutboxWriter start() {
        thread.start();
        return this;
    }

    @Override
    public long durable() {
        return durable;
    }

    @Override
    public OutboxState state() {
        return state;
    }

    public UUID outboxId() {
        return file.outboxId();
    }

    /** Entries handed over and not yet stored. */
    public int waiting() {
        return handed.get() - done.get();
    }

    /** Messages without a receipt, as last counted. */
    public long depth() {
        return depth;
    }

    public long lastSequence() {
        return lastSequence;
    }

    /** How far a bout has come is only stored when nothing else waits: the motor waits for the rest. */
    @Override
    public void append(Entry entry) {
        if (entry instanceof Entry.BoutUnderWay && waiting() > 0) {
            return;
        }
        offer(
                () -> {
                    write(entry);
                    durable = entry.serial();
                });
    }

    /**
     * Stores an event that is not the machine's own, such as a ticket's answer. One that finds no room on
     * dead storage is told in the log alone.
     */
    public void event(NumberedEvent event) {
        UUID eventId = Ids.next();
        boolean taken =
                offerIfRoom(
                        () -> {
                            file.event(eventId, n -> event.numbered(eventId, file.outboxId(), n));
                            stored.run();
                        });
        if (!taken) {
            LOG.warn(
                    "An event is not kept, too much waits for the outbox: {}",
                    event.numbered(eventId, file.outboxId(), 1).text());
        }
    }

    /** Keeps a fact for the next start. */
    public void remember(String name, String value) {
        offer(() -> file.remember(name, value));
    }

    /**
     * Does something on the writer's thread, soon, whatever the storage does; only the latest counts. It must
     * handle its own failures.
     */
    public void aside(Runnable deed) {
        aside.set(deed);
        offerIfRoom(() -> {}); // wakes the thread
    }

    /** Lets the message go that this receipt is for. Without room it comes again: so does the receipt. */
    public void release(Receipt receipt) {
        offerIfRoom(
                () -> {
                    OutboxFile.Release answer = file.release(receipt, wallClock_ms.getAsLong());
                    switch (answer) {
                        case RELEASED, ALREADY_RELEASED -> {}
                        case OTHER_CONTENT ->
                                LOG.warn(
                                        "Receipt for {} is for other content than was sent; it stays in the outbox.",
                                        receipt.messageId());
                        case UNKNOWN_MESSAGE ->
                                LOG.info(
                                        "Receipt for {}, which this outbox does not have.",
                                        receipt.messageId());
                    }
                });
    }

    /** Offers kept messages again. Without room nothing happens: the logger asks again. */
    public void resend(UUID outboxId, long from, long to) {
        offerIfRoom(
                () -> {
                    int count = file.resend(outboxId, from, to);
                    LOG.info("Asked to send {} to {} again: {} are offered.", from, to, count);
                    stored.run();
                });
    }

    @Override
    public List<Letter> after(long sequence, int most) {
        return file.unreleased(sequence, most).stream()
                .map(row -> new Letter(row.sequence(), row.kind(), row.payload()))
                .toList();
    }

    /** What the machine tells, and what follows from it: nothing of that may be left out. */
    private void offer(Task task) {
        if (!lost && waiting.offer(task)) {
            handed.incrementAndGet();
            return;
        }
        if (!lost) {
            // The serial after a lost one is never reported durable, so no bout begins any more.
            lost = true;
            LOG.error(
                    "The outbox took nothing for so long that entries are lost. No cycle can begin: look at the"
                            + " storage, then restart the controller.");
        }
        state = OutboxState.UNWRITABLE;
    }

    private boolean offerIfRoom(Task task) {
        if (waiting.size() >= MOST_OTHERS_WAITING || !waiting.offer(task)) {
            return false;
        }
        handed.incrementAndGet();
        return true;
    }

    private void write(Entry entry) {
        if (entry instanceof Entry.CycleStarted started) {
            draft(started.soFar());
        } else if (entry instanceof Entry.BoutBoundary boundary) {
            draft(boundary.soFar());
        } else if (entry instanceof Entry.BoutUnderWay underWay) {
            draft(underWay.soFar());
        } else if (entry instanceof Entry.CycleFinished finished) {
            CycleEvidence evidence = finished.evidence();
            file.finish(
                    evidence.cycleId(),
                    sequence -> translation.cycle(evidence, file.outboxId(), sequence));
            stored.run();
        } else if (entry instanceof Entry.BenchEvent event) {
            UUID eventId = Ids.next();
            file.event(
                    eventId,
                    sequence -> translation.event(event, eventId, file.outboxId(), sequence));
            stored.run();
        }
    }

    /** A draft has no number yet; 1 stands in until it becomes a record. */
    private void draft(CycleEvidence soFar) {
        file.draft(translation.cycle(soFar, file.outboxId(), 1));
    }

    /** The thread does not end unheard: without it the last state would stand for good. */
    private void work() {
        try {
            storeUntilClosed();
        } catch (RuntimeException | Error e) {
            lost = true;
            state = OutboxState.UNWRITABLE;
            LOG.error(
                    "The outbox broke down with {} entries not stored. No cycle can begin: restart the controller.",
                    waiting(),
                    e);
        }
    }

    private void storeUntilClosed() {
        Task head = null;
        while (true) {
            try {
                Runnable deed = aside.getAndSet(null);
                if (deed != null) {
                    deed.run();
                }
                if (head == null) {
                    head = waiting.poll(closing ? 0 : RETRY.toMillis(), TimeUnit.MILLISECONDS);
                }
                if (head == null && closing) {
                    return;
                }
                if (head != null) {
                    head.store();
                    head = null;
                    done.incrementAndGet();
                } else if (state != OutboxState.WRITABLE) {
                    file.probe();
                }
                look();
            } catch (OutboxFailure e) {
                failed(e);
                if (closing) {
                    LOG.error("The outbox is left with {} entries not stored.", waiting.size() + 1);
                    return;
                }
                pause();
            } catch (InterruptedException e) {
                // Only close() interrupts: what waits is still stored, without further delay.
                closing = true;
            }
        }
    }

    private void failed(OutboxFailure e) {
        OutboxState now = e.full() ? OutboxState.FULL : OutboxState.UNWRITABLE;
        if (state != now) {
            LOG.error("No cycle can begin: {}", e.getMessage());
        }
        state = now;
    }

    private void pause() {
        try {
            TimeUnit.MILLISECONDS.sleep(RETRY.toMillis());
        } catch (InterruptedException e) {
            closing = true;
        }
    }

    /** Brings the figures up to date that the scan reads. */
    private void look() {
        depth = file.depth();
        lastSequence = file.lastSequence();
        if (checks++ % PRUNE_EVERY_CHECKS == 0) {
            file.prune(wallClock_ms.getAsLong(), Duration.ofDays(keeping.released_days()));
        }
        boolean full = depth >= keeping.mostUnsent() || free_bytes() < keeping.leastFree_bytes();
        OutboxState now = full ? OutboxState.FULL : OutboxState.WRITABLE;
        state = lost ? OutboxState.UNWRITABLE : now;
    }

    private long free_bytes() {
        try {
            return Files.getFileStore(folder).getUsableSpace();
        } catch (IOException e) {
            LOG.error("Cannot see how much room {} has: {}", folder, e.getMessage());
            return 0;
        }
    }

    /** Stores what is waiting, for at most a few seconds, and ends the thread. */
    @Override
    public void close() {
        close(LAST_WORDS);
    }

    void close(Duration patience) {
        closing = true;
        thread.interrupt();
        try {
            thread.join(patience.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (thread.isAlive()) {
            // The file is the thread's until the storage answers, which a dead card never does.
            LOG.error(
                    "The storage does not answer: the outbox is left open with {} entries not stored. What was"
                            + " stored is on the disk.",
                    waiting());
            return;
        }
        file.close();
    }
}
