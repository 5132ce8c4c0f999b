package org.evenwash.logger.wash;

import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArraySet;
import java.util.function.Consumer;
import org.evenwash.record.BenchState;
import org.evenwash.record.LiveReading;

/**
 * What benches say at this moment, kept in memory only: the latest state and reading of each. Intake
 * writes it, pages look at it and listen.
 */
public final class BenchBoard {
    private final Map<String, BenchState> states = new ConcurrentHashMap<>();
    private final Map<String, LiveReading> readings = new ConcurrentHashMap<>();
    private final Set<Consumer<String>> listeners = new CopyOnWriteArraySet<>();

    public void put(BenchState state) {
        states.put(state.benchId(), state);
        if (state.cycleId() == null) {
            readings.remove(state.benchId());
        }
        tell(state.benchId());
    }

    public void put(LiveReading reading) {
        readings.put(reading.benchId(), reading);
        tell(reading.benchId());
    }

    private void tell(String benchId) {
        listeners.forEach(listener -> listener.accept(benchId));
    }

    /** Empty until the bench has said anything. */
    public Optional<BenchState> state(String benchId) {
        return Optional.ofNullable(states.get(benchId));
    }

    /** The latest reading of the cycle that is going on; empty without one. */
    public Optional<LiveReading> reading(String benchId) {
        return Optional.ofNullable(readings.get(benchId));
    }

    /** Calls {@code listener} with the bench's id on every change; it must return at once. */
    public void listen(Consumer<String> listener) {
        listeners.add(listener);
    }

    public void leave(Consumer<String> listener) {
        listeners.remove(listener);
    }
}
