package org.evenwash.logger.intake;

import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.evenwash.logger.store.Arrivals;
import org.evenwash.logger.store.Database;
import org.evenwash.record.BenchState;
import org.evenwash.record.Topics;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The one thread that writes what benches send: batch, commit, acknowledge, receipt, in this order. A
 * message is acknowledged only on the connection that brought it, and only once it is on disk.
 */
public final class Intake implements AutoCloseable {
    /** Measured: batches of 100 gave five to eight times the rate of single commits, 500 no more. */
    static final int BATCH = 256;

    private static final long LINGER_MS = 20;
    private static final long IDLE_MS = 500;
    private static final long RETRY_MS = 1_000;
    private static final Logger LOG = LoggerFactory.getLogger(Intake.class);

    private final Database database;
    private final MqttLine line;
    private final BenchBoard board;
    private final Greeting greeting;
    private final Attendance attendance = new Attendance();
    private final Clock clock;
    private final Thread thread;
    private final AtomicLong committed = new AtomicLong();
    private volatile boolean closed;

    public Intake(Database database, MqttLine line, BenchBoard board, Clock clock) {
        this.database = database;
        this.line = line;
        this.board = board;
        this.greeting = new Greeting(database, line, clock);
        this.clock = clock;
        this.thread = new Thread(this::run, "intake");
    }

    public void start() {
        thread.start();
    }

    /** Records and events committed since the start, duplicates and those set aside included. */
    public long committed() {
        return committed.get();
    }

    private void run() {
        while (!closed) {
            try {
                List<Arrival> batch = nextBatch();
                if (batch.isEmpty()) {
                    line.fetchWhatWasLeft();
                } else {
                    commit(batch);
                }
            } catch (RuntimeException e) {
                // Unforeseen, so nothing is known of what was under way: have it delivered again.
                LOG.error("the intake stumbled; fetching again what was not acknowledged", e);
                line.connectAnew();
            } catch (InterruptedException e) {
                // Closing: what was not committed is delivered again at the next start.
                return;
            }
        }
    }

    /** States and readings are passed on at once; records and events wait a little for company. */
    private List<Arrival> nextBatch() throws InterruptedException {
        List<Arrival> batch = new ArrayList<>();
        long idle_ms = line.leftSome() ? LINGER_MS : IDLE_MS;
        long deadline = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(idle_ms);
        while (batch.size() < BATCH && !closed) {
            long wait_ms = TimeUnit.NANOSECONDS.toMillis(deadline - System.nanoTime());
            if (wait_ms <= 0) {
                return batch;
            }
            Arrival arrival = line.poll(wait_ms);
            if (arrival == null) {
                return batch;
            }
            Reading reading = arrival.reading();
            if (reading instanceof Reading.Live live) {
                board.put(live.reading(), clock.instant());
            } else if (reading instanceof Reading.State state) {
                show(state.state());
                arrival.acknowledge();
            } else {
                if (batch.isEmpty()) {
                    deadline = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(LINGER_MS);
                }
                batch.add(arrival);
            }
        }
        return batch;
    }

    private void show(BenchState state) throws InterruptedException {
        boolean wasThere =
                board.of(state.benchId())
                        .map(BenchBoard.Standing::state)
                        .filter(before -> before.state() != BenchState.State.OFFLINE)
                        .filter(before -> Objects.equals(before.bootId(), state.bootId()))
                        .isPresent();
        board.put(state, clock.instant());
        if (state.state() == BenchState.State.OFFLINE) {
            return;
        }
        if (!wasThere) {
            Map<String, Boolean> seen = Map.of(state.benchId(), state.simulated());
            insist(
                    "note that bench " + state.benchId() + " is there",
                    () ->
                            database.append(
                                    handle -> {
                                        Arrivals.seen(handle, seen, clock.instant());
                                        return seen;
                                    }));
        }
        greet(state, wasThere);
    }

    /** What benches send is stored whether one of them can be greeted or not. */
    private void greet(BenchState state, boolean wasThere) {
        try {
            if (wasThere && !greeting.owes(state.benchId())) {
                greeting.look(state);
            } else {
                greeting.greet(state);
            }
        } catch (RuntimeException e) {
            LOG.error(
                    "bench {} was not greeted, and is with its next state: {}",
                    state.benchId(),
                    Database.refusal(e));
        }
    }

    private void commit(List<Arrival> batch) throws InterruptedException {
        List<Outcome> outcomes = new ArrayList<>();
        List<Arrival> done = batch;
        try {
            outcomes.addAll(together(batch));
        } catch (RuntimeException e) {
            LOG.warn(
                    "a batch was not committed ({}); trying its messages one by one",
                    Database.refusal(e));
            done = new ArrayList<>();
            for (Arrival arrival : batch) {
                if (insist(
                        "store a message on " + arrival.reading().topic(),
                        () -> outcomes.add(alone(arrival)))) {
                    done.add(arrival);
                }
            }
        }
        Arrival.acknowledge(done);
        committed.addAndGet(done.size());
        for (Outcome outcome : outcomes) {
            if (outcome.hasReceipt()) {
                line.send(outcome.benchId(), outcome.receipt());
            }
        }
    }

    private List<Outcome> together(List<Arrival> batch) {
        Instant at = clock.instant();
        List<Reading> readings = batch.stream().map(Arrival::reading).toList();
        Map<String, Boolean> seen = attendance.due(readings, at);
        List<Outcome> outcomes =
                database.append(
                        handle -> {
                            List<Outcome> written = Ledger.write(handle, readings, at);
                            Arrivals.seen(handle, seen, at);
                            return written;
                        });
        attendance.written(seen, at);
        return outcomes;
    }

    /**
     * One message by itself. Where the database refuses that one for what it holds, it is set aside; while
     * the database itself is in trouble, it waits.
     */
    private Outcome alone(Arrival arrival) {
        try {
            return together(List.of(arrival)).get(0);
        } catch (RuntimeException refused) {
            if (Database.isOwnTrouble(refused)) {
                throw refused;
            }
            return setAside(arrival.reading(), Database.refusal(refused));
        }
    }

    private Outcome setAside(Reading reading, String said) {
        try {
            return setAsideBecause(reading, "the database refused it: " + said);
        } catch (RuntimeException again) {
            if (Database.isOwnTrouble(again)) {
                throw again;
            }
            LOG.error(
                    "a message on {} is set aside without its reason ({}), which was refused: {}",
                    reading.topic(),
                    said,
                    Database.refusal(again));
            return setAsideBecause(reading, "the database refused it and the reason for that");
        }
    }

    private Outcome setAsideBecause(Reading reading, String why) {
        return database.append(
                handle ->
                        Ledger.setAside(
                                handle,
                                reading,
                                Topics.parse(reading.topic())
                                        .map(address -> address.benchId())
                                        .orElse(null),
                                Reader.messageId(reading.payload()),
                                reading.payload().sha256(),
                                why,
                                clock.instant()));
    }

    /**
     * Until it works, while the database is in trouble: without it nothing may be acknowledged, so there is
     * nothing else to do. What is wrong with the work itself would be wrong for ever, and held up all benches.
     *
     * @return whether it was done
     */
    private boolean insist(String what, Runnable work) throws InterruptedException {
        while (true) {
            try {
                work.run();
                return true;
            } catch (RuntimeException e) {
                if (closed) {
                    throw new InterruptedException("closed while the database was away");
                }
                if (!Database.isOwnTrouble(e)) {
                    LOG.error("cannot {}; going on without", what, e);
                    return false;
                }
                LOG.error("cannot {}: {}; trying again", what, Database.refusal(e));
                TimeUnit.MILLISECONDS.sleep(RETRY_MS);
            }
        }
    }

    @Override
    public void close() {
        closed = true;
        try {
            thread.join(10_000);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
