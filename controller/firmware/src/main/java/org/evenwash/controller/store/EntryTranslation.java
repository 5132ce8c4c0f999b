package org.evenwash.controller.store;

import java.util.UUID;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;

/** How what the machine tells becomes a message. Called on the writer's thread. */
public interface EntryTranslation {
    CycleRecord cycle(CycleEvidence evidence, UUID outboxId, long sequence);

    BenchEvent event(Entry.BenchEvent event, UUID eventId, UUID outboxId, long sequence);
}
