package org.evenwash.controller.process;

import java.util.UUID;

/**
 * What the world looked like at one scan. The only way facts get into the core.
 *
 * @param uptime_ns monotonic, from the start of the program; times everything
 * @param wallClock_ms milliseconds since 1970 UTC; only labels records, for a Pi's clock jumps
 * @param clockSynchronised whether the system vouches for {@code wallClock_ms}
 * @param command the panel button that is down; held down it counts once
 * @param choice the panel choice that is down; held down it counts once
 * @param remote asked for from afar, already matched to this cycle and not expired
 * @param job what is loaded for the next start
 * @param nextCycleId a fresh id for a cycle that begins in this scan
 * @param durable how many of the machine's entries are safely stored, see {@link Entry#serial}
 * @param closing the program is shutting down: stop, and finish the record without waiting
 */
public record Inputs(
        long uptime_ns,
        long wallClock_ms,
        boolean clockSynchronised,
        Command command,
        Choice choice,
        RemoteRequest remote,
        Readings readings,
        Job job,
        UUID nextCycleId,
        long durable,
        OutboxState outbox,
        boolean closing) {}
