package org.evenwash.controller.process;

import java.util.UUID;

/**
 * Something the machine wants kept. The loop hands each to the outbox in order; the outbox reports
 * back, as {@link Inputs#durable}, the serial of the last one that is safely stored.
 */
public sealed interface Entry {
    /** Counts the machine's entries from 1 since this boot, without gaps. */
    long serial();

    /** A cycle begins; the motor waits until this is durable. */
    record CycleStarted(long serial, CycleEvidence soFar) implements Entry {}

    /**
     * A bout is over, or the whole cycle is and waits for its jar to be taken out. The next bout
     * waits until this is durable.
     */
    record BoutBoundary(long serial, CycleEvidence soFar) implements Entry {}

    /**
     * How far the motor has brought the cycle, once a second. Nothing waits for it: a writer that is
     * busy leaves it out, and a power cut then loses a second more.
     */
    record BoutUnderWay(long serial, CycleEvidence soFar) implements Entry {}

    /** The one record of a cycle, to be published. */
    record CycleFinished(long serial, CycleEvidence evidence) implements Entry {}

    /** What an event tells of. */
    enum Kind {
        TRIP,
        CLEAR,
        ACKNOWLEDGED,
        PROOF_TEST_PASSED,
        PROOF_TEST_FAILED,
        /** So many events came that some were only counted. */
        EVENTS_LEFT_OUT
    }

    /**
     * Something worth knowing later.
     *
     * @param tag the interlock, the choice, or the step of the proof test
     * @param cycleId null outside a cycle
     */
    record BenchEvent(
            long serial,
            Kind kind,
            String tag,
            String text,
            UUID cycleId,
            long uptime_ns,
            long wallClock_ms,
            boolean clockSynchronised)
            implements Entry {}
}
