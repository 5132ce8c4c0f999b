package org.evenwash.logger.intake;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;

/** How every bench stands now, as it last said itself. Kept in memory: the broker retains the states. */
public final class BenchBoard {
    /** More benches than this are not shown; a stranger on a broker could invent them without end. */
    private static final int MOST_BENCHES = 1_000;

    private final Map<String, Standing> standings = new ConcurrentSkipListMap<>();
    private final Map<String, LiveTrace> traces = new ConcurrentHashMap<>();
    private final List<Consumer<Standing>> listeners = new CopyOnWriteArrayList<>();

    /**
     * One bench now.
     *
     * @param state null if only a reading came so far
     * @param live null unless a cycle is going on
     * @param heardAt by the station's clock
     */
    public record Standing(String benchId, BenchState state, LiveReading live, Instant heardAt) {}

    public Optional<Standing> of(String benchId) {
        return Optional.ofNullable(standings.get(benchId));
    }

    /** What was read of a bench's running cycle; empty without one. */
    public Optional<LiveTrace> traceOf(String benchId) {
        return Optional.ofNullable(traces.get(benchId));
    }

    /** All benches that were heard, by id. */
    public Map<String, Standing> all() {
        return new TreeMap<>(standings);
    }

    /**
     * Calls {@code listener} with each change until the result is closed. It is called on the intake's
     * thread and must only pass the change on.
     */
    public AutoCloseable listen(Consumer<Standing> listener) {
        listeners.add(listener);
        return () -> listeners.remove(listener);
    }

    public void put(BenchState state, Instant at) {
        Standing before = standings.get(state.benchId());
        LiveReading live = before == null || state.cycleId() == null ? null : before.live();
        if (state.cycleId() == null) {
            traces.remove(state.benchId());
        }
        traceOf(state.benchId()).ifPresent(trace -> trace.say(state));
        show(new Standing(state.benchId(), state, live, at));
    }

    public void put(LiveReading live, Instant at) {
        Standing before = standings.get(live.benchId());
        if (before != null || standings.size() < MOST_BENCHES) {
            traces.compute(
                            live.benchId(),
                            (bench, trace) ->
                                    trace != null && trace.cycleId().equals(live.cycleId())
                                            ? trace
                                            : new LiveTrace(live.cycleId()))
                    .add(live);
        }
        // The state may have come before the first reading of the interruption it tells of.
        if (before != null && before.state() != null) {
            traceOf(live.benchId()).ifPresent(trace -> trace.say(before.state()));
        }
        show(new Standing(live.benchId(), before == null ? null : before.state(), live, at));
    }

    private void show(Standing standing) {
        if (standings.size() >= MOST_BENCHES && !standings.containsKey(standing.benchId())) {
            return;
        }
        standings.put(standing.benchId(), standing);
        listeners.forEach(listener -> listener.accept(standing));
    }
}
