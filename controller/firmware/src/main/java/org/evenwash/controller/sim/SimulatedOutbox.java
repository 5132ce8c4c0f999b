package org.evenwash.controller.sim;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.controller.port.Outbox;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.OutboxState;

/** An outbox in memory whose writer can be as slow as a test wants it. */
public final class SimulatedOutbox implements Outbox {
    private final List<Entry> entries = new ArrayList<>();
    private OutboxState state = OutboxState.WRITABLE;
    private boolean stalled;
    private long durable;

    @Override
    public void append(Entry entry) {
        entries.add(entry);
    }

    @Override
    public long durable() {
        if (!stalled) {
            durable = entries.isEmpty() ? 0 : entries.get(entries.size() - 1).serial();
        }
        return durable;
    }

    @Override
    public OutboxState state() {
        return state;
    }

    public void state(OutboxState next) {
        state = next;
    }

    /** While stalled nothing more becomes durable. */
    public void stall(boolean stop) {
        stalled = stop;
    }

    /** All entries so far, in order. */
    public List<Entry> entries() {
        return List.copyOf(entries);
    }
}
